//! What an act is rehearsed by: clicks, captions and the marks of a sequence, in no format.
//!
//! [`clicks`] is a click track, [`captions`] are the captions of a rehearsal's video, [`sequence`]
//! the tempo, markers and cues of a MIDI file, whose ticks [`grid`] finds. All three begin at the
//! zero of a [`Media`] clock. Times are exact seconds from there; what comes earlier is left out,
//! and each says what it left out.

pub mod captions;
pub mod clicks;
pub mod grid;
pub mod sequence;

use std::collections::BTreeSet;
use std::fmt;

use crate::act::Act;
use crate::act::calls::Call;
use crate::diagnostic::words::all_of;
use crate::measure::figures::figures;
use crate::routine::Moment;
use crate::time::{Open, OpenLength, Seconds, Time, TimeRange};
use crate::timeline::Unresolved;

use super::heading::Heading;
use super::words::{self, plain};

/// The clock of a file that is played, and the act on it.
///
/// Its zero is the moment that was asked for; else the track's start; else, without music, the show
/// clock's zero or the start of the act's first section, whichever is earlier.
#[derive(Clone, Debug, PartialEq)]
pub struct Media {
    /// The routine's title.
    pub title: String,
    /// Its issue in words, as in `issue 3`.
    pub issue: String,
    /// Its zero, in words.
    pub zero: String,
    /// The sections, in order.
    pub sections: Vec<Stretch>,
    /// The cues, in order of GO.
    pub cues: Vec<Go>,
    /// The open lengths that its times hang on, all at their shortest in it.
    pub open: Vec<OpenLength>,
    /// Its zero on the show clock.
    zero_at: Seconds,
}

/// A section.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Its name.
    pub name: String,
    /// Where it starts.
    pub starts: Seconds,
    /// Where it ends.
    pub ends: Seconds,
    /// Whether anything is juggled in it.
    pub is_juggled: bool,
}

/// A cue's GO.
#[derive(Clone, Debug, PartialEq)]
pub struct Go {
    /// Index of the cue in the routine.
    pub cue: usize,
    /// GO; the earliest where that is open.
    pub at: Seconds,
    /// Whether GO hangs on nothing that is open, on this clock and on the show's.
    pub is_certain: bool,
    /// What a reader sees: the cue and what is done, as in `LX 20: blackout`.
    pub words: String,
}

/// Something that comes before the file's zero.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// When; below zero.
    pub at: Seconds,
    /// What, in words.
    pub what: String,
}

/// Why a file cannot be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// The routine has no music whose bars are written.
    NoBars,
    /// Nothing is left after the file's zero.
    Nothing,
    /// It would be longer than [`LONGEST_S`] or than its format can count.
    TooLong,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Refused::NoBars => "the routine has no music whose bars are written",
            Refused::Nothing => "nothing is left after the file's zero",
            Refused::TooLong => "it would be longer than two hours",
        })
    }
}

impl std::error::Error for Refused {}

/// The longest file, in seconds: two hours.
pub const LONGEST_S: i64 = 7_200;

impl Media {
    /// The clock that begins at a moment, or where it usually does.
    ///
    /// # Errors
    /// Why that moment never comes.
    pub fn new(act: &Act, from: Option<&Moment>) -> Result<Media, Unresolved> {
        let Act { routine, timeline, .. } = act;
        let (zero_at, zero) = match (from, timeline.track_start()) {
            (Some(moment), _) => (act.moment(moment)?, words::moment(moment)),
            (None, Some(start)) => (start.clone(), words::moment(&routine.first_track_start())),
            (None, None) => match (figures(timeline).begins, routine.score.first()) {
                (Some(begins), Some(first)) if begins.shortest().is_negative() => {
                    (begins, words::moment(&Moment::Start(first.name.clone())))
                }
                _ => (Time::zero(), words::moment(&routine.zero.value)),
            },
        };
        let open = open_lengths(act, &zero_at);
        // A file that is played has one time only: all that is open is at its shortest.
        let shown_zero = zero_at;
        let zero_at = shown_zero.shortest().clone();
        let sections =
            timeline.sections.iter().zip(&routine.score).map(|(span, section)| Stretch {
                name: plain(&section.name.value),
                starts: span.starts.shortest() - &zero_at,
                ends: span.ends.shortest() - &zero_at,
                is_juggled: span.juggle.is_some(),
            });
        let mut calls: Vec<&Call> = act.calls.calls.iter().collect();
        calls.sort_by(|a, b| a.go.shortest().to_f64().total_cmp(&b.go.shortest().to_f64()));
        let cues = calls.into_iter().filter_map(|call| {
            let cue = routine.cues.get(call.cue)?;
            let words = format!("{}: {}", cue.label(), plain(&cue.does.value.words()));
            let since = &call.go - &shown_zero;
            let is_certain = since.range().is_certain() && call.go.range().is_certain();
            Some(Go { cue: call.cue, at: since.shortest().clone(), is_certain, words })
        });
        Ok(Media {
            title: plain(&routine.title.value),
            issue: Heading::of(act).issue_words(),
            zero,
            sections: sections.collect(),
            cues: cues.collect(),
            open,
            zero_at,
        })
    }

    /// That its times are the earliest, where they hang on lengths that are left open: a sentence or
    /// two.
    #[must_use]
    pub fn earliest_words(&self) -> Option<String> {
        let name = |open: &OpenLength| {
            let range = TimeRange::between(open.shortest.clone(), open.longest.clone());
            format!("{} ({})", plain(&open.name), range.seconds_text())
        };
        let names: Vec<String> = self.open.iter().map(name).collect();
        let is = match names.len() {
            0 => return None,
            1 => "is at its",
            _ => "are at their",
        };
        Some(format!(
            "Earliest times: {} {is} shortest. What comes behind may be later, and a file that is \
             played does not wait for it.",
            all_of(&names)
        ))
    }

    /// What it reads at a time of the show clock.
    #[must_use]
    pub fn reads(&self, show: &Seconds) -> Seconds {
        show - &self.zero_at
    }

    /// The show clock at a time of its own.
    #[must_use]
    pub fn on_show_clock(&self, time: &Seconds) -> Seconds {
        time + &self.zero_at
    }

    /// Where the act ends; its zero where that is past.
    #[must_use]
    pub fn act_ends(&self) -> Seconds {
        let ends = self.sections.last().map(|section| section.ends.clone());
        ends.filter(|ends| !ends.is_negative()).unwrap_or_else(Seconds::zero)
    }

    /// Sections that are over and cues that have gone when it begins, in order of time.
    #[must_use]
    pub fn left_out(&self) -> Vec<LeftOut> {
        let over = |section: &&Stretch| section.starts.is_negative() && !section.is_under_way();
        let mut left_out: Vec<LeftOut> = self
            .sections
            .iter()
            .filter(over)
            .map(|section| LeftOut { at: section.starts.clone(), what: section.name.clone() })
            .collect();
        let gone = self.cues.iter().filter(|cue| cue.at.is_negative());
        left_out.extend(gone.map(|cue| LeftOut { at: cue.at.clone(), what: cue.words.clone() }));
        left_out.sort_by(|a, b| a.at.to_f64().total_cmp(&b.at.to_f64()));
        left_out
    }
}

impl Stretch {
    /// Whether it has begun before the zero and goes on after it: it is cut there, not left out.
    #[must_use]
    pub fn is_under_way(&self) -> bool {
        self.starts.is_negative() && self.ends > Seconds::zero()
    }

    /// Where it is first seen: its start, or the zero where it is under way. `None` where it is
    /// over by then.
    #[must_use]
    pub fn seen_from(&self) -> Option<Seconds> {
        match (self.is_under_way(), self.starts.is_negative()) {
            (true, _) => Some(Seconds::zero()),
            (false, true) => None,
            (false, false) => Some(self.starts.clone()),
        }
    }
}

/// The open lengths that what comes after a time hangs on, counted from that time.
fn open_lengths(act: &Act, zero: &Time) -> Vec<OpenLength> {
    let spans = act.timeline.sections.iter().flat_map(|span| [&span.starts, &span.ends]);
    let times = spans.chain(act.calls.calls.iter().map(|call| &call.go));
    let since = times.map(|time| time - zero).filter(|since| !since.shortest().is_negative());
    let places: BTreeSet<usize> = since
        .flat_map(|since| since.owes().iter().map(|(open, _)| *open).collect::<Vec<Open>>())
        .filter_map(|open| match open {
            Open::Length(place) => Some(usize::from(place)),
            Open::Enclosed(_) | Open::Unknown(_) | Open::Within(..) => None,
        })
        .collect();
    places.into_iter().filter_map(|place| act.open.get(place).cloned()).collect()
}

/// The longest file.
fn longest() -> Seconds {
    Seconds::fraction(LONGEST_S, 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms, name};

    #[test]
    fn what_is_earlier_than_the_track_is_left_out_and_said() {
        let quay = lantern_quay();
        let media = Media::new(&compiled(&quay), None).unwrap();
        assert_eq!(media.zero, "track start");
        let left_out: Vec<_> = media.left_out().into_iter().map(|one| (one.at, one.what)).collect();
        let house = (ms(-20_000), "HOUSE: to half".to_owned());
        assert_eq!(left_out, [house, (ms(-6_000), "walk on".to_owned())]);
        assert_eq!(media.sections[2].starts, ms(7_500));
        assert_eq!(media.act_ends().to_f64(), 55.266_666_666_666_666);
    }

    #[test]
    fn a_moment_moves_the_start_and_cuts_the_section_that_is_under_way() {
        let quay = lantern_quay();
        let from = Moment::At(ms(10_000));
        let media = Media::new(&compiled(&quay), Some(&from)).unwrap();
        assert_eq!(media.sections[2].seen_from(), Some(Seconds::zero()));
        assert_eq!(media.sections[3].seen_from(), Some(ms(5_300)));
        let left_out = media.left_out();
        assert!(left_out.iter().all(|one| one.what != "tide"), "{left_out:?}");
        assert_eq!(left_out.len(), 4, "{left_out:?}");
        let never = Moment::Start(name("nowhere"));
        assert!(Media::new(&compiled(&quay), Some(&never)).is_err());
    }

    #[test]
    fn without_music_nothing_of_the_act_is_lost() {
        let mut quay = lantern_quay();
        (quay.music, quay.zero.value) = (None, Moment::FirstThrow);
        quay.score.remove(1);
        (quay.cues, quay.limits) = (Vec::new(), Vec::new());
        let media = Media::new(&compiled(&quay), None).unwrap();
        assert_eq!(media.zero, "start of \"walk on\"");
        assert_eq!(media.sections[1].starts, ms(6_000));
        assert_eq!(media.left_out(), []);
    }
}
