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
mod too_open;
mod track;
mod track_names;
mod tracks_overlap;
mod turn_too_short;

use too_open::too_open;

pub(crate) use colour_not_shown::say_that_colours_wait;

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::diagnostic::{Diagnostic, Place};
use crate::hand::Hand;
use crate::lineup::Colours;
use crate::routine::{Juggle, Routine, Section};
use crate::time::{Found, Night, TooManyWays, seconds_in_full};
use crate::timeline::{Timeline, Trouble};
use crate::transition::Way;

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

/// The code of what is asked of the colours and does not come about.
pub(crate) const COLOUR_NOT_SHOWN: &str = colour_not_shown::CHECK.code;

/// Codes of errors with which nobody gets a cue sheet: fire or blades in the dark.
pub const STOPS_CUE_SHEET: [&str; 3] =
    [danger_in_dark::CHECK.code, dark_before_last_catch::CHECK.code, too_open::CHECK.code];

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
    &other_face_without_backs::CHECK,
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
    &too_open::CHECK,
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
    /// The act.
    pub act: &'a Act,
    /// Which of its colour requests are met.
    pub colours: &'a Colours,
}

/// Everything that the checks find in the act and in its encore, by place in the file.
#[must_use]
pub fn check(act: &Act, colours: &Colours) -> Vec<Diagnostic> {
    let case = Case { act, colours };
    let mut found = Vec::new();
    for check in CHECKS {
        match check.finds {
            Finds::Compiled(find) => found.extend(find(&case)),
            Finds::Timed(find) if act.times_known => found.extend(find(&case)),
            Finds::Timed(_) | Finds::Reading => {}
        }
    }
    if let Some(encore) = &act.encore {
        let colours = colours.encore.as_deref().unwrap_or(colours);
        for one in check(encore, colours) {
            if !found.contains(&one) {
                found.push(on_its_clock(one));
            }
        }
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

impl<'a> Case<'a> {
    fn routine(&self) -> &'a Routine {
        &self.act.routine
    }

    /// The timeline, as far as it could be laid out.
    fn timeline(&self) -> &'a Timeline {
        &self.act.timeline
    }

    /// Looks for a fault on every night that the open lengths allow, and names the lengths with
    /// which it comes true. A fault that is not to be ruled out is said to be so.
    fn some_night(
        &self,
        at: &Place,
        code: &'static str,
        look: impl Fn(&Night<'_>) -> Option<Diagnostic>,
    ) -> Option<Diagnostic> {
        match self.act.some_night(look) {
            Ok(found) => {
                let Found { found, with } = found?;
                let lasts = with.iter().filter_map(|(open, lasts)| {
                    let open = self.act.open.get(*open)?;
                    Some(format!("{} at {}", open.name, seconds_in_full(lasts)))
                });
                let lasts: Vec<String> = lasts.collect();
                Some(match lasts.is_empty() {
                    true => found,
                    false => found.note(format!("It happens with {}.", all_of(&lasts))),
                })
            }
            Err(TooManyWays) => Some(too_open(at, code)),
        }
    }

    fn troubles(&self) -> impl Iterator<Item = &'a Trouble> {
        self.act.troubles.iter()
    }

    /// Whether every junction fits, so that it is known which prop is where.
    fn props_known(&self) -> bool {
        self.act.props_known()
    }

    fn section(&self, index: usize) -> &'a Section {
        self.routine()
            .score
            .get(index)
            .unwrap_or_else(|| unreachable!("the compiler names sections of this score"))
    }

    fn juggle(&self, index: usize) -> &'a Juggle {
        self.section(index).juggle().unwrap_or_else(|| {
            unreachable!("the compiler has this trouble with juggled sections only")
        })
    }

    /// The juggled sections, with their place in the score.
    fn juggles(&self) -> impl Iterator<Item = (usize, &'a Section, &'a Juggle)> {
        self.act.juggles()
    }

    /// The section before, if it is juggled.
    fn before(&self, index: usize) -> Option<(&'a Section, &'a Juggle)> {
        let section = self.routine().score.get(index.checked_sub(1)?)?;
        Some((section, section.juggle()?))
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
