//! A limit whose clock cannot be what its rule means: it stops before it starts, starts after an
//! event that starts other contests' time, or runs over nothing that it adds up.

use crate::diagnostic::words::sentence;
use crate::diagnostic::{Diagnostic, Edit, Help, Place};
use crate::measure::contest_clock::ContestClock;
use crate::routine::{AddsUp, Limit, Moment, Section, StartEvent};
use crate::time::{Night, Seconds, Time, distance_text};

use super::{Case, Check, Finds};

pub(super) const STOPS_FIRST: Check = Check {
    code: "limit-stops-first",
    what: "A limit stops its time after it has started it.",
    why: "Such a limit counts less than nothing, so every act would be inside it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    limits: [Limit(rule: "short class", starts: End("bow"), stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    limits: [Limit(rule: "short class", starts: Start("tide"), stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(stops_first),
};

pub(super) const STARTS_LATE: Check = Check {
    code: "limit-starts-late",
    what: "No event that contests start the time with comes before the start that a limit writes, \
           unless the limit passes over it.",
    why: "Contests start the time with the first note or with the first throw, many with \
          whichever comes first: a limit that starts later counts too little.",
    raises: example!(
        r#"        Pause(name: "pose", lasts: For("0:05")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    music: Track(file: "a.wav", length: "0:14", starts: Start("pose")),
    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Pause(name: "pose", lasts: For("0:05")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    music: Track(file: "a.wav", length: "0:14", starts: Start("pose")),
    limits: [Limit(rule: "short class", starts: First([TrackStart, FirstThrow]), stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(starts_late),
};

pub(super) const COUNTS_NOTHING: Check = Check {
    code: "limit-counts-nothing",
    what: "What a limit adds up lies between its start and its stop, the encore too where the \
           limit counts it.",
    why: "Every act keeps a limit that counts nothing, so it says nothing.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    limits: [Limit(rule: "short class", starts: Start("bow"), stops: End("bow"),
        adds_up: Juggling, at_most: "0:58", on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    limits: [Limit(rule: "short class", starts: Start("tide"), stops: End("bow"),
        adds_up: Juggling, at_most: "0:58", on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(counts_nothing),
};

fn clocks<'a>(case: &'a Case<'a>) -> impl Iterator<Item = ContestClock<'a>> {
    case.routine().limits.iter().filter_map(|limit| ContestClock::of(case.act, limit))
}

fn stops_first(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = clocks(case).filter_map(|clock| {
        let limit = clock.limit();
        case.some_night(&limit.at, STOPS_FIRST.code, |night| {
            let (starts, stops) = (clock.starts(night), clock.stops(night));
            let early = &starts - &stops;
            night.worse_by(&early);
            if !night.before(&stops, &starts) {
                return None;
            }
            let message = format!(
                "\"{}\" stops the time {} before it starts it",
                limit.rule,
                distance_text(&night.at(&early))
            );
            Some(
                Diagnostic::error(STOPS_FIRST.code, limit.stops.at.clone(), message)
                    .label("before the start")
                    .note_at(limit.starts.at.clone(), "the time starts here")
                    .help("start it earlier, or stop it later"),
            )
        })
    });
    found.collect()
}

fn starts_late(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let is_whole = |limit: &Limit| is_of_the_act(limit) && !is_of_one_section(case, limit);
    for clock in clocks(case).filter(|clock| is_whole(clock.limit())) {
        for event in [StartEvent::TrackStart, StartEvent::FirstThrow] {
            if !clock.limit().passes_over.contains(&event) {
                found.extend(late(case, &clock, event));
            }
        }
    }
    found
}

/// Whether a limit starts with an event of the whole act. What starts inside it, at a catch or at
/// the end of a section, or with the set-up, the encore or the strike, is no contest's start.
fn is_of_the_act(limit: &Limit) -> bool {
    let is_start = |moment: &Moment| {
        let of = match moment.unshifted().0 {
            Moment::OfTrack(_, of) => of,
            moment => moment,
        };
        matches!(
            of,
            Moment::TrackStart
                | Moment::FirstThrow
                | Moment::Start(_)
                | Moment::Mark(_)
                | Moment::Bar(..)
                | Moment::At(_)
        )
    };
    let (start, _) = limit.starts.value.unshifted();
    limit.adds_up != AddsUp::SetUpAndStrike
        && match start {
            Moment::First(of) | Moment::Last(of) => of.iter().any(is_start),
            one => is_start(one),
        }
}

/// Whether a limit starts with a juggled section that is not the first one, and stops at a moment of
/// it: it is about that part of the act, also where the part is the last.
fn is_of_one_section(case: &Case<'_>, limit: &Limit) -> bool {
    let Moment::Start(of) = limit.starts.value.unshifted().0 else { return false };
    let (Moment::End(stops)
    | Moment::LastCatch(Some(stops))
    | Moment::Throw(stops, _)
    | Moment::Catch(stops, _)
    | Moment::Cycle(stops, _)) = limit.stops.value.unshifted().0
    else {
        return false;
    };
    let is_it = |section: &Section| section.name.value == of.value;
    stops.value == of.value && case.juggles().skip(1).any(|(_, section, _)| is_it(section))
}

/// An event that comes before the written start on some night.
fn late(case: &Case<'_>, clock: &ContestClock<'_>, event: StartEvent) -> Option<Diagnostic> {
    let limit = clock.limit();
    let mut events = events(case, event);
    events.retain(|(_, time)| !time.is_unknown());
    // What is over before the act is: a limit on a part of it.
    let last_catch = case.act.moment(&Moment::LastCatch(None)).ok()?;
    case.some_night(&limit.at, STARTS_LATE.code, |night| {
        let (starts, stops) = (clock.starts(night), clock.stops(night));
        let is_part = event == StartEvent::FirstThrow && night.before(&stops, &last_catch);
        let (name, time) = first(night, &events).filter(|_| !is_part)?;
        let late = &starts - time;
        night.worse_by(&late);
        if !night.before(time, &starts) {
            return None;
        }
        let happens = match event {
            StartEvent::TrackStart => "the music starts",
            StartEvent::FirstThrow => "the first throw comes",
        };
        let message = format!(
            "{happens} {} before the time of \"{}\" does",
            distance_text(&night.at(&late)),
            limit.rule
        );
        let fault = Diagnostic::warning(STARTS_LATE.code, limit.starts.at.clone(), message);
        Some(with_ways_out(fault.label("starts later"), limit, event, name))
    })
}

/// The starts of the tracks, or the first throw, as a file writes them.
fn events(case: &Case<'_>, event: StartEvent) -> Vec<(String, Time)> {
    let act = case.act;
    match event {
        StartEvent::FirstThrow => {
            let time = act.moment(&Moment::FirstThrow).ok();
            time.map(|time| ("FirstThrow".to_owned(), time)).into_iter().collect()
        }
        StartEvent::TrackStart => {
            let tracks = act.routine.all_tracks().zip(&act.timeline.tracks);
            let starts = tracks.filter_map(|((name, _), track)| {
                let written = match name {
                    Some(name) => format!("TrackStart({:?})", name.value),
                    None => "TrackStart".to_owned(),
                };
                Some((written, track.starts.clone()?))
            });
            starts.collect()
        }
    }
}

fn first<'e>(night: &Night<'_>, events: &'e [(String, Time)]) -> Option<(&'e str, &'e Time)> {
    let mut events = events.iter();
    let first = events.next()?;
    let first = events.fold(
        first,
        |first, other| {
            if night.before(&other.1, &first.1) { other } else { first }
        },
    );
    Some((&first.0, &first.1))
}

/// Starts the time with whichever comes first, or says that the rule does not.
fn with_ways_out(
    mut fault: Diagnostic,
    limit: &Limit,
    event: StartEvent,
    name: &str,
) -> Diagnostic {
    let at = &limit.starts.at;
    let passed = match event {
        StartEvent::TrackStart => "TrackStart",
        StartEvent::FirstThrow => "FirstThrow",
    };
    let whichever = "if the rule starts the time with whichever comes first";
    if limit.starts.value.is_one_of_several() {
        fault = fault.help(format!("{whichever}, name `{name}` among them"));
    } else {
        let text = format!("{whichever}, write `First([{name}, …])`");
        let insert = |at: usize, insert: String| Edit { at: Place { start: at, end: at }, insert };
        let edits =
            vec![insert(at.start, format!("First([{name}, ")), insert(at.end, "])".to_owned())];
        fault.helps.push(Help { text: sentence(&text), edits, effects: None });
    }
    let passes = format!("if it does not, write `passes_over: [{passed}]`");
    match limit.passes_over.is_empty() {
        true => {
            let end = Place { start: at.end, end: at.end };
            fault.help_edit(passes, end, format!(", passes_over: [{passed}]"))
        }
        false => fault.help(format!("{passes} beside what stands there")),
    }
}

fn counts_nothing(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for clock in clocks(case).filter(|clock| !clock.may_stop_first()) {
        let limit = clock.limit();
        let range = ContestClock::range(|night| Some(clock.counted(night)));
        let is_nothing = |most: Option<&Seconds>| most.is_some_and(|most| *most == Seconds::zero());
        let what = match limit.adds_up {
            AddsUp::Everything => None,
            AddsUp::Juggling => Some("nothing is juggled"),
            AddsUp::SetUpAndStrike => Some("neither set-up nor strike lies"),
        };
        if let Some(what) = what.filter(|_| is_nothing(range.latest())) {
            let message = format!("{what} between the start and the stop of \"{}\"", limit.rule);
            found.push(nothing(limit, limit.at.clone(), message));
            continue;
        }
        if let Some(encore) = limit.encore.as_ref().filter(|encore| encore.value)
            && is_nothing(ContestClock::range(|night| clock.of_encore(night)).latest())
        {
            let message = format!(
                "\"{}\" counts the encore, and none lies between its start and its stop",
                limit.rule
            );
            let fault = nothing(limit, encore.at.clone(), message);
            found.push(fault.help("stop it at `EncoreEnd` or `StrikeEnd`, or leave `encore` out"));
        }
    }
    found
}

fn nothing(limit: &Limit, at: Place, message: String) -> Diagnostic {
    Diagnostic::error(COUNTS_NOTHING.code, at, message)
        .label("counts nothing")
        .note_at(limit.starts.at.clone(), "the time starts here")
        .note_at(limit.stops.at.clone(), "and stops here")
}
