//! Names that the file gives and names that it speaks of: what is given twice, what is nowhere.
//!
//! Names are noted while values are read, so that a slip elsewhere in an entry hides neither its
//! own name nor the names in it. One function for each code.

use std::collections::{HashMap, HashSet};

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Crew, CueNumber};

use super::nearest::{nearest, one_of};
use super::tracks::TrackNames;

/// What has names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// An entry of the score.
    Section,
    /// A prop set.
    Set,
    /// A colour of the routine.
    Colour,
}

impl Kind {
    const ALL: [Kind; 3] = [Kind::Section, Kind::Set, Kind::Colour];

    fn word(self) -> &'static str {
        match self {
            Kind::Section => "section",
            Kind::Set => "set",
            Kind::Colour => "colour",
        }
    }
}

/// The names of a file.
#[derive(Default)]
pub(super) struct Names {
    /// Whether the encore is being read: its sections and cues are not the act's.
    pub(super) in_encore: bool,
    given: [Vec<Name>; 3],
    referred: [Vec<Name>; 3],
    /// Those of the act's music, and of its encore's.
    tracks: [TrackNames; 2],
    cues: Vec<(bool, Crew, CueNumber)>,
    followed: Vec<(bool, Crew, Placed<CueNumber>)>,
}

/// A name, and whether it stands in the encore.
struct Name {
    name: Placed<String>,
    in_encore: bool,
}

impl Names {
    /// Something has this name.
    pub(super) fn give(&mut self, kind: Kind, name: &Placed<String>) {
        let in_encore = self.in_encore;
        self.given[kind as usize].push(Name { name: name.clone(), in_encore });
    }

    /// Whether something has this name, so far.
    pub(super) fn gives(&self, kind: Kind, name: &str) -> bool {
        self.given[kind as usize].iter().any(|given| given.name.value == name)
    }

    /// Something speaks of this name.
    pub(super) fn refer(&mut self, kind: Kind, name: &Placed<String>) {
        let in_encore = self.in_encore;
        self.referred[kind as usize].push(Name { name: name.clone(), in_encore });
    }

    /// The names of the music that the part in hand has.
    pub(super) fn tracks(&mut self) -> &mut TrackNames {
        let [act, encore] = &mut self.tracks;
        if self.in_encore { encore } else { act }
    }

    /// A cue has this number.
    pub(super) fn give_cue(&mut self, crew: Crew, number: CueNumber) {
        self.cues.push((self.in_encore, crew, number));
    }

    /// A cue follows this one.
    pub(super) fn follow(&mut self, crew: Crew, number: Placed<CueNumber>) {
        self.followed.push((self.in_encore, crew, number));
    }

    /// Everything that is wrong with the names.
    pub(super) fn faults(&self) -> Vec<Diagnostic> {
        let mut faults = Vec::new();
        unknown_section(self, &mut faults);
        unknown_set(self, &mut faults);
        unknown_colour(self, &mut faults);
        faults.extend(TrackNames::faults(&self.tracks));
        follow_of_nothing(self, &mut faults);
        duplicate_name(self, &mut faults);
        faults
    }

    /// Reports the names of a kind that are spoken of and nowhere given.
    fn unknown(&self, kind: Kind, code: &'static str, faults: &mut Vec<Diagnostic>) {
        for in_encore in [false, true] {
            self.unknown_in(kind, in_encore, code, faults);
        }
    }

    /// The same, of what the act or the encore speaks of: sections and marks are known where they
    /// belong, sets and colours everywhere.
    fn unknown_in(
        &self,
        kind: Kind,
        in_encore: bool,
        code: &'static str,
        faults: &mut Vec<Diagnostic>,
    ) {
        let everywhere = matches!(kind, Kind::Set | Kind::Colour);
        let names = |here: bool| -> Vec<Placed<String>> {
            let given = self.given[kind as usize].iter();
            let given = given.filter(|name| (everywhere || name.in_encore == in_encore) == here);
            given.map(|name| name.name.clone()).collect()
        };
        let (here, elsewhere) = (names(true), names(false));
        let known =
            Known { here: &here, elsewhere: &elsewhere, in_encore: in_encore && !everywhere };
        let lookup: HashSet<&str> = here.iter().map(|name| name.value.as_str()).collect();
        let referred = self.referred[kind as usize].iter();
        for Name { name, .. } in referred.filter(|name| name.in_encore == in_encore) {
            if !lookup.contains(name.value.as_str()) {
                faults.extend(unknown_name(kind.word(), code, &known, name));
            }
        }
    }
}

/// A moment names a section that is not in the score.
fn unknown_section(names: &Names, faults: &mut Vec<Diagnostic>) {
    names.unknown(Kind::Section, "unknown-section", faults);
}

/// A section names a set that the routine does not have.
fn unknown_set(names: &Names, faults: &mut Vec<Diagnostic>) {
    names.unknown(Kind::Set, "unknown-set", faults);
}

/// A set, a loading or `shows` names a colour that the routine does not have.
fn unknown_colour(names: &Names, faults: &mut Vec<Diagnostic>) {
    names.unknown(Kind::Colour, "unknown-colour", faults);
}

/// A cue follows one that is not there.
fn follow_of_nothing(names: &Names, faults: &mut Vec<Diagnostic>) {
    for (in_encore, crew, number) in &names.followed {
        if names.cues.contains(&(*in_encore, *crew, number.value)) {
            continue;
        }
        let where_it_is = if *in_encore { " in the encore" } else { "" };
        let message =
            format!("the {crew:?} crew has no cue {} to follow{where_it_is}", number.value);
        let at = number.at.clone();
        let fault =
            Diagnostic::error("follow-of-nothing", at.clone(), message).label("no such cue");
        let of_crew = names.cues.iter().filter(|(part, of, _)| part == in_encore && of == crew);
        let there = of_crew.map(|(_, _, one)| *one);
        faults.push(match there.min_by_key(|one| one.tenths.abs_diff(number.value.tenths)) {
            Some(near) => fault.help_edit(
                format!("follow {near}, the nearest that there is"),
                at,
                near.to_string(),
            ),
            None => fault.help("give the cue that it follows a number"),
        });
    }
}

/// Two sections, sets, colours or marks have the same name.
fn duplicate_name(names: &Names, faults: &mut Vec<Diagnostic>) {
    for kind in Kind::ALL {
        let mut first: HashMap<&str, &Place> = HashMap::new();
        for Name { name, .. } in &names.given[kind as usize] {
            let Some(&there) = first.get(name.value.as_str()) else {
                first.insert(&name.value, &name.at);
                continue;
            };
            let word = kind.word();
            let message = format!("Two {word}s are called \"{}\".", name.value);
            let fault = Diagnostic::error("duplicate-name", name.at.clone(), message)
                .label("the second one")
                .note_at(there.clone(), "The first one is here.")
                .help("Give one of them another name.");
            faults.push(fault);
        }
    }
}

/// The names of one kind that may be meant.
pub(super) struct Known<'n> {
    /// Those of the part that speaks, the act or its encore.
    pub(super) here: &'n [Placed<String>],
    /// Those of the other part.
    pub(super) elsewhere: &'n [Placed<String>],
    /// Whether the encore speaks.
    pub(super) in_encore: bool,
}

/// The fault of a name that is none of those known, with the nearest.
pub(super) fn unknown_name(
    word: &str,
    code: &'static str,
    known: &Known<'_>,
    name: &Placed<String>,
) -> Option<Diagnostic> {
    let names = known.here.iter().map(|name| name.value.as_str());
    if names.clone().any(|given| given == name.value) {
        return None;
    }
    let message = match known.in_encore {
        true => format!("The encore has no {word} \"{}\".", name.value),
        false => format!("There is no {word} \"{}\".", name.value),
    };
    let mut fault = Diagnostic::error(code, name.at.clone(), message).label("not known");
    let (here, other) = if known.in_encore { ("encore", "act") } else { ("act", "encore") };
    if known.elsewhere.iter().any(|there| there.value == name.value) {
        let help =
            format!("The {other} has this {word}, on a clock of its own: name one of the {here}.");
        return Some(fault.help(help));
    }
    if let Some(near) = nearest(&name.value, names.clone()) {
        let written = quoted(near);
        fault = fault.help_edit(format!("Write {written}."), name.at.clone(), written);
    } else if known.here.is_empty() {
        let whose = if known.in_encore { "encore" } else { "routine" };
        fault = fault.help(format!("The {whose} has no {word}s."));
    } else if known.here.len() <= 12 {
        let names: Vec<&str> = names.collect();
        fault = fault.help(format!("Its {word}s are {}.", one_of(&names)));
    }
    Some(fault)
}

/// A text as it is written in the file.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
