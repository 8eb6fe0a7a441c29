//! What must hold of every pattern, tried on random ones.

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::notation::{Kind, Sequence, Severity};
use throwbook::patterns::{Pattern, Schedule};

mod random_pattern;

fn pattern(text: &str) -> Pattern {
    Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
}

/// The schedule after all steps of a sequence.
fn stepped(from: &Schedule, sequence: &Sequence, lead: Hand) -> Schedule {
    let mut schedule = from.clone();
    let mut beat = 0;
    for step in &sequence.steps {
        schedule = schedule.step(step, lead.after(beat)).expect("a pattern fits its own schedule");
        beat += step.beats();
    }
    schedule
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_schedule_returns_after_a_cycle(text in random_pattern::any_pattern()) {
        let pattern = pattern(&text);
        for lead in Hand::BOTH {
            let after = stepped(&pattern.schedule_led_by(lead), pattern.sequence(), lead);
            prop_assert_eq!(after, pattern.schedule_led_by(lead.after(pattern.period())));
        }
        prop_assert_eq!(pattern.schedule().props(), pattern.props());
    }

    #[test]
    fn a_pattern_written_out_reads_as_the_same_pattern(
        text in random_pattern::any_pattern(),
        gap in "[ \t\n]{0,2}",
    ) {
        let spaced: String = text.chars().map(|character| format!("{character}{gap}")).collect();
        let first = pattern(&spaced);
        let written = first.sequence().to_string();
        prop_assert_eq!(&written, &text);
        let again = pattern(&written);
        prop_assert_eq!(first.schedule(), again.schedule());
        let throws = |pattern: &Pattern| -> Vec<_> {
            pattern.sequence().throws().map(|one| (one.throw, one.number)).collect()
        };
        prop_assert_eq!(throws(&first), throws(&again));
        prop_assert_eq!(pattern(&written), again);
    }

    #[test]
    fn the_mirror_of_the_mirror_is_the_pattern_itself(text in random_pattern::any_pattern()) {
        let pattern = pattern(&text);
        let mirrored = pattern.sequence().mirrored();
        prop_assert_eq!(&mirrored.mirrored(), pattern.sequence());
        let from = match pattern.kind() {
            Kind::Async => pattern.schedule_led_by(Hand::Left),
            Kind::Sync => pattern.schedule().mirrored(),
        };
        let after = stepped(&from, &mirrored, Hand::Left);
        prop_assert_eq!(after.props(), pattern.props());
    }

    #[test]
    fn any_text_is_read_without_a_panic(text in any::<String>()) {
        let _ = Pattern::read(&text);
    }

    #[test]
    fn mangled_throws_are_read_without_a_panic(text in "[0-9a-zA-Zx(),\\[\\]* \t\né]{0,24}") {
        let places = text.chars().count();
        let faults = match Pattern::read(&text) {
            Ok((_, questions)) => questions,
            Err(faults) => {
                prop_assert!(faults.iter().any(|fault| fault.severity == Severity::Error));
                faults
            }
        };
        for fault in faults {
            prop_assert!(fault.at.start <= fault.at.end && fault.at.end <= places, "{:?}", fault);
            prop_assert!(fault.message.ends_with(['.', '?']), "{:?}", fault);
        }
    }

    /// The vanilla test written down once more: all landings differ, modulo the period.
    #[test]
    fn single_throws_repeat_when_no_two_land_together(values in prop::collection::vec(0_u32..8, 1..6)) {
        let period = values.len() as u32;
        let mut landings: Vec<u32> =
            values.iter().zip(0..).map(|(value, beat)| (value + beat) % period).collect();
        landings.sort_unstable();
        landings.dedup();
        let text: String = values.iter().map(ToString::to_string).collect();
        prop_assert_eq!(Pattern::read(&text).is_ok(), landings.len() == values.len());
    }

    #[test]
    fn a_pattern_offered_instead_is_a_pattern(text in "[0-9]{1,6}|(\\([02468]x?,[2468]x?\\)){1,3}\\*?") {
        let Err(faults) = Pattern::read(&text) else { return Ok(()) };
        for fault in faults.iter().filter(|fault| fault.code == "average-not-whole") {
            prop_assert_eq!(fault.at.clone(), 0..text.len());
            for offered in fault.helps.iter().filter_map(|help| help.1.as_ref()) {
                prop_assert!(Pattern::read(offered).is_ok(), "{} for {}", offered, text);
            }
        }
    }
}

#[test]
fn ten_thousand_throws_are_read_quickly() {
    for text in
        ["3".repeat(10_000), "[54]24".repeat(2_500), "54".repeat(5_000), "5".repeat(9_999) + "4"]
    {
        let started = std::time::Instant::now();
        if let Ok((pattern, _)) = Pattern::read(&text) {
            assert!(!throwbook::patterns::orbit::orbits(&pattern, false).is_empty());
        }
        let took = started.elapsed();
        assert!(took.as_millis() < 500, "{}… took {took:?}", &text[..6]);
    }
}
