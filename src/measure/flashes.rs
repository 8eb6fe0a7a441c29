//! Flashes: how many there are in any one second.
//!
//! A flash is a pair of opposing changes of the light; more than three of them in any one second
//! is past the line of WCAG 2.2, SC 2.3.1, which is used here as a conservative one. It clears
//! nothing.

use crate::act::Act;
use crate::routine::Crew;
use crate::time::{Seconds, Time};

use crate::act::calls::Call;

/// The most flashes in any one second that the line allows: WCAG 2.2, SC 2.3.1.
pub const MOST_IN_ONE_SECOND: usize = 3;

/// The most times that lie within one second, half open, and the index of the first of them;
/// `times` in order. `None` for no times.
#[must_use]
pub fn most_in_one_second(times: &[Seconds]) -> Option<(usize, usize)> {
    let second = Seconds::fraction(1, 1);
    let mut most: Option<(usize, usize)> = None;
    let mut end = 0;
    for (start, first) in times.iter().enumerate() {
        while times.get(end).is_some_and(|time| time - first < second) {
            end += 1;
        }
        if most.is_none_or(|(count, _)| end - start > count) {
            most = Some((end - start, start));
        }
    }
    most
}

/// The flashes that Light cues make from GO to GO: changes between dark and not dark, paired from
/// the first one on and from the second one on. Each as the cue of its first change, an index into
/// the routine, and its GO.
#[must_use]
pub fn from_go_to_go(act: &Act, calls: &[&Call]) -> [Vec<(usize, Time)>; 2] {
    let mut changes: Vec<(usize, Time)> = Vec::new();
    let mut was_dark = None;
    for call in calls {
        let Some(cue) = act.routine.cues.get(call.cue) else { continue };
        if cue.crew.value == Crew::Light && was_dark.replace(cue.dark) != Some(cue.dark) {
            changes.push((call.cue, call.go.clone()));
        }
    }
    [0, 1].map(|phase| {
        let changes = changes.get(phase..).unwrap_or_default();
        changes.chunks_exact(2).filter_map(|pair| pair.first().cloned()).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, time, when};
    use crate::routine::{Cue, Moment, Trigger};

    #[test]
    fn flashes_in_any_one_second_are_those_of_the_published_table() {
        // Source: WCAG 2.2, SC 2.3.1; the second is half open, times in whole milliseconds.
        let mut rows = csv::Reader::from_path("tests/data/flash.csv").unwrap();
        let mut checked = 0;
        for row in rows.records() {
            let row = row.unwrap();
            let times: Vec<i64> = serde_json::from_str(&row[0]).unwrap();
            let times: Vec<Seconds> = times.into_iter().map(ms).collect();
            let (most, _) = most_in_one_second(&times).unwrap();
            assert_eq!(most.to_string(), row[1], "{row:?}");
            assert_eq!(most <= MOST_IN_ONE_SECOND, &row[2] == "yes", "{row:?}");
            checked += 1;
        }
        assert_eq!(checked, 6);
        assert_eq!(most_in_one_second(&[]), None);
    }

    #[test]
    fn light_that_goes_out_and_comes_back_is_one_flash() {
        let mut quay = lantern_quay();
        let light = |number, thousandths: i64, dark| {
            let go = when(Moment::At(ms(thousandths)), 0);
            Cue { dark, ..cue(Crew::Light, number, Some(go), Trigger::Called, "flick") }
        };
        // Bright, dark, dark again, bright, dark, bright.
        quay.cues = vec![
            light(1, 0, false),
            light(2, 200, true),
            light(3, 300, true),
            light(4, 400, false),
            light(5, 600, true),
            light(6, 800, false),
        ];
        let act = compiled(&quay);
        let calls: Vec<&Call> = act.calls.calls.iter().collect();
        let [first, second] = from_go_to_go(&act, &calls);
        assert_eq!(first, [(0, time(0)), (3, time(400))]);
        assert_eq!(second, [(1, time(200)), (4, time(600))]);
    }
}
