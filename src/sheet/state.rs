//! The state of every crew after each cue: which cue it is in.
//!
//! Whoever has lost the place after a drop finds here what every crew should be showing.

use std::collections::BTreeMap;

use crate::routine::Crew;

use super::cue_line::CueLine;
use super::cues::CueSheet;

/// The crews after a cue.
#[derive(Clone, Debug, PartialEq)]
pub struct State<'a> {
    /// The cue.
    pub after: &'a CueLine,
    /// The cue that each crew is in then, in the order of the crews; one that has had none yet is
    /// left out.
    pub crews: Vec<&'a CueLine>,
}

/// The state after each cue of a sheet, those of the encore last: the act leaves the crews as the
/// encore finds them.
#[must_use]
pub fn states(sheet: &CueSheet) -> Vec<State<'_>> {
    let mut crews: BTreeMap<Crew, &CueLine> = BTreeMap::new();
    let after = |line| {
        let line: &CueLine = line;
        // A timekeeper's signal leaves nothing to be in.
        if line.crew != Crew::Timekeeper {
            crews.insert(line.crew, line);
        }
        State { after: line, crews: crews.values().copied().collect() }
    };
    sheet.all_lines().map(after).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};
    use crate::sheet::cues::compose;

    #[test]
    fn after_each_cue_every_crew_is_in_its_last_one() {
        let quay = lantern_quay();
        let sheet = compose(&compiled(&quay), None);
        let labels = |state: &State<'_>| {
            let crews = state.crews.iter().map(|line| line.label.clone());
            (state.after.label.clone(), crews.collect::<Vec<_>>().join(" "))
        };
        let states: Vec<_> = states(&sheet).iter().map(labels).collect();
        let expected = [
            ("HOUSE", "HOUSE"),
            ("LX 15", "HOUSE LX 15"),
            ("LX 20", "HOUSE LX 20"),
            ("LX 25", "HOUSE LX 25"),
        ];
        assert_eq!(states, expected.map(|(after, crews)| (after.to_owned(), crews.to_owned())));
    }
}
