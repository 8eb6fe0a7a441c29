//! Numbers for inserts: the gap first, then tenths. Common practice, no source.

use std::collections::BTreeSet;

use crate::routine::CueNumber;

/// The step that numbers leave at the end of a list.
const STEP: u32 = 5;
/// The highest number there is.
const HIGHEST: u32 = 99_999;

/// A free number between those of the cues before and after it on its crew's list (`None` at its
/// ends): the whole number in the middle of the gap, else the tenth in its middle, else whichever
/// is free. `trigger` are the numbers that were ever used. `None` where nothing is free.
///
/// Worked: between 15 and 20 it is 17, then 16; between 15 and 16 it is 15.5.
#[must_use]
pub fn between(
    before: Option<CueNumber>,
    after: Option<CueNumber>,
    taken: &BTreeSet<CueNumber>,
) -> Option<CueNumber> {
    let Some(after) = after else { return next(before, taken) };
    let low = before.map_or(0, |before| before.tenths);
    let high = after.tenths;
    let free = |tenths: &u32| !taken.contains(&CueNumber { tenths: *tenths });
    let inside = |step: u32| {
        let numbers = (low / step + 1)..high.div_ceil(step);
        let numbers = numbers.map(move |number| number * step);
        numbers.filter(|tenths| *tenths > low && *tenths < high).filter(free)
    };
    // The middle is a little below where it falls between two.
    let middle = low.midpoint(high);
    let nearest = |step| inside(step).min_by_key(|tenths| (tenths.abs_diff(middle), *tenths));
    let tenths = nearest(10).or_else(|| nearest(1))?;
    Some(CueNumber { tenths })
}

/// The next step after the last number of a list and after every number that was ever used.
fn next(before: Option<CueNumber>, taken: &BTreeSet<CueNumber>) -> Option<CueNumber> {
    let last = taken.last().copied().into_iter().chain(before).max();
    let whole = last.map_or(0, |last| last.tenths / 10) / STEP * STEP + STEP;
    (whole <= HIGHEST).then_some(CueNumber { tenths: whole * 10 })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tenths(tenths: u32) -> CueNumber {
        CueNumber { tenths }
    }

    #[test]
    fn an_insert_takes_the_middle_of_the_gap_then_its_neighbours_then_tenths() {
        for (before, after, taken, expected) in [
            (Some(150), Some(200), vec![150, 200], Some(170)),
            (Some(150), Some(200), vec![150, 170, 200], Some(180)),
            (Some(150), Some(200), vec![150, 160, 170, 180, 190, 200], Some(175)),
            (Some(150), Some(160), vec![150, 160], Some(155)),
            (Some(150), Some(160), vec![150, 155, 160], Some(154)),
            (Some(150), Some(160), (150..=160).collect(), None),
            (Some(155), Some(156), vec![155, 156], None),
            (None, Some(50), vec![50], Some(20)),
            (None, Some(10), vec![10], Some(5)),
            (None, Some(0), vec![0], None),
            (Some(500), None, vec![500], Some(550)),
            (Some(520), None, vec![520], Some(550)),
            (Some(150), None, vec![150, 700], Some(750)),
            (None, None, vec![], Some(50)),
            // A list that does not climb has no gap.
            (Some(200), Some(150), vec![150, 200], None),
            (Some(999_990), None, vec![999_990], None),
        ] {
            let taken: BTreeSet<CueNumber> = taken.into_iter().map(tenths).collect();
            let found = between(before.map(tenths), after.map(tenths), &taken);
            assert_eq!(found, expected.map(tenths), "{before:?} {after:?} {taken:?}");
        }
    }
}
