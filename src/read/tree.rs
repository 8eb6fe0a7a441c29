//! A file as it is written, without its comments and its layout: what two files are held against
//! each other by, and what a single edit of one is made on.
//!
//! It knows shapes and no routine. Fields stand in the order of their names, so that their order in
//! the file says nothing.

use std::fmt::Write;

use super::raw::Raw;

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Node {
    /// A text.
    Text(String),
    /// A number, or whatever else has no parts, as it stands there.
    Plain(String),
    /// `[…]`.
    List(Vec<Item>),
    /// `{…}`.
    Map(Vec<(Node, Node)>),
    /// A word and what follows it; the word may be empty.
    Named(String, Body),
}

/// What follows a word.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Body {
    /// Nothing.
    Bare,
    /// `(name: value, …)`.
    Fields(Vec<(String, Node)>),
    /// `(value, …)`.
    Arguments(Vec<Node>),
}

/// An item of a list.
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// By which it is found again when it is changed or moved; 0 where nothing asks.
    pub(super) id: usize,
    pub(super) node: Node,
}

impl PartialEq for Item {
    /// Which item it is says nothing of what it is.
    fn eq(&self, other: &Item) -> bool {
        self.node == other.node
    }
}

impl Node {
    pub(super) fn of(raw: Raw<'_>) -> Node {
        if raw.text.starts_with(['"', 'r'])
            && let Some(text) = raw.plain::<String>()
        {
            return Node::Text(text);
        }
        if let Some(items) = raw.items() {
            let item = |raw| Item { id: 0, node: Node::of(raw) };
            return Node::List(items.into_iter().map(item).collect());
        }
        if let Some(entries) = raw.entries() {
            let entry = |(key, value)| (Node::of(key), Node::of(value));
            return Node::Map(entries.into_iter().map(entry).collect());
        }
        let (word, rest) = match raw.word() {
            Some((word, rest)) => (word.value, rest),
            None => ("", raw),
        };
        if rest.is_blank() {
            return Node::Named(word.to_owned(), Body::Bare);
        }
        if let Some(fields) = rest.fields() {
            let field = |(name, value): (crate::diagnostic::Placed<&str>, _)| {
                (name.value.to_owned(), Node::of(value))
            };
            let mut fields: Vec<_> = fields.into_iter().map(field).collect();
            fields.sort_by(|a, b| a.0.cmp(&b.0));
            return Node::Named(word.to_owned(), Body::Fields(fields));
        }
        match rest.arguments() {
            Some(values) => {
                let values = values.into_iter().map(Node::of).collect();
                Node::Named(word.to_owned(), Body::Arguments(values))
            }
            None => Node::Plain(raw.text.to_owned()),
        }
    }

    /// As RON, in one line.
    pub(super) fn written(&self) -> String {
        let mut text = String::new();
        self.write(&mut text);
        text
    }

    fn write(&self, text: &mut String) {
        match self {
            Node::Text(value) => {
                let _ = write!(text, "{value:?}");
            }
            Node::Plain(value) => text.push_str(value),
            Node::List(items) => {
                listed(text, ('[', ']'), items, |text, item| item.node.write(text));
            }
            Node::Map(entries) => listed(text, ('{', '}'), entries, |text, (key, value)| {
                key.write(text);
                text.push_str(": ");
                value.write(text);
            }),
            Node::Named(word, body) => {
                text.push_str(word);
                match body {
                    Body::Bare => {}
                    Body::Fields(fields) => {
                        listed(text, ('(', ')'), fields, |text, (name, value)| {
                            let _ = write!(text, "{name}: ");
                            value.write(text);
                        });
                    }
                    Body::Arguments(values) => {
                        listed(text, ('(', ')'), values, |text, value| value.write(text));
                    }
                }
            }
        }
    }

    /// The value of a field.
    pub(super) fn field(&self, name: &str) -> Option<&Node> {
        let Node::Named(_, Body::Fields(fields)) = self else { return None };
        fields.iter().find(|(field, _)| field == name).map(|(_, value)| value)
    }

    /// The text of a field.
    pub(super) fn text(&self, name: &str) -> Option<&str> {
        match self.field(name)? {
            Node::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Puts a value in the place of a field's, or takes the field out.
    pub(super) fn set_field(&mut self, name: &str, value: Option<Node>) {
        let Node::Named(_, Body::Fields(fields)) = self else { return };
        let place = fields.iter().position(|(field, _)| field == name);
        match (place, value) {
            (Some(place), Some(value)) => fields[place].1 = value,
            (Some(place), None) => drop(fields.remove(place)),
            (None, Some(value)) => {
                let before = fields.iter().take_while(|(field, _)| field.as_str() < name).count();
                fields.insert(before, (name.to_owned(), value));
            }
            (None, None) => {}
        }
    }

    /// Writes another name wherever a moment names that one: the first of what stands in brackets
    /// behind a word, as in `Start("tide")`.
    pub(super) fn rename(&mut self, from: &str, to: &str) {
        match self {
            Node::Text(_) | Node::Plain(_) | Node::Named(_, Body::Bare) => {}
            Node::List(items) => items.iter_mut().for_each(|item| item.node.rename(from, to)),
            Node::Map(entries) => {
                entries.iter_mut().for_each(|(_, value)| value.rename(from, to));
            }
            Node::Named(_, Body::Fields(fields)) => {
                fields.iter_mut().for_each(|(_, value)| value.rename(from, to));
            }
            Node::Named(word, Body::Arguments(values)) => {
                if let Some(Node::Text(name)) = values.first_mut()
                    && name == from
                    && NAMES_A_SECTION.contains(&word.as_str())
                {
                    to.clone_into(name);
                }
                values.iter_mut().for_each(|value| value.rename(from, to));
            }
        }
    }
}

/// Words of moments, and of what lands on them, behind which the name of a section stands.
const NAMES_A_SECTION: [&str; 6] = ["Start", "End", "LastCatch", "Throw", "Catch", "Cycle"];

fn listed<T>(
    text: &mut String,
    brackets: (char, char),
    parts: &[T],
    write: impl Fn(&mut String, &T),
) {
    text.push(brackets.0);
    for (index, part) in parts.iter().enumerate() {
        if index > 0 {
            text.push_str(", ");
        }
        write(text, part);
    }
    text.push(brackets.1);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn node(text: &str) -> Node {
        Node::of(Raw::root(text).unwrap().value)
    }

    #[test]
    fn comments_layout_and_the_order_of_fields_say_nothing() {
        let one = node("A(b: r\"x\\\", /* c */ a: [1, Right, (2, 3)], m: {2: P(\"tide\",)}) // z");
        let two = node("A(\n  a: [1, Right, (2, 3),],\n  b: \"x\\\\\",\n  m: {2: P(\"tide\")},)");
        assert_eq!(one, two);
        assert_eq!(one.written(), r#"A(a: [1, Right, (2, 3)], b: "x\\", m: {2: P("tide")})"#);
        assert_eq!(node(&one.written()), one);
    }

    #[test]
    fn a_rename_reaches_moments_and_no_other_text() {
        let mut routine = node(
            r#"R(cues: [Cue(at: Shift(Start("tide"), 1.0), does: "tide", trigger: See("tide"))])"#,
        );
        routine.rename("tide", "ebb");
        assert_eq!(
            routine.written(),
            r#"R(cues: [Cue(at: Shift(Start("ebb"), 1.0), does: "tide", trigger: See("tide"))])"#
        );
    }
}
