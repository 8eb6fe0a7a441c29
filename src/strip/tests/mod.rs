//! The drawings as wholes: what a reader of the SVG finds in them.

mod folds;
mod threads;

use roxmltree::{Document, Node, ParsingOptions};

use crate::act::Act;
use crate::routine::{Crew, HandColours, Moment, Part, Transition};
use crate::sound::{Found, Heard, Loudness};
use crate::time::Time;

use super::by_hand::{COLOURS, kelp, lantern, name, placed, routine};
use super::layout::Layout;
use super::matter::{Detail, Matter};
use super::paper::PAGE;
use super::scene::Scene;
use super::{overview, strip};

fn scene(act: &Act) -> Scene {
    Scene::new(act, act, |matter: &Matter<'_>| Layout::new(matter, PAGE.1), None)
}

fn certain(time: &Time) -> f64 {
    time.certain().expect("nothing is left open").to_f64()
}

fn read(svg: &str) -> Document<'_> {
    let options = ParsingOptions { nodes_limit: u32::MAX, ..ParsingOptions::default() };
    Document::parse_with_options(svg, options).unwrap()
}

fn texts<'a>(document: &'a Document<'_>) -> Vec<&'a str> {
    let nodes = document.descendants().filter(|node| node.has_tag_name("text"));
    nodes.filter_map(|node| node.text()).map(str::trim).collect()
}

fn titles<'a>(document: &'a Document<'_>) -> Vec<&'a str> {
    let nodes = document.descendants().filter(|node| node.has_tag_name("title"));
    nodes.filter_map(|node| node.text()).map(str::trim).collect()
}

fn class<'a>(node: &Node<'a, '_>) -> &'a str {
    node.attribute("class").unwrap_or_default()
}

#[test]
fn what_is_in_which_hand_is_told_at_the_hands_and_else_at_the_head() {
    let svg = strip(&lantern().compiled());
    let document = read(&svg);
    let (titles, texts) = (titles(&document), texts(&document));
    // Before the first throw, and after the gather until the next cold start.
    assert!(titles.contains(&"right hand: coral first, then pearl"), "{titles:?}");
    assert!(titles.contains(&"left hand: teal"), "{titles:?}");
    assert!(texts.contains(&"coral first, then pearl") && texts.contains(&"teal"), "{texts:?}");
    assert!(!texts.iter().any(|text| text.starts_with("Before tide: ")), "{texts:?}");

    let act = routine("Bare", &COLOURS, &[&[0, 1, 2]]).juggle("tide", "3", 6).with_set(0);
    let svg = strip(&act.compiled());
    let document = read(&svg);
    let said = "Before tide: right hand: coral first, then pearl; left hand: teal. After tide: ";
    assert!(self::texts(&document).iter().any(|text| text.starts_with(said)), "{svg}");
}

#[test]
fn no_row_straddles_two_sheets_and_none_overlaps_the_next() {
    for act in [lantern().compiled(), kelp().compiled()] {
        let layout = scene(&act).layout;
        for row in &layout.rows {
            let page = (PAGE.1.0 * row.page as f64, PAGE.1.0 * (row.page as f64 + 1.0));
            assert!(row.bands.top.0 >= page.0 && row.bands.bottom.0 <= page.1);
            let highest = row.flights.len();
            assert!(highest == 0 || row.bands.field < row.bands.hands);
        }
        for pair in layout.rows.windows(2) {
            assert!(pair[0].bands.bottom < pair[1].bands.top || pair[0].page < pair[1].page);
            assert_eq!(pair[0].to, pair[1].from);
        }
        let svg = strip(&act);
        let height = format!("height=\"{}mm\"", PAGE.1.0 * layout.pages as f64);
        assert!(svg.contains(&height), "{height}");
    }
}

#[test]
fn every_sheet_says_title_issue_clock_and_its_place_among_the_sheets() {
    let svg = strip(&lantern().compiled());
    let document = read(&svg);
    let texts = texts(&document);
    let pages = texts.iter().filter(|text| text.starts_with("page ")).count();
    assert!(pages > 1);
    for page in 1..=pages {
        assert!(texts.contains(&format!("page {page} of {pages}").as_str()));
    }
    let clock = "issue 3 · clock: show; zero = track start";
    assert_eq!(texts.iter().filter(|&&text| text == clock).count(), pages);
    assert_eq!(texts.iter().filter(|&&text| text == "Lantern Quay").count(), pages);
}

#[test]
fn names_patterns_cues_and_transitions_are_written_out() {
    let svg = strip(&lantern().compiled());
    let document = read(&svg);
    let texts = texts(&document);
    for wanted in [
        "tide",
        "beam",
        "531",
        "wake",
        "51",
        "LX 15",
        "SND 3",
        "drum",
        "coral",
        "200/min",
        "×8",
        "×26 beats",
    ] {
        assert!(texts.contains(&wanted), "{wanted}");
    }
    assert!(texts.iter().any(|text| text.contains("HOUSE GO -0:20.0: to half")));
    let titles = titles(&document);
    assert!(
        titles.contains(&"wake: 51 ×10, 200/min, transition 4, 0:22.5 to 0:28.8"),
        "{titles:?}"
    );
    assert!(titles.contains(&"LX 20 GO 0:31.1: blackout"));
    assert!(titles.contains(&"the stage is dark"));
    assert!(titles.contains(&"5 coral, left to right, 1.48 m"));
}

#[test]
fn hostile_names_come_out_as_they_went_in_less_control_characters() {
    let hostile = "a<b&\"c'\u{0}\u{1b}\u{ffff}]]>";
    let clean = "a<b&\"c']]>";
    let colours = [(hostile, 0xec6a5c), ("teal", 0x0f8b8d), ("pearl", 0xf4f1e6)];
    let act = routine(hostile, &colours, &[&[0, 1, 2]])
        .juggle(hostile, "3", 30)
        .with_set(0)
        .pause(hostile, 80)
        .cue(90, Crew::Light, 1, hostile)
        .limit(hostile, 600)
        .compiled();
    for svg in [strip(&act), overview(&act)] {
        let document = read(&svg);
        let texts = texts(&document);
        assert!(texts.iter().filter(|&&text| text == clean).count() >= 3, "{texts:?}");
        assert!(document.descendants().all(|node| {
            !node.text().unwrap_or_default().contains(|c: char| c.is_control() && c != '\n')
        }));
    }
}

#[test]
fn a_name_too_long_for_its_place_is_whole_in_its_title() {
    let long = "an exceedingly long name for so short a section ".repeat(6);
    let act = routine("t", &COLOURS, &[&[0, 1, 2]]).juggle(&long, "3", 6).with_set(0).compiled();
    for svg in [strip(&act), overview(&act)] {
        let document = read(&svg);
        assert!(titles(&document).iter().any(|title| title.starts_with(long.trim())));
        assert!(texts(&document).iter().all(|text| text.trim() != long.trim()));
    }
}

#[test]
fn equal_routines_are_drawn_in_equal_bytes() {
    let (once, again) = (kelp().compiled(), kelp().compiled());
    assert_eq!(strip(&once), strip(&again));
    assert_eq!(overview(&once), overview(&again));
}

#[test]
fn a_routine_without_sections_is_one_empty_sheet() {
    let act = routine("nothing", &[], &[]).compiled_with_troubles();
    let svg = strip(&act);
    assert!(texts(&read(&svg)).contains(&"page 1 of 1"));
    read(&overview(&act));
}

#[test]
fn hours_of_pause_take_longer_rows_instead_of_more_sheets_than_anyone_reads() {
    for hours in [10, 10_000, 100_000_000] {
        let act = routine("long", &[], &[]).pause("sleep", hours * 36_000);
        let act = act.compiled_with_troubles();
        let layout = scene(&act).layout;
        assert!(layout.rows.len() <= 801, "{} rows", layout.rows.len());
        assert!(layout.rows.last().unwrap().to >= hours as f64 * 3600.0);
        read(&overview(&act));
    }
}

#[test]
fn a_few_thousand_throws_keep_their_words_and_tens_of_thousands_are_lines() {
    let act = routine("long", &COLOURS, &[&[0, 1, 2]]).juggle("on", "3", 25_000).with_set(0);
    let act = act.compiled();
    assert_eq!(scene(&act).layout.detail, Detail::Lines);
    let svg = strip(&act);
    let document = read(&svg);
    assert!(svg.len() < 140 * 25_000, "{} bytes", svg.len());
    assert!(texts(&document).iter().any(|text| text.contains("drawn as lines only")));
    assert_eq!(scene(&lantern().compiled()).layout.detail, Detail::Words);
}

#[test]
fn the_overview_shows_every_section_the_props_and_the_verdict_of_each_limit() {
    let svg = overview(&lantern().compiled());
    let document = read(&svg);
    let texts = texts(&document);
    for wanted in ["walk on", "tide", "beam", "wake", "ebb", "fleet", "bow", "HOUSE", "LX 20"] {
        assert!(texts.contains(&wanted), "{wanted}: {texts:?}");
    }
    let verdict = "tin cup, short class: 0:42.8, inside by 17.2 s (at most 1:00)";
    assert!(texts.contains(&verdict), "{texts:?}");
}

#[test]
fn a_limit_is_drawn_where_it_is_reached_also_when_it_is_passed_and_its_grace_as_a_band() {
    // From the first throw at 7.5 to the last catch 42.8 s later.
    let mut builder = lantern().limit("passed", 300).limit("kept", 450).limit("far", 9_000);
    builder.0.limits[1].grace = crate::time::Seconds::fraction(2, 1);
    let act = builder.compiled();
    for svg in [strip(&act), overview(&act)] {
        let document = read(&svg);
        let titles = || document.descendants().filter(|node| node.has_tag_name("title"));
        let lines = |title: &str| {
            let of = titles().filter(|node| node.text() == Some(title));
            let groups = of.filter_map(|node| node.parent_element());
            let paths = groups.flat_map(|group| group.children());
            paths.filter(|node| node.has_tag_name("path")).count()
        };
        assert!(lines("passed: 0:30, 2.0 s more is forgiven") >= 2, "{svg}");
        assert!(lines("kept: 0:45") >= 1, "{svg}");
        assert_eq!(lines("far: 15:00"), 0, "{svg}");
        assert!(svg.contains("fill-opacity:.08"), "{svg}");
    }
    let document_text = strip(&act);
    assert!(texts(&read(&document_text)).contains(&"passed: 0:30"));
}

#[test]
fn a_limit_whose_stop_is_not_known_is_said_so() {
    let mut builder = lantern().limit("rule", 600);
    builder.0.limits.remove(0);
    builder.0.limits[0].stops = placed(Moment::Mark(placed("none such".to_owned())));
    let svg = overview(&builder.compiled());
    let document = read(&svg);
    assert!(texts(&document).contains(&"rule: what it counts is not known"));
}

#[test]
fn the_clear_height_is_a_line_where_a_flight_comes_near_it_and_a_note_where_none_does() {
    let near = strip(&kelp().compiled());
    let line = |text: &&str| text.starts_with("clear height 4.5 m: 3.5 m above the hand");
    assert_eq!(texts(&read(&near)).iter().filter(|text| line(text)).count(), 1);
    let far = strip(&lantern().compiled());
    let document = read(&far);
    assert!(!texts(&document).iter().any(line));
    assert!(texts(&document).iter().any(|text| text.contains("clear height of 4.5 m lies 2.0 m")));
}

/// Four two-sided balls, their other faces shown in the second section and gripped anew in a pause.
fn other_faces() -> Act {
    let mut act =
        routine("Two Faces", &[("coral", 0xec6a5c), ("teal", 0x0f8b8d)], &[&[0, 0, 0, 0]])
            .juggle("ebb", "4", 4)
            .with_set(0)
            .juggle("flood", "4", 8)
            .pause("look up", 40)
            .juggle("swell", "53", 4);
    let set = &mut act.0.sets[0];
    set.colours[3].value = "teal".to_owned();
    set.backs = ["teal", "teal", "teal", "coral"].map(name).into();
    for entry in &mut act.0.score {
        match &mut entry.part {
            Part::Juggle(juggle) if entry.name.value == "flood" => {
                juggle.other_face = Some(placed(true));
            }
            Part::Juggle(juggle) if entry.name.value == "swell" => {
                juggle.transition = placed(Transition::Auto);
            }
            Part::Pause(pause) => {
                let list = |names: &[&str]| names.iter().map(|one| name(one)).collect();
                let (right, left) = (list(&["teal", "coral"]), list(&["coral", "coral"]));
                pause.regrip = Some(placed(HandColours { right, left }));
            }
            _ => {}
        }
    }
    act.compiled()
}

#[test]
fn a_regrip_and_the_other_faces_are_marked_in_words_and_their_titles_say_all() {
    let act = other_faces();
    let strip = strip(&act);
    let document = read(&strip);
    assert!(texts(&document).contains(&"other face") && texts(&document).contains(&"regrip"));
    let titles = titles(&document);
    assert!(titles.contains(&"other face: backs"), "{titles:?}");
    let moved = titles.iter().find(|title| title.starts_with("regrip: "));
    assert!(moved.is_some_and(|title| title.contains("where it leaves")), "{titles:?}");
}

#[test]
fn the_loudness_of_the_music_stands_below_the_rows_that_it_fills_and_only_where_it_was_heard() {
    let mut act = lantern().compiled();
    let unheard = strip(&act);
    let Some(track) = &act.routine.music else { panic!("the act has music") };
    let length = track.length.value.clone();
    let seconds = length.to_f64();
    // Silent in its first half, loud in its second.
    let windows = (seconds / Loudness::WINDOW_S) as u32;
    let windows = (0..windows).map(|at| if at < windows / 2 { 0.0 } else { 0.5 }).collect();
    let loudness = Loudness { windows };
    let heard = Heard { length, silence: crate::time::Seconds::zero(), loudness };
    let file = track.file_name().unwrap().to_owned();
    act.heard.note(&file, Found::Heard(heard));

    let drawn = strip(&act);
    let document = read(&drawn);
    let lanes: Vec<Node<'_, '_>> = document
        .descendants()
        .filter(|node| node.has_tag_name("g"))
        .filter(|node| {
            let title = node.children().find(|child| child.has_tag_name("title"));
            title.and_then(|title| title.text()).is_some_and(|title| title.starts_with("loudness"))
        })
        .collect();
    let labels = texts(&document).iter().filter(|text| **text == "loudness").count();
    assert!(!lanes.is_empty() && labels == lanes.len());
    let starts = certain(act.timeline.track_start().unwrap());
    let scene = scene(&act);
    let music_ends = starts + seconds;
    let with_music =
        scene.layout.rows.iter().filter(|row| row.shown.0 < music_ends && row.shown.1 > starts);
    let with_music: Vec<_> = with_music.collect();
    assert_eq!(lanes.len(), with_music.len());
    for (lane, row) in lanes.iter().zip(with_music) {
        let shape = lane.descendants().find(|node| class(node) == "l").unwrap();
        let data = shape.attribute("d").unwrap();
        let line = row.bands.loudness.unwrap();
        let top = line - super::paper::LOUDEST;
        let half = starts + seconds / 2.0;
        let is_loud = row.shown.1.min(music_ends) > half + 0.1;
        assert_eq!(data.contains(&format!("V{top}")), is_loud, "{data}");
        assert!(row.bands.bottom >= line && top > row.bands.values[0]);
    }
    assert!(!unheard.contains("loudness"));
}

#[test]
fn a_section_that_starts_at_a_rows_end_is_named_before_its_edge_and_again_in_the_next_row() {
    // A row holds 15 s: 48 beats take 14.4 s of it, and the name does not fit into the rest.
    let tide = |beats| routine("t", &COLOURS, &[&[0, 1, 2]]).juggle("tide", "3", beats).with_set(0);
    let svg = strip(&tide(48).juggle("moonrise", "531", 8).compiled());
    let document = read(&svg);
    let texts = texts(&document);
    for wanted in ["tide", "moonrise →", "… moonrise"] {
        assert!(texts.contains(&wanted), "{wanted}: {texts:?}");
    }
    assert!(!texts.iter().any(|text| text.starts_with("moo") && text.ends_with('…')), "{texts:?}");
    // With room behind its edge it stands there.
    let svg = strip(&tide(40).juggle("moonrise", "531", 8).compiled());
    assert!(self::texts(&read(&svg)).contains(&"moonrise"));
}

#[test]
fn the_overview_says_how_often_a_pattern_goes_round_where_it_has_room() {
    let svg = overview(&lantern().compiled());
    let document = read(&svg);
    let texts = texts(&document);
    assert!(texts.contains(&"531 ×8") && texts.contains(&"3 ×26 beats"), "{texts:?}");
}

#[test]
fn a_row_holds_the_seconds_that_are_asked_for_or_says_why_not() {
    let asked = |act: &Act, seconds| {
        Scene::new(act, act, |matter: &Matter<'_>| Layout::new(matter, PAGE.1), Some(seconds))
    };
    let act = lantern().compiled();
    for seconds in [2.0, 7.0, 45.0, 600.0] {
        let layout = asked(&act, seconds).layout;
        let rows = &layout.rows;
        let shown = |row: &super::layout::Row| {
            let parts = row.parts((row.from, row.to)).into_iter();
            parts.map(|(from, to)| to - from).sum::<f64>()
        };
        assert!(rows.iter().all(|row| (shown(row) - seconds).abs() < 1e-9), "{seconds}");
        assert!(rows.last().unwrap().to >= super::scene::span(&act.timeline).1);
    }
    let whole = super::strip_in_rows(&act, 600);
    assert!(texts(&read(&whole)).contains(&"page 1 of 1"));
    let long = routine("long", &COLOURS, &[&[0, 1, 2]]).juggle("on", "3", 3_000).with_set(0);
    let scene = asked(&long.compiled(), 2.0);
    assert!(scene.layout.rows.last().unwrap().to >= 900.0);
    assert!(scene.head.notes.iter().any(|note| note.contains("rows of 2 s would be too many")));
}
