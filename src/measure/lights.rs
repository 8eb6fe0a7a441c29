//! Which coloured light is in force when, from the cues.
//!
//! A Light cue with a colour brings it up at its GO; it holds until the GO of the next Light cue
//! with a colour or of a dark one, a cue without a colour leaves it. A Spot cue does the same for
//! the followspot, until that goes out or a dark cue takes it along. Each light is taken alone: how
//! several mix on a prop in flight is not known here. Times are seconds on the show clock.

use crate::act::Act;
use crate::appearance::Rgb;
use crate::routine::{Crew, SpotMove};
use crate::time::{Night, Time};
use crate::timeline::{SectionSpan, Timeline};

use crate::act::calls::{Call, InOrder};

/// A stretch of one coloured light.
#[derive(Clone, Debug, PartialEq)]
pub struct Lit {
    /// The cue that brings it up, as an index.
    pub cue: usize,
    /// Its colour.
    pub light: Rgb,
    /// The cue's GO.
    pub from: Time,
    /// The GO that ends it; `None` when it stays up.
    pub until: Option<Time>,
}

/// The coloured lights of an act on any night.
pub struct Lights<'a> {
    act: &'a Act,
    calls: InOrder<'a>,
}

impl<'a> Lights<'a> {
    /// Those of an act.
    #[must_use]
    pub fn of(act: &'a Act) -> Lights<'a> {
        let lights = |call: &Call| {
            let cue = act.routine.cues.get(call.cue);
            cue.is_some_and(|cue| matches!(cue.crew.value, Crew::Light | Crew::Spot))
        };
        Lights { act, calls: act.calls.some(lights) }
    }

    /// The cues that bring up a coloured light, in order of their earliest GO, each with its colour.
    pub fn cues(&self) -> impl Iterator<Item = (usize, Rgb)> {
        self.calls.calls().iter().filter_map(|call| {
            let cue = self.act.routine.cues.get(call.cue)?;
            let out = cue.dark || cue.spot == Some(SpotMove::Out);
            Some((call.cue, cue.light.as_ref().filter(|_| !out)?.rgb))
        })
    }

    /// The coloured lights of a night, in order of their GO.
    #[must_use]
    pub fn on(&self, night: &Night<'_>) -> Vec<Lit> {
        lights(self.act, &self.calls.on(night))
    }

    /// The sections whose props fly in the light of a cue on some night, if only for a moment.
    #[must_use]
    pub fn flown_in(&self, cue: usize) -> Vec<usize> {
        let spans = &self.act.timeline.sections;
        let Some(call) = self.act.calls.of_cue(cue) else { return Vec::new() };
        // No light reaches back before its own GO.
        let first = spans.partition_point(|span| span.ends.most() <= call.go.least());
        let flies = |&section: &usize| {
            let found = self.act.some_night(|night| {
                let lit = self.on(night).into_iter().find(|lit| lit.cue == cue)?;
                flies_in(&self.act.timeline, section, &lit, night).then_some(())
            });
            // What is too open to be told is taken to fly in it.
            found.is_err() || found.is_ok_and(|found| found.is_some())
        };
        (first..spans.len()).filter(flies).collect()
    }
}

/// The coloured lights of calls in their order.
fn lights(act: &Act, calls: &[&Call]) -> Vec<Lit> {
    let mut lights: Vec<Lit> = Vec::new();
    // What is up on the stage and from the followspot, as indices into the list.
    let mut stage: Option<usize> = None;
    let mut spot: Option<usize> = None;
    for call in calls {
        let Some(cue) = act.routine.cues.get(call.cue) else { continue };
        let up = match cue.crew.value {
            Crew::Light => &mut stage,
            Crew::Spot => &mut spot,
            _ => continue,
        };
        let out = cue.dark || cue.spot == Some(SpotMove::Out);
        if (out || cue.light.is_some())
            && let Some(before) = up.take()
        {
            lights[before].until = Some(call.go.clone());
        }
        if let Some(light) = cue.light.as_ref().filter(|_| !out) {
            *up = Some(lights.len());
            let (light, from) = (light.rgb, call.go.clone());
            lights.push(Lit { cue: call.cue, light, from, until: None });
        }
        if cue.dark
            && !cue.spot_stays
            && let Some(before) = spot.take()
        {
            lights[before].until = Some(call.go.clone());
        }
    }
    lights
}

/// Whether a section's props fly in this light on a night, if only for a moment.
fn flies_in(timeline: &Timeline, section: usize, lit: &Lit, night: &Night<'_>) -> bool {
    let Some(span) = timeline.sections.get(section) else { return false };
    let Some(ends) = caught(timeline, span) else { return false };
    let lasts = |until: &Time| night.before(&span.starts, until) && night.before(&lit.from, until);
    night.before(&lit.from, ends) && lit.until.as_ref().is_none_or(lasts)
}

/// Where a section's props are down: where it ends, or its run's last catch; `None` for a pause.
fn caught<'t>(timeline: &'t Timeline, span: &'t SectionSpan) -> Option<&'t Time> {
    let juggle = span.juggle.as_ref()?;
    let caught = timeline.runs.get(juggle.run).and_then(|run| run.gather.last_catch.as_ref());
    Some(caught.filter(|_| juggle.ends_run).unwrap_or(&span.ends))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Place;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, name, time, when};
    use crate::routine::{Cue, Moment, NamedColour, Trigger};

    const RED: Rgb = Rgb { red: 255, green: 0, blue: 0 };
    const BLUE: Rgb = Rgb { red: 0, green: 0, blue: 255 };

    fn at(crew: Crew, seconds: i64) -> Cue {
        let when = when(Moment::At(ms(0)), seconds * 1000);
        cue(crew, 0, Some(when), Trigger::Called, "go")
    }

    fn coloured(cue: Cue, rgb: Rgb) -> Cue {
        let light = NamedColour { name: name("gel"), rgb, at: Place::default() };
        Cue { light: Some(light), ..cue }
    }

    fn found(cues: Vec<Cue>) -> Vec<(usize, i64, Option<i64>)> {
        let mut quay = lantern_quay();
        quay.cues = cues;
        let act = compiled(&quay);
        let whole = |time: &Time| time.certain().unwrap().to_f64() as i64;
        let lights = act.some_night(|night| Some(Lights::of(&act).on(night))).unwrap().unwrap();
        lights
            .found
            .iter()
            .map(|lit| (lit.cue, whole(&lit.from), lit.until.as_ref().map(whole)))
            .collect()
    }

    #[test]
    fn a_colour_holds_until_the_next_one_or_the_dark() {
        let dark = Cue { dark: true, ..at(Crew::Light, 20) };
        let cues = vec![
            coloured(at(Crew::Light, 1), RED),
            at(Crew::Light, 5),
            coloured(at(Crew::Light, 8), BLUE),
            dark,
            at(Crew::Light, 22),
            coloured(at(Crew::Light, 30), RED),
        ];
        assert_eq!(found(cues), [(0, 1, Some(8)), (2, 8, Some(20)), (5, 30, None)]);
    }

    #[test]
    fn the_followspot_has_a_colour_of_its_own_and_goes_with_the_dark_unless_it_stays() {
        let spot = |seconds| coloured(at(Crew::Spot, seconds), BLUE);
        let out = Cue { spot: Some(SpotMove::Out), ..at(Crew::Spot, 6) };
        let dark = |stays| Cue { dark: true, spot_stays: stays, ..at(Crew::Light, 12) };
        let cues = |stays| {
            vec![coloured(at(Crew::Light, 1), RED), spot(2), out.clone(), spot(9), dark(stays)]
        };
        let red = (0, 1, Some(12));
        assert_eq!(found(cues(false)), [red, (1, 2, Some(6)), (3, 9, Some(12))]);
        assert_eq!(found(cues(true)), [red, (1, 2, Some(6)), (3, 9, None)]);
    }

    #[test]
    fn a_section_flies_in_a_light_from_its_start_to_its_last_catch() {
        let quay = lantern_quay();
        let act = compiled(&quay);
        let flies = |section, lit: &Lit| {
            let look =
                |night: &Night<'_>| flies_in(&act.timeline, section, lit, night).then_some(());
            act.some_night(look).unwrap().is_some()
        };
        let ebb = quay.section("ebb").unwrap();
        // Ebb is juggled from 28.8; the run's last catch is at 31.1.
        let flies_in_ebb = |from, until: Option<i64>| {
            let lit = Lit { cue: 0, light: RED, from: time(from), until: until.map(time) };
            flies(ebb, &lit)
        };
        assert!(flies_in_ebb(0, None) && flies_in_ebb(31_099, None));
        assert!(flies_in_ebb(0, Some(28_801)));
        assert!(!flies_in_ebb(31_100, None) && !flies_in_ebb(0, Some(28_800)));
        assert!(!flies_in_ebb(30_000, Some(30_000)), "a light that is replaced at its own GO");
        let bow = quay.section("bow").unwrap();
        let always = Lit { cue: 0, light: RED, from: time(-99_000), until: None };
        assert!(!flies(bow, &always), "nothing flies in a pause");
    }
}
