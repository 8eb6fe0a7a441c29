//! Whether a transition moves the colours: whether props come to the goal in another order.

use crate::hand::Hand;
use crate::notation::{Kind, Step};
use crate::patterns::Pattern;
use crate::patterns::standing::Standing;

use super::Way;

/// So many beats bring every prop into its place of the order, whatever it was before.
const WARM_UP_BEATS: u32 = 144;

/// Whether, after the way, the props leave in another order than if the pattern before had run on
/// for as many beats of throws.
///
/// The order is that of leaving: by beat, left before right, then by the rule of which prop leaves
/// first. The pattern before was led by `lead` for whole cycles, an even number of them, and then
/// for `steps` steps of its next cycle. Beats on which a hand only waits are not counted, and the
/// pattern that runs on lets the same hand wait at its end, so that a wait by itself moves nothing.
/// A pattern of pairs runs on for the whole pairs among the beats. A way that does not fit what
/// the pattern leaves moves colours.
#[must_use]
pub fn moves_colours(before: &Pattern, lead: Hand, steps: usize, way: &Way) -> bool {
    let cycle = &before.sequence().steps;
    let mut flight = Flight::natural(before, lead);
    let warm_up = WARM_UP_BEATS.div_ceil(before.period().max(1)).next_multiple_of(2);
    let cycles = cycle.len() * usize::try_from(warm_up).unwrap_or(0);
    let warm = cycle.iter().cycle().take(cycles + steps).try_for_each(|step| flight.take(step));
    let mut runs_on = flight.clone();
    let mut beats = way.throws.beats();
    for step in cycle.iter().cycle().skip(steps % cycle.len().max(1)) {
        if step.beats() > beats || runs_on.take(step).is_none() {
            break;
        }
        beats -= step.beats();
    }
    // From pairs the hand that leads what comes does not wait.
    match (before.kind(), way.lead) {
        (Kind::Sync, Some(lead)) => runs_on.wait(lead.other()),
        _ => way.waits.into_iter().for_each(|hand| runs_on.wait(hand)),
    }
    let joined = flight.take_way(way, before.kind());
    warm.is_none() || joined.is_none() || flight.order() != runs_on.order()
}

/// A prop by its place in the order at the beginning.
#[derive(Clone, Copy, Debug)]
struct Prop {
    number: usize,
    due: i64,
    hand: Hand,
    standing: Standing,
}

/// Every prop, and which hand acts next.
#[derive(Clone, Debug)]
struct Flight {
    props: Vec<Prop>,
    beat: i64,
    next: Hand,
}

impl Flight {
    /// Before a pattern's first throw, the props numbered as they leave.
    fn natural(pattern: &Pattern, lead: Hand) -> Flight {
        let schedule = pattern.schedule_led_by(lead);
        let mut props = Vec::new();
        for beat in 0..schedule.span() {
            for hand in Hand::BOTH {
                for place in 0..u32::from(schedule.due(hand, beat)) {
                    let standing = Standing::at_rest(place);
                    let number = props.len();
                    props.push(Prop { number, due: i64::from(beat), hand, standing });
                }
            }
        }
        Flight { props, beat: 0, next: lead }
    }

    /// One step; `None` where it does not throw what is due.
    fn take(&mut self, step: &Step) -> Option<()> {
        let (kind, beat) = (step.kind(), self.beat);
        let mut written = 0;
        let mut thrown = vec![false; self.props.len()];
        for (hand, throws) in step.by_hand(self.next) {
            let here = |prop: &Prop| prop.due == beat && prop.hand == hand;
            let mut due: Vec<usize> = (0..self.props.len())
                .filter(|&index| !thrown[index] && here(&self.props[index]))
                .collect();
            due.sort_by_key(|&index| self.props[index].standing);
            let throws = throws.iter().map(|written| written.throw).filter(|t| t.value > 0);
            let throws: Vec<_> = throws.collect();
            if throws.len() != due.len() {
                return None;
            }
            for (index, throw) in due.into_iter().zip(throws) {
                let prop = &mut self.props[index];
                prop.due = beat + i64::from(throw.value);
                prop.hand = throw.to(hand, kind);
                let held = throw.value == 2 && prop.hand == hand;
                let came = if held { prop.standing.came } else { prop.due };
                prop.standing = Standing { came, thrown: beat, written };
                thrown[index] = true;
                written += 1;
            }
        }
        self.beat += i64::from(step.beats());
        self.next = self.next.after(step.beats());
        Some(())
    }

    fn wait(&mut self, hand: Hand) {
        for prop in self.props.iter_mut().filter(|prop| prop.hand == hand) {
            prop.standing = prop.standing.waited(prop.due);
            prop.due += 1;
        }
    }

    /// A way's throws, its wait where the notation changes.
    fn take_way(&mut self, way: &Way, before: Kind) -> Option<()> {
        let mut waits = way.waits;
        for step in &way.throws.steps {
            if step.kind() != before {
                self.wait_once(&mut waits, before);
            }
            self.take(step)?;
        }
        self.wait_once(&mut waits, before);
        Some(())
    }

    fn wait_once(&mut self, waits: &mut Option<Hand>, before: Kind) {
        if let Some(hand) = waits.take() {
            self.wait(hand);
            match before {
                Kind::Async => self.beat += 1,
                Kind::Sync => self.next = hand.other(),
            }
        }
    }

    /// The props in the order in which they leave.
    fn order(&self) -> Vec<usize> {
        let mut props = self.props.clone();
        props.sort_by_key(|prop| (prop.due, prop.hand, prop.standing));
        props.into_iter().map(|prop| prop.number).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Bounds, Goal, Origin, ways};
    use super::*;
    use crate::notation::Sequence;

    fn pattern(text: &str) -> Pattern {
        Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    #[test]
    fn colours_move_only_where_props_change_places() {
        for (from, to, throws, moves) in [
            ("3", "51", "4", false),
            ("3", "531", "", false),
            ("51", "3", "2", true),
            ("4", "71", "56", false),
            ("4", "(4,4)", "", false),
            ("(4,4)", "4", "", false),
            ("(4,2x)(2x,4)", "3", "", false),
            ("3", "3", "441", true),
            ("3", "3", "423", true),
            ("3", "3", "531", true),
            ("3", "3", "333", false),
            ("(4,4)", "(4,4)", "(4x,4x)", true),
        ] {
            let (from, to) = (pattern(from), pattern(to));
            let origin = Origin::after(&from, Hand::Right);
            let goal = Goal { pattern: &to, lead: None, preferred: Hand::Right };
            let mut way = ways(&origin, goal, Bounds::default(), 1).remove(0);
            if way.throws.to_string() != throws {
                way.throws = Sequence::read(throws).unwrap_or_else(|f| panic!("{f:?}")).0;
            }
            assert_eq!(moves_colours(&from, Hand::Right, 0, &way), moves, "{from:?} {throws}");
        }
    }

    #[test]
    fn a_way_that_does_not_fit_moves_colours() {
        let (from, to) = (pattern("3"), pattern("51"));
        let goal = Goal { pattern: &to, lead: None, preferred: Hand::Right };
        let origin = Origin::after(&from, Hand::Right);
        let way = ways(&origin, goal, Bounds::default(), 1).remove(0);
        assert!(moves_colours(&pattern("51"), Hand::Right, 1, &way));
        assert!(!moves_colours(&pattern("531"), Hand::Right, 3, &way));
    }
}
