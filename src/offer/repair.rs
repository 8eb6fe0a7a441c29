//! The offers that bring colours about. They are found by the line-up and tried as every other.

use crate::Opened;
use crate::act::Act;
use crate::check::COLOUR_NOT_SHOWN;
use crate::diagnostic::Help;
use crate::difference::{ActDifference, CueDifference, Difference};
use crate::lineup::{Candidate, Colours, Repair, candidates};
use crate::routine::Routine;

use super::said;
use super::trial::{Bench, Mends, Outcome};

/// So many repairs are told of the act, and of its encore.
const MOST_REPAIRS: usize = 6;

/// A colour request that is not met, with the changes that may help.
pub(super) struct Asking(Vec<Wish>);

/// A diagnostic of a request that is not met.
struct Wish {
    /// Its index.
    diagnostic: usize,
    in_encore: bool,
    candidates: Vec<Candidate>,
}

impl Asking {
    /// Looks for changes that may help.
    pub(super) fn of(opened: &Opened, written: Option<&Routine>) -> Asking {
        let mut asking = Asking(Vec::new());
        let (Some(act), Some(colours), Some(written)) = (&opened.act, &opened.colours, written)
        else {
            return asking;
        };
        asking.look(opened, colours, act, written, false);
        if let (Some(act), Some(colours), Some(written)) =
            (&act.encore, &colours.encore, &written.encore)
        {
            asking.look(opened, colours, act, &written.routine, true);
        }
        asking
    }

    fn look(
        &mut self,
        opened: &Opened,
        colours: &Colours,
        act: &Act,
        written: &Routine,
        in_encore: bool,
    ) {
        let unmet = &colours.verdict.unmet;
        if unmet.is_empty() {
            return;
        }
        for candidate in candidates(written, act) {
            // It is told where the section that asks says what it misses.
            let place = unmet.iter().find(|unmet| unmet.requirement.section == candidate.asks);
            let diagnostic = place.and_then(|unmet| {
                let mut all = opened.diagnostics.iter();
                all.position(|one| one.code == COLOUR_NOT_SHOWN && one.at == unmet.at)
            });
            let Some(diagnostic) = diagnostic else { continue };
            match self.0.iter_mut().find(|wish| wish.diagnostic == diagnostic) {
                Some(wish) => wish.candidates.push(candidate),
                None => self.0.push(Wish { diagnostic, in_encore, candidates: vec![candidate] }),
            }
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// The repairs that do what they are for.
#[derive(Default)]
pub(super) struct Made {
    of_act: Vec<Repair>,
    of_encore: Vec<Repair>,
}

impl Made {
    /// Tries the changes that may bring about what a diagnostic misses: those that do, with whether
    /// they bring another fault, cheapest first.
    pub(super) fn take(
        &mut self,
        bench: &mut Bench<'_>,
        asking: &Asking,
        diagnostic: usize,
    ) -> Vec<(Help, bool)> {
        let mut made = Vec::new();
        for wish in asking.0.iter().filter(|wish| wish.diagnostic == diagnostic) {
            let all = if wish.in_encore { &mut self.of_encore } else { &mut self.of_act };
            for candidate in &wish.candidates {
                let Outcome::Mends(mends) = bench.trial(diagnostic, &candidate.edits) else {
                    continue;
                };
                let difference = &mends.difference;
                let Some(repair) = repair(candidate, difference, wish.in_encore) else { continue };
                let help = help(&repair, candidate, &mends);
                made.push((cost(&repair), help, mends.brings_a_fault()));
                all.push(repair);
            }
        }
        made.sort_by_key(|(cost, ..)| *cost);
        made.into_iter().take(MOST_REPAIRS).map(|(_, help, brings)| (help, brings)).collect()
    }

    /// Puts them into the verdict, cheapest first.
    pub(super) fn tell(self, opened: &mut Opened) {
        let Some(colours) = &mut opened.colours else { return };
        let told = |mut repairs: Vec<Repair>| {
            repairs.sort_by_key(cost);
            repairs.truncate(MOST_REPAIRS);
            repairs
        };
        colours.verdict.repairs = told(self.of_act);
        if let Some(encore) = &mut colours.encore {
            encore.verdict.repairs = told(self.of_encore);
        }
    }
}

fn cost(repair: &Repair) -> (u64, i64, bool, usize) {
    let longer = repair.adds.abs().to_f64();
    (longer.to_bits(), repair.beats.abs(), repair.flips_lead, repair.cues_that_move.len())
}

/// A change with what it does, as the difference tells; `None` where that is not known.
fn repair(candidate: &Candidate, difference: &Difference, in_encore: bool) -> Option<Repair> {
    let of = if in_encore { difference.encore.as_ref() } else { difference.act.as_ref() };
    let act: &ActDifference = of?;
    let name = |cue: &CueDifference| match cue.number {
        Some(number) => cue.crew.cue(number),
        None => cue.crew.label().to_owned(),
    };
    Some(Repair {
        what: candidate.what.clone(),
        edits: candidate.edits.clone(),
        loading: candidate.loading.clone(),
        beats: act.beats,
        adds: act.lasts.as_ref()?.shortest.clone(),
        flips_lead: difference.flips_lead()?,
        cues_that_move: act.cues_that_move().map(name).collect(),
    })
}

fn help(repair: &Repair, candidate: &Candidate, mends: &Mends) -> Help {
    let mut text = candidate.what.clone();
    if !repair.cues_that_move.is_empty() {
        text += &format!("; moves the cues {}", repair.cues_that_move.join(", "));
    }
    said(&Help::new(text, candidate.edits.clone()), mends)
}
