//! A junction at which the schedule that is left is not the one that the next section needs.

use std::borrow::Cow;

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Help};
use crate::hand::Hand;
use crate::notation::{Step, WrittenThrow};
use crate::patterns::{Pattern, Schedule};
use crate::routine::{Juggle, Transition};
use crate::timeline::{Action, Misfit, Trouble};
use crate::transition::{self, Origin, Way};

use super::{Case, Check, Finds, goal, lead_beside, transition_place};

/// How many ways across are offered.
const MOST_WAYS: usize = 3;

pub(super) const CHECK: Check = Check {
    code: "junction-clash",
    what: "Every junction is a valid state change: the schedule that a section leaves is exactly \
           the one that the next needs, in the same hands.",
    why: "Two props that come to one hand on one beat, or a hand that is to throw what it does \
          not have, is a drop at the same place of every performance.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "wake", pattern: "51", lasts: Cycles(4)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "wake", pattern: "51", lasts: Cycles(4), transition: Throws("4")),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::Junction {
                section, origin, misfits, left, needed, lead, in_flight, ..
            } = trouble
            else {
                return None;
            };
            let clash = Clash { case, section: *section, left, needed, lead: *lead, in_flight };
            Some(clash.diagnostic(origin, misfits))
        })
        .collect()
}

struct Clash<'a> {
    case: &'a Case<'a>,
    section: usize,
    left: &'a Schedule,
    needed: &'a Schedule,
    lead: Option<Hand>,
    in_flight: &'a [Action],
}

impl Clash<'_> {
    fn diagnostic(&self, origin: &Origin, misfits: &[Misfit]) -> Diagnostic {
        let juggle = self.case.juggle(self.section);
        let name = &self.case.section(self.section).name.value;
        let (at, message) = match (misfits.first(), &juggle.transition.value) {
            (Some(misfit), Transition::Throws(written)) => {
                let place = written.throws.steps.get(misfit.step).map(Step::at);
                let at = place.map_or_else(|| written.at.clone(), |range| written.place_of(range));
                (at, misfit_sentence(name, misfit))
            }
            _ => (juggle.pattern.at.clone(), self.sentence(name, juggle)),
        };
        let label = self.case.before(self.section).map_or_else(
            || format!("`{}` needs other props here", juggle.pattern.text),
            |(_, before)| {
                format!("`{}` does not join `{}` here", juggle.pattern.text, before.pattern.text)
            },
        );
        let mut diagnostic = Diagnostic::error(CHECK.code, at, message).label(label);
        if let Some((section, before)) = self.case.before(self.section) {
            let left = in_words(self.left);
            diagnostic = match &juggle.transition.value {
                Transition::Throws(written) => diagnostic.note_at(
                    written.at.clone(),
                    format!("after this transition the props are due {left}"),
                ),
                Transition::Direct | Transition::Auto => diagnostic.note_at(
                    before.pattern.at.clone(),
                    format!("\"{}\" leaves the props due {left}", section.name.value),
                ),
            };
        }
        diagnostic = diagnostic.note(format!(
            "`{}` needs the props due {}",
            juggle.pattern.text,
            in_words(self.needed)
        ));
        let mut helps = self.ways_across(origin, juggle);
        if let Some(origin) = self.before_entry(origin, misfits, juggle) {
            helps.extend(self.other_entries(&origin, juggle));
        }
        // Shortest first; of equally short ones in the order of the transitions.
        helps.sort_by_key(|(beats, _)| *beats);
        diagnostic.helps.extend(helps.into_iter().map(|(_, help)| help));
        diagnostic
    }

    /// The first place where too many props come, or too few.
    fn sentence(&self, name: &str, juggle: &Juggle) -> String {
        let span = self.left.span().max(self.needed.span());
        let slots = || (0..span).flat_map(|beat| Hand::BOTH.map(|hand| (beat, hand)));
        let over =
            slots().find(|&(beat, hand)| self.left.due(hand, beat) > self.needed.due(hand, beat));
        if let Some((beat, hand)) = over {
            let late = self.in_flight.iter().find(|action| action.due == beat && action.to == hand);
            let late =
                late.map_or_else(|| "a prop".to_owned(), |action| format!("this {}", action.throw));
            let shown = beat + 1;
            return match own_landing(&juggle.pattern.pattern, self.lead, hand, beat) {
                Some(own) => format!(
                    "{late} and that {} both reach the {hand} hand on beat {shown} of \"{name}\"",
                    own.throw
                ),
                None if self.needed.due(hand, beat) > 0 => format!(
                    "{late} reaches the {hand} hand on beat {shown} of \"{name}\", where `{}` \
                     has room for {} only",
                    juggle.pattern.text,
                    counted(self.needed.due(hand, beat), "prop"),
                ),
                None => format!(
                    "{late} reaches the {hand} hand on beat {shown} of \"{name}\", where `{}` \
                     wants that hand empty",
                    juggle.pattern.text
                ),
            };
        }
        let under =
            slots().find(|&(beat, hand)| self.left.due(hand, beat) < self.needed.due(hand, beat));
        match under {
            Some((beat, hand)) => format!(
                "the {hand} hand is to throw on beat {} of \"{name}\" and has no prop there",
                beat + 1
            ),
            None => format!("the written transition into \"{name}\" does not fit"),
        }
    }

    /// Transitions that join, shortest first, each with the beats that it takes.
    fn ways_across(&self, origin: &Origin, juggle: &Juggle) -> Vec<(u32, Help)> {
        transition::ways(
            origin,
            goal(self.case.routine(), juggle),
            self.case.routine().transitions,
            MOST_WAYS,
        )
        .into_iter()
        .map(|way| (way.beats, self.way_across(origin, juggle, &way)))
        .collect()
    }

    fn way_across(&self, origin: &Origin, juggle: &Juggle, way: &Way) -> Help {
        let throws = way.throws.to_string();
        let wait =
            way.waits.map_or_else(String::new, |hand| format!(", where the {hand} hand waits"));
        let at_rest = matches!(origin, Origin::AtRest { .. });
        let (text, write) = match (throws.as_str(), at_rest) {
            ("", true) => ("start with the pattern itself".to_owned(), "Direct".to_owned()),
            ("", false) => (format!("join it directly{wait}"), "Direct".to_owned()),
            (_, true) => (format!("begin with `{throws}`"), format!("Throws(\"{throws}\")")),
            (_, false) => {
                (format!("put `{throws}` between{wait}"), format!("Throws(\"{throws}\")"))
            }
        };
        let (at, before) = transition_place(juggle);
        let lead = if at_rest { lead_beside(self.case.routine(), juggle, way) } else { "" };
        Help::edit(text, at, format!("{before}{write}{lead}"))
    }

    /// What is left when the pattern's own first throw comes, after a written transition; `None`
    /// where it does not come so far.
    fn before_entry<'o>(
        &self,
        origin: &'o Origin,
        misfits: &[Misfit],
        juggle: &Juggle,
    ) -> Option<Cow<'o, Origin>> {
        let Transition::Throws(written) = &juggle.transition.value else {
            return Some(Cow::Borrowed(origin));
        };
        // From rest it would be other props that are called for.
        if matches!(origin, Origin::AtRest { .. }) || !misfits.is_empty() {
            return None;
        }
        let (schedule, uses) = (self.left.clone(), written.throws.uses());
        Some(Cow::Owned(match self.lead {
            Some(next) => Origin::Alternating { schedule, next, uses },
            None => Origin::Pairs { schedule, uses },
        }))
    }

    /// The pattern written from another of its throws, where that joins as it is; it takes no beats.
    fn other_entries(&self, origin: &Origin, juggle: &Juggle) -> Vec<(u32, Help)> {
        let goal = goal(self.case.routine(), juggle);
        transition::entries(origin, goal, 1)
            .into_iter()
            .map(|text| {
                let what = format!(
                    "write the pattern from another of its throws: `{text}` joins as it is"
                );
                (0, Help::edit(what, juggle.pattern.at.clone(), format!("\"{text}\"")))
            })
            .collect()
    }
}

/// The throw of the pattern's own that lands in a hand on a beat from its start, if one does.
fn own_landing(
    pattern: &Pattern,
    lead: Option<Hand>,
    hand: Hand,
    beat: u32,
) -> Option<&WrittenThrow> {
    let mut now = 0;
    for step in pattern.sequence().steps.iter().cycle() {
        if now >= beat {
            return None;
        }
        let next = lead.unwrap_or(Hand::Right).after(now);
        let found = step.by_hand(next).find_map(|(from, throws)| {
            throws.iter().find(|written| {
                let value = u32::from(written.throw.value);
                value > 0 && now + value == beat && written.throw.to(from, step.kind()) == hand
            })
        });
        if found.is_some() {
            return found;
        }
        now += step.beats();
    }
    None
}

fn misfit_sentence(name: &str, misfit: &Misfit) -> String {
    let Misfit { beat, hand, due, thrown, .. } = misfit;
    let has = match due {
        0 => "has none".to_owned(),
        due => format!("has {}", counted(*due, "prop")),
    };
    format!(
        "the transition into \"{name}\" throws {} from the {hand} hand on its beat {}, which {has}",
        counted(*thrown, "prop"),
        beat + 1
    )
}

/// A schedule in words: `right on beats 1, 3; left on beat 2`.
fn in_words(schedule: &Schedule) -> String {
    let of = |hand: Hand| {
        let mut beats = Vec::new();
        for beat in 0..schedule.span() {
            match schedule.due(hand, beat) {
                0 => {}
                1 => beats.push((beat + 1).to_string()),
                props => beats.push(format!("{} ({props} props)", beat + 1)),
            }
        }
        match beats.len() {
            0 => format!("nothing {hand}"),
            1 => format!("{hand} on beat {}", beats[0]),
            _ => format!("{hand} on beats {}", beats.join(", ")),
        }
    };
    format!("{}; {}", of(Hand::Right), of(Hand::Left))
}
