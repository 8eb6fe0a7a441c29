//! What single edits of a file are called, and by what sections, limits and cues are known.

use super::cue::CREWS;
use super::edit::Step;
use super::tree::{Body, Node};

/// The most characters of a value that is told as it is.
const SHORT: usize = 48;

/// By what an item of the score, of the limits or of the cues is known: a section's name, a limit's
/// rule, a cue's crew and number.
pub(super) fn name(item: &Node) -> Option<String> {
    let text = |name: &str| item.text(name).map(str::to_owned);
    text("name").or_else(|| text("rule")).or_else(|| numbered(item))
}

/// A cue by crew and number.
fn numbered(item: &Node) -> Option<String> {
    let number = item.field("number")?.written();
    Some(format!("{} {number}", crew(item)?))
}

/// The crew of a cue, as sheets call it.
fn crew(item: &Node) -> Option<&str> {
    let Node::Named(word, Body::Bare) = item.field("crew")? else { return None };
    let crew = CREWS.iter().find(|(known, _)| known == word);
    Some(crew.map_or(word, |(_, crew)| crew.label()))
}

/// What an item is apart from how it is known; of a cue what it does.
pub(super) fn content(item: &Node) -> Option<String> {
    if let Some(crew) = crew(item) {
        return Some(format!("{crew} {}", item.text("does")?));
    }
    let mut bare = item.clone();
    bare.set_field("name", None);
    bare.set_field("rule", None);
    Some(bare.written())
}

/// What an item is called in words; `of` says whether it is the encore's.
pub(super) fn called(of: &str, item: &Node) -> String {
    let of = match of.starts_with("encore") {
        true => "encore, ",
        false => "",
    };
    let unnumbered = || Some(format!("{} \"{}\"", crew(item)?, short(item.text("does")?)));
    let name = match item.text("rule") {
        Some(rule) => Some(format!("limit \"{}\"", short(rule))),
        None => name(item).or_else(unnumbered),
    };
    format!("{of}{}", short(&name.unwrap_or_else(|| item.written())))
}

/// What stands within a value of a field or of an entry is called by this.
pub(super) fn inner(of: &str, step: &Step) -> String {
    let own = match step {
        Step::Field(name) => name.clone(),
        Step::Entry(key) => key.written(),
        Step::Item(_) => String::new(),
    };
    match (of, step) {
        ("", _) => own,
        (of, Step::Entry(_)) => format!("{} {own}", one_of(of)),
        (of, _) => format!("{of}, {own}"),
    }
}

/// One of the entries of a field.
fn one_of(field: &str) -> &str {
    match field {
        "colours" => "colour",
        "sets" => "set",
        "tracks" => "track",
        other => other,
    }
}

/// Whether two values differ part by part: both are maps, or the same word with fields.
pub(super) fn has_parts(old: &Node, new: &Node) -> bool {
    match (old, new) {
        (Node::Map(_), Node::Map(_)) => true,
        (Node::Named(was, Body::Fields(_)), Node::Named(is, Body::Fields(_))) => was == is,
        _ => false,
    }
}

/// A value that is another one, is new, or is taken out.
pub(super) fn changed(of: &str, step: &Step, old: Option<&Node>, new: Option<&Node>) -> String {
    let (of, what) = match step {
        Step::Entry(_) => (inner(of, step), String::new()),
        _ => (of.to_owned(), inner("", step)),
    };
    let told = told(&what, old, new);
    match of.is_empty() {
        true => told,
        false => format!("{of}: {told}"),
    }
}

fn told(what: &str, old: Option<&Node>, new: Option<&Node>) -> String {
    let after = |words: &str| match what.is_empty() {
        true => words.to_owned(),
        false => format!("{what} {words}"),
    };
    let is_short = |node: &Node| node.written().chars().count() <= SHORT;
    match (old, new) {
        (Some(old), Some(new)) => match count_of(what, old, new) {
            Some(words) => words,
            None if is_short(old) && is_short(new) => {
                after(&format!("{} → {}", old.written(), new.written()))
            }
            None => after("written otherwise"),
        },
        (None, Some(new)) if is_short(new) => after(&format!("added: {}", new.written())),
        (None, Some(_)) => after("added"),
        (Some(old), None) if is_short(old) => after(&format!("taken out: {}", old.written())),
        (_, None) => after("taken out"),
    }
}

/// A length in the same unit as before, as in `24 → 25 beats`.
fn count_of(what: &str, old: &Node, new: &Node) -> Option<String> {
    let (Node::Named(was, Body::Arguments(old)), Node::Named(is, Body::Arguments(new))) =
        (old, new)
    else {
        return None;
    };
    let ([Node::Plain(old)], [Node::Plain(new)]) = (&old[..], &new[..]) else { return None };
    let unit = match (was == is, is.as_str()) {
        (true, "Beats") => "beats",
        (true, "Cycles") => "cycles",
        (true, "Bars") => "bars",
        _ => return None,
    };
    (what == "lasts").then(|| format!("{old} → {new} {unit}"))
}

/// A section with another name.
pub(super) fn renamed(from: &str, to: &str, in_encore: bool) -> String {
    let of = if in_encore { "encore, " } else { "" };
    format!("{of}{}: now called {}", short(from), short(to))
}

/// An item that stands elsewhere.
pub(super) fn moved(name: &str, behind: Option<&str>) -> String {
    format!("{name}: moved {}", place(behind))
}

/// An item that is new.
pub(super) fn added(name: &str, behind: Option<&str>) -> String {
    format!("{name}: added {}", place(behind))
}

/// An item in another one's place.
pub(super) fn replaced(old: &str, new: &str) -> String {
    format!("{old}: replaced by {new}")
}

fn place(behind: Option<&str>) -> String {
    behind.map_or_else(|| "in front".to_owned(), |behind| format!("behind {behind}"))
}

fn short(text: &str) -> String {
    match text.char_indices().nth(SHORT) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or(text)),
        None => text.to_owned(),
    }
}
