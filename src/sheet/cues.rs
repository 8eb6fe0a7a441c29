//! The cue sheet: one line for each cue, in order of GO, written for a stranger at a desk in the
//! dark.
//!
//! Every line has a time and a trigger. Times are exact seconds on the show clock.

use crate::act::Act;
use crate::act::calls::Call;
use crate::issue::Told;
use crate::measure::dark::{Dark, darks};
use crate::routine::{Crew, Cue, CueOnPaper, FollowFrom, Routine, SpotMove, Trigger};
use crate::time::Seconds;

use super::caution::{Caution, cautions};
use super::flames::{FlamesLine, flames};
use super::heading::{Heading, zero};
pub use super::paper::papers;
use super::paper::since;
use super::seen::{self, Awaited};
use super::stamp::{Stamp, StampClocks, TimecodeClock};
use super::time_signals::with_time_signals;
use super::words::{self, Text};

/// The contents of the cue sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CueSheet {
    /// Its head.
    pub heading: Heading,
    /// Where the show clock reads zero, in words.
    pub zero: String,
    /// The one crew whose sheet it is; `None` for all.
    pub crew: Option<Crew>,
    /// In order of GO; in a draft those last that cannot be called, without a time.
    pub lines: Vec<CueLine>,
    /// When fire is lit and put out, in order.
    pub flames: Vec<FlamesLine>,
    /// The clock of its time codes, if it has any.
    pub timecode: Option<TimecodeClock>,
    /// Whether the music has bars.
    pub has_bars: bool,
    /// What whoever runs the room should know.
    pub cautions: Vec<Caution>,
    /// The encore's cues; `None` where none of them are on this sheet.
    pub encore: Option<EncoreLines>,
    /// The issue that the cues are held against; `None` where nothing was handed out before.
    pub since: Option<u32>,
    /// The cues of that issue that are gone, as they stood there.
    pub cut: Vec<CueOnPaper>,
}

/// The cues of an encore, whose times have a zero of their own.
#[derive(Clone, Debug, PartialEq)]
pub struct EncoreLines {
    /// Where its clock reads zero, in words.
    pub zero: String,
    /// In order of GO.
    pub lines: Vec<CueLine>,
    /// When fire is lit and put out, in order; at least one where there are no cues.
    pub flames: Vec<FlamesLine>,
    /// The clock of its time codes, if it has any.
    pub timecode: Option<TimecodeClock>,
    /// Whether its music has bars.
    pub has_bars: bool,
}

impl CueSheet {
    /// Whether any music on it has bars, the act's or the encore's.
    #[must_use]
    pub fn any_bars(&self) -> bool {
        self.has_bars || self.encore.as_ref().is_some_and(|encore| encore.has_bars)
    }

    /// All lines, those of the encore last.
    pub fn all_lines(&self) -> impl Iterator<Item = &CueLine> {
        self.lines.iter().chain(self.encore.iter().flat_map(|encore| &encore.lines))
    }
}

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

/// A cue on whose GO another goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WithLine {
    /// Its crew.
    pub crew: Crew,
    /// Its number.
    pub of: String,
}

/// What a drop does to a dark, however it is taken.
pub const DARK_WHEN_A_PROP_DROPS: &str =
    "wait until every prop is in the hands or on the floor; then take it as it is written.";

/// What happens to the cues when a prop drops: how they are taken, and what that means.
pub const WHEN_A_PROP_DROPS: [(&str, &str); 3] = [
    ("SEE, HEAR", "take it by eye or ear when it happens, not by the clock."),
    ("CALLED", "wait for the call and ignore the time."),
    ("FOLLOW", "goes with the cue that it follows."),
];

impl CueSheet {
    /// The sheet with the time code of every GO, in the encore too where that has a clock for it.
    #[must_use]
    pub fn with_timecode(mut self, clock: TimecodeClock) -> CueSheet {
        let gos = self.lines.iter_mut().map(|line| &mut line.go);
        gos.chain(self.flames.iter_mut().map(|line| &mut line.at)).for_each(|at| clock.mark(at));
        if let (Some(encore), Some(clock)) = (&mut self.encore, &clock.encore) {
            let gos = encore.lines.iter_mut().map(|line| &mut line.go);
            gos.chain(encore.flames.iter_mut().map(|line| &mut line.at))
                .for_each(|at| clock.mark(at));
            encore.timecode = Some(TimecodeClock::clone(clock));
        }
        self.timecode = Some(clock);
        self
    }

    /// The sheet of one crew.
    #[must_use]
    pub fn of_crew(&self, crew: Crew) -> CueSheet {
        let own = |lines: &[CueLine]| -> Vec<CueLine> {
            lines.iter().filter(|line| line.crew == crew).cloned().collect()
        };
        let encore = self
            .encore
            .as_ref()
            .map(|encore| EncoreLines { lines: own(&encore.lines), ..encore.clone() });
        CueSheet {
            crew: Some(crew),
            lines: own(&self.lines),
            encore: encore.filter(|encore| !encore.lines.is_empty() || !encore.flames.is_empty()),
            cut: self.cut.iter().filter(|cue| cue.crew == crew).cloned().collect(),
            ..self.clone()
        }
    }
}

/// Composes the cue sheet of all crews, or of one.
#[must_use]
pub fn compose(act: &Act, crew: Option<Crew>) -> CueSheet {
    let sheet = of_all(act);
    match crew {
        Some(crew) => sheet.of_crew(crew),
        None => sheet,
    }
}

fn of_all(act: &Act) -> CueSheet {
    let Act { routine, encore, .. } = act;
    let mut all = written(act);
    let act_lines = all.len();
    all.extend(encore.iter().flat_map(|encore| written(encore)));
    // A draft is held against nothing: what an error hides would look changed.
    let changes = if act.errors > 0 { None } else { since(routine, &all, act_lines) };
    let mut told = changes.as_ref().map_or(&[][..], |changes| &changes.compared.told).iter();
    let (mut lines, mut encore_lines) = (Vec::new(), Vec::new());
    for (index, (_, mut line)) in all.into_iter().enumerate() {
        line.told = told.next().cloned().unwrap_or(Told::Same);
        let part = if index < act_lines { &mut lines } else { &mut encore_lines };
        part.push(line);
    }
    lines = with_time_signals(act, lines);
    let mut pointed: Vec<Caution> = act.with_encore().flat_map(cautions).collect();
    pointed.sort();
    pointed.dedup();
    let encore = encore.as_deref().map(|encore| (encore, flames(encore)));
    let encore = encore.filter(|(_, lit)| !encore_lines.is_empty() || !lit.is_empty());
    let (since, cut) =
        changes.map_or((None, Vec::new()), |changes| (Some(changes.since), changes.compared.cut));
    CueSheet {
        heading: Heading::of(act),
        zero: zero(routine),
        crew: None,
        lines,
        flames: flames(act),
        timecode: None,
        has_bars: StampClocks::of(act).have_bars(),
        cautions: pointed,
        encore: encore.map(|(encore, lit)| EncoreLines {
            zero: zero(&encore.routine),
            lines: encore_lines,
            flames: lit,
            timecode: None,
            has_bars: StampClocks::of(encore).have_bars(),
        }),
        since,
        cut,
    }
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
        notes: notes(routine, darks, call, cue),
        on_drop: Text::new(cue.on_drop.as_ref().map_or(on_drop, |written| written.value.clone())),
        on_drop_written: cue.on_drop.is_some(),
        follows,
        with,
        dark: cue.dark,
        told: Told::Same,
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
fn notes(routine: &Routine, darks: &[Dark], call: &Call, cue: &Cue) -> Vec<String> {
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
    notes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, name, placed, time, when};
    use crate::routine::Moment;

    fn lines(cues: Vec<Cue>) -> Vec<CueLine> {
        let mut quay = lantern_quay();
        quay.cues = cues;
        compose(&compiled(&quay), None).lines
    }

    #[test]
    fn a_trigger_that_is_seen_and_not_written_is_named_from_the_score() {
        for (moment, shift, words) in [
            (Moment::LastCatch(Some(name("ebb"))), 0, "last catch of ebb, right hand, coral"),
            (Moment::Start(name("tide")), 0, "start of tide: first throw, right hand, coral"),
            (Moment::FirstThrow, 500, "0.5 s after first throw, right hand, coral"),
            (
                Moment::Catch(name("tide"), placed(2)),
                0,
                "catch of throw 2 of tide, right hand, teal",
            ),
            (Moment::End(name("bow")), 0, "end of bow: the very end"),
            (Moment::Start(name("pick up two")), 0, "start of pick up two: hands at rest"),
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
        let drops: Vec<_> = sheet.lines.iter().map(|line| line.on_drop.as_written()).collect();
        assert_eq!(
            drops,
            [
                "waits for the call, ignores the time",
                "taken by ear when it is heard, not by the clock",
                "waits until no prop is in the air; then taken by eye when it is seen, not by the clock",
                "goes with LX 20",
            ]
        );
        assert!(sheet.lines.iter().all(|line| !line.when.plain().is_empty()));
    }

    #[test]
    fn a_crews_own_sheet_keeps_the_numbers_and_the_ends_of_darks() {
        let quay = lantern_quay();
        let sheet = compose(&compiled(&quay), Some(Crew::Light));
        let labels: Vec<_> = sheet.lines.iter().map(|line| line.label.as_str()).collect();
        assert_eq!(labels, ["LX 15", "LX 20", "LX 25"]);
        assert_eq!(sheet.lines[1].notes, ["DARK until LX 25 at 0:34.6"]);
        assert_eq!(sheet.cautions, [Caution::Dark]);
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
        assert_eq!(notes, ["STROBE 2.5 a second", dark, "spot up"]);
    }
}
