//! Colours that a section asks for and that are not seen.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::diagnostic::words::{all_of, sentence};
use crate::diagnostic::{Diagnostic, Note, Severity};
use crate::lineup::{
    Bound, Colours, MOST_VARIANTS, MOST_WAYS, Outcome, Unmet, Wanted, requirements, words,
};
use crate::routine::{Juggle, Section, Shown};
use crate::timeline::Action;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "colour-not-shown",
    what: "Every colour request of a section is met, in every cycle.",
    why: "A colour effect dies silently when one throw is added earlier, or when a prop starts in \
          the wrong hand.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            shows: { 2: ["coral"] }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            loading: Hands(right: ["teal", "pearl"], left: ["coral"]), shows: { 2: ["coral"] }),
"#
    ),
    finds: Finds::Compiled(find),
};

pub(super) const TOO_LONG: Check = Check {
    code: "colour-list-too-long",
    what: "A list of colours that a throw shows in turn is no longer than the section has cycles.",
    why: "A colour that is never reached is an effect that nobody sees.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "441", lasts: Cycles(2),
            shows: { 1: ["coral", "pearl", "teal"] }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "441", lasts: Cycles(6),
            shows: { 1: ["coral", "pearl", "teal"] }),
"#
    ),
    finds: Finds::Compiled(too_long),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let verdict = &case.colours.verdict;
    if !verdict.judged {
        return Vec::new();
    }
    let never = case.juggles().flat_map(|(index, section, juggle)| {
        let made = move |shown: &&Shown| !made_by(case, index, shown.throw.value).is_empty();
        let shows = juggle.seen.shows.iter();
        shows.filter(move |shown| !made(shown)).map(move |shown| never_made(section, shown))
    });
    let mut found: Vec<Diagnostic> = never.collect();
    found.extend(verdict.unmet.iter().map(|unmet| not_shown(case, unmet)));
    if let Outcome::TooMany(bound) = case.colours.choices.outcome
        && let Some(first) = verdict.unmet.first()
    {
        let message = "whether the colours can be brought about is not known: there are too many \
                       ways to place them to try them all, so none was chosen";
        found.push(
            Diagnostic::warning(CHECK.code, first.at.clone(), message)
                .help(to_tighten(case, bound)),
        );
    }
    found
}

/// What leaves the line-up fewer possibilities.
fn to_tighten(case: &Case<'_>, bound: Bound) -> String {
    let name = |section: usize| {
        let section = case.routine().score.get(section);
        section.map_or("", |section| section.name.value.as_str())
    };
    match bound {
        Bound::Variants(section) => format!(
            "leave \"{}\" less to choose: it can be begun and ordered in more than {MOST_VARIANTS} \
             ways",
            name(section)
        ),
        Bound::Ways(section) => format!(
            "narrow `transitions`, its `beats` first: within them more than {MOST_WAYS} ways of one \
             length lead into \"{}\"",
            name(section)
        ),
        Bound::All | Bound::Memory => "leave fewer choices open: fewer `free` sections, or \
                                       narrower `transitions`"
            .to_owned(),
    }
}

/// Says with the first error of the sections that nothing is said of the colours, where something
/// is asked of them and an error leaves open which prop is where.
pub(crate) fn say_that_colours_wait(act: &Act, colours: &Colours, found: &mut [Diagnostic]) {
    let asks = |act: &Act| !requirements(&act.routine).is_empty();
    let judged = colours.verdict.judged
        && colours.encore.as_ref().is_none_or(|encore| encore.verdict.judged);
    if judged || !act.with_encore().any(asks) {
        return;
    }
    let sections: Vec<_> = act.with_encore().flat_map(|act| &act.routine.score).collect();
    let holds = |one: &Diagnostic| {
        let mut sections = sections.iter();
        sections.any(|section| (section.at.start..section.at.end).contains(&one.at.start))
    };
    let is_error = |one: &Diagnostic| one.severity == Severity::Error;
    let first = found.iter().position(|one| is_error(one) && holds(one));
    let first = first.or_else(|| found.iter().position(is_error));
    if let Some(first) = first {
        let text = "the colours that sections ask for are not checked until the errors are mended";
        found[first].notes.push(Note { text: sentence(text), at: None });
    }
}

/// A request that is not met, and why.
fn not_shown(case: &Case<'_>, unmet: &Unmet) -> Diagnostic {
    let what = words(case.routine(), unmet.requirement);
    let explained = case.colours.verdict.explained;
    let is_proven = !matches!(case.colours.choices.outcome, Outcome::TooMany(_));
    let is = if explained && is_proven { "cannot be" } else { "is not" };
    let message = format!("{what} {is} met: {}", unmet.reason);
    let mut diagnostic =
        Diagnostic::warning(CHECK.code, unmet.at.clone(), message).label("not seen");
    if !explained {
        diagnostic = diagnostic.help("`throwbook check` says why, and what would help");
    }
    if let Wanted::Shown(_) = unmet.requirement.wanted
        && let Some(tally) = tally(case, unmet)
    {
        diagnostic = diagnostic.note(tally);
    }
    if let Some(juggle) = faces_would_do(case, unmet) {
        let end = juggle.pattern.at.end;
        let text = "show the other faces here: they have what is asked for";
        diagnostic = diagnostic.help_edit(text, (end..end).into(), ", other_face: true");
    }
    let clash = &case.colours.verdict.clash;
    if clash.contains(&unmet.requirement) && clash.len() > 1 {
        let together: Vec<String> = clash.iter().map(|&one| words(case.routine(), one)).collect();
        diagnostic =
            diagnostic.note(format!("no loading meets these together: {}", all_of(&together)));
    }
    diagnostic
}

/// "Over its 8 cycles throw 2 shows coral in 4, teal in 4".
fn tally(case: &Case<'_>, unmet: &Unmet) -> Option<String> {
    let throw = unmet.throw?;
    let section = unmet.requirement.section;
    let made = made_by(case, section, throw);
    let run = case.timeline().sections.get(section)?.juggle.as_ref()?.run;
    let run = case.timeline().runs.get(run)?;
    let mut colours: BTreeMap<&str, usize> = BTreeMap::new();
    for shown in made.iter().filter_map(|action| run.colour(action)) {
        let colour = case.routine().colours.get(shown)?;
        *colours.entry(&colour.name.value).or_default() += 1;
    }
    let times: Vec<String> =
        colours.iter().map(|(colour, times)| format!("{colour} in {times}")).collect();
    Some(format!("over its {} cycles throw {throw} shows {}", made.len(), times.join(", ")))
}

/// The throws of one number that a section makes, its own only.
fn made_by(case: &Case<'_>, section: usize, throw: u32) -> Vec<Action> {
    let span = case.timeline().sections.get(section).and_then(|span| span.juggle.as_ref());
    let own = span.map(|span| case.timeline().own_actions(span)).unwrap_or_default();
    own.into_iter().filter(|action| action.written == throw).collect()
}

fn never_made(section: &Section, shown: &Shown) -> Diagnostic {
    let message = format!(
        "\"{}\" is over before it makes throw {}, so that shows no colour",
        section.name.value, shown.throw.value
    );
    Diagnostic::warning(CHECK.code, shown.throw.at.clone(), message).label("never made")
}

fn too_long(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (index, section, juggle) in case.juggles() {
        if case.timeline().sections.get(index).is_none_or(|span| span.juggle.is_none()) {
            continue;
        }
        for shown in &juggle.seen.shows {
            let made = made_by(case, index, shown.throw.value).len();
            if made > 0 && made < shown.colours.len() {
                found.push(longer_than(section, shown, made));
            }
        }
    }
    found
}

fn longer_than(section: &Section, shown: &Shown, made: usize) -> Diagnostic {
    let (throw, colours) = (shown.throw.value, shown.colours.len());
    let message = format!(
        "{colours} colours are asked of throw {throw} in turn, but \"{}\" makes it only {}",
        section.name.value,
        if made == 1 { "once".to_owned() } else { format!("{made} times") },
    );
    let first = shown.colours.get(made).unwrap_or(&shown.colours[0]);
    Diagnostic::error(TOO_LONG.code, first.at.clone(), message)
        .label("never reached")
        .help(format!("let the section last {colours} cycles, or ask for fewer colours"))
}

/// The section, where the props' other faces are what it asks to be shown.
fn faces_would_do<'c>(case: &Case<'c>, unmet: &Unmet) -> Option<&'c Juggle> {
    let Wanted::Shown(index) = unmet.requirement.wanted else { return None };
    let section = unmet.requirement.section;
    let (_, _, juggle) = case.juggles().find(|(place, ..)| *place == section)?;
    let shown = juggle.seen.shows.get(index)?;
    let run = case.timeline().sections.get(section)?.juggle.as_ref()?.run;
    let run = case.timeline().runs.get(run)?;
    let other = |action: &Action| {
        let face = run.face_at(action.beat).other();
        let colour = case.routine().colours.get(run.colour_of(action.prop?, face)?)?;
        Some(colour.name.value.as_str())
    };
    let made = made_by(case, section, shown.throw.value);
    let wanted = shown.colours.iter().cycle().map(|colour| colour.value.as_str());
    let all = made.iter().zip(wanted).all(|(action, wanted)| other(action) == Some(wanted));
    (juggle.other_face.is_none() && !run.backs.is_empty() && all).then_some(juggle)
}
