//! Landing a section on its end: the number of cycles with the least bend, and what is fixed.

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use crate::routine::{Lands, Length, Moment, Section, Until};
use crate::time::{BeatPosition, Pace, Seconds, Time, wide};

use super::compile::Compiler;
use super::lasting::{Lasts, Own};
use super::length::lasting;
use super::{Bend, FixedEnd, Trouble, Unresolved};

impl Own<'_> {
    /// How much its tempo may bend; `None` where it may not, and where there is nothing to bend or
    /// to land on, which is reported.
    pub(super) fn may_bend(&self) -> Option<&BigRational> {
        match (&self.juggle.lasts.value, self.pace) {
            (Length::For(_) | Length::Bars(_) | Length::Until(_), Pace::Steady(_)) => {
                self.juggle.may_bend.as_ref().map(|may_bend| &may_bend.most.value)
            }
            (Length::Beats(_) | Length::Cycles(_) | Length::Between(_), _)
            | (_, Pace::Ramp { .. } | Pace::Music { .. }) => None,
        }
    }
}

impl Compiler<'_> {
    /// Whether the own first throw of a section is put on a moment by the entry before it.
    pub(super) fn is_awaited(&self, index: usize) -> bool {
        let before = index.checked_sub(1).and_then(|before| self.routine.score.get(before));
        let lasts = before.and_then(Section::lasts);
        lasts.and_then(|lasts| lasts.value.until()).is_some_and(|until| until.lands.is_of_next())
    }

    /// The section in hand with the least bend, which is at most `may_bend`.
    pub(super) fn bent(
        &mut self,
        own: &Own<'_>,
        may_bend: &BigRational,
        lead_in: Option<u32>,
    ) -> Lasts {
        let fixed = match self.fixed_end(own, lead_in) {
            Ok(fixed) => fixed,
            Err(why) => return Lasts::of(self.until_unknown(own, why)),
        };
        // At a pace that is not known, no length can be judged.
        let judged = !self.lost;
        let Some(least) = fixed.least() else {
            if judged {
                let over = |lasts: &Seconds| (&fixed.unbent - lasts).abs();
                let by = fixed.lasts.iter().flatten().map(over).next();
                let by = by.unwrap_or_else(Seconds::zero);
                self.trouble(Trouble::UntilTooEarly { section: own.index, by });
            }
            self.lose();
            return Lasts::of(fixed.period);
        };
        if least.bend().abs() > *may_bend && !self.fitting {
            if judged {
                let mut nearest: Vec<Bend> = fixed.each_side().into_iter().flatten().collect();
                nearest.sort_by_key(|bend| bend.bend().abs());
                let nearest = nearest.into_iter();
                let nearest = nearest.map(|bend| (fixed.off_as_written(&bend), bend)).collect();
                self.trouble(Trouble::BendTooSmall { section: own.index, nearest });
            }
            self.lose();
            return Lasts::of(least.cycles.saturating_mul(fixed.period));
        }
        Lasts::bent(least, fixed)
    }

    /// As written, or where that is no whole number of beats, with the least bend; and where the
    /// section has a fixed end. `written` finds the beats as written and reports.
    pub(super) fn fitted(
        &mut self,
        own: &Own<'_>,
        lead_in: Option<u32>,
        written: impl FnOnce(&mut Self) -> u32,
    ) -> Lasts {
        let (troubles, times_known) = (self.troubles.len(), self.times_known);
        let mut lasts = Lasts::of(written(self));
        lasts.fixed_end = match own.juggle.lasts.value {
            Length::For(_) | Length::Bars(_) | Length::Until(_) => {
                self.fixed_end(own, lead_in).ok()
            }
            Length::Beats(_) | Length::Cycles(_) => self.next_fixed(own, lasts.beats, lead_in),
            Length::Between(_) => None,
        };
        let off = matches!(self.troubles.get(troubles..), Some([Trouble::NotWhole { .. }]));
        if let (true, Some(fixed)) = (off, &lasts.fixed_end)
            && let Some(least) = fixed.least()
        {
            self.troubles.truncate(troubles);
            self.times_known = times_known;
            self.lost = false;
            return Lasts::bent(least, fixed.clone());
        }
        lasts
    }

    /// Where the section in hand ends, as it is written. Only a steady tempo lands anywhere.
    fn fixed_end(&self, own: &Own<'_>, lead_in: Option<u32>) -> Result<FixedEnd, Unresolved> {
        match &own.juggle.lasts.value {
            Length::For(length) => {
                let lasts = Some(length.clone());
                self.fixed(own, None, [lasts.clone(), lasts]).ok_or(Unresolved::NotYet)
            }
            Length::Bars(bars) => {
                let starts = self.starts();
                let ends = self.after_bars(&starts, *bars, Some(own))?;
                let lasts = Some(Compiler::certain(&(&ends - &starts))?);
                self.fixed(own, None, [lasts.clone(), lasts]).ok_or(Unresolved::NotYet)
            }
            Length::Until(until) => self.ends_at(own, until, lead_in),
            Length::Beats(_) | Length::Cycles(_) | Length::Between(_) => Err(Unresolved::NotYet),
        }
    }

    /// Its end on a moment, on which something lands.
    fn ends_at(
        &self,
        own: &Own<'_>,
        until: &Until,
        lead_in: Option<u32>,
    ) -> Result<FixedEnd, Unresolved> {
        let starts = self.starts();
        let end = self.lands_at(own, until)?;
        let duration = Compiler::certain(&(&end - &starts))?;
        let (even, period) = (self.settled_cycles(own), own.juggle.pattern.pattern.period());
        let mut short = BeatPosition::from_integer(0);
        let mut lasts = |cycles: u32| -> Result<Option<Seconds>, Unresolved> {
            let beats = cycles.saturating_mul(period);
            let landing = self.landing(own, until, (own.label, 0), beats, lead_in, &end)?;
            Ok(landing.map(|landing| {
                short = landing.short;
                &duration - &landing.after
            }))
        };
        let lasts = [lasts(even)?, lasts(even + 1)?];
        if lasts.iter().all(Option::is_none) {
            return Err(Unresolved::NotYet);
        }
        let fixed = self.fixed(own, Some(until.clone()), lasts).ok_or(Unresolved::NotYet)?;
        Ok(FixedEnd { short: wide(short), ..fixed })
    }

    fn fixed(
        &self,
        own: &Own<'_>,
        until: Option<Until>,
        lasts: [Option<Seconds>; 2],
    ) -> Option<FixedEnd> {
        let Pace::Steady(written) = own.pace else { return None };
        let (bending_beats, unbent) = if own.awaited {
            (0, lasting(own.pace, own.course.beats))
        } else {
            (own.course.beats, Seconds::zero())
        };
        Some(FixedEnd {
            until,
            written: written.clone(),
            bending_beats,
            unbent,
            short: BigRational::zero(),
            period: own.juggle.pattern.pattern.period(),
            lasts,
        })
    }

    /// The first mark of any track, or the moment at which the pause after it ends, that so many
    /// own beats of the section in hand come close to: no more than a quarter of its length later.
    fn next_fixed(&self, own: &Own<'_>, beats: u32, lead_in: Option<u32>) -> Option<FixedEnd> {
        let Pace::Steady(_) = own.pace else { return None };
        let starts = self.starts();
        let lasts = lasting(own.pace, own.course.beats + beats);
        let late = BigRational::new(5.into(), 4.into());
        let (from, to) = (&starts + &lasts, &starts + &(&lasts * &late));
        let marks = self.routine.all_tracks().flat_map(|(called, track)| {
            track.marks.iter().map(move |(mark, _)| {
                let mark = Moment::Mark(mark.clone());
                match called {
                    Some(called) => Moment::OfTrack(called.clone(), Box::new(mark)),
                    None => mark,
                }
            })
        });
        let next = self.routine.score.get(own.index + 1).and_then(Section::pause);
        let pause = next.and_then(|pause| match &pause.lasts.value {
            Length::Until(until) if until.lands == Lands::Next => Some((**until).clone()),
            _ => None,
        });
        let mut first: Option<(Time, Until)> = None;
        let marks = marks.map(|on| Until { on, lands: Lands::Next });
        for until in marks.chain(pause) {
            let Ok(at) = self.moment(&until.on, Some(own)) else { continue };
            let not_before = |one: &Time, other: &Time| !(one - other).least().is_negative();
            let earlier = first.as_ref().is_none_or(|(first, _)| !not_before(&at, first));
            if not_before(&at, &from) && not_before(&to, &at) && earlier {
                first = Some((at, until));
            }
        }
        let (_, until) = first?;
        self.ends_at(own, &until, lead_in).ok()
    }
}

impl Lasts {
    fn bent(least: Bend, fixed: FixedEnd) -> Lasts {
        let beats = least.cycles.saturating_mul(fixed.period);
        Lasts { beats, beats_known: true, bend: Some(least), fixed_end: Some(fixed) }
    }
}
