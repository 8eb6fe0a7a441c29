//! Diagnostics for programs. The field names are a contract.
//!
//! Lines and columns count from 1, columns in characters; ends are excluded.

use serde::Serialize;

use super::lines::Lines;
use super::{Diagnostic, Severity};

/// What `check` says of one or more files.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Report {
    /// How many errors.
    pub errors: usize,
    /// How many warnings.
    pub warnings: usize,
    /// All of them, file by file, in the order of their places.
    pub diagnostics: Vec<Entry>,
}

/// One diagnostic.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// `error` or `warning`.
    pub severity: &'static str,
    /// Stable name of the fault.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// The file, as it was named.
    pub file: String,
    /// Where it begins.
    pub line: usize,
    /// Where it begins.
    pub column: usize,
    /// More to know.
    pub notes: Vec<String>,
    /// Ways out.
    pub helps: Vec<HelpEntry>,
}

/// A way out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HelpEntry {
    /// What to do.
    pub text: String,
    /// The change of the file that does it.
    pub edits: Vec<EditEntry>,
    /// Seconds that it adds, where that is known.
    pub adds_s: Option<f64>,
    /// Whether it flips the lead hand, where that is known.
    pub flips_lead: Option<bool>,
    /// Whether the props leave in another order afterwards, where that is known.
    pub moves_colours: Option<bool>,
}

/// Text to put in place of other text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EditEntry {
    /// Line of its first character.
    pub line: usize,
    /// Column of its first character.
    pub column: usize,
    /// Line of the character after its last one.
    pub end_line: usize,
    /// Column of the character after its last one.
    pub end_column: usize,
    /// What to write there.
    pub insert: String,
}

impl Report {
    /// Appends what is said of a further file.
    pub fn append(&mut self, mut further: Report) {
        self.errors += further.errors;
        self.warnings += further.warnings;
        self.diagnostics.append(&mut further.diagnostics);
    }
}

/// Diagnostics of one file.
#[must_use]
pub fn json(diagnostics: &[Diagnostic], file_name: &str, text: &str) -> Report {
    let lines = Lines::new(text);
    let count = |severity| diagnostics.iter().filter(|one| one.severity == severity).count();
    Report {
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        diagnostics: diagnostics.iter().map(|one| entry(one, file_name, &lines)).collect(),
    }
}

fn entry(diagnostic: &Diagnostic, file_name: &str, lines: &Lines<'_>) -> Entry {
    let begins = lines.position(diagnostic.at.start);
    let notes = diagnostic.notes.iter().map(|note| match &note.at {
        Some(at) => {
            let there = lines.position(at.start);
            format!("{} (line {}, column {})", note.text, there.line, there.column)
        }
        None => note.text.clone(),
    });
    let helps = diagnostic.helps.iter().map(|help| HelpEntry {
        text: help.text.clone(),
        edits: help
            .edits
            .iter()
            .map(|edit| {
                let (start, end) = (lines.position(edit.at.start), lines.position(edit.at.end));
                EditEntry {
                    line: start.line,
                    column: start.column,
                    end_line: end.line,
                    end_column: end.column,
                    insert: edit.insert.clone(),
                }
            })
            .collect(),
        adds_s: help.effects.as_ref().and_then(|effects| effects.adds_s),
        flips_lead: help.effects.as_ref().and_then(|effects| effects.flips_lead),
        moves_colours: help.effects.as_ref().and_then(|effects| effects.moves_colours),
    });
    Entry {
        severity: match diagnostic.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        code: diagnostic.code,
        message: diagnostic.message.clone(),
        file: file_name.to_owned(),
        line: begins.line,
        column: begins.column,
        notes: notes.collect(),
        helps: helps.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Effects, Place};

    #[test]
    fn the_fields_are_those_of_the_contract() {
        let text = "\u{feff}a\r\n\té53\r\n";
        let at = |sought: &str| {
            let start = text.find(sought).unwrap();
            Place { start, end: start + sought.len() }
        };
        let mut fault = Diagnostic::error("junction-clash", at("53"), "They clash.")
            .note("A fact.")
            .note_at(at("a"), "Begun here.")
            .help("Choose.")
            .help_edit("Write 4.", at("5"), "4");
        fault.helps[1].effects = Some(Effects {
            adds_s: Some(0.3),
            flips_lead: Some(true),
            moves_colours: Some(false),
            is_safe: false,
        });
        let warning = Diagnostic::warning("w", at("a"), "W.");
        let mut report = json(&[fault], "x.ron", text);
        report.append(json(&[warning], "y.ron", text));
        let expected = r#"{"errors":1,"warnings":1,"diagnostics":[{"severity":"error","code":"junction-clash","message":"They clash.","file":"x.ron","line":2,"column":3,"notes":["A fact.","Begun here. (line 1, column 1)"],"helps":[{"text":"Choose.","edits":[],"adds_s":null,"flips_lead":null,"moves_colours":null},{"text":"Write 4.","edits":[{"line":2,"column":3,"end_line":2,"end_column":4,"insert":"4"}],"adds_s":0.3,"flips_lead":true,"moves_colours":false}]},{"severity":"warning","code":"w","message":"W.","file":"y.ron","line":1,"column":1,"notes":[],"helps":[]}]}"#;
        assert_eq!(serde_json::to_string(&report).unwrap(), expected);
    }
}
