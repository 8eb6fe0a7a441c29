//! What has moved between two acts, in clauses: one for each thing, for every document that tells it.

use crate::diagnostic::words::{all_of, counted, first_few};
use crate::difference::{
    ActDifference, CountDifference, CueChange, CueDifference, Difference, Fault, FaultDifference,
    InWhich, Later, LimitDifference, SectionDifference, ThrowColour,
};
use crate::hand::Hand;
use crate::measure::height::metres_and_feet;
use crate::measure::limits::Verdict;
use crate::notation::Severity;
use crate::sheet::words::{plain, quoted};
use crate::time::{Seconds, distance_text, seconds_in_full};

/// So many throws of a section are named that show another colour.
const MOST_THROWS: usize = 3;

/// How much later, as in `0.3 s later`; with both ends where they do not move alike. `None` where it
/// is as it was.
pub(super) fn later(by: &Later) -> Option<String> {
    if !by.is_moved() {
        return None;
    }
    let zero = Seconds::zero();
    let latest = by.latest.as_ref().filter(|latest| **latest != by.earliest);
    Some(match latest {
        Some(latest) if by.earliest == zero => format!("{} at its latest", plainly(latest)),
        Some(latest) if *latest == zero => format!("{} at its earliest", plainly(&by.earliest)),
        Some(latest) => {
            format!("{} at its earliest, {} at its latest", plainly(&by.earliest), plainly(latest))
        }
        None if by.earliest == zero => "at another time within the same range".to_owned(),
        None => plainly(&by.earliest),
    })
}

fn plainly(by: &Seconds) -> String {
    let way = if by.is_negative() { "earlier" } else { "later" };
    format!("{} {way}", length(&by.abs()))
}

/// A length of time in thousandths of a second, as many as it needs.
fn length(time: &Seconds) -> String {
    match *time < Seconds::fraction(1, 1000) {
        true => distance_text(time),
        false => seconds_in_full(time),
    }
}

/// How many of several names are told.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Told {
    /// Every one: nothing that moves is left out.
    All,
    /// The first few, the others counted.
    Few,
}

impl Told {
    fn names(self, names: Vec<String>) -> String {
        all_of(&if self == Told::All { names } else { first_few(names) })
    }
}

/// The times of sections, those that move alike together.
pub(super) fn times(act: &ActDifference, told: Told) -> Vec<String> {
    let all = &act.sections;
    let how = |section: &SectionDifference| {
        let by = |by: &Option<Later>| by.as_ref().and_then(later);
        (by(&section.starts), by(&section.ends))
    };
    let moved: Vec<_> = all.iter().map(|section| (section, how(section))).collect();
    let mut said = Vec::new();
    let mut from = 0;
    while let Some((first, (starts, ends))) = moved.get(from) {
        let alike =
            moved[from..].iter().take_while(|(_, how)| *how == (starts.clone(), ends.clone()));
        let till = from + alike.count();
        let to_the_end = till == moved.len();
        let group = &moved[from..till];
        from = till;
        let who = match group {
            [_] => quoted(&first.name),
            [.., _] if to_the_end && group.len() == all.len() => "everything".to_owned(),
            [.., _] if to_the_end => format!("everything from {} on", quoted(&first.name)),
            _ => told.names(group.iter().map(|(one, _)| quoted(&one.name)).collect()),
        };
        said.extend(match (starts, ends) {
            (None, None) => None,
            (Some(starts), Some(ends)) if starts == ends => Some(format!("{who} {starts}")),
            (Some(starts), Some(ends)) => Some(format!("{who} starts {starts} and ends {ends}")),
            (Some(starts), None) => Some(format!("{who} starts {starts}")),
            (None, Some(ends)) => Some(format!("{who} ends {ends}")),
        });
    }
    said
}

/// Leading hands, colours and patterns, section by section.
pub(super) fn hands(act: &ActDifference) -> Vec<String> {
    act.sections.iter().filter_map(hands_of).collect()
}

fn hands_of(section: &SectionDifference) -> Option<String> {
    let mut parts = Vec::new();
    parts.extend(section.pattern_was.as_ref().map(|was| match &section.pattern {
        Some(pattern) => format!("pattern {}, not {}", plain(pattern), plain(was)),
        None => format!("no longer {}", plain(was)),
    }));
    if section.flips_lead == Some(true) {
        parts.push(match section.lead {
            Some(hand) => format!("now starts {}", hand.word()),
            None => "starts with the other hand".to_owned(),
        });
    }
    let throw = |throw: &ThrowColour| {
        format!("throw {} is {}, not {}", throw.number, plain(&throw.now), plain(&throw.was))
    };
    parts.extend(section.colours.iter().take(MOST_THROWS).map(throw));
    let more = section.colours.len() > MOST_THROWS;
    if more || (section.moves_colours == Some(true) && section.colours.is_empty()) {
        parts.push("more throws show other colours".to_owned());
    }
    (!parts.is_empty()).then(|| format!("{}: {}", quoted(&section.name), parts.join("; ")))
}

/// What the hands do more or less, section by section.
pub(super) fn counts(act: &ActDifference) -> Vec<String> {
    let told = act.sections.iter().filter_map(|section| {
        let counts = section.counts.as_ref()?;
        let hand = |hand: Hand| {
            let words = count(&counts[hand.index()]);
            (!words.is_empty()).then(|| format!("{} hand {}", hand.word(), all_of(&words)))
        };
        let hands: Vec<String> = [Hand::Right, Hand::Left].into_iter().filter_map(hand).collect();
        (!hands.is_empty()).then(|| format!("{}: {}", quoted(&section.name), hands.join("; ")))
    });
    told.collect()
}

fn count(count: &CountDifference) -> Vec<String> {
    let one = |by: i64, one: &str, many: &str| {
        let more = if by < 0 { "fewer" } else { "more" };
        let what = if by.unsigned_abs() == 1 { one } else { many };
        (by != 0).then(|| format!("{} {more} {what}", by.unsigned_abs()))
    };
    [
        one(count.thrown, "throw", "throws"),
        one(count.handed_across, "hand-across", "hand-acrosses"),
        one(count.held, "hold", "holds"),
        one(count.empty, "empty beat", "empty beats"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Heights and tempos, section by section.
pub(super) fn heights(act: &ActDifference) -> Vec<String> {
    let told = act.sections.iter().filter_map(|section| {
        let mut parts = Vec::new();
        let height =
            |height: Option<f64>| height.map_or_else(|| "not known".to_owned(), metres_and_feet);
        if section.is_higher() {
            let (was, is) = section.highest_m;
            parts.push(format!("highest throw {} → {} above the hand", height(was), height(is)));
        }
        if section.is_faster() {
            let tempo = |tempo: Option<f64>| match tempo {
                Some(tempo) => format!("{tempo:.1} throws a minute"),
                None => "no one tempo, or none that is known".to_owned(),
            };
            let (was, is) = section.per_minute;
            parts.push(format!("{} → {}", tempo(was), tempo(is)));
        }
        (!parts.is_empty()).then(|| format!("{}: {}", quoted(&section.name), parts.join("; ")))
    });
    told.collect()
}

/// Sections that have come, gone or been given another name.
pub(super) fn sections(act: &ActDifference) -> Vec<String> {
    let named = act.sections.iter().filter_map(|section| {
        let was = section.was.as_ref()?;
        Some(format!("{} was called {}", quoted(&section.name), quoted(was)))
    });
    let added = act.added.iter().map(|name| format!("{} is new", quoted(name)));
    let gone = act.gone.iter().map(|name| format!("{} is gone", quoted(name)));
    named.chain(added).chain(gone).collect()
}

/// Cues, those that move alike together.
pub(super) fn cues(cues: &[CueDifference], told: Told) -> Vec<String> {
    let mut said: Vec<(String, Vec<String>)> = Vec::new();
    for cue in cues {
        let what = cue_words(cue);
        match said.iter_mut().find(|(words, _)| *words == what) {
            Some((_, labels)) => labels.push(plain(&cue.label())),
            None => said.push((what, vec![plain(&cue.label())])),
        }
    }
    said.into_iter().map(|(what, labels)| format!("{}: {what}", told.names(labels))).collect()
}

fn cue_words(cue: &CueDifference) -> String {
    let number = cue.new_number.map(|number| format!("now {}", cue.crew.cue(number)));
    let changed = |later_by: Option<&Later>| {
        let moved = later_by.and_then(later);
        let says = match &cue.says[..] {
            [] if number.is_some() => None,
            [] => Some("changed".to_owned()),
            says => Some(plain(&says.join(", "))),
        };
        let parts: Vec<String> = [number.clone(), says, moved].into_iter().flatten().collect();
        parts.join(", ")
    };
    match &cue.what {
        CueChange::Added => "added".to_owned(),
        CueChange::Gone => "cut".to_owned(),
        CueChange::Moved(by) => later(by).unwrap_or_else(|| "moved".to_owned()),
        CueChange::Changed(Some(by)) => changed(Some(by)),
        CueChange::Unsure => "may have moved".to_owned(),
        CueChange::Changed(None) => changed(None) + ", its time not known in both",
    }
}

/// Limits.
pub(super) fn limits(act: &ActDifference) -> Vec<String> {
    act.limits.iter().map(limit).collect()
}

fn limit(limit: &LimitDifference) -> String {
    let word = |verdict: Option<Verdict>| {
        verdict.map_or_else(|| "not known".to_owned(), |verdict| verdict.word().to_uppercase())
    };
    let rule = quoted(&limit.rule);
    let room = limit.room.as_ref().filter(|room| **room != Seconds::zero()).map(|room| {
        let more = if room.is_negative() { "less" } else { "more" };
        format!("{} {more} room", length(&room.abs()))
    });
    let verdict = match limit.of {
        InWhich::Old => return format!("limit {rule} is gone; it was {}", word(limit.was)),
        InWhich::New => return format!("limit {rule} is new: {}", word(limit.now)),
        InWhich::Both if limit.was == limit.now => format!("still {}", word(limit.now)),
        InWhich::Both => format!("{} → {}", word(limit.was), word(limit.now)),
    };
    let parts: Vec<String> = [Some(verdict), room].into_iter().flatten().collect();
    format!("limit {rule}: {}", parts.join(", "))
}

/// A fault with its message.
pub(super) fn fault(fault: &Fault) -> String {
    let severity = match fault.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    format!("{severity} {}: {}", fault.code, plain(&fault.says))
}

/// Everything that an edit moves, what matters most first; that it moves nothing else, where what is
/// edited alone is another.
pub(super) fn moved_by(moves: &Difference) -> Vec<String> {
    let of_encore = moves.encore.as_ref().filter(|encore| !encore.is_empty());
    let acts = [(moves.act.as_ref(), ""), (of_encore, "encore: ")];
    let mut parts: Vec<String> = Vec::new();
    for (act, prefix) in acts {
        let Some(act) = act else { continue };
        let all = [
            limits(act),
            times(act, Told::Few),
            sections(act),
            in_few(hands(act), "with other hands or colours"),
            in_few(counts(act), "with other counts"),
            heights(act),
            cues(&act.cues, Told::Few),
        ];
        let all = all.into_iter().flat_map(first_few);
        parts.extend(all.map(|one| format!("{prefix}{one}")));
    }
    parts.extend(moves.encore_only_in.map(encore_only_in));
    parts.extend(codes("brings", &moves.faults.come));
    parts.extend(codes("mends", &moves.faults.gone));
    match &moves.act {
        None => vec!["what it moves is not known".to_owned()],
        Some(act) if parts.is_empty() || is_said_by_the_edit(moves, act) => {
            vec!["moves no time, hand or colour".to_owned()]
        }
        Some(_) => parts,
    }
}

/// Whether nothing is different but what one cue says, or the name of a section.
fn is_said_by_the_edit(moves: &Difference, act: &ActDifference) -> bool {
    let FaultDifference { come, gone } = &moves.faults;
    let acts = [Some(act), moves.encore.as_ref()];
    let only = |act: &ActDifference| {
        let mut rest = act.clone();
        rest.cues.retain(|cue| !matches!(cue.what, CueChange::Changed(Some(_))) || cue.moves());
        rest.sections.iter_mut().for_each(|section| section.was = None);
        rest.is_empty()
    };
    come.is_empty()
        && gone.is_empty()
        && moves.encore_only_in.is_none()
        && acts.into_iter().flatten().all(only)
}

/// Which faults come or go, by their codes.
fn codes(verb: &str, faults: &[Fault]) -> Option<String> {
    let mut codes: Vec<String> = Vec::new();
    for fault in faults {
        if !codes.iter().any(|code| code == fault.code) {
            codes.push(fault.code.to_owned());
        }
    }
    (!codes.is_empty()).then(|| format!("{verb} {}", all_of(&first_few(codes))))
}

/// The first two sections in full, the others counted.
fn in_few(mut lines: Vec<String>, what: &str) -> Vec<String> {
    const FEW: usize = 2;
    let more = lines.len().saturating_sub(FEW);
    lines.truncate(FEW);
    lines.extend((more > 0).then(|| format!("{} {what}", counted(more, "more section"))));
    lines
}

/// That only one of the acts has an encore.
pub(super) fn encore_only_in(which: InWhich) -> String {
    match which {
        InWhich::Old => "the encore is gone".to_owned(),
        InWhich::New | InWhich::Both => "the encore is new".to_owned(),
    }
}
