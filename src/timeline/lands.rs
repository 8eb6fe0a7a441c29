//! What lands on the moment at which a section ends, against the end of its last beat.
//!
//! The next section's own first throw lands behind its transition, a later throw or a catch behind
//! some of its own beats too: those are at the next section's pace. The section's own last throw
//! of a value lands before its end, and the catch of it before or after.

use crate::diagnostic::Placed;
use crate::patterns::hands::ActionKind;
use crate::routine::{Freedom, Juggle, Lands, Length, Moment, Tempo, Twos, Until};
use crate::time::{BeatPosition, Seconds, Time};

use super::compile::Compiler;
use super::label::{Belongs, Label};
use super::lasting::Own;
use super::moments::{Asked, View};
use super::run::{Action, flies};
use super::{Trouble, Unresolved};

/// What is off by less is on time: after a ramp times are judged to a microsecond.
const ON_TIME_S: f64 = 1e-6;

/// Where something lands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Landing {
    /// Own beats before the section's end, at its own pace; below zero after it.
    pub(super) short: BeatPosition,
    /// Seconds after its end, at the next section's pace.
    pub(super) after: Seconds,
}

impl Landing {
    /// After the section's end.
    fn after(seconds: Seconds) -> Landing {
        Landing { short: whole(0), after: seconds }
    }

    /// At its own pace.
    fn short(beats: BeatPosition) -> Landing {
        Landing { short: beats, after: Seconds::zero() }
    }
}

fn whole(beats: u32) -> BeatPosition {
    BeatPosition::from_integer(i64::from(beats))
}

impl Own<'_> {
    /// The run after so many more own beats, from where its hand leads its cycle.
    pub(super) fn ahead(&self, so_far: &Label, beats: u32) -> Label {
        let mut ahead = so_far.clone();
        let pattern = self.juggle.pattern.pattern.sequence();
        ahead.juggle(pattern, self.course.lead, beats, Belongs::to(self.index, self.juggle));
        ahead
    }
}

impl Compiler<'_> {
    /// When the moment comes on which a section ends, on the routine clock. Where the next
    /// section's own first throw lands there with the accent on the catches, it is so much later
    /// that they can fall on the music.
    pub(super) fn lands_at(&self, own: &Own<'_>, until: &Until) -> Result<Time, Unresolved> {
        let on = self.moment(&until.on, Some(own))?;
        match until.lands {
            Lands::Next => self.accented_before(own, on),
            _ => Ok(on),
        }
    }

    /// Where something lands after so many own beats of the section in hand, when it comes at `on`;
    /// `lead_in` is the number of beats of the next section's transition, where that is decided
    /// already. `None` where that hangs on a length that is not known yet. The run after `done` of
    /// those beats, after which the same hand leads, is known.
    pub(super) fn landing(
        &self,
        own: &Own<'_>,
        until: &Until,
        (so_far, done): (&Label, u32),
        beats: u32,
        lead_in: Option<u32>,
        on: &Time,
    ) -> Result<Option<Landing>, Unresolved> {
        let ahead = || own.ahead(so_far, beats.saturating_sub(done));
        let next = self.routine.juggle(own.index + 1);
        let way_in = |ahead: &Label, next: &Juggle| {
            lead_in.unwrap_or_else(|| {
                let preferred = own.course.lead.or_else(|| self.last_lead(own.index));
                self.joined(own.index + 1, next, ahead, preferred).plan().course.beats
            })
        };
        let lasts = |next: &Juggle, way_in: u32, own_beats: BeatPosition| {
            let lasts =
                self.lead_in_lasts(next, &self.left_by(own), (way_in, own_beats), on, Some(own));
            Ok(lasts?.map(Landing::after))
        };
        match &until.lands {
            Lands::Next => match next {
                Some(next) => lasts(next, way_in(&ahead(), next), whole(0)),
                None => Ok(Some(Landing::short(whole(0)))),
            },
            Lands::Throw(section, number) | Lands::Catch(section, number) => {
                let is_caught = matches!(until.lands, Lands::Catch(..));
                let (next, after) = self.counted_in_next(own.index, section, number, is_caught)?;
                lasts(next, way_in(&ahead(), next), after)
            }
            Lands::LastThrow(value) | Lands::LastCatch(value) => {
                let ahead = ahead();
                let last = last_of(&ahead.actions, own.index, value.value)
                    .ok_or(Unresolved::NeverThrown { value: value.value })?;
                let caught = last
                    .caught(self.routine.dwell)
                    .filter(|_| matches!(until.lands, Lands::LastCatch(_)));
                let short = whole(ahead.beat) - caught.unwrap_or_else(|| whole(last.beat));
                match next {
                    Some(next) if short < whole(0) => {
                        let way_in = way_in(&ahead, next);
                        let into = -short;
                        if into > whole(way_in) {
                            self.keeps_its_tempo(own.index)?;
                        }
                        lasts(next, way_in, into - whole(way_in))
                    }
                    _ => Ok(Some(Landing::short(short))),
                }
            }
            Lands::Gather if next.is_some() => {
                let name = self.routine.score.get(own.index).map(|section| &section.name.value);
                Err(Unresolved::JoinedOn(name.cloned().unwrap_or_default()))
            }
            Lands::Gather => {
                let ahead = ahead();
                let caught = ahead.catches_before_gather(self.routine.dwell);
                let last = caught.max().ok_or(Unresolved::NothingCaught)?;
                Ok(Some(Landing::short(whole(ahead.beat) - last)))
            }
        }
    }

    /// The own cycles after which what lands is the same at the end of every longer section with as
    /// many more cycles: whatever was in the air before has landed.
    pub(super) fn settled_cycles(&self, own: &Own<'_>) -> u32 {
        let highest = own.label.in_flight().iter().map(|action| action.due).max().unwrap_or(0);
        let period = own.juggle.pattern.pattern.period().max(1);
        let cycles = highest.div_ceil(period) + 1;
        cycles + cycles % 2
    }

    /// The section after one of that index, with the own beats before one of its throws, or before
    /// the catch of it.
    pub(super) fn counted_in_next(
        &self,
        index: usize,
        section: &Placed<String>,
        number: &Placed<u32>,
        is_caught: bool,
    ) -> Result<(&Juggle, BeatPosition), Unresolved> {
        let name = || section.value.clone();
        let is_next = self.routine.section(&section.value) == Some(index + 1);
        let next = self.routine.juggle(index + 1).filter(|_| is_next);
        let next = next.ok_or_else(|| Unresolved::NotNext(name()))?;
        if next.free.iter().any(|free| free.value == Freedom::StartingThrow) {
            return Err(Unresolved::StartsAnywhere(name()));
        }
        let pattern = next.pattern.pattern.sequence();
        let in_cycle: u32 = pattern.steps.iter().map(super::label::step_throws).sum();
        let (cycle, of_cycle) = ((number.value - 1) / in_cycle, (number.value - 1) % in_cycle + 1);
        let mut beats = cycle.saturating_mul(pattern.beats());
        let mut found = None;
        for step in &pattern.steps {
            found = step.throws().find(|throw| throw.number == of_cycle);
            if found.is_some() {
                break;
            }
            beats = beats.saturating_add(step.beats());
        }
        let found = found.unwrap_or_else(|| unreachable!("every number of a cycle is in it"));
        let has = match next.lasts.value {
            Length::Beats(beats) => Some(beats),
            Length::Cycles(cycles) => Some(cycles.saturating_mul(pattern.beats())),
            _ => None,
        };
        if let Some(has) = has.filter(|has| beats >= *has) {
            let has = has.saturating_mul(in_cycle) / pattern.beats().max(1);
            return Err(Unresolved::NoSuchThrow { section: name(), has });
        }
        let twos_are_thrown = next.twos == Twos::Thrown;
        let kind = ActionKind::of(found.throw, twos_are_thrown);
        if matches!(kind, ActionKind::Held | ActionKind::Empty) {
            return Err(Unresolved::NotThrown { section: name(), throw: found.throw });
        }
        let mut after = whole(beats);
        if is_caught {
            after += flies(found.throw.value, self.routine.dwell);
        }
        if after > whole(0) {
            self.keeps_its_tempo(index)?;
        }
        Ok((next, after))
    }

    /// That the section after one of that index does not bend: until its tempo is known, nobody
    /// knows when its throws come.
    fn keeps_its_tempo(&self, index: usize) -> Result<(), Unresolved> {
        let bends = self.routine.juggle(index + 1).is_some_and(|next| {
            let steady = !matches!(
                next.tempo.as_ref().map(|tempo| &tempo.value),
                Some(Tempo::Ramp { .. } | Tempo::PerMusicBeat { .. })
            );
            next.may_bend.is_some() && steady
        });
        let section = self.routine.score.get(index + 1).filter(|_| bends);
        section.map_or(Ok(()), |section| Err(Unresolved::Bends(section.name.value.clone())))
    }

    /// How much later than the own first throw of the section after a pause something of it lands,
    /// when it comes at `on`, its transition before that throw included; `None` where that hangs on
    /// a length that is not known yet.
    pub(super) fn cold_landing(
        &self,
        pause: usize,
        until: &Until,
        lead_in: Option<u32>,
        on: &Time,
    ) -> Result<Option<Seconds>, Unresolved> {
        let own_beats = match &until.lands {
            Lands::Throw(section, number) => self.counted_in_next(pause, section, number, false)?.1,
            Lands::Catch(section, number) => self.counted_in_next(pause, section, number, true)?.1,
            _ => whole(0),
        };
        self.cold_lead_in(pause + 1, lead_in, own_beats, on)
    }
}

/// What was to land and does not: a throw for which its section turns out to be too short, and,
/// where the times are known, a catch that falls into a section at another tempo.
pub(super) fn missing(view: &View<'_>, times_known: bool) -> Vec<Trouble> {
    let entries = view.routine.score.iter().enumerate();
    let missing = entries.filter_map(|(section, entry)| {
        let until = entry.lasts()?.value.until()?;
        let moment = moment_of(view, section, &until.lands)?;
        let why = match view.when(&moment, Asked::default()) {
            Err(why @ Unresolved::NoSuchThrow { .. }) => why,
            Ok(lands) if times_known => {
                let off = &lands - &view.when(&until.on, Asked::default()).ok()?;
                let is_off = |end: &Seconds| end.to_f64().abs() > ON_TIME_S;
                if off.is_unknown() || !(is_off(&off.least()) || is_off(&off.most())) {
                    return None;
                }
                Unresolved::AtAnotherTempo
            }
            _ => return None,
        };
        Some(Trouble::UntilUnknown { section, why })
    });
    missing.collect()
}

/// What lands, as a moment; `None` where it is no throw's.
fn moment_of(view: &View<'_>, section: usize, lands: &Lands) -> Option<Moment> {
    let value = match lands {
        Lands::Throw(name, number) => return Some(Moment::Throw(name.clone(), number.clone())),
        Lands::Catch(name, number) => return Some(Moment::Catch(name.clone(), number.clone())),
        Lands::LastThrow(value) | Lands::LastCatch(value) => value,
        Lands::Next | Lands::Gather => return None,
    };
    let span = view.timeline.sections.get(section)?.juggle.as_ref()?;
    let actions = view.timeline.runs.get(span.run)?.actions.get(span.actions.clone())?;
    let last = last_of(actions, section, value.value)?.number?;
    let name = view.routine.score.get(section)?.name.clone();
    let number = Placed { value: last.get(), at: value.at.clone() };
    Some(match lands {
        Lands::LastThrow(_) => Moment::Throw(name, number),
        _ => Moment::Catch(name, number),
    })
}

/// The last own throw of that value of a section, which the actions end with.
fn last_of(actions: &[Action], section: usize, value: u8) -> Option<&Action> {
    let mut own = actions.iter().rev().take_while(|action| action.section as usize == section);
    own.find(|action| action.number.is_some() && action.throw.value == value && action.is_release())
}
