//! The checks: what a juggler or a technician must know before the sheets are used.
//!
//! One file for each: what it checks, why it matters, an example that raises it, and the same
//! example mended; one test proves both for every check. To add one, write its file and name it in
//! [`CHECKS`]. What stops the compiler is put into words here too; the codes of the reader are in
//! [`crate::explain`], which puts them all together.

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
mod bow_in_dark;
mod burn_too_short;
mod called_too_close;
mod catches_not_reached;
mod colour_against_backdrop;
mod colour_not_in_set;
mod colour_not_shown;
mod colour_words;
mod colours_alike_under_light;
mod colours_look_alike;
mod completion_cut_short;
mod cue_after_end;
mod cue_too_early;
mod cut_cycle;
mod danger_in_dark;
mod danger_out_of_order;
mod danger_unsaid;
mod dark_before_last_catch;
mod dark_too_short;
mod dark_unsaid;
mod duplicate_cue_number;
mod fade_after_end;
mod follow;
mod hand_count;
mod junction_clash;
mod lead_not_met;
mod length_not_whole;
mod light_too_slow;
mod limit;
mod limit_clock;
mod limit_moves;
mod loading_mismatch;
mod moment_never_comes;
mod more_than_three_flashes;
mod music_ends_early;
mod music_tempo;
mod no_tempo;
mod no_transition;
mod nothing_to_land_on;
mod number_without_gap;
mod numbers_out_of_order;
mod other_face_without_backs;
mod pause_swallowed;
mod pause_too_short;
mod play_not_at_start;
mod prop_count;
mod prop_set;
mod quick_set_change;
mod range_moves_beats;
mod regrip;
mod see_in_dark;
mod seen_too_early;
mod spot_in_dark;
mod spot_never_out;
mod spot_up_in_dark;
mod timed_cue_after_range;
mod times_contradict;
mod too_fast;
mod too_high;
mod too_long;
mod too_open;
mod track;
mod track_without_cue;
mod tracks_overlap;
mod turn_too_short;

use too_open::too_open;

pub(crate) use colour_not_shown::say_that_colours_wait;

use crate::act::Act;
use crate::act::calls::Call;
use crate::diagnostic::words::all_of;
use crate::diagnostic::{Diagnostic, Explanation, Place, Topic};
use crate::hand::Hand;
use crate::lineup::Colours;
use crate::measure::dark::Darks;
use crate::routine::{Crew, Cue, Juggle, Routine, Section};
use crate::time::{Found, Night, TooManyWays, seconds_in_full};
use crate::timeline::{Timeline, Trouble};
use crate::transition::{Goal, Way};

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

impl Check {
    /// What its code means.
    #[must_use]
    pub fn explanation(&self) -> Explanation {
        let Check { code, what, why, raises, mended, finds: _ } = *self;
        Explanation { code, what, why, raises, mended, ..Explanation::OF_ROUTINES }
    }
}

/// The code of a colour request that is not met.
pub(crate) const COLOUR_NOT_SHOWN: &str = colour_not_shown::CHECK.code;

/// Codes of errors with which nobody gets a cue sheet: fire or blades in the dark.
pub const STOPS_CUE_SHEET: [&str; 5] = [
    danger_in_dark::CHECK.code,
    danger_out_of_order::CHECK.code,
    dark_before_last_catch::CHECK.code,
    dark_unsaid::CHECK.code,
    too_open::CHECK.code,
];

/// How a fault is found.
#[derive(Clone, Copy, Debug)]
pub enum Finds {
    /// By the other checks, where they come to no end.
    Elsewhere,
    /// From the routine and what came of compiling it.
    Compiled(fn(&Case<'_>) -> Vec<Diagnostic>),
    /// As before, but only where every time of the timeline can be relied on.
    Timed(fn(&Case<'_>) -> Vec<Diagnostic>),
}

/// Every check and what it is about, in that order and in the order of their codes.
pub const CHECKS: &[(Topic, &Check)] = &[
    (Topic::Names, &follow::CHECK),
    (Topic::Props, &other_face_without_backs::CHECK),
    (Topic::Props, &hand_count::CHECK),
    (Topic::Props, &loading_mismatch::CHECK),
    (Topic::Props, &prop_set::MISSING),
    (Topic::Props, &prop_count::CHECK),
    (Topic::Props, &quick_set_change::CHECK),
    (Topic::Props, &regrip::MISMATCH),
    (Topic::Props, &regrip::OF_NOTHING),
    (Topic::Props, &prop_set::IN_RUN),
    (Topic::Junctions, &junction_clash::CHECK),
    (Topic::Junctions, &lead_not_met::CHECK),
    (Topic::Junctions, &no_transition::CHECK),
    (Topic::Arms, &arms_do_not_meet::CHECK),
    (Topic::Arms, &turn_too_short::CHECK),
    (Topic::Lengths, &bend_too_small::CHECK),
    (Topic::Lengths, &cut_cycle::CHECK),
    (Topic::Lengths, &length_not_whole::CHECK),
    (Topic::Lengths, &times_contradict::NEGATIVE_PAUSE),
    (Topic::Lengths, &no_tempo::CHECK),
    (Topic::Lengths, &nothing_to_land_on::CHECK),
    (Topic::Lengths, &pause_swallowed::CHECK),
    (Topic::Lengths, &pause_too_short::CHECK),
    (Topic::Lengths, &times_contradict::CHECK),
    (Topic::Lengths, &too_long::CHECK),
    (Topic::OpenLengths, &range_moves_beats::CHECK),
    (Topic::OpenLengths, &range_moves_beats::TOO_SHORT),
    (Topic::OpenLengths, &timed_cue_after_range::CHECK),
    (Topic::OpenLengths, &too_open::CHECK),
    (Topic::Reach, &catches_not_reached::CHECK),
    (Topic::Reach, &too_high::CLOSE),
    (Topic::Reach, &too_fast::CHECK),
    (Topic::Reach, &too_high::CHECK),
    (Topic::Colours, &colour_against_backdrop::CHECK),
    (Topic::Colours, &colour_not_shown::TOO_LONG),
    (Topic::Colours, &colour_not_in_set::CHECK),
    (Topic::Colours, &colour_not_shown::CHECK),
    (Topic::Colours, &colours_alike_under_light::CHECK),
    (Topic::Colours, &colours_look_alike::CHECK),
    (Topic::Music, &fade_after_end::CHECK),
    (Topic::Music, &music_ends_early::CHECK),
    (Topic::Music, &music_tempo::OFF_THE_MUSIC),
    (Topic::Music, &play_not_at_start::CHECK),
    (Topic::Music, &music_tempo::WITHOUT_BARS),
    (Topic::Music, &track_without_cue::CHECK),
    (Topic::Music, &tracks_overlap::CHECK),
    (Topic::MusicFiles, &track::LENGTH),
    (Topic::MusicFiles, &track::MISSING),
    (Topic::MusicFiles, &track::UNREADABLE),
    (Topic::Limits, &limit::CLOSE),
    (Topic::Limits, &limit_clock::COUNTS_NOTHING),
    (Topic::Limits, &limit::GRACE),
    (Topic::Limits, &limit::OVER),
    (Topic::Limits, &limit_clock::STARTS_LATE),
    (Topic::Limits, &limit_clock::STOPS_FIRST),
    (Topic::Limits, &limit_moves::CHECK),
    (Topic::Limits, &limit::UNDER),
    (Topic::Cues, &bow_in_dark::CHECK),
    (Topic::Cues, &called_too_close::CHECK),
    (Topic::Cues, &completion_cut_short::CHECK),
    (Topic::Cues, &cue_after_end::CHECK),
    (Topic::Cues, &cue_too_early::CHECK),
    (Topic::Cues, &duplicate_cue_number::CHECK),
    (Topic::Cues, &moment_never_comes::CHECK),
    (Topic::Cues, &number_without_gap::CHECK),
    (Topic::Cues, &numbers_out_of_order::CHECK),
    (Topic::Cues, &see_in_dark::CHECK),
    (Topic::Cues, &seen_too_early::CHECK),
    (Topic::Cues, &called_too_close::BY_EYE),
    (Topic::Danger, &burn_too_short::CHECK),
    (Topic::Danger, &burn_too_short::INTO_ENCORE),
    (Topic::Danger, &danger_in_dark::CHECK),
    (Topic::Danger, &danger_out_of_order::CHECK),
    (Topic::Danger, &danger_unsaid::CHECK),
    (Topic::Danger, &dark_before_last_catch::CHECK),
    (Topic::Danger, &dark_too_short::CHECK),
    (Topic::Danger, &dark_unsaid::CHECK),
    (Topic::Danger, &light_too_slow::CHECK),
    (Topic::Danger, &more_than_three_flashes::CHECK),
    (Topic::Danger, &spot_in_dark::CHECK),
    (Topic::Danger, &spot_never_out::CHECK),
    (Topic::Danger, &spot_up_in_dark::CHECK),
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
    for (_, check) in CHECKS {
        match check.finds {
            Finds::Compiled(find) => found.extend(find(&case)),
            Finds::Timed(find) if act.times_known => found.extend(find(&case)),
            Finds::Timed(_) | Finds::Elsewhere => {}
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

/// What is found in an act and in its encore by a check that must know both at once. From within
/// the encore nothing is left to find.
fn of_both(case: &Case<'_>, find: impl Fn(&Case<'_>) -> Vec<Diagnostic>) -> Vec<Diagnostic> {
    if case.routine().is_encore {
        return Vec::new();
    }
    let mut found = find(case);
    if let Some(encore) = case.act.encore.as_deref().filter(|encore| encore.times_known) {
        let case = Case { act: encore, ..*case };
        found.extend(find(&case).into_iter().map(on_its_clock));
    }
    found
}

/// The darks of a case: those of an encore begin where the act ends.
fn darks_of<'a>(act: &Case<'a>, case: &Case<'a>) -> Darks<'a> {
    match case.routine().is_encore {
        true => Darks::of_encore(act.act, case.act),
        false => Darks::of(case.act),
    }
}

impl<'a> Case<'a> {
    /// The calls of one crew with their cues, in order of their earliest GO.
    fn calls_of(&self, crew: Crew) -> impl Iterator<Item = (&'a Call, &'a Cue)> {
        let act = self.act;
        let all = act.calls.calls.iter();
        let all = all.filter_map(|call| Some((call, act.routine.cues.get(call.cue)?)));
        all.filter(move |(_, cue)| cue.crew.value == crew)
    }

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

/// What a way into a section leads to.
fn goal<'j>(routine: &Routine, juggle: &'j Juggle) -> Goal<'j> {
    Goal {
        pattern: &juggle.pattern.pattern,
        lead: juggle.lead.as_ref().map(|lead| lead.value),
        preferred: routine.lead,
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
