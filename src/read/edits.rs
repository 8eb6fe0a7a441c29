//! The single edits that make one file into another: which they are, in words, and each of them made
//! in turn.
//!
//! Comments, layout and the order of fields are none. Sections are known by their names, then by what
//! is written in them; limits by their rules; cues by crew and number, then by what they do. The
//! edits come in the order in which the file holds together: a new name first, with every moment that
//! names it; then what is changed and added, what stands below a section before it; last what is taken
//! out, the other way round.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::edit::{Change, Edit, Path, Step, at, make};
use super::edit_words;
use super::raw::Raw;
use super::tree::{Body, Item, Node};

/// What makes one file into another.
#[derive(Clone, Debug)]
pub struct Edits {
    /// What stands before the routine: comments, and what of RON is switched on.
    head: String,
    now: Node,
    edits: std::vec::IntoIter<Edit>,
}

impl Edits {
    /// Between two files; `None` where one of them is no RON.
    #[must_use]
    pub fn between(old: &str, new: &str) -> Option<Edits> {
        let (old, new) = (bare(old), bare(new));
        let mut head = String::new();
        let mut root = |text: &str| {
            let root = Raw::root(text).ok()?.value;
            text.get(..root.start)?.clone_into(&mut head);
            Some(Node::of(root))
        };
        let (old, new) = (root(old)?, root(new)?);
        let (mut old, mut new) = (old, new);
        let mut found = Finding::default();
        found.number_all(&mut old, &mut new);
        // What follows is found in the file that has the new names.
        let mut named = old.clone();
        found.renames.iter().for_each(|edit| make(&mut named, edit));
        found.values(&Vec::new(), "", &named, &new);
        let mut edits = found.in_order();
        let mut now = old.clone();
        edits.iter().for_each(|edit| make(&mut now, edit));
        let order = of_order(&now, &new);
        order.iter().for_each(|edit| make(&mut now, edit));
        edits.extend(order);
        if now != new {
            let words = "the file: written otherwise".to_owned();
            edits.push(Edit { words, makes: vec![Change::Set(Vec::new(), Some(new))] });
        }
        Some(Edits { head, now: old, edits: edits.into_iter() })
    }

    /// How many are left.
    #[must_use]
    pub fn left(&self) -> usize {
        self.edits.len()
    }
}

impl Iterator for Edits {
    /// An edit in words, and the file once it is made, those before it too.
    type Item = (String, String);

    fn next(&mut self) -> Option<(String, String)> {
        let edit = self.edits.next()?;
        make(&mut self.now, &edit);
        Some((edit.words, self.head.clone() + &self.now.written()))
    }
}

/// A text without its byte-order mark.
fn bare(text: &str) -> &str {
    text.trim_start_matches('\u{feff}')
}

/// What stands in another order once everything else is done, field by field.
fn of_order(now: &Node, new: &Node) -> Vec<Edit> {
    let Node::Named(_, Body::Fields(fields)) = new else { return Vec::new() };
    let differ = fields.iter().filter(|(name, value)| now.field(name) != Some(value));
    let edit = |(name, value): &(String, Node)| Edit {
        words: format!("{name}: in another order"),
        makes: vec![Change::Set(vec![Step::Field(name.clone())], Some(value.clone()))],
    };
    differ.map(edit).collect()
}

/// The lists whose items are known, each by the field that holds it.
const LISTS: [&str; 3] = ["score", "limits", "cues"];

/// The edits as they are found.
#[derive(Default)]
struct Finding {
    next_id: usize,
    renames: Vec<Edit>,
    /// What is changed or added, with the rank of its field.
    changed: Vec<(usize, Edit)>,
    /// What is taken out, with the rank of its field.
    cut: Vec<(usize, Edit)>,
}

/// The fields of a routine, what others name before them.
const RANKS: [&str; 20] = [
    "title",
    "issue",
    "lead",
    "tempo",
    "dwell",
    "room",
    "transitions",
    "colours",
    "sets",
    "backdrop",
    "music",
    "tracks",
    "score",
    "zero",
    "set_up",
    "strike",
    "encore",
    "limits",
    "crews",
    "cues",
];

fn rank(path: &Path) -> usize {
    let Some(Step::Field(field)) = path.first() else { return 0 };
    RANKS.iter().position(|known| known == field).unwrap_or(RANKS.len())
}

impl Finding {
    fn in_order(mut self) -> Vec<Edit> {
        self.changed.sort_by_key(|(rank, _)| *rank);
        self.cut.sort_by_key(|(rank, _)| std::cmp::Reverse(*rank));
        let rest = self.changed.into_iter().chain(self.cut).map(|(_, edit)| edit);
        self.renames.into_iter().chain(rest).collect()
    }

    /// Gives the items of both files their numbers, the same number to the same thing, and finds the
    /// sections that have new names.
    fn number_all(&mut self, old: &mut Node, new: &mut Node) {
        for path in [Vec::new(), vec![Step::Field("encore".to_owned())]] {
            for list in LISTS {
                // A list that only one of them has is one value.
                if let (Some(before), Some(after)) =
                    (list_of(old, &path, list), list_of(new, &path, list))
                {
                    self.number(before, after);
                }
            }
            for (id, from, to) in renamed(old, new, &path) {
                let words = edit_words::renamed(&from, &to, !path.is_empty());
                let makes = vec![Change::Rename(path.clone(), id, from, to)];
                self.renames.push(Edit { words, makes });
            }
        }
    }

    fn number(&mut self, old: &mut [Item], new: &mut [Item]) {
        old.iter_mut().for_each(|item| item.id = self.id());
        let mut known: BTreeSet<usize> = BTreeSet::new();
        for known_by in [edit_words::name, edit_words::content] {
            let mut waiting: BTreeMap<String, VecDeque<usize>> = BTreeMap::new();
            for item in old.iter().filter(|item| !known.contains(&item.id)) {
                if let Some(key) = known_by(&item.node) {
                    waiting.entry(key).or_default().push_back(item.id);
                }
            }
            for item in new.iter_mut().filter(|item| item.id == 0) {
                let key = known_by(&item.node);
                let same = key.and_then(|key| waiting.get_mut(&key)?.pop_front());
                item.id = same.unwrap_or_default();
                known.extend(same);
            }
        }
        for item in new.iter_mut().filter(|item| item.id == 0) {
            item.id = self.id();
        }
    }

    fn id(&mut self) -> usize {
        self.next_id += 1;
        self.next_id
    }

    fn change(&mut self, path: &Path, words: String, makes: Vec<Change>) {
        self.changed.push((rank(path), Edit { words, makes }));
    }

    /// What differs between two values: field by field where both have fields, entry by entry where
    /// both are maps; within a section, a limit or a cue only field by field.
    fn values(&mut self, path: &Path, of: &str, old: &Node, new: &Node) {
        if let (Node::Named(_, Body::Fields(was)), Node::Named(_, Body::Fields(is))) = (old, new) {
            let names: BTreeSet<&String> = was.iter().chain(is).map(|(name, _)| name).collect();
            for name in names {
                let step = Step::Field(name.clone());
                self.value(path, step, of, (old.field(name), new.field(name)));
            }
            return;
        }
        if let (Node::Map(was), Node::Map(is)) = (old, new) {
            for (key, _) in was.iter().filter(|(key, _)| entry(new, key).is_none()) {
                self.value(path, Step::Entry(key.clone()), of, (entry(old, key), None));
            }
            for (key, value) in is {
                self.value(path, Step::Entry(key.clone()), of, (entry(old, key), Some(value)));
            }
        }
    }

    fn value(
        &mut self,
        above: &Path,
        step: Step,
        of: &str,
        values: (Option<&Node>, Option<&Node>),
    ) {
        let (old, new) = values;
        if old == new {
            return;
        }
        let path: Path = above.iter().cloned().chain([step.clone()]).collect();
        let in_item = path.iter().any(|step| matches!(step, Step::Item(_)));
        if let (Some(old), Some(new)) = (old, new)
            && !in_item
        {
            let listed = match (&step, old, new) {
                (Step::Field(name), Node::List(was), Node::List(is)) => {
                    LISTS.contains(&name.as_str()).then_some((was, is))
                }
                _ => None,
            };
            if let Some((was, is)) = listed {
                return self.items(&path, of, was, is);
            }
            if edit_words::has_parts(old, new) {
                let of = edit_words::inner(of, &step);
                return self.values(&path, &of, old, new);
            }
        }
        let words = edit_words::changed(of, &step, old, new);
        let makes = vec![Change::Set(path.clone(), new.cloned())];
        match new {
            Some(_) => self.change(&path, words, makes),
            None if in_item => self.change(&path, words, makes),
            None => self.cut.push((rank(&path), Edit { words, makes })),
        }
    }

    /// What differs between two lists whose items are numbered.
    fn items(&mut self, path: &Path, of: &str, old: &[Item], new: &[Item]) {
        let place = |items: &[Item], id| items.iter().position(|item| item.id == id);
        let both: Vec<(usize, usize)> =
            (0..new.len()).filter_map(|index| Some((place(old, new[index].id)?, index))).collect();
        let stay = in_order_of_both(&both);
        let name = |item: &Item| edit_words::called(of, &item.node);
        // What is gone and what is new between the same neighbours took its place.
        let gone = old.iter().filter(|item| place(new, item.id).is_none());
        let ids = |items: &[Item]| items.iter().map(|item| item.id).collect::<BTreeSet<_>>();
        let (of_old, of_new) = (ids(old), ids(new));
        let mut gone: Vec<(&Item, Stands)> =
            gone.map(|item| (item, stands(old, &of_new, item.id))).collect();
        for (index, item) in new.iter().enumerate() {
            let before = index.checked_sub(1).map(|before| &new[before]);
            let after = before.map(|item| item.id);
            let put = |node: &Node| {
                Change::Put(path.clone(), Item { id: item.id, node: node.clone() }, after)
            };
            if let Some(was) = place(old, item.id) {
                if !stay.contains(&index) {
                    let words = edit_words::moved(&name(item), before.map(name).as_deref());
                    let makes = vec![Change::Cut(path.clone(), item.id), put(&old[was].node)];
                    self.change(path, words, makes);
                }
                self.item(path, &name(item), item.id, (&old[was].node, &item.node));
                continue;
            }
            let here = stands(new, &of_old, item.id);
            let took = gone.iter().position(|(_, stood)| *stood == here);
            match took.map(|place| gone.remove(place).0) {
                Some(gone) => {
                    let words = edit_words::replaced(&name(gone), &name(item));
                    let cut = Change::Cut(path.clone(), gone.id);
                    self.change(path, words, vec![put(&item.node), cut]);
                }
                None => {
                    let words = edit_words::added(&name(item), before.map(name).as_deref());
                    self.change(path, words, vec![put(&item.node)]);
                }
            }
        }
        for (gone, _) in gone {
            let words = format!("{}: taken out", name(gone));
            let makes = vec![Change::Cut(path.clone(), gone.id)];
            self.cut.push((rank(path), Edit { words, makes }));
        }
    }

    fn item(&mut self, path: &Path, called: &str, id: usize, (old, new): (&Node, &Node)) {
        if old == new {
            return;
        }
        let inner: Path = path.iter().cloned().chain([Step::Item(id)]).collect();
        if edit_words::has_parts(old, new) {
            return self.values(&inner, called, old, new);
        }
        let makes = vec![Change::Set(inner, Some(new.clone()))];
        self.change(path, format!("{called}: written otherwise"), makes);
    }
}

/// Where an item stands: so many behind the one before it that the other list has too.
type Stands = (Option<usize>, usize);

fn stands(items: &[Item], others: &BTreeSet<usize>, id: usize) -> Stands {
    let before = items.iter().take_while(|item| item.id != id);
    before.fold((None, 0), |(last, behind), item| match others.contains(&item.id) {
        true => (Some(item.id), 0),
        false => (last, behind + 1),
    })
}

/// Of pairs of an old and a new place, in the order of the new one: the new places of as many as can
/// stay where they are.
fn in_order_of_both(pairs: &[(usize, usize)]) -> BTreeSet<usize> {
    // The longest row that rises: for each pair the length of the best row that ends with it.
    let mut best: Vec<(usize, Option<usize>)> = Vec::new();
    for (index, (old, _)) in pairs.iter().enumerate() {
        let before = (0..index).filter(|&before| pairs[before].0 < *old);
        let before = before.max_by_key(|&before| (best[before].0, std::cmp::Reverse(before)));
        best.push((before.map_or(1, |before| best[before].0 + 1), before));
    }
    let mut at = (0..pairs.len()).max_by_key(|&index| (best[index].0, std::cmp::Reverse(index)));
    let mut stay = BTreeSet::new();
    while let Some(index) = at {
        stay.insert(pairs[index].1);
        at = best[index].1;
    }
    stay
}

fn entry<'n>(map: &'n Node, key: &Node) -> Option<&'n Node> {
    let Node::Map(entries) = map else { return None };
    entries.iter().find(|(known, _)| known == key).map(|(_, value)| value)
}

fn list_of<'n>(root: &'n mut Node, path: &Path, list: &str) -> Option<&'n mut Vec<Item>> {
    let path: Path = path.iter().cloned().chain([Step::Field(list.to_owned())]).collect();
    match at(root, &path)? {
        Node::List(items) => Some(items),
        _ => None,
    }
}

/// Sections that are in both scores under two names.
fn renamed(old: &mut Node, new: &mut Node, path: &Path) -> Vec<(usize, String, String)> {
    let names = |root: &mut Node| -> Vec<(usize, String)> {
        let items = list_of(root, path, "score").map(|items| items.as_slice());
        let name = |item: &Item| Some((item.id, item.node.text("name")?.to_owned()));
        items.unwrap_or_default().iter().filter_map(name).collect()
    };
    let (was, is) = (names(old), names(new));
    let both = was.into_iter().filter_map(|(id, from)| {
        let (_, to) = is.iter().find(|(other, _)| *other == id)?;
        (from != *to).then(|| (id, from, to.clone()))
    });
    both.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const OLD: &str = r#"Routine(
        title: "Act", colours: { "coral": "1", "teal": "2" },
        room: Room(clear_height: 4.5, hands_at: 1.0),
        score: [
            Pause(name: "walk", lasts: For("0:03")),
            Juggle(name: "tide", pattern: "3", lasts: Beats(24)), // first
            Juggle(name: "beam", pattern: "531", lasts: Cycles(8)),
            Pause(name: "bow", lasts: For("0:05")),
        ],
        limits: [Limit(rule: "short", at_most: "0:15")],
        cues: [
            Cue(crew: Light, number: 5, at: Start("tide"), does: "up"),
            Cue(crew: Sound, at: Start("beam"), does: "bell"),
        ],
    )"#;

    /// The edits from the file to the same with pieces of its text replaced, in words; made in turn
    /// they end at the new file.
    fn with(replaced: &[(&str, &str)]) -> Vec<String> {
        let new = replaced.iter().fold(OLD.to_owned(), |text, (old, new)| {
            assert!(text.contains(old), "{old}");
            text.replace(old, new)
        });
        let edits: Vec<(String, String)> = Edits::between(OLD, &new).unwrap().collect();
        let node = |text: &str| Node::of(Raw::root(text).unwrap().value);
        let end = edits.last().map_or(OLD, |(_, text)| text);
        assert_eq!(node(end), node(&new));
        edits.into_iter().map(|(words, _)| words).collect()
    }

    #[test]
    fn each_thing_that_is_written_otherwise_is_one_edit() {
        assert_eq!(with(&[]), [""; 0]);
        assert_eq!(with(&[("Beats(24)), // first", "Beats(24),), /* same */")]), [""; 0]);
        assert_eq!(
            with(&[
                ("Beats(24)", "Beats(25)"),
                ("For(\"0:05\")", "Until(Mark(\"end\"))"),
                ("4.5", "4"),
                ("\"1\"", "\"3\""),
                ("0:15", "0:14"),
                ("number: 5", "count: 2, number: 5"),
                (", does: \"bell\"", ", does: \"bell\", count: 1"),
            ]),
            [
                "room: clear_height 4.5 → 4",
                "colour \"coral\": \"1\" → \"3\"",
                "tide: 24 → 25 beats",
                "bow: lasts For(\"0:05\") → Until(Mark(\"end\"))",
                "limit \"short\": at_most \"0:15\" → \"0:14\"",
                "LX 5: count added: 2",
                "SND \"bell\": count added: 1",
            ]
        );
    }

    #[test]
    fn a_rename_takes_the_moments_with_it_and_a_moved_block_is_one_edit() {
        assert_eq!(with(&[("\"tide\"", "\"swell\"")]), ["tide: now called swell"]);
        let beam = "Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(8)),";
        let moved = [(beam, ""), ("Pause(name: \"walk\"", &format!("{beam} Pause(name: \"walk\""))];
        assert_eq!(with(&moved), ["beam: moved in front"]);
        assert_eq!(
            with(&[("name: \"beam\", pattern: \"531\"", "name: \"wake\", pattern: \"441\"")]),
            ["beam: replaced by wake"]
        );
        assert_eq!(
            with(&[(beam, ""), ("Cue(crew: Sound, at: Start(\"beam\"), does: \"bell\"),", "")]),
            ["SND \"bell\": taken out", "beam: taken out"]
        );
        let added = format!("{beam} Pause(name: \"rest\", lasts: For(\"0:02\")),");
        assert_eq!(with(&[(beam, &added)]), ["rest: added behind beam"]);
        assert_eq!(
            with(&[("Juggle(name: \"tide\", pattern: \"3\"", "Pause(name: \"tide\"")]).len(),
            1
        );
        assert_eq!(
            with(&[("\"coral\": \"1\", \"teal\": \"2\"", "\"teal\": \"2\", \"coral\": \"1\"")]),
            ["colours: in another order"]
        );
    }

    #[test]
    fn what_is_no_ron_has_no_edits_and_what_is_no_routine_has_some() {
        assert!(Edits::between(OLD, "Routine(").is_none() && Edits::between("", OLD).is_none());
        let other: Vec<_> = Edits::between(OLD, "[1, 2]").unwrap().collect();
        assert_eq!(other.len(), 1, "{other:?}");
        assert!(Edits::between(OLD, &format!("\u{feff}{OLD}")).unwrap().next().is_none());
    }
}
