//! What a light that comes up finds: where on stage, and how high the throws go.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::act::calls::Call;
use crate::diagnostic::words::either;
use crate::measure::height::{flights_known, highest};
use crate::routine::{Crew, Cue, SpotMove, words_of};
use crate::time::Seconds;

use super::words::{plain, quoted};

/// What the followspot, or a light that comes up, picks up at a cue's GO, as in `pick up "beam":
/// centre; highest 2.4 m above the hands`: of the section that is juggled then, else of the next.
/// Where open lengths leave it open which one that is, of all that it may be. `None` for a cue that
/// picks nothing up, and where nothing is juggled any more.
pub(super) fn pick_up(act: &Act, call: &Call, cue: &Cue, ends_dark: bool) -> Option<String> {
    let sections = juggled_at(act, call)?;
    let is_light = cue.crew.value == Crew::Light && !cue.dark;
    let comes_up = cue.spot == Some(SpotMove::Up)
        || is_light && (ends_dark || cue.light.is_some() || names_place(act, &sections, cue));
    if !comes_up || sections.is_empty() {
        return None;
    }
    let name = |index: &usize| act.routine.score.get(*index).map(|one| quoted(&one.name.value));
    let names: Vec<String> = sections.iter().filter_map(name).collect();
    let place = |index: &usize| act.juggle(*index)?.place.as_deref().map(plain);
    let places: BTreeSet<String> = sections.iter().filter_map(place).collect();
    let places: Vec<String> = places.into_iter().collect();
    let height = |index: &usize| {
        let known = flights_known(act, *index);
        highest(&act.timeline, *index).filter(|_| known).map(|highest| highest.above_hand_m)
    };
    // Where the height of one is not known, none is told: it may be the highest.
    let heights: Option<Vec<f64>> = sections.iter().map(height).collect();
    let highest = heights.and_then(|heights| heights.into_iter().reduce(f64::max));
    let mut found: Vec<String> = Vec::new();
    found.extend((!places.is_empty()).then(|| either(&places)));
    found.extend(highest.map(|metres| format!("highest {metres:.1} m above the hands")));
    (!found.is_empty()).then(|| format!("pick up {}: {}", either(&names), found.join("; ")))
}

/// The sections, one of which is juggled at a GO, or is the next; `None` where an error leaves that
/// unknown.
fn juggled_at(act: &Act, call: &Call) -> Option<Vec<usize>> {
    let mut sections = Vec::new();
    for (index, section, span) in act.sections() {
        let left = &span.ends - &call.go;
        if left.is_unknown() || section.unread().is_some() {
            return None;
        }
        if section.juggle().is_none() || left.most() <= Seconds::zero() {
            continue;
        }
        sections.push(index);
        if left.least() > Seconds::zero() {
            break;
        }
    }
    Some(sections)
}

/// Whether a cue's words name the place of one of these sections.
fn names_place(act: &Act, sections: &[usize], cue: &Cue) -> bool {
    let does: Vec<String> = words_of(&cue.does.value.words()).collect();
    let places = sections.iter().filter_map(|index| act.juggle(*index)?.place.as_deref());
    places.into_iter().any(|place| {
        let place: Vec<String> = words_of(place).collect();
        !place.is_empty() && does.windows(place.len()).any(|words| words == place)
    })
}
