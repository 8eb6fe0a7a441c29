use super::*;
use crate::measure::limits::Verdict;
use crate::open;
use crate::routine::{Crew, CueNumber};

/// An act at 200 a minute, a beat of 0.3 s: 3 s of walk, `tide` of 3 and `beam` of 531, a pose.
const ACT: &str = r##"Routine(
    title: "Act", lead: Right, tempo: PerMinute(200), zero: FirstThrow,
    colours: { "coral": "#ec6a5c", "teal": "#0f5b6d", "pearl": "#f4f1e6" },
    sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "pearl"]) },
    score: [
        Pause(name: "walk", lasts: For("0:03")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(24)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(8)),
        Pause(name: "pose", lasts: For("0:05")),
    ],
    limits: [Limit(rule: "short", starts: FirstThrow, stops: LastCatch, at_most: "0:15")],
    cues: [
        Cue(crew: Light, number: 5, at: Start("tide"), trigger: See("a nod"), does: "up"),
        Cue(crew: Light, number: 10, at: End("beam"), trigger: Called, does: "out"),
        Cue(crew: Sound, number: 1, at: Start("beam"), trigger: Called, does: "bell"),
    ],
)
"##;

/// From the act to the same act with pieces of its text replaced.
fn with(replaced: &[(&str, &str)]) -> Difference {
    let changed = replaced.iter().fold(ACT.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replace(old, new)
    });
    Difference::between(&open(ACT), &open(&changed))
}

fn act(difference: &Difference) -> &ActDifference {
    difference.act.as_ref().unwrap()
}

fn section<'d>(difference: &'d Difference, name: &str) -> &'d SectionDifference {
    act(difference).sections.iter().find(|section| section.name == name).unwrap()
}

fn ms(thousandths: i64) -> Seconds {
    Seconds::fraction(thousandths, 1000)
}

fn earliest(later: &Option<Later>) -> Seconds {
    later.as_ref().unwrap().earliest.clone()
}

#[test]
fn an_act_and_itself_differ_in_nothing() {
    let difference = with(&[]);
    let act = act(&difference);
    assert!(!act.lasts.as_ref().unwrap().is_moved() && act.beats == 0);
    assert!(act.cues.is_empty() && act.limits.is_empty());
    assert!(act.added.is_empty() && act.gone.is_empty());
    assert_eq!(difference.faults, FaultDifference::default());
    assert_eq!((difference.flips_lead(), difference.moves_colours()), (Some(false), Some(false)));
    assert_eq!(act.sections.len(), 4);
}

#[test]
fn one_beat_more_moves_what_comes_after_flips_its_lead_and_its_colours() {
    let difference = with(&[("Beats(24)", "Beats(25)")]);
    let act = act(&difference);
    assert_eq!((earliest(&act.lasts), act.beats), (ms(300), 1));
    assert_eq!(earliest(&act.ends), ms(300));
    assert_eq!(act.ends.as_ref().unwrap().latest, None, "both are certain");
    let moved = |name: &str| {
        let section = section(&difference, name);
        (earliest(&section.starts), section.flips_lead, section.moves_colours)
    };
    assert_eq!(moved("tide"), (ms(0), Some(false), Some(false)));
    assert_eq!(moved("beam"), (ms(300), Some(true), Some(true)));
    let cues: Vec<_> = act.cues.iter().map(|cue| (cue.crew, cue.moves())).collect();
    assert_eq!(cues, [(Crew::Light, true), (Crew::Sound, true)]);
    // 48 beats and the last catch take 14.6 s; three cycles more of 3 s are over.
    assert!(act.limits[0].room.as_ref().is_some_and(|room| *room == ms(-300)));
    let difference = with(&[("Beats(24)", "Beats(30)")]);
    let limit = &self::act(&difference).limits[0];
    assert_eq!((limit.was, limit.now), (Some(Verdict::Inside), Some(Verdict::Over)));
    let come: Vec<_> = difference.faults.come.iter().map(|fault| fault.code).collect();
    assert!(come.contains(&"limit-over"), "{come:?}");
}

#[test]
fn what_is_later_one_way_is_earlier_the_other() {
    let longer = open(&ACT.replace("Beats(24)", "Beats(27)"));
    let there = Difference::between(&open(ACT), &longer);
    let back = Difference::between(&longer, &open(ACT));
    assert_eq!(earliest(&act(&there).lasts), ms(900));
    assert_eq!(earliest(&act(&back).lasts), ms(-900));
    assert_eq!((act(&there).beats, act(&back).beats), (3, -3));
    assert_eq!(there.faults.come, back.faults.gone);
}

#[test]
fn a_renamed_section_is_known_by_what_is_juggled_in_it() {
    let difference = with(&[("\"tide\"", "\"swell\""), ("\"pose\"", "\"bow\"")]);
    let act = act(&difference);
    assert!(act.added.is_empty() && act.gone.is_empty(), "{act:?}");
    assert_eq!(section(&difference, "swell").was.as_deref(), Some("tide"));
    assert_eq!(section(&difference, "bow").was.as_deref(), Some("pose"));
    let other = with(&[(
        "Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(8))",
        "Juggle(name: \"wake\", pattern: \"441\", lasts: Cycles(4))",
    )]);
    assert_eq!(
        (&self::act(&other).added[..], &self::act(&other).gone[..]),
        (&["wake".to_owned()][..], &["beam".to_owned()][..])
    );
}

#[test]
fn another_pattern_has_other_throws_so_it_moves_no_colours() {
    let difference = with(&[("\"531\"", "\"441\"")]);
    let beam = section(&difference, "beam");
    assert_eq!(beam.pattern_was.as_deref(), Some("531"));
    assert_eq!(beam.moves_colours, Some(false));
}

#[test]
fn cues_are_known_by_their_number_and_then_by_what_they_do() {
    let number = |tenths| Some(CueNumber { tenths });
    let difference = with(&[
        ("number: 5", "number: 7"),
        ("does: \"out\"", "does: \"out slowly\""),
        (
            "Cue(crew: Sound, number: 1, at: Start(\"beam\"), trigger: Called, does: \"bell\")",
            "Cue(crew: Fly, number: 3, at: Start(\"beam\"), trigger: Called, does: \"in\")",
        ),
    ]);
    let cues: Vec<_> =
        act(&difference).cues.iter().map(|cue| (cue.crew, cue.number, &cue.what)).collect();
    assert_eq!(cues.len(), 4, "{cues:?}");
    assert!(matches!(cues[0], (Crew::Light, n, CueChange::Changed(Some(_))) if n == number(50)));
    assert!(matches!(cues[1], (Crew::Light, n, CueChange::Changed(Some(_))) if n == number(100)));
    assert!(matches!(cues[2], (Crew::Sound, n, CueChange::Gone) if n == number(10)));
    assert!(matches!(cues[3], (Crew::Fly, n, CueChange::Added) if n == number(30)));
    assert!(act(&difference).cues.iter().all(|cue| !cue.moves()));
}

#[test]
fn an_open_length_moves_the_latest_alone() {
    let difference = with(&[("lasts: For(\"0:05\")", "lasts: Between(\"0:05\", \"0:09\")")]);
    let lasts = act(&difference).lasts.as_ref().unwrap();
    assert_eq!((&lasts.earliest, lasts.latest.as_ref()), (&ms(0), Some(&ms(4000))));
    assert!(lasts.is_moved() && lasts.time.is_none());
    // What both leave open alike cancels.
    let open_act = ACT.replace("lasts: For(\"0:05\")", "lasts: Between(\"0:05\", \"0:09\")");
    let longer = open(&open_act.replace("Beats(24)", "Beats(27)"));
    let difference = Difference::between(&open(&open_act), &longer);
    let lasts = act(&difference).lasts.as_ref().unwrap();
    assert_eq!(lasts.time.as_ref().and_then(Time::certain), Some(&ms(900)));
}

#[test]
fn behind_an_error_nothing_is_said_that_is_not_known() {
    let torn = with(&[("\"531\"", "\"51\"")]);
    assert_eq!(torn.moves_colours(), None);
    assert!(torn.faults.come.iter().any(|fault| {
        fault.code == "junction-clash" && fault.about == About::Section("beam".to_owned())
    }));
    let unread = with(&[("\"3\"", "\"3q?\"")]);
    assert!(act(&unread).lasts.is_none());
    assert_eq!((unread.flips_lead(), unread.moves_colours()), (None, None));
    let nothing = with(&[("Routine(", "Routine((")]);
    assert!(nothing.act.is_none() && nothing.flips_lead().is_none());
    assert!(!nothing.faults.come.is_empty());
}
