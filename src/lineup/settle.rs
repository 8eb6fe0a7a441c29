//! Which loading brings the colours about, once everything else is chosen.

use crate::diagnostic::Placed;
use crate::hand::Hand;
use crate::routine::{HandColours, Loading, Moment, Part, Routine};
use crate::timeline::{
    Action, Compiled, HandLoading, Loaded, Prop, Run, Timeline, Trouble, compile,
    compile_uncoloured,
};

use super::colouring::Domains;
use super::demand::{Asked, Demand, Requirement, Wanted, about, demands};
use super::looks::Looks;

/// Whether a loading is to be found.
pub(super) fn is_open(routine: &Routine) -> bool {
    (0..routine.score.len()).any(|section| is_found(routine, section))
}

/// Whether every section is juggled with a set of the routine; where one is not, which is an error,
/// nobody knows what its props look like.
pub(super) fn sets_known(routine: &Routine) -> bool {
    let runs = compile_uncoloured(routine).timeline.runs;
    runs.iter().all(|run| run.set < routine.sets.len())
}

fn is_found(routine: &Routine, section: usize) -> bool {
    let loading = routine.juggle(section).and_then(|juggle| juggle.loading.as_ref());
    loading.is_some_and(|loading| loading.value == Loading::Found)
}

/// The routine with the loadings that meet every request, and the sections that they
/// were found for; `None` where there are none.
pub(super) fn settled(routine: &Routine, asked: &[Requirement]) -> Option<(Routine, Vec<usize>)> {
    settled_in(routine, &compile_uncoloured(routine), asked)
}

/// The same, `compiled` being what came of compiling the routine without its colours.
pub(super) fn settled_in(
    routine: &Routine,
    compiled: &Compiled,
    asked: &[Requirement],
) -> Option<(Routine, Vec<usize>)> {
    if !compiled.troubles.is_empty() {
        return None;
    }
    let mut settled = routine.clone();
    let mut found = Vec::new();
    for chain in chains(&compiled.timeline.runs) {
        let looks = Looks::of(routine, chain.set);
        let domains = chain.domains(routine, &compiled.timeline, asked, &looks)?;
        let look_of = domains.nearest(&looks, &looks.of_prop)?;
        if chain.loaded == Loaded::Found {
            let section = chain.runs[0].sections.start;
            load(&mut settled, chain.set, section, &chain.runs[0].loading, &look_of, &looks);
            found.push(section);
        }
    }
    re_grip(&mut settled, &found);
    Some((settled, found))
}

/// Lets the pause before a found loading regrip, where the hands hold other props.
fn re_grip(routine: &mut Routine, found: &[usize]) {
    if found.is_empty() {
        return;
    }
    let mut otherwise: Vec<usize> = Vec::new();
    for trouble in compile(routine).troubles {
        if let Trouble::Loading { section, .. } = trouble {
            otherwise.push(section);
        }
    }
    for section in otherwise.into_iter().filter(|section| found.contains(section)) {
        let Some(loading) = routine.juggle(section).and_then(|juggle| juggle.loading.clone())
        else {
            continue;
        };
        let before = section.checked_sub(1).and_then(|before| routine.score.get_mut(before));
        if let (Loading::Hands(value), Some(Part::Pause(pause))) =
            (loading.value, before.map(|section| &mut section.part))
        {
            pause.regrip = Some(Placed { value, at: loading.at });
        }
    }
}

/// The routine with its found loadings in the natural order.
pub(super) fn nearest(routine: &Routine) -> Routine {
    let mut nearest = routine.clone();
    for section in &mut nearest.score {
        if let Some(juggle) = section.juggle_mut()
            && juggle.loading.as_ref().is_some_and(|loading| loading.value == Loading::Found)
        {
            juggle.loading = None;
        }
    }
    nearest
}

/// Writes a loading into the section that starts cold with it.
fn load(
    routine: &mut Routine,
    set: usize,
    section: usize,
    loading: &HandLoading,
    look_of: &[u8],
    looks: &Looks,
) {
    let Some(set) = routine.sets.get(set).cloned() else { return };
    let Some(juggle) = routine.juggle_mut(section) else {
        return;
    };
    let Some(written) = &mut juggle.loading else { return };
    let at = written.at.clone();
    let colour = |prop: &Prop| {
        let look = look_of.get(usize::from(prop.0)).copied()?;
        let value = set.name_of(looks.prop_of(look)?);
        Some(Placed { value, at: at.clone() })
    };
    let of = |hand| loading.in_hand(hand).iter().filter_map(colour).collect();
    let hands = HandColours { right: of(Hand::Right), left: of(Hand::Left) };
    written.value = Loading::Hands(hands);
}

/// Runs that go on with the same props, from a loading to the last gather before another.
pub(super) struct Chain<'a> {
    /// Its runs, in order.
    pub(super) runs: Vec<&'a Run>,
    /// The place of the first among all runs.
    pub(super) first: usize,
    /// Index of its prop set in the routine.
    pub(super) set: usize,
    /// How it was loaded.
    pub(super) loaded: Loaded,
    /// What each hand must hold after it, as a later loading says: the right's props and the
    /// left's, by their places in the set.
    pub(super) left_in_hands: Option<&'a HandLoading>,
}

/// The chains of a timeline, in order.
pub(super) fn chains(runs: &[Run]) -> Vec<Chain<'_>> {
    let mut chains: Vec<Chain<'_>> = Vec::new();
    for (first, run) in runs.iter().enumerate() {
        if run.loaded == Loaded::Kept
            && let Some(chain) = chains.last_mut()
        {
            chain.runs.push(run);
            continue;
        }
        if run.loaded == Loaded::Ordered
            && let Some(chain) = chains.last_mut()
        {
            chain.left_in_hands = Some(&run.loading);
        }
        let (set, loaded) = (run.set, run.loaded);
        chains.push(Chain { runs: vec![run], first, set, loaded, left_in_hands: None });
    }
    chains
}

impl Chain<'_> {
    /// What is known of its props when all its requests are met; `None` where that
    /// leaves a prop no look, or no set of looks will do.
    fn domains(
        &self,
        routine: &Routine,
        timeline: &Timeline,
        asked: &[Requirement],
        looks: &Looks,
    ) -> Option<Domains> {
        self.met(self.loaded_with(looks), routine, timeline, asked, looks)
    }

    /// The same from what its loading leaves open.
    pub(super) fn met(
        &self,
        mut domains: Domains,
        routine: &Routine,
        timeline: &Timeline,
        asked: &[Requirement],
        looks: &Looks,
    ) -> Option<Domains> {
        for &requirement in asked {
            let (demands, all_told) = self.demands(routine, timeline, requirement, looks);
            let met = demands.iter().all(|asked| domains.demand(asked.demand, looks));
            if !met || !all_told {
                return None;
            }
        }
        if let (Some(after), Some(last)) = (self.left_in_hands, self.runs.last()) {
            let in_order = |hands: &HandLoading| -> Vec<u8> {
                let props = [Hand::Right, Hand::Left].map(|hand| hands.in_hand(hand).to_vec());
                props.concat().iter().map(|prop| prop.0).collect()
            };
            let of = |hand| -> Vec<u8> {
                let props = after.in_hand(hand).iter();
                props.filter_map(|prop| looks.of_prop.get(usize::from(prop.0)).copied()).collect()
            };
            let held = domains.reordered(&in_order(&last.gather.hands));
            if !held.is_possible_parted(looks, &of(Hand::Right), &of(Hand::Left)) {
                return None;
            }
        }
        domains.is_possible(looks).then_some(domains)
    }

    /// What its loading alone says of its props.
    pub(super) fn loaded_with(&self, looks: &Looks) -> Domains {
        let mut domains = Domains::open(looks.of_prop.len(), looks);
        if self.loaded != Loaded::Found {
            for (mask, &look) in domains.masks.iter_mut().zip(&looks.of_prop) {
                *mask = 1 << look;
            }
        }
        domains
    }

    /// What a requirement demands of its props, and whether it can be told at all.
    pub(super) fn demands(
        &self,
        routine: &Routine,
        timeline: &Timeline,
        requirement: Requirement,
        looks: &Looks,
    ) -> (Vec<Asked>, bool) {
        let Some(section) = about(routine, requirement) else {
            return self.caught(routine, timeline, requirement, looks);
        };
        let span = timeline.sections.get(section).and_then(|section| section.juggle.as_ref());
        let Some(span) = span.filter(|span| self.has_run(span.run)) else {
            return (Vec::new(), true);
        };
        let own = timeline.own_actions(span);
        let Some(juggle) = routine.juggle(section) else { return (Vec::new(), true) };
        (
            demands(
                routine,
                requirement,
                juggle,
                (looks, span.face.unwrap_or_default()),
                &own,
                &[],
            ),
            true,
        )
    }

    pub(super) fn has_run(&self, run: usize) -> bool {
        (self.first..self.first + self.runs.len()).contains(&run)
    }

    /// What a catch at a moment demands: of the prop that is caught then in one of its runs.
    fn caught(
        &self,
        routine: &Routine,
        timeline: &Timeline,
        requirement: Requirement,
        looks: &Looks,
    ) -> (Vec<Asked>, bool) {
        let Wanted::Caught(index) = requirement.wanted else { return (Vec::new(), true) };
        let Some(caught) =
            routine.juggle(requirement.section).and_then(|juggle| juggle.seen.caught.get(index))
        else {
            return (Vec::new(), true);
        };
        let at_moment = caught_at(routine, timeline, &caught.moment.value, caught.hand);
        let CaughtAt::One { run, action, prop } = at_moment else { return (Vec::new(), false) };
        let colour = routine.colour(&caught.colour.value);
        if !self.has_run(run) {
            return (Vec::new(), true);
        }
        let run = timeline.runs.get(run);
        let thrown = run.and_then(|run| Some(run.face_at(run.actions.get(action)?.beat)));
        let (Some(colour), Some(face)) = (colour, thrown) else { return (Vec::new(), true) };
        let demand = Demand::Is(prop.0, looks.showing(colour, face));
        (vec![Asked { demand, action }], true)
    }
}

/// What is caught at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CaughtAt {
    /// Nothing, or the moment is not known.
    Nothing,
    /// One prop: its run, the action that threw it (an index into the run's), and the prop.
    One {
        /// Index of the run.
        run: usize,
        /// Index of the action.
        action: usize,
        /// The prop.
        prop: Prop,
    },
    /// Both hands catch then.
    Both,
}

/// Which prop is caught at a moment, in a hand if one is named.
pub(super) fn caught_at(
    routine: &Routine,
    timeline: &Timeline,
    moment: &Moment,
    hand: Option<Hand>,
) -> CaughtAt {
    let Ok(when) = timeline.moment(routine, moment) else { return CaughtAt::Nothing };
    let mut found = CaughtAt::Nothing;
    for (index, run) in timeline.runs.iter().enumerate() {
        let catches = |action: &Action| {
            hand.is_none_or(|hand| hand == action.to)
                && run.catch_of(action, timeline.dwell).is_some_and(|caught| caught == when)
        };
        for (action, made) in run.actions.iter().enumerate().filter(|(_, made)| catches(made)) {
            let Some(prop) = made.prop else { continue };
            if found != CaughtAt::Nothing {
                return CaughtAt::Both;
            }
            found = CaughtAt::One { run: index, action, prop };
        }
    }
    found
}
