//! Two colours that a section tells apart and part of the audience does not.

use crate::appearance::reading::Differences;
use crate::appearance::vision::Vision;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::all_of;
use crate::measure::appearance::SetInUse;
use crate::measure::replacement::in_set;
use crate::measure::told_apart::ToldApart;

use super::colour_words::{ESTIMATE, instead, sets_seen, whom};
use super::{Case, Check, Finds};

/// A routine in which one ball of `531` is seen among two others.
macro_rules! alike {
    ($grass:literal) => {
        concat!(
            r##"Routine(
    title: "Example",
    lead: Right,
    tempo: PerMinute(200),
    zero: FirstThrow,
    colours: { "brick": "#c05020", "grass": ""##,
            $grass,
            r##"", "ink": "#1d2a5a" },
    sets: { "three": Set(kind: Ball, length: 0.072, colours: ["brick", "grass", "ink"]) },
    score: [
        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            loading: Hands(right: ["grass", "ink"], left: ["brick"]), shows: { 2: ["brick"] }),
    ],
)
"##
        )
    };
}
pub(super) const CHECK: Check = Check {
    code: "colours-look-alike",
    what: "Colours that a section tells apart differ enough to be told apart from a seat, by people \
           with another colour vision too.",
    why: "An effect of one colour is none for who sees two alike; red and green meet for some 8 % \
          of men (from memory, no source).",
    raises: alike!("#7a7d22"),
    mended: alike!("#f4f1e6"),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let sets = sets_seen(case);
    let mut found = Vec::new();
    for set in &sets {
        for (told, sections) in pairs(set) {
            found.extend(diagnostic(case, &sets, set, told, &sections));
        }
    }
    found
}

/// The pairs that the sections of a set tell apart, each once, with these sections.
pub(super) fn pairs(set: &SetInUse) -> Vec<(&ToldApart, Vec<usize>)> {
    let mut pairs: Vec<(&ToldApart, Vec<usize>)> = Vec::new();
    for (section, told) in &set.told {
        let same = |one: &ToldApart| {
            (one.shown, one.other) == (told.shown, told.other)
                || (one.other, one.shown) == (told.shown, told.other)
        };
        match pairs.iter_mut().find(|(one, _)| same(one)) {
            Some((_, sections)) => sections.push(*section),
            None => pairs.push((told, vec![*section])),
        }
    }
    pairs
}

fn diagnostic(
    case: &Case<'_>,
    sets: &[SetInUse],
    set: &SetInUse,
    told: &ToldApart,
    sections: &[usize],
) -> Option<Diagnostic> {
    let [shown, other] = [told.shown, told.other].map(|colour| &case.routine().colours[colour]);
    let differences = Differences::between(shown.rgb, other.rgb);
    let alike: Vec<Vision> = differences.alike_to().collect();
    if alike.is_empty() {
        return None;
    }
    let written = &case.routine().sets[set.set];
    let (one, two) = (&shown.name.value, &other.name.value);
    let message = if shown.rgb == other.rgb {
        format!(
            "\"{one}\" and \"{two}\" of \"{}\" are one colour, {}",
            written.name.value, shown.rgb
        )
    } else {
        format!(
            "\"{one}\" and \"{two}\" of \"{}\" look alike to {}",
            written.name.value,
            whom(&differences, &alike)
        )
    };
    let at = written.colours.iter().find(|colour| colour.value == *two)?.at.clone();
    let mut names: Vec<String> = sections
        .iter()
        .map(|&section| format!("\"{}\"", case.section(section).name.value))
        .collect();
    if names.len() > 3 {
        let more = names.len() - 2;
        names.truncate(2);
        names.push(format!("{more} more sections"));
    }
    let tells = format!(
        "{} {} one of them, so they must be told apart",
        all_of(&names),
        if sections.len() == 1 { "shows" } else { "show" }
    );
    let mut diagnostic = Diagnostic::warning(CHECK.code, at, message)
        .label(format!("like {one}"))
        .note_at(told.at.clone(), tells);
    if shown.rgb != other.rgb {
        diagnostic = diagnostic.note(ESTIMATE);
    }
    Some(match in_set(case.routine(), sets, set, &[told.other, told.shown]) {
        Some(found) => {
            diagnostic.helps.push(instead(case, set, &found));
            diagnostic
        }
        None => diagnostic.help(
            "choose colours of different lightness, which everybody can tell apart, and mark the \
             prop by more than its colour",
        ),
    })
}
