//! The sections of two acts: which is which, and what has become of it.

use crate::act::Act;
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
    /// Whether another hand makes its own first throw; `None` where one of the two is not known.
    /// What has no leading hand in one of the acts flips none.
    pub flips_lead: Option<bool>,
    /// Whether one of its own throws shows another colour, as far as both acts make the same
    /// throws; `None` where it is not known which prop is where.
    pub moves_colours: Option<bool>,
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
            flips_lead: flips_lead(&was, &is),
            moves_colours: moves_colours(&was, &is),
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
