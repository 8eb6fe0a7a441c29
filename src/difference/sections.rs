//! The sections of two acts: which is which, and what has become of it.

use num_traits::ToPrimitive;

use crate::act::Act;
use crate::hand::Hand;
use crate::measure::bend::per_minute;
use crate::measure::counts::{Counts, of_section};
use crate::measure::height::{flights_known, highest};
use crate::patterns::hands::HandCount;
use crate::timeline::{JuggleSpan, SectionSpan};

use super::{Both, Later, Pairs};

/// A section that is in both acts.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct SectionDifference {
    /// Its name in the new act.
    pub name: String,
    /// Its name in the old act, where that was another.
    pub was: Option<String>,
    /// How much later it starts; `None` where one of the two times is not known.
    pub starts: Option<Later>,
    /// How much later it ends.
    pub ends: Option<Later>,
    /// Its pattern in the old act, where that was another.
    pub pattern_was: Option<String>,
    /// Its pattern in the new act, as it is juggled.
    pub pattern: Option<String>,
    /// Whether another hand makes its own first throw; `None` where one of the two is not known.
    /// What has no leading hand in one of the acts flips none.
    pub flips_lead: Option<bool>,
    /// The hand that makes it in the new act; `None` where none leads, and where that is not known.
    pub lead: Option<Hand>,
    /// Whether one of its own throws shows another colour, as far as both acts make the same
    /// throws; `None` where it is not known which prop is where.
    pub moves_colours: Option<bool>,
    /// The throws that show another colour: the first one and those of a cycle from there on.
    pub colours: Vec<ThrowColour>,
    /// What each hand does more, the left hand first ([`Hand::index`]); `None` where one of the two
    /// is not known. A pause does nothing.
    pub counts: Option<[CountDifference; 2]>,
    /// How high its highest throw goes above the hand, in metres, in the old act and in the new one;
    /// `None` for no throw, and where it is not known.
    pub highest_m: (Option<f64>, Option<f64>),
    /// Its throws a minute in the old act and in the new one; `None` for a pause, on a ramp, where
    /// they follow the music, and where they are not known.
    pub per_minute: (Option<f64>, Option<f64>),
}

/// An own throw that shows another colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThrowColour {
    /// Its number through the cycles, from 1.
    pub number: u32,
    /// The colour in the old act.
    pub was: String,
    /// The colour in the new act.
    pub now: String,
}

/// What a hand does more than before; below zero where it does less.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CountDifference {
    /// Throws.
    pub thrown: i64,
    /// Hand-acrosses.
    pub handed_across: i64,
    /// Beats for which it holds.
    pub held: i64,
    /// Beats for which it is empty.
    pub empty: i64,
    /// Releases: a multiplex is one.
    pub releases: i64,
}

impl SectionDifference {
    /// Whether anything of it is another.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        let moved = |later: &Option<Later>| later.as_ref().is_some_and(Later::is_moved);
        let counts = self.counts.iter().flatten();
        self.was.is_some()
            || moved(&self.starts)
            || moved(&self.ends)
            || self.pattern_was.is_some()
            || self.flips_lead == Some(true)
            || self.moves_colours == Some(true)
            || counts.into_iter().any(|count| *count != CountDifference::default())
            || self.is_higher()
            || self.is_faster()
    }

    /// Whether its highest throw goes to another height.
    #[must_use]
    pub fn is_higher(&self) -> bool {
        differ(self.highest_m)
    }

    /// Whether it is juggled at another tempo.
    #[must_use]
    pub fn is_faster(&self) -> bool {
        differ(self.per_minute)
    }

    /// Whether something of it is not known in one of the acts.
    #[must_use]
    pub fn is_unsure(&self) -> bool {
        self.starts.is_none()
            || self.ends.is_none()
            || self.flips_lead.is_none()
            || self.moves_colours.is_none()
            || self.counts.is_none()
    }
}

/// Whether two figures are not the same, but for the last digits.
fn differ((was, is): (Option<f64>, Option<f64>)) -> bool {
    match (was, is) {
        (Some(was), Some(is)) => (was - is).abs() > 1e-6,
        _ => was.is_some() != is.is_some(),
    }
}

/// The sections of two scores, those in both in the order of the new one: matched by name, then by
/// content.
pub(super) fn in_both(old: &Act, new: &Act) -> Pairs {
    let mut pairs = Pairs::of(old.routine.score.len(), new.routine.score.len());
    let name = |act: &Act, index: usize| Some(act.routine.score[index].name.value.clone());
    pairs.match_by(|index| name(old, index), |index| name(new, index));
    pairs.match_by(|index| content(old, index), |index| content(new, index));
    pairs.matched.sort_by_key(|&(_, new)| new);
    pairs
}

/// What happens in a section, apart from its name and from when it happens; `None` for what could
/// not be read.
fn content(act: &Act, index: usize) -> Option<String> {
    let span = act.timeline.sections.get(index)?;
    let section = act.routine.score.get(index)?;
    if let Some(juggle) = section.juggle() {
        let beats = span.juggle.as_ref()?.beats;
        return Some(format!("{} for {beats} beats", juggle.pattern.pattern.sequence()));
    }
    section.pause()?;
    Some(format!("pause of {}", (&span.ends - &span.starts).range().seconds_text()))
}

impl SectionDifference {
    pub(super) fn between(both: &Both<'_>, old: usize, new: usize) -> SectionDifference {
        let (was, is) = (Placed::of(both.old, old), Placed::of(both.new, new));
        let name_was = was.name();
        SectionDifference {
            name: is.name().to_owned(),
            was: (name_was != is.name()).then(|| name_was.to_owned()),
            starts: Later::between(both, &was.span.starts, &is.span.starts),
            ends: Later::between(both, &was.span.ends, &is.span.ends),
            pattern_was: was.pattern().filter(|old| is.pattern().as_ref() != Some(old)),
            pattern: is.pattern(),
            flips_lead: flips_lead(&was, &is),
            lead: is.lead(),
            moves_colours: moves_colours(&was, &is),
            colours: moved_colours(&was, &is),
            counts: counts(&was, &is),
            highest_m: (was.highest_m(), is.highest_m()),
            per_minute: (was.per_minute(), is.per_minute()),
        }
    }
}

/// A section in its act.
struct Placed<'a> {
    act: &'a Act,
    index: usize,
    span: &'a SectionSpan,
}

impl<'a> Placed<'a> {
    fn of(act: &'a Act, index: usize) -> Placed<'a> {
        Placed { act, index, span: &act.timeline.sections[index] }
    }

    fn name(&self) -> &'a str {
        &self.act.routine.score[self.index].name.value
    }

    fn is_read(&self) -> bool {
        self.act.routine.score[self.index].lasts().is_some()
    }

    /// Its pattern as it is juggled.
    fn pattern(&self) -> Option<String> {
        Some(self.act.juggle(self.index)?.pattern.pattern.sequence().to_string())
    }

    /// The number of the throw that it begins with.
    fn begins(&self) -> Option<u32> {
        let first = self.act.juggle(self.index)?.pattern.pattern.sequence().steps.first()?;
        first.throws().map(|one| one.number).min()
    }

    /// The hand of its own first throw, where that is known.
    fn lead(&self) -> Option<Hand> {
        let juggle = self.span.juggle.as_ref()?;
        juggle.lead.filter(|_| juggle.hands_known)
    }

    fn highest_m(&self) -> Option<f64> {
        let known = flights_known(self.act, self.index);
        let highest = highest(&self.act.timeline, self.index).filter(|_| known)?;
        Some(highest.above_hand_m)
    }

    fn per_minute(&self) -> Option<f64> {
        let known = self.span.juggle.as_ref()?.pace_known;
        per_minute(&self.act.timeline, self.index).filter(|_| known)?.to_f64()
    }

    /// What its hands do; `None` where that is not known.
    fn counts(&self) -> Option<Counts> {
        if self.span.hides_throws || !self.is_read() {
            return None;
        }
        let Some(juggle) = &self.span.juggle else { return Some(Counts::default()) };
        let known = juggle.hands_known && juggle.beats_known && juggle.way_known;
        of_section(&self.act.timeline, self.index).filter(|_| known)
    }

    /// How many throws its pattern has.
    fn throws_in_cycle(&self) -> u32 {
        let steps = self.act.juggle(self.index).map(|one| &one.pattern.pattern.sequence().steps);
        let throws = steps.into_iter().flatten().map(|step| step.throws().count()).sum::<usize>();
        u32::try_from(throws).unwrap_or(u32::MAX)
    }

    /// The colour that each own throw shows, by its number through the cycles; `None` for an empty
    /// hand.
    fn shown(&self, span: &JuggleSpan) -> Vec<(Option<std::num::NonZeroU32>, Option<&'a str>)> {
        let Some(run) = self.act.timeline.runs.get(span.run) else { return Vec::new() };
        let colours = &self.act.routine.colours;
        let own = self.act.timeline.own_actions(span).into_iter();
        own.map(|action| {
            let colour = run.colour(&action).and_then(|colour| colours.get(colour));
            (action.number, colour.map(|colour| colour.name.value.as_str()))
        })
        .collect()
    }
}

fn flips_lead(was: &Placed<'_>, is: &Placed<'_>) -> Option<bool> {
    if !was.is_read() || !is.is_read() {
        return None;
    }
    let juggles = || [was, is].into_iter().filter_map(|one| one.span.juggle.as_ref());
    if !juggles().all(|juggle| juggle.hands_known) {
        return None;
    }
    let lead = |one: &Placed<'_>| one.span.juggle.as_ref().and_then(|juggle| juggle.lead);
    Some(lead(was).zip(lead(is)).is_some_and(|(was, is)| was != is))
}

fn counts(was: &Placed<'_>, is: &Placed<'_>) -> Option<[CountDifference; 2]> {
    let (was, is) = (was.counts()?, is.counts()?);
    let more = |hand: usize, of: fn(&HandCount) -> u32| {
        i64::from(of(&is.hands[hand])) - i64::from(of(&was.hands[hand]))
    };
    Some([0, 1].map(|hand| CountDifference {
        thrown: more(hand, |count| count.thrown),
        handed_across: more(hand, |count| count.handed_across),
        held: more(hand, |count| count.held),
        empty: more(hand, |count| count.empty),
        releases: more(hand, |count| count.releases),
    }))
}

/// The throws that show another colour: at most one cycle of them.
fn moved_colours(was: &Placed<'_>, is: &Placed<'_>) -> Vec<ThrowColour> {
    if moves_colours(was, is) != Some(true) {
        return Vec::new();
    }
    let (Some(old), Some(new)) = (&was.span.juggle, &is.span.juggle) else { return Vec::new() };
    let mut moved: Vec<ThrowColour> = Vec::new();
    let in_cycle = is.throws_in_cycle();
    let pairs = was.shown(old).into_iter().zip(is.shown(new));
    for ((number, old), (_, new)) in pairs {
        let (Some(number), Some(old), Some(new)) = (number, old, new) else { continue };
        let number = number.get();
        // From the first one on that differs, one cycle.
        if moved.first().is_some_and(|first| number >= first.number + in_cycle) {
            break;
        }
        if old != new {
            moved.push(ThrowColour { number, was: old.to_owned(), now: new.to_owned() });
        }
    }
    moved
}

fn moves_colours(was: &Placed<'_>, is: &Placed<'_>) -> Option<bool> {
    if !was.act.props_known() || !is.act.props_known() {
        return None;
    }
    let (Some(old), Some(new)) = (&was.span.juggle, &is.span.juggle) else { return Some(false) };
    // Which prop a hand throws is not known where it is not known which hand throws.
    if !old.hands_known || !new.hands_known {
        return None;
    }
    // Another pattern has other throws.
    if was.pattern() != is.pattern() || was.begins() != is.begins() {
        return Some(false);
    }
    let pairs = was.shown(old).into_iter().zip(is.shown(new));
    let differ = pairs
        .into_iter()
        .any(|((_, old), (_, new))| old.zip(new).is_some_and(|(old, new)| old != new));
    Some(differ)
}
