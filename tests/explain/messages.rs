//! What is said of an example, in whatever form it stands.

use std::fs;
use std::ops::Range;
use std::path::Path;
use std::process::{Command, Output};

use throwbook::diagnostic::{Diagnostic, Explanation, Form};
use throwbook::notation::Fault;
use throwbook::open_with;
use throwbook::patterns::Pattern;
use throwbook::routine::Routine;
use throwbook::sound::{Found, Heard, Loudness, Tracks, Unheard};
use throwbook::time::Seconds;

/// What a message says.
pub(crate) struct Message {
    pub(crate) code: String,
    pub(crate) says: String,
    /// The bytes that it marks, where they are known.
    pub(crate) at: Option<Range<usize>>,
    /// The changes that it offers.
    pub(crate) changes: Vec<Vec<(Range<usize>, String)>>,
}

/// Everything that is said of a text in place of the example that raises the code.
pub(crate) fn messages(explanation: &Explanation, text: &str) -> Vec<Message> {
    let beside = explanation.beside.iter().find_map(|beside| beside.text);
    match explanation.form {
        Form::Routine => {
            let opened = open_with(text, beside, tracks);
            let compiles = opened.finished().is_some();
            let said: Vec<Message> =
                opened.in_record.iter().chain(&opened.diagnostics).map(of_diagnostic).collect();
            assert!(compiles || !said.is_empty(), "{}: no act", explanation.code);
            said
        }
        Form::Record => {
            let routine = beside.expect("a record lies beside a routine");
            let opened = open_with(routine, Some(text), tracks);
            opened.in_record.iter().chain(&opened.diagnostics).map(of_diagnostic).collect()
        }
        Form::Latin1 => {
            let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join("explain-latin-1.ron");
            let byte = |character| u8::try_from(u32::from(character)).expect("Latin-1");
            fs::write(&file, text.chars().map(byte).collect::<Vec<u8>>()).unwrap();
            told(&["check", "--format", "json", file.to_str().unwrap()], "diagnostics")
        }
        Form::Pattern => {
            let faults = Pattern::read(text).map_or_else(|faults| faults, |(_, asked)| asked);
            faults.iter().map(|fault| of_fault(fault, text)).collect()
        }
        Form::Transition => {
            let words = text.split(' ').map(|word| word.trim_matches('\''));
            let words: Vec<&str> =
                ["transition", "--format", "json"].into_iter().chain(words).collect();
            told(&words, "faults")
        }
    }
}

/// Everything that is said of the mended example.
pub(crate) fn mended(explanation: &Explanation) -> Vec<Message> {
    let utf8 = Explanation { form: Form::Routine, ..*explanation };
    let explanation = if explanation.form == Form::Latin1 { &utf8 } else { explanation };
    messages(explanation, explanation.mended)
}

/// The program's answer.
pub(crate) fn throwbook(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_throwbook"))
        .args(arguments)
        .env("COLUMNS", "80")
        .env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR"))
        .env("NO_COLOR", "1")
        .output()
        .unwrap()
}

/// What the program says in a list of its JSON document.
fn told(arguments: &[&str], list: &str) -> Vec<Message> {
    let document: serde_json::Value =
        serde_json::from_slice(&throwbook(arguments).stdout).expect("a document");
    let said = document[list].as_array().cloned().unwrap_or_default();
    let text = |one: &serde_json::Value, field| one[field].as_str().expect("a text").to_owned();
    said.iter()
        .map(|one| Message {
            code: text(one, "code"),
            says: text(one, "message"),
            at: None,
            changes: Vec::new(),
        })
        .collect()
}

/// What is found of the music that the examples name.
fn tracks(_routine: &Routine) -> Tracks {
    let minute = Heard {
        length: Seconds::fraction(60, 1),
        silence: Seconds::zero(),
        loudness: Loudness::default(),
    };
    let cut = Unheard::CutOff { holds_s: 20.0, promises_s: None };
    let mut tracks = Tracks::new();
    tracks.note("a-minute.wav", Found::Heard(minute));
    tracks.note("missing.wav", Found::Missing);
    tracks.note("cut-off.wav", Found::Unreadable(cut));
    tracks
}

fn of_diagnostic(diagnostic: &Diagnostic) -> Message {
    let changes = diagnostic.helps.iter().map(|help| {
        let edits = help.edits.iter();
        edits.map(|edit| (edit.at.start..edit.at.end, edit.insert.clone())).collect()
    });
    Message {
        code: diagnostic.code.to_owned(),
        says: diagnostic.message.clone(),
        at: Some(diagnostic.at.start..diagnostic.at.end),
        changes: changes.collect(),
    }
}

fn of_fault(fault: &Fault, text: &str) -> Message {
    let byte = |at: usize| text.char_indices().nth(at).map_or(text.len(), |(byte, _)| byte);
    let at = byte(fault.at.start)..byte(fault.at.end);
    let written = fault.helps.iter().filter_map(|(_, write)| write.clone());
    Message {
        code: fault.code.to_owned(),
        says: fault.message.clone(),
        changes: written.map(|write| vec![(at.clone(), write)]).collect(),
        at: Some(at),
    }
}
