//! How long each section lasts: its own beats from what its user wrote.

use crate::notation::Kind;
use crate::routine::{Juggle, Lands, Length, Until};
use crate::time::{BeatPosition, Pace, Piece, Seconds, Time};

use super::compile::Compiler;
use super::course::Course;
use super::draft::longest_way_in;
use super::label::Label;
use super::lands::Landing;
use super::length::{Beats, InForce, MOST_BEATS, Nearest, Wanted, lasting_but, own_beats, wanted};
use super::{Bend, FixedEnd, MovedByOpen, Trouble, Unresolved};

/// The section in hand: its transition is laid out, its own beats are not.
pub(super) struct Own<'a> {
    /// Index in the score.
    pub(super) index: usize,
    /// As written.
    pub(super) juggle: &'a Juggle,
    /// Its transition.
    pub(super) course: &'a Course,
    /// Its pace.
    pub(super) pace: &'a Pace,
    /// The props before its own first throw.
    pub(super) label: &'a Label,
    /// Its own beats are a multiple of this: 2 for pairs.
    pub(super) unit: u32,
    /// Whether the entry before it puts its own first throw on a moment.
    pub(super) awaited: bool,
}

/// How long a section lasts.
pub(super) struct Lasts {
    /// Its own beats.
    pub(super) beats: u32,
    /// Whether they are known, not assumed.
    pub(super) beats_known: bool,
    /// The tempo that lands it on its end, where it may bend.
    pub(super) bend: Option<Bend>,
    /// Its end, where that is fixed and asked for.
    pub(super) fixed_end: Option<FixedEnd>,
}

impl Lasts {
    /// So many own beats at the written tempo.
    pub(super) fn of(beats: u32) -> Lasts {
        Lasts { beats, beats_known: true, bend: None, fixed_end: None }
    }
}

impl Own<'_> {
    /// The run one cycle into the section, and the beats whose time does not hang on its length:
    /// all of them, or under a ramp or a bend those before it.
    pub(super) fn one_cycle_ahead(&self) -> (Label, u32) {
        let pattern = &self.juggle.pattern.pattern;
        let starts = self.label.beat.saturating_sub(self.course.beats);
        let ahead = self.ahead(self.label, pattern.period());
        let settled = match self.pace {
            // What comes after this hangs on the bend.
            Pace::Steady(_) if self.may_bend().is_some() && self.awaited => self.label.beat,
            Pace::Steady(_) if self.may_bend().is_none() => ahead.beat,
            Pace::Music { .. } => ahead.beat,
            Pace::Steady(_) | Pace::Ramp { .. } => starts,
        };
        (ahead, settled)
    }
}

impl Compiler<'_> {
    /// How long the section in hand lasts: at least one own beat. `lead_in` is the number of beats of
    /// the next section's transition, where that is decided already.
    pub(super) fn lasting(&mut self, own: &Own<'_>, lead_in: Option<u32>) -> Lasts {
        let mut lasts = match own.may_bend() {
            Some(may_bend) => self.bent(own, may_bend, lead_in),
            None if self.fitting => {
                self.fitted(own, lead_in, |compiler| compiler.beats_of(own, lead_in))
            }
            None => Lasts::of(self.beats_of(own, lead_in)),
        };
        let most = MOST_BEATS.saturating_sub(self.laid_out) / own.unit * own.unit;
        lasts.beats = lasts.beats.max(own.unit);
        if lasts.beats > most {
            self.trouble(Trouble::TooLong { section: own.index });
            self.lose();
            return Lasts { beats_known: false, ..Lasts::of(own.unit) };
        }
        self.laid_out += lasts.beats;
        let written = matches!(own.juggle.lasts.value, Length::Beats(_) | Length::Cycles(_));
        lasts.beats_known = written || !self.lost;
        if self.fitting { lasts } else { Lasts { fixed_end: None, ..lasts } }
    }

    /// The own beats of the section in hand at its written tempo.
    fn beats_of(&mut self, own: &Own<'_>, lead_in: Option<u32>) -> u32 {
        match &own.juggle.lasts.value {
            Length::Beats(beats) => *beats,
            Length::Cycles(cycles) => cycles.saturating_mul(own.juggle.pattern.pattern.period()),
            Length::For(length) => {
                let whole = own_beats(own.pace, length, own.course.beats, own.unit);
                self.whole_or_reported(own, whole)
            }
            Length::Bars(bars) => self.beats_of_bars(own, *bars),
            Length::Until(until) => self.beats_until(own, until, lead_in),
            Length::Between(..) => unreachable!("the reader gives it to a pause only"),
        }
    }

    /// So many beats; the nearest below where they are no whole number, which is reported.
    fn whole_or_reported(&mut self, own: &Own<'_>, whole: Beats) -> u32 {
        match whole {
            Ok(beats) => beats,
            Err(nearest) => {
                let Nearest { below, above } = *nearest;
                let assumed = below.as_ref().map_or(own.unit, |(beats, _)| *beats);
                self.trouble(Trouble::NotWhole { section: own.index, below, above });
                self.lose();
                assumed
            }
        }
    }

    /// The same where it hangs on what is before it: at a pace that is not known, no length can be
    /// judged.
    fn whole_or_nearest(&mut self, own: &Own<'_>, whole: Beats) -> u32 {
        match whole {
            Err(nearest) if self.lost => nearest.below.map_or(own.unit, |(beats, _)| beats),
            whole => self.whole_or_reported(own, whole),
        }
    }

    /// The own beats that end with so many bars of the music.
    fn beats_of_bars(&mut self, own: &Own<'_>, bars: u32) -> u32 {
        let starts = self.starts();
        let lasts = self.after_bars(&starts, bars, Some(own));
        match lasts.and_then(|end| Compiler::certain(&(&end - &starts))) {
            Ok(lasts) => {
                let whole = own_beats(own.pace, &lasts, own.course.beats, own.unit);
                self.whole_or_nearest(own, whole)
            }
            Err(why) => self.until_unknown(own, why),
        }
    }

    /// Where the section in hand starts.
    pub(super) fn starts(&self) -> Time {
        self.timeline.sections.last().map_or_else(Time::zero, |last| last.starts.clone())
    }

    /// The own beats after which the next section's own first throw falls on the moment; before a
    /// pause, after which the last beat ends there.
    fn beats_until(&mut self, own: &Own<'_>, until: &Until, lead_in: Option<u32>) -> u32 {
        let starts = self.starts();
        let end = self.lands_at(own, until);
        let known = end.and_then(|end| Ok((Compiler::certain(&(&end - &starts))?, end)));
        let (duration, end) = match known {
            Ok(known) => known,
            Err(why) => return self.until_unknown(own, why),
        };
        if duration <= Seconds::zero() {
            if !self.lost {
                self.trouble(Trouble::UntilTooEarly { section: own.index, by: -duration });
            }
            self.lose();
            return own.unit;
        }
        let whole = match (&until.lands, self.routine.juggle(own.index + 1)) {
            (Lands::Next, None) => {
                Ok(Some(own_beats(own.pace, &duration, own.course.beats, own.unit)))
            }
            _ => self.beats_before(own, until, lead_in, (&duration, &end)),
        };
        let whole = match whole {
            Ok(whole) => whole,
            Err(why) => return self.until_unknown(own, why),
        };
        match whole {
            Some(whole) => self.whole_or_nearest(own, whole),
            None => self.until_unknown(own, Unresolved::NotYet),
        }
    }

    /// The own beats after which what lands comes `duration` after the section's start, at `end`.
    /// The next section's transition depends on where this one stops, and so does the place of its
    /// own last throws: each number of beats near it is tried. `None` where it hangs on a length
    /// that is not known yet.
    fn beats_before(
        &self,
        own: &Own<'_>,
        until: &Until,
        lead_in: Option<u32>,
        (duration, end): (&Seconds, &Time),
    ) -> Result<Option<Beats>, Unresolved> {
        let period = own.juggle.pattern.pattern.period();
        // Around the number with which it lands after some whole cycles.
        let some = period.saturating_mul(self.settled_cycles(own)).max(own.unit);
        let Some(Landing { short, after }) =
            self.landing(own, until, (own.label, 0), some, lead_in, end)?
        else {
            return Ok(None);
        };
        let alone = own_beats(own.pace, &(duration - &after), own.course.beats, own.unit);
        let middle = alone.unwrap_or_else(|nearest| nearest.above.0);
        let next = self.routine.juggle(own.index + 1);
        let longest = next.map_or(0, |next| longest_way_in(self.routine, next));
        let late = u32::try_from(short.ceil().to_integer()).unwrap_or(0);
        let beside = longest + 2 * period.max(own.unit);
        let most = middle.saturating_add(late + beside).min(MOST_BEATS) / own.unit * own.unit;
        let least = middle.saturating_sub(2 * beside).max(own.unit) / own.unit * own.unit;
        // What all these numbers have in common is juggled once; the last throws are behind it.
        let repeat = own.juggle.pattern.pattern.beats_to_repeat();
        let done = least.saturating_sub(period) / repeat * repeat;
        let mut so_far = own.ahead(own.label, done);
        so_far.forget(false);
        let mut below: Option<(u32, Seconds)> = None;
        let mut above: Option<(u32, Seconds)> = None;
        let mut lands = None;
        for beats in (least..=most).rev().filter(|beats| beats.is_multiple_of(own.unit)) {
            let landing = match self.landing(own, until, (&so_far, done), beats, lead_in, end) {
                // A cut cycle may be without the throw that lands.
                Err(Unresolved::NeverThrown { .. }) => continue,
                landing => landing?,
            };
            let Some(Landing { short, after }) = landing else { return Ok(None) };
            let lasts = lasting_but(own.pace, own.course.beats + beats, short);
            let off = &(&lasts + &after) - duration;
            if off == Seconds::zero() {
                // The most beats, and where a throw lands whole cycles before others.
                if until.lands == Lands::Next {
                    return Ok(Some(Ok(beats)));
                }
                let is_whole = beats.is_multiple_of(period);
                if lands.is_none_or(|found: u32| is_whole && !found.is_multiple_of(period)) {
                    lands = Some(beats);
                }
            } else if off.is_negative() {
                if below.as_ref().is_none_or(|(_, nearest)| off > *nearest) {
                    below = Some((beats, off));
                }
            } else if above.as_ref().is_none_or(|(_, nearest)| off < *nearest) {
                above = Some((beats, off));
            }
        }
        if let Some(beats) = lands {
            return Ok(Some(Ok(beats)));
        }
        Ok(above.map(|above| Err(Box::new(Nearest { below, above }))))
    }

    pub(super) fn until_unknown(&mut self, own: &Own<'_>, why: Unresolved) -> u32 {
        let bends = own.may_bend().is_some();
        let moved = if bends { MovedByOpen::Bend } else { MovedByOpen::Beats };
        self.unresolved(own.index, why, moved);
        own.juggle.pattern.pattern.period().max(own.unit)
    }

    /// How long the transition into a section and so many of its own beats take, at its tempo, when
    /// the end of them comes at `lands`; `None` where that hangs on a length that is not known yet.
    pub(super) fn lead_in_lasts(
        &self,
        next: &Juggle,
        before: &InForce,
        (lead_in, behind): (u32, BeatPosition),
        lands: &Time,
        in_hand: Option<&Own<'_>>,
    ) -> Result<Option<Seconds>, Unresolved> {
        let upto = BeatPosition::from_integer(i64::from(lead_in)) + behind;
        if upto == BeatPosition::from_integer(0) {
            return Ok(Some(Seconds::zero()));
        }
        let Some(wanted) = wanted(next, Some(before)) else { return Ok(None) };
        let pace = match wanted {
            Wanted::Pace(pace) => pace,
            Wanted::Music(music) => {
                return self.music_before(lands, &music.throws, upto, in_hand);
            }
            Wanted::NotYet => return Ok(None),
        };
        let own = match (&pace, &next.lasts.value) {
            (Pace::Steady(_) | Pace::Music { .. }, _) => 0,
            (Pace::Ramp { .. }, Length::Beats(beats)) => *beats,
            (Pace::Ramp { .. }, Length::Cycles(cycles)) => {
                cycles.saturating_mul(next.pattern.pattern.period())
            }
            (Pace::Ramp { .. }, Length::For(length)) => {
                let unit = if next.pattern.pattern.kind() == Kind::Sync { 2 } else { 1 };
                // What is no whole number is reported with that section.
                own_beats(&pace, length, lead_in, unit).unwrap_or_else(|nearest| nearest.above.0)
            }
            (Pace::Ramp { .. }, Length::Bars(_) | Length::Until(_) | Length::Between(..)) => {
                return Ok(None);
            }
        };
        let beats = lead_in.saturating_add(own);
        let piece = Piece { first_beat: 0, beats, starts: Time::zero(), pace };
        Ok(Some(piece.after(upto)))
    }

    /// How long the transition of a section takes that starts cold after a pause; nothing where
    /// the entry of that index is not juggled. `None` where that hangs on a length that is not
    /// known yet. `beats` says how many beats it has, where that is decided already. So many of its
    /// own beats are added, and the end of them comes at `lands`.
    pub(super) fn cold_lead_in(
        &self,
        index: usize,
        beats: Option<u32>,
        behind: BeatPosition,
        lands: &Time,
    ) -> Result<Option<Seconds>, Unresolved> {
        let Some(next) = self.routine.juggle(index) else { return Ok(Some(Seconds::zero())) };
        let beats = beats.unwrap_or_else(|| self.cold(index, next).plan().course.beats);
        // Without a tempo, which is reported, nothing is known of how long it takes.
        if wanted(next, self.tempo.as_ref()).is_none() {
            return Ok(Some(Seconds::zero()));
        }
        let before = self.tempo.clone().unwrap_or(InForce::PerMinute(None));
        self.lead_in_lasts(next, &before, (beats, behind), lands, None)
    }
}
