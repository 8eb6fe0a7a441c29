//! What a run begins with and ends with: its set, where it is joined, its loading, its gather.

use crate::hand::Hand;
use crate::routine::{Juggle, Loading, PropSet};
use crate::time::{Seconds, TempoMap};
use crate::transition::Origin;

use super::compile::Compiler;
use super::join::{Join, Junction};
use super::label::Label;
use super::run::{Face, Gather, HandLoading, Loaded, Prop, Run};
use super::section::SectionSpan;
use super::{Trouble, loading};

impl Compiler<'_> {
    /// Brings the section's set into use.
    pub(super) fn take_set(&mut self, index: usize, juggle: &Juggle) {
        let wanted = juggle.set.as_ref().and_then(|name| self.routine.set_index(&name.value));
        match wanted {
            Some(wanted) if Some(wanted) == self.set => {}
            Some(_) if self.label.is_some() => self.trouble(Trouble::SetInRun { section: index }),
            Some(wanted) => {
                self.set = Some(wanted);
                (self.hands, self.face) = (None, Face::Front);
                (self.known.held, self.known.face) = (true, true);
            }
            None if self.set.is_none() && juggle.set.is_none() => {
                // Said once: the set that is missing here is missing after it too.
                let said = |trouble: &Trouble| matches!(trouble, Trouble::NoSet { .. });
                if !self.troubles.iter().any(said) {
                    self.trouble(Trouble::NoSet { section: index });
                }
            }
            // A set that there is not: nobody knows what is juggled with.
            None if juggle.set.is_some() && self.label.is_none() => {
                (self.set, self.hands) = (None, None);
            }
            None => {}
        }
        // What is found is loaded anew, whatever the hands hold.
        if self.colours_open && self.label.is_none() && self.loaded(juggle) == Loaded::Found {
            self.hands = None;
        }
        if let Some(set) = self.set
            && self.prop_set(set).colours.len() != juggle.pattern.pattern.props() as usize
            && !matches!(self.troubles.last(), Some(Trouble::SetInRun { section }) if *section == index)
        {
            self.trouble(Trouble::PropCount { section: index, set });
        }
    }

    /// How the props come into the hands for a section that starts cold.
    pub(super) fn loaded(&self, juggle: &Juggle) -> Loaded {
        let kept = self.hands.is_some();
        match juggle.loading.as_ref().map(|loading| &loading.value) {
            Some(Loading::Found) => Loaded::Found,
            _ if kept && self.regripped => Loaded::Regripped,
            Some(Loading::Hands(_)) if kept => Loaded::Ordered,
            Some(Loading::Hands(_)) => Loaded::Written,
            None if kept => Loaded::Kept,
            None => Loaded::Natural,
        }
    }

    fn prop_set(&self, set: usize) -> &PropSet {
        self.routine
            .sets
            .get(set)
            .unwrap_or_else(|| unreachable!("`take_set` finds sets by their place"))
    }

    /// Where a section is joined to the one before it, which has run as far as `label`;
    /// `last_lead` led the run's last alternating section.
    pub(super) fn joined<'j>(
        &self,
        index: usize,
        juggle: &'j Juggle,
        label: &Label,
        last_lead: Option<Hand>,
    ) -> Junction<'j> {
        let before = index.checked_sub(1).and_then(|before| self.routine.juggle(before));
        let uses = before.map_or((0, 0), |before| before.pattern.pattern.sequence().uses());
        let schedule = label.schedule();
        let origin = match label.next {
            Some(next) => Origin::Alternating { schedule, next, uses },
            None => Origin::Pairs { schedule, uses },
        };
        Junction {
            section: index,
            origin,
            hands_given: false,
            any_hand: true,
            preferred: last_lead.unwrap_or(self.routine.lead),
            bounds: self.routine.transitions,
            juggle,
        }
    }

    /// The hand that led the run's last alternating section before this one.
    pub(super) fn last_lead(&self, index: usize) -> Option<Hand> {
        let run = self.timeline.runs.len().checked_sub(1)?;
        let in_run = |section: &&SectionSpan| {
            section.juggle.as_ref().is_some_and(|juggle| juggle.run == run)
        };
        let before = self.timeline.sections.get(..index).unwrap_or_default();
        before.iter().rev().take_while(in_run).find_map(|section| section.juggle.as_ref()?.lead)
    }

    /// Where a section starts from props at rest.
    pub(super) fn cold<'j>(&self, index: usize, juggle: &'j Juggle) -> Junction<'j> {
        let set = self.set_for(juggle);
        let kept = if set == self.set { self.hands.clone() } else { None };
        let written = || loading::written(self.routine, set?, juggle)?.ok();
        let is_kept = kept.is_some();
        let given = kept.or_else(written);
        let count = |loading: &HandLoading, hand: Hand| {
            u32::try_from(loading.in_hand(hand).len()).unwrap_or(u32::MAX)
        };
        let origin = Origin::AtRest {
            right: given.as_ref().map_or(0, |loading| count(loading, Hand::Right)),
            left: given.as_ref().map_or(0, |loading| count(loading, Hand::Left)),
        };
        Junction {
            section: index,
            origin,
            hands_given: given.is_some(),
            // A new loading is made for the lead; only kept props choose the hand that fits them.
            any_hand: is_kept,
            preferred: self.routine.lead,
            bounds: self.routine.transitions,
            juggle,
        }
    }

    /// The set that a section juggles with.
    fn set_for(&self, juggle: &Juggle) -> Option<usize> {
        let named = juggle.set.as_ref().and_then(|named| self.routine.set_index(&named.value));
        named.or(self.set)
    }

    /// Opens a run with the props where the planned join calls for them.
    pub(super) fn start_run(&mut self, index: usize, juggle: &Juggle, join: &Join) -> Label {
        let called = &join.course.called;
        let set = self.set.unwrap_or(usize::MAX);
        let natural = || loading::natural(called);
        let loaded = self.loaded(juggle);
        let written = match &self.hands {
            // What kept props are called is not known before their colours are.
            Some(held) if !self.colours_open || self.regripped => {
                loading::written_of_held(self.routine, set, juggle, held)
            }
            Some(_) | None => loading::written(self.routine, set, juggle),
        };
        self.natural = self.hands.is_none() && written.is_none();
        let loading = match (self.hands.take(), written) {
            (Some(kept), None) => kept,
            (_, Some(Ok(written))) => written,
            (Some(kept), Some(Err(()))) => {
                let held = Some(kept.clone());
                self.trouble(Trouble::Loading { section: index, set, held });
                kept
            }
            (None, Some(Err(()))) => {
                self.trouble(Trouble::Loading { section: index, set, held: None });
                natural()
            }
            (None, None) => natural(),
        };
        let fits = Hand::BOTH
            .iter()
            .all(|&hand| called.in_hand(hand) as usize == loading.in_hand(hand).len());
        let loading = if fits { loading } else { natural() };
        let label = Label::start(self.routine.dwell, called, &loading);
        let [mut colours, backs] = loading::faces(self.routine, set);
        if self.set.is_none() {
            colours = vec![usize::MAX; juggle.pattern.pattern.props() as usize];
        }
        self.timeline.runs.push(Run {
            sections: index..index + 1,
            set,
            loading,
            loaded,
            colours,
            backs,
            face: self.face,
            other_faces: Vec::new(),
            lead: join.course.begins,
            actions: Vec::new(),
            beats: 0,
            tempo: TempoMap::default(),
            gather: Gather {
                hands: HandLoading::default(),
                last_catch: None,
                ends: self.clock.clone(),
            },
            breaks_off: false,
        });
        label
    }

    /// Ends the run in the making before an entry that could not be read.
    pub(super) fn break_off(&mut self, index: usize, mut label: Label) {
        let natural = self.natural;
        let ends = self.clock.clone();
        let run = self.open_run();
        name_by_calls(run, &mut label, natural);
        run.sections.end = index;
        run.gather =
            Gather { hands: HandLoading::default(), last_catch: None, ends: ends.unknown(index) };
        run.actions = label.actions;
        run.breaks_off = true;
        self.regripped = false;
    }

    /// Ends the run in the making: all props come to rest.
    pub(super) fn gather(&mut self, index: usize, mut label: Label) {
        let beats_end = self.clock.clone();
        let (natural, lost) = (self.natural, self.lost || self.routine.hidden.dwell);
        let run = self.open_run();
        let last_catch = label.last_catch().map(|position| run.tempo.at(position));
        let last_catch = last_catch.map(|catch| if lost { catch.unknown(index) } else { catch });
        let ends = match &last_catch {
            Some(catch) if *(catch - &beats_end).shortest() > Seconds::zero() => catch.clone(),
            _ => beats_end,
        };
        let mut hands = label.gathered(&run.loading);
        if let Some(names) = name_by_calls(run, &mut label, natural) {
            hands.rename(&names);
        }
        run.sections.end = index + 1;
        run.gather = Gather { hands: hands.clone(), last_catch, ends: ends.clone() };
        run.actions = label.actions;
        // After a pattern of another number of props, which is reported, the set is loaded anew.
        let whole = hands.hands.concat().len() == run.colours.len();
        self.hands = whole.then_some(hands);
        self.known.held = self.known.run;
        self.regripped = false;
        self.end_section(ends);
    }
}

/// Names the props of a run that starts from a natural loading in the order in which they are
/// called for; gives the names, where they are other ones.
fn name_by_calls(run: &mut Run, label: &mut Label, natural: bool) -> Option<Vec<Prop>> {
    let names = loading::order_of_calls(&label.actions, run.colours.len()).filter(|_| natural)?;
    label.rename(&names);
    run.loading.rename(&names);
    Some(names)
}
