//! Counts: what each hand does in a section and in all, and how many catches that makes.
//!
//! A transition counts with the section that it leads into. A hand that waits makes no action, so
//! a wait counts no empty hand. Unit: props and beats, never seconds.

use crate::patterns::hands::{ActionKind, HandCount};
use crate::timeline::{Action, Timeline};

/// What both hands do over some stretch of the routine.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// The left hand, then the right ([`crate::hand::Hand::index`]).
    pub hands: [HandCount; 2],
    /// Catches of the stretch's own throws and hand-acrosses, wherever they land.
    pub catches: u32,
}

/// What the hands do in one entry of the score; `None` for a pause.
#[must_use]
pub fn of_section(timeline: &Timeline, section: usize) -> Option<Counts> {
    actions_of(timeline, section).map(of_actions)
}

/// What the hands do in the whole routine.
#[must_use]
pub fn in_all(timeline: &Timeline) -> Counts {
    let mut all = Counts::default();
    for run in &timeline.runs {
        all.add(&of_actions(&run.actions));
    }
    all
}

/// The actions of one entry of the score, its transition's included; `None` for a pause.
#[must_use]
pub fn actions_of(timeline: &Timeline, section: usize) -> Option<&[Action]> {
    let juggle = timeline.sections.get(section)?.juggle.as_ref()?;
    timeline.runs.get(juggle.run)?.actions.get(juggle.actions.clone())
}

/// What the hands do in these actions, which stand in order of beat, left before right.
#[must_use]
pub fn of_actions(actions: &[Action]) -> Counts {
    let mut counts = Counts::default();
    let mut last_release = None;
    for action in actions {
        let hand = &mut counts.hands[action.hand.index()];
        match action.kind {
            ActionKind::Thrown => hand.thrown += 1,
            ActionKind::HandedAcross => hand.handed_across += 1,
            ActionKind::Held => hand.held += 1,
            ActionKind::Empty => hand.empty += 1,
        }
        if action.kind != ActionKind::Empty {
            *hand.by_value.entry(action.throw).or_default() += 1;
        }
        if action.is_release() {
            counts.catches += 1;
            // The parts of a multiplex stand together: they are one release.
            if last_release != Some((action.beat, action.hand)) {
                hand.releases += 1;
                last_release = Some((action.beat, action.hand));
            }
        }
    }
    counts
}

impl Counts {
    /// Adds what was done in another stretch.
    pub fn add(&mut self, other: &Counts) {
        for (sum, hand) in self.hands.iter_mut().zip(&other.hands) {
            sum.thrown += hand.thrown;
            sum.handed_across += hand.handed_across;
            sum.held += hand.held;
            sum.empty += hand.empty;
            sum.releases += hand.releases;
            for (&throw, &times) in &hand.by_value {
                *sum.by_value.entry(throw).or_default() += times;
            }
        }
        self.catches += other.catches;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::measure::by_hand::alternating;
    use crate::notation::Throw;

    /// Thrown, handed across, held, empty, releases.
    fn figures(count: &HandCount) -> [u32; 5] {
        [count.thrown, count.handed_across, count.held, count.empty, count.releases]
    }

    #[test]
    fn each_hand_is_counted_by_what_it_does() {
        // One cycle of 531 is odd: six beats give each hand a 5, a 3 and a 1.
        let counts = of_section(&alternating("531531", Hand::Right, 200), 0).unwrap();
        for hand in Hand::BOTH {
            assert_eq!(figures(&counts.hands[hand.index()]), [2, 1, 0, 0, 3], "{hand}");
        }
        assert_eq!(counts.catches, 6);
        // 51, led by the right: the right throws the 5s, the left hands across.
        let counts = of_section(&alternating("5151", Hand::Right, 200), 0).unwrap();
        assert_eq!(figures(&counts.hands[Hand::Right.index()]), [2, 0, 0, 0, 2]);
        assert_eq!(figures(&counts.hands[Hand::Left.index()]), [0, 2, 0, 0, 2]);
    }

    #[test]
    fn a_multiplex_is_one_release_and_a_held_2_or_an_empty_hand_is_none() {
        let counts = of_section(&alternating("[54]24", Hand::Right, 200), 0).unwrap();
        assert_eq!(figures(&counts.hands[Hand::Right.index()]), [3, 0, 0, 0, 2]);
        assert_eq!(figures(&counts.hands[Hand::Left.index()]), [0, 0, 1, 0, 0]);
        assert_eq!(counts.catches, 3);
        let counts = of_section(&alternating("330", Hand::Left, 200), 0).unwrap();
        assert_eq!(figures(&counts.hands[Hand::Left.index()]), [1, 0, 0, 1, 1]);
        assert_eq!(figures(&counts.hands[Hand::Right.index()]), [1, 0, 0, 0, 1]);
        // A multiplex with a held 2 in it still lets one prop go.
        let counts = of_section(&alternating("[32]", Hand::Left, 200), 0).unwrap();
        assert_eq!(figures(&counts.hands[Hand::Left.index()]), [1, 0, 1, 0, 1]);
    }

    #[test]
    fn the_split_by_value_leaves_out_empty_hands_only() {
        let counts = of_section(&alternating("42330", Hand::Right, 200), 0).unwrap();
        let right: Vec<_> = counts.hands[Hand::Right.index()].by_value.iter().collect();
        assert_eq!(right, [(&Throw::straight(3), &1), (&Throw::straight(4), &1)]);
        let left: Vec<_> = counts.hands[Hand::Left.index()].by_value.iter().collect();
        assert_eq!(left, [(&Throw::straight(2), &1), (&Throw::straight(3), &1)]);
    }

    #[test]
    fn a_pause_has_no_counts() {
        assert_eq!(of_section(&alternating("3", Hand::Right, 200), 7), None);
    }
}
