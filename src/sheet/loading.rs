//! What is in which hand where the props rest: before every cold start and after every gather.
//!
//! A prop is called by the colour that is seen, where that leaves open which of two faces it hides
//! by that too (`ivory (ink behind)`), and where a set has several of one kind by a number
//! (`pearl 1`, `pearl 2`, in the set's order). Lists over hands hold left, then right; each hand's
//! props stand in the order in which they leave. Times are exact seconds on the show clock.

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::hand::Hand;
use crate::lineup::{Choosing, Chosen};
use crate::routine::Routine;
use crate::time::Time;
use crate::timeline::{Face, HandLoading, Joining, JuggleSpan, Loaded, Prop, Run};

use super::regrip;
use super::words::plain;

/// A prop as sheets call it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PropName {
    /// Its colour, as an index into the routine's colours.
    pub colour: usize,
    /// Its colour's name.
    pub colour_name: String,
    /// The colour of its other face, where props that look the same hide different ones.
    pub behind: Option<String>,
    /// Its number among its like, from 1; `None` where it is the only one.
    pub number: Option<usize>,
}

impl PropName {
    /// As in `coral`, `pearl 2`.
    #[must_use]
    pub fn in_full(&self) -> String {
        let look = self.look();
        self.number.map_or(look.clone(), |number| format!("{look} {number}"))
    }

    /// What it looks like, as in `coral`, `ivory (ink behind)`: like props have like names.
    #[must_use]
    pub fn look(&self) -> String {
        let behind = self.behind.as_ref().map(|behind| format!(" ({behind} behind)"));
        format!("{}{}", self.colour_name, behind.unwrap_or_default())
    }
}

/// Props at rest: in the left hand, then in the right, each in order of leaving.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AtRest {
    /// Those of each hand ([`Hand::index`]).
    pub hands: [Vec<PropName>; 2],
}

impl AtRest {
    /// Those in one hand, the first to leave first.
    #[must_use]
    pub fn in_hand(&self, hand: Hand) -> &[PropName] {
        &self.hands[hand.index()]
    }

    /// As in `right hand: coral first, then pearl; left hand: teal`.
    #[must_use]
    pub fn in_words(&self) -> String {
        let [right, left] = [Hand::Right, Hand::Left]
            .map(|hand| self.in_hand(hand).iter().map(PropName::look).collect::<Vec<String>>());
        in_words(&texts(&right), &texts(&left))
    }

    /// Its colours in order of leaving.
    #[must_use]
    pub fn colours(&self, hand: Hand) -> Vec<usize> {
        self.in_hand(hand).iter().map(|prop| prop.colour).collect()
    }
}

fn texts(names: &[String]) -> Vec<&str> {
    names.iter().map(String::as_str).collect()
}

/// Colours in each hand in words.
#[must_use]
pub fn in_words(right: &[&str], left: &[&str]) -> String {
    format!("right hand: {}; left hand: {}", hand_in_words(right), hand_in_words(left))
}

/// One hand's colours in words, as in `coral first, then pearl`.
#[must_use]
pub fn hand_in_words(colours: &[&str]) -> String {
    match colours {
        [] => "empty".to_owned(),
        [one] => (*one).to_owned(),
        [first, others @ ..] if others.iter().all(|other| other == first) => {
            format!("{first} ×{}", colours.len())
        }
        [first, others @ ..] => format!("{first} first, then {}", others.join(", ")),
    }
}

/// How the props came into the hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Came {
    /// In the natural order.
    Natural,
    /// As written.
    Written,
    /// As the line-up found.
    Found,
    /// Kept since the gather before.
    Kept,
    /// Kept, each hand's put into the order that is written.
    Ordered,
    /// Taken anew in a pause.
    Regripped,
}

/// A cold start.
#[derive(Clone, Debug, PartialEq)]
pub struct ColdStart {
    /// The section that starts cold.
    pub before: String,
    /// When it starts.
    pub starts: Time,
    /// How the props came into the hands.
    pub came: Came,
    /// What is in which hand; `None` where that is not known, for what comes before could not be
    /// read.
    pub at_rest: Option<AtRest>,
    /// Which hand begins, and which props leave a hand together, in sentences; empty where nothing
    /// is thrown and where that is not known.
    pub begins: String,
}

/// A gather.
#[derive(Clone, Debug, PartialEq)]
pub struct Gathered {
    /// The section that it ends.
    pub after: String,
    /// When the run ends.
    pub ends: Time,
    /// What is in which hand, last caught first; `None` where the run goes on into what could not
    /// be read.
    pub at_rest: Option<AtRest>,
    /// The next section that starts cold, and how it is loaded; `None` after the last.
    pub next: Option<(String, Came)>,
    /// What the pauses after it move: each one's name, and what the hands do.
    pub regrips: Vec<(String, String)>,
}

/// Every cold start, run by run; `chosen` is what the line-up chose.
#[must_use]
pub fn cold_starts(act: &Act, chosen: &[Chosen]) -> Vec<ColdStart> {
    let Act { routine, timeline, .. } = act;
    timeline
        .runs
        .iter()
        .zip(props_known(act))
        .map(|(run, [known, _])| ColdStart {
            before: section_name(routine, run.sections.start),
            starts: run.tempo.at_beat(0),
            came: came(run, chosen),
            at_rest: known.then(|| at_rest(routine, run, &run.loading, run.face)),
            begins: if known { begins(routine, run) } else { String::new() },
        })
        .collect()
}

/// Which hand throws first, and which props leave a hand together when they leave it first.
fn begins(routine: &Routine, run: &Run) -> String {
    let releases = || run.actions.iter().filter(|action| action.is_release());
    let Some(first) = releases().next() else { return String::new() };
    let names = prop_names(routine, run, run.face);
    let called = |prop: Prop| names.get(usize::from(prop.0)).map(PropName::look);
    let of_first_beat = |hand| releases().any(|one| one.beat == first.beat && one.hand == hand);
    let mut sentences = vec![match Hand::BOTH.map(of_first_beat) {
        [true, true] => "Both hands begin together.".to_owned(),
        _ => format!("The {} hand begins.", first.hand),
    }];
    let mut gone = Vec::new();
    let mut together: Vec<((u32, Hand), Vec<Prop>)> = Vec::new();
    for action in releases() {
        let Some(prop) = action.prop.filter(|prop| !gone.contains(prop)) else { continue };
        gone.push(prop);
        match together.iter_mut().find(|(when, _)| *when == (action.beat, action.hand)) {
            Some((_, props)) => props.push(prop),
            None => together.push(((action.beat, action.hand), vec![prop])),
        }
    }
    for ((_, hand), props) in together.iter().filter(|(_, props)| props.len() > 1) {
        let props: Vec<String> = props.iter().filter_map(|prop| called(*prop)).collect();
        sentences.push(format!("The {hand} hand throws {} together.", all_of(&props)));
    }
    sentences.join(" ")
}

/// Every gather, run by run.
#[must_use]
pub fn gathers(act: &Act, chosen: &[Chosen]) -> Vec<Gathered> {
    let Act { routine, timeline, .. } = act;
    let runs = &timeline.runs;
    let known = props_known(act);
    let of = |(index, run): (usize, &Run)| Gathered {
        after: section_name(routine, run.sections.end.saturating_sub(1)),
        ends: run.gather.ends.clone(),
        at_rest: known[index][1]
            .then(|| at_rest(routine, run, &run.gather.hands, run.face_gathered())),
        next: runs
            .get(index + 1)
            .map(|next| (section_name(routine, next.sections.start), came(next, chosen))),
        regrips: {
            let ends = runs.get(index + 1).map_or(routine.score.len(), |next| next.sections.start);
            let between = run.sections.end..ends;
            let regrips = between.filter_map(|section| {
                let regrip = regrip::of_section(act, section)?;
                Some((section_name(routine, section), regrip.words()))
            });
            regrips.collect()
        },
    };
    runs.iter().enumerate().map(of).collect()
}

/// What a section is called, safe to print.
#[must_use]
pub fn section_name(routine: &Routine, section: usize) -> String {
    routine.score.get(section).map_or_else(String::new, |entry| plain(&entry.name.value))
}

/// The names of a run's props (index = [`Prop`]) that show a face.
#[must_use]
pub fn prop_names(routine: &Routine, run: &Run, face: Face) -> Vec<PropName> {
    let called = |colour: usize| {
        routine.colours.get(colour).map_or_else(String::new, |named| plain(&named.name.value))
    };
    let looks: Vec<(usize, usize)> = run
        .colours_of(face)
        .iter()
        .copied()
        .zip(run.colours_of(face.other()).iter().copied())
        .collect();
    let of = |(place, &(colour, hidden)): (usize, &(usize, usize))| {
        let like = |looks: &[(usize, usize)]| {
            looks.iter().filter(|&&other| other == (colour, hidden)).count()
        };
        let differs = looks.iter().any(|&(seen, other)| seen == colour && other != hidden);
        PropName {
            colour,
            colour_name: called(colour),
            behind: differs.then(|| called(hidden)),
            number: (like(&looks) > 1).then(|| like(&looks[..place]) + 1),
        }
    };
    looks.iter().enumerate().map(of).collect()
}

/// Of each run, whether it is known what is in the hands before it and after it. After a torn
/// junction it is as if the hands had been put right.
fn props_known(act: &Act) -> Vec<[bool; 2]> {
    let Act { routine, timeline, .. } = act;
    let mut known = Vec::with_capacity(timeline.runs.len());
    let mut kept = true;
    for run in &timeline.runs {
        let spans = timeline.sections.get(run.sections.clone()).unwrap_or_default();
        let mut juggled = spans.iter().filter_map(|span| span.juggle.as_ref());
        let sure = juggled.clone().next().is_some_and(|one| one.joining != Joining::Unknown);
        let before = run.set < routine.sets.len()
            && match run.loaded {
                Loaded::Kept | Loaded::Ordered | Loaded::Regripped => sure && kept,
                Loaded::Natural | Loaded::Found => sure,
                Loaded::Written => true,
            }
            && juggled.clone().next().is_some_and(|one| one.face_known);
        kept = before && sure && !run.breaks_off && juggled.all(follows);
        known.push([before, kept]);
    }
    known
}

/// Whether the props of a section are known behind it where they are known before it.
fn follows(one: &JuggleSpan) -> bool {
    one.beats_known && one.face_known && (one.first_beat == 0 || one.joining != Joining::Unknown)
}

/// Whether it is known which prop makes which throw of a section.
pub(super) fn colours_known(act: &Act, section: usize) -> bool {
    let sections = &act.timeline.sections;
    let run = sections.get(section).and_then(|span| Some(span.juggle.as_ref()?.run));
    let Some((run, at)) = run.and_then(|at| Some((act.timeline.runs.get(at)?, at))) else {
        return false;
    };
    let up_to_it = sections.get(run.sections.start..=section).unwrap_or_default();
    let mut juggled = up_to_it.iter().filter_map(|span| span.juggle.as_ref());
    let known = props_known(act).get(at).is_some_and(|[before, _]| *before);
    known && juggled.all(follows)
}

fn came(run: &Run, chosen: &[Chosen]) -> Came {
    let found = Chosen { section: run.sections.start, what: Choosing::Loading };
    match run.loaded {
        Loaded::Kept => Came::Kept,
        Loaded::Ordered => Came::Ordered,
        Loaded::Regripped => Came::Regripped,
        Loaded::Natural => Came::Natural,
        Loaded::Found => Came::Found,
        Loaded::Written if chosen.contains(&found) => Came::Found,
        Loaded::Written => Came::Written,
    }
}

fn at_rest(routine: &Routine, run: &Run, hands: &HandLoading, face: Face) -> AtRest {
    let names = prop_names(routine, run, face);
    let name = |prop: &Prop| names.get(usize::from(prop.0)).cloned();
    AtRest { hands: Hand::BOTH.map(|hand| hands.in_hand(hand).iter().filter_map(name).collect()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{balls, compiled, juggle, name, routine, section};
    use crate::routine::Length;

    #[test]
    fn a_hand_says_what_leaves_first() {
        for (colours, words) in [
            (&[] as &[&str], "empty"),
            (&["teal"], "teal"),
            (&["coral", "pearl", "teal"], "coral first, then pearl, teal"),
            (&["pearl", "pearl"], "pearl ×2"),
            (&["pearl", "teal", "pearl"], "pearl first, then teal, pearl"),
        ] {
            assert_eq!(hand_in_words(colours), words);
        }
    }

    #[test]
    fn props_of_one_colour_are_told_apart_by_number() {
        let (tide, mut tide_juggle) = juggle("tide", "5", Length::Beats(10));
        tide_juggle.set = Some(name("five"));
        let set = balls("five", &["pearl", "teal", "pearl", "coral", "teal"]);
        let quay = routine(vec![section((tide, tide_juggle))], vec![set]);
        let act = compiled(&quay);
        let names: Vec<String> = prop_names(&quay, &act.timeline.runs[0], Face::Front)
            .iter()
            .map(PropName::in_full)
            .collect();
        assert_eq!(names, ["pearl 1", "teal 1", "pearl 2", "coral", "teal 2"]);
        let start = &cold_starts(&act, &[])[0];
        assert_eq!((start.before.as_str(), start.came), ("tide", Came::Natural));
        assert_eq!(
            start.at_rest.as_ref().unwrap().in_words(),
            "right hand: pearl first, then pearl, teal; left hand: teal first, then coral"
        );
    }
}
