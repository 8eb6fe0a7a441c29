//! Space, floor, height and backdrop; light and dark.

use crate::act::Act;
use crate::appearance::reading::Verdict;
use crate::diagnostic::words::all_of;
use crate::measure::height::{flights_known, highest, metres_and_feet};
use crate::routine::{Crew, Cue, Venue};

use super::super::appearance::{AgainstLine, AppearanceSheet, compose as appearance};
use super::super::loading::section_name;
use super::super::words::{plain, quoted};
use super::{Fact, known};

pub(super) fn stage(act: &Act, venue: &Venue) -> Vec<Fact> {
    let mut facts = vec![
        Fact::one("width", venue.width.map(metres_and_feet)),
        Fact::one("depth", venue.depth.map(metres_and_feet)),
        Fact::written("floor", venue.floor.as_ref()),
    ];
    facts.extend(heights(act));
    facts.push(Fact::written("where the room is too low", venue.low_room.as_ref()));
    let appearance = appearance(act);
    let backdrop = appearance.backdrop.as_ref().map(|backdrop| {
        let rgb = backdrop.rgb.to_string();
        match backdrop.name.eq_ignore_ascii_case(&rgb) {
            true => rgb,
            false => format!("{} ({rgb})", backdrop.name),
        }
    });
    facts.push(Fact::one("backdrop", backdrop));
    if appearance.backdrop.is_some() {
        facts.push(Fact::new("props in front of it", in_front(act, &appearance)));
    }
    facts
}

/// The highest throw of an act and its encore, from the hand to the top of the prop.
struct Top {
    /// In metres above the hand.
    metres: f64,
    throw: String,
    section: String,
}

/// What the act needs overhead, what there is, and a blank for what is measured.
fn heights(act: &Act) -> [Fact; 3] {
    let needs = match top(act) {
        None => Vec::new(),
        Some(None) => vec!["nothing is thrown".to_owned()],
        Some(Some(top)) => needs(act, &top),
    };
    let room = act.routine.room.as_ref();
    let there_is = room.map(|room| {
        let clear = metres_and_feet(room.clear_height.value);
        let left =
            top(act).flatten().map(|top| room.clear_height.value - room.hands_at - top.metres);
        match left {
            Some(left) if left < 0.0 => format!("{clear} as written: {:.2} m TOO LOW", -left),
            Some(left) if left < room.margin => {
                format!("{clear} as written: leaves {left:.2} m, LESS THAN THE MARGIN")
            }
            Some(left) => format!("{clear} as written: leaves {left:.2} m"),
            None => format!("{clear} as written"),
        }
    });
    [
        Fact::new("clear height that the act needs", needs),
        Fact::one("clear height that there is", there_is),
        Fact::one("clear height measured here, to the lowest thing overhead", None),
    ]
}

fn needs(act: &Act, top: &Top) -> Vec<String> {
    let whose = format!("the {} of {}, half a prop on top", top.throw, quoted(&top.section));
    let estimate = "An estimate from the time in the air.".to_owned();
    let Some(room) = &act.routine.room else {
        let above = metres_and_feet(top.metres);
        return vec![
            format!("{above} above the hands: {whose}; how high the hands are is not written"),
            estimate,
        ];
    };
    let needed = room.hands_at + top.metres;
    vec![
        format!("{}: {whose}, hands at {:.2} m", metres_and_feet(needed), room.hands_at),
        format!(
            "{} with the margin of {:.2} m",
            metres_and_feet(needed + room.margin),
            room.margin
        ),
        estimate,
    ]
}

/// The highest throw; inner `None` where nothing is thrown, outer where an error leaves it unknown.
fn top(act: &Act) -> Option<Option<Top>> {
    let mut best: Option<Top> = None;
    if act.routine.hidden.encore {
        return None;
    }
    for one in act.with_encore() {
        for (index, _, span) in one.sections() {
            if span.hides_throws {
                return None;
            }
            let Some(juggle) = &span.juggle else { continue };
            if !flights_known(one, index) || !juggle.beats_known || !juggle.way_known {
                return None;
            }
            let Some(highest) = highest(&one.timeline, index) else { continue };
            let run = one.timeline.runs.get(juggle.run)?;
            let prop = one.routine.sets.get(run.set)?;
            let metres = highest.above_hand_m + prop.length / 2.0;
            if best.as_ref().is_none_or(|best| metres > best.metres) {
                let throw = highest.action.throw.to_string();
                best = Some(Top { metres, throw, section: section_name(&one.routine, index) });
            }
        }
    }
    Some(best)
}

/// How the colours of the juggled sets read in front of the backdrop, in white light and in each
/// coloured one.
fn in_front(act: &Act, sheet: &AppearanceSheet) -> Vec<String> {
    let juggled = || sheet.sets.iter().filter(|set| set.is_juggled);
    let mut says = Vec::new();
    let mut white: Vec<&AgainstLine> = Vec::new();
    for line in juggled().flat_map(|set| &set.against) {
        if white.iter().all(|known| known.colour != line.colour) {
            white.push(line);
        }
    }
    says.extend(verdicts(&white).map(|words| format!("in white light: {words}")));
    let mut reads_in: Vec<String> = Vec::new();
    let hidden = !act.cues_known();
    let lights_known = sheet.lights_known && !hidden;
    for light in juggled().filter(|_| lights_known).flat_map(|set| &set.lights) {
        let against: Vec<&AgainstLine> = light.against.iter().collect();
        let reads = |line: &AgainstLine| line.differences.verdict() == Verdict::Reads;
        match against.iter().all(|line| reads(line)) {
            true => reads_in.extend(light.cues.iter().filter(|_| !against.is_empty()).cloned()),
            false => says.extend(
                verdicts(&against)
                    .map(|words| format!("in the light of {}: {words}", all_of(&light.cues))),
            ),
        }
    }
    if !reads_in.is_empty() {
        says.push(format!("in the light of {}: all read", all_of(&reads_in)));
    }
    if !says.is_empty() {
        says.push("Estimates: try the props in front of it.".to_owned());
    }
    says
}

/// As in `lamp and foam read, hull is close, weed is ALIKE`; `None` for no colours.
fn verdicts(lines: &[&AgainstLine]) -> Option<String> {
    let of = |verdict: Verdict| {
        let names = lines.iter().filter(|line| line.differences.verdict() == verdict);
        let names: Vec<String> = names.map(|line| line.colour.clone()).collect();
        let is = if names.len() == 1 { "is" } else { "are" };
        let reads = if names.len() == 1 { "reads" } else { "read" };
        (!names.is_empty()).then(|| match verdict {
            Verdict::Reads => format!("{} {reads}", all_of(&names)),
            Verdict::Close | Verdict::Alike => {
                format!("{} {is} {} to it", all_of(&names), verdict.word())
            }
        })
    };
    let words: Vec<String> =
        [Verdict::Reads, Verdict::Close, Verdict::Alike].into_iter().filter_map(of).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

pub(super) fn light(act: &Act, venue: &Venue) -> Vec<Fact> {
    vec![
        Fact::written("light from", venue.light.as_ref()),
        Fact::new("cues", crews(act)),
        Fact::new("dark", darks(act)),
        Fact::written("where it cannot be dark", venue.no_blackout.as_ref()),
    ]
}

/// How many cues each crew has, as in `light (LX): 11`.
fn crews(act: &Act) -> Vec<String> {
    let all = || act.with_encore().flat_map(|act| &act.routine.cues);
    let of = |crew: Crew| {
        let number = all().filter(|cue| cue.crew.value == crew).count();
        (number > 0).then(|| format!("{number} for {} ({})", crew.word(), crew.label()))
    };
    let words: Vec<String> = Crew::ALL.into_iter().filter_map(of).collect();
    let hidden = !act.cues_known();
    match (words.is_empty(), hidden) {
        (_, true) => Vec::new(),
        (true, false) => vec!["none".to_owned()],
        (false, false) => vec![words.join(", ")],
    }
}

/// The cues on which the stage goes dark.
fn darks(act: &Act) -> Vec<String> {
    let mut says = Vec::new();
    for one in act.with_encore() {
        for call in &one.calls.calls {
            let cue = one.routine.cues.get(call.cue);
            let Some(cue) = cue.filter(|cue| cue.dark && cue.crew.value == Crew::Light) else {
                continue;
            };
            let at = known(&call.go.range()).map(|at| format!(" at {at}")).unwrap_or_default();
            let of_encore = if one.routine.is_encore { " of the encore" } else { "" };
            says.push(plain(&format!("{}{of_encore}{at}", Cue::label(cue))));
        }
    }
    let hidden = !act.cues_known();
    // Where a cue could not be read, it may be one more.
    match (says.is_empty(), act.errors > 0) {
        _ if hidden => Vec::new(),
        (true, false) => vec!["never, by its cues".to_owned()],
        (true, true) => Vec::new(),
        (false, _) => vec![format!("goes dark on {}", all_of(&says))],
    }
}
