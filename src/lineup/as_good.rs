//! Which looks are as good as each other from some section on.

use std::collections::BTreeSet;

use crate::routine::{Routine, Section};
use crate::timeline::Face;

use super::demand::{Requirement, Wanted, about};
use super::looks::{LookMask, Looks};

/// For each section, set and look: the looks from which the routine asks the same, from that
/// section on (the look itself is one of them).
pub(super) fn as_good_as(
    routine: &Routine,
    requirements: &[Requirement],
    looks: &[Looks],
) -> Vec<Vec<Vec<LookMask>>> {
    let ordered =
        |section: &Section| section.juggle().is_some_and(|juggle| juggle.loading.is_some());
    let last_loading = routine.score.iter().rposition(ordered);
    // What is asked of each section; what is asked of none of them is asked of all.
    let mut of_section: Vec<Vec<Requirement>> = vec![Vec::new(); routine.score.len() + 1];
    for &asked in requirements {
        let last = routine.score.len();
        of_section[about(routine, asked).unwrap_or(last).min(last)].push(asked);
    }
    let mut colours: BTreeSet<usize> = BTreeSet::new();
    let mut all = false;
    let mut from_behind: Vec<Vec<Vec<LookMask>>> = Vec::with_capacity(of_section.len());
    for (section, asked) in of_section.iter().enumerate().rev() {
        let before = (colours.len(), all);
        for asked in asked {
            let seen = routine.juggle(asked.section).map(|juggle| &juggle.seen);
            match (asked.wanted, seen) {
                (Wanted::Shown(index), Some(seen)) => {
                    let named = seen.shows.get(index).into_iter().flat_map(|list| &list.colours);
                    colours.extend(named.filter_map(|name| routine.colour(&name.value)));
                }
                (Wanted::Caught(index), Some(seen)) => {
                    let named = seen.caught.get(index).map(|caught| &caught.colour.value);
                    colours.extend(named.and_then(|name| routine.colour(name)));
                }
                _ => all = true,
            }
        }
        all |= last_loading.is_some_and(|last| last >= section);
        if let Some(behind) = from_behind.last().filter(|_| (colours.len(), all) == before) {
            let same = behind.clone();
            from_behind.push(same);
            continue;
        }
        let one = |looks: &Looks| {
            let alike = |look: usize| -> Vec<bool> {
                let faces = [Face::Front, Face::Back];
                let shown = faces
                    .iter()
                    .flat_map(|&face| colours.iter().map(move |&c| looks.showing(c, face)));
                shown.map(|mask| mask >> look & 1 == 1).collect()
            };
            let first = |look: usize| (0..look).find(|&other| alike(other) == alike(look));
            let rep = |look: usize| if all { look } else { first(look).unwrap_or(look) };
            (0..looks.len()).map(|look| 1 << rep(look)).collect()
        };
        from_behind.push(looks.iter().map(one).collect());
    }
    from_behind.reverse();
    from_behind
}
