//! The cue sheet: one line for each cue, in order of GO, written for a stranger at a desk in the
//! dark.
//!
//! Every line has a time and a trigger. Times are exact seconds on the show clock.

use crate::hand::Hand;
use crate::measure::calls::{Call, Dark, calls, darks};
use crate::measure::sight::{HandAct, Sight, sight};
use crate::routine::{Cue, Desk, FollowFrom, Moment, Routine, SpotMove, Trigger};
use crate::time::{Seconds, clock};
use crate::timeline::Timeline;

use super::caution::{Caution, cautions};
use super::words::{self, Text, plain};

/// The contents of the cue sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CueSheet {
    /// The routine's title.
    pub title: String,
    /// Its issue.
    pub issue: u32,
    /// Where the show clock reads zero, in words.
    pub zero: String,
    /// The one desk whose sheet it is; `None` for all.
    pub desk: Option<Desk>,
    /// In order of GO; a cue that cannot be called is left out (the checks refuse it before a
    /// sheet is written).
    pub lines: Vec<CueLine>,
    /// What whoever runs the room should know.
    pub cautions: Vec<Caution>,
}

/// A cue.
#[derive(Clone, Debug, PartialEq)]
pub struct CueLine {
    /// Whose cue it is.
    pub desk: Desk,
    /// Its number.
    pub number: Option<String>,
    /// Desk and number as an operator reads them, as in `LX 20`.
    pub label: String,
    /// GO.
    pub go: Seconds,
    /// When to stand by.
    pub standby: Option<Seconds>,
    /// How it is taken.
    pub taken: Taken,
    /// What is seen, heard, called or followed.
    pub when: Text,
    /// What the desk does.
    pub does: Text,
    /// Seconds from GO to completion.
    pub count: Option<Seconds>,
    /// What else the operator should know; may be empty.
    pub notes: Vec<String>,
    /// What happens to the cue when a prop drops.
    pub on_drop: String,
    /// What it follows.
    pub follows: Option<FollowLine>,
}

/// How a cue is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Taken {
    /// By eye.
    See,
    /// By ear.
    Hear,
    /// On a caller's GO.
    Called,
    /// With another cue.
    Follow,
}

impl Taken {
    /// `see`, `hear`, `called` or `follow`, as documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Taken::See => "see",
            Taken::Hear => "hear",
            Taken::Called => "called",
            Taken::Follow => "follow",
        }
    }
}

/// What a cue follows.
#[derive(Clone, Debug, PartialEq)]
pub struct FollowLine {
    /// The other cue's desk.
    pub desk: Desk,
    /// Its number.
    pub of: String,
    /// Counted from which of its ends.
    pub from: FollowFrom,
    /// Seconds after that.
    pub after: Seconds,
}

/// What happens to the cues when a prop drops: how they are taken, and what that means.
pub const WHEN_A_PROP_DROPS: [(&str, &str); 3] = [
    ("SEE, HEAR", "take it by eye or ear when it happens, whatever the clock says."),
    ("CALLED", "wait for the call and ignore the time."),
    ("FOLLOW", "goes with the cue that it follows."),
];

/// Composes the cue sheet of all desks, or of one.
#[must_use]
pub fn compose(routine: &Routine, timeline: &Timeline, desk: Option<Desk>) -> CueSheet {
    let calls = calls(routine, timeline).calls;
    let darks = darks(routine, &calls);
    let lines = calls
        .iter()
        .filter_map(|call| routine.cues.get(call.cue).map(|cue| (call, cue)))
        .filter(|(_, cue)| desk.is_none_or(|desk| cue.desk.value == desk))
        .map(|(call, cue)| line(routine, timeline, &darks, call, cue))
        .collect();
    CueSheet {
        title: plain(&routine.title.value),
        issue: routine.issue,
        zero: words::moment(&routine.zero.value),
        desk,
        lines,
        cautions: cautions(routine, timeline),
    }
}

fn line(routine: &Routine, timeline: &Timeline, darks: &[Dark], call: &Call, cue: &Cue) -> CueLine {
    let follows = follow(cue);
    let (taken, when, on_drop) = match (&cue.by.value, &follows) {
        (Trigger::See(Some(text)), _) => (
            Taken::See,
            Text::new(text),
            "taken by eye when it is seen, whatever the time".to_owned(),
        ),
        (Trigger::See(None), _) => (
            Taken::See,
            Text::new(named_from_the_score(routine, timeline, cue)),
            "taken by eye when it is seen, whatever the time".to_owned(),
        ),
        (Trigger::Hear(text), _) => (
            Taken::Hear,
            Text::new(text),
            "taken by ear when it is heard, whatever the time".to_owned(),
        ),
        (Trigger::Called, _) => (
            Taken::Called,
            Text::new(cue.when.as_ref().map_or_else(String::new, words::when)),
            "waits for the call, ignores the time".to_owned(),
        ),
        (Trigger::Follow { .. }, None) => {
            unreachable!("`follow` makes a line of every follow")
        }
        (Trigger::Follow { .. }, Some(follow)) => {
            let label = format!("{} {}", words::desk_label(follow.desk), follow.of);
            let origin = match follow.from {
                FollowFrom::Go => format!("{label} GO"),
                FollowFrom::Complete => format!("{label} is complete"),
            };
            let when = if follow.after == Seconds::zero() {
                format!("with {origin}")
            } else {
                words::shifted(&origin, &follow.after)
            };
            (Taken::Follow, Text::new(when), format!("goes with {label}"))
        }
    };
    CueLine {
        desk: cue.desk.value,
        number: cue.number.as_ref().map(|number| number.value.to_string()),
        label: words::cue_label(cue),
        go: call.go.clone(),
        standby: call.standby.clone(),
        taken,
        when,
        does: Text::new(&cue.does.value),
        count: call.count.clone(),
        notes: notes(routine, darks, call, cue),
        on_drop,
        follows,
    }
}

fn follow(cue: &Cue) -> Option<FollowLine> {
    let Trigger::Follow { desk, number, from, after } = &cue.by.value else { return None };
    Some(FollowLine {
        desk: desk.unwrap_or(cue.desk.value),
        of: number.value.to_string(),
        from: *from,
        after: after.clone(),
    })
}

/// What else the operator should know.
fn notes(routine: &Routine, darks: &[Dark], call: &Call, cue: &Cue) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(dark) = darks.iter().find(|dark| dark.cues.contains(&call.cue)) {
        notes.push(match &dark.until {
            Some((until, go)) => {
                let label = routine.cues.get(*until).map_or_else(String::new, words::cue_label);
                format!("DARK until {label} at {}", clock(go))
            }
            None => "DARK to the end".to_owned(),
        });
    } else if cue.dark {
        notes.push("DARK".to_owned());
    }
    if cue.spot_stays {
        notes.push("followspot stays up".to_owned());
    }
    match cue.spot {
        Some(SpotMove::Up) => notes.push("spot up".to_owned()),
        Some(SpotMove::Out) => notes.push("spot out".to_owned()),
        None => {}
    }
    if let Some(flashes) = &cue.flashes {
        notes.push(format!("STROBE {} a second", flashes.value));
    }
    notes
}

/// What is seen at a cue's moment, as in `last catch of ebb, right hand, coral`.
fn named_from_the_score(routine: &Routine, timeline: &Timeline, cue: &Cue) -> String {
    let Some(when) = &cue.when else { return String::new() };
    let moment = &when.moment.value;
    let mut words = words::moment(moment);
    if let Some(sight) = sight(routine, timeline, moment) {
        // A start or a cycle names no throw: say that it is one.
        if matches!(moment, Moment::Start(_) | Moment::Cycle(..)) && sight.act == HandAct::Throw {
            words.push_str(": first throw");
        }
        words = format!("{words}, {}", seen(routine, &sight));
    }
    words::shifted(&words, &when.shift)
}

/// Hands and colours, as in `right hand, coral`.
fn seen(routine: &Routine, sight: &Sight) -> String {
    let mut colours: Vec<String> = sight
        .seen
        .iter()
        .filter_map(|(_, colour)| routine.colours.get(*colour))
        .map(|colour| plain(&colour.name.value))
        .collect();
    // Two props of one colour are one word.
    colours.dedup();
    let uses = |hand: Hand| sight.seen.iter().any(|(seen, _)| *seen == hand);
    let hands = match (uses(Hand::Left), uses(Hand::Right)) {
        (true, true) => "both hands",
        (true, false) => "left hand",
        _ => "right hand",
    };
    format!("{hands}, {}", words::listed(&colours))
}
