//! Arm cycles, and how throws are made.

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::notation::Kind;
use crate::patterns::Pattern;
use crate::patterns::hands::ActionKind;
use crate::routine::{ArmCycle, Arms, Made, MadeThrow};

use super::number::{Between, whole};
use super::raw::Raw;
use super::reader::Reader;

/// An arm cycle, one entry for each beat of the pattern's cycle or of the beats after which hands
/// and throws repeat.
pub(super) fn arms<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    pattern: Option<&Pattern>,
) -> Option<ArmCycle> {
    let before = reader.errors();
    let items = reader.items(raw);
    if let Some(pattern) = pattern
        && reader.errors() == before
    {
        length(reader, &items, raw.place(), pattern);
    }
    let entry = |reader: &mut Reader, item: Raw<'a>| {
        Some(item.placed(reader.choice(item, "position of the arms", &Arms::WRITTEN)?))
    };
    let beats: Vec<Placed<Arms>> =
        items.into_iter().filter_map(|item| entry(reader, item)).collect();
    (reader.errors() == before).then(|| ArmCycle { at: raw.place(), beats })
}

/// Reports an arm cycle that is neither one cycle long nor as long as hands and throws take to repeat.
fn length(reader: &mut Reader, items: &[Raw<'_>], at: Place, pattern: &Pattern) {
    let count = u32::try_from(items.len()).unwrap_or(u32::MAX);
    let (cycle, repeats) = (pattern.period(), pattern.beats_to_repeat());
    if count == cycle || count == repeats {
        return;
    }
    let message = format!(
        "This `arms` has {}, and a cycle of the pattern fills {}.",
        counted_entries(count),
        counted(cycle, "beat")
    );
    // What is too much is marked; what is missing is missing behind the last entry.
    let at = match items.get(repeats as usize..) {
        Some([first, .., last]) => Place { start: first.place().start, end: last.place().end },
        Some([only]) => only.place(),
        Some([]) | None => at,
    };
    let label = if count > repeats { "too many" } else { "not one for each beat" };
    let mut fault = Diagnostic::error("arms-not-a-cycle", at, message).label(label);
    if pattern.kind() == Kind::Sync {
        fault = fault.note("A pair fills two beats, so it has two entries.");
    }
    let mut help = format!("Write {}, one for each beat", counted_entries(cycle));
    if repeats != cycle {
        help += &format!(
            "; or {repeats}, the beats after which the same hand makes the same throw again"
        );
    }
    reader.report(fault.help(help));
}

fn counted_entries(count: u32) -> String {
    crate::diagnostic::words::counted_as(count, "entry", "entries")
}

/// How throws of the cycle are made, by their number.
pub(super) fn made<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    pattern: Option<&Pattern>,
    twos_are_thrown: bool,
) -> Vec<MadeThrow> {
    let mut all: Vec<MadeThrow> = Vec::new();
    for (key, value) in reader.entries(raw) {
        let bounds = Between::from("the number of a throw", 1.0, 1_000_000.0, "");
        let throw = whole(reader, key, bounds);
        let made = reader.choice(value, "way of making a throw", &Made::WRITTEN);
        let Some(throw) = throw else { continue };
        if let Some(pattern) = pattern {
            throw_that_is_made(reader, pattern, &throw, twos_are_thrown);
        }
        if let Some(first) = all.iter().find(|made| made.throw.value == throw.value) {
            let message = format!("Throw {} is written twice in this `made`.", throw.value);
            let fault = Diagnostic::error("duplicate-key", throw.at.clone(), message)
                .label("the second time")
                .note_at(first.throw.at.clone(), "It is written here already.");
            reader.report(fault);
        }
        all.extend(made.map(|made| MadeThrow { throw, made }));
    }
    all
}

/// Reports a throw of `made` that the pattern does not have, or that leaves no hand.
fn throw_that_is_made(
    reader: &mut Reader,
    pattern: &Pattern,
    throw: &Placed<u32>,
    twos_are_thrown: bool,
) {
    let number = throw.value;
    let mut throws = pattern.sequence().throws();
    let Some(written) = throws.find(|written| written.number == number) else {
        let last = pattern.sequence().throws().map(|written| written.number).max();
        let message = format!(
            "The pattern has no throw {number}: its cycle has throws 1 to {}.",
            last.unwrap_or(0)
        );
        reader.error("unknown-throw", throw.at.clone(), message);
        return;
    };
    match ActionKind::of(written.throw, twos_are_thrown) {
        ActionKind::Thrown | ActionKind::HandedAcross => {}
        ActionKind::Empty => {
            let message = format!(
                "Throw {number} of the pattern is a 0: the hand is empty, nothing is made."
            );
            let fault = Diagnostic::error("made-not-thrown", throw.at.clone(), message)
                .label("an empty hand")
                .help("Leave it out; throws are numbered as written, a 0 too.");
            reader.report(fault);
        }
        ActionKind::Held => {
            let message = format!(
                "Throw {number} of the pattern is a 2, which is held here: it never leaves the \
                 hand."
            );
            let fault = Diagnostic::error("made-not-thrown", throw.at.clone(), message)
                .label("a held 2")
                .help("Leave it out, or write `twos: Thrown` where the 2s are small throws.");
            reader.report(fault);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use crate::routine::{Arms, Juggle, Made, Part};

    fn text(pattern: &str, says: &str) -> String {
        format!(
            "Routine(title: \"T\", score: [Juggle(name: \"a\", pattern: \"{pattern}\", \
             lasts: Cycles(2), {says})])"
        )
    }

    fn juggle(pattern: &str, says: &str) -> Juggle {
        let reading = read(&text(pattern, says));
        assert_eq!(reading.diagnostics, [], "{pattern} {says}");
        match reading.routine.unwrap().score.remove(0).part {
            Part::Juggle(juggle) => *juggle,
            other => panic!("{other:?}"),
        }
    }

    /// Code, marked text and message of everything that is said.
    fn faults(pattern: &str, says: &str) -> Vec<(&'static str, String, String)> {
        let text = text(pattern, says);
        let faults = read(&text).diagnostics.into_iter();
        let marked = |at: crate::diagnostic::Place| text[at.start..at.end].to_owned();
        faults.map(|fault| (fault.code, marked(fault.at), fault.message)).collect()
    }

    #[test]
    fn an_arm_cycle_has_an_entry_for_each_beat_of_the_cycle_and_goes_round() {
        for (pattern, arms, beats) in [
            ("3", "[RightOver]", [Arms::RightOver; 6]),
            // An odd cycle may be written once, or as long as hands and throws take to repeat.
            (
                "3",
                "[RightOver, LeftOver]",
                [Arms::RightOver, Arms::LeftOver].repeat(3).try_into().unwrap(),
            ),
            ("531", "[Open, Open, LeftOver]", [0, 0, 2, 0, 0, 2].map(|over| Arms::WRITTEN[over].1)),
            // A pair fills two beats, and a starred pattern is written out: arms stay physical.
            (
                "(4,2x)*",
                "[Open, RightOver, Open, Open]",
                [0, 1, 0, 0, 0, 1].map(|over| Arms::WRITTEN[over].1),
            ),
        ] {
            let juggle = juggle(pattern, &format!("arms: {arms}"));
            let on: Vec<Arms> = (0..6).map(|beat| juggle.arms_on(beat)).collect();
            assert_eq!(on, beats, "{pattern} {arms}");
        }
        assert_eq!(juggle("3", "").arms_on(4), Arms::Open);
        assert_eq!(
            juggle("531", "arms: [Open, Open, Open, RightOver, RightOver, RightOver]").arms_on(9),
            Arms::RightOver
        );
    }

    #[test]
    fn an_arm_cycle_of_another_length_is_an_error_at_its_place() {
        for (pattern, arms, marked, beats) in [
            ("441", "[Open]", "[Open]", "1 entry, and a cycle of the pattern fills 3 beats"),
            ("3", "[]", "[]", "0 entries, and a cycle of the pattern fills 1 beat"),
            ("51", "[Open, Open, LeftOver]", "LeftOver", "3 entries"),
            ("3", "[Open, Open, Open, RightOver]", "Open, RightOver", "4 entries"),
            ("(4,4)", "[Open]", "[Open]", "fills 2 beats"),
            ("(4,2x)*", "[Open, Open]", "[Open, Open]", "fills 4 beats"),
        ] {
            let faults = faults(pattern, &format!("arms: {arms}"));
            let [(code, at, message)] = &faults[..] else { panic!("{faults:?}") };
            assert_eq!((*code, at.as_str()), ("arms-not-a-cycle", marked), "{pattern} {arms}");
            assert!(message.contains(beats), "{message}");
        }
        let pairs = read(&text("(4,4)", "arms: [Open]")).diagnostics.remove(0);
        assert!(pairs.notes[0].text.contains("two beats"), "{pairs:?}");
        let odd = read(&text("531", "arms: [Open]")).diagnostics.remove(0);
        assert!(odd.helps[0].text.contains("or 6"), "{odd:?}");
    }

    #[test]
    fn every_wrong_word_of_an_arm_cycle_is_shown_with_the_nearest() {
        let faults = faults("441", "arms: [Opn, 3, RightOver]");
        let codes: Vec<_> = faults.iter().map(|(code, at, _)| (*code, at.as_str())).collect();
        assert_eq!(codes, [("unknown-word", "Opn"), ("wrong-shape", "3")]);
        let slip = read(&text("3", "arms: [RigthOver]")).diagnostics.remove(0);
        assert_eq!(slip.helps[0].edits[0].insert, "RightOver");
        assert_eq!(self::faults("3", "arms: Open")[0].0, "wrong-shape");
    }

    #[test]
    fn throws_are_made_by_their_number_the_parts_of_a_multiplex_one_by_one() {
        let triple = juggle("[54]24", "made: { 2: UnderLeg, 4: BehindBack }");
        let made: Vec<_> = (1..=4).map(|number| triple.made(number)).collect();
        assert_eq!(made, [None, Some(Made::UnderLeg), None, Some(Made::BehindBack)]);
        // The second half of a starred pattern goes on counting; a crossing 2 is handed across.
        let starred = juggle("(4,2x)*", "made: { 2: UnderWrist, 3: OverTop }");
        assert_eq!(starred.made(2), Some(Made::UnderWrist));
        assert_eq!(juggle("423", "twos: Thrown, made: { 2: Inside }").made(2), Some(Made::Inside));
        assert_eq!(juggle("51", "made: { 2: BehindBack }").made(2), Some(Made::BehindBack));
    }

    #[test]
    fn what_leaves_no_hand_is_not_made_in_any_way() {
        for (pattern, made, code, marked) in [
            ("423", "{ 2: Inside }", "made-not-thrown", "2"),
            ("[54]24", "{ 3: Inside }", "made-not-thrown", "3"),
            ("(4,2)", "{ 2: Inside }", "made-not-thrown", "2"),
            ("55500", "{ 4: OverTop }", "made-not-thrown", "4"),
            ("531", "{ 4: OverTop }", "unknown-throw", "4"),
            ("531", "{ 1: Outside, 1: OverTop }", "duplicate-key", "1"),
            ("531", "{ 0: Outside }", "out-of-range", "0"),
            ("531", "{ 1: UnderLegs }", "unknown-word", "UnderLegs"),
            ("531", "{ 1: \"Outside\" }", "wrong-shape", "\"Outside\""),
            ("531", "[Outside]", "wrong-shape", "[Outside]"),
        ] {
            let faults = faults(pattern, &format!("made: {made}"));
            let codes: Vec<_> = faults.iter().map(|(code, at, _)| (*code, at.as_str())).collect();
            assert_eq!(codes, [(code, marked)], "{pattern} {made}");
        }
    }
}
