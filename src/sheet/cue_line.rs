//! A cue as a line of the cue sheet: when it goes, how it is taken, what is done, what to know.
//!
//! Every line has a time and a trigger. Times are exact seconds on the show clock.

use crate::act::Act;
use crate::act::calls::Call;
use crate::issue::Told;
use crate::measure::dark::{Dark, darks};
use crate::routine::{Crew, Cue, FollowFrom, SpotMove, Trigger};
use crate::time::Seconds;

use super::on::On;
use super::pick_up::pick_up;
use super::seen::{self, Awaited};
use super::stamp::{Stamp, StampClocks};
use super::words::{self, Text};

/// A cue.
#[derive(Clone, Debug, PartialEq)]
pub struct CueLine {
    /// Whose cue it is.
    pub crew: Crew,
    /// Its number.
    pub number: Option<String>,
    /// Crew and number as an operator reads them, as in `LX 20`.
    pub label: String,
    /// GO.
    pub go: Stamp,
    /// When to stand by.
    pub standby: Option<Stamp>,
    /// How it is taken.
    pub trigger: TriggerKind,
    /// What is seen, heard, called or followed.
    pub when: Text,
    /// What the crew does.
    pub does: Text,
    /// Seconds from GO to completion.
    pub count: Option<Seconds>,
    /// What else the operator should know; may be empty.
    pub notes: Vec<String>,
    /// What happens to the cue when a prop drops.
    pub on_drop: Text,
    /// Whether its user wrote that; else it is what its way of being taken means.
    pub on_drop_written: bool,
    /// What it follows; of a cue that goes with another, what that one follows.
    pub follows: Option<FollowLine>,
    /// The cue on whose GO it goes; that one stands above it on a sheet of all crews.
    pub with: Option<WithLine>,
    /// Whether the stage goes dark.
    pub dark: bool,
    /// What has become of it since the issue that the sheet is held against.
    pub told: Told,
    /// What is on after it; `None` where an error hides it, and for a timekeeper's signal.
    pub on: Option<On>,
}

/// How a cue is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TriggerKind {
    /// By eye.
    See,
    /// By ear.
    Hear,
    /// On a caller's GO.
    Called,
    /// With another cue.
    Follow,
    /// By the timekeeper's watch.
    Clock,
}

impl TriggerKind {
    /// `see`, `hear`, `called`, `follow` or `clock`, as documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            TriggerKind::See => "see",
            TriggerKind::Hear => "hear",
            TriggerKind::Called => "called",
            TriggerKind::Follow => "follow",
            TriggerKind::Clock => "clock",
        }
    }
}

/// What a cue follows.
#[derive(Clone, Debug, PartialEq)]
pub struct FollowLine {
    /// The other cue's crew.
    pub crew: Crew,
    /// Its number.
    pub of: String,
    /// Counted from which of its ends.
    pub from: FollowFrom,
    /// Seconds after that.
    pub after: Seconds,
}

impl CueLine {
    /// Whether it goes on the GO of the line before it on a sheet. On the sheet of one crew the cue that
    /// it goes with may stand elsewhere.
    #[must_use]
    pub fn goes_with(&self, before: &CueLine) -> bool {
        let Some(with) = &self.with else { return false };
        let is_leader = before.crew == with.crew && before.number.as_ref() == Some(&with.of);
        is_leader || before.with.as_ref() == Some(with)
    }
}

/// A cue on whose GO another goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WithLine {
    /// Its crew.
    pub crew: Crew,
    /// Its number.
    pub of: String,
}

/// The cues with their lines, in order of GO; in a draft those last that cannot be called.
pub(super) fn written(act: &Act) -> Vec<(&Cue, CueLine)> {
    // Which cue ends a dark is not known where their times are not.
    let darks = if act.times_known { darks(act) } else { Vec::new() };
    let clocks = StampClocks::of(act);
    let alike = Awaited::of(act);
    let without_go = act.calls.without_go(&act.routine);
    let calls = act.calls.calls.iter().chain(&without_go);
    let cues = calls.filter_map(|call| Some((call, act.routine.cues.get(call.cue)?)));
    cues.map(|(call, cue)| (cue, line(act, (&darks, &clocks, &alike), call, cue))).collect()
}

fn line(
    act: &Act,
    (darks, clocks, alike): (&[Dark], &StampClocks, &Awaited),
    call: &Call,
    cue: &Cue,
) -> CueLine {
    let Act { routine, .. } = act;
    // How a cue is taken that goes with another, that one says.
    let leader = call.with.and_then(|with| routine.cues.get(with));
    let led_by = leader.unwrap_or(cue);
    let follows = follow(led_by);
    let (trigger, mut when, mut on_drop) = match (&led_by.trigger.value, &follows) {
        (Trigger::See(Some(text)), _) => (
            TriggerKind::See,
            Text::new(seen::as_written(act, alike, call.with.unwrap_or(call.cue), text)),
            "taken by eye when it is seen, not by the clock".to_owned(),
        ),
        (Trigger::See(None), _) => (
            TriggerKind::See,
            Text::new(seen::at_moment(act, led_by)),
            "taken by eye when it is seen, not by the clock".to_owned(),
        ),
        (Trigger::Counter { reads, mark }, _) => (
            TriggerKind::See,
            Text::new(seen::on_counter(reads, mark.as_ref())),
            "taken by eye when it is seen, not by the clock".to_owned(),
        ),
        (Trigger::Hear(text), _) => (
            TriggerKind::Hear,
            Text::new(seen::as_written(act, alike, call.with.unwrap_or(call.cue), text)),
            "taken by ear when it is heard, not by the clock".to_owned(),
        ),
        (Trigger::Called, _) => (
            TriggerKind::Called,
            Text::new(seen::when_called(act, led_by)),
            "waits for the call, ignores the time".to_owned(),
        ),
        (Trigger::With { crew, number }, _) => {
            // In a draft only: the cue that it goes with has no GO either.
            let label = crew.unwrap_or(cue.crew.value).cue(number.value);
            (TriggerKind::Follow, Text::new(format!("with {label}")), format!("goes with {label}"))
        }
        (Trigger::Follow { .. }, None) => {
            unreachable!("`follow` makes a line of every follow")
        }
        (Trigger::Follow { number, .. }, Some(follow)) => {
            let label = follow.crew.cue(number.value);
            let origin = match follow.from {
                FollowFrom::Go => format!("{label} GO"),
                FollowFrom::Complete => format!("{label} is complete"),
            };
            let when = match (follow.after == Seconds::zero(), follow.from) {
                (true, FollowFrom::Go) => format!("with {origin}"),
                (true, FollowFrom::Complete) => format!("when {origin}"),
                (false, _) => words::shifted(&origin, &follow.after),
            };
            (TriggerKind::Follow, Text::new(when), format!("goes with {label}"))
        }
    };
    let with = leader.map(|leader| {
        let label = leader.label();
        when = Text::new(format!("with {label}: {}", when.as_written()));
        on_drop = format!("goes with {label}");
        let of = leader.number.as_ref().map_or_else(String::new, |one| one.value.to_string());
        WithLine { crew: leader.crew.value, of }
    });
    if cue.dark {
        on_drop = format!("waits until no prop is in the air; then {on_drop}");
    }
    CueLine {
        crew: cue.crew.value,
        number: cue.number.as_ref().map(|number| number.value.to_string()),
        label: cue.label(),
        go: clocks.stamp(&call.go),
        standby: call.standby.as_ref().map(|standby| clocks.stamp(standby)),
        trigger,
        when,
        does: Text::new(cue.does.value.words()),
        count: call.count.clone(),
        notes: notes(act, darks, call, cue),
        on_drop: Text::new(cue.on_drop.as_ref().map_or(on_drop, |written| written.value.clone())),
        on_drop_written: cue.on_drop.is_some(),
        follows,
        with,
        dark: cue.dark,
        told: Told::Same,
        on: None,
    }
}

fn follow(cue: &Cue) -> Option<FollowLine> {
    let Trigger::Follow { crew, number, from, after } = &cue.trigger.value else { return None };
    Some(FollowLine {
        crew: crew.unwrap_or(cue.crew.value),
        of: number.value.to_string(),
        from: *from,
        after: after.clone(),
    })
}

/// What else the operator should know.
fn notes(act: &Act, darks: &[Dark], call: &Call, cue: &Cue) -> Vec<String> {
    let Act { routine, .. } = act;
    let mut notes = Vec::new();
    if let Some(dark) = darks.iter().find(|dark| dark.cues.contains(&call.cue)) {
        notes.push(match &dark.until {
            Some((until, go)) => {
                let label = routine.cues.get(*until).map_or_else(String::new, Cue::label);
                let at = go.range().clock();
                if at.is_empty() {
                    format!("DARK until {label}")
                } else {
                    format!("DARK until {label} at {at}")
                }
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
    let ends_dark = |dark: &Dark| dark.until.as_ref().is_some_and(|(until, _)| *until == call.cue);
    notes.extend(pick_up(act, call, cue, darks.iter().any(ends_dark)));
    notes
}

#[cfg(test)]
mod tests {
    use super::super::cues::compose;
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, name, placed, time, when};
    use crate::routine::Moment;

    fn lines(cues: Vec<Cue>) -> Vec<CueLine> {
        let mut quay = lantern_quay();
        quay.cues = cues;
        compose(&compiled(&quay), None).act.lines
    }

    #[test]
    fn a_trigger_that_is_seen_and_not_written_is_named_from_the_score() {
        for (moment, shift, words) in [
            (Moment::LastCatch(Some(name("ebb"))), 0, "last catch of \"ebb\", right hand, coral"),
            (Moment::Start(name("tide")), 0, "start of \"tide\": first throw, right hand, coral"),
            (Moment::FirstThrow, 500, "0.5 s after first throw, right hand, coral"),
            (
                Moment::Catch(name("tide"), placed(2)),
                0,
                "catch of throw 2 of \"tide\", right hand, teal",
            ),
            (Moment::End(name("bow")), 0, "end of \"bow\": the very end"),
            (Moment::Start(name("pick up two")), 0, "start of \"pick up two\": hands at rest"),
        ] {
            let seen = Some(when(moment, shift));
            let lines = lines(vec![cue(Crew::Light, 1, seen, Trigger::See(None), "fade")]);
            assert_eq!(lines[0].when.plain(), words);
        }
    }

    #[test]
    fn every_cue_says_what_a_drop_does_to_it() {
        let quay = lantern_quay();
        let sheet = compose(&compiled(&quay), None);
        let drops: Vec<_> = sheet.act.lines.iter().map(|line| line.on_drop.as_written()).collect();
        assert_eq!(
            drops,
            [
                "waits for the call, ignores the time",
                "taken by ear when it is heard, not by the clock",
                "waits until no prop is in the air; then taken by eye when it is seen, not by the clock",
                "goes with LX 20",
            ]
        );
        assert!(sheet.act.lines.iter().all(|line| !line.when.plain().is_empty()));
    }

    #[test]
    fn a_follow_says_from_which_end_of_what_it_is_counted() {
        let go = when(Moment::At(ms(1_000)), 0);
        let with = |from, after| Trigger::Follow {
            crew: Some(Crew::Sound),
            number: placed(crate::routine::CueNumber { tenths: 161 }),
            from,
            after: ms(after),
        };
        let mut sound = cue(Crew::Sound, 16, Some(go), Trigger::Called, "rain");
        sound.number = Some(placed(crate::routine::CueNumber { tenths: 161 }));
        sound.count = Some(placed(ms(2_000)));
        let lines = lines(vec![
            sound,
            cue(Crew::Light, 1, None, with(FollowFrom::Go, 0), "a"),
            cue(Crew::Light, 2, None, with(FollowFrom::Complete, 0), "b"),
            cue(Crew::Light, 3, None, with(FollowFrom::Complete, 1_500), "c"),
        ]);
        // Light 1 goes with Sound 16.1: one instant, and Light stands before Sound.
        let words: Vec<_> = lines.iter().map(|line| line.when.plain()).collect();
        assert_eq!(
            words,
            [
                "with SND 16.1 GO",
                "0:01.0 on the show clock",
                "when SND 16.1 is complete",
                "1.5 s after SND 16.1 is complete",
            ]
        );
        assert_eq!(lines[3].go.time, time(4_500));
        assert_eq!(lines[3].on_drop.as_written(), "goes with SND 16.1");
    }

    #[test]
    fn flags_that_an_operator_must_know_stand_in_the_notes() {
        let go = || Some(when(Moment::At(ms(1_000)), 0));
        let mut spot = cue(Crew::Spot, 1, go(), Trigger::Called, "head and hands");
        spot.spot = Some(SpotMove::Up);
        let mut strobe = cue(Crew::Light, 1, go(), Trigger::Called, "flicker");
        strobe.flashes = Some(placed(2.5));
        let mut dark = cue(Crew::Light, 2, go(), Trigger::Called, "blackout");
        (dark.dark, dark.spot_stays) = (true, true);
        let lines = lines(vec![spot, strobe, dark]);
        let notes: Vec<String> = lines.iter().map(|line| line.notes.join("; ")).collect();
        let dark = "DARK to the end; followspot stays up";
        let up = "spot up; pick up \"tide\": highest 0.3 m above the hands";
        assert_eq!(notes, ["STROBE 2.5 a second", dark, up]);
    }
}
