//! The state of every desk after each cue: which cue it is in.
//!
//! Whoever has lost the place after a drop finds here what every desk should be showing.

use std::collections::BTreeMap;

use crate::routine::Desk;

use super::cues::{CueLine, CueSheet};

/// The desks after a cue.
#[derive(Clone, Debug, PartialEq)]
pub struct State<'a> {
    /// The cue.
    pub after: &'a CueLine,
    /// The cue that each desk is in then, in the order of the desks; one that has had none yet is
    /// left out.
    pub desks: Vec<&'a CueLine>,
}

/// The state after each cue of a sheet, those of the encore last: the act leaves the desks as the
/// encore finds them.
#[must_use]
pub fn states(sheet: &CueSheet) -> Vec<State<'_>> {
    let mut desks: BTreeMap<Desk, &CueLine> = BTreeMap::new();
    let after = |line| {
        let line: &CueLine = line;
        desks.insert(line.desk, line);
        State { after: line, desks: desks.values().copied().collect() }
    };
    sheet.all_lines().map(after).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};
    use crate::sheet::cues::compose;

    #[test]
    fn after_each_cue_every_desk_is_in_its_last_one() {
        let quay = lantern_quay();
        let sheet = compose(&quay, &compiled(&quay), None);
        let labels = |state: &State<'_>| {
            let desks = state.desks.iter().map(|line| line.label.clone());
            (state.after.label.clone(), desks.collect::<Vec<_>>().join(" "))
        };
        let states: Vec<_> = states(&sheet).iter().map(labels).collect();
        let expected = [
            ("HOUSE", "HOUSE"),
            ("LX 15", "HOUSE LX 15"),
            ("LX 20", "HOUSE LX 20"),
            ("LX 25", "HOUSE LX 25"),
        ];
        assert_eq!(states, expected.map(|(after, desks)| (after.to_owned(), desks.to_owned())));
    }
}
