//! Sections that follow the music: their pace, their lengths in bars, and what falls on the beat.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Zero};

use crate::routine::{Accent, Juggle, Part, Routine, Track};
use crate::time::{MusicMap, Pace, Seconds};

use super::compile::Compiler;
use super::lasting::Own;
use super::length::{InForce, MusicTempo, Wanted, wanted};
use super::{Timeline, TrackSpan, Trouble, Unresolved, WhyNoBars};

/// What of a section falls beside the music.
#[derive(Clone, Debug, PartialEq)]
pub struct OffGrid {
    /// Index of the section in the score.
    pub section: usize,
    /// What should fall on the music.
    pub accent: Accent,
    /// When the section's own first throw comes, on the show clock.
    pub at: Seconds,
    /// When it would have to come so that the accents fall on the music, the nearest before and
    /// after, on the show clock.
    pub nearest: [Seconds; 2],
}

/// From here on something is beside the music, in seconds: 1 ms.
const ON_THE_MUSIC_S: f64 = 0.001;

/// The sections at a tempo of the music's whose accents fall beside its beats and their even parts.
#[must_use]
pub fn off_grid(routine: &Routine, timeline: &Timeline) -> Vec<OffGrid> {
    let map = routine.first_track().and_then(Track::music_map);
    let (Some(map), Some(track)) = (map, timeline.tracks.first()) else { return Vec::new() };
    let mut found = Vec::new();
    let mut accent_in_force = match routine.tempo.as_ref().map(|tempo| &tempo.value) {
        Some(crate::routine::Tempo::PerMusicBeat { accent, .. }) => Some(*accent),
        _ => None,
    };
    for (section, span) in timeline.sections.iter().enumerate() {
        let Some(Part::Juggle(written)) = routine.score.get(section).map(|entry| &entry.part)
        else {
            continue;
        };
        if let Some(tempo) = &written.tempo {
            accent_in_force = match &tempo.value {
                crate::routine::Tempo::PerMusicBeat { accent, .. } => Some(*accent),
                _ => None,
            };
        }
        let (Some(juggle), Some(accent)) = (&span.juggle, accent_in_force) else { continue };
        let Some(run) = timeline.runs.get(juggle.run) else { continue };
        let own = i64::from(juggle.own_first_beat).into();
        let Some(Pace::Music { throws, .. }) = run.tempo.piece_at(own).map(|piece| &piece.pace)
        else {
            continue;
        };
        let at = run.tempo.at(own);
        let Some(count) = track.reads(&at).and_then(|at| map.count(&at)) else { continue };
        let late = late(accent, timeline, throws);
        // Even parts of a music beat: of 3/2 throws, thirds.
        let grid = BigRational::new(BigInt::one(), throws.numer().clone());
        let steps = ((&count - &late) / &grid).floor();
        let on = |steps: BigRational| track.at(&map.time(&(steps * &grid + &late)));
        let (Some(before), Some(after)) = (on(steps.clone()), on(steps + BigRational::one()))
        else {
            continue;
        };
        let nearest = [before, after];
        let off = nearest.iter().map(|near| (&at - near).to_f64().abs());
        if off.fold(f64::INFINITY, f64::min) > ON_THE_MUSIC_S {
            found.push(OffGrid { section, accent, at, nearest });
        }
    }
    found
}

/// How many music beats after a point of the music a throw comes whose catch can fall on one.
fn late(accent: Accent, timeline: &Timeline, throws: &BigRational) -> BigRational {
    match accent {
        Accent::Throw => BigRational::zero(),
        Accent::Catch => {
            let held = timeline.dwell * 2;
            let part = held - held.floor();
            BigRational::new((*part.numer()).into(), (*part.denom()).into()) / throws
        }
    }
}

impl Compiler<'_> {
    /// The bars of the music, of several tracks of the first, and that track on the routine clock.
    fn music(&self) -> Result<(MusicMap, TrackSpan), Unresolved> {
        let music = self.routine.first_track().ok_or(Unresolved::NoMusic)?;
        let map = music.music_map().ok_or(Unresolved::NoBars)?;
        let track = self.timeline.tracks.first().ok_or(Unresolved::NoMusic)?.clone();
        let starts = Some(self.moment(&self.routine.first_track_start(), None)?);
        Ok((map, TrackSpan { starts, ..track }))
    }

    /// When so many bars are over that begin at a time.
    pub(super) fn after_bars(&self, from: &Seconds, bars: u32) -> Result<Seconds, Unresolved> {
        let (map, track) = self.music()?;
        let end = track.reads(from).and_then(|from| map.after_bars(&from, bars));
        end.and_then(|end| track.at(&end)).ok_or(Unresolved::OutsideBars)
    }

    /// The pace of a section that starts at a time and follows the music.
    pub(super) fn followed(
        &self,
        throws: &BigRational,
        starts: &Seconds,
    ) -> Result<Pace, WhyNoBars> {
        let (map, track) = self.music().map_err(WhyNoBars::Unknown)?;
        let at = track.reads(starts).ok_or(WhyNoBars::Unknown(Unresolved::NoMusic))?;
        let (begins, ends) = map.within();
        if &at < begins {
            return Err(WhyNoBars::Before(begins - &at));
        }
        if &at > ends {
            return Err(WhyNoBars::After(&at - ends));
        }
        Ok(Pace::Music { throws: throws.clone(), stages: map.followed(&at, throws) })
    }

    /// Reports a section that follows the music past its end.
    pub(super) fn within_the_music(&mut self, section: usize, end: &Seconds) {
        let Ok((map, track)) = self.music() else { return };
        let over = end - &(track.at(map.within().1).unwrap_or_else(Seconds::zero));
        if over > Seconds::zero() && self.times_known {
            self.trouble(Trouble::OffBars { section, why: WhyNoBars::After(over) });
            self.times_known = false;
        }
    }

    /// How long so many throws take before a time, at so many throws a music beat; `None` where
    /// the music has no bars then.
    pub(super) fn music_before(
        &self,
        lands: &Seconds,
        throws: &BigRational,
        beats: u32,
    ) -> Option<Seconds> {
        let (map, track) = self.music().ok()?;
        let at = track.reads(lands)?;
        let count = map.count(&at)? - BigRational::from_integer(beats.into()) / throws;
        Some(&at - &map.time(&count))
    }

    /// The tempo that the section in hand leaves in force.
    pub(super) fn left_by(&self, own: &Own<'_>) -> InForce {
        match own.pace {
            Pace::Steady(tempo) | Pace::Ramp { to: tempo, .. } => {
                InForce::PerMinute(Some(tempo.clone()))
            }
            Pace::Music { .. } => match wanted(own.juggle, self.tempo.as_ref()) {
                Some(Wanted::Music(music)) => InForce::Music(MusicTempo { reached: None, ..music }),
                _ => InForce::PerMinute(None),
            },
        }
    }

    /// The time at which the own first throw of the entry of that index comes, if a section ends
    /// `Until` a moment before it: with the accent on the catches so much later that they can fall
    /// on the music.
    pub(super) fn accented(&self, index: usize, moment: Seconds) -> Seconds {
        match self.routine.score.get(index).map(|entry| &entry.part) {
            Some(Part::Juggle(next)) => self.late(next, self.tempo.as_ref(), moment),
            _ => moment,
        }
    }

    /// The same for the section in hand: what comes after it, or before a pause its own last beat.
    pub(super) fn accented_before(&self, own: &Own<'_>, moment: Seconds) -> Seconds {
        match self.routine.score.get(own.index + 1).map(|entry| &entry.part) {
            Some(Part::Juggle(next)) => self.late(next, Some(&self.left_by(own)), moment),
            _ => self.late(own.juggle, self.tempo.as_ref(), moment),
        }
    }

    fn late(&self, juggle: &Juggle, before: Option<&InForce>, moment: Seconds) -> Seconds {
        let Some(Wanted::Music(MusicTempo { throws, accent: Accent::Catch, .. })) =
            wanted(juggle, before)
        else {
            return moment;
        };
        let shifted = || {
            let (map, track) = self.music().ok()?;
            let count = map.count(&track.reads(&moment)?)?;
            let late = late(Accent::Catch, &self.timeline, &throws);
            track.at(&map.time(&(count + late)))
        };
        shifted().unwrap_or(moment)
    }
}
