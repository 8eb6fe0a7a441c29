//! The line-up against an exhaustive search: every loading, every beginning, every start of a
//! list, every order of a multiplex and every way in, one after another, each followed prop by
//! prop by a juggler of the tests' own.
//!
//! The rules that the juggler follows are those of the README: which prop leaves first, where a
//! throw lands, how hands keep what they caught.

mod cases;
mod exhaustive;
mod juggler;

#[path = "../said/chance.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod chance;

use cases::{Case, Dice};
use chance::acts;

#[test]
fn the_line_up_finds_what_an_exhaustive_search_finds() {
    let (mut possible, mut impossible, mut kept, mut multiplex) = (0, 0, 0, 0);
    for seed in 0..acts(500) as u64 {
        let case = Case::random(&mut Dice::new(seed));
        let expected = exhaustive::cheapest(&case);
        case.hold(expected, seed);
        possible += u32::from(expected.is_some());
        impossible += u32::from(expected.is_none());
        kept += u32::from(case.sections.iter().any(|section| section.after_pause));
        multiplex += u32::from(case.sections.iter().any(|section| section.is_multiplex()));
    }
    // The acts are of every kind.
    for (what, count) in [
        ("possible", possible),
        ("impossible", impossible),
        ("with props that are kept", kept),
        ("with multiplexes", multiplex),
    ] {
        assert!(count > 20, "{count} {what}");
    }
}

#[test]
fn a_way_is_thrown_in_every_order_of_its_multiplexes() {
    let mut decides = 0;
    // The order decides in about one act of sixty; some of those are among the first of these.
    for seed in 230..230 + acts(60) as u64 {
        let mut case = Case::joined(&mut Dice::new(50_000 + seed));
        let expected = exhaustive::cheapest(&case);
        case.hold(expected, seed);
        case.ways_are_fixed = true;
        decides += u32::from(exhaustive::cheapest(&case) != expected);
    }
    assert!(decides > 0, "in no act does the order decide");
}

/// Common practice, no source.
#[test]
fn one_prop_can_keep_the_middle_throw_of_531_and_the_last_of_423_but_none_of_441() {
    for (pattern, kept) in [("531", &[2][..]), ("423", &[3]), ("441", &[])] {
        for throw in 1..=3 {
            let text = format!(
                "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), \
                 colours: {{ \"a\": \"red\", \"b\": \"navy\", \"c\": \"white\" }}, \
                 sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"b\", \"c\"]) }}, \
                 score: [Juggle(name: \"x\", set: \"s\", pattern: \"{pattern}\", \
                 lasts: Cycles(8), loading: Found, shows: {{ {throw}: [\"b\"] }})])"
            );
            let opened = throwbook::open(&text);
            let possible = opened.colours.unwrap().are_possible();
            assert_eq!(possible, kept.contains(&throw), "throw {throw} of {pattern}");
        }
    }
}

/// Common practice, no source: one throw more before the 531 gives its middle throw to another
/// prop and the lead to the other hand; another loading mends it and costs no time.
#[test]
fn one_throw_more_before_an_effect_is_mended_by_another_loading() {
    let act = |beats: u32| {
        format!(
            "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), \
             colours: {{ \"a\": \"red\", \"b\": \"navy\", \"c\": \"white\" }}, \
             sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"b\", \"c\"]) }}, \
             score: [Juggle(name: \"plain\", set: \"s\", pattern: \"3\", lasts: Beats({beats})), \
             Juggle(name: \"x\", pattern: \"531\", lasts: Cycles(8), shows: {{ 2: [\"a\"] }})])"
        )
    };
    let lead = |beats| {
        let opened = throwbook::open(&act(beats));
        opened.finished().unwrap().timeline.sections[1].juggle.as_ref().unwrap().lead
    };
    assert_ne!(lead(26), lead(27));
    assert!(throwbook::open(&act(26)).colours.unwrap().are_possible());
    let opened = throwbook::open(&act(27));
    let verdict = opened.colours.unwrap().verdict;
    assert_eq!(verdict.unmet.len(), 1);
    let cheapest = &verdict.repairs[0];
    assert!(cheapest.loading.is_some(), "{cheapest:?}");
    assert_eq!((cheapest.beats, cheapest.adds.to_f64()), (0, 0.0));
    assert!(!cheapest.flips_lead);
    let costs: Vec<f64> = verdict.repairs.iter().map(|repair| repair.adds.to_f64().abs()).collect();
    assert!(costs.is_sorted(), "{costs:?}");
}

/// Every change that is offered brings everything about, and costs what it says.
#[test]
fn a_repair_does_what_it_says() {
    let mut told = 0;
    for seed in 0..1200 {
        let mut dice = Dice::new(10_000 + seed);
        let case = Case::random(&mut dice).fixed().asking_once();
        let text = case.text();
        let opened = throwbook::open(&text);
        let Some(before) = opened.finished() else { continue };
        let verdict = opened.colours.as_ref().unwrap().verdict.clone();
        let lasts = |act: &throwbook::act::Act| act.timeline.lasts().certain().unwrap().to_f64();
        for repair in &verdict.repairs {
            let mut edits = repair.edits.clone();
            edits.sort_by(|a, b| b.at.cmp(&a.at));
            let mut mended = text.clone();
            for throwbook::diagnostic::Edit { at, insert } in edits {
                mended.replace_range(at.start..at.end, &insert);
            }
            let again = throwbook::open(&mended);
            let left = again.colours.as_ref().map(|colours| colours.verdict.unmet.len());
            let chains = case.sections.iter().filter(|section| section.starts_anew).count();
            let fewer = left.is_some_and(|left| left < verdict.unmet.len());
            assert!(left == Some(0) || (chains > 1 && fewer), "{}\n{mended}", repair.what);
            let now = again.finished().unwrap_or_else(|| panic!("{}\n{mended}", repair.what));
            let longer = lasts(now) - lasts(before);
            assert!((longer - repair.adds.to_f64()).abs() < 1e-9, "{}\n{mended}", repair.what);
            told += 1;
        }
    }
    assert!(told > 60, "{told}");
}
