//! When fire is lit and put out: whoever reads the cue sheet must know when flames are on stage.

use crate::act::Act;
use crate::act::in_use::InUse;
use crate::routine::Hazard;
use crate::time::Time;

use super::loading::section_name;
use super::stamp::{Stamp, StampClocks};
use super::words::{plain, quoted};

/// What happens to the flames of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlamesChange {
    /// They are alight from here on.
    Alight,
    /// They are out.
    Out,
    /// The act ends, and nothing has said that they are put out.
    NotOut,
}

impl FlamesChange {
    /// `alight`, `out` or `not_out`, as documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            FlamesChange::Alight => "alight",
            FlamesChange::Out => "out",
            FlamesChange::NotOut => "not_out",
        }
    }
}

/// The flames of a set: lit, or put out.
#[derive(Clone, Debug, PartialEq)]
pub struct FlamesLine {
    /// The set.
    pub set: String,
    /// What happens.
    pub what: FlamesChange,
    /// When: the earliest that they may burn, and the latest that they may be out.
    pub at: Stamp,
    /// Where, in words, as in `start of "light up"`.
    pub place: String,
}

/// The flames of an act in order of time; those of an encore are its own.
#[must_use]
pub fn flames(act: &Act) -> Vec<FlamesLine> {
    let clocks = StampClocks::of(act);
    let mut lines = Vec::new();
    for used in &act.in_use {
        let Some(set) = act.routine.sets.get(used.set) else { continue };
        if used.hazard != Hazard::Fire {
            continue;
        }
        let mut add = |what, at: &Time, place: String| {
            let set = plain(&set.name.value);
            lines.push(FlamesLine { set, what, at: clocks.stamp(at), place });
        };
        add(FlamesChange::Alight, &used.from, begins(act, used));
        match used.ends {
            Some(out) => {
                let place = format!("end of {}", quoted(&section_name(&act.routine, out)));
                add(FlamesChange::Out, &used.to, place);
            }
            None => {
                let of = if act.routine.is_encore { "encore" } else { "act" };
                add(FlamesChange::NotOut, &used.to, format!("end of the {of}"));
            }
        }
    }
    lines.sort_by(|a, b| a.at.time.least().to_f64().total_cmp(&b.at.time.least().to_f64()));
    lines
}

fn begins(act: &Act, used: &InUse) -> String {
    match used.begins {
        Some(lit) => format!("start of {}", quoted(&section_name(&act.routine, lit))),
        None => "since the act".to_owned(),
    }
}
