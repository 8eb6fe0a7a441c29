//! Sections that follow the music: their pace, their lengths in bars, and what falls on the beat.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Zero};

use crate::routine::{Accent, Juggle, Routine, Track};
use crate::time::{BeatPosition, MusicMap, Pace, Seconds, Time, wide};

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
    pub at: Time,
    /// When it would have to come so that the accents fall on the music, the nearest before and
    /// after, on the show clock.
    pub nearest: [Time; 2],
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
        let Some(written) = routine.juggle(section) else {
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
        // A section at an open place follows a steady stretch: any place of it will do.
        let Some(place) = track.place(&at) else { continue };
        let Some(count) = place.range.earliest().and_then(|at| map.count(at)) else { continue };
        let late = late(accent, timeline, throws);
        // Even parts of a music beat: of 3/2 throws, thirds.
        let grid = BigRational::new(BigInt::one(), throws.numer().clone());
        let steps = ((&count - &late) / &grid).floor();
        let here = map.time(&count);
        let on = |steps: BigRational| &at + &(&map.time(&(steps * &grid + &late)) - &here);
        let nearest = [on(steps.clone()), on(steps + BigRational::one())];
        let off = nearest.iter().map(|near| (&at - near).shortest().to_f64().abs());
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
    /// The bars of the music, of several tracks of the first, and that track on the routine clock, as
    /// far as the routine is laid out and one cycle into the section in hand: the track may start at
    /// its first throw.
    fn music(&self, in_hand: Option<&Own<'_>>) -> Result<(MusicMap, TrackSpan), Unresolved> {
        let music = self.routine.first_track().ok_or(Unresolved::NoMusic)?;
        let map = music.music_map().ok_or(Unresolved::NoBars)?;
        let track = self.timeline.tracks.first().ok_or(Unresolved::NoMusic)?.clone();
        let starts = Some(self.moment(&self.routine.first_track_start(), in_hand)?);
        Ok((map, TrackSpan { starts, ..track }))
    }

    /// When so many bars are over that begin at a time. From an open place on the track that can be
    /// told where one steady stretch holds them all, without a hold.
    pub(super) fn after_bars(
        &self,
        from: &Time,
        bars: u32,
        in_hand: Option<&Own<'_>>,
    ) -> Result<Time, Unresolved> {
        let (map, track) = self.music(in_hand)?;
        let place = track.place(from).ok_or(Unresolved::NoMusic)?;
        if let Some(at) = place.certain() {
            let end = map.after_bars(at, bars);
            return end.and_then(|end| track.at(&end)).ok_or(Unresolved::OutsideBars);
        }
        let (least, most) = steady_ends(&place, from)?;
        let ends = |at: &Seconds| map.after_bars(at, bars).ok_or(Unresolved::OutsideBars);
        let (first, last) = (ends(&least)?, ends(&most)?);
        match is_steady(&map, &track, &least, &last) {
            true => Ok(from + &(&first - &least)),
            false => Err(hangs_on(from)),
        }
    }

    /// The pace of a section that starts at a time and follows the music.
    pub(super) fn followed(&self, throws: &BigRational, starts: &Time) -> Result<Pace, WhyNoBars> {
        let (map, track) = self.music(None).map_err(WhyNoBars::Unknown)?;
        let place = track.place(starts).ok_or(WhyNoBars::Unknown(Unresolved::NoMusic))?;
        let (begins, ends) = map.within();
        let at = match place.certain() {
            Some(at) => at.clone(),
            None => {
                let (least, most) = steady_ends(&place, starts).map_err(WhyNoBars::Unknown)?;
                if most > *ends || !is_steady(&map, &track, &least, ends) {
                    return Err(WhyNoBars::Unknown(hangs_on(starts)));
                }
                least
            }
        };
        if &at < begins {
            return Err(WhyNoBars::Before(begins - &at));
        }
        if &at > ends {
            return Err(WhyNoBars::After(&at - ends));
        }
        Ok(Pace::Music { throws: throws.clone(), stages: map.followed(&at, throws) })
    }

    /// Reports a section that follows the music past its end, or through a hold.
    pub(super) fn within_the_music(&mut self, section: usize, starts: &Time, ends: &Time) {
        let Ok((map, track)) = self.music(None) else { return };
        if !self.times_known {
            return;
        }
        let lasts = (ends - starts).shortest().clone();
        let held =
            track.place(starts).and_then(|place| place.certain().cloned()).and_then(|from| {
                let to = &from + &lasts;
                track.holds.iter().position(|hold| {
                    let begins =
                        track.starts.as_ref().map(|start| start + &track.after_start(&hold.from));
                    // A section that starts where a hold ends has it behind it.
                    let behind = begins.is_some_and(|begins| {
                        !(starts - &(&begins + &hold.lasts)).least().is_negative()
                    });
                    !behind && from <= hold.from && hold.from < to
                })
            });
        let over = ends - &(track.at(map.within().1).unwrap_or_else(Time::zero));
        let why = match held {
            Some(hold) => WhyNoBars::Held(hold),
            None if over.most() > Seconds::zero() => WhyNoBars::After(over.most()),
            None => return,
        };
        self.trouble(Trouble::OffBars { section, why });
        self.lose();
    }

    /// How long so many throws take before a time, at so many throws a music beat; `None` where
    /// the music has no bars then.
    pub(super) fn music_before(
        &self,
        lands: &Time,
        throws: &BigRational,
        beats: BeatPosition,
        in_hand: Option<&Own<'_>>,
    ) -> Result<Option<Seconds>, Unresolved> {
        let Ok((map, track)) = self.music(in_hand) else { return Ok(None) };
        let Some(place) = track.place(lands) else { return Ok(None) };
        let before = |at: &Seconds| {
            let count = map.count(at)? - wide(beats) / throws;
            Some(map.time(&count))
        };
        if let Some(at) = place.certain() {
            return Ok(before(at).map(|before| at - &before));
        }
        let (least, most) = steady_ends(&place, lands)?;
        match before(&least) {
            Some(first) if is_steady(&map, &track, &first, &most) => Ok(Some(&least - &first)),
            Some(_) => Err(hangs_on(lands)),
            None => Ok(None),
        }
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
    pub(super) fn accented(&self, index: usize, moment: Time) -> Result<Time, Unresolved> {
        match self.routine.juggle(index) {
            Some(next) => self.late(next, self.tempo.as_ref(), moment, None),
            _ => Ok(moment),
        }
    }

    /// The same for the section in hand: what comes after it, or before a pause its own last beat.
    pub(super) fn accented_before(&self, own: &Own<'_>, moment: Time) -> Result<Time, Unresolved> {
        match self.routine.juggle(own.index + 1) {
            Some(next) => self.late(next, Some(&self.left_by(own)), moment, Some(own)),
            _ => self.late(own.juggle, self.tempo.as_ref(), moment, Some(own)),
        }
    }

    fn late(
        &self,
        juggle: &Juggle,
        before: Option<&InForce>,
        moment: Time,
        in_hand: Option<&Own<'_>>,
    ) -> Result<Time, Unresolved> {
        let Some(Wanted::Music(MusicTempo { throws, accent: Accent::Catch, .. })) =
            wanted(juggle, before)
        else {
            return Ok(moment);
        };
        let Ok((map, track)) = self.music(in_hand) else { return Ok(moment) };
        let Some(place) = track.place(&moment) else { return Ok(moment) };
        let shifted = |at: &Seconds| {
            let late = late(Accent::Catch, &self.timeline, &throws);
            Some(map.time(&(map.count(at)? + late)))
        };
        if let Some(at) = place.certain() {
            return Ok(shifted(at).and_then(|at| track.at(&at)).unwrap_or(moment));
        }
        let (least, most) = steady_ends(&place, &moment)?;
        match (shifted(&least), shifted(&most)) {
            (Some(first), Some(last)) if is_steady(&map, &track, &least, &last) => {
                Ok(&moment + &(&first - &least))
            }
            (None, None) => Ok(moment),
            _ => Err(hangs_on(&moment)),
        }
    }
}

/// The ends of an open place on the track, where it moves evenly between them.
fn steady_ends(place: &super::Place, time: &Time) -> Result<(Seconds, Seconds), Unresolved> {
    // Where an error leaves it open when the track starts, that is what all hangs on.
    let unknown = place.exact.as_ref().filter(|exact| exact.is_unknown());
    if let Some(by) = unknown.and_then(Time::hangs_on) {
        return Err(Unresolved::HangsOn(by));
    }
    let ends = place.range.earliest().cloned().zip(place.range.latest().cloned());
    ends.filter(|_| place.exact.is_some()).ok_or_else(|| hangs_on(time))
}

/// Whether the music goes on at one tempo from one place on the track to another, never held.
fn is_steady(map: &MusicMap, track: &TrackSpan, from: &Seconds, to: &Seconds) -> bool {
    let held = track.holds.iter().any(|hold| *from <= hold.from && hold.from < *to);
    !held && map.is_steady(from, to)
}

/// What a time hangs on that must not.
fn hangs_on(time: &Time) -> Unresolved {
    match Compiler::certain(time) {
        Err(why) => why,
        // A certain time is at an open place of a track that is held for as long as it takes.
        Ok(_) => Unresolved::OutsideBars,
    }
}
