//! Flashes: how many there are in any one second.
//!
//! A flash is a pair of opposing changes of the light; more than three of them in any one second
//! is past the line of WCAG 2.2, SC 2.3.1, which is used here as a conservative one. It clears
//! nothing. A *burst* is light that flashes by a cue's own rate, until a cue of its crew that does
//! not.

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

/// Light that flashes from a cue on.
#[derive(Clone, Debug, PartialEq)]
pub struct Burst {
    /// The cue, as an index into the routine.
    pub cue: usize,
    /// Flashes a second.
    pub rate: f64,
    /// GO of that cue.
    pub from: Time,
    /// The cue that ends it at the latest; `None` where none surely does, and it may go on past the
    /// act's end.
    pub until: Option<usize>,
    /// The longest that it lasts, in seconds: to that cue, or to the act's end; `None` where an error
    /// leaves that unknown.
    pub longest: Option<Seconds>,
}

/// Every burst of an act, in order of GO. One that goes on into another has that one's end.
#[must_use]
pub fn bursts(act: &Act) -> Vec<Burst> {
    let crew = |call: &Call| act.routine.cues.get(call.cue).map(|cue| cue.crew.value);
    let calls = &act.calls.calls;
    let burst = |call: &Call| {
        let rate = act.routine.cues.get(call.cue)?.flashes.as_ref()?.value;
        let ends = calls.iter().filter(|other| {
            crew(other) == crew(call) && is_steady(act, other) && call.always_comes_before(other)
        });
        let most = |to: &Time| Some(to - &call.go).filter(|lasts| !lasts.is_unknown());
        let ends: Vec<(Option<usize>, Seconds)> =
            ends.filter_map(|other| Some((Some(other.cue), most(&other.go)?.most()))).collect();
        let first = ends.into_iter().reduce(|first, one| if one.1 < first.1 { one } else { first });
        // A cue after the end flashes for nobody knows how long.
        let to_the_end = || {
            let lasts = most(act.timeline.ends()?)?.most();
            (!lasts.is_negative()).then_some((None, lasts))
        };
        let (until, longest) =
            first.or_else(to_the_end).map_or((None, None), |(until, longest)| {
                (until, Some(longest).filter(|_| act.times_known))
            });
        Some(Burst { cue: call.cue, rate, from: call.go.clone(), until, longest })
    };
    calls.iter().filter_map(burst).collect()
}

/// Whether the light of a cue does not flash by itself.
fn is_steady(act: &Act, call: &Call) -> bool {
    let flashes = act.routine.cues.get(call.cue).and_then(|cue| cue.flashes.as_ref());
    flashes.is_none()
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
    /// Each burst as its cue, its end and the longest that it lasts.
    fn bursts_of(cues: &str) -> Vec<(String, Option<String>, f64)> {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), zero: Start(\"in\"), colours: {{ \"a\": \
             \"red\" }}, sets: {{ \"3\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) \
             }}, score: [Pause(name: \"in\", lasts: For(\"0:10\")), Pause(name: \"wait\", lasts: \
             Between(\"0:02\", \"0:09\")), Pause(name: \"out\", lasts: For(\"0:10\"))], cues: [{cues}])"
        );
        let opened = crate::open(&text);
        assert_eq!(opened.errors(), 0, "{:?}", opened.diagnostics);
        let act = opened.act.unwrap();
        let label = |cue: usize| act.routine.cues[cue].label();
        let told = |burst: Burst| {
            (label(burst.cue), burst.until.map(label), burst.longest.unwrap().to_f64())
        };
        bursts(&act).into_iter().map(told).collect()
    }

    fn light(number: u32, at: &str, says: &str) -> String {
        format!(
            "Cue(crew: Light, number: {number}, at: {at}, trigger: Called, does: \"x\", count: 1, {says}),"
        )
    }

    #[test]
    fn a_burst_lasts_until_a_cue_of_its_crew_that_does_not_flash() {
        let strobe = light(5, "At(\"0:01\")", "flashes: 2.0");
        let spot =
            strobe.replace("Light, number: 5", "Spot, number: 1").replace("flashes: 2.0", "");
        let lx = |number: u32| format!("LX {number}");
        for (cues, expected) in [
            (strobe.clone(), vec![(lx(5), None, 28.0)]),
            (
                strobe.clone() + &spot + &light(6, "At(\"0:05.5\")", ""),
                vec![(lx(5), Some(lx(6)), 4.5)],
            ),
            // Of two that end it the first counts.
            (
                strobe.clone() + &light(6, "At(\"0:05\")", "") + &light(7, "At(\"0:07\")", ""),
                vec![(lx(5), Some(lx(6)), 4.0)],
            ),
            // It goes on faster.
            (
                strobe.clone()
                    + &light(6, "At(\"0:05\")", "flashes: 3")
                    + &light(7, "At(\"0:07\")", ""),
                vec![(lx(5), Some(lx(7)), 6.0), (lx(6), Some(lx(7)), 2.0)],
            ),
            // What ends it hangs on an open length: at the latest.
            (strobe.clone() + &light(6, "Start(\"out\")", ""), vec![(lx(5), Some(lx(6)), 18.0)]),
            // It may come before: only the one that surely comes after ends it.
            (
                light(5, "At(\"0:15\")", "flashes: 2")
                    + &light(6, "Start(\"out\")", "")
                    + &light(7, "End(\"out\")", ""),
                vec![(lx(5), Some(lx(7)), 14.0)],
            ),
        ] {
            assert_eq!(bursts_of(&cues), expected, "{cues}");
        }
    }
}
