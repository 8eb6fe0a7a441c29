//! Props of a kind that speaks of fire or of blades, and do not say whether they are any.

use crate::diagnostic::Diagnostic;
use crate::routine::{PropKind, has_word};

use super::{Case, Check, Finds};

/// Words of props that burn or cut.
const WORDS: [&str; 26] = [
    "fire", "flame", "flames", "flaming", "torch", "torches", "burning", "wick", "wicks", "sword",
    "swords", "blade", "blades", "knife", "knives", "axe", "axes", "machete", "machetes", "dagger",
    "daggers", "sabre", "sabres", "scythe", "sickle", "chainsaw",
];

pub(super) const CHECK: Check = Check {
    code: "danger-unsaid",
    what: "A set whose kind speaks of fire or blades says `danger: Fire`, `danger: Blades` or \
           `danger: Nothing`.",
    why: "Light for fire and blades, burns and cautions hang on it. What does not say that it is \
          dangerous is checked as if it were balls.",
    raises: r##"Routine(
    title: "Example",
    tempo: PerMinute(200),
    colours: { "coral": "#ec6a5c" },
    sets: {
        "three": Set(kind: Other("fire staff"), length: 1.2, colours: ["coral", "coral", "coral"]),
    },
    score: [Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20))],
)
"##,
    mended: r##"Routine(
    title: "Example",
    tempo: PerMinute(200),
    colours: { "coral": "#ec6a5c" },
    sets: {
        "three": Set(kind: Other("fire staff"), length: 1.2, danger: Fire,
            colours: ["coral", "coral", "coral"]),
    },
    score: [Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20))],
)
"##,
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    // The encore has the same sets.
    if case.routine().is_encore {
        return Vec::new();
    }
    let sets = case.routine().sets.iter();
    let unsaid = sets.filter(|set| set.danger.is_none() && !set.is_dangerous());
    let found = unsaid.filter_map(|set| {
        let PropKind::Other(kind) = &set.kind else { return None };
        if !has_word(kind, &WORDS) {
            return None;
        }
        let message =
            format!("\"{}\" is of the kind \"{kind}\": does it burn or cut?", set.name.value);
        Some(
            Diagnostic::warning(CHECK.code, set.name.at.clone(), message)
                .label("dangerous or not?")
                .help("if it does, write `danger: Fire` or `danger: Blades`, and it is checked")
                .help("if it does not, write `danger: Nothing`"),
        )
    });
    found.collect()
}
