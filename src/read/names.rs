//! Names that the file gives and names that it speaks of: what is given twice, what is nowhere.
//!
//! Names are noted while values are read, so that a slip elsewhere in an entry hides neither its
//! own name nor the names in it. One function for each code.

use std::collections::HashMap;

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{CueNumber, Desk};

use super::nearest::{nearest, one_of};

/// What has names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// An entry of the score.
    Section,
    /// A prop set.
    Set,
    /// A colour of the routine.
    Colour,
    /// A mark of the music.
    Mark,
}

impl Kind {
    const ALL: [Kind; 4] = [Kind::Section, Kind::Set, Kind::Colour, Kind::Mark];

    fn word(self) -> &'static str {
        match self {
            Kind::Section => "section",
            Kind::Set => "set",
            Kind::Colour => "colour",
            Kind::Mark => "mark",
        }
    }
}

/// The names of a file.
#[derive(Default)]
pub(super) struct Names {
    /// Whether the encore is being read: its sections and cues are not the act's.
    pub(super) in_encore: bool,
    given: [Vec<Name>; 4],
    referred: [Vec<Name>; 4],
    cues: Vec<(bool, Desk, CueNumber)>,
    followed: Vec<(bool, Desk, Placed<CueNumber>)>,
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

    /// A cue has this number.
    pub(super) fn give_cue(&mut self, desk: Desk, number: CueNumber) {
        self.cues.push((self.in_encore, desk, number));
    }

    /// A cue follows this one.
    pub(super) fn follow(&mut self, desk: Desk, number: Placed<CueNumber>) {
        self.followed.push((self.in_encore, desk, number));
    }

    /// Everything that is wrong with the names.
    pub(super) fn faults(&self) -> Vec<Diagnostic> {
        let mut faults = Vec::new();
        unknown_section(self, &mut faults);
        unknown_set(self, &mut faults);
        unknown_colour(self, &mut faults);
        unknown_mark(self, &mut faults);
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
        let given: Vec<&Placed<String>> = self.given[kind as usize]
            .iter()
            .filter(|name| everywhere || name.in_encore == in_encore)
            .map(|name| &name.name)
            .collect();
        let lookup: HashMap<&str, &Place> =
            given.iter().map(|name| (name.value.as_str(), &name.at)).collect();
        let word = kind.word();
        let referred = self.referred[kind as usize].iter();
        for Name { name, .. } in referred.filter(|name| name.in_encore == in_encore) {
            if lookup.contains_key(name.value.as_str()) {
                continue;
            }
            let message = match (in_encore, everywhere) {
                (true, false) => format!("The encore has no {word} \"{}\".", name.value),
                _ => format!("There is no {word} \"{}\".", name.value),
            };
            let mut fault = Diagnostic::error(code, name.at.clone(), message).label("not known");
            let names = given.iter().map(|name| name.value.as_str());
            if let Some(near) = nearest(&name.value, names.clone()) {
                let written = quoted(near);
                fault = fault.help_edit(format!("Write {written}."), name.at.clone(), written);
            } else if given.is_empty() {
                fault = fault.help(format!("The routine has no {word}s."));
            } else if given.len() <= 12 {
                let names: Vec<&str> = names.collect();
                fault = fault.help(format!("Its {word}s are {}.", one_of(&names)));
            }
            faults.push(fault);
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

/// A moment names a mark that the music does not have.
fn unknown_mark(names: &Names, faults: &mut Vec<Diagnostic>) {
    names.unknown(Kind::Mark, "unknown-mark", faults);
}

/// A cue follows one that is not there.
fn follow_of_nothing(names: &Names, faults: &mut Vec<Diagnostic>) {
    for (in_encore, desk, number) in &names.followed {
        if names.cues.contains(&(*in_encore, *desk, number.value)) {
            continue;
        }
        let where_it_is = if *in_encore { " in the encore" } else { "" };
        let message =
            format!("the {desk:?} desk has no cue {} to follow{where_it_is}", number.value);
        let at = number.at.clone();
        let fault =
            Diagnostic::error("follow-of-nothing", at.clone(), message).label("no such cue");
        let of_desk = names.cues.iter().filter(|(part, of, _)| part == in_encore && of == desk);
        let there = of_desk.map(|(_, _, one)| *one);
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

/// A text as it is written in the file.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
