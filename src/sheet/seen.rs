//! What a stranger sees at a cue's moment: hands and colours, throws that go higher, hands at rest.
//!
//! Patterns and sections look like nothing to someone who has never seen the act, so their names
//! never stand alone.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::hand::Hand;
use crate::measure::height::highest;
use crate::measure::sight::{HandAct, Sight, sight};
use crate::routine::{Cue, Moment, Part, Routine, Trigger, words_of};
use crate::time::{Seconds, clock};

use super::words::{self, plain, quoted};

/// Throws that grow by this factor, or shrink by it, are seen to do so (our own choice).
const SEEN_TO_CHANGE: f64 = 1.25;

/// What is seen at a cue's moment, as in `last catch of "ebb", right hand, coral`.
pub(super) fn at_moment(act: &Act, cue: &Cue) -> String {
    let Act { routine, .. } = act;
    let Some(when) = &cue.when else { return String::new() };
    let (moment, by) = when.value.unshifted();
    let mut words = words::moment(moment);
    if let Some(sight) = sight_of(act, moment) {
        // A start or a cycle names no throw: say that it is one.
        if matches!(moment, Moment::Start(_) | Moment::Cycle(..)) && sight.act == HandAct::Throw {
            words.push_str(": first throw");
        }
        words = format!("{words}, {}", hands_and_colours(routine, &sight));
    } else if let Some(look) = look(act, moment) {
        words = format!("{words}: {look}");
    }
    words::shifted(&words, &by)
}

/// The cues of an act that wait for the same words, seen or heard.
pub(super) struct Awaited(BTreeMap<(bool, Vec<String>), Vec<usize>>);

impl Awaited {
    /// Those of an act.
    pub(super) fn of(act: &Act) -> Awaited {
        let mut alike: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (index, cue) in act.routine.cues.iter().enumerate() {
            if let Some(words) = awaited(cue) {
                alike.entry(words).or_default().push(index);
            }
        }
        Awaited(alike)
    }
}

/// What a cue waits for in the words of its user, and whether it is seen.
fn awaited(cue: &Cue) -> Option<(bool, Vec<String>)> {
    match &cue.trigger.value {
        Trigger::See(Some(text)) => Some((true, words_of(text).collect())),
        Trigger::Hear(text) => Some((false, words_of(text).collect())),
        _ => None,
    }
}

/// What a cue waits for as its user wrote it, and where that is, if another cue of the act waits for
/// the same at another time: `all balls in hands, at the end of "making way"`.
pub(super) fn as_written(act: &Act, alike: &Awaited, index: usize, text: &str) -> String {
    let Some(cue) = act.routine.cues.get(index) else { return text.to_owned() };
    let go = |index: usize| act.calls.of_cue(index).map(|call| &call.go);
    let is_then = |other: usize| match (go(index), go(other)) {
        (Some(one), Some(other)) => (one - other).certain() == Some(&Seconds::zero()),
        _ => index == other,
    };
    let mut others = awaited(cue).and_then(|words| alike.0.get(&words)).into_iter().flatten();
    match &cue.when {
        Some(when) if others.any(|other| !is_then(*other)) => {
            format!("{text}, {}", place(&when.value))
        }
        _ => text.to_owned(),
    }
}

/// What the counter of a player reads, as in `1:05.0 on the track's counter, mark "stop"`.
pub(super) fn on_counter(reads: &Seconds, mark: Option<&(String, Seconds)>) -> String {
    let mut words = format!("{} on the track's counter", clock(reads));
    if let Some((mark, after)) = mark {
        words += &format!(", {}", words::shifted(&format!("mark {}", quoted(mark)), after));
    }
    words
}

/// Where a moment is, as in `at the end of "ebb"` or `2.0 s after the start of "bow"`.
fn place(moment: &Moment) -> String {
    let (moment, by) = moment.unshifted();
    let words = match moment {
        Moment::LastCatch(Some(name)) | Moment::End(name) => {
            format!("the end of {}", quoted(&name.value))
        }
        Moment::Start(name) => format!("the start of {}", quoted(&name.value)),
        Moment::LastCatch(None) => "the last catch".to_owned(),
        Moment::FirstThrow => "the first throw".to_owned(),
        _ => words::moment(moment),
    };
    match by == Seconds::zero() {
        true => format!("at {words}"),
        false => words::shifted(&words, &by),
    }
}

/// Hands and colours, as in `right hand, coral`.
fn hands_and_colours(routine: &Routine, sight: &Sight) -> String {
    let mut colours: Vec<String> = sight
        .seen
        .iter()
        .filter_map(|(_, colour)| routine.colours.get(*colour))
        .map(|colour| plain(&colour.name.value))
        .collect();
    // Two props of one colour are one word.
    colours.dedup();
    let uses = |hand: Hand| sight.seen.iter().any(|(seen, _)| *seen == hand);
    let hands = match (uses(Hand::Left), uses(Hand::Right)) {
        (true, true) => "both hands",
        (true, false) => "left hand",
        _ => "right hand",
    };
    format!("{hands}, {}", all_of(&colours))
}

/// What the caller of a cue waits for, as in `start of "gulls": throws go higher`.
pub(super) fn when_called(act: &Act, cue: &Cue) -> String {
    let Act { routine, .. } = act;
    let Some(when) = &cue.when else { return String::new() };
    let (moment, by) = when.value.unshifted();
    let words = match (look(act, moment), sight_of(act, moment)) {
        (Some(look), _) => format!("{}: {look}", words::moment(moment)),
        (None, Some(sight)) if !matches!(moment, Moment::Start(_)) => {
            format!("{}, {}", words::moment(moment), hands_and_colours(routine, &sight))
        }
        _ => words::moment(moment),
    };
    words::shifted(&words, &by)
}

/// Who is seen there, where it is known which prop is where.
fn sight_of(act: &Act, moment: &Moment) -> Option<Sight> {
    sight(act, moment).filter(|_| act.props_known())
}

/// What the act looks like where a section starts or ends; `None` where nothing is seen to change
/// and at other moments.
fn look(act: &Act, moment: &Moment) -> Option<String> {
    let (name, is_end) = match moment {
        Moment::Start(name) => (name, false),
        Moment::End(name) => (name, true),
        _ => return None,
    };
    // The end of a section is the start of the next.
    look_of(act, act.routine.section(&name.value)? + usize::from(is_end))
}

/// The same where the entry of the score at that index starts, or where the score ends.
pub(super) fn look_of(act: &Act, index: usize) -> Option<String> {
    let Act { routine, timeline, .. } = act;
    let Some(section) = routine.score.get(index) else {
        return Some("the very end".to_owned());
    };
    if section.unread().is_some() {
        return None;
    }
    let Part::Juggle(_) = section.part else {
        let before = routine.score.get(..index)?;
        let begun = before.iter().any(|one| one.juggle().is_some());
        let look = match (index, begun) {
            (0, _) if routine.is_encore => "the encore begins",
            (0, _) => "the act begins",
            (_, true) => "hands at rest",
            (_, false) => "before the first throw",
        };
        return Some(look.to_owned());
    };
    let span = timeline.sections.get(index)?.juggle.as_ref()?;
    if span.first_beat == 0 {
        let look = if span.run == 0 { "first throw" } else { "first throw after the pause" };
        return Some(look.to_owned());
    }
    let pattern = |index: usize| match &routine.score.get(index)?.part {
        Part::Juggle(juggle) => Some(&juggle.pattern.pattern),
        Part::Pause(_) | Part::Unread(_) => None,
    };
    let above = |index: usize| Some(highest(timeline, index)?.above_hand_m);
    let (before, after) = (above(index.checked_sub(1)?)?, above(index)?);
    if after > before * SEEN_TO_CHANGE {
        Some("throws go higher".to_owned())
    } else if before > after * SEEN_TO_CHANGE {
        Some("throws go lower".to_owned())
    } else {
        let changes = pattern(index) != pattern(index - 1);
        changes.then(|| "new pattern, same height".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, name, placed, when};
    use crate::routine::Crew;

    #[test]
    fn a_called_cue_says_what_a_stranger_sees() {
        let quay = lantern_quay();
        let act = compiled(&quay);
        for (moment, shift, words) in [
            (
                Moment::Start(name("walk on")),
                -12_000,
                "12.0 s before start of \"walk on\": the act begins",
            ),
            (Moment::Start(name("stillness")), 0, "start of \"stillness\": before the first throw"),
            (Moment::Start(name("tide")), 0, "start of \"tide\": first throw"),
            (Moment::Start(name("beam")), 0, "start of \"beam\": throws go higher"),
            (Moment::Start(name("wake")), 0, "start of \"wake\": new pattern, same height"),
            (Moment::Start(name("ebb")), 0, "start of \"ebb\": throws go lower"),
            (Moment::End(name("ebb")), 0, "end of \"ebb\": hands at rest"),
            (Moment::End(name("tide")), 500, "0.5 s after end of \"tide\": throws go higher"),
            (Moment::Start(name("fleet")), 0, "start of \"fleet\": first throw after the pause"),
            (Moment::End(name("bow")), 0, "end of \"bow\": the very end"),
            (Moment::LastCatch(None), 0, "last catch, right hand, coral"),
            (Moment::TrackStart, 0, "track start"),
        ] {
            let cue = cue(Crew::Light, 1, Some(when(moment, shift)), Trigger::Called, "fade");
            assert_eq!(when_called(&act, &cue), words);
        }
    }

    #[test]
    fn what_is_waited_for_twice_is_told_apart_by_where_it_is() {
        let mut quay = lantern_quay();
        let see = |text: &str| Trigger::See(Some(text.to_owned()));
        let hear = |text: &str| Trigger::Hear(text.to_owned());
        let written = [
            (Moment::LastCatch(Some(name("ebb"))), 0, see("All balls in hands")),
            (Moment::LastCatch(None), 500, see("all balls in hands")),
            // Seen once, by two crews.
            (Moment::Start(name("bow")), 0, see("bows")),
            (Moment::End(name("fleet")), 0, see("bows")),
            (Moment::Start(name("tide")), 0, hear("bell")),
            (Moment::Throw(name("tide"), placed(2)), 0, hear("bell")),
            // Another sense, and so another thing.
            (Moment::TrackStart, 0, see("bell")),
            (Moment::Start(name("wake")), 0, see("high ball")),
        ];
        let cues = written.map(|(moment, shift, trigger)| {
            cue(Crew::Light, 0, Some(when(moment, shift)), trigger, "go")
        });
        quay.cues = cues.into();
        let act = compiled(&quay);
        let alike = Awaited::of(&act);
        let cues = act.routine.cues.iter().enumerate();
        let words: Vec<String> = cues
            .filter_map(|(index, cue)| match &cue.trigger.value {
                Trigger::See(Some(text)) | Trigger::Hear(text) => {
                    Some(as_written(&act, &alike, index, text))
                }
                _ => None,
            })
            .collect();
        assert_eq!(
            words,
            [
                "All balls in hands, at the end of \"ebb\"",
                "all balls in hands, 0.5 s after the last catch",
                "bows",
                "bows",
                "bell, at the start of \"tide\"",
                "bell, at throw 2 of \"tide\"",
                "bell",
                "high ball",
            ]
        );
    }
}
