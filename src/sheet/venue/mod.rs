//! The venue page: what a venue asks before the act arrives.
//!
//! Facts come from the routine's `Venue` or from the act; what neither knows is a blank, to be filled
//! in by hand, and never a guess. So is what an error leaves unknown. Every fact is composed in words,
//! users' texts safe to print; figures of heights and colours are estimates, and say so.

mod danger;
mod plan;
mod props;
mod sound;
mod stage;

use crate::act::Act;
use crate::routine::{Moment, Venue};
use crate::time::{Seconds, Time, TimeRange};

use super::caution::{Caution, cautions};
use super::clocks::open_in_words;
use super::heading::{Heading, zero};
use super::words::{PERFORMERS_SIDES, plain};

pub use plan::{PlanBox, StagePlan};

/// The contents of the venue page.
#[derive(Clone, Debug, PartialEq)]
pub struct VenueSheet {
    /// Its head.
    pub heading: Heading,
    /// Where the show clock reads zero, in words.
    pub zero: String,
    /// What is to be known, by what it is about.
    pub parts: Vec<VenuePart>,
    /// The stage, seen from above.
    pub plan: StagePlan,
    /// What whoever runs the room should know, in the act and its encore.
    pub cautions: Vec<Caution>,
}

/// Facts about one thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VenuePart {
    /// What they are about, as in `SOUND`.
    pub title: &'static str,
    /// The facts in order.
    pub facts: Vec<Fact>,
}

/// A question of a venue and its answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What is asked, as in `floor`.
    pub label: String,
    /// The answer, paragraph by paragraph; none: a blank to fill in.
    pub says: Vec<String>,
}

impl Fact {
    fn new(label: impl Into<String>, says: Vec<String>) -> Fact {
        Fact { label: label.into(), says }
    }

    /// One answer, or a blank.
    fn one(label: &str, says: Option<String>) -> Fact {
        Fact::new(label, says.filter(|says| !says.is_empty()).into_iter().collect())
    }

    /// What the juggler wrote, or a blank.
    fn written(label: &str, says: Option<&String>) -> Fact {
        Fact::one(label, says.map(|says| plain(says)))
    }

    /// Whether it is to be filled in by hand.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.says.is_empty()
    }
}

/// Composes the venue page of an act and its encore.
#[must_use]
pub fn compose(act: &Act) -> VenueSheet {
    let none = Venue::default();
    let venue = act.routine.venue.as_deref().unwrap_or(&none);
    let mut pointed: Vec<Caution> = act.with_encore().flat_map(cautions).collect();
    pointed.sort();
    pointed.dedup();
    VenueSheet {
        heading: Heading::of(act),
        zero: zero(&act.routine),
        parts: vec![
            VenuePart { title: "TIME", facts: times(act, venue) },
            VenuePart { title: "PEOPLE", facts: people(venue) },
            VenuePart { title: "STAGE", facts: stage::stage(act, venue) },
            VenuePart { title: "LIGHT", facts: stage::light(act, venue) },
            VenuePart { title: "SOUND AND POWER", facts: sound::sound(act, venue) },
            VenuePart { title: "PROPS", facts: props::props(act) },
            VenuePart { title: "HAZARDS", facts: danger::hazards(act, venue) },
        ],
        plan: StagePlan::of(act, venue),
        cautions: pointed,
    }
}

/// Which side is which on the plan.
pub const SIDES: &str = PERFORMERS_SIDES;

fn times(act: &Act, venue: &Venue) -> Vec<Fact> {
    let Act { routine, timeline, .. } = act;
    let lasts = |act: &Act| {
        let mut says: Vec<String> = known(&act.timeline.lasts().range()).into_iter().collect();
        if !says.is_empty() {
            says.extend(open_in_words(&act.routine));
        }
        says
    };
    let written = |time: Option<&Seconds>| time.and_then(|time| known(&time.clone().into()));
    let set_up = routine.set_up.as_ref().map(|time| &time.value);
    let strike = routine.strike.as_ref().map(|time| &time.value);
    let mut facts = vec![Fact::new("running time", lasts(act))];
    if let Some(encore) = act.encore.as_deref() {
        let mut says = lasts(encore);
        says.iter_mut().take(1).for_each(|says| *says += ", only if it is called for");
        facts.push(Fact::new("encore", says));
    }
    facts.push(Fact::one("set-up before it", written(set_up)));
    facts.push(Fact::one("strike after it", written(strike)));
    if set_up.is_some() && strike.is_some() {
        let from = act.moment(&Moment::SetUpStart).ok();
        let to = act.moment(&Moment::StrikeEnd).ok();
        let slot = from.zip(to).map(|(from, to)| (&to - &from).range());
        // The strike comes after the encore, where there is one.
        let label = match act.encore.is_some() || routine.hidden.encore {
            true => "slot in all, with the encore",
            false => "slot in all",
        };
        let slot = slot.filter(|_| !routine.hidden.encore && timeline.ends().is_some());
        facts.push(Fact::one(label, slot.and_then(|slot| known(&slot))));
    }
    let on_stage = "on stage in show light, before the show";
    facts.push(Fact::one(on_stage, written(venue.rehearsal.as_ref())));
    facts
}

fn people(venue: &Venue) -> Vec<Fact> {
    let count = |number: Option<u32>| number.map(|number| number.to_string());
    vec![
        Fact::one("on stage", count(venue.performers)),
        Fact::one("with them, beside the stage", count(venue.helpers)),
        Fact::written("contact", venue.contact.as_ref()),
    ]
}

/// A length of time on a clock; `None` where an error leaves it unknown.
fn known(range: &TimeRange) -> Option<String> {
    range.is_known().then(|| range.clock())
}

/// A moment on the show clock, as in `0:16.0`; words that say so where an error leaves it unknown.
fn at(time: &Time) -> String {
    known(&time.range()).unwrap_or_else(|| "a time that is not known".to_owned())
}

#[cfg(test)]
mod tests;
