//! The sequence that a MIDI file carries: tempo and bars, markers at sections, cue points at cues,
//! and what starts a crew's cue by MIDI Show Control.
//!
//! Show control speaks to kinds of equipment, not to crews: light and house lights are lighting,
//! sound is sound, flown pieces and deck are machinery; a followspot is worked by a person. Where two
//! crews of one kind have a cue of one number, only the first of them, in that order, is started: the
//! other would start a wrong cue. Nor is a cue started whose time is open: equipment would go on its
//! own while nobody is ready.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::measure::music_beats::music_beats;
use crate::routine::{Crew, CueNumber, Routine};
use crate::time::Seconds;

use super::grid::Grid;
use super::{LeftOut, Media, Refused, longest};

/// The sequence.
#[derive(Clone, Debug, PartialEq)]
pub struct Sequence {
    /// Its clock.
    pub media: Media,
    /// Tempo and bars.
    pub grid: Grid,
    /// Where sections start.
    pub markers: Vec<Mark>,
    /// Where cues go.
    pub cue_points: Vec<Mark>,
    /// Which crew's cues are started, if any are asked for.
    pub show_control: Option<ShowControl>,
    /// The tick at which it is over.
    pub ends: u32,
    /// What comes before the zero.
    pub left_out: Vec<LeftOut>,
}

/// Words at a tick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// When.
    pub tick: u32,
    /// What.
    pub words: String,
}

/// What is started by show control.
#[derive(Clone, Debug, PartialEq)]
pub struct ShowControl {
    /// Which equipment listens: 0 to 111 one of them, 112 to 126 a group, 127 all.
    pub device: u8,
    /// In order of GO.
    pub starts: Vec<Start>,
    /// Cues that are not started, in order of GO, each with the reason.
    pub not_started: Vec<(String, NotStarted)>,
}

/// A cue that is started.
#[derive(Clone, Debug, PartialEq)]
pub struct Start {
    /// When.
    pub tick: u32,
    /// What kind of equipment.
    pub equipment: Equipment,
    /// The cue's number.
    pub number: CueNumber,
}

/// Kinds of equipment that show control speaks to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Equipment {
    /// Lighting.
    Lighting,
    /// Sound.
    Sound,
    /// Machinery.
    Machinery,
}

/// Why a cue is not started by show control.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotStarted {
    /// It has no number.
    NoNumber,
    /// Another crew of the same kind has a cue of that number.
    SameNumber(Crew),
    /// Its time hangs on a length that is left open.
    OpenTime,
    /// A followspot is worked by a person.
    Followspot,
}

impl Equipment {
    /// The kind of equipment that a crew works; `None` where it is worked by a person.
    #[must_use]
    pub fn of(crew: Crew) -> Option<Equipment> {
        match crew {
            Crew::Light | Crew::House => Some(Equipment::Lighting),
            Crew::Sound => Some(Equipment::Sound),
            Crew::Fly | Crew::Deck => Some(Equipment::Machinery),
            Crew::Spot | Crew::Timekeeper => None,
        }
    }
}

/// The last device: all equipment listens.
pub const ALL_DEVICES: u8 = 0x7f;

/// Crews in the order in which they may have a number of their kind of equipment.
const PRECEDENCE: [Crew; 5] = [Crew::Light, Crew::House, Crew::Sound, Crew::Fly, Crew::Deck];

/// Composes the sequence; with a device, its show control too.
///
/// # Errors
/// Why there is none.
pub fn compose(act: &Act, media: Media, device: Option<u8>) -> Result<Sequence, Refused> {
    let Act { routine, .. } = act;
    let last = media.cues.last().map_or_else(Seconds::zero, |cue| cue.at.clone());
    let act_ends = media.act_ends();
    let ends = if last > act_ends { last } else { act_ends };
    if ends > longest() {
        return Err(Refused::TooLong);
    }
    let [from, to] = [&Seconds::zero(), &ends].map(|time| media.on_show_clock(time));
    let beats = music_beats(act, &from, &to);
    let grid = Grid::of(&beats, |beat| media.reads(&beat.at))?;
    let mark =
        |at: &Seconds, words: &str| Ok(Mark { tick: grid.tick(at)?, words: words.to_owned() });
    let sections = media.sections.iter();
    let seen = sections.filter_map(|section| Some((section.seen_from()?, &section.name)));
    let markers = seen.map(|(at, name)| mark(&at, name)).collect::<Result<Vec<Mark>, Refused>>()?;
    let going = media.cues.iter().filter(|cue| !cue.at.is_negative());
    let cue_points =
        going.map(|cue| mark(&cue.at, &cue.words)).collect::<Result<Vec<Mark>, Refused>>()?;
    if markers.is_empty() && cue_points.is_empty() {
        return Err(Refused::Nothing);
    }
    let show_control =
        device.map(|device| show_control(routine, &media, &grid, device)).transpose()?;
    let (ends, left_out) = (grid.tick(&ends)?, media.left_out());
    Ok(Sequence { media, grid, markers, cue_points, show_control, ends, left_out })
}

fn show_control(
    routine: &Routine,
    media: &Media,
    grid: &Grid,
    device: u8,
) -> Result<ShowControl, Refused> {
    // Whose a number is, among the crews of one kind of equipment.
    let mut owners: BTreeMap<(Equipment, CueNumber), Crew> = BTreeMap::new();
    for crew in PRECEDENCE {
        let Some(equipment) = Equipment::of(crew) else { continue };
        for cue in routine.cues.iter().filter(|cue| cue.crew.value == crew) {
            if let Some(number) = &cue.number {
                owners.entry((equipment, number.value)).or_insert(crew);
            }
        }
    }
    let mut control = ShowControl { device, starts: Vec::new(), not_started: Vec::new() };
    for go in media.cues.iter().filter(|cue| !cue.at.is_negative()) {
        let Some(cue) = routine.cues.get(go.cue) else { continue };
        let crew = cue.crew.value;
        let mut leave_out = |cue: &str, why| control.not_started.push((cue.to_owned(), why));
        let Some(number) = &cue.number else {
            leave_out(&go.words, NotStarted::NoNumber);
            continue;
        };
        let Some(equipment) = Equipment::of(crew) else {
            leave_out(&cue.label(), NotStarted::Followspot);
            continue;
        };
        match owners.get(&(equipment, number.value)) {
            Some(&owner) if owner != crew => {
                leave_out(&cue.label(), NotStarted::SameNumber(owner));
            }
            _ if !go.is_certain => leave_out(&cue.label(), NotStarted::OpenTime),
            _ => {
                let (tick, number) = (grid.tick(&go.at)?, number.value);
                control.starts.push(Start { tick, equipment, number });
            }
        }
    }
    Ok(control)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, when};
    use crate::routine::{Moment, Trigger};

    fn sequence(quay: &Routine) -> Sequence {
        let act = compiled(quay);
        let media = Media::new(&act, None).unwrap();
        compose(&act, media, Some(ALL_DEVICES)).unwrap()
    }

    #[test]
    fn the_worked_example_has_its_markers_on_the_ticks_of_its_music() {
        let sequence = sequence(&lantern_quay());
        let tick = |seconds: f64| (1_920.0 + (seconds - 0.85) * 1_920.0).round() as u32;
        let markers: Vec<_> =
            sequence.markers.iter().map(|mark| (mark.tick, mark.words.as_str())).collect();
        assert_eq!(markers[0], (0, "stillness"));
        assert_eq!(markers[1], (tick(7.5), "tide"));
        assert_eq!(markers[6], (tick(37.1), "fleet"));
        let cues: Vec<_> =
            sequence.cue_points.iter().map(|mark| (mark.tick, mark.words.as_str())).collect();
        assert_eq!(cues[1], (tick(31.1), "LX 20: blackout"));
        assert_eq!(cues.len(), 3);
        assert_eq!(sequence.left_out.len(), 2);
        assert_eq!(sequence.ends, tick(50.266_666_666_666_7 + 5.0));
    }

    #[test]
    fn one_number_starts_one_cue_of_a_kind_of_equipment() {
        let at = |thousandths| Some(when(Moment::At(ms(thousandths)), 0));
        let called = |crew, number, at| cue(crew, number, at, Trigger::Called, "go");
        let mut quay = lantern_quay();
        quay.cues = vec![
            called(Crew::Spot, 5, at(1_000)),
            called(Crew::Light, 5, at(2_000)),
            called(Crew::Sound, 5, at(3_000)),
            called(Crew::Deck, 6, at(4_000)),
            called(Crew::House, 0, at(5_000)),
            called(Crew::House, 7, at(-5_000)),
            called(Crew::House, 5, at(6_000)),
        ];
        let control = sequence(&quay).show_control.unwrap();
        let starts: Vec<_> =
            control.starts.iter().map(|one| (one.equipment, one.number.tenths)).collect();
        let expected =
            [(Equipment::Lighting, 50), (Equipment::Sound, 50), (Equipment::Machinery, 60)];
        assert_eq!(starts, expected);
        let spot = ("FS 5".to_owned(), NotStarted::Followspot);
        let house = ("HOUSE: go".to_owned(), NotStarted::NoNumber);
        let same = ("HOUSE 5".to_owned(), NotStarted::SameNumber(Crew::Light));
        assert_eq!(control.not_started, [spot, house, same]);
    }
}
