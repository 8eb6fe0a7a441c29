//! The encore: a score, music and cues of its own.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{CrewDefaults, Cue, Encore, Hidden, Moment, Part, Routine, Section};

use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;
use super::score::score;
use super::tracks::{Music, music};

/// An encore that was read, before it is given what it has from the act.
pub(super) struct ReadEncore {
    at: Place,
    score: Vec<Section>,
    music: Music,
    cues: Vec<Cue>,
    music_hidden: bool,
    cues_hidden: bool,
}

/// The encore. Its sections, music and cues know those of the encore only.
pub(super) fn encore<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    crews: &[CrewDefaults],
) -> Option<ReadEncore> {
    let mut record = Record::open(reader, raw, "Encore")?;
    reader.names.in_encore = true;
    let score = record.need(reader, "score", score);
    let before_cues = reader.errors();
    // A hold may bring cues.
    let music = music(reader, &mut record);
    let music_hidden = reader.errors() > before_cues;
    let cues = record.may(reader, "cues", |reader, raw| super::cues(reader, raw, crews));
    let cues_hidden = reader.errors() > before_cues;
    reader.names.in_encore = false;
    if music.is_lost {
        let from = raw.place().start;
        reader.consequence("times-contradict", from);
        reader.consequence("moment-never-comes", from);
        reader.consequence("tempo-without-bars", from);
    }
    record.close(reader);
    let score = score?;
    // Applause comes between the act and its encore: the props are picked up again.
    if score.first().is_some_and(|first| matches!(first.part, Part::Juggle(_)))
        && let Some(first) = score.first()
    {
        let message = "An encore begins with a `Pause`: the props are taken up again.";
        let place = Place { start: first.at.start, end: first.at.start + "Juggle".len() };
        let fault = Diagnostic::error("encore-without-pause", place.clone(), message)
            .label("begins with throws")
            .help_edit(
                "Put a `Pause` before it.",
                Place { start: place.start, end: place.start },
                "Pause(name: \"back on stage\", lasts: For(\"0:05\")), ",
            );
        reader.report(fault);
    }
    let cues = cues.unwrap_or_default();
    Some(ReadEncore { at: raw.place(), score, music, cues, music_hidden, cues_hidden })
}

impl ReadEncore {
    /// The encore of this act; `None` where it has no section.
    pub(super) fn of(self, act: &Routine) -> Option<Encore> {
        let first = self.score.first()?;
        let zero = Placed { value: Moment::Start(first.name.clone()), at: first.name.at.clone() };
        let routine = Routine {
            score: self.score,
            cues: self.cues.into_iter().chain(self.music.cues).collect(),
            zero,
            music: self.music.music,
            tracks: self.music.tracks,
            limits: Vec::new(),
            set_up: None,
            encore: None,
            is_encore: true,
            issued: None,
            hidden: Hidden {
                zero: false,
                cues: self.cues_hidden,
                music: self.music_hidden,
                ..act.hidden
            },
            ..act.clone()
        };
        Some(Encore { at: self.at, routine })
    }
}
