//! Numbers that were handed out: none is changed, none is used again, and a new cue finds room.

use std::collections::BTreeSet;

use crate::diagnostic::{Beside, Diagnostic, Explanation};
use crate::routine::{Crew, CueNumber, CueOnPaper, Issued, Routine};

use super::{Paper, Told, compare, number};

/// The checks of what was handed out, in the order of their codes.
pub const CHECKS: &[&Explanation] = &[&WITHOUT_NUMBER, &CHANGED, &REUSED, &NOT_RAISED];

macro_rules! act {
    ($issue:literal, $cues:literal) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    issue: ",
            $issue,
            ",\n    tempo: PerMinute(200),\n    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"three\": Set(kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"coral\", \"coral\"]) },\n    score: [\n",
            "        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20)),\n",
            "        Pause(name: \"bow\", lasts: For(\"0:05\")),\n    ],\n    cues: [\n",
            $cues,
            "    ],\n)\n"
        )
    };
}

/// Issue 1 of the examples: Light 5 and 10.
const ISSUED: &str = r#"Issued(title: "Example", issues: [Issue(number: 1, cues: [
    Cue(crew: Light, number: 5, go: "0:00.0", standby: "-0:05.0", trigger: "hear",
        when: "drum", does: "warm", count: 2),
    Cue(crew: Light, number: 10, go: "0:08.0", standby: "0:03.0", trigger: "see",
        when: "bow", does: "full", count: 1),
])])
"#;

/// Where it lies.
const BESIDE: &[Beside] = &[Beside {
    file: "act.issued.ron",
    what: "the record of what was handed out",
    text: Some(ISSUED),
}];

/// That a sheet differs from what was handed out under its number.
pub(crate) const NOT_RAISED: Explanation = Explanation {
    code: "issue-not-raised",
    what: "Cues that are no longer what was handed out have a new issue number.",
    why: "Two sheets of one issue that differ: nobody can tell which one is right.",
    raises: act!(
        "1",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 10, at: At("0:09"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    mended: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 10, at: At("0:09"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    beside: BESIDE,
    ..Explanation::OF_ROUTINES
};

const REUSED: Explanation = Explanation {
    code: "cue-number-reused",
    what: "A number that was handed out stays the number of its cue, even when the cue is cut.",
    why: "Whoever still has the old sheet does the old cue at the new one's GO.",
    raises: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 10, at: At("0:03"), trigger: Called, does: "flicker", count: 1),
"#
    ),
    mended: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 15, at: At("0:03"), trigger: Called, does: "flicker", count: 1),
"#
    ),
    beside: BESIDE,
    ..Explanation::OF_ROUTINES
};

const CHANGED: Explanation = Explanation {
    code: "cue-number-changed",
    what: "A cue that was handed out keeps its number.",
    why: "A crew has its states under the numbers that it was given.",
    raises: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 11, at: At("0:08"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    mended: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 10, at: At("0:08"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    beside: BESIDE,
    ..Explanation::OF_ROUTINES
};

const WITHOUT_NUMBER: Explanation = Explanation {
    code: "cue-has-no-number",
    what: "A new cue on the list of a crew with numbers has a number too.",
    why: "An insert takes the gap that was left for it, or one decimal, so that no number \
          that was handed out moves (common practice, no source).",
    raises: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, at: At("0:03"), trigger: Called, does: "cold", count: 1),
        Cue(crew: Light, number: 10, at: At("0:08"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    mended: act!(
        "2",
        r#"        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Hear("drum"), does: "warm", count: 2),
        Cue(crew: Light, number: 7, at: At("0:03"), trigger: Called, does: "cold", count: 1),
        Cue(crew: Light, number: 10, at: At("0:08"), trigger: See("bow"), does: "full", count: 1),
"#
    ),
    beside: BESIDE,
    ..Explanation::OF_ROUTINES
};

/// What the routine's cues do to what was handed out, by place in the routine's file; nothing
/// where nothing was. `papers` makes the cues of the act and its encore in order of GO.
#[must_use]
pub fn check(routine: &Routine, papers: impl FnOnce() -> Vec<Paper>) -> Vec<Diagnostic> {
    let Some(issued) = &routine.issued else { return Vec::new() };
    let papers = papers();
    let mut found = refused(routine, issued, &papers);
    found.extend(without_number(issued, &papers));
    found
}

/// What must not be handed out.
pub(super) fn refused(routine: &Routine, issued: &Issued, papers: &[Paper]) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> =
        papers.iter().filter_map(|paper| reused(issued, paper)).collect();
    found.extend(changed(issued, papers));
    found.extend(not_raised(routine, issued, papers));
    found
}

fn not_raised(routine: &Routine, issued: &Issued, papers: &[Paper]) -> Option<Diagnostic> {
    let newest = issued.newest()?;
    let now: Vec<CueOnPaper> = papers.iter().map(|paper| paper.cue.clone()).collect();
    let message = match issued.issue(routine.issue) {
        Some(same) if compare(same, &now).is_same() => return None,
        Some(same) => format!("issue {} was handed out with other cues", same.number),
        None if newest.number > routine.issue => {
            format!("issue {} was handed out already, which is later", newest.number)
        }
        None => return None,
    };
    let next = newest.number + 1;
    let diagnostic = Diagnostic::warning(NOT_RAISED.code, routine.issue_at.clone(), message);
    let place = &routine.issue_at;
    // Where no issue is written, the place is the routine's opening word.
    let is_number = place.end - place.start <= routine.issue.to_string().len();
    Some(if is_number && routine.issue_at.start > 0 {
        diagnostic.label("this issue").help_edit(
            format!("make it issue {next}"),
            place.clone(),
            next.to_string(),
        )
    } else {
        diagnostic.help(format!("write `issue: {next}`"))
    })
}

/// The cue that was last handed out under a cue's number.
fn handed_out<'a>(issued: &'a Issued, cue: &CueOnPaper) -> Option<(u32, &'a CueOnPaper)> {
    cue.number?;
    issued.issues.iter().rev().find_map(|issue| {
        let mut same = issue.cues.iter();
        let same = same.find(|old| old.crew == cue.crew && old.number == cue.number)?;
        Some((issue.number, same))
    })
}

fn reused(issued: &Issued, paper: &Paper) -> Option<Diagnostic> {
    let Paper { cue, number_at, crew_at } = paper;
    let (issue, old) = handed_out(issued, cue)?;
    // A cue may be moved or do something else; one that does both is another cue.
    if old.does == cue.does || (old.waits_as(cue) && old.trigger == cue.trigger) {
        return None;
    }
    let message = format!(
        "{:?} {} was handed out with issue {issue} as \"{}\", {} {}: this is another cue",
        cue.crew,
        cue.number?,
        old.does,
        old.trigger.to_uppercase(),
        old.when
    );
    let at = number_at.as_ref().unwrap_or(crew_at).clone();
    Some(
        Diagnostic::warning(REUSED.code, at, message)
            .label("a number that is taken")
            .help("give this one another number; the old one is marked as cut"),
    )
}

/// New cues that were handed out under another number, which is gone.
fn changed(issued: &Issued, papers: &[Paper]) -> Vec<Diagnostic> {
    let Some(newest) = issued.newest() else { return Vec::new() };
    let now: Vec<CueOnPaper> = papers.iter().map(|paper| paper.cue.clone()).collect();
    let compared = compare(newest, &now);
    let mut found = Vec::new();
    for (paper, told) in papers.iter().zip(&compared.told) {
        let cue = &paper.cue;
        if *told != Told::New || handed_out(issued, cue).is_some() {
            continue;
        }
        let is_it =
            |old: &&CueOnPaper| old.crew == cue.crew && old.does == cue.does && old.waits_as(cue);
        let Some(old) = compared.cut.iter().filter(|old| old.number.is_some()).find(is_it) else {
            continue;
        };
        let Some(number) = old.number else { continue };
        let message = format!(
            "this cue was handed out with issue {} as {:?} {number}",
            newest.number, cue.crew
        );
        let diagnostic = |at| Diagnostic::warning(CHANGED.code, at, message);
        found.push(match &paper.number_at {
            Some(at) => diagnostic(at.clone()).label("another number").help_edit(
                format!("keep {number}"),
                at.clone(),
                number.to_string(),
            ),
            None => {
                let end = paper.crew_at.end;
                diagnostic(paper.crew_at.clone()).label("no number").help_edit(
                    format!("keep {number}"),
                    (end..end).into(),
                    format!(", number: {number}"),
                )
            }
        });
    }
    found
}

fn without_number(issued: &Issued, papers: &[Paper]) -> Vec<Diagnostic> {
    let Some(newest) = issued.newest() else { return Vec::new() };
    let now: Vec<CueOnPaper> = papers.iter().map(|paper| paper.cue.clone()).collect();
    let compared = compare(newest, &now);
    let mut given: Vec<Option<CueNumber>> = now.iter().map(|cue| cue.number).collect();
    let mut found = Vec::new();
    for (index, told) in compared.told.iter().enumerate() {
        let cue = &now[index];
        let renamed = || changed_into(&compared.cut, cue);
        if *told != Told::New || cue.number.is_some() || renamed() {
            continue;
        }
        let mut taken = ever(issued, cue.crew);
        if taken.is_empty() {
            continue;
        }
        let of_crew = |other: usize| if now[other].crew == cue.crew { given[other] } else { None };
        taken.extend((0..now.len()).filter_map(of_crew));
        let before = (0..index).rev().find_map(of_crew);
        let after = (index + 1..now.len()).find_map(of_crew);
        let climbs = before.is_none() || after.is_none() || before < after;
        let after = if climbs { after } else { None };
        let message = format!("this new {:?} cue has no number", cue.crew);
        let at = papers[index].crew_at.clone();
        let end = at.end;
        let diagnostic = Diagnostic::warning(WITHOUT_NUMBER.code, at, message).label("new");
        let free = number::between(before, after, &taken);
        given[index] = free;
        found.push(match free {
            Some(free) => diagnostic.help_edit(
                format!("{free} is free"),
                (end..end).into(),
                format!(", number: {free}"),
            ),
            None => diagnostic.help("no number is free between its neighbours: join two cues"),
        });
    }
    found
}

/// Whether a cue without a number is one that had one.
fn changed_into(cut: &[CueOnPaper], cue: &CueOnPaper) -> bool {
    let same = |old: &CueOnPaper| old.crew == cue.crew && old.does == cue.does && old.waits_as(cue);
    cut.iter().any(same)
}

/// Every number that a crew was ever given.
fn ever(issued: &Issued, crew: Crew) -> BTreeSet<CueNumber> {
    let cues = issued.issues.iter().flat_map(|issue| &issue.cues);
    cues.filter(|cue| cue.crew == crew).filter_map(|cue| cue.number).collect()
}
