//! A single edit of a file, and how it is made.

use super::tree::{Body, Item, Node};

/// One thing that is written otherwise.
#[derive(Clone, Debug)]
pub(super) struct Edit {
    /// In words, as in `tide: 24 → 25 beats`.
    pub(super) words: String,
    pub(super) makes: Vec<Change>,
}

/// Where in a file a value stands, from its root on.
pub(super) type Path = Vec<Step>;

/// One step of it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Step {
    Field(String),
    Entry(Node),
    Item(usize),
}

/// What is done to the file.
#[derive(Clone, Debug)]
pub(super) enum Change {
    /// A field or an entry has this value, or is taken out.
    Set(Path, Option<Node>),
    /// An item stands in a list, behind that one or in front.
    Put(Path, Item, Option<usize>),
    /// An item is taken out of a list.
    Cut(Path, usize),
    /// A section has another name, as have the moments that name it. Of the act or of its encore.
    Rename(Path, usize, String, String),
}

/// The value at a path.
pub(super) fn at<'n>(root: &'n mut Node, path: &[Step]) -> Option<&'n mut Node> {
    let Some((first, rest)) = path.split_first() else { return Some(root) };
    let next = match (first, root) {
        (Step::Field(name), Node::Named(_, Body::Fields(fields))) => {
            fields.iter_mut().find(|(field, _)| field == name).map(|(_, value)| value)
        }
        (Step::Entry(key), Node::Map(entries)) => {
            entries.iter_mut().find(|(known, _)| known == key).map(|(_, value)| value)
        }
        (Step::Item(id), Node::List(items)) => {
            items.iter_mut().find(|item| item.id == *id).map(|item| &mut item.node)
        }
        _ => None,
    };
    at(next?, rest)
}

/// Makes an edit; what is not there is left alone.
pub(super) fn make(root: &mut Node, edit: &Edit) {
    for change in &edit.makes {
        match change {
            Change::Set(path, value) => {
                let Some((last, above)) = path.split_last() else {
                    if let Some(value) = value {
                        root.clone_from(value);
                    }
                    continue;
                };
                match (last, at(root, above)) {
                    (Step::Field(name), Some(node)) => node.set_field(name, value.clone()),
                    (Step::Item(_), Some(_)) => {
                        if let (Some(node), Some(value)) = (at(root, path), value) {
                            value.clone_into(node);
                        }
                    }
                    (Step::Entry(key), Some(Node::Map(entries))) => {
                        let place = entries.iter().position(|(known, _)| known == key);
                        match (place, value) {
                            (Some(place), Some(value)) => entries[place].1 = value.clone(),
                            (Some(place), None) => drop(entries.remove(place)),
                            (None, Some(value)) => entries.push((key.clone(), value.clone())),
                            (None, None) => {}
                        }
                    }
                    _ => {}
                }
            }
            Change::Put(path, item, after) => {
                let Some(Node::List(items)) = at(root, path) else { continue };
                let behind = after.and_then(|after| items.iter().position(|item| item.id == after));
                let place = match after {
                    None => 0,
                    Some(_) => behind.map_or(items.len(), |behind| behind + 1),
                };
                items.insert(place, item.clone());
            }
            Change::Cut(path, id) => {
                let Some(Node::List(items)) = at(root, path) else { continue };
                // The last of that number: what took its place may stand before it.
                if let Some(place) = items.iter().rposition(|item| item.id == *id) {
                    items.remove(place);
                }
            }
            Change::Rename(path, id, from, to) => {
                if let Some(Node::Named(_, Body::Fields(fields))) = at(root, path) {
                    // The encore has names of its own.
                    let fields = fields.iter_mut().filter(|(name, _)| name != "encore");
                    fields.for_each(|(_, value)| value.rename(from, to));
                }
                let score = [Step::Field("score".to_owned()), Step::Item(*id)];
                let score: Path = path.iter().cloned().chain(score).collect();
                if let Some(section) = at(root, &score) {
                    section.set_field("name", Some(Node::Text(to.clone())));
                }
            }
        }
    }
}
