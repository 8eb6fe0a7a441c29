//! Texts of whole routine files for tests: a score, and around it what every file needs.
//!
//! The sets are called after their number of props: "2" to "9". Their colours are c1, c2, … in
//! turn, so that a prop's place in the set (from 0) is its colour's number less one.

use std::fmt::Write;

use throwbook::{Opened, open};

/// A routine file in the making.
#[derive(Clone, Debug)]
pub(crate) struct Written {
    pub(crate) lead: &'static str,
    pub(crate) tempo: String,
    pub(crate) zero: String,
    pub(crate) dwell: Option<String>,
    pub(crate) transitions: &'static str,
    /// Written before the score: music, room.
    pub(crate) before: String,
    pub(crate) score: String,
    /// Written after the score: limits, cues.
    pub(crate) after: String,
}

impl Default for Written {
    fn default() -> Written {
        Written {
            lead: "Right",
            tempo: "PerMinute(200)".to_owned(),
            zero: "FirstThrow".to_owned(),
            dwell: None,
            transitions: "Within(highest: 9, at_once: 2, beats: 6)",
            before: String::new(),
            score: String::new(),
            after: String::new(),
        }
    }
}

impl Written {
    /// The whole file.
    pub(crate) fn text(&self) -> String {
        let Written { lead, tempo, zero, transitions, before, score, after, .. } = self;
        let mut text = format!(
            "Routine(\n    title: \"Test\", lead: {lead}, tempo: {tempo}, zero: {zero},\n    \
             transitions: {transitions},\n"
        );
        if let Some(dwell) = &self.dwell {
            let _ = writeln!(text, "    dwell: {dwell},");
        }
        let colours: Vec<String> = (1..10).map(|n| format!("\"c{n}\": \"#{n}{n}5060\"")).collect();
        let _ = writeln!(text, "    colours: {{ {} }},\n    sets: {{", colours.join(", "));
        for props in 2..10 {
            let colours: Vec<String> = (1..=props).map(|n| format!("\"c{n}\"")).collect();
            let colours = colours.join(", ");
            let _ = writeln!(
                text,
                "        \"{props}\": Set(kind: Ball, length: 0.07, colours: [{colours}]),"
            );
        }
        let _ = write!(text, "    }},\n{before}    score: [\n{score}\n    ],\n{after})\n");
        text
    }

    /// The file read, compiled and checked.
    pub(crate) fn open(&self) -> Opened {
        open(&self.text())
    }
}

/// A file with this score and nothing else of its own.
pub(crate) fn score(score: &str) -> Written {
    Written { score: score.to_owned(), ..Written::default() }
}

/// The codes of everything that was said, in order of place, but for music that no cue plays: here
/// it is there to be measured by.
pub(crate) fn codes(opened: &Opened) -> Vec<&'static str> {
    let codes = opened.diagnostics.iter().map(|diagnostic| diagnostic.code);
    codes.filter(|code| *code != "track-without-cue").collect()
}
