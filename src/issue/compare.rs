//! What is different between the cues of two issues.

use crate::routine::{CueOnPaper, Issue};
use crate::time::{Seconds, on_paper, seconds_text};

/// What has become of a cue since an issue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// It stands on paper as it is.
    Same,
    /// It is not on that paper.
    New,
    /// It has changed: what was and what is, at least one.
    Changed(Vec<String>),
}

/// Two cue lists held against each other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// What has become of each cue, in the order of the new list.
    pub told: Vec<Told>,
    /// Which of the old list each of the new list was, as indices.
    pub was: Vec<Option<usize>>,
    /// The cues of the old list that are gone, as they were.
    pub cut: Vec<CueOnPaper>,
}

impl Compared {
    /// Whether both lists say the same.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.cut.is_empty() && self.told.iter().all(|told| *told == Told::Same)
    }
}

/// Holds cues against those of an issue. A numbered cue is the one of its crew and number, else one
/// that had none and does the same at the same trigger; one without a number is the one without
/// that does the same at the same trigger, else the same, else at the same trigger, whatever its words
/// say now.
#[must_use]
pub fn compare(before: &Issue, now: &[CueOnPaper]) -> Compared {
    let old = &before.cues;
    let mut met: Vec<Option<usize>> = vec![None; now.len()];
    let mut free = vec![true; old.len()];
    let rules: [fn(&CueOnPaper, &CueOnPaper) -> bool; 6] = [
        |old, new| new.number.is_some() && old.number == new.number,
        |old, new| {
            let numbered = old.number.is_none() && new.number.is_some();
            let same = old.encore == new.encore && old.does == new.does && old.waits_as(new);
            numbered && same
        },
        |old, new| unnumbered(old, new) && old.does == new.does && old.waits_as(new),
        |old, new| unnumbered(old, new) && old.does == new.does,
        |old, new| unnumbered(old, new) && old.waits_as(new) && old.trigger == new.trigger,
        |old, new| unnumbered(old, new) && old.waits_as(new),
    ];
    for rule in rules {
        for (new, met) in now.iter().zip(&mut met).filter(|(_, met)| met.is_none()) {
            let fits = |old: &CueOnPaper| old.crew == new.crew && rule(old, new);
            *met = (0..old.len()).find(|&index| free[index] && fits(&old[index]));
            if let Some(index) = *met {
                free[index] = false;
            }
        }
    }
    let told: Vec<Told> = now
        .iter()
        .zip(&met)
        .map(|(new, met)| {
            let Some(old) = met.map(|index| &old[index]) else { return Told::New };
            let differences = differences(old, new);
            if differences.is_empty() { Told::Same } else { Told::Changed(differences) }
        })
        .collect();
    let cut = old.iter().zip(free).filter(|(_, free)| *free).map(|(old, _)| old.clone());
    Compared { told, was: met, cut: cut.collect() }
}

fn unnumbered(old: &CueOnPaper, new: &CueOnPaper) -> bool {
    old.number.is_none() && new.number.is_none() && old.encore == new.encore
}

/// What is different on paper, each as was and is.
fn differences(old: &CueOnPaper, new: &CueOnPaper) -> Vec<String> {
    let mut differences = Vec::new();
    if old.number != new.number
        && let Some(number) = new.number
    {
        differences.push(format!("number none, now {number}"));
    }
    if old.encore != new.encore {
        let now = if new.encore { "now in the encore" } else { "now in the act" };
        differences.push(now.to_owned());
    }
    if old.go != new.go {
        let moved = match moved(old, new) {
            Some(by) if old.encore == new.encore => {
                let way = if by.is_negative() { "earlier" } else { "later" };
                format!(" ({} {way})", seconds_text(&by.abs()))
            }
            _ => String::new(),
        };
        differences.push(format!("time {}, now {}{moved}", old.go, new.go));
    }
    if old.trigger != new.trigger || !old.waits_as(new) {
        let trigger = |cue: &CueOnPaper| format!("{} {}", cue.trigger.to_uppercase(), cue.when);
        let triggers = [old, new].map(trigger);
        differences.push(format!("trigger {}, now {}", triggers[0], triggers[1]));
    }
    if old.does != new.does {
        differences.push(format!("does \"{}\", now \"{}\"", old.does, new.does));
    }
    let or_none = |text: &Option<String>| text.clone().unwrap_or_else(|| "none".to_owned());
    if old.count != new.count {
        differences.push(format!("count {}, now {}", or_none(&old.count), or_none(&new.count)));
    }
    // A stand-by moves with its GO: only its distance is news.
    let (was, is) = (ahead(old), ahead(new));
    if was != is {
        let words = |ahead: &Option<Seconds>| match ahead {
            Some(ahead) => format!("{} before", seconds_text(ahead)),
            None => "none".to_owned(),
        };
        differences.push(format!("stand-by {}, now {}", words(&was), words(&is)));
    }
    if old.on_drop != new.on_drop {
        let usual = |text: &Option<String>| text.clone().unwrap_or_else(|| "as usual".to_owned());
        let (was, is) = (usual(&old.on_drop), usual(&new.on_drop));
        differences.push(format!("on a drop \"{was}\", now \"{is}\""));
    }
    if old.dark != new.dark {
        let now = if new.dark { "now DARK" } else { "no longer DARK" };
        differences.push(now.to_owned());
    }
    differences
}

/// How much later a cue goes than before; `None` where its earliest and its latest GO have moved
/// differently.
fn moved(old: &CueOnPaper, new: &CueOnPaper) -> Option<Seconds> {
    let (was, is) = (on_paper(&old.go), on_paper(&new.go));
    let by = is.earliest()? - was.earliest()?;
    (by == is.latest()? - was.latest()?).then_some(by)
}

/// How long before GO its stand-by is, to what two printed tenths can say: both move together.
fn ahead(cue: &CueOnPaper) -> Option<Seconds> {
    let standby = on_paper(cue.standby.as_ref()?);
    Some(on_paper(&cue.go).earliest()? - standby.earliest()?)
}
