//! A cold start that finds other numbers in the hands than it needs.

use crate::diagnostic::{Diagnostic, Help};
use crate::hand::Hand;
use crate::notation::Kind;
use crate::routine::Transition;
use crate::timeline::Trouble;
use crate::transition::{Origin, entries, ways};

use super::loading_mismatch::{hands, props};
use super::{Case, Check, Finds, goal, lead_beside, transition_place};

pub(super) const CHECK: Check = Check {
    code: "hand-count",
    what: "At a cold start each hand holds as many props as will be thrown from it.",
    why: "After a gather the hands hold what they caught; a start from other numbers is a prop \
          passed across in front of the audience, or a drop.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: For("0:02")),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2), lead: Left),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(7)),
        Pause(name: "pose", lasts: For("0:02")),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2), lead: Left),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::HandCount { section, right, left, needs_right, needs_left, lead } =
                trouble
            else {
                return None;
            };
            let juggle = case.juggle(*section);
            let led = lead.map_or_else(String::new, |lead| format!(" led by the {lead} hand"));
            let message = format!(
                "`{}`{led} starts from R {needs_right}, L {needs_left}, and the hands hold \
                 R {right}, L {left}",
                juggle.pattern.text
            );
            let at = juggle.lead.as_ref().map_or_else(
                || juggle.loading.as_ref().map_or(&juggle.pattern.at, |loading| &loading.at),
                |lead| &lead.at,
            );
            let mut diagnostic = Diagnostic::error(CHECK.code, at.clone(), message)
                .label(format!("needs R {needs_right}, L {needs_left}"));
            let kind = juggle.pattern.pattern.kind();
            if let (Kind::Async, Some(lead)) = (kind, lead)
                && (right, left) == (needs_left, needs_right)
            {
                let other = lead.other();
                let word = if other == Hand::Left { "Left" } else { "Right" };
                let end = juggle.pattern.at.end;
                let (at, insert) = juggle.lead.as_ref().map_or_else(
                    || ((end..end).into(), format!(", lead: {word}")),
                    |written| (written.at.clone(), word.to_owned()),
                );
                let text = format!("let the {other} hand lead: the numbers fit then");
                diagnostic.helps.push(Help::edit(text, at, insert));
            }
            diagnostic.helps.extend(way_in(case, *section, (*right, *left)));
            diagnostic.helps.extend(other_start(case, *section, (*right, *left)));
            diagnostic.helps.extend(handed_over(case, *section, (*needs_right, *needs_left)));
            Some(diagnostic.help(
                "end the run before it a beat earlier or later: the hands then hold other \
                 numbers",
            ))
        })
        .collect()
}

/// A transition out of what the hands hold, if one lies within the bounds.
fn way_in(case: &Case<'_>, section: usize, (right, left): (u32, u32)) -> Option<Help> {
    let juggle = case.juggle(section);
    let goal = goal(case.routine(), juggle);
    let way = ways(&Origin::AtRest { right, left }, goal, case.routine().transitions, 1);
    let way = way.into_iter().next().filter(|way| way.beats > 0)?;
    let (at, before) = transition_place(juggle);
    let text = format!("begin with `{}` from what the hands hold", way.throws);
    let lead = lead_beside(case.routine(), juggle, &way);
    Some(Help::edit(text, at, format!("{before}Throws(\"{}\"){lead}", way.throws)))
}

/// The pattern written from another of its throws, if that starts from what the hands hold; behind
/// a written transition it would start from something else.
fn other_start(case: &Case<'_>, section: usize, (right, left): (u32, u32)) -> Option<Help> {
    let juggle = case.juggle(section);
    if matches!(juggle.transition.value, Transition::Throws(_)) {
        return None;
    }
    let goal = goal(case.routine(), juggle);
    let text = entries(&Origin::AtRest { right, left }, goal, 1).into_iter().next()?;
    let what = format!("start the pattern with another of its throws: `{text}` fits the hands");
    Some(Help::edit(what, juggle.pattern.at.clone(), format!("\"{text}\"")))
}

/// The props handed over in the pause before it that are missing in a hand: those that leave first,
/// which lie on top.
fn handed_over(case: &Case<'_>, section: usize, needs: (u32, u32)) -> Option<Help> {
    let entry = section.checked_sub(1)?;
    let pause = case.section(entry).pause().filter(|pause| pause.regrip.is_none())?;
    let run = case.timeline().runs.iter().rfind(|run| run.sections.end <= section)?;
    let set = case.routine().sets.get(run.set)?;
    let mut held = run.gather.hands.clone();
    let needs = |hand: Hand| if hand == Hand::Right { needs.0 } else { needs.1 };
    let to =
        Hand::BOTH.into_iter().find(|&hand| held.in_hand(hand).len() < needs(hand) as usize)?;
    let missing = needs(to) as usize - held.in_hand(to).len();
    let from = to.other();
    if held.in_hand(from).len() != needs(from) as usize + missing {
        return None;
    }
    let given: Vec<_> = held.hands[from.index()].drain(..missing).collect();
    let what = format!(
        "hand {} over to the {to} hand in the pause \"{}\"",
        props(set, given.iter().map(|prop| usize::from(prop.0))),
        case.section(entry).name.value
    );
    held.hands[to.index()].splice(0..0, given);
    let end = pause.lasts.at.end;
    let insert = format!(", regrip: {}", hands(set, &held));
    Some(Help::edit(what, (end..end).into(), insert))
}
