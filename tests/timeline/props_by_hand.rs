//! Every prop where the rules put it, and in one place at a time.

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::routine::Routine;
use throwbook::time::{Seconds, Time};
use throwbook::timeline::{Loaded, Prop, Timeline};

use crate::few;
use crate::followed::follow;
use crate::random_score::random_score;
use crate::written::codes;

/// Follows every run a second time.
pub(crate) fn compare(routine: &Routine, timeline: &Timeline) {
    let mut kept = None;
    let mut set = None;
    for run in &timeline.runs {
        if set != Some(run.set) {
            kept = None;
        }
        set = Some(run.set);
        match kept {
            Some(kept) => assert_eq!(&run.loading, kept, "the hands keep what they caught"),
            // A written loading stands as it is; the replay follows those.
            None if run.loaded == Loaded::Written => {}
            // Not all props are called for in a short run.
            None => {
                let called = follow(routine, timeline, run, None).loading;
                for (hand, called) in Hand::BOTH.into_iter().zip(called) {
                    let loaded = run.loading.in_hand(hand).iter().map(|prop| prop.0);
                    assert_eq!(loaded.take(called.len()).collect::<Vec<_>>(), called, "{hand}");
                }
            }
        }
        let followed = follow(routine, timeline, run, Some(&run.loading));
        let told: Vec<_> = run
            .actions
            .iter()
            .map(|action| {
                let prop = action.prop.map(|prop| prop.0);
                (action.beat, action.hand, action.throw.to_string(), prop, action.to, action.due)
            })
            .collect();
        for (index, (told, followed)) in told.iter().zip(&followed.told).enumerate() {
            assert_eq!(told, followed, "action {index}");
        }
        assert_eq!(told.len(), followed.told.len());
        let gathered = |hand: Hand| -> Vec<u8> {
            run.gather.hands.in_hand(hand).iter().map(|prop| prop.0).collect()
        };
        assert_eq!(Hand::BOTH.map(gathered), followed.gathered(), "the gather");
        kept = Some(&run.gather.hands);
        let after = timeline.sections[run.sections.end..].iter();
        for regrip in
            after.take_while(|one| one.juggle.is_none()).filter_map(|one| one.regrip.as_ref())
        {
            assert_eq!(kept, Some(&regrip.before));
            kept = Some(&regrip.after);
        }
    }
}

/// Each prop is thrown where it came to, when it was due there, and never before it is caught.
pub(crate) fn one_place_at_a_time(routine: &Routine, timeline: &Timeline) {
    for run in &timeline.runs {
        let props = u8::try_from(routine.sets[run.set].colours.len()).unwrap();
        for hands in [&run.loading, &run.gather.hands] {
            let mut all: Vec<Prop> = hands.hands.concat();
            all.sort_unstable();
            assert_eq!(all, (0..props).map(Prop).collect::<Vec<_>>(), "props in, props out");
        }
        for prop in (0..props).map(Prop) {
            let in_hand = |hands: &throwbook::timeline::HandLoading| {
                Hand::BOTH.into_iter().find(|&hand| hands.in_hand(hand).contains(&prop)).unwrap()
            };
            let (mut hand, mut due, mut caught) = (in_hand(&run.loading), None, None);
            for action in run.actions.iter().filter(|action| action.prop == Some(prop)) {
                assert_eq!(action.hand, hand, "{action:?} of a prop in the {hand} hand");
                assert!(due.is_none_or(|due| due == action.beat), "{action:?} due on {due:?}");
                let now = run.time_of(action);
                // A catch comes between every two releases.
                assert!(
                    caught.as_ref().is_none_or(|caught| comes_before(caught, &now)),
                    "{action:?}"
                );
                if let Some(catch) = run.catch_of(action, timeline.dwell) {
                    assert!(comes_before(&now, &catch), "{action:?} is caught before it is thrown");
                    caught = Some(catch);
                } else {
                    assert_eq!(action.to, action.hand, "what is held stays in its hand");
                }
                (hand, due) = (action.to, Some(action.due));
            }
            assert_eq!(in_hand(&run.gather.hands), hand);
            let last = run.gather.last_catch.as_ref();
            assert!(
                caught.is_none_or(|caught| last.is_some_and(|last| !comes_before(last, &caught)))
            );
        }
    }
}

/// Whether one time surely comes before another.
fn comes_before(one: &Time, other: &Time) -> bool {
    (other - one).least() > Seconds::zero()
}

proptest! {
    #![proptest_config(few(400))]

    #[test]
    fn every_prop_of_a_random_routine_is_where_the_rules_put_it(random in random_score()) {
        let opened = random.written().open();
        match opened.finished() {
            Some(act) => {
                compare(&act.routine, &act.timeline);
                one_place_at_a_time(&act.routine, &act.timeline);
            }
            None => {
                // The bounds may be too narrow; nothing else can be wrong with it.
                let errors: Vec<_> = codes(&opened);
                prop_assert!(
                    errors.iter().all(|code| ["no-transition", "cut-cycle"].contains(code)),
                    "{:?}", opened.diagnostics
                );
            }
        }
    }
}

#[test]
fn every_prop_of_the_shipped_routines_is_where_the_rules_put_it() {
    for text in crate::SHIPPED {
        let opened = throwbook::open(text);
        let act = opened.finished().unwrap();
        one_place_at_a_time(&act.routine, &act.timeline);
        compare(&act.routine, &act.timeline);
    }
}
