//! What must hold of every pattern, tried on random ones.

use std::collections::BTreeSet;

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::notation::{Kind, Sequence, Severity, Throw};
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

fn numbers(pattern: &Pattern) -> Vec<u32> {
    pattern.sequence().throws().map(|one| one.number).collect()
}

/// The text with what stands in each pair of square brackets in every order.
fn reordered_by_hand(text: &str) -> BTreeSet<String> {
    let Some((before, rest)) = text.split_once('[') else {
        return BTreeSet::from([text.to_owned()]);
    };
    let (inside, after) = rest.split_once(']').expect("a bracket is closed");
    let mut throws: Vec<String> = Vec::new();
    for character in inside.chars() {
        match throws.last_mut() {
            Some(last) if character == 'x' => last.push('x'),
            _ => throws.push(character.to_string()),
        }
    }
    let mut orders = vec![String::new()];
    let mut left = vec![throws];
    while left.iter().any(|left| !left.is_empty()) {
        let (mut longer, mut fewer) = (Vec::new(), Vec::new());
        for (order, left) in orders.iter().zip(&left) {
            for place in 0..left.len() {
                let mut rest = left.clone();
                longer.push(order.clone() + &rest.remove(place));
                fewer.push(rest);
            }
        }
        (orders, left) = (longer, fewer);
    }
    let afters = reordered_by_hand(after);
    let all = orders
        .iter()
        .flat_map(|order| afters.iter().map(move |after| format!("{before}[{order}]{after}")));
    all.collect()
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
    fn a_pattern_begins_at_each_of_its_steps_where_it_has_come_to(
        text in random_pattern::any_pattern(),
    ) {
        let pattern = pattern(&text);
        let mut schedule = pattern.schedule().clone();
        let mut lead = Hand::Right;
        let mut numbers: Vec<u32> = numbers(&pattern);
        for (place, begun) in pattern.rotations() {
            prop_assert_eq!(begun.schedule_led_by(lead), schedule.clone());
            prop_assert_eq!(self::numbers(&begun), numbers.clone());
            let step = &pattern.sequence().steps[place];
            schedule = schedule.step(step, lead).expect("a pattern fits its own schedule");
            lead = lead.after(step.beats());
            numbers.rotate_left(step.throws().count());
        }
    }

    #[test]
    fn the_multiplex_orders_are_all_orders_of_each_multiplex(text in random_pattern::any_pattern()) {
        let pattern = pattern(&text);
        let expected = reordered_by_hand(&text);
        let multiplex_orders = pattern.multiplex_orders(usize::MAX);
        let texts: Vec<String> = multiplex_orders.iter().map(|one| one.sequence().to_string()).collect();
        prop_assert_eq!(&texts[0], &text);
        prop_assert_eq!(texts.len(), expected.len());
        prop_assert_eq!(texts.into_iter().collect::<BTreeSet<String>>(), expected);
        prop_assert_eq!(pattern.multiplex_order_count(), Some(multiplex_orders.len() as u32));
        let characters: Vec<char> = text.chars().collect();
        for order in &multiplex_orders {
            prop_assert_eq!(order.schedule(), pattern.schedule());
            let read_again = self::pattern(&order.sequence().to_string());
            let throws = |pattern: &Pattern| -> Vec<Throw> {
                pattern.sequence().throws().map(|one| one.throw).collect()
            };
            prop_assert_eq!(throws(order), throws(&read_again));
            let mut numbers = numbers(order);
            numbers.sort_unstable();
            prop_assert_eq!(numbers, (1..=throws(order).len() as u32).collect::<Vec<_>>());
            for written in order.sequence().throws() {
                let at: String = characters[written.at.clone()].iter().collect();
                prop_assert_eq!(at, written.throw.to_string());
            }
        }
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
