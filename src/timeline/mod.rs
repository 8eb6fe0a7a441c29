//! The timeline: every prop, throw, catch, rest and hold of the routine, with hand and time.
//!
//! [`compile()`] makes it from a [`crate::routine::Routine`]. Beats count from 0 in each run; times
//! are on the show clock. Sheets, the strip and the exporters read it and compute nothing anew.

mod arms;
mod bend;
mod compile;
mod course;
mod decides;
mod draft;
mod join;
mod known;
mod label;
mod landing;
mod lands;
mod lasting;
mod left_open;
mod length;
mod loading;
mod moments;
mod music;
mod regrip;
mod run;
mod run_ends;
mod section;
mod track;
mod trouble;

pub use bend::{Bend, FixedEnd};
pub(crate) use compile::compile_uncoloured;
pub use compile::{Compiled, compile, compile_to_fit};
pub use course::Misfit;
pub(crate) use decides::Decides;
pub(crate) use draft::{Draft, Opened, WayIn, longest_way_in};
pub use left_open::{LeftOpen, left_open, open_lengths};
pub use loading::names_the_props;
pub use moments::Unresolved;
pub use music::{OffGrid, off_grid};
pub use regrip::{Moved, Regrip};
pub use run::{Action, Face, Gather, HandLoading, Loaded, Prop, Run};
pub use section::{Joining, JuggleSpan, SectionSpan, TakenTransition};
pub use track::{HoldSpan, Place, TrackSpan};
pub use trouble::{MovedByOpen, Trouble, WhyNoBars, WhyNoRegrip};

use num_rational::Ratio;

use crate::time::Time;

/// The compiled routine.
#[derive(Clone, Debug, PartialEq)]
pub struct Timeline {
    /// From cold start to gather, in order.
    pub runs: Vec<Run>,
    /// One for each entry of the score, in order.
    pub sections: Vec<SectionSpan>,
    /// The tracks, as in [`crate::routine::Routine::all_tracks`].
    pub tracks: Vec<TrackSpan>,
    /// The dwell ratio.
    pub dwell: Ratio<i64>,
    /// How long the encore takes, if there is one.
    pub encore_lasts: Option<Time>,
}

impl Timeline {
    /// When the first track starts, on the show clock.
    #[must_use]
    pub fn track_start(&self) -> Option<&Time> {
        self.tracks.first()?.starts.as_ref()
    }

    /// The first entry whose throws could not be read.
    pub(crate) fn hides_throws(&self) -> Option<usize> {
        self.sections.iter().position(|section| section.hides_throws)
    }

    /// An entry whose throws could not be read, before any throw that is known.
    pub(crate) fn hides_first_throw(&self) -> Option<usize> {
        let first = self.hides_throws()?;
        self.runs.first().is_none_or(|run| first < run.sections.start).then_some(first)
    }

    /// An entry whose throws could not be read, after any catch that is known.
    pub(crate) fn hides_last_catch(&self) -> Option<usize> {
        let last = self.sections.iter().rposition(|section| section.hides_throws)?;
        self.runs.last().is_none_or(|run| last >= run.sections.end).then_some(last)
    }

    /// A section's own throws, its transition left out, in order.
    #[must_use]
    pub fn own_actions(&self, juggle: &JuggleSpan) -> Vec<Action> {
        let actions =
            self.runs.get(juggle.run).and_then(|run| run.actions.get(juggle.actions.clone()));
        let own = actions.unwrap_or_default().iter().filter(|action| action.number.is_some());
        own.copied().collect()
    }

    /// Where the last section ends; `None` where there is none.
    #[must_use]
    pub fn ends(&self) -> Option<&Time> {
        self.sections.last().map(|section| &section.ends)
    }

    /// From the first section's start to the last one's end.
    #[must_use]
    pub fn lasts(&self) -> Time {
        match (self.sections.first(), self.sections.last()) {
            (Some(first), Some(last)) => &last.ends - &first.starts,
            _ => Time::zero(),
        }
    }

    /// Moves every time so that `zero` reads 0.
    fn shift(&mut self, zero: &Time) {
        let earlier = |time: &mut Time| *time = &*time - zero;
        for run in &mut self.runs {
            run.tempo.pieces.iter_mut().for_each(|piece| earlier(&mut piece.starts));
            earlier(&mut run.gather.ends);
            run.gather.last_catch.iter_mut().for_each(earlier);
        }
        for section in &mut self.sections {
            earlier(&mut section.starts);
            earlier(&mut section.ends);
        }
        self.tracks.iter_mut().filter_map(|track| track.starts.as_mut()).for_each(earlier);
    }
}
