//! Words that the checks of colours share: to whom, under what, and which colour would read.

use crate::appearance::reading::Differences;
use crate::appearance::vision::Vision;
use crate::diagnostic::words::{all_of, counted};
use crate::diagnostic::{Diagnostic, Edit, Help};
use crate::measure::appearance::{SetInUse, sets};
use crate::measure::replacement::{By, Replacement};
use crate::routine::Cue;

use super::Case;

/// Stands under every finding.
pub(super) const ESTIMATE: &str = "differences are CIEDE2000, other colour vision after Machado et al. 2009; below 10 two \
     colours look alike from a seat. An estimate: try the props under the real light";

/// The most of a kind that one message lists.
pub(super) const MOST_NAMED: usize = 3;

/// Adds the further cues under whose light something is so, each with its words; of many the first.
pub(super) fn under_more_lights<'c>(
    mut diagnostic: Diagnostic,
    more: impl ExactSizeIterator<Item = (&'c Cue, String)>,
) -> Diagnostic {
    let rest = more.len().saturating_sub(MOST_NAMED);
    for (cue, whom) in more.take(MOST_NAMED) {
        let Some(light) = &cue.light else { continue };
        let text = format!("under {} too, to {whom}", light_of(cue));
        diagnostic = diagnostic.note_at(light.at.clone(), text);
    }
    if rest == 0 {
        return diagnostic;
    }
    diagnostic.note(format!("and under the light of {}", counted(rest as u64, "more cue")))
}

/// The sets as they are seen.
pub(super) fn sets_seen(case: &Case<'_>) -> Vec<SetInUse> {
    sets(case.act)
}

/// To whom, with the figures: `people with deutan vision (6.2)`.
pub(super) fn whom(differences: &Differences, who: &[Vision]) -> String {
    let figure = |vision: &Vision| format!("{:.1}", differences.to(*vision));
    if who.len() == Vision::ALL.len() {
        let most = who.iter().map(|vision| differences.to(*vision)).fold(0.0, f64::max);
        let least = differences.least();
        return if format!("{most:.1}") == format!("{least:.1}") {
            format!("everyone ({least:.1})")
        } else {
            format!("everyone ({least:.1} to {most:.1})")
        };
    }
    let who: Vec<String> =
        who.iter().map(|vision| format!("{} ({})", vision.word(), figure(vision))).collect();
    format!("people with {} vision", all_of(&who))
}

/// The light of a cue: `the light of LX 30`.
pub(super) fn light_of(cue: &Cue) -> String {
    match &cue.number {
        Some(_) => format!("the light of {}", cue.label()),
        None => format!("the light of this {} cue", cue.label()),
    }
}

/// A colour to take instead, with the changes of the file that take it.
pub(super) fn instead(case: &Case<'_>, set: &SetInUse, found: &Replacement) -> Help {
    let colour = |index: usize| &case.routine().colours[index];
    let old = colour(found.old);
    let (name, set_name) = (&old.name.value, &case.routine().sets[set.set].name.value);
    let behind = if case.routine().backdrop.is_some() { " and from the backdrop" } else { "" };
    let under = if set.lights.is_empty() {
        ""
    } else if found.under_lights {
        ", and is told apart under the cues' lights too"
    } else {
        ", in white light"
    };
    let reads = format!(
        "it is at least {:.1} from every other colour{behind}, to every vision{under}",
        found.least
    );
    match found.by {
        By::Own(new) => {
            let new = &colour(new).name.value;
            let text = format!("juggle \"{set_name}\" with \"{new}\" for \"{name}\": {reads}");
            let written = format!("{new:?}");
            Help::new(text, renamed(case, set, name, &written))
        }
        By::Named(css, rgb) => {
            let text = format!("give \"{name}\" another look, such as {css} ({rgb}): {reads}");
            Help::edit(text, old.at.clone(), format!("{css:?}"))
        }
    }
}

/// Another name for a colour of a set, wherever the set and its sections write it.
fn renamed(case: &Case<'_>, set: &SetInUse, name: &str, written: &str) -> Vec<Edit> {
    let props = &case.routine().sets[set.set];
    let props = props.colours.iter().chain(&props.backs);
    let sections =
        set.sections.iter().filter_map(|&section| case.routine().score.get(section)?.juggle());
    let in_sections = sections.flat_map(|juggle| {
        let loading = juggle.written_loading();
        let loading = loading.into_iter().flat_map(|hands| hands.right.iter().chain(&hands.left));
        let caught = juggle.seen.caught.iter().map(|caught| &caught.colour);
        juggle.seen.shows.iter().flat_map(|shown| &shown.colours).chain(loading).chain(caught)
    });
    let all = props.chain(in_sections).filter(|colour| colour.value == name);
    let mut edits: Vec<Edit> =
        all.map(|colour| Edit { at: colour.at.clone(), insert: written.to_owned() }).collect();
    edits.sort_by(|a, b| a.at.cmp(&b.at));
    edits
}
