//! The reference of the routine file: every record, its fields, and the words that stand in them.
//!
//! One file for a few records. `throwbook explain` shows an entry, and all of them are the page
//! `routines/REFERENCE.md`. The tests here hold the entries against what the reader asks for: a
//! field, a word or a bound that the reader knows and that is not here fails, and the other way
//! round.

mod act;
mod colours;
mod cues;
mod juggle;
mod lengths;
mod limits;
mod moments;
mod music;
mod pause;
mod penalties;
mod props;
#[cfg(test)]
mod tests;
mod venue;

/// A value with named fields, such as `Room(clear_height: 4.5, hands_at: 1.0)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Record {
    /// Its word in the file.
    pub name: &'static str,
    /// What it is, in sentences.
    pub about: &'static str,
    /// A routine, entries of a score or fields of a routine; empty where its fields have examples.
    pub example: &'static str,
    /// Its fields, the needed ones first.
    pub fields: &'static [Field],
}

/// A field of a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// What holds where it is left out; `None` where it must be written.
    pub left_out: Option<&'static str>,
    /// What is written there, with units and bounds.
    pub written: &'static str,
    /// The lists of words that stand there, by what they are.
    pub words: &'static [&'static str],
    /// What it means.
    pub means: &'static str,
    /// As the record's example; empty where that one shows the field.
    pub example: &'static str,
    /// Codes of messages about it.
    pub codes: &'static [&'static str],
}

impl Field {
    /// A field that must be written.
    const fn needed(name: &'static str, written: &'static str, means: &'static str) -> Field {
        Field { name, left_out: None, written, words: &[], means, example: "", codes: &[] }
    }

    /// A field that may be left out.
    const fn open(
        name: &'static str,
        left_out: &'static str,
        written: &'static str,
        means: &'static str,
    ) -> Field {
        Field { left_out: Some(left_out), ..Field::needed(name, written, means) }
    }

    const fn words(self, words: &'static [&'static str]) -> Field {
        Field { words, ..self }
    }

    const fn codes(self, codes: &'static [&'static str]) -> Field {
        Field { codes, ..self }
    }

    const fn example(self, example: &'static str) -> Field {
        Field { example, ..self }
    }
}

/// Words that can stand in one place; one of them is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words {
    /// What each of them is, as the reader says it: `moment`, `tempo`.
    pub what: &'static str,
    /// What holds for all of them; empty where their fields say it.
    pub about: &'static str,
    /// The words.
    pub words: &'static [Word],
    /// As the record's example; empty where a field shows the words.
    pub example: &'static str,
}

/// One of several words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// The word.
    pub word: &'static str,
    /// How it is written, each way once.
    pub written: &'static str,
    /// What it means.
    pub means: &'static str,
}

const fn word(word: &'static str, written: &'static str, means: &'static str) -> Word {
    Word { word, written, means }
}

/// Every record, from the whole file inwards.
pub const RECORDS: &[Record] = &[
    act::ROUTINE,
    act::ROOM,
    act::WITHIN,
    props::SET,
    juggle::JUGGLE,
    juggle::RAMP,
    juggle::PER_MUSIC_BEAT,
    colours::CAUGHT,
    pause::PAUSE,
    props::HANDS,
    music::TRACK,
    music::BARS,
    music::HOLD,
    limits::LIMIT,
    penalties::STEPS,
    penalties::FLAT,
    penalties::GRADE,
    cues::CUE,
    cues::CREW,
    venue::VENUE,
    act::ENCORE,
];

/// Every list of words.
pub const WORDS: &[Words] = &[
    moments::MOMENT,
    juggle::HAND,
    juggle::SECTION,
    lengths::LENGTH,
    lengths::LANDS,
    juggle::TEMPO,
    juggle::ACCENT,
    juggle::TRANSITION,
    juggle::KIND_OF_2,
    juggle::DECLARATION,
    juggle::ARMS,
    juggle::MADE,
    colours::FREEDOM,
    props::KIND,
    props::DANGER,
    props::LOADING,
    props::REGRIP,
    music::LENGTH_OF_A_HOLD,
    limits::ADDED_UP,
    limits::SIDE_OF_THE_LINE,
    limits::START_EVENT,
    limits::MOVES,
    penalties::PENALTY,
    penalties::START_OF_THE_STEPS,
    cues::CREWS,
    cues::NUMBERING,
    cues::TRIGGER,
    cues::END,
    cues::SPOT,
    venue::HAZE,
];

impl Record {
    /// Its name as paths have it: `per_music_beat`.
    #[must_use]
    pub fn path(&self) -> String {
        let mut path = String::new();
        for letter in self.name.chars() {
            if letter.is_uppercase() && !path.is_empty() {
                path.push('_');
            }
            path.extend(letter.to_lowercase());
        }
        path
    }
}

/// One entry of the reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A record with its fields.
    Record(&'static Record),
    /// A field of a record.
    Field(&'static Record, &'static Field),
    /// A list of words.
    Words(&'static Words),
    /// One word of a list.
    Word(&'static Words, &'static Word),
}

impl Entry {
    /// Under what it is found: a path, a record's name, a word.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Entry::Record(record) => record.path(),
            Entry::Field(record, field) => format!("{}.{}", record.path(), field.name),
            Entry::Words(words) => words.what.to_owned(),
            Entry::Word(_, word) => word.word.to_owned(),
        }
    }

    /// Whether somebody who writes this name, in whatever letters, asks for it.
    fn is_called(&self, name: &str) -> bool {
        let same = |own: &str| own.eq_ignore_ascii_case(name);
        same(&self.name())
            || match self {
                Entry::Record(record) => same(record.name),
                Entry::Field(record, field) => {
                    same(field.name) || same(&format!("{}.{}", record.name, field.name))
                }
                Entry::Words(_) | Entry::Word(..) => false,
            }
    }
}

/// Every entry: records, their fields, lists of words, words.
pub fn entries() -> impl Iterator<Item = Entry> {
    let fields = |record: &'static Record| {
        record.fields.iter().map(move |field| Entry::Field(record, field))
    };
    let words =
        |words: &'static Words| words.words.iter().map(move |word| Entry::Word(words, word));
    let records = RECORDS.iter().map(Entry::Record);
    let lists = WORDS.iter().map(Entry::Words);
    records.chain(RECORDS.iter().flat_map(fields)).chain(lists).chain(WORDS.iter().flat_map(words))
}

/// Every entry of that name; of a name that stands in several records, all of them.
#[must_use]
pub fn called(name: &str) -> Vec<Entry> {
    entries().filter(|entry| entry.is_called(name)).collect()
}

/// The list of words that are each this.
#[must_use]
pub fn words(what: &str) -> Option<&'static Words> {
    WORDS.iter().find(|words| words.what == what)
}
