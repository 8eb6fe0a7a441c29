//! What becomes of the times where the routine leaves a length open.
//!
//! Every pause and every hold that lasts *between* two lengths moves what is after it, and nothing
//! else about the routine may change with it. So every time is a sum: what it is with all of them
//! at their shortest, and for each of them a share of what it may last longer (all of it, none of
//! it, or less by as much where the show clock reads zero after it). It is enough to compile the
//! routine once with all at their shortest and once more with each alone at its longest: the shares
//! below zero give the earliest, those above it the latest. With the earliest and the latest
//! compiled alone, two pauses that work against each other would be missed.

use crate::routine::{Length, Part, Routine};
use crate::time::{Seconds, TimeRange};

use super::{Compiled, Timeline, Trouble};

/// The most lengths that one routine may leave open: each is compiled on its own.
const MOST_UNCERTAIN: usize = 24;

/// The most beats that all these compilations may have together: a thousand times an act.
const MOST_BEATS_IN_ALL: usize = 4_000_000;

/// Something that lasts between two lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Uncertain {
    /// A pause, by its index in the score.
    Pause(usize),
    /// A hold of a track, both by index, the tracks as in [`Routine::all_tracks`].
    Hold {
        /// The track.
        track: usize,
        /// The hold.
        hold: usize,
    },
}

/// Which of them last their longest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Longest {
    None,
    One(Uncertain),
    All,
}

impl Longest {
    /// Of a shortest and a longest, how long it lasts.
    pub(super) fn of(self, one: Uncertain, lasts: &(Seconds, Seconds)) -> &Seconds {
        match self {
            Longest::All => &lasts.1,
            Longest::One(longest) if longest == one => &lasts.1,
            Longest::One(_) | Longest::None => &lasts.0,
        }
    }
}

/// A timeline in which one uncertain length is at its longest and all others at their shortest.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretched {
    /// Which.
    pub by: Uncertain,
    /// The timeline; it has no spread of its own.
    pub timeline: Timeline,
}

/// What must not change with a length that is open.
#[derive(Clone, Debug, PartialEq)]
pub enum Moved {
    /// A pause would end before it starts, by so many seconds.
    Negative(Seconds),
    /// A juggled section would get other beats, or beats that are no whole number.
    Beats,
}

/// Everything that lasts between two lengths, the pauses first.
#[must_use]
pub fn uncertain(routine: &Routine) -> Vec<Uncertain> {
    let pauses = routine.score.iter().enumerate().filter_map(|(index, section)| {
        let Part::Pause(pause) = &section.part else { return None };
        let Length::Between(lasts) = &pause.lasts.value else { return None };
        (lasts.0 != lasts.1).then_some(Uncertain::Pause(index))
    });
    let holds = routine.all_tracks().enumerate().flat_map(|(track, (_, written))| {
        let open = |(hold, written): (usize, &crate::routine::Hold)| {
            (written.lasts.0 != written.lasts.1).then_some(Uncertain::Hold { track, hold })
        };
        written.holds.iter().enumerate().filter_map(open).collect::<Vec<_>>()
    });
    pauses.chain(holds).collect()
}

/// Compiles what the open lengths make of a routine that was compiled with all at their shortest.
pub(super) fn spread(
    routine: &Routine,
    compiled: &mut Compiled,
    compile: impl Fn(Longest) -> Compiled,
) {
    let uncertain = uncertain(routine);
    if uncertain.is_empty() {
        return;
    }
    let beats: usize = compiled.timeline.runs.iter().map(|run| run.beats as usize).sum();
    let most = MOST_UNCERTAIN.min(MOST_BEATS_IN_ALL / beats.max(1));
    if let Some(&by) = uncertain.get(most) {
        compiled.troubles.push(Trouble::TooUncertain { by, most });
        return;
    }
    if compiled.troubles.iter().any(|trouble| matches!(trouble, Trouble::NotWhole { .. })) {
        not_whole(&uncertain, compiled, &compile);
    }
    if !compiled.troubles.is_empty() || !compiled.times_known {
        return;
    }
    for &by in &uncertain {
        let stretched = compile(Longest::One(by));
        let moved = moved(&compiled.timeline, &stretched);
        let is_moved = moved.is_some();
        if let Some((section, moved)) = moved {
            compiled.troubles.push(Trouble::Range { section, by, moved });
        }
        if !is_moved {
            let timeline = stretched.timeline;
            compiled.timeline.spread.push(Stretched { by, timeline });
        }
    }
    // Two that are harmless alone can be too long together.
    for index in 0..routine.score.len() {
        let lasts = compiled.timeline.range(|timeline| {
            timeline
                .sections
                .get(index)
                .map_or_else(Seconds::zero, |span| &span.ends - &span.starts)
        });
        let said = |trouble: &Trouble| matches!(trouble, Trouble::Range { section, .. } if *section == index);
        if lasts.earliest.is_negative() && !compiled.troubles.iter().any(said) {
            let by = compiled.timeline.spread.last().map_or(uncertain[0], |last| last.by);
            let moved = Moved::Negative(lasts.earliest);
            compiled.troubles.push(Trouble::Range { section: index, by, moved });
        }
    }
    if compiled.troubles.is_empty() {
        compiled.timeline.latest = Some(Box::new(compile(Longest::All).timeline));
    } else {
        compiled.times_known = false;
        compiled.timeline.spread.clear();
    }
}

/// A length that is no whole number of beats, and would be another one with what is open at its
/// longest: that it hangs on it is what must be said.
fn not_whole(
    uncertain: &[Uncertain],
    compiled: &mut Compiled,
    compile: &impl Fn(Longest) -> Compiled,
) {
    for &by in uncertain {
        let stretched = compile(Longest::One(by)).troubles;
        for trouble in &mut compiled.troubles {
            let section = match trouble {
                Trouble::NotWhole { section, .. } => *section,
                _ => continue,
            };
            if !stretched.contains(trouble) {
                *trouble = Trouble::Range { section, by, moved: Moved::Beats };
            }
        }
    }
}

/// The first section that is more than moved in time.
fn moved(shortest: &Timeline, stretched: &Compiled) -> Option<(usize, Moved)> {
    let first = stretched.troubles.iter().find_map(|trouble| match trouble {
        Trouble::NegativePause { section, lasts } => {
            Some((*section, Moved::Negative(lasts.clone())))
        }
        Trouble::UntilTooEarly { section, .. }
        | Trouble::UntilUnknown { section, .. }
        | Trouble::NotWhole { section, .. } => Some((*section, Moved::Beats)),
        _ => None,
    });
    let sections = shortest.sections.iter().zip(&stretched.timeline.sections);
    first.or_else(|| {
        sections
            .enumerate()
            .find(|(_, (shortest, stretched))| shortest.juggle != stretched.juggle)
            .map(|(index, _)| (index, Moved::Beats))
    })
}

impl Timeline {
    /// The range of a time or a length of time that a timeline gives.
    #[must_use]
    pub fn range(&self, of: impl Fn(&Timeline) -> Seconds) -> TimeRange {
        match self.range_where_known(|timeline| Some(of(timeline))) {
            Some(range) => range,
            None => unreachable!("every timeline gives one"),
        }
    }

    /// The range of a time that a timeline may not have; `None` where any of them has none.
    #[must_use]
    pub fn range_where_known(
        &self,
        of: impl Fn(&Timeline) -> Option<Seconds>,
    ) -> Option<TimeRange> {
        let stretched: Vec<_> =
            self.spread.iter().map(|stretched| of(&stretched.timeline)).collect();
        TimeRange::spread(&of(self)?, stretched.iter().map(Option::as_ref))
    }

    /// Whether any time of it is a range.
    #[must_use]
    pub fn is_uncertain(&self) -> bool {
        !self.spread.is_empty()
    }
}
