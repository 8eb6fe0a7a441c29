//! What has changed between two acts, as their documents tell it, and whether a help says so.

use serde_json::Value;

use crate::said::Said;
use crate::said::names::CREW;

/// Times of equal worth differ by less, in seconds.
const NEAR_S: f64 = 1e-6;

/// Between an act and the same act with a change made.
#[derive(Debug)]
pub(crate) struct Difference {
    /// How much later it ends, in seconds, with all that is open at its shortest.
    pub(crate) adds_s: f64,
    /// Whether another hand leads any section.
    pub(crate) flips_lead: bool,
    /// Whether any throw that is in both shows another colour; `None` where that is not known.
    pub(crate) moves_colours: Option<bool>,
    /// Cues that come at another time: crew and number.
    pub(crate) cues_that_move: Vec<(String, String)>,
    /// Whether both are without errors.
    both_clean: bool,
}

/// The difference; `None` where one of the acts has no times.
pub(crate) fn of(before: &Said, after: &Said) -> Option<Difference> {
    let (old, new) = (before.time.as_ref()?, after.time.as_ref()?);
    let length = |time: &Value| {
        let sections = time["sections"].as_array()?;
        Some(sections.last()?["ends_s"].as_f64()? - sections.first()?["starts_s"].as_f64()?)
    };
    let lead = |(old, new): (&Value, &Value)| {
        old["lead"].is_string() && new["lead"].is_string() && old["lead"] != new["lead"]
    };
    let colours = before.colours.as_ref().zip(after.colours.as_ref());
    Some(Difference {
        adds_s: length(new)? - length(old)?,
        flips_lead: named(&old["sections"], &new["sections"]).into_iter().any(lead),
        moves_colours: colours.map(|(old, new)| {
            let charts = named(&old["sections"], &new["sections"]);
            charts.into_iter().any(|(old, new)| moved(old, new))
        }),
        cues_that_move: moving(before.cues.as_ref()?, after.cues.as_ref()?),
        both_clean: before.check["errors"] == 0 && after.check["errors"] == 0,
    })
}

/// Sections of the same name in both.
fn named<'v>(old: &'v Value, new: &'v Value) -> Vec<(&'v Value, &'v Value)> {
    let list = |of: &'v Value| of.as_array().map_or(&[][..], Vec::as_slice);
    let other = |one: &'v Value| {
        list(new).iter().find(|other| other["name"] == one["name"]).map(|other| (one, other))
    };
    list(old).iter().filter_map(other).collect()
}

/// Whether a throw that both make shows another colour.
fn moved(old: &Value, new: &Value) -> bool {
    // Another pattern has other throws.
    if old["pattern"] != new["pattern"] || old["begins"] != new["begins"] {
        return false;
    }
    let cycles = |of: &Value| of["cycles"].as_array().cloned().unwrap_or_default();
    let pairs = cycles(old).into_iter().zip(cycles(new));
    let throws = pairs.flat_map(|(old, new)| {
        let list = |of: &Value| of.as_array().cloned().unwrap_or_default();
        list(&old).into_iter().zip(list(&new)).collect::<Vec<_>>()
    });
    throws.into_iter().any(|(old, new)| old.is_string() && new.is_string() && old != new)
}

fn moving(old: &Value, new: &Value) -> Vec<(String, String)> {
    let list = |of: &Value| of["cues"].as_array().cloned().unwrap_or_default();
    let name = |cue: &Value| {
        let text = |field: &str| cue[field].as_str().unwrap_or_default().to_owned();
        (text(CREW), text("number"))
    };
    let moves = |cue: &Value| {
        let same = list(new).into_iter().find(|other| name(other) == name(cue))?;
        let by = same["go_s"].as_f64()? - cue["go_s"].as_f64()?;
        (by.abs() > NEAR_S).then(|| name(cue))
    };
    list(old).iter().filter_map(moves).collect()
}

impl Difference {
    /// What a help says that is not so: what, and in detail.
    pub(crate) fn contradicts(&self, help: &Value) -> Vec<(String, String)> {
        let mut found = Vec::new();
        let mut fail = |what: &str| found.push((what.to_owned(), format!("{help:#}\n{self:?}")));
        match help["adds_s"].as_f64() {
            Some(adds) if (adds - self.adds_s).abs() > NEAR_S => {
                fail("a change that says another time than it adds");
            }
            None if self.both_clean => fail("a change that does not say what it adds"),
            _ => {}
        }
        if let Some(told) = seconds_told(help["text"].as_str().unwrap_or_default())
            && (told - self.adds_s).abs() > 0.051
        {
            fail("a change whose words say another time than it adds");
        }
        match help["flips_lead"].as_bool() {
            Some(flips) if flips != self.flips_lead => {
                fail("a change that does not flip the lead as it says");
            }
            None if self.both_clean => fail("a change that does not say whether it flips the lead"),
            _ => {}
        }
        match (help["moves_colours"].as_bool(), self.moves_colours) {
            (Some(said), Some(moves)) if said != moves => {
                fail("a change that does not move colours as it says");
            }
            (None, Some(_)) if self.both_clean => {
                fail("a change that does not say whether it moves colours");
            }
            _ => {}
        }
        found
    }
}

/// The seconds that words say are added, below zero where they are taken off.
fn seconds_told(words: &str) -> Option<f64> {
    for (word, sign) in [("adds ", 1.0), ("takes off ", -1.0), ("saves ", -1.0)] {
        let told = words.split(word).nth(1).and_then(|rest| rest.split(" s").next()?.parse().ok());
        if let Some(told) = told {
            let told: f64 = told;
            return Some(sign * told);
        }
    }
    None
}

#[test]
fn seconds_are_read_from_words() {
    assert_eq!(seconds_told("Put `4` between (adds 0.3 s, flips the lead hand)."), Some(0.3));
    assert_eq!(seconds_told("One cycle less (takes off 1.2 s)."), Some(-1.2));
    assert_eq!(seconds_told("Load the props otherwise."), None);
}
