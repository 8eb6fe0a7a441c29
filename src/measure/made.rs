//! How throws are made: how often each hand makes them each way.
//!
//! Throws and hand-acrosses of the sections' own beats count; a transition's are made in no
//! written way. Unit: props, as thrown: each prop of a multiplex counts.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::routine::{Made, Routine};
use crate::timeline::Action;

use super::counts;

/// How often the left hand, then the right ([`crate::hand::Hand::index`]), throws each way.
pub type MadeCounts = [BTreeMap<Made, u32>; 2];

/// How the throws of one entry of the score are made; `None` for a pause.
#[must_use]
pub fn of_section(act: &Act, section: usize) -> Option<MadeCounts> {
    let Act { routine, timeline, .. } = act;
    Some(of_actions(routine, counts::actions_of(timeline, section)?))
}

/// How the throws of the whole routine are made.
#[must_use]
pub fn in_all(act: &Act) -> MadeCounts {
    let Act { routine, timeline, .. } = act;
    let mut all = MadeCounts::default();
    for run in &timeline.runs {
        for (sum, hand) in all.iter_mut().zip(of_actions(routine, &run.actions)) {
            for (made, times) in hand {
                *sum.entry(made).or_default() += times;
            }
        }
    }
    all
}

fn of_actions(routine: &Routine, actions: &[Action]) -> MadeCounts {
    let mut counts = MadeCounts::default();
    for action in actions {
        if let Some(made) = action.made(routine) {
            *counts[action.hand.index()].entry(made).or_default() += 1;
        }
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{balls, compiled, juggle, name, placed, routine, section};
    use crate::routine::{Length, MadeThrow, Twos};

    /// How the left hand's throws, then the right's, are made.
    fn made(pattern: &str, beats: u32, ways: &[(u32, Made)]) -> [Vec<(Made, u32)>; 2] {
        let (entry, mut throws) = juggle("tide", pattern, Length::Beats(beats));
        throws.set = Some(name("set"));
        let way = |&(throw, made)| MadeThrow { throw: placed(throw), made };
        throws.made = ways.iter().map(way).collect();
        throws.twos = Twos::Thrown;
        let colours = vec!["coral"; throws.pattern.pattern.props() as usize];
        let routine = routine(vec![section((entry, throws))], vec![balls("set", &colours)]);
        let act = compiled(&routine);
        assert_eq!(of_section(&act, 0).as_ref(), Some(&in_all(&act)));
        assert_eq!(of_section(&act, 1), None);
        in_all(&act).map(|hand| hand.into_iter().collect())
    }

    #[test]
    fn each_hand_is_counted_and_an_odd_cycle_changes_hands() {
        use Made::{Inside, Outside, UnderLeg};
        assert_eq!(made("51", 8, &[(1, UnderLeg)]), [vec![], vec![(UnderLeg, 4)]]);
        assert_eq!(made("531", 9, &[(1, Outside)]), [vec![(Outside, 1)], vec![(Outside, 2)]]);
        // A cut cycle has what it makes and no more.
        let cut = made("531", 4, &[(1, Inside), (3, Outside)]);
        assert_eq!(cut, [vec![(Inside, 1)], vec![(Inside, 1), (Outside, 1)]]);
    }

    #[test]
    fn the_parts_of_a_multiplex_and_of_a_pair_count_one_by_one() {
        use Made::{BehindBack, OverTop, UnderWrist};
        let multiplex = made("[54]24", 6, &[(1, UnderWrist), (2, OverTop), (3, BehindBack)]);
        assert_eq!(
            multiplex,
            [
                vec![(UnderWrist, 1), (BehindBack, 1), (OverTop, 1)],
                vec![(UnderWrist, 1), (BehindBack, 1), (OverTop, 1)],
            ]
        );
        // Throw 3 of a starred pattern is the right hand's: the hand written first changes.
        let starred = made("(4,2x)*", 8, &[(1, OverTop), (3, UnderWrist)]);
        assert_eq!(starred, [vec![(OverTop, 2)], vec![(UnderWrist, 2)]]);
    }
}
