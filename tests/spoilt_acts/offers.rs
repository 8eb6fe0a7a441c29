//! Every change that a message offers, made and looked at again.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::difference;
use crate::said::failures::Failure;
use crate::said::{Said, Wanted, diagnostics, said};

/// A spoilt act and what else is known of it.
pub(crate) struct Spoilt<'a> {
    pub(crate) text: &'a str,
    pub(crate) said: &'a Said,
    /// The same act unspoilt, and spoilt in one place only, if it is in two.
    pub(crate) others: &'a [(String, Value)],
}

/// What was found of the offers of one act.
#[derive(Default)]
pub(crate) struct Looked {
    pub(crate) failures: Vec<Failure>,
    pub(crate) offers: usize,
    /// Offers whose effects could be held against two acts.
    pub(crate) compared: usize,
}

/// Makes every change that is offered.
pub(crate) fn judge(spoilt: &Spoilt<'_>) -> Looked {
    let mut looked = Looked::default();
    for diagnostic in diagnostics(&spoilt.said.check) {
        let helps = diagnostic["helps"].as_array().map_or(&[][..], Vec::as_slice);
        let offers = helps.iter().filter(|help| !edits(help).is_empty());
        let mut brings = false;
        for help in offers {
            let failures = judge_offer(spoilt, diagnostic, help, &mut looked.compared);
            looked.offers += 1;
            let code = text_of(&diagnostic["code"]);
            let mut add = |what: &str, detail: String| {
                let kind = format!("{what}: {code}");
                let detail = format!("{}: {}: {detail}", diagnostic["message"], help["text"]);
                looked.failures.push(Failure { kind, detail });
            };
            failures.into_iter().for_each(|(what, detail)| add(&what, detail));
            if brings && !says_that_it_brings(help) {
                add("a change that brings a fault does not stand last", String::new());
            }
            brings |= says_that_it_brings(help);
        }
    }
    looked
}

/// What is wrong with one offer: what, and in detail.
fn judge_offer(
    spoilt: &Spoilt<'_>,
    diagnostic: &Value,
    help: &Value,
    compared: &mut usize,
) -> Vec<(String, String)> {
    let text = changed(spoilt.text, edits(help));
    let after = said(&text, Wanted::All);
    let mut failures = Vec::new();
    let mut fail = |what: &str, detail: String| failures.push((what.to_owned(), detail));
    let before = faults(spoilt.text, &spoilt.said.check);
    let left = faults(&text, &after.check);
    let fault = fault(spoilt.text, diagnostic);
    if left.get(&fault).unwrap_or(&0) >= before.get(&fault).unwrap_or(&0) {
        fail("a change that does not mend it", changed_lines(spoilt.text, &text));
    }
    let others: Vec<Faults> =
        spoilt.others.iter().map(|(text, check)| faults(text, check)).collect();
    for (severity, word) in [("error", "an error"), ("warning", "a warning")] {
        let of_severity =
            diagnostics(&after.check).iter().filter(|one| one["severity"] == severity);
        let brought = of_severity.filter(|one| {
            let one = self::fault(&text, one);
            !before.contains_key(&one) && others.iter().all(|known| !known.contains_key(&one))
        });
        // A fault that was there and could not be seen yet is known from the other acts.
        for one in brought {
            let code = text_of(&one["code"]);
            if !(says_that_it_brings(help) && text_of(&help["text"]).contains(&format!("`{code}`")))
            {
                let lines = changed_lines(spoilt.text, &text);
                let message = &one["message"];
                fail(
                    &format!("a change that brings {word}, {code},"),
                    format!("{message}\n{lines}"),
                );
            }
        }
    }
    let difference = difference::of(spoilt.said, &after);
    *compared += usize::from(difference.is_some());
    if let Some(difference) = difference {
        for what in difference.contradicts(help) {
            fail(&what.0, format!("{}\n{}", what.1, changed_lines(spoilt.text, &text)));
        }
    }
    failures
}

/// Whether a help says that it brings another fault: it says `brings` and the fault's code in
/// back quotes, such as: it brings `limit-over`.
fn says_that_it_brings(help: &Value) -> bool {
    text_of(&help["text"]).contains("brings `")
}

fn text_of(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn edits(help: &Value) -> &[Value] {
    help["edits"].as_array().map_or(&[], Vec::as_slice)
}

/// A text with these edits made.
pub(crate) fn changed(text: &str, edits: &[Value]) -> String {
    let number = |edit: &Value, name: &str| edit[name].as_u64().unwrap() as usize;
    let mut places: Vec<(usize, usize, &str)> = edits
        .iter()
        .map(|edit| {
            let place =
                |line: &str, column: &str| byte_of(text, number(edit, line), number(edit, column));
            let ends = place("end_line", "end_column");
            (place("line", "column"), ends, text_of(&edit["insert"]))
        })
        .collect();
    places.sort_by_key(|&(starts, ends, _)| (starts, ends));
    let mut changed = text.to_owned();
    for (starts, ends, insert) in places.into_iter().rev() {
        changed.replace_range(starts..ends, insert);
    }
    changed
}

/// Where a line and a column, both from 1, are in a text.
fn byte_of(text: &str, line: usize, column: usize) -> usize {
    let starts: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let within = text[starts..].char_indices().nth(column - 1);
    within.map_or(text.len(), |(at, _)| starts + at)
}

/// The lines that differ, each as it was and as it is.
fn changed_lines(before: &str, after: &str) -> String {
    let lines = before.lines().zip(after.lines()).filter(|(old, new)| old != new);
    let told = lines.map(|(old, new)| format!("- {}\n+ {}", old.trim(), new.trim()));
    told.take(3).collect::<Vec<_>>().join("\n")
}

/// How often each fault is raised: its code, and the entry that it is about.
type Faults = BTreeMap<(String, String), usize>;

fn faults(text: &str, check: &Value) -> Faults {
    let mut faults = Faults::new();
    for one in diagnostics(check) {
        *faults.entry(fault(text, one)).or_default() += 1;
    }
    faults
}

fn fault(text: &str, diagnostic: &Value) -> (String, String) {
    let line = text.lines().nth(diagnostic["line"].as_u64().unwrap() as usize - 1);
    let line = line.unwrap_or_default().trim();
    // Crew and number of a cue, the name of a section, the name of a field.
    let parts = if line.starts_with("Cue(") { 2 } else { 1 };
    let entry = match line.split_once('(') {
        Some(("Cue" | "Juggle" | "Pause" | "Limit", _)) => {
            line.split(", ").take(parts).collect::<Vec<_>>().join(", ")
        }
        _ => line.split(':').next().unwrap_or_default().to_owned(),
    };
    (text_of(&diagnostic["code"]).to_owned(), entry)
}

/// Warnings about colours that another fault has raised: the line-up could not run.
pub(crate) fn colours_beside_an_error(spoilt: &Spoilt<'_>, touched: bool) -> Vec<Failure> {
    let said = diagnostics(&spoilt.said.check);
    let is_error = |one: &&Value| one["severity"] == "error";
    if touched || !said.iter().any(|one| is_error(&one)) {
        return Vec::new();
    }
    let others: Vec<Faults> =
        spoilt.others.iter().map(|(text, check)| faults(text, check)).collect();
    let of_colours =
        said.iter().filter(|one| one["code"] == "colour-not-shown" && one["severity"] == "warning");
    let raised = of_colours.filter(|one| {
        let one = fault(spoilt.text, one);
        others.iter().all(|known| !known.contains_key(&one))
    });
    let first = said.iter().find(is_error).map(|one| one["message"].to_string());
    raised
        .map(|one| {
            let detail = format!("{} beside {first:?}", one["message"]);
            Failure::new("a colour that is not shown beside an error", detail)
        })
        .collect()
}
