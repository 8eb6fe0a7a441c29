//! What was handed out, as the text that lies beside the routine file.

use std::fmt::Write;

use crate::routine::{CueOnPaper, Issued};

const HEAD: &str = "\
// The cue sheets that were handed out, as they stood on paper. `throwbook issue` writes this file
// and adds to it; cue numbers are kept, and changes told, from what stands here.
";

/// The record as text: RON, a line for each cue, the routine's text in one line, the same for the
/// same record.
#[must_use]
pub fn written(issued: &Issued) -> String {
    let mut text = HEAD.to_owned();
    let title = quoted(&issued.title.value);
    let _ = write!(text, "Issued(\n    title: {title},\n    issues: [\n");
    for issue in &issued.issues {
        let _ = writeln!(text, "        Issue(number: {}, cues: [", issue.number);
        for cue in &issue.cues {
            let _ = writeln!(text, "            Cue({}),", fields(cue).join(", "));
        }
        let kept = issue.text.as_deref().map(|text| format!(", text: {}", quoted(text)));
        let _ = writeln!(text, "        ]{}),", kept.unwrap_or_default());
    }
    text.push_str("    ],\n)\n");
    text
}

fn fields(cue: &CueOnPaper) -> Vec<String> {
    let mut fields = vec![format!("crew: {:?}", cue.crew)];
    let mut may = |name: &str, value: Option<String>| {
        fields.extend(value.map(|value| format!("{name}: {value}")));
    };
    let text = |text: &Option<String>| text.as_deref().map(quoted);
    let truth = |holds: bool| holds.then(|| "true".to_owned());
    may("number", cue.number.map(|number| number.to_string()));
    may("encore", truth(cue.encore));
    may("go", Some(quoted(&cue.go)));
    may("standby", text(&cue.standby));
    may("trigger", Some(quoted(&cue.trigger)));
    may("when", Some(quoted(&cue.when)));
    may("does", Some(quoted(&cue.does)));
    may("count", cue.count.clone());
    may("on_drop", text(&cue.on_drop));
    may("dark", truth(cue.dark));
    fields
}

/// A text in quotation marks, so that it reads back.
fn quoted(text: &str) -> String {
    let mut quoted = String::from('"');
    for character in text.chars() {
        match character {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            '\r' => quoted.push_str("\\r"),
            control if control.is_control() => {
                let _ = write!(quoted, "\\u{{{:x}}}", u32::from(control));
            }
            plain => quoted.push(plain),
        }
    }
    quoted.push('"');
    quoted
}
