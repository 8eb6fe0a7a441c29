//! A junction at which the arms are left in one position and needed in another.
//!
//! Within a section its user writes where the arms are on every beat, so the changes there are
//! meant. Between two sections nothing says so: the arms go from one position to another in the
//! beats without an entry, those of a transition or a wait. Common practice, no source. An arm cycle
//! that only goes on, in a new section of the same pattern, is as if within one.

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Help, Place};
use crate::notation::{Kind, Sequence};
use crate::routine::{Arms, Juggle, Section};
use crate::timeline::JuggleSpan;

use super::{Case, Check, Finds, transition_place};

pub(super) const CHECK: Check = Check {
    code: "arms-do-not-meet",
    what: "Between two sections that are joined the arms stay as they are, or have the beats that \
           crossing and uncrossing take.",
    why: "A juggler who comes out of crossed arms a beat late throws the next pattern's first \
          throw from the wrong side.",
    raises: example!(
        r#"        Juggle(name: "weave", set: "three", pattern: "3", lasts: Beats(8),
            arms: [Open, RightOver]),
        Juggle(name: "tide", pattern: "3", lasts: Beats(8)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "weave", set: "three", pattern: "3", lasts: Beats(8),
            arms: [Open, RightOver]),
        Juggle(name: "tide", pattern: "3", lasts: Beats(8), transition: Throws("3")),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let junction = Junction::of(case, index, section, juggle)?;
        let needed = junction.left.beats_to(junction.wanted);
        (needed > junction.between && !junction.goes_on()).then(|| junction.diagnostic(needed))
    });
    found.collect()
}

/// Two joined sections and the arms at their junction.
struct Junction<'a> {
    case: &'a Case<'a>,
    section: &'a Section,
    juggle: &'a Juggle,
    span: &'a JuggleSpan,
    before: (&'a Section, &'a Juggle),
    before_beats: u32,
    /// Where the arms are on the last beat before it.
    left: Arms,
    /// Where they are on the first beat after it.
    wanted: Arms,
    /// Beats between, in which they may move.
    between: u32,
}

impl<'a> Junction<'a> {
    /// The junction before a section; `None` for a cold start.
    fn of(
        case: &'a Case<'a>,
        index: usize,
        section: &'a Section,
        juggle: &'a Juggle,
    ) -> Option<Junction<'a>> {
        let before = case.before(index)?;
        let timeline = case.timeline();
        let span = timeline.sections.get(index)?.juggle.as_ref()?;
        let before_span = timeline.sections.get(index.checked_sub(1)?)?.juggle.as_ref()?;
        let (_, left) = timeline.arms_at_ends(case.routine(), index - 1)?;
        let (wanted, _) = timeline.arms_at_ends(case.routine(), index)?;
        let between = span.own_first_beat.saturating_sub(span.first_beat);
        let before_beats = before_span.beats;
        Some(Junction { case, section, juggle, span, before, before_beats, left, wanted, between })
    }

    /// Whether the same pattern with the same arm cycle goes on where it was, as in a new tempo: then
    /// the change is one that its user wrote.
    fn goes_on(&self) -> bool {
        let positions = |juggle: &Juggle| {
            let cycle = juggle.arms.as_ref();
            cycle.map(|cycle| cycle.beats.iter().map(|entry| entry.value).collect::<Vec<_>>())
        };
        let (before, after) = (positions(self.before.1), positions(self.juggle));
        let whole = |cycle: Vec<Arms>| (self.before_beats as usize).is_multiple_of(cycle.len());
        let (from, to) = (&self.before.1.pattern.pattern, &self.juggle.pattern.pattern);
        let same = before == after && from.sequence() == to.sequence();
        self.between == 0 && same && before.is_some_and(whole)
    }

    fn diagnostic(&self, needed: u32) -> Diagnostic {
        let (before, before_juggle) = self.before;
        let to = match (self.left, self.wanted) {
            (Arms::Open, _) => "to cross",
            (_, Arms::Open) => "to uncross",
            _ => "to uncross and cross again",
        };
        let there = match self.between {
            0 => "there is none".to_owned(),
            beats => format!("there is {}", counted(beats, "beat")),
        };
        let message = format!(
            "\"{}\" ends with {} and \"{}\" begins with {}: that needs {} between {to}, and {there}",
            before.name.value,
            self.left.phrase(),
            self.section.name.value,
            self.wanted.phrase(),
            counted(needed, "beat"),
        );
        let mut diagnostic = Diagnostic::warning(CHECK.code, self.begins_at(), message)
            .label(format!("begins with {}", self.wanted.phrase()));
        let ends = format!("\"{}\" ends with {}", before.name.value, self.left.phrase());
        diagnostic = match self.last_entry(before_juggle) {
            Some(at) => diagnostic.note_at(at, format!("{ends} on this entry")),
            None => diagnostic
                .note_at(before_juggle.pattern.at.clone(), format!("{ends}: it has no `arms`")),
        };
        diagnostic = diagnostic.note(
            "crossing or uncrossing is given one beat between two throws: common practice, no \
             source",
        );
        diagnostic.helps.extend(self.transition(needed - self.between));
        diagnostic.helps.extend(self.other_entries());
        match self.other_start() {
            Some(beat) => diagnostic.help(format!(
                "start `{}` and its `arms` at beat {beat} of the cycle, which has {}, if the \
                 pattern joins there",
                self.juggle.pattern.text,
                self.left.phrase()
            )),
            None => diagnostic,
        }
    }

    /// Where the section's first position is written; its pattern where none is.
    fn begins_at(&self) -> Place {
        let cycle = self.juggle.arms.as_ref();
        let first = cycle.and_then(|cycle| cycle.entry(0));
        first.map_or_else(|| self.juggle.pattern.at.clone(), |entry| entry.at.clone())
    }

    /// The entry that holds on the last beat of the section before.
    fn last_entry(&self, before: &Juggle) -> Option<Place> {
        let entry = before.arms.as_ref()?.entry(self.before_beats.saturating_sub(1))?;
        Some(entry.at.clone())
    }

    /// A longer transition: one of the patterns goes on for whole cycles, so that everything else
    /// still joins, while the arms move.
    fn transition(&self, missing: u32) -> Option<Help> {
        if !self.case.props_known() {
            return None;
        }
        let from = &self.before.1.pattern.pattern;
        let to = &self.juggle.pattern.pattern;
        let taken = self.span.transition.as_ref().map(|taken| taken.throws.steps.clone());
        let taken = taken.unwrap_or_default();
        // Pairs come in the hands that they are written in, so what is before keeps its lead too.
        let pairs = taken.iter().chain(&to.sequence().steps).any(|step| step.kind() == Kind::Sync);
        let keeps_lead = pairs || self.juggle.lead.is_some();
        let cycles = |period: u32| {
            let least = missing.div_ceil(period.max(1));
            if keeps_lead && !(least * period).is_multiple_of(2) { least + 1 } else { least }
        };
        let (before, after) = (cycles(from.period()), cycles(to.period()));
        let first = before * from.period() <= after * to.period();
        let (added, steps) = if first {
            let done = self.before_beats % from.period().max(1);
            (before * from.period(), from_beat(from.sequence(), done, before))
        } else {
            (after * to.period(), from_beat(to.sequence(), 0, after))
        };
        let steps = if first { [steps, taken].concat() } else { [taken, steps].concat() };
        let text = Sequence { steps, starred: false }.to_string();
        let (at, written) = transition_place(self.juggle);
        Some(Help::edit(
            format!(
                "put `{text}` between, {} in which the arms move",
                counted(self.between + added, "beat")
            ),
            at,
            format!("{written}Throws(\"{text}\")"),
        ))
    }

    /// The arm cycles written so that they meet.
    fn other_entries(&self) -> Vec<Help> {
        let (before, before_juggle) = self.before;
        let changes =
            |juggle: &Juggle| juggle.arms.as_ref().is_some_and(|cycle| cycle.beats.len() > 1);
        let mut helps = Vec::new();
        if changes(self.juggle) {
            let text = format!(
                "begin the `arms` of \"{}\" with `{}`, the position that is left, in every cycle",
                self.section.name.value,
                self.left.written()
            );
            helps.push(Help::edit(text, self.begins_at(), self.left.written()));
        }
        if let Some(at) = self.last_entry(before_juggle).filter(|_| changes(before_juggle)) {
            let text = format!(
                "end the `arms` of \"{}\" with `{}`, in every cycle",
                before.name.value,
                self.wanted.written()
            );
            helps.push(Help::edit(text, at, self.wanted.written()));
        }
        helps
    }

    /// A later beat of the section's arm cycle, from 1, on which the arms are as they are left.
    fn other_start(&self) -> Option<usize> {
        let cycle = self.juggle.arms.as_ref()?;
        let period = self.juggle.pattern.pattern.period() as usize;
        let other = cycle.beats.iter().take(period).position(|entry| entry.value == self.left)?;
        Some(other + 1)
    }
}

/// The steps of so many cycles of a pattern from one of its beats on.
fn from_beat(pattern: &Sequence, beat: u32, cycles: u32) -> Vec<crate::notation::Step> {
    let starts = pattern.steps.iter().scan(0, |beats, step| {
        let starts = *beats;
        *beats += step.beats();
        Some(starts)
    });
    let first = starts.take_while(|&starts| starts < beat).count();
    let count = pattern.steps.len() * cycles as usize;
    pattern.steps.iter().cycle().skip(first).take(count).cloned().collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::open;

    /// A file with this score and three props.
    fn file(score: &str) -> String {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: \
             [{score}])"
        )
    }

    fn open_errors(score: &str) -> usize {
        let wrong = |code: &str| !matches!(code, "arms-do-not-meet" | "cut-cycle");
        open(&file(score)).diagnostics.iter().filter(|fault| wrong(fault.code)).count()
    }

    /// What is said of the arms in a score: messages, with the text of every change that is
    /// offered; every change is made, and must leave nothing to say.
    fn said(score: &str) -> Vec<(String, Vec<String>)> {
        let text = file(score);
        let mut said = Vec::new();
        for fault in open(&text).diagnostics {
            assert!(matches!(fault.code, "arms-do-not-meet" | "cut-cycle"), "{fault:?}");
            if fault.code != "arms-do-not-meet" {
                continue;
            }
            let mut changes = Vec::new();
            for help in fault.helps.iter().filter(|help| !help.edits.is_empty()) {
                let edit = &help.edits[0];
                let mut changed = text.clone();
                changed.replace_range(edit.at.start..edit.at.end, &edit.insert);
                let left: Vec<_> = open(&changed).diagnostics.into_iter().collect();
                let left = left.iter().filter(|fault| fault.code != "cut-cycle");
                assert_eq!(left.count(), 0, "{} gives {changed}", help.text);
                changes.push(edit.insert.clone());
            }
            said.push((fault.message, changes));
        }
        said
    }

    fn joined(before: &str, after: &str) -> Vec<(String, Vec<String>)> {
        said(&format!("Juggle(name: \"a\", set: \"3\", {before}), Juggle(name: \"b\", {after})"))
    }

    #[test]
    fn arms_that_stay_as_they_are_meet() {
        for (before, after) in [
            ("pattern: \"3\", lasts: Beats(4)", "pattern: \"3\", lasts: Beats(4)"),
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
            ),
            // Whatever changes within a section is meant.
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver, LeftOver]",
                "pattern: \"3\", lasts: Beats(4), arms: [LeftOver, RightOver]",
            ),
            // A beat to uncross, and two to change the arm above.
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
                "pattern: \"51\", lasts: Beats(4), transition: Throws(\"4\")",
            ),
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
                "pattern: \"3\", lasts: Beats(4), transition: Throws(\"33\"), arms: [LeftOver]",
            ),
        ] {
            assert_eq!(joined(before, after), [], "{before} {after}");
        }
        // The same arm cycle goes on in a section of its own, from where it was.
        let weave = "pattern: \"3\", lasts: Beats(4), arms: [RightOver, LeftOver]";
        assert_eq!(joined(weave, weave), []);
        assert_eq!(joined(&weave.replace("(4)", "(3)"), weave), [], "as it is left");
        let other = weave.replace("arms: [RightOver, LeftOver]", "arms: [RightOver, Open]");
        assert_eq!(joined(weave, &other).len(), 1, "another arm cycle");
        // A pause gathers the props, and a cold start begins as it likes.
        let gathered = said(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(4), arms: [RightOver]),
             Pause(name: \"p\", lasts: For(\"0:03\")),
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(4), arms: [LeftOver])",
        );
        assert_eq!(gathered, []);
    }

    #[test]
    fn arms_that_do_not_meet_are_told_the_beats_and_a_way_that_joins() {
        for (before, after, message, offered) in [
            (
                "pattern: \"3\", lasts: Beats(4), arms: [Open, RightOver]",
                "pattern: \"441\", lasts: Cycles(2)",
                "\"a\" ends with the right arm over and \"b\" begins with the arms open: that \
                 needs 1 beat between to uncross, and there is none.",
                vec![", transition: Throws(\"3\")", "Open"],
            ),
            (
                "pattern: \"441\", lasts: Cycles(2)",
                "pattern: \"3\", lasts: Beats(4), arms: [LeftOver]",
                "needs 1 beat between to cross, and there is none",
                vec![", transition: Throws(\"3\")"],
            ),
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
                "pattern: \"3\", lasts: Beats(4), arms: [LeftOver, Open]",
                "needs 2 beats between to uncross and cross again, and there is none",
                vec![", transition: Throws(\"33\")", "RightOver"],
            ),
            // A transition that is too short is made longer.
            (
                "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
                "pattern: \"51\", lasts: Beats(4), transition: Auto, arms: [LeftOver, Open]",
                "needs 2 beats between to uncross and cross again, and there is 1 beat",
                vec!["Throws(\"34\")", "RightOver"],
            ),
            // A cycle that was cut goes on where it was cut.
            (
                "pattern: \"441\", lasts: Beats(5), arms: [Open, LeftOver, Open]",
                "pattern: \"144\", lasts: Cycles(1)",
                "ends with the left arm over",
                vec![", transition: Throws(\"144\")", "Open"],
            ),
        ] {
            let said = joined(before, after);
            let [(told, changes)] = &said[..] else { panic!("{before} {after}: {said:?}") };
            assert!(told.contains(message), "{told}");
            assert_eq!(*changes, offered, "{before} {after}");
        }
    }

    #[test]
    fn a_lead_that_is_demanded_is_kept_and_pairs_go_on_in_pairs() {
        let led = joined(
            "pattern: \"3\", lasts: Beats(4), arms: [RightOver]",
            "pattern: \"3\", lasts: Beats(4), lead: Right",
        );
        assert_eq!(led[0].1, [", transition: Throws(\"33\")"]);
        let pairs = joined(
            "pattern: \"(4,2x)*\", lasts: Cycles(2), arms: [Open, Open, Open, LeftOver]",
            "pattern: \"(4,2x)*\", lasts: Cycles(2)",
        );
        assert_eq!(pairs[0].1, [", transition: Throws(\"(4,2x)(2x,4)\")", "Open"]);
    }

    /// Three-prop patterns, each with the beats of a cycle.
    const PATTERNS: [(&str, usize); 8] = [
        ("3", 1),
        ("441", 3),
        ("531", 3),
        ("51", 2),
        ("423", 3),
        ("7131", 4),
        ("(4,2x)*", 4),
        ("(4,2x)(2x,4)", 4),
    ];

    fn section(name: &str, pattern: usize, cycles: u32, cut: u32, entries: &[u8]) -> String {
        let (text, period) = PATTERNS[pattern % PATTERNS.len()];
        let pairs = text.starts_with('(');
        let beats = cycles * period as u32 + if pairs { cut / 2 * 2 } else { cut };
        let words = ["Open", "RightOver", "LeftOver"];
        let entries: Vec<_> =
            entries.iter().take(period).map(|&entry| words[usize::from(entry) % 3]).collect();
        format!(
            "Juggle(name: \"{name}\", set: \"3\", pattern: \"{text}\", lasts: Beats({beats}), \
             transition: Auto, arms: [{}])",
            entries.join(", ")
        )
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// `said` makes every change that is offered and finds nothing left to say.
        #[test]
        fn every_way_out_of_a_random_junction_mends_it(
            (first, second) in (0_usize..8, 0_usize..8),
            (cycles, cut) in (1_u32..4, 0_u32..4),
            entries in prop::array::uniform8(0_u8..3),
        ) {
            let before = section("a", first, cycles, cut, &entries[..4]);
            let after = section("b", second, 2, 0, &entries[4..]);
            prop_assume!(open_errors(&format!("{before}, {after}")) == 0);
            said(&format!("{before}, {after}"));
        }
    }
}
