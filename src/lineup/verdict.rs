//! Which colour requests are not met, why, and what would meet them.

use crate::act::Act;
use crate::diagnostic::words::counted;
use crate::diagnostic::{Edit, Place};
use crate::routine::{HandColours, Routine};
use crate::time::{Seconds, seconds_text};
use crate::timeline::Timeline;

use super::clash::clash;
use super::demand::{Asked, Requirement, requirements};
use super::looks::Looks;
use super::reason::unmet;
use super::settle::chains;
use super::{Choices, Outcome};

/// What is to be said of the colours of a routine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdict {
    /// Whether that is known: not where an error leaves open which prop is where.
    pub judged: bool,
    /// Whether it was looked for what stands in the way of the requests that are not met.
    pub explained: bool,
    /// The requests that are not met, in the order of the score.
    pub unmet: Vec<Unmet>,
    /// Requirements that cannot be met together, where there are such: the fewest that are found,
    /// which are the fewest there are unless an act asks for so much that not every set is tried.
    pub clash: Vec<Requirement>,
    /// What would bring everything about, cheapest first: each was tried on the file.
    pub repairs: Vec<Repair>,
}

/// A requirement that is not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// Which.
    pub requirement: Requirement,
    /// The number of the throw that it is about; of several, the first. `None` for a catch of no
    /// numbered throw.
    pub throw: Option<u32>,
    /// Where it is written.
    pub at: Place,
    /// Why it is not met, one sentence without a full stop.
    pub reason: String,
}

/// A change that brings everything about.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// What to do, an imperative without a full stop.
    pub what: String,
    /// The changes of the file: places and what to write there.
    pub edits: Vec<Edit>,
    /// The loading that it brings, with the section that starts cold with it (an index into the
    /// score).
    pub loading: Option<(usize, HandColours)>,
    /// Beats that it adds to the act, or takes away.
    pub beats: i64,
    /// Seconds that it adds, or takes away.
    pub adds: Seconds,
    /// Whether another hand leads a later section.
    pub flips_lead: bool,
    /// The cues that come at another time, by crew and number.
    pub cues_that_move: Vec<String>,
}

/// The colours of a routine: what was chosen for them, and which requests are met.
#[derive(Clone, Debug, PartialEq)]
pub struct Colours {
    /// What the line-up chose.
    pub choices: Choices,
    /// Which requests are met.
    pub verdict: Verdict,
    /// Those of its encore.
    pub encore: Option<Box<Colours>>,
}

impl Colours {
    /// Those of a routine as it is `written`; the act has the choices written out in its routine.
    ///
    /// Where something that is written of the sections could not be `read`, nothing is judged. What
    /// stands in the way of requests is looked for where it is to be `explained`.
    #[must_use]
    pub fn of(
        written: &Routine,
        choices: Choices,
        act: &Act,
        read: bool,
        explained: bool,
    ) -> Colours {
        let judged = read && act.props_known();
        let mut verdict = Verdict { judged, explained, ..Verdict::default() };
        if judged {
            let failures = failures(&act.routine, &act.timeline);
            if !failures.is_empty() {
                // Where the whole is too much to go through, so is what stands in its way.
                let is_decided = !matches!(choices.outcome, Outcome::TooMany(_));
                if explained && is_decided {
                    verdict.clash = clash(written);
                }
                let say = |failure: &Failure| unmet(act, failure, &verdict.clash);
                verdict.unmet = failures.iter().map(say).collect();
            }
        }
        let of_encore = (&written.encore, &choices.encore, &act.encore);
        let encore = match of_encore {
            (Some(written), Some(choices), Some(act)) => {
                let choices = Choices::clone(choices);
                Some(Box::new(Colours::of(&written.routine, choices, act, read, explained)))
            }
            _ => None,
        };
        Colours { choices, verdict, encore }
    }

    /// What came of the line-up of the act, and then of its encore.
    pub(crate) fn choices_of_all(&self) -> Vec<Outcome> {
        let parts = std::iter::successors(Some(self), |part| part.encore.as_deref());
        parts.map(|part| part.choices.outcome).collect()
    }

    /// Whether every request is met, in the encore too, as far as that is known.
    #[must_use]
    pub fn are_possible(&self) -> bool {
        self.verdict.unmet.is_empty()
            && self.encore.as_ref().is_none_or(|encore| encore.are_possible())
    }
}

/// A requirement that the compiled routine does not meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Failure {
    /// Which.
    pub(super) requirement: Requirement,
    /// The chain of runs that it is asked of, by its place among the chains; `None` where what it
    /// asks of cannot be told.
    pub(super) chain: Option<usize>,
    /// The first of its demands that is not met.
    pub(super) first: Option<Asked>,
}

/// Every requirement that a compiled routine does not meet, in the order of the score.
pub(super) fn failures(routine: &Routine, timeline: &Timeline) -> Vec<Failure> {
    let chains = chains(&timeline.runs);
    let looks: Vec<Looks> = chains.iter().map(|chain| Looks::of(routine, chain.set)).collect();
    let failed = |requirement| {
        for (index, (chain, looks)) in chains.iter().zip(&looks).enumerate() {
            let (demands, told) = chain.demands(routine, timeline, requirement, looks);
            if !told {
                return Some(Failure { requirement, chain: None, first: None });
            }
            let unmet = |asked: &&Asked| !asked.demand.is_met(looks);
            if let Some(first) = demands.iter().find(unmet) {
                return Some(Failure { requirement, chain: Some(index), first: Some(*first) });
            }
        }
        None
    };
    requirements(routine).into_iter().filter_map(failed).collect()
}

/// What a repair costs, in words: "no time", "2 beats, 0.6 s more; the lead flips".
#[must_use]
pub fn side_effects(repair: &Repair) -> String {
    let seconds = repair.adds.to_f64();
    let mut said = Vec::new();
    if repair.beats == 0 && seconds == 0.0 {
        said.push("costs no time".to_owned());
    } else {
        let beats = counted(repair.beats.unsigned_abs(), "beat");
        let sign = if seconds < 0.0 || repair.beats < 0 { "takes away" } else { "adds" };
        let seconds = seconds_text(&repair.adds.abs());
        said.push(format!("{sign} {beats}, {seconds}"));
    }
    if repair.flips_lead {
        said.push("flips a lead hand".to_owned());
    }
    if !repair.cues_that_move.is_empty() {
        said.push(format!("moves the cues {}", repair.cues_that_move.join(", ")));
    }
    said.join("; ")
}
