//! Two acts held against each other, for programs. The field names are a contract.
//!
//! A time `x` that is later is written as `x_by_s`, the earliest against the earliest, and
//! `x_by_latest_s`, the latest against the latest; null where one of the two is not known, the second
//! also where both times are certain.

use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

use crate::difference::{
    ActDifference, Cause, Comparison, CountDifference, CueChange, CueDifference, Difference,
    FaultDifference, InWhich, Later, LimitDifference, SectionDifference,
};
use crate::hand::Hand;
use crate::measure::limits::Verdict;
use crate::time::Seconds;

use super::json::written;

#[derive(Serialize)]
struct Document<'a> {
    same: bool,
    cues_only: bool,
    act: Act<'a>,
    sections: Vec<Section<'a>>,
    added: Vec<&'a str>,
    gone: Vec<&'a str>,
    cues: Vec<Cue<'a>>,
    limits: Vec<Limit<'a>>,
    encore: Option<Encore<'a>>,
    encore_only_in: Option<&'static str>,
    faults: Faults,
    causes: Vec<CauseEntry<'a>>,
    causes_known: bool,
}

#[derive(Serialize)]
struct Act<'a> {
    #[serde(flatten)]
    ends: By<'a>,
    #[serde(flatten)]
    lasts: By<'a>,
}

#[derive(Serialize)]
struct Encore<'a> {
    #[serde(flatten)]
    act: Act<'a>,
    sections: Vec<Section<'a>>,
    added: Vec<&'a str>,
    gone: Vec<&'a str>,
    cues: Vec<Cue<'a>>,
}

#[derive(Serialize)]
struct Section<'a> {
    name: &'a str,
    was: Option<&'a str>,
    #[serde(flatten)]
    starts: By<'a>,
    #[serde(flatten)]
    ends: By<'a>,
    flips_lead: Option<bool>,
    lead: Option<&'static str>,
    moves_colours: Option<bool>,
    throws: Vec<Throw<'a>>,
    counts_by: Option<Counts>,
    pattern_was: Option<&'a str>,
    highest_was_m: Option<f64>,
    highest_m: Option<f64>,
    per_minute_was: Option<f64>,
    per_minute: Option<f64>,
}

#[derive(Serialize)]
struct Throw<'a> {
    number: u32,
    was: &'a str,
    now: &'a str,
}

#[derive(Serialize)]
struct Counts {
    right: Count,
    left: Count,
}

#[derive(Serialize)]
struct Count {
    thrown: i64,
    handed_across: i64,
    held: i64,
    empty: i64,
    releases: i64,
}

#[derive(Serialize)]
struct Cue<'a> {
    crew: &'static str,
    number: Option<String>,
    new_number: Option<String>,
    does: &'a str,
    what: &'static str,
    by_s: Option<f64>,
    by_latest_s: Option<f64>,
}

#[derive(Serialize)]
struct Limit<'a> {
    rule: &'a str,
    #[serde(rename = "in")]
    of: &'static str,
    was: Option<&'static str>,
    now: Option<&'static str>,
    room_by_s: Option<f64>,
}

#[derive(Serialize)]
struct Faults {
    new: Vec<&'static str>,
    gone: Vec<&'static str>,
}

#[derive(Serialize)]
struct CauseEntry<'a> {
    edit: &'a str,
    sections: Vec<&'a str>,
    cues: Vec<Cue<'a>>,
    ends_by_s: Option<f64>,
    limits: Vec<Limit<'a>>,
    faults: Faults,
}

/// How much later a time is, under its name.
struct By<'a>(&'static str, Option<&'a Later>);

impl Serialize for By<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let By(name, later) = self;
        let (earliest, latest) = by(*later);
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry(&format!("{name}_by_s"), &earliest)?;
        map.serialize_entry(&format!("{name}_by_latest_s"), &latest)?;
        map.end()
    }
}

fn by(later: Option<&Later>) -> (Option<f64>, Option<f64>) {
    let latest = later.and_then(|later| later.latest.as_ref());
    (later.map(|later| number(&later.earliest)), latest.map(number))
}

/// A plain number: what is zero but for the last digits after a ramp is zero.
fn number(seconds: &Seconds) -> f64 {
    if *seconds == Seconds::zero() { 0.0 } else { seconds.to_f64() }
}

/// Two files held against each other.
#[must_use]
pub fn of_comparison(comparison: &Comparison) -> String {
    let Comparison { difference, causes, is_same, .. } = comparison;
    let act = difference.act.as_ref();
    let unsure = !is_same;
    written(&Document {
        same: *is_same,
        cues_only: false,
        act: act_entry(act),
        sections: act.map(|act| sections(act, unsure)).unwrap_or_default(),
        added: act.map(|act| names(&act.added)).unwrap_or_default(),
        gone: act.map(|act| names(&act.gone)).unwrap_or_default(),
        cues: act.map(|act| cues(act, unsure)).unwrap_or_default(),
        limits: act.map(limits).unwrap_or_default(),
        encore: difference.encore.as_ref().map(|encore| Encore {
            act: act_entry(Some(encore)),
            sections: sections(encore, unsure),
            added: names(&encore.added),
            gone: names(&encore.gone),
            cues: cues(encore, unsure),
        }),
        encore_only_in: difference.encore_only_in.map(which),
        faults: faults(&difference.faults),
        causes: causes.iter().flatten().map(cause).collect(),
        causes_known: causes.is_some(),
    })
}

/// The cues of now against those that were handed out without the routine's text: nothing else is
/// known.
#[must_use]
pub fn of_cues(cues: &[CueDifference]) -> String {
    written(&Document {
        same: cues.is_empty(),
        cues_only: true,
        act: act_entry(None),
        sections: Vec::new(),
        added: Vec::new(),
        gone: Vec::new(),
        cues: cues.iter().map(cue).collect(),
        limits: Vec::new(),
        encore: None,
        encore_only_in: None,
        faults: Faults { new: Vec::new(), gone: Vec::new() },
        causes: Vec::new(),
        causes_known: false,
    })
}

fn act_entry(act: Option<&ActDifference>) -> Act<'_> {
    Act {
        ends: By("ends", act.and_then(|act| act.ends.as_ref())),
        lasts: By("lasts", act.and_then(|act| act.lasts.as_ref())),
    }
}

/// The sections that are not as they were; with `unsure` also those that an error hides.
fn sections(act: &ActDifference, unsure: bool) -> Vec<Section<'_>> {
    let told =
        |section: &&SectionDifference| section.is_changed() || (unsure && section.is_unsure());
    act.sections.iter().filter(told).map(section).collect()
}

fn section(section: &SectionDifference) -> Section<'_> {
    let count = |count: &CountDifference| Count {
        thrown: count.thrown,
        handed_across: count.handed_across,
        held: count.held,
        empty: count.empty,
        releases: count.releases,
    };
    let throws = section.colours.iter().map(|throw| Throw {
        number: throw.number,
        was: &throw.was,
        now: &throw.now,
    });
    Section {
        name: &section.name,
        was: section.was.as_deref(),
        starts: By("starts", section.starts.as_ref()),
        ends: By("ends", section.ends.as_ref()),
        flips_lead: section.flips_lead,
        lead: section.lead.map(Hand::word),
        moves_colours: section.moves_colours,
        throws: throws.collect(),
        counts_by: section.counts.as_ref().map(|counts| Counts {
            right: count(&counts[Hand::Right.index()]),
            left: count(&counts[Hand::Left.index()]),
        }),
        pattern_was: section.pattern_was.as_deref(),
        highest_was_m: section.highest_m.0,
        highest_m: section.highest_m.1,
        per_minute_was: section.per_minute.0,
        per_minute: section.per_minute.1,
    }
}

/// The same of cues.
fn cues(act: &ActDifference, unsure: bool) -> Vec<Cue<'_>> {
    act.cues.iter().filter(|cue| unsure || cue.is_changed()).map(cue).collect()
}

fn names(names: &[String]) -> Vec<&str> {
    names.iter().map(String::as_str).collect()
}

fn cue(cue: &CueDifference) -> Cue<'_> {
    let (what, later) = match &cue.what {
        CueChange::Added => ("added", None),
        CueChange::Gone => ("cut", None),
        CueChange::Moved(later) => ("moved", Some(later)),
        CueChange::Changed(later) => ("changed", later.as_ref()),
        CueChange::Unsure => ("moved", None),
    };
    let (by_s, by_latest_s) = by(later);
    Cue {
        crew: cue.crew.word(),
        number: cue.number.map(|number| number.to_string()),
        new_number: cue.new_number.map(|number| number.to_string()),
        does: &cue.does,
        what,
        by_s,
        by_latest_s,
    }
}

fn limits(act: &ActDifference) -> Vec<Limit<'_>> {
    let limit = |limit| {
        let LimitDifference { rule, of, was, now, room }: &LimitDifference = limit;
        Limit {
            rule,
            of: which(*of),
            was: was.map(Verdict::word),
            now: now.map(Verdict::word),
            room_by_s: room.as_ref().map(number),
        }
    };
    act.limits.iter().map(limit).collect()
}

fn which(of: InWhich) -> &'static str {
    match of {
        InWhich::Old => "old",
        InWhich::New => "new",
        InWhich::Both => "both",
    }
}

fn faults(faults: &FaultDifference) -> Faults {
    let codes = |faults: &[crate::difference::Fault]| faults.iter().map(|one| one.code).collect();
    Faults { new: codes(&faults.come), gone: codes(&faults.gone) }
}

fn cause(cause: &Cause) -> CauseEntry<'_> {
    let Difference { act, .. } = &cause.moves;
    let sections = cause.moves.acts().flat_map(|act| {
        let changed = act.sections.iter().filter(|section| section.is_changed());
        let others = act.added.iter().chain(&act.gone).map(String::as_str);
        changed.map(|section| section.name.as_str()).chain(others)
    });
    CauseEntry {
        edit: &cause.edit,
        sections: sections.collect(),
        cues: cause.moves.acts().flat_map(|act| cues(act, false)).collect(),
        ends_by_s: by(act.as_ref().and_then(|act| act.ends.as_ref())).0,
        limits: act.as_ref().map(limits).unwrap_or_default(),
        faults: faults(&cause.moves.faults),
    }
}
