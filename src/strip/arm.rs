//! The arms as they are drawn: where they are on each beat, and the short word for each way in
//! which a throw is made.

use crate::routine::{Arms, Made, Routine};
use crate::timeline::Timeline;

use super::text;

/// Where the arms are from one beat to the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ArmMark {
    /// The beat, on the show clock.
    pub(super) at: f64,
    /// The next beat.
    pub(super) until: f64,
    /// Where the arms are.
    pub(super) arms: Arms,
    /// What it is, in words.
    pub(super) title: String,
}

/// The marks of a routine in order of time; none where no section has an arm track.
pub(super) fn marks(routine: &Routine, timeline: &Timeline) -> Vec<ArmMark> {
    let mut marks = Vec::new();
    if !routine.has_arms() {
        return marks;
    }
    for (index, run) in timeline.runs.iter().enumerate() {
        let arms = timeline.arms(routine, index);
        for section in run.sections.clone() {
            let span = timeline.sections.get(section).and_then(|section| section.juggle.as_ref());
            let (Some(span), Some(entry)) = (span, routine.score.get(section)) else { continue };
            let name = text::clean(&entry.name.value);
            for own in 0..span.beats {
                let beat = span.own_first_beat + own;
                let Some(&Some(arms)) = arms.get(beat as usize) else { continue };
                marks.push(ArmMark {
                    at: run.tempo.at_f64(f64::from(beat)),
                    until: run.tempo.at_f64(f64::from(beat + 1)),
                    arms,
                    title: format!("{}, beat {} of {name}", words(arms), own + 1),
                });
            }
        }
    }
    marks
}

/// A position of the arms, as the legend explains it.
pub(super) fn words(arms: Arms) -> &'static str {
    match arms {
        Arms::Open => "arms open",
        Arms::RightOver => "right arm over",
        Arms::LeftOver => "left arm over",
    }
}

/// The short word for a way, written beside the value of its throw.
pub(super) fn short(made: Made) -> &'static str {
    match made {
        Made::Inside => "in",
        Made::Outside => "out",
        Made::UnderWrist => "wr",
        Made::UnderLeg => "leg",
        Made::BehindBack => "bk",
        Made::OverTop => "top",
    }
}
