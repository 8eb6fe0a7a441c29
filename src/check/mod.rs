//! The checks: what a juggler or a technician must know before the sheets are used.
//!
//! One file for each: what it checks, why it matters, an example that raises it, and the same
//! example mended; one test proves both for every check. To add one, write its file and name it in
//! [`CHECKS`]. What stops the reader or the compiler is put into words here too, so that every
//! code has its one home.

macro_rules! example {
    ($score:literal) => {
        example!($score, "")
    };
    ($score:literal, $rest:literal) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    lead: Right,\n    tempo: PerMinute(200),\n",
            "    zero: FirstThrow,\n",
            "    colours: { \"coral\": \"#ec6a5c\", \"teal\": \"#0f8b8d\", \"pearl\": \"#f4f1e6\" },\n",
            "    sets: {\n        \"three\": Set(kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"teal\", \"pearl\"]),\n",
            "        \"trio\": Set(kind: Ring, length: 0.32, ",
            "colours: [\"coral\", \"coral\", \"teal\"]),\n",
            "        \"fire\": Set(kind: Torch, length: 0.6, burn: [95.0, 40.5], ",
            "colours: [\"coral\", \"coral\", \"coral\"]),\n",
            "        \"knives\": Set(kind: Knife, length: 0.5, ",
            "colours: [\"pearl\", \"pearl\", \"pearl\"]),\n    },\n    score: [\n",
            $score,
            "    ],\n",
            $rest,
            ")\n"
        )
    };
}

mod arms_do_not_meet;
mod bend_too_small;
mod burn_too_short;
mod called_too_close;
mod catches_not_reached;
mod colour_against_backdrop;
mod colour_not_in_set;
mod colour_not_shown;
mod colour_words;
mod colours_alike_under_light;
mod colours_look_alike;
mod cue_after_end;
mod cue_too_early;
mod cut_cycle;
mod danger_in_dark;
mod dark_before_last_catch;
mod dark_too_short;
mod duplicate_cue_number;
mod follow;
mod hand_count;
mod junction_clash;
mod landing_clash;
mod lead_not_met;
mod length_not_whole;
mod limit;
mod loading_mismatch;
mod moment_never_comes;
mod more_than_three_flashes;
mod music_ends_early;
mod music_tempo;
mod names;
mod no_tempo;
mod no_transition;
mod nothing_to_land_on;
mod number_without_gap;
mod other_face_without_backs;
mod pause_too_short;
mod prop_count;
mod prop_set;
mod range_moves_beats;
mod regrip;
mod spot_in_dark;
mod timed_cue_after_range;
mod times_contradict;
mod too_fast;
mod too_high;
mod too_long;
mod track;
mod track_names;
mod tracks_overlap;
mod turn_too_short;

pub use moment_never_comes::reason as why_never;

use crate::diagnostic::{Diagnostic, Effects, Place};
use crate::hand::Hand;
use crate::lineup::Colours;
use crate::measure::calls::{Calls, Dark, calls, darks};
use crate::routine::{Juggle, Part, Routine, Section};
use crate::sound::Tracks;
use crate::time::{BeatPosition, Seconds};
use crate::timeline::{Compiled, Timeline, Trouble};
use crate::transition::{Origin, Way, moves_colours};

/// A check.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its stable code, which names the fault.
    pub code: &'static str,
    /// What it checks, one sentence.
    pub what: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// A routine that raises it.
    pub raises: &'static str,
    /// The same routine, mended.
    pub mended: &'static str,
    /// How it is found.
    pub finds: Finds,
}

/// How a fault is found.
#[derive(Clone, Copy, Debug)]
pub enum Finds {
    /// Already while the file is read.
    Reading,
    /// From the routine and what came of compiling it.
    Compiled(fn(&Case<'_>) -> Vec<Diagnostic>),
    /// As before, but only where every time of the timeline can be relied on.
    Timed(fn(&Case<'_>) -> Vec<Diagnostic>),
}

/// Every check, in the order of their codes.
pub const CHECKS: &[&Check] = &[
    &arms_do_not_meet::CHECK,
    &bend_too_small::CHECK,
    &burn_too_short::CHECK,
    &called_too_close::CHECK,
    &catches_not_reached::CHECK,
    &colour_against_backdrop::CHECK,
    &colour_not_shown::TOO_LONG,
    &colour_not_in_set::CHECK,
    &colour_not_shown::CHECK,
    &colours_alike_under_light::CHECK,
    &colours_look_alike::CHECK,
    &cue_after_end::CHECK,
    &cue_too_early::CHECK,
    &cut_cycle::CHECK,
    &danger_in_dark::CHECK,
    &dark_before_last_catch::CHECK,
    &dark_too_short::CHECK,
    &duplicate_cue_number::CHECK,
    &names::DUPLICATE,
    &other_face_without_backs::CHECK,
    &follow::CHECK,
    &hand_count::CHECK,
    &junction_clash::CHECK,
    &landing_clash::CHECK,
    &lead_not_met::CHECK,
    &length_not_whole::CHECK,
    &limit::CLOSE,
    &limit::GRACE,
    &limit::OVER,
    &limit::UNDER,
    &loading_mismatch::CHECK,
    &moment_never_comes::CHECK,
    &more_than_three_flashes::CHECK,
    &music_ends_early::CHECK,
    &times_contradict::NEGATIVE_PAUSE,
    &prop_set::MISSING,
    &no_tempo::CHECK,
    &no_transition::CHECK,
    &nothing_to_land_on::CHECK,
    &number_without_gap::CHECK,
    &music_tempo::OFF_THE_MUSIC,
    &pause_too_short::CHECK,
    &prop_count::CHECK,
    &range_moves_beats::CHECK,
    &range_moves_beats::TOO_SHORT,
    &regrip::MISMATCH,
    &regrip::OF_NOTHING,
    &prop_set::IN_RUN,
    &spot_in_dark::CHECK,
    &music_tempo::WITHOUT_BARS,
    &timed_cue_after_range::CHECK,
    &times_contradict::CHECK,
    &too_fast::CHECK,
    &too_high::CHECK,
    &too_long::CHECK,
    &range_moves_beats::TOO_MANY,
    &track::LENGTH,
    &track::MISSING,
    &track::UNREADABLE,
    &tracks_overlap::CHECK,
    &turn_too_short::CHECK,
    &names::COLOUR,
    &track_names::HOLD,
    &names::MARK,
    &names::SECTION,
    &names::SET,
    &track_names::TRACK,
    &track_names::WHICH,
];

/// What a check looks at.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// The routine.
    pub routine: &'a Routine,
    /// What came of compiling it.
    pub compiled: &'a Compiled,
    /// When its cues are called.
    pub calls: &'a Calls,
    /// What of its colours comes about.
    pub colours: &'a Colours,
    /// What was found of its music files.
    pub tracks: &'a Tracks,
}

/// Everything that the checks find in the act and in its encore, by place in the file.
#[must_use]
pub fn check(
    routine: &Routine,
    compiled: &Compiled,
    colours: &Colours,
    tracks: &Tracks,
) -> Vec<Diagnostic> {
    let calls = calls(routine, &compiled.timeline);
    let case = Case { routine, compiled, calls: &calls, colours, tracks };
    let mut found = Vec::new();
    for check in CHECKS {
        match check.finds {
            Finds::Compiled(find) => found.extend(find(&case)),
            Finds::Timed(find) if compiled.times_known => found.extend(find(&case)),
            Finds::Timed(_) | Finds::Reading => {}
        }
    }
    if let (Some(encore), Some(compiled)) = (&routine.encore, &compiled.encore) {
        let colours = colours.encore.as_deref().unwrap_or(colours);
        for one in check(&encore.routine, compiled, colours, tracks) {
            if !found.contains(&one) {
                found.push(on_its_clock(one));
            }
        }
    }
    if let Some(latest) = &compiled.timeline.latest {
        at_the_latest(&case, latest, &mut found);
    }
    found
}

/// Says which clock is meant where the encore's times are spoken of.
fn on_its_clock(diagnostic: Diagnostic) -> Diagnostic {
    if !diagnostic.message.contains("(show clock)") {
        return diagnostic;
    }
    diagnostic.note("in the encore that clock reads 0:00.0 where its own first section starts")
}

/// What is found only where everything that is left open lasts its longest.
fn at_the_latest(case: &Case<'_>, latest: &Timeline, found: &mut Vec<Diagnostic>) {
    let calls = calls(case.routine, latest);
    let compiled =
        Compiled { timeline: latest.clone(), troubles: Vec::new(), ..case.compiled.clone() };
    let latest = Case { compiled: &compiled, calls: &calls, ..*case };
    let timed = CHECKS.iter().filter_map(|check| match check.finds {
        Finds::Timed(find) => Some(find),
        Finds::Compiled(_) | Finds::Reading => None,
    });
    let again: Vec<Diagnostic> = timed.flat_map(|find| find(&latest)).collect();
    for diagnostic in again {
        let said = |one: &Diagnostic| one.code == diagnostic.code && one.at == diagnostic.at;
        if !found.iter().any(said) {
            let note = "This is so where what the routine leaves open lasts its longest.";
            found.push(diagnostic.note(note));
        }
    }
}

impl<'a> Case<'a> {
    /// The timeline, as far as it could be laid out.
    fn timeline(&self) -> &'a Timeline {
        &self.compiled.timeline
    }

    /// When the stage is dark.
    fn darks(&self) -> Vec<Dark> {
        darks(self.routine, &self.calls.calls)
    }

    fn troubles(&self) -> impl Iterator<Item = &'a Trouble> {
        self.compiled.troubles.iter()
    }

    /// Whether every junction fits, so that it is known which prop is where.
    fn props_known(&self) -> bool {
        self.compiled.troubles.is_empty()
    }

    fn section(&self, index: usize) -> &'a Section {
        self.routine
            .score
            .get(index)
            .unwrap_or_else(|| unreachable!("the compiler names sections of this score"))
    }

    fn juggle(&self, index: usize) -> &'a Juggle {
        match &self.section(index).part {
            Part::Juggle(juggle) => juggle,
            Part::Pause(_) | Part::Unread => {
                unreachable!("the compiler has this trouble with juggled sections only")
            }
        }
    }

    /// The juggled sections, with their place in the score.
    fn juggles(&self) -> impl Iterator<Item = (usize, &'a Section, &'a Juggle)> {
        self.routine.score.iter().enumerate().filter_map(|(index, section)| match &section.part {
            Part::Juggle(juggle) => Some((index, section, &**juggle)),
            Part::Pause(_) | Part::Unread => None,
        })
    }

    /// How long so many beats take from a section's start on, at its tempo.
    fn beats_last(&self, section: usize, beats: u32) -> Seconds {
        let timeline = self.timeline();
        let span = timeline.sections.get(section).and_then(|span| span.juggle.as_ref());
        let piece = span.and_then(|span| {
            let first = BeatPosition::from_integer(i64::from(span.first_beat));
            timeline.runs.get(span.run)?.tempo.piece_at(first)
        });
        let beats = BeatPosition::from_integer(i64::from(beats));
        piece.map_or_else(Seconds::zero, |piece| piece.after(beats))
    }

    /// What a way into a section does beside joining it.
    fn effects(&self, section: usize, origin: &Origin, way: &Way) -> Effects {
        Effects {
            adds_s: self.beats_last(section, way.beats).to_f64(),
            flips_lead: way.flips_lead(origin),
            moves_colours: self.moves_colours(section, way),
        }
    }

    /// Whether a way into a section changes the order in which the props leave.
    fn moves_colours(&self, section: usize, way: &Way) -> bool {
        let Some((_, before)) = self.before(section) else { return false };
        let spans = &self.timeline().sections;
        let span = section.checked_sub(1).and_then(|before| spans.get(before)?.juggle.as_ref());
        let pattern = &before.pattern.pattern;
        span.is_some_and(|span| {
            let in_cycle = pattern.sequence().steps.len();
            let each = (pattern.period() as usize / in_cycle.max(1)).max(1);
            let steps = span.beats as usize / each % in_cycle.max(1);
            moves_colours(pattern, span.lead.unwrap_or(Hand::Right), steps, way)
        })
    }

    /// The section before, if it is juggled.
    fn before(&self, index: usize) -> Option<(&'a Section, &'a Juggle)> {
        let section = self.routine.score.get(index.checked_sub(1)?)?;
        match &section.part {
            Part::Juggle(juggle) => Some((section, juggle)),
            Part::Pause(_) | Part::Unread => None,
        }
    }
}

/// The lead that must be written beside a way into a cold start: hands that are loaded as written
/// begin with the routine's hand unless the section says which hand leads it.
fn lead_beside(routine: &Routine, juggle: &Juggle, way: &Way) -> &'static str {
    let other = way.begins.is_some_and(|begins| begins != routine.lead);
    let open = juggle.lead.is_none() && juggle.loading.is_some();
    match way.lead.filter(|_| other && open) {
        Some(Hand::Left) => ", lead: Left",
        Some(Hand::Right) => ", lead: Right",
        None => "",
    }
}

/// Where a section's transition is written, or would be.
fn transition_place(juggle: &Juggle) -> (Place, String) {
    let at = &juggle.transition.at;
    if at.start < at.end {
        (at.clone(), String::new())
    } else {
        let end = juggle.pattern.at.end;
        (Place::from(end..end), ", transition: ".to_owned())
    }
}
