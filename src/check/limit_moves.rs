//! Fewer moves in a limit's time than its rule asks for.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::counted;
use crate::measure::moves_in_time::LimitMoves;
use crate::time::{Seconds, Time};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "limit-too-few-moves",
    what: "At least as many moves begin in a limit's time as its rule asks.",
    why: "A move that begins after the time is over does not count, and too few cost the entry.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(4)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", moves: AtLeast(3), on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(4)),
        Juggle(name: "swing", pattern: "423", lasts: Cycles(4)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", moves: AtLeast(3), on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.routine().limits.iter().filter_map(|limit| {
        let asked = limit.moves.as_ref()?;
        let moves = LimitMoves::of(case.act, limit)?;
        case.some_night(&limit.at, CHECK.code, |night| {
            if !moves.are_fewer(asked.value, night) {
                return None;
            }
            let number = moves.number(night);
            let short = asked.value.checked_sub(number).filter(|short| *short > 0)?;
            night.worse_by(&Time::from(Seconds::fraction(short.into(), 1)));
            let message = format!(
                "{} for \"{}\", which asks for at least {}",
                counted(number, "move"),
                limit.rule,
                asked.value
            );
            let fault = Diagnostic::warning(CHECK.code, asked.at.clone(), message)
                .label(format!("{short} short"))
                .note_at(limit.starts.at.clone(), "moves count that begin from here on")
                .note_at(limit.stops.at.clone(), "and before this");
            Some(match &limit.at_most {
                Some(most) => fault.note_at(most.at.clone(), "and not after the longest allowed"),
                None => fault,
            })
        })
    });
    found.collect()
}
