//! Which coloured light is in force when, from the cues.
//!
//! A Light cue with a colour brings it up at its GO; it holds until the GO of the next Light cue
//! with a colour or of a dark one, a cue without a colour leaves it. A Spot cue does the same for
//! the followspot, until that goes out or a dark cue takes it along. Each light is taken alone: how
//! several mix on a prop in flight is not known here. Times are seconds on the show clock.

use crate::act::Act;
use crate::act::calls::Call;
use crate::act::in_order::InOrder;
use crate::appearance::Rgb;
use crate::routine::{Crew, Cue, SpotMove};
use crate::time::Time;
use crate::timeline::{SectionSpan, Timeline};

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

    /// Whether a call ends the light of a cue: another colour or the dark for the stage, another
    /// colour, its own going out or a dark that takes it along for the followspot.
    fn ends(&self, lit: &Cue, call: &Call) -> bool {
        let Some(cue) = self.act.routine.cues.get(call.cue) else { return false };
        let out = cue.dark || cue.spot == Some(SpotMove::Out);
        match (lit.crew.value == cue.crew.value, lit.crew.value) {
            (true, _) => out || cue.light.is_some(),
            (false, Crew::Spot) => cue.dark && !cue.spot_stays,
            (false, _) => false,
        }
    }

    /// The sections whose props fly in the light of a cue on some night, if only for a moment.
    #[must_use]
    pub fn flown_in(&self, cue: usize) -> Vec<usize> {
        let act = self.act;
        let spans = &act.timeline.sections;
        let Some((call, lit)) = act.calls.of_cue(cue).zip(act.routine.cues.get(cue)) else {
            return Vec::new();
        };
        let ends = |one: &Call| one.cue != cue && self.ends(lit, one);
        // No light reaches back before its own GO, nor past what ends it on every night.
        let first = spans.partition_point(|span| span.ends.most() <= call.go.least());
        let last =
            self.calls.behind(call).iter().find(|one| ends(one) && call.always_comes_before(one));
        let is_over = |span: &SectionSpan| {
            last.is_some_and(|last| !(&span.starts - &last.go).least().is_negative())
        };
        let end = spans.partition_point(|span| !is_over(span)).max(first);
        let flies = |&section: &usize| {
            let Some(span) = spans.get(section) else { return false };
            let Some(caught) = caught(&act.timeline, span) else { return false };
            let found = act.some_night(|night| {
                let over = |one: &Call| {
                    night.not_after(&one.go, &span.starts) || night.not_after(&one.go, &call.go)
                };
                let flies = night.before(&call.go, caught)
                    && !self.calls.firsts_after(call, ends, night).any(over);
                flies.then_some(())
            });
            // What is too open to be told is taken to fly in it.
            found.is_err() || found.is_ok_and(|found| found.is_some())
        };
        (first..end).filter(flies).collect()
    }
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
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, name, when};
    use crate::routine::{Moment, NamedColour, Trigger};

    const RED: Rgb = Rgb { red: 255, green: 0, blue: 0 };
    const BLUE: Rgb = Rgb { red: 0, green: 0, blue: 255 };

    /// A cue at a time of the show clock, in thousandths.
    fn at(crew: Crew, thousandths: i64) -> Cue {
        cue(crew, 0, Some(when(Moment::At(ms(thousandths)), 0)), Trigger::Called, "go")
    }

    fn coloured(cue: Cue, rgb: Rgb) -> Cue {
        let light = NamedColour { name: name("gel"), rgb, at: Place::default() };
        Cue { light: Some(light), ..cue }
    }

    /// The sections of the worked example in which each coloured cue lights what flies: tide starts
    /// at 7.5, beam at 15.3, wake at 22.5, ebb at 28.8; its last catch is at 31.1; fleet starts at
    /// 37.1.
    fn found(cues: Vec<Cue>) -> Vec<(usize, Vec<String>)> {
        let mut quay = lantern_quay();
        quay.cues = cues;
        let act = compiled(&quay);
        let lights = Lights::of(&act);
        let named = |section: usize| quay.score[section].name.value.clone();
        let flown = |(cue, _)| (cue, lights.flown_in(cue).into_iter().map(named).collect());
        lights.cues().map(flown).collect()
    }

    fn lit(cue: usize, sections: &[&str]) -> (usize, Vec<String>) {
        (cue, sections.iter().map(|&name| name.to_owned()).collect())
    }

    #[test]
    fn a_colour_holds_until_the_next_one_or_the_dark() {
        let dark = Cue { dark: true, ..at(Crew::Light, 30_000) };
        let cues = vec![
            coloured(at(Crew::Light, 1_000), RED),
            at(Crew::Light, 16_000),
            coloured(at(Crew::Light, 22_000), BLUE),
            dark,
            at(Crew::Light, 31_000),
            coloured(at(Crew::Light, 32_000), RED),
        ];
        let expected =
            [lit(0, &["tide", "beam"]), lit(2, &["beam", "wake", "ebb"]), lit(5, &["fleet"])];
        assert_eq!(found(cues), expected);
    }

    #[test]
    fn the_followspot_has_a_colour_of_its_own_and_goes_with_the_dark_unless_it_stays() {
        let spot = |time| coloured(at(Crew::Spot, time), BLUE);
        let out = Cue { spot: Some(SpotMove::Out), ..at(Crew::Spot, 14_000) };
        let dark = |stays| Cue { dark: true, spot_stays: stays, ..at(Crew::Light, 28_000) };
        let cues = |stays| {
            vec![
                coloured(at(Crew::Light, 1_000), RED),
                spot(2_000),
                out.clone(),
                spot(23_000),
                dark(stays),
            ]
        };
        let red = lit(0, &["tide", "beam", "wake"]);
        let both = |last| [red.clone(), lit(1, &["tide"]), last];
        assert_eq!(found(cues(false)), both(lit(3, &["wake"])));
        assert_eq!(found(cues(true)), both(lit(3, &["wake", "ebb", "fleet"])));
    }

    #[test]
    fn a_section_flies_in_a_light_from_its_start_to_its_last_catch() {
        let from = |thousandths| found(vec![coloured(at(Crew::Light, thousandths), RED)]);
        assert_eq!(from(31_099), [lit(0, &["ebb", "fleet"])]);
        assert_eq!(from(31_100), [lit(0, &["fleet"])]);
        let until = |thousandths| {
            let dark = Cue { dark: true, ..at(Crew::Light, thousandths) };
            found(vec![coloured(at(Crew::Light, 25_000), RED), dark])
        };
        assert_eq!(until(28_801), [lit(0, &["wake", "ebb"])]);
        assert_eq!(until(28_800), [lit(0, &["wake"])]);
        // A light that is replaced at its own GO.
        let replaced =
            vec![coloured(at(Crew::Light, 30_000), RED), coloured(at(Crew::Light, 30_000), BLUE)];
        assert_eq!(found(replaced), [lit(0, &[]), lit(1, &["ebb", "fleet"])]);
    }
}
