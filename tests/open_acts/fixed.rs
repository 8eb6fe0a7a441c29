//! The acts that an open act may turn out to be: every corner of its open lengths, and points
//! between.

use serde_json::Value;

use crate::act::Act;
use crate::said::chance::Chance;
use crate::said::{Said, Wanted, said};

/// An act with all its lengths fixed, and what is said of it.
pub(crate) struct Fixed {
    pub(crate) lengths: Vec<i64>,
    pub(crate) said: Said,
}

/// The corners in the order of their bits, each at its most where its bit is set, and the points
/// between.
pub(crate) struct Turns {
    pub(crate) corners: Vec<Fixed>,
    pub(crate) between: Vec<Fixed>,
}

impl Turns {
    /// All of them.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Fixed> {
        self.corners.iter().chain(&self.between)
    }
}

/// The act with its lengths fixed.
pub(crate) fn fixed(act: &Act, lengths: Vec<i64>) -> Fixed {
    let said = said(&act.fixed(&lengths), Wanted::Times);
    Fixed { lengths, said }
}

/// What an act may turn out to be.
pub(crate) fn turns(act: &Act, seed: u64) -> Turns {
    let opens = act.opens();
    let corner = |bits: usize| {
        let length = |(open, one): (usize, &&crate::act::Open)| {
            if bits >> open & 1 == 1 { one.most } else { one.least }
        };
        fixed(act, opens.iter().enumerate().map(length).collect())
    };
    let corners = (0..1 << opens.len()).map(corner).collect();
    let mut chance = Chance::new(seed);
    let mut between = || {
        let lengths = opens.iter().map(|one| chance.within(one.least, one.most)).collect();
        fixed(act, lengths)
    };
    let wanted = if opens.is_empty() { 0 } else { 3 + opens.len() };
    let between = (0..wanted).map(|_| between()).collect();
    Turns { corners, between }
}

/// The lengths of a fixed act in words.
pub(crate) fn words(act: &Act, lengths: &[i64]) -> String {
    let opens = act.opens();
    let each = opens.iter().zip(lengths).map(|(open, length)| {
        format!("{} at {} s", open.called, crate::said::names::seconds(*length))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// Whether values at the corners and between them owe the same to each length, whatever the
/// others last: the extremes then lie at corners.
pub(crate) fn is_linear(act: &Act, turns: &Turns, of: impl Fn(&Fixed) -> Option<f64>) -> bool {
    let opens = act.opens();
    let Some(least) = turns.corners.first().and_then(&of) else { return false };
    let slope = |open: usize| {
        let extent = (opens[open].most - opens[open].least) as f64;
        Some((of(&turns.corners[1 << open])? - least) / extent)
    };
    let Some(slopes) = (0..opens.len()).map(slope).collect::<Option<Vec<f64>>>() else {
        return false;
    };
    turns.all().all(|fixed| {
        let each = opens.iter().zip(&fixed.lengths).zip(&slopes);
        let owed: f64 =
            each.map(|((open, length), slope)| (length - open.least) as f64 * slope).sum();
        of(fixed).is_some_and(|value| (value - least - owed).abs() < 2e-6)
    })
}

/// A value at a path of names and indices.
pub(crate) fn at<'v>(document: &'v Value, path: &[Step]) -> &'v Value {
    path.iter().fold(document, |value, step| match step {
        Step::Name(name) => &value[name.as_str()],
        Step::Index(index) => &value[*index],
        Step::Cue(crew, number) => cue(value, crew, number),
    })
}

/// A step on the way to a value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Step {
    Name(String),
    Index(usize),
    /// The cue of that crew and number: cues stand in order of their times.
    Cue(String, String),
}

fn cue<'v>(cues: &'v Value, crew: &str, number: &str) -> &'v Value {
    let name = crate::said::names::CREW;
    let of_it = |cue: &&Value| cue[name] == *crew && cue["number"] == *number;
    cues.as_array().and_then(|cues| cues.iter().find(of_it)).unwrap_or(&Value::Null)
}

/// The path in words, every index left out: of one kind are the starts of all sections.
pub(crate) fn kind_of(path: &[Step]) -> String {
    let mut words = String::new();
    for step in path {
        match step {
            Step::Name(name) if words.is_empty() => words += name,
            Step::Name(name) => words += &format!(".{name}"),
            Step::Index(_) | Step::Cue(..) => words += "[]",
        }
    }
    words
}
