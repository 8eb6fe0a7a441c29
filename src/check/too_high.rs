//! A throw that comes too near to what is overhead, or would meet it.

use num_traits::ToPrimitive;

use crate::diagnostic::{Diagnostic, Place};
use crate::measure::height::{
    Highest, STANDARD_GRAVITY, clear_height_m, highest_of, metres_and_feet,
};
use crate::routine::{Room, Tempo};
use crate::timeline::Action;

use super::{Case, Check, Finds, transition_place};

/// The most dwell that a help speaks of: beyond it hardly anybody throws (common practice, no
/// source).
const MOST_DWELL: f64 = 0.85;

/// The most throws a minute that a help speaks of.
const MOST_PER_MINUTE: f64 = 1000.0;

/// How many other throws of the same tempo are named.
const MOST_NAMED: usize = 5;

pub(super) const CHECK: Check = Check {
    code: "too-high",
    what: "Every throw stays below the lowest thing overhead.",
    why: "A prop that meets a lamp or a beam comes down elsewhere, and perhaps not alone. The \
          heights are estimates: measure in the room, and ask the venue.",
    raises: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 3.0, hands_at: 1.0),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 9.0, hands_at: 1.0),
"#
    ),
    finds: Finds::Timed(over),
};

pub(super) const CLOSE: Check = Check {
    code: "close-overhead",
    what: "Every throw stays below the lowest thing overhead by the room's margin, 0.3 m unless \
           said.",
    why: "Heights are estimates, and no two throws are equally high. What leaves less than the \
          margin (common practice, no source) meets what is overhead one day.",
    raises: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 7.7, hands_at: 1.0),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 9.0, hands_at: 1.0),
"#
    ),
    finds: Finds::Timed(close),
};

fn over(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(room) = &case.routine().room else { return Vec::new() };
    let owners = owners(case, room);
    let over = owners.iter().filter(|owner| owner.worst().over_m(room) > 0.0);
    let found = over.map(|owner| {
        let worst = owner.worst();
        let message = format!(
            "the {} of {} needs about {} clear, and the room has {}",
            worst.highest.action.throw,
            worst.whose,
            metres_and_feet(worst.needs_m),
            metres_and_feet(room.clear_height.value)
        );
        let diagnostic = Diagnostic::warning(CHECK.code, worst.at.clone(), message)
            .label("too high for the room");
        owner.told(case, room, diagnostic)
    });
    found.collect()
}

fn close(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(room) = &case.routine().room else { return Vec::new() };
    let owners = owners(case, room);
    let close = owners.iter().filter(|owner| owner.worst().over_m(room) <= 0.0);
    let found = close.map(|owner| {
        let worst = owner.worst();
        let message = format!(
            "the {} of {} leaves about {:.2} m below what is overhead, and the margin is {:.2} m",
            worst.highest.action.throw,
            worst.whose,
            -worst.over_m(room),
            room.margin
        );
        let diagnostic = Diagnostic::warning(CLOSE.code, worst.at.clone(), message)
            .label("close to what is overhead");
        owner.told(case, room, diagnostic)
    });
    found.collect()
}

/// A throw that comes too near.
struct Near {
    /// Where it is written.
    at: Place,
    /// The section, or the way into it, in words.
    whose: String,
    highest: Highest,
    needs_m: f64,
    /// Length of the prop in metres.
    prop_m: f64,
}

impl Near {
    /// How far it is above what is overhead; below zero where it is below.
    fn over_m(&self, room: &Room) -> f64 {
        self.needs_m - room.clear_height.value
    }
}

/// A tempo, and the throws at it that come too near: what is mended once is told once.
struct Owner<'a> {
    tempo: Option<(&'a Place, &'a Tempo)>,
    near: Vec<Near>,
}

/// The tempos with throws that come nearer than the margin, in the order of the score.
fn owners<'a>(case: &Case<'a>, room: &Room) -> Vec<Owner<'a>> {
    let mut tempo = case.routine().tempo.as_ref();
    let mut owners: Vec<Owner<'a>> = Vec::new();
    for (index, section, juggle) in case.juggles() {
        tempo = juggle.tempo.as_ref().or(tempo);
        let run = case.timeline().sections.get(index).and_then(|span| span.juggle.as_ref());
        let set = run.and_then(|span| case.timeline().runs.get(span.run)).map(|run| run.set);
        let Some(set) = set.and_then(|set| case.routine().sets.get(set)) else { continue };
        let name = &section.name.value;
        let own = (juggle.pattern.at.clone(), format!("\"{name}\""));
        let way = (transition_place(juggle).0, format!("the transition into \"{name}\""));
        for ((at, whose), is_own) in [(own, true), (way, false)] {
            let of = |action: &Action| action.number.is_some() == is_own;
            let Some(highest) = highest_of(case.timeline(), index, of) else { continue };
            let needs_m = clear_height_m(room, highest.above_hand_m, set.length);
            if needs_m + room.margin <= room.clear_height.value {
                continue;
            }
            let near = Near { at, whose, highest, needs_m, prop_m: set.length };
            let of_tempo = tempo.map(|tempo| (&tempo.at, &tempo.value));
            match owners.last_mut().filter(|owner| owner.tempo == of_tempo) {
                Some(owner) => owner.near.push(near),
                None => owners.push(Owner { tempo: of_tempo, near: vec![near] }),
            }
        }
    }
    owners
}

impl Owner<'_> {
    /// The throw that needs most.
    fn worst(&self) -> &Near {
        let higher = |worst: &'_ Near, near: &'_ Near| near.needs_m > worst.needs_m;
        let (first, rest) = self
            .near
            .split_first()
            .unwrap_or_else(|| unreachable!("a tempo is listed with its first such throw"));
        rest.iter().fold(first, |worst, near| if higher(worst, near) { near } else { worst })
    }

    /// What else is too near at this tempo, and what would help.
    fn told(&self, case: &Case<'_>, room: &Room, mut diagnostic: Diagnostic) -> Diagnostic {
        let worst = self.worst();
        diagnostic = diagnostic.note_at(
            room.clear_height.at.clone(),
            format!("to the lowest thing overhead; the margin is {:.2} m", room.margin),
        );
        let others = || self.near.iter().filter(|near| !std::ptr::eq(*near, worst));
        for near in others().take(MOST_NAMED) {
            let needs = metres_and_feet(near.needs_m);
            let text = format!("the {} needs about {needs}", near.highest.action.throw);
            diagnostic = diagnostic.note_at(near.at.clone(), text);
        }
        if let Some(more) = others().count().checked_sub(MOST_NAMED).filter(|more| *more > 0) {
            diagnostic = diagnostic.note(format!("{more} more come too near at this tempo"));
        }
        self.helped(case, room, diagnostic)
    }

    /// At which tempo, or with which dwell, everything would fit.
    fn helped(&self, case: &Case<'_>, room: &Room, diagnostic: Diagnostic) -> Diagnostic {
        let lower = "throw lower throws, or in a higher room; the height is an estimate, so leave \
                     room";
        let fits = self.near.iter().map(|near| near.fits(case, room)).collect::<Option<Vec<_>>>();
        let Some(fits) = fits else {
            return diagnostic
                .note("no tempo makes it fit: the hands alone need this height")
                .help(lower);
        };
        let faster = fits.iter().map(|fit| fit.faster).fold(1.0, f64::max);
        let dwell = fits.iter().filter_map(|fit| fit.dwell).fold(0.0, f64::max);
        let diagnostic = match self.tempo {
            Some((at, Tempo::PerMinute(written))) => {
                let written = written.to_f64().unwrap_or(f64::INFINITY);
                let needed = (written * faster).ceil();
                if needed <= MOST_PER_MINUTE {
                    diagnostic.help_edit(
                        format!("throw {needed} a minute or more"),
                        at.clone(),
                        format!("PerMinute({needed})"),
                    )
                } else {
                    diagnostic
                }
            }
            _ => diagnostic.help(format!(
                "throw at least {:.0} % faster there, which is lower",
                ((faster - 1.0) * 100.0).ceil()
            )),
        };
        let dwell = (dwell * 100.0).ceil() / 100.0;
        let all_reach = fits.iter().all(|fit| fit.dwell.is_some());
        let diagnostic = if all_reach && dwell <= MOST_DWELL {
            diagnostic.help(format!(
                "or hold every prop for longer: `dwell: {dwell}`, for the whole routine"
            ))
        } else {
            diagnostic
        };
        diagnostic.help(lower)
    }
}

/// What makes a throw fit, margin included.
struct Fit {
    /// By how much the tempo must be multiplied.
    faster: f64,
    /// The dwell ratio that is enough at the tempo as it is; `None` where it is not to be had so.
    dwell: Option<f64>,
}

impl Near {
    /// `None` where nothing is left above the hand.
    fn fits(&self, case: &Case<'_>, room: &Room) -> Option<Fit> {
        let left_m = room.clear_height.value - room.margin - room.hands_at - self.prop_m / 2.0;
        if left_m <= 0.0 {
            return None;
        }
        // h = g·F²/8, as in `measure::height`, the other way round.
        let most_s = (8.0 * left_m / STANDARD_GRAVITY).sqrt();
        let flight_s = self.highest.flight.to_f64();
        let dwell = case.timeline().dwell;
        // A throw flies for its value less two dwells; a 1 always for half a beat.
        let (value, now) = (f64::from(self.highest.action.throw.value), dwell.to_f64()?);
        let needed = now + (value - 2.0 * now) * (1.0 - most_s / flight_s) / 2.0;
        Some(Fit { faster: flight_s / most_s, dwell: (value > 1.0).then_some(needed) })
    }
}
