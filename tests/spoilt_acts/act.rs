//! An act as entries with fields, so that any of them can be spoilt, left out or written anew.

/// An entry and its fields, in order: name and value as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub(crate) head: &'static str,
    pub(crate) fields: Vec<(String, String)>,
}

impl Entry {
    pub(crate) fn new(head: &'static str) -> Entry {
        Entry { head, fields: Vec::new() }
    }

    /// With a field, in place of the one of that name if there is one.
    pub(crate) fn with(mut self, name: &str, value: impl Into<String>) -> Entry {
        self.set(name, value);
        self
    }

    pub(crate) fn set(&mut self, name: &str, value: impl Into<String>) {
        let value = value.into();
        match self.fields.iter_mut().find(|(field, _)| field == name) {
            Some((_, old)) => *old = value,
            None => self.fields.push((name.to_owned(), value)),
        }
    }

    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        self.fields.iter().find(|(field, _)| field == name).map(|(_, value)| value.as_str())
    }

    pub(crate) fn remove(&mut self, name: &str) {
        self.fields.retain(|(field, _)| field != name);
    }

    /// Its name, quotes left out.
    pub(crate) fn name(&self) -> &str {
        self.get("name").unwrap_or_default().trim_matches('"')
    }

    pub(crate) fn is_juggle(&self) -> bool {
        self.head == "Juggle"
    }

    fn text(&self) -> String {
        let fields: Vec<String> =
            self.fields.iter().map(|(name, value)| format!("{name}: {value}")).collect();
        format!("{}({})", self.head, fields.join(", "))
    }
}

/// An act.
#[derive(Clone, Debug)]
pub(crate) struct Act {
    /// Fields of the routine that stand before the score, a line each.
    pub(crate) head: Vec<(String, String)>,
    pub(crate) score: Vec<Entry>,
    pub(crate) limits: Vec<Entry>,
    pub(crate) cues: Vec<Entry>,
    /// The sections of the encore; none where there is none.
    pub(crate) encore: Vec<Entry>,
}

impl Act {
    pub(crate) fn text(&self) -> String {
        let mut lines = vec!["Routine(".to_owned()];
        lines.extend(self.head.iter().map(|(name, value)| format!("    {name}: {value},")));
        let mut list = |opens: &str, entries: &[Entry], closes: &str| {
            lines.push(format!("    {opens}"));
            lines.extend(entries.iter().map(|entry| format!("        {},", entry.text())));
            lines.push(format!("    {closes}"));
        };
        list("score: [", &self.score, "],");
        list("limits: [", &self.limits, "],");
        list("cues: [", &self.cues, "],");
        if !self.encore.is_empty() {
            list("encore: Encore(score: [", &self.encore, "]),");
        }
        lines.push(")\n".to_owned());
        lines.join("\n")
    }

    /// All entries.
    pub(crate) fn lists(&mut self) -> [&mut Vec<Entry>; 4] {
        [&mut self.score, &mut self.limits, &mut self.cues, &mut self.encore]
    }

    /// The act with one thing less, each.
    pub(crate) fn smaller(&self) -> Vec<Act> {
        let mut smaller = Vec::new();
        let mut without = |change: &dyn Fn(&mut Act)| {
            let mut one = self.clone();
            change(&mut one);
            smaller.push(one);
        };
        if !self.encore.is_empty() {
            without(&|act| act.encore.clear());
        }
        let mut own = self.clone();
        let sizes =
            own.lists().map(|list| list.iter().map(|one| one.fields.len()).collect::<Vec<_>>());
        for (list, entries) in sizes.iter().enumerate() {
            for (entry, fields) in entries.iter().enumerate().rev() {
                without(&|act| drop(act.lists()[list].remove(entry)));
                for field in 0..*fields {
                    without(&|act| drop(act.lists()[list][entry].fields.remove(field)));
                }
            }
        }
        (0..self.head.len()).for_each(|field| without(&|act| drop(act.head.remove(field))));
        smaller
    }
}
