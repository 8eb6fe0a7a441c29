//! Where nothing is thrown for longer than a row: what is folded, and that nothing is lost in it.

use super::*;
use crate::strip::fold::folds;
use crate::strip::strip_in_rows;

/// A row of it holds 15 s.
const QUIET: &str = r##"Routine(
    title: "Quiet Hall", tempo: PerMinute(200), colours: { "coral": "#ec6a5c" },
    sets: {
        "three": Set(kind: Ball, length: 0.07, colours: ["coral", "coral", "coral"]),
        "torches": Set(kind: Torch, length: 0.6, colours: ["coral", "coral", "coral"]),
    },
    score: [
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)),
        Pause(name: "look", lasts: For("0:40")),
        Juggle(name: "ebb", set: "three", pattern: "3", lasts: Beats(30)),
        Pause(name: "light", lasts: For("0:20"), lit: "torches"),
        Pause(name: "breath", lasts: Between("0:20", "0:30")),
        Juggle(name: "burn", set: "torches", pattern: "3", lasts: Beats(30)),
        Pause(name: "out", lasts: For("0:05"), put_out: "torches"),
    ],
    music: Track(length: "0:55", starts: Start("look"), marks: { "gong": "0:15" },
        holds: { "still": Hold(at: Mark("gong"), lasts: Between("0:01", "0:03"), stops: See("a"),
            resumes: See("b"), numbers: [20, 21]) }),
    zero: FirstThrow,
    cues: [
        Cue(crew: Light, number: 1, at: At("0:22"), trigger: Called, does: "strobe", count: 0,
            flashes: 2.0),
        Cue(crew: Light, number: 2, at: At("0:24"), trigger: Called, does: "full", count: 0),
        Cue(crew: Light, number: 3, at: At("0:26"), trigger: Called, does: "out", count: 0,
            dark: true),
        Cue(crew: Light, number: 4, at: At("0:34"), trigger: Called, does: "sides up", count: 0),
    ],
    encore: Encore(score: [
        Pause(name: "back", lasts: For("0:50")),
        Juggle(name: "more", set: "three", pattern: "3", lasts: Beats(30)),
    ]),
)"##;

fn drawn(text: &str) -> Act {
    crate::open(text).act.unwrap_or_else(|| panic!("{text}"))
}

#[test]
fn a_pause_longer_than_a_row_is_folded_and_what_happens_in_it_is_said_below() {
    let act = drawn(QUIET);
    let scene = scene(&act);
    let rows = &scene.layout.rows;
    let folded: Vec<_> = rows.iter().flat_map(|row| &row.folds).collect();
    let lasts: Vec<_> = folded.iter().map(|fold| fold.words()).collect();
    assert_eq!(lasts, ["30.0 s folded", "30.0 s folded"]);
    assert!(rows.iter().all(|row| row.from % 15.0 == 0.0), "the clock keeps its places");
    for (at, words) in &scene_happenings(&act) {
        let hidden = folded.iter().find(|fold| fold.from < *at && *at < fold.to);
        assert!(hidden.is_none_or(|fold| fold.inside.contains(words)), "{words}");
    }
    let svg = strip(&act);
    let document = read(&svg);
    let all = texts(&document).join(" ");
    for words in [
        "45.0 s folded",
        "LX 1 GO 0:22.0: strobe; from here on a strobe flashes; LX 2 GO 0:24.0: full; up to here a",
        "from here on the stage is dark",
        "LX 4 GO 0:34.0",
        "mark of the music \"gong\" 0:2",
        "hold still: 1.0–3.0 s",
        "breath: pause 20.0–30.0 s",
    ] {
        assert!(all.contains(words), "{words}: {all}");
    }
    // The cues fly at the tear too.
    for cue in ["LX 1", "LX 2", "LX 3", "LX 4"] {
        assert!(texts(&document).contains(&cue), "{cue}");
    }
}

fn scene_happenings(act: &Act) -> Vec<(f64, String)> {
    let scene = scene(act);
    let Scene { sections, flags, stretches, music, limits, certainty, .. } = &scene;
    crate::strip::fold::happenings(sections, flags, stretches, music, limits, certainty)
}

#[test]
fn at_every_scale_no_row_is_left_empty_and_no_throw_is_folded() {
    for act in [drawn(QUIET), lantern().compiled(), kelp().compiled()] {
        for seconds in [2.0, 5.0, 7.0, 20.0, 60.0, 600.0] {
            let scene = Scene::new(
                &act,
                &act,
                |matter: &Matter<'_>| Layout::new(matter, PAGE.1),
                Some(seconds),
            );
            let layout = &scene.layout;
            let empty = |row: &&super::super::layout::Row| {
                let is_drawn_on = !row.folds.is_empty() || !row.flags.flags.is_empty();
                row.flights.is_empty() && row.shown == (row.from, row.to) && !is_drawn_on
            };
            assert_eq!(layout.rows.iter().filter(empty).count(), 0, "{seconds}");
            for fold in layout.rows.iter().flat_map(|row| &row.folds) {
                let throws = scene.threads.flights.iter();
                let mut hidden = throws.filter(|one| one.leaves < fold.to && one.lands > fold.from);
                assert!(hidden.next().is_none(), "{fold:?}");
                let rows = (fold.to - fold.from) / seconds;
                assert!((rows - rows.round()).abs() < 1e-9, "{fold:?}");
            }
        }
    }
}

#[test]
fn a_pause_as_long_as_a_row_is_drawn_and_an_open_one_is_as_long_as_its_shortest() {
    for lasts in ["For(\"0:15\")", "Between(\"0:05\", \"1:30\")"] {
        let act = drawn(&QUIET.replace("For(\"0:40\")", lasts).replace("\"0:20\"", "\"0:04\""));
        let layout = scene(&act).layout;
        assert!(layout.rows.iter().all(|row| row.folds.is_empty()), "{lasts}");
    }
}

#[test]
fn what_an_error_hides_is_named_where_it_is_folded() {
    let act = drawn(&QUIET.replacen("pattern: \"3\"", "pattern: \"3(\"", 1));
    assert!(act.errors > 0);
    let svg = strip_in_rows(&act, 5);
    let document = read(&svg);
    let texts = texts(&document);
    let folded = texts.iter().filter(|text| text.contains("s folded")).count();
    assert!(folded > 0, "{texts:?}");
}

#[test]
fn of_absurd_heights_only_the_top_is_told() {
    let svg = strip(&drawn(&QUIET.replace("PerMinute(200)", "PerMinute(1)")));
    let document = read(&svg);
    let metres = |text: &&str| text.strip_suffix(" m")?.parse::<f64>().ok();
    let told: Vec<f64> = texts(&document).iter().filter_map(metres).collect();
    let heads = texts(&document).iter().filter(|text| **text == "R").count();
    assert!(!told.is_empty() && told.len() <= heads, "one for a row at most: {told:?}");
    assert!(told.iter().all(|&height| height > 10_000.0), "{told:?}");
    // A hundred metres still have their lines.
    let svg = strip(&drawn(&QUIET.replace("PerMinute(200)", "PerMinute(15)")));
    assert!(self::texts(&read(&svg)).contains(&"50 m"));
}

#[test]
fn the_overview_gives_in_full_what_it_has_to_cut_and_cuts_no_cue_that_has_room() {
    let svg = overview(&drawn(&QUIET.replace("sides up", "sides up, front low, all of it")));
    let document = read(&svg);
    let texts = texts(&document);
    assert!(texts.contains(&"sides up, front low, all of it"), "{texts:?}");
    assert!(!texts.iter().any(|text| text.starts_with("Cues in full")), "{texts:?}");
    let long = "sides up, front low, ".repeat(12);
    let svg = overview(&drawn(&QUIET.replace("sides up", &long)));
    let document = read(&svg);
    let all = self::texts(&document).join(" ");
    assert!(all.contains(&format!("Cues in full: LX 4 GO 0:34.0: {}", long.trim())), "{all}");
}

#[test]
fn a_fold_lies_where_least_happens_and_away_from_throws() {
    let happens =
        |at: &[f64]| -> Vec<(f64, String)> { at.iter().map(|at| (*at, at.to_string())).collect() };
    let of = |at: &[f64]| {
        let found = folds(&[(12.0, 40.0)], &happens(at), 15.0);
        let [fold] = &found[..] else { panic!("{found:?}") };
        assert!(
            fold.from > 12.0 && fold.to < 40.0 && (fold.to - fold.from - 15.0).abs() < 1e-9,
            "{fold:?}"
        );
        fold.inside.clone()
    };
    assert!(of(&[]).is_empty());
    assert!(of(&[16.0, 17.0]).is_empty(), "it begins behind them");
    assert_eq!(of(&[14.0, 20.0, 25.0, 30.0, 38.0]).len(), 2);
    for quiet in [(12.0, 27.0), (12.0, 27.2), (12.0, 12.0)] {
        assert!(folds(&[quiet], &[], 15.0).is_empty(), "{quiet:?}");
    }
}
