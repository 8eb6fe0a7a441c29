//! When the stage is dark: from the GO of a dark Light cue to that of the next that is not.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::act::calls::Call;
use crate::act::in_order::InOrder;
use crate::routine::{Crew, Cue};
use crate::time::{Night, Time};

/// A stretch in which the stage is dark.
#[derive(Clone, Debug, PartialEq)]
pub struct Dark {
    /// The dark Light cues in it, as indices, in order of GO; at least one.
    pub cues: Vec<usize>,
    /// The GO of the first.
    pub from: Time,
    /// The Light cue that ends it and its GO; `None` when it stays dark.
    pub until: Option<(usize, Time)>,
}

/// The stretches in which the stage is dark, the calls in order of their earliest GO.
#[must_use]
pub fn darks(act: &Act) -> Vec<Dark> {
    stretches(act, &act.calls.calls.iter().collect::<Vec<_>>())
}

/// When the stage is dark on any night.
pub struct Darks<'a> {
    act: &'a Act,
    lights: InOrder<'a>,
    /// The darks, where the lights come in one order on every night.
    certain: Option<Vec<Dark>>,
    /// Which of these each cue begins.
    begun_by: BTreeMap<usize, usize>,
    /// Those of the act before, in an encore that knows it.
    before: Option<Box<Darks<'a>>>,
}

impl<'a> Darks<'a> {
    /// Those of an act.
    #[must_use]
    pub fn of(act: &'a Act) -> Darks<'a> {
        let is_light = |call: &Call| {
            act.routine.cues.get(call.cue).is_some_and(|cue| cue.crew.value == Crew::Light)
        };
        let lights = act.calls.some(is_light);
        let certain = lights.is_certain().then(|| stretches(act, lights.calls()));
        let begins = certain.iter().flatten().enumerate();
        let begun_by = begins.filter_map(|(at, dark)| Some((*dark.cues.first()?, at))).collect();
        Darks { act, lights, certain, begun_by, before: None }
    }

    /// Those of an encore, which begins in the dark where its act ends in the dark.
    #[must_use]
    pub fn of_encore(act: &'a Act, encore: &'a Act) -> Darks<'a> {
        Darks { before: Some(Box::new(Darks::of(act))), ..Darks::of(encore) }
    }

    /// The Light cue that has set the light by a time on a night, where it makes the stage dark; a
    /// cue of the act before where the encore has set none yet. What goes dark at that very time
    /// does so after it, what brings light back then does so before it; `but` does neither.
    #[must_use]
    pub fn over(&self, time: &Time, but: usize, night: &Night<'_>) -> Option<&'a Cue> {
        let counts = |light: &Call| match self.is_dark(light) {
            _ if light.cue == but => false,
            true => night.before(&light.go, time),
            false => night.not_after(&light.go, time),
        };
        self.dark_by(Some(time), &counts, night)
    }

    /// The last of the Light cues that count on a night, where it makes the stage dark. Those that
    /// come after `until` on every night do not count.
    #[must_use]
    pub fn dark_by(
        &self,
        until: Option<&Time>,
        counts: &dyn Fn(&Call) -> bool,
        night: &Night<'_>,
    ) -> Option<&'a Cue> {
        match (self.lights.last_that(until, counts, night), &self.before) {
            (Some(last), _) => self.act.routine.cues.get(last.cue).filter(|cue| cue.dark),
            (None, Some(act)) => act.dark_by(None, &|_| true, night),
            (None, None) => None,
        }
    }

    /// Whether a Light cue that is not dark ends a dark on a night.
    #[must_use]
    pub fn ends_with(&self, light: &Call, night: &Night<'_>) -> bool {
        let before = |one: &Call| one.cue != light.cue && one.comes_before(light, night);
        self.dark_by(Some(&light.go), &before, night).is_some()
    }

    /// The Light cues among which are all that come after one of them and before a time on a night.
    pub fn between(&self, one: &Call, until: &Time) -> impl Iterator<Item = &'a Call> {
        self.lights.between(one, until).iter().copied()
    }

    /// Whether a call makes the stage dark.
    #[must_use]
    pub fn is_dark(&self, call: &Call) -> bool {
        self.act.routine.cues.get(call.cue).is_some_and(|cue| cue.dark)
    }

    /// The calls of the dark cues.
    pub fn gone_dark(&self) -> impl Iterator<Item = &'a Call> {
        self.lights.calls().iter().copied().filter(|light| self.is_dark(light))
    }

    /// The calls of the dark cues, any of which can begin a dark.
    #[must_use]
    pub fn calls(&self) -> Vec<&'a Call> {
        match &self.certain {
            Some(darks) => {
                let begins = darks.iter().filter_map(|dark| dark.cues.first());
                begins.filter_map(|cue| self.act.calls.of_cue(*cue)).collect()
            }
            None => self.gone_dark().collect(),
        }
    }

    /// Whether the dark that a cue begins on a night is still on after a time; it is also where no
    /// light comes back at all.
    #[must_use]
    pub fn is_on_after(&self, call: &Call, time: &Time, night: &Night<'_>) -> bool {
        if let Some(dark) = self.known(call) {
            return dark.until.as_ref().is_none_or(|(_, until)| night.before(time, until));
        }
        let lights = self.lights.firsts_after(call, |light| !self.is_dark(light), night);
        !lights.into_iter().any(|light| night.not_after(&light.go, time))
    }

    /// The calls of the Light cues that are not dark, any of which can bring the light back.
    pub fn brought_back(&self) -> impl Iterator<Item = &'a Call> {
        self.lights.calls().iter().copied().filter(|light| !self.is_dark(light))
    }

    /// The dark that a cue begins on a night; `None` where it was dark already.
    #[must_use]
    pub fn begun_by(&self, call: &Call, night: &Night<'_>) -> Option<Dark> {
        if self.certain.is_some() {
            return self.known(call).cloned();
        }
        let before = self.lights.last_before(call, night);
        if before.is_some_and(|before| self.is_dark(before)) {
            return None;
        }
        let light = self.lights.first_after(call, |light| !self.is_dark(light), night);
        let until = light.map(|light| (light.cue, light.go.clone()));
        Some(Dark { cues: vec![call.cue], from: call.go.clone(), until })
    }

    /// When the dark that a cue begins ends, where that is the same cue on every night.
    #[must_use]
    pub fn surely_ends(&self, call: &Call) -> Option<&Time> {
        self.known(call)?.until.as_ref().map(|(_, until)| until)
    }

    fn known(&self, call: &Call) -> Option<&Dark> {
        let place = *self.begun_by.get(&call.cue)?;
        self.certain.as_ref()?.get(place)
    }
}

fn stretches(act: &Act, calls: &[&Call]) -> Vec<Dark> {
    let mut darks: Vec<Dark> = Vec::new();
    let mut is_dark = false;
    for call in calls {
        let Some(cue) = act.routine.cues.get(call.cue) else { continue };
        if cue.crew.value != Crew::Light {
            continue;
        }
        match (cue.dark, is_dark, darks.last_mut()) {
            (true, true, Some(dark)) => dark.cues.push(call.cue),
            (true, _, _) => {
                darks.push(Dark { cues: vec![call.cue], from: call.go.clone(), until: None });
            }
            (false, true, Some(dark)) => dark.until = Some((call.cue, call.go.clone())),
            (false, ..) => {}
        }
        is_dark = cue.dark;
    }
    darks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, time, when};
    use crate::routine::{Cue, Moment, Trigger};

    #[test]
    fn the_dark_lasts_until_a_light_cue_that_is_not_dark() {
        let at = |crew, number, thousandths| {
            let go = when(Moment::At(ms(thousandths)), 0);
            cue(crew, number, Some(go), Trigger::Called, "on")
        };
        let dark = |number, thousandths| Cue { dark: true, ..at(Crew::Light, number, thousandths) };
        let mut quay = lantern_quay();
        assert_eq!(
            darks(&compiled(&quay)),
            [Dark { cues: vec![2], from: time(31_100), until: Some((3, time(34_600))) }]
        );
        quay.cues = vec![
            dark(1, 1_000),
            at(Crew::Sound, 1, 2_000),
            dark(2, 3_000),
            at(Crew::Light, 3, 4_000),
            at(Crew::Light, 4, 5_000),
            dark(5, 6_000),
        ];
        assert_eq!(
            darks(&compiled(&quay)),
            [
                Dark { cues: vec![0, 2], from: time(1_000), until: Some((3, time(4_000))) },
                Dark { cues: vec![5], from: time(6_000), until: None },
            ]
        );
    }
}
