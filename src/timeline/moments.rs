//! Moments of a timeline: when they come.
//!
//! The same rules serve the finished timeline, whose times are on the show clock, and the compiler
//! half-way, whose times are on the *routine clock* (zero at the first section's start) and which
//! knows only what it has laid out.

use std::fmt;

use crate::diagnostic::Placed;
use crate::diagnostic::words::counted;
use crate::notation::Throw;
use crate::patterns::hands::ActionKind;
use crate::routine::{Moment, Routine, Section, Track};
use crate::time::{BeatPosition, Open, Seconds, TempoMap, Time, Within};

use super::{Action, JuggleSpan, SectionSpan, Timeline};
use Unresolved::NotWritten;

/// Why a moment has no time. Section and mark names are as written.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Unresolved {
    /// The routine has no music.
    NoMusic,
    /// The routine has no field of that name: `set_up`, `strike` or `encore`.
    NotWritten(&'static str),
    /// It belongs to the act, and the encore asks for it, whose clock starts at a time that nobody
    /// knows on the act's.
    OfTheAct,
    /// No section has that name.
    UnknownSection(String),
    /// The music has no mark of that name.
    UnknownMark(String),
    /// No track has that name.
    UnknownTrack(String),
    /// The music has no hold of that name.
    UnknownHold(String),
    /// The routine has several tracks, and the moment names none.
    WhichTrack,
    /// The music has no bars that are written.
    NoBars,
    /// The music has no such bar, or no such music beat in it.
    NoSuchBar {
        /// The bar.
        bar: i32,
        /// The music beat, from 1.
        music_beat: u32,
        /// The first and the last that there are, each a bar and a music beat.
        has: [(i64, i64); 2],
        /// The first and the last music beat of that bar, where there is such a bar.
        beats: Option<(u32, u32)>,
    },
    /// It is outside the music's bars.
    OutsideBars,
    /// It is not known until more of the routine is laid out.
    NotYet,
    /// It hangs on something that is left open, or that an error leaves unknown.
    HangsOn(Open),
    /// It depends on itself.
    Circle,
    /// The section is joined to the next, so it has no last catch of its own.
    JoinedOn(String),
    /// The section is a pause, or could not be read.
    NoThrows(String),
    /// The routine throws nothing.
    NothingThrown,
    /// Nothing is caught in that run.
    NothingCaught,
    /// The section has no throw of that number.
    NoSuchThrow {
        /// The section.
        section: String,
        /// How many it has.
        has: u32,
    },
    /// The throw of that number is a 0 or a held 2: nothing leaves the hand.
    NotThrown {
        /// The section.
        section: String,
        /// The throw.
        throw: Throw,
    },
    /// It is not the section after the one that ends when it lands.
    NotNext(String),
    /// The line-up chooses with which throw it starts, so its throws have no number yet.
    StartsAnywhere(String),
    /// Its tempo may bend, so nobody knows yet when its throws come.
    Bends(String),
    /// It falls into a section at another tempo than was reckoned with.
    AtAnotherTempo,
    /// The section never throws that value.
    NeverThrown {
        /// The value.
        value: u8,
    },
    /// The section has no cycle of that number.
    NoSuchCycle {
        /// The section.
        section: String,
        /// How many begin in it.
        has: u32,
    },
}

impl fmt::Display for Unresolved {
    /// Why a moment has no time, as the end of a sentence.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&match self {
            Unresolved::NotWritten(field) => format!("the routine has no `{field}`"),
            Unresolved::OfTheAct => {
                "it belongs to the act, and nobody knows how long after it the encore begins"
                    .to_owned()
            }
            Unresolved::NoMusic => "no `music` is written".to_owned(),
            Unresolved::UnknownSection(name) => format!("no section is called \"{name}\""),
            Unresolved::UnknownMark(name) => format!("the music has no mark \"{name}\""),
            Unresolved::UnknownTrack(name) => format!("no track is called \"{name}\""),
            Unresolved::UnknownHold(name) => format!("the music has no hold \"{name}\""),
            Unresolved::WhichTrack => {
                "the routine has several `tracks`, and it names none".to_owned()
            }
            Unresolved::NoBars => "the music has no `bars`".to_owned(),
            Unresolved::OutsideBars => "the music has not so many bars there".to_owned(),
            Unresolved::NoSuchBar { bar, music_beat, has, beats } => match beats {
                Some((first, last)) if first == last => {
                    format!("bar {bar} has only music beat {first}, no {music_beat}")
                }
                Some((first, last)) => {
                    format!("bar {bar} has the music beats {first} to {last}, no {music_beat}")
                }
                None => {
                    let [first, last] =
                        has.map(|(bar, beat)| format!("bar {bar}, music beat {beat}"));
                    format!("there is no bar {bar}; the music goes from {first} to {last}")
                }
            },
            Unresolved::NotYet => {
                "it depends on something that is only known once this is known".to_owned()
            }
            Unresolved::HangsOn(_) => "it depends on a length that is left open".to_owned(),
            Unresolved::Circle => "it depends on itself".to_owned(),
            Unresolved::JoinedOn(name) => {
                format!("\"{name}\" is joined to the next section, so its props stay in the air")
            }
            Unresolved::NoThrows(name) => format!("nothing is juggled in \"{name}\""),
            Unresolved::NothingThrown => "the routine throws nothing".to_owned(),
            Unresolved::NothingCaught => "nothing is caught there".to_owned(),
            Unresolved::NoSuchThrow { section, has } => {
                format!("\"{section}\" has {}", counted(*has, "throw"))
            }
            Unresolved::NotThrown { section, throw } => match throw.value {
                0 => format!("that throw of \"{section}\" is a 0, an empty hand"),
                _ => format!("that throw of \"{section}\" is a {throw} that is held"),
            },
            Unresolved::NotNext(name) => {
                format!("\"{name}\" is not the section that comes next")
            }
            Unresolved::StartsAnywhere(name) => {
                format!("`StartingThrow` leaves open with which throw \"{name}\" starts")
            }
            Unresolved::Bends(name) => {
                format!("the tempo of \"{name}\" may bend, so nobody knows yet when anything lands in it")
            }
            Unresolved::AtAnotherTempo => {
                "it comes so late that it falls into a later section at another tempo".to_owned()
            }
            Unresolved::NeverThrown { value } => {
                format!("it never throws a {}", Throw::digit(*value))
            }
            Unresolved::NoSuchCycle { section, has } => {
                format!("\"{section}\" has {}", counted(*has, "cycle"))
            }
        })
    }
}

impl std::error::Error for Unresolved {}

impl Timeline {
    /// When a moment of the routine comes, on the show clock.
    ///
    /// # Errors
    /// Why it never does.
    pub fn moment(&self, routine: &Routine, moment: &Moment) -> Result<Time, Unresolved> {
        View { routine, timeline: self, open: None }.when(moment, Asked::default())
    }
}

/// A run that the compiler still works on; the timeline holds it as its last one.
pub(super) struct OpenRun<'a> {
    /// Its actions so far.
    pub(super) actions: &'a [Action],
    /// Beats whose tempo is settled.
    pub(super) settled: u32,
}

/// A timeline to look moments up in.
pub(super) struct View<'a> {
    pub(super) routine: &'a Routine,
    pub(super) timeline: &'a Timeline,
    /// The compiler half-way: what is known so far. `None` once finished.
    pub(super) open: Option<Progress<'a>>,
}

/// What the compiler knows half-way.
pub(super) struct Progress<'a> {
    /// Sections whose end is known.
    pub(super) ended: usize,
    /// The run in the making, if one is.
    pub(super) run: Option<OpenRun<'a>>,
    /// Whether all is laid out, and only the clock is still the routine's.
    pub(super) all: bool,
}

/// Moments that are being looked up already.
#[derive(Clone, Copy, Default)]
pub(super) struct Asked {
    zero: bool,
    /// How many starts of tracks.
    tracks: usize,
}

impl Asked {
    /// The zero of the show clock is being looked up.
    pub(super) fn zero() -> Asked {
        Asked { zero: true, tracks: 0 }
    }
}

/// When a music beat of a bar comes on the track.
fn bar_on_track(track: &Track, bar: i32, music_beat: u32) -> Result<Seconds, Unresolved> {
    let map = track.music_map().ok_or(Unresolved::NoBars)?;
    map.time_of(bar.into(), music_beat).ok_or_else(|| {
        let (first, last) = map.ends_of();
        let has = [first, last].map(|end| (end.bar, end.whole_beat()));
        Unresolved::NoSuchBar { bar, music_beat, has, beats: map.beats_of(bar.into()) }
    })
}

impl<'a> View<'a> {
    /// When a moment comes, on the clock of the timeline.
    pub(super) fn when(&self, moment: &Moment, asked: Asked) -> Result<Time, Unresolved> {
        match moment {
            Moment::TrackStart
            | Moment::TrackEnd
            | Moment::Mark(_)
            | Moment::Bar(..)
            | Moment::HoldStart(_)
            | Moment::HoldEnd(_) => self.of_track(None, moment, asked),
            Moment::OfTrack(name, of) => self.of_track(Some(name), of, asked),
            Moment::Shift(from, by) => Ok(&self.when(from, asked)? + by),
            Moment::First(of) => self.one_of(of, asked, |one, other| other - one),
            Moment::Last(of) => self.one_of(of, asked, |one, other| one - other),
            Moment::At(time) => Ok(&self.zero(asked)? + time),
            Moment::FirstThrow => self.first_throw(),
            Moment::LastCatch(None) => self.last_catch(),
            Moment::LastCatch(Some(name)) => self.last_catch_of(name),
            Moment::Start(name) => {
                let (_, span) = self.section(name)?;
                Ok(span.starts.clone())
            }
            Moment::End(name) => {
                let (index, span) = self.section(name)?;
                if self.open.as_ref().is_some_and(|open| index >= open.ended) {
                    return Err(Unresolved::NotYet);
                }
                Ok(span.ends.clone())
            }
            Moment::Throw(name, number) => {
                if let Some(hidden) = self.hidden(name, Within::Throw(number.value)) {
                    return Ok(hidden);
                }
                let (run, action) = self.action(name, number.value)?;
                self.settled(run, i64::from(action.beat).into())
            }
            Moment::Catch(name, number) => {
                if let Some(hidden) = self.hidden(name, Within::Catch(number.value)) {
                    return Ok(hidden);
                }
                let (run, action) = self.action(name, number.value)?;
                let caught = action
                    .caught(self.timeline.dwell)
                    .unwrap_or_else(|| unreachable!("`action` gives releases only"));
                let broken_off = self.timeline.runs.get(run).filter(|run| run.breaks_off);
                match broken_off {
                    // It is caught within what could not be read.
                    Some(run) if caught > i64::from(run.beats).into() => {
                        Ok(self.hidden_in(run.sections.end, Within::Catch(number.value)))
                    }
                    _ => self.settled(run, caught),
                }
            }
            Moment::Cycle(name, number) => self.cycle(name, number.value),
            Moment::SetUpStart => {
                let lasts = self.set_up()?;
                Ok(&self.act_starts() - lasts)
            }
            Moment::SetUpEnd => {
                self.set_up()?;
                Ok(self.act_starts())
            }
            Moment::EncoreStart if self.routine.is_encore => Ok(self.act_starts()),
            Moment::EncoreEnd if self.routine.is_encore => self.act_ends(),
            Moment::EncoreStart => {
                self.timeline.encore_lasts.as_ref().ok_or(NotWritten("encore"))?;
                self.act_ends()
            }
            Moment::EncoreEnd => {
                let lasts = self.timeline.encore_lasts.as_ref().ok_or(NotWritten("encore"))?;
                Ok(&self.act_ends()? + lasts)
            }
            Moment::StrikeStart => {
                self.routine.strike.as_ref().ok_or(NotWritten("strike"))?;
                self.strike_starts()
            }
            Moment::StrikeEnd => {
                let lasts = &self.routine.strike.as_ref().ok_or(NotWritten("strike"))?.value;
                Ok(&self.strike_starts()? + lasts)
            }
        }
    }

    /// The one of these that has the room to every other, on every night the same.
    fn one_of(
        &self,
        of: &[Moment],
        asked: Asked,
        room: impl Fn(&Time, &Time) -> Time,
    ) -> Result<Time, Unresolved> {
        let times: Vec<Time> =
            of.iter().map(|moment| self.when(moment, asked)).collect::<Result<_, _>>()?;
        let rooms =
            |one: &Time| -> Vec<Time> { times.iter().map(|other| room(one, other)).collect() };
        let first = times.first().ok_or(Unresolved::NotYet)?;
        if rooms(first).iter().any(Time::is_unknown) {
            let unknown = times.iter().find(|time| time.is_unknown()).unwrap_or(first);
            // It need not be that one, so that it is known how far it is from none of them.
            return Ok(unknown.clone().unknown(usize::MAX));
        }
        let wins = |one: &&Time| rooms(one).iter().all(|room| !room.least().is_negative());
        if let Some(one) = times.iter().find(wins) {
            return Ok(one.clone());
        }
        let opens = times.iter().flat_map(rooms).find_map(|room| room.hangs_on());
        Err(opens.map_or(Unresolved::NotYet, Unresolved::HangsOn))
    }

    /// How long the set-up takes, which comes before the act.
    fn set_up(&self) -> Result<&'a Seconds, Unresolved> {
        if self.routine.is_encore {
            return Err(Unresolved::OfTheAct);
        }
        Ok(&self.routine.set_up.as_ref().ok_or(NotWritten("set_up"))?.value)
    }

    /// Where the first section starts.
    fn act_starts(&self) -> Time {
        let first = self.timeline.sections.first();
        first.map_or_else(Time::zero, |section| section.starts.clone())
    }

    /// Where the last section ends, the encore left out.
    fn act_ends(&self) -> Result<Time, Unresolved> {
        if !self.all_laid_out() {
            return Err(Unresolved::NotYet);
        }
        let last = self.timeline.sections.last();
        Ok(last.map_or_else(Time::zero, |section| section.ends.clone()))
    }

    /// The act's end, or its encore's where it has one.
    fn strike_starts(&self) -> Result<Time, Unresolved> {
        let ends = self.act_ends()?;
        Ok(match &self.timeline.encore_lasts {
            Some(lasts) => &ends + lasts,
            None => ends,
        })
    }

    fn all_laid_out(&self) -> bool {
        self.open.as_ref().is_none_or(|open| open.all)
    }

    fn zero(&self, asked: Asked) -> Result<Time, Unresolved> {
        if self.open.is_none() {
            return Ok(Time::zero());
        }
        if asked.zero {
            return Err(Unresolved::Circle);
        }
        self.zero_of_show(Asked { zero: true, ..asked })
    }

    /// The zero of the show clock; unknown where it could not be read.
    pub(super) fn zero_of_show(&self, asked: Asked) -> Result<Time, Unresolved> {
        if self.routine.hidden.zero {
            return Ok(Time::zero().unknown(self.routine.score.len()));
        }
        self.when(&self.routine.zero.value, asked)
    }

    /// When a track starts, on the clock of the timeline.
    pub(super) fn starts_of(&self, track: usize) -> Result<Time, Unresolved> {
        self.track_start(track, Asked::default())
    }

    fn track_start(&self, track: usize, asked: Asked) -> Result<Time, Unresolved> {
        let span = self.timeline.tracks.get(track);
        if let (None, Some(start)) = (&self.open, span.and_then(|span| span.starts.as_ref())) {
            return Ok(start.clone());
        }
        // One track may start at a moment of another; as many as there are, no more.
        let mut tracks = self.routine.all_tracks();
        let (_, written) = tracks.nth(track).ok_or(Unresolved::NoMusic)?;
        if asked.tracks > tracks.count() + track {
            return Err(Unresolved::Circle);
        }
        self.when(&written.starts.value, Asked { tracks: asked.tracks + 1, ..asked })
    }

    /// When a moment of a track comes: of the one of that name, or of the only one.
    fn of_track(
        &self,
        name: Option<&Placed<String>>,
        moment: &Moment,
        asked: Asked,
    ) -> Result<Time, Unresolved> {
        let mut tracks = self.routine.all_tracks().enumerate();
        let found = match name {
            Some(name) => tracks
                .find(|(_, (called, _))| called.is_some_and(|called| called.value == name.value))
                .ok_or_else(|| Unresolved::UnknownTrack(name.value.clone()))?,
            None => {
                let first = tracks.next().ok_or(Unresolved::NoMusic)?;
                if tracks.next().is_some() {
                    return Err(Unresolved::WhichTrack);
                }
                first
            }
        };
        let (index, (_, track)) = found;
        let span = self.timeline.tracks.get(index).ok_or(Unresolved::NoMusic)?;
        let hold = |name: &Placed<String>| {
            let hold = track.holds.iter().position(|hold| hold.name.value == name.value);
            let hold = hold.and_then(|hold| span.holds.get(hold));
            hold.ok_or_else(|| Unresolved::UnknownHold(name.value.clone()))
        };
        let after_start = match moment {
            Moment::TrackStart => Time::zero(),
            Moment::TrackEnd => span.after_start(&track.length.value),
            Moment::Mark(name) => {
                let mark = track.marks.iter().find(|(mark, _)| mark.value == name.value);
                let (_, at) = mark.ok_or_else(|| Unresolved::UnknownMark(name.value.clone()))?;
                span.after_start(&at.value)
            }
            // What the music has not is said even where it is open when it starts.
            Moment::Bar(bar, music_beat) => {
                span.after_start(&bar_on_track(track, *bar, *music_beat)?)
            }
            Moment::HoldStart(name) => span.after_start(&hold(name)?.from),
            Moment::HoldEnd(name) => {
                let hold = hold(name)?;
                &span.after_start(&hold.from) + &hold.lasts
            }
            other => return self.when(other, asked),
        };
        Ok(&self.track_start(index, asked)? + &after_start)
    }

    fn first_throw(&self) -> Result<Time, Unresolved> {
        if let Some(hidden) = self.timeline.hides_first_throw() {
            return Ok(self.hidden_in(hidden, Within::FirstThrow));
        }
        for run in 0..self.timeline.runs.len() {
            if let Some(first) = self.actions(run).iter().find(|action| action.is_release()) {
                return self.settled(run, i64::from(first.beat).into());
            }
        }
        Err(if self.all_laid_out() { Unresolved::NothingThrown } else { Unresolved::NotYet })
    }

    fn last_catch(&self) -> Result<Time, Unresolved> {
        if !self.all_laid_out() {
            return Err(Unresolved::NotYet);
        }
        if let Some(hidden) = self.timeline.hides_last_catch() {
            return Ok(self.hidden_in(hidden, Within::LastCatch));
        }
        let mut catches =
            self.timeline.runs.iter().rev().filter_map(|run| run.gather.last_catch.clone());
        catches.next().ok_or(Unresolved::NothingThrown)
    }

    /// When something happens in an entry that could not be read: nobody knows.
    fn hidden_in(&self, section: usize, what: Within) -> Time {
        let span = self.timeline.sections.get(section);
        span.map_or_else(Time::zero, |span| span.starts.clone()).hidden_within(section, what)
    }

    /// The same of the entry of that name, where it is one, or goes at a pace that nobody knows.
    fn hidden(&self, name: &Placed<String>, what: Within) -> Option<Time> {
        let (index, span) = self.section(name).ok()?;
        let at_unknown_pace = span.juggle.as_ref().is_some_and(|juggle| !juggle.pace_known);
        (span.hides_throws || at_unknown_pace).then(|| self.hidden_in(index, what))
    }

    fn last_catch_of(&self, name: &Placed<String>) -> Result<Time, Unresolved> {
        if let Some(hidden) = self.hidden(name, Within::LastCatch) {
            return Ok(hidden);
        }
        let (index, juggle) = self.juggle(name)?;
        if self.routine.score.get(index + 1).is_some_and(Section::is_juggled) {
            return Err(Unresolved::JoinedOn(name.value.clone()));
        }
        if self.open.as_ref().is_some_and(|open| index >= open.ended) {
            return Err(Unresolved::NotYet);
        }
        let run = self.timeline.runs.get(juggle.run).ok_or(Unresolved::NotYet)?;
        run.gather.last_catch.clone().ok_or(Unresolved::NothingCaught)
    }

    fn cycle(&self, name: &Placed<String>, number: u32) -> Result<Time, Unresolved> {
        if let Some(hidden) = self.hidden(name, Within::Cycle(number)) {
            return Ok(hidden);
        }
        let (index, juggle) = self.juggle(name)?;
        let Some(written) = self.routine.juggle(index) else {
            return Err(Unresolved::NoThrows(name.value.clone()));
        };
        let Some(beat) = juggle.cycle_begins(number, written.pattern.pattern.period()) else {
            let (whole, cut) = juggle.cycles;
            let has = whole + u32::from(cut > 0);
            return Err(Unresolved::NoSuchCycle { section: name.value.clone(), has });
        };
        self.settled(juggle.run, i64::from(beat).into())
    }

    /// The section of that name, as far as it is laid out.
    fn section(&self, name: &Placed<String>) -> Result<(usize, &'a SectionSpan), Unresolved> {
        let index = self
            .routine
            .section(&name.value)
            .ok_or_else(|| Unresolved::UnknownSection(name.value.clone()))?;
        let span = self.timeline.sections.get(index).ok_or(Unresolved::NotYet)?;
        Ok((index, span))
    }

    fn juggle(&self, name: &Placed<String>) -> Result<(usize, &'a JuggleSpan), Unresolved> {
        let (index, span) = self.section(name)?;
        match (&span.juggle, self.routine.juggle(index)) {
            (Some(juggle), _) => Ok((index, juggle)),
            (None, Some(_)) => Err(Unresolved::NotYet),
            (None, _) => Err(Unresolved::NoThrows(name.value.clone())),
        }
    }

    fn actions(&self, run: usize) -> &'a [Action] {
        match &self.open {
            Some(Progress { run: Some(open), .. }) if run + 1 == self.timeline.runs.len() => {
                open.actions
            }
            _ => self.timeline.runs.get(run).map_or(&[], |run| &run.actions),
        }
    }

    /// The release of that number in a section.
    fn action(
        &self,
        name: &Placed<String>,
        number: u32,
    ) -> Result<(usize, &'a Action), Unresolved> {
        let (_, juggle) = self.juggle(name)?;
        let actions = self.actions(juggle.run).get(juggle.actions.clone()).unwrap_or_default();
        let counted = || actions.iter().filter_map(|action| Some((action.number?.get(), action)));
        let Some((_, action)) = counted().find(|&(counted, _)| counted == number) else {
            let has = counted().map(|(counted, _)| counted).max().unwrap_or(0);
            return Err(Unresolved::NoSuchThrow { section: name.value.clone(), has });
        };
        match action.kind {
            ActionKind::Thrown | ActionKind::HandedAcross => Ok((juggle.run, action)),
            ActionKind::Held | ActionKind::Empty => {
                Err(Unresolved::NotThrown { section: name.value.clone(), throw: action.throw })
            }
        }
    }

    /// When a place in a run comes; unknown where the tempo there is not settled yet.
    fn settled(&self, run: usize, position: BeatPosition) -> Result<Time, Unresolved> {
        if let Some(Progress { run: Some(open), .. }) = &self.open
            && run + 1 == self.timeline.runs.len()
            && position > BeatPosition::from_integer(i64::from(open.settled))
        {
            return Err(Unresolved::NotYet);
        }
        let tempo: &TempoMap =
            self.timeline.runs.get(run).map(|run| &run.tempo).ok_or(Unresolved::NotYet)?;
        Ok(tempo.at(position))
    }
}
