//! Names that the file gives and names that it speaks of: what is given twice, what is nowhere.
//!
//! Names are noted while values are read, so that a slip elsewhere in an entry hides neither its
//! own name nor the names in it. One function for each code.

use std::collections::{HashMap, HashSet};

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{CueNumber, Desk};

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
    given: [Vec<Placed<String>>; 3],
    referred: [Vec<Placed<String>>; 3],
    /// Those of the music.
    pub(super) tracks: TrackNames,
    cues: Vec<(Desk, CueNumber)>,
    followed: Vec<(Desk, Placed<CueNumber>)>,
}

impl Names {
    /// Something has this name.
    pub(super) fn give(&mut self, kind: Kind, name: &Placed<String>) {
        self.given[kind as usize].push(name.clone());
    }

    /// Whether something has this name, so far.
    pub(super) fn gives(&self, kind: Kind, name: &str) -> bool {
        self.given[kind as usize].iter().any(|given| given.value == name)
    }

    /// Something speaks of this name.
    pub(super) fn refer(&mut self, kind: Kind, name: &Placed<String>) {
        self.referred[kind as usize].push(name.clone());
    }

    /// A cue has this number.
    pub(super) fn give_cue(&mut self, desk: Desk, number: CueNumber) {
        self.cues.push((desk, number));
    }

    /// A cue follows this one.
    pub(super) fn follow(&mut self, desk: Desk, number: Placed<CueNumber>) {
        self.followed.push((desk, number));
    }

    /// Everything that is wrong with the names.
    pub(super) fn faults(&self) -> Vec<Diagnostic> {
        let mut faults = Vec::new();
        unknown_section(self, &mut faults);
        unknown_set(self, &mut faults);
        unknown_colour(self, &mut faults);
        faults.extend(self.tracks.faults());
        follow_of_nothing(self, &mut faults);
        duplicate_name(self, &mut faults);
        faults
    }

    /// Reports the names of a kind that are spoken of and nowhere given.
    fn unknown(&self, kind: Kind, code: &'static str, faults: &mut Vec<Diagnostic>) {
        let given = &self.given[kind as usize];
        let lookup: HashSet<&str> = given.iter().map(|name| name.value.as_str()).collect();
        let unknown = self.referred[kind as usize].iter();
        for name in unknown.filter(|name| !lookup.contains(name.value.as_str())) {
            faults.extend(unknown_name(kind.word(), code, given, name));
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
    for (desk, number) in &names.followed {
        if names.cues.contains(&(*desk, number.value)) {
            continue;
        }
        let message = format!("the {desk:?} desk has no cue {} to follow", number.value);
        let at = number.at.clone();
        let fault =
            Diagnostic::error("follow-of-nothing", at.clone(), message).label("no such cue");
        let there = names.cues.iter().filter(|(of, _)| of == desk).map(|(_, one)| *one);
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
        for name in &names.given[kind as usize] {
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

/// The fault of a name that is none of those given, with the nearest.
pub(super) fn unknown_name(
    word: &str,
    code: &'static str,
    given: &[Placed<String>],
    name: &Placed<String>,
) -> Option<Diagnostic> {
    let names = given.iter().map(|name| name.value.as_str());
    if names.clone().any(|given| given == name.value) {
        return None;
    }
    let message = format!("There is no {word} \"{}\".", name.value);
    let mut fault = Diagnostic::error(code, name.at.clone(), message).label("not known");
    if let Some(near) = nearest(&name.value, names.clone()) {
        let written = quoted(near);
        fault = fault.help_edit(format!("Write {written}."), name.at.clone(), written);
    } else if given.is_empty() {
        fault = fault.help(format!("The routine has no {word}s."));
    } else if given.len() <= 12 {
        let names: Vec<&str> = names.collect();
        fault = fault.help(format!("Its {word}s are {}.", one_of(&names)));
    }
    Some(fault)
}

/// A text as it is written in the file.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
