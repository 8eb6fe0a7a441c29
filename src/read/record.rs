//! Values with named fields, such as `Room(clear_height: 4.5)`.
//!
//! A field is known because something asked for it: what nothing asked for when the record is
//! closed is reported, with the nearest of the names that were.

use std::collections::BTreeSet;

use crate::diagnostic::{Diagnostic, Place, Placed};

use super::nearest::{nearest, one_of};
use super::old_names::{new_field, renamed_field, shift_beside};
use super::raw::Raw;
use super::reader::Reader;

/// Named fields that are being read.
pub(super) struct Record<'a> {
    /// What it is called, as in `Room`.
    name: &'static str,
    /// Its word, or its opening bracket.
    head: Place,
    fields: Vec<(Placed<&'a str>, Raw<'a>)>,
    asked: Vec<&'static str>,
}

impl<'a> Record<'a> {
    /// Opens a record that is written with this name, or without any.
    pub(super) fn open(
        reader: &mut Reader,
        raw: Raw<'a>,
        name: &'static str,
    ) -> Option<Record<'a>> {
        if let Some((word, rest)) = raw.word() {
            if word.value != name {
                reader.unknown_word(&format!("`{name}`"), &word, &[(name, name)]);
            }
            return Record::after(reader, name, word.at, rest);
        }
        if raw.text.starts_with('(') {
            return Record::after(reader, name, raw.head(), raw);
        }
        reader.shape(raw, &format!("`{name}(…)`"))
    }

    /// Opens what follows a record's word.
    pub(super) fn after(
        reader: &mut Reader,
        name: &'static str,
        head: Place,
        rest: Raw<'a>,
    ) -> Option<Record<'a>> {
        let fields = if rest.is_blank() { None } else { rest.fields() };
        let Some(fields) = fields else {
            let at = Place { start: head.start, end: rest.place().end.max(head.end) };
            let message = format!("`{name}` has named fields: `{name}(field: value, …)`.");
            reader.report(Diagnostic::error("wrong-shape", at, message).label("no named fields"));
            return None;
        };
        Some(Record { name, head, fields, asked: Vec::new() })
    }

    /// Its word, or its opening bracket.
    pub(super) fn head(&self) -> Place {
        self.head.clone()
    }

    /// The value of a field, where it is written.
    pub(super) fn take(&mut self, name: &'static str) -> Option<Raw<'a>> {
        self.asked.push(name);
        self.fields.iter().find(|(field, _)| field.value == name).map(|&(_, value)| value)
    }

    /// Where the name of a field stands, if it is written.
    pub(super) fn place_of(&self, name: &str) -> Option<Place> {
        self.fields.iter().find(|(field, _)| field.value == name).map(|(field, _)| field.at.clone())
    }

    /// What is cut to leave a field out: from its name up to the next field's; of the last one,
    /// from the end of the value before it to the end of its own.
    pub(super) fn whole_field(&self, name: &str) -> Option<Place> {
        let index = self.fields.iter().position(|(field, _)| field.value == name)?;
        let (field, value) = self.fields.get(index)?;
        let before = index.checked_sub(1).and_then(|before| self.fields.get(before));
        Some(match (self.fields.get(index + 1), before) {
            (Some((next, _)), _) => Place { start: field.at.start, end: next.at.start },
            (None, Some((_, before))) => {
                Place { start: before.place().end, end: value.place().end }
            }
            (None, None) => Place { start: field.at.start, end: value.place().end },
        })
    }

    /// A field that may be left out.
    pub(super) fn may<T>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
        read: impl FnOnce(&mut Reader, Raw<'a>) -> Option<T>,
    ) -> Option<T> {
        #[cfg(test)]
        reader.known.asked(self.name, name, false);
        let raw = self.take(name)?;
        self.value(reader, name, raw, read)
    }

    /// A field that must be there.
    pub(super) fn need<T>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
        read: impl FnOnce(&mut Reader, Raw<'a>) -> Option<T>,
    ) -> Option<T> {
        #[cfg(test)]
        reader.known.asked(self.name, name, true);
        match self.take(name) {
            Some(raw) => self.value(reader, name, raw, read),
            None => {
                self.missing(reader, name);
                None
            }
        }
    }

    /// The value of a field that is written.
    #[cfg_attr(not(test), expect(clippy::unused_self))]
    fn value<T>(
        &self,
        reader: &mut Reader,
        _name: &'static str,
        raw: Raw<'a>,
        read: impl FnOnce(&mut Reader, Raw<'a>) -> Option<T>,
    ) -> Option<T> {
        #[cfg(test)]
        reader.known.begin(self.name, _name);
        let value = read(reader, raw);
        #[cfg(test)]
        reader.known.end();
        value
    }

    /// Reports that a field is missing. One that stands there by an old name is reported as such.
    pub(super) fn missing(&self, reader: &mut Reader, name: &'static str) {
        let mut written = self.fields.iter().map(|(field, _)| field.value);
        if written.any(|old| new_field(self.name, old) == Some(name)) {
            return;
        }
        let message = format!("`{}` has no `{name}`, which is required.", self.name);
        let label = format!("`{name}` is missing");
        reader.report(Diagnostic::error("missing-field", self.head(), message).label(label));
    }

    /// Reports the fields that nothing asked for and those that are written twice.
    pub(super) fn close(self, reader: &mut Reader) {
        let cut_shift = self.whole_field("shift");
        let Record { name, fields, asked, .. } = self;
        let written: BTreeSet<&str> = fields.iter().map(|(field, _)| field.value).collect();
        let free: Vec<&str> =
            asked.iter().copied().filter(|known| !written.contains(known)).collect();
        for (index, (field, value)) in fields.iter().enumerate() {
            let at = field.at.clone();
            if asked.contains(&field.value) {
                let before = fields.iter().take(index);
                if let Some((first, _)) = before.clone().find(|(one, _)| one.value == field.value) {
                    let message = format!("`{}` is written twice in this `{name}`.", field.value);
                    let diagnostic = Diagnostic::error("duplicate-field", at, message)
                        .label("the second time")
                        .note_at(first.at.clone(), "It is written here already.");
                    reader.report(diagnostic);
                }
                continue;
            }
            if let Some(new) = new_field(name, field.value).filter(|new| asked.contains(new)) {
                reader.report(renamed_field(name, field, new, free.contains(&new)));
                continue;
            }
            if (name, field.value) == ("Cue", "shift") && asked.contains(&"at") {
                let moment = fields.iter().find(|(field, _)| field.value == "at");
                let moment = moment.map(|&(_, moment)| moment);
                reader.report(shift_beside(at, moment, *value, cut_shift.clone()));
                continue;
            }
            let message = format!("`{name}` has no field `{}`.", field.value);
            let mut diagnostic =
                Diagnostic::error("unknown-field", at.clone(), message).label("not known");
            if let Some(near) = nearest(field.value, free.iter().copied()) {
                diagnostic = diagnostic.help_edit(format!("Write `{near}`."), at, near);
            } else {
                let text = format!("The fields of `{name}` are {}.", one_of(&asked));
                diagnostic = diagnostic.help(text.replace(" or ", " and "));
            }
            reader.report(diagnostic);
        }
    }
}
