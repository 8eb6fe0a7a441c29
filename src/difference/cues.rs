//! The cues of two acts: which is which, and what has become of it.

use crate::act::Act;
use crate::diagnostic::{Place, Placed};
use crate::issue::{Told, compare};
use crate::routine::{Crew, Cue, CueNumber, CueOnPaper, Issue, Trigger};
use crate::time::on_paper;

use super::{Both, Later, Pairs};

/// A cue that is not as it was.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct CueDifference {
    /// Its crew.
    pub crew: Crew,
    /// Its number, in the act that has it; in the old one where both do.
    pub number: Option<CueNumber>,
    /// What its crew does, in words, from the same act.
    pub does: String,
    /// Its number in the new act, where it has another number there.
    pub new_number: Option<CueNumber>,
    /// What it says otherwise now, as in `now a blackout`; empty where it says the same, and where
    /// only the printed cues were kept.
    pub says: Vec<String>,
    /// What has become of it.
    pub what: CueChange,
}

/// What has become of a cue.
#[derive(Clone, Debug, PartialEq)]
pub enum CueChange {
    /// Only the new act has it.
    Added,
    /// Only the old act has it.
    Gone,
    /// It goes at another time, so much later.
    Moved(Later),
    /// It says something else, or has another number, or one of the acts cannot call it; where its
    /// time is known in both, with how much later it goes.
    Changed(Option<Later>),
    /// It says the same, and an error leaves its time unknown in one of the acts: it may have moved.
    Unsure,
}

impl CueDifference {
    /// What it is called: its crew and number, or its crew and what that does.
    #[must_use]
    pub fn label(&self) -> String {
        match self.number {
            Some(number) => self.crew.cue(number),
            None => format!("{} \"{}\"", self.crew.label(), self.does),
        }
    }

    /// Whether it is known to be another, or at another time.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.what != CueChange::Unsure
    }

    /// Whether it goes at another time.
    #[must_use]
    pub fn moves(&self) -> bool {
        match &self.what {
            CueChange::Moved(later) | CueChange::Changed(Some(later)) => later.is_moved(),
            CueChange::Added | CueChange::Gone | CueChange::Changed(None) | CueChange::Unsure => {
                false
            }
        }
    }
}

pub(super) fn between(both: &Both<'_>) -> Vec<CueDifference> {
    let (old, new) = (&both.old.routine.cues, &both.new.routine.cues);
    let number = |cue: &Cue| cue.number.as_ref().map(|number| number.value);
    let numbered = |cue: &Cue| Some((cue.crew.value, number(cue)?));
    let content = |cue: &Cue| Some((cue.crew.value, cue.does.value.clone()));
    let mut pairs = Pairs::of(old.len(), new.len());
    pairs.match_by(|index| numbered(&old[index]), |index| numbered(&new[index]));
    pairs.match_by(|index| content(&old[index]), |index| content(&new[index]));
    let alone = |cue: &Cue, what| CueDifference {
        crew: cue.crew.value,
        number: number(cue),
        does: cue.does.value.words().into_owned(),
        new_number: None,
        says: Vec::new(),
        what,
    };
    let mut found: Vec<(usize, CueDifference)> = Vec::new();
    found.extend(pairs.old.iter().map(|&cue| (cue, alone(&old[cue], CueChange::Gone))));
    found.extend(pairs.matched.iter().filter_map(|&(cue, other)| {
        let what = what_became(both, cue, other)?;
        let new_number = number(&new[other]).filter(|_| number(&new[other]) != number(&old[cue]));
        let says = says(&old[cue], &new[other]);
        Some((cue, CueDifference { new_number, says, ..alone(&old[cue], what) }))
    }));
    found.sort_by_key(|(cue, _)| *cue);
    let added = pairs.new.iter().map(|&cue| alone(&new[cue], CueChange::Added));
    found.into_iter().map(|(_, one)| one).chain(added).collect()
}

/// The cues of now against those of an issue, where the record kept only its cues: as printed, to a
/// tenth of a second.
#[must_use]
pub fn between_papers(issue: &Issue, now: &[CueOnPaper]) -> Vec<CueDifference> {
    let compared = compare(issue, now);
    let alone = |paper: &CueOnPaper, what| CueDifference {
        crew: paper.crew,
        number: paper.number,
        does: paper.does.clone(),
        new_number: None,
        says: Vec::new(),
        what,
    };
    let mut found: Vec<_> =
        compared.cut.iter().map(|paper| alone(paper, CueChange::Gone)).collect();
    for (paper, (told, was)) in now.iter().zip(compared.told.iter().zip(&compared.was)) {
        let was = was.and_then(|was| issue.cues.get(was));
        let (Told::Changed(_), Some(was)) = (told, was) else {
            found.extend((*told == Told::New).then(|| alone(paper, CueChange::Added)));
            continue;
        };
        let later = Later::of_ranges(&on_paper(&was.go), &on_paper(&paper.go));
        let then = CueOnPaper { go: was.go.clone(), standby: was.standby.clone(), ..paper.clone() };
        let what = match later.filter(|_| then == *was) {
            Some(later) if later.is_moved() => CueChange::Moved(later),
            _ => CueChange::Changed(Later::of_ranges(&on_paper(&was.go), &on_paper(&paper.go))),
        };
        let new_number = paper.number.filter(|_| paper.number != was.number);
        found.push(CueDifference { new_number, ..alone(was, what) });
    }
    found
}

/// What a cue says otherwise now, what is dark first.
fn says(old: &Cue, new: &Cue) -> Vec<String> {
    let words = |cue: &Cue| cue.does.value.words().into_owned();
    let value = |of: &Option<Placed<f64>>| of.as_ref().map(|one| one.value);
    let count = |cue: &Cue| cue.count.as_ref().map(|count| count.value.clone());
    let dark = if new.dark { "now a blackout" } else { "no longer a blackout" };
    let flashes = if new.flashes.is_some() { "flashes otherwise now" } else { "no longer flashes" };
    let told = [
        (old.dark != new.dark, dark.to_owned()),
        (value(&old.flashes) != value(&new.flashes), flashes.to_owned()),
        (words(old) != words(new), format!("does \"{}\", not \"{}\"", words(new), words(old))),
        (old.trigger.value != new.trigger.value, "taken on something else".to_owned()),
        (count(old) != count(new), "another count".to_owned()),
        (old.on_drop.is_some() != new.on_drop.is_some(), "another drop line".to_owned()),
    ];
    told.into_iter().filter_map(|(is_other, what)| is_other.then_some(what)).collect()
}

/// What has become of a cue of both acts; `None` where it is as it was.
fn what_became(both: &Both<'_>, old: usize, new: usize) -> Option<CueChange> {
    let go = |act: &Act, cue: usize| act.calls.of_cue(cue).map(|call| call.go.clone());
    let (was, is) = (go(both.old, old), go(both.new, new));
    let lost = was.is_some() != is.is_some();
    let later = was.zip(is).and_then(|(was, is)| Later::between(both, &was, &is));
    let says_another = bare(&both.old.routine.cues[old]) != bare(&both.new.routine.cues[new]);
    if says_another || lost {
        return Some(CueChange::Changed(later));
    }
    match later {
        Some(later) => later.is_moved().then_some(CueChange::Moved(later)),
        None => Some(CueChange::Unsure),
    }
}

/// What a cue says, apart from when it goes and from where that is written.
fn bare(cue: &Cue) -> Cue {
    fn here<T: Clone>(placed: &Placed<T>) -> Placed<T> {
        Placed { value: placed.value.clone(), at: Place::default() }
    }
    let mut trigger = here(&cue.trigger);
    if let Trigger::With { number, .. } | Trigger::Follow { number, .. } = &mut trigger.value {
        *number = here(number);
    }
    let mut bare = Cue::new(Place::default(), here(&cue.crew), trigger, here(&cue.does));
    bare.number = cue.number.as_ref().map(here);
    bare.count = cue.count.as_ref().map(here);
    bare.standby = cue.standby.as_ref().map(here);
    bare.dark = cue.dark;
    bare.flashes = cue.flashes.as_ref().map(here);
    bare.light = cue.light.clone().map(|mut light| {
        light.name = here(&light.name);
        light.at = Place::default();
        light
    });
    bare.spot = cue.spot;
    bare.spot_stays = cue.spot_stays;
    bare.on_drop = cue.on_drop.as_ref().map(here);
    bare
}
