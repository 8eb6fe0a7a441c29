//! Where each prop is drawn: in a hand, on its arc, in the colour that is seen.

use std::collections::BTreeMap;

use roxmltree::Node;

use crate::hand::Hand;
use crate::patterns::hands::ActionKind;

use super::super::by_hand::{COLOURS, kelp, lantern, routine};
use super::super::paper::{LEFT, RIGHT};
use super::super::scene::span;
use super::super::{strip, thread};
use super::{certain, class, other_faces, read, scene, texts};

/// The numbers of a path with one arc: begin, control, end.
fn arc(node: &Node<'_, '_>) -> Option<[f64; 6]> {
    let data = node.attribute("d")?;
    let numbers = data.replace(['M', 'Q'], " ");
    let numbers: Option<Vec<f64>> =
        numbers.split_whitespace().map(|part| part.parse().ok()).collect();
    numbers?.try_into().ok()
}

#[test]
fn every_throw_is_an_arc_from_its_release_to_its_catch_as_high_as_it_flies() {
    for act in [lantern().compiled(), kelp().compiled()] {
        let scene = scene(&act);
        let layout = &scene.layout;
        let mut expected: Vec<[i64; 4]> = Vec::new();
        let hundredths = |mm: f64| (mm * 100.0).round() as i64;
        for run in &act.timeline.runs {
            for action in run.actions.iter().filter(|action| action.kind == ActionKind::Thrown) {
                let leaves = certain(&run.time_of(action));
                let lands = certain(&run.catch_of(action, act.timeline.dwell).unwrap());
                let mut rows = 0;
                for row in layout.rows.iter().filter(|row| leaves < row.to && lands > row.from) {
                    let x = |time: f64| {
                        let part = (time.clamp(row.from, row.to) - row.from) / layout.row_s;
                        LEFT.0 + part * (RIGHT.0 - LEFT.0)
                    };
                    let height = |time: f64| {
                        let (up, down) = (time - leaves, lands - time);
                        row.bands.hands.0 - layout.metre.0 * 9.806_65 / 2.0 * up * down
                    };
                    let (from, to) = (leaves.max(row.from), lands.min(row.to));
                    expected.push([x(from), height(from), x(to), height(to)].map(hundredths));
                    rows += 1;
                }
                assert!(rows > 0);
            }
        }
        let svg = strip(&act);
        let document = read(&svg);
        let arcs = document.descendants().filter(|node| class(node).starts_with("f p"));
        let legend_ends = layout.rows[0].bands.top.0;
        let mut drawn: Vec<[i64; 4]> = arcs
            .filter_map(|node| arc(&node))
            .filter(|arc| arc[1] > legend_ends)
            .map(|[x, y, _, _, to_x, to_y]| [x, y, to_x, to_y].map(hundredths))
            .collect();
        drawn.sort_unstable();
        expected.sort_unstable();
        assert_eq!(drawn.len(), expected.len());
        for (drawn, expected) in drawn.iter().zip(&expected) {
            for (drawn, expected) in drawn.iter().zip(expected) {
                assert!((drawn - expected).abs() <= 1, "{drawn} is drawn for {expected}");
            }
        }
    }
}

#[test]
fn a_flight_reaches_its_height_on_the_scale_of_height() {
    let act = routine("one", &COLOURS, &[&[0, 1, 2]]).juggle("a", "3", 8).with_set(0).compiled();
    let scene = scene(&act);
    let svg = strip(&act);
    let document = read(&svg);
    let first = document.descendants().find_map(|node| {
        let is_flight = class(&node).starts_with("f p") && node.attribute("d")?.contains('Q');
        is_flight.then(|| arc(&node)).flatten()
    });
    // The top of a parabola lies half way to where its tangents meet. 0.5 s in the air: 0.3065 m.
    let [_, base, _, control, ..] = first.unwrap();
    let metres = (base - control) / 2.0 / scene.layout.metre.0;
    assert!((metres - 0.3065).abs() < 0.001, "{metres} m");
}

#[test]
fn a_prop_is_at_every_time_in_one_hand_or_in_the_air() {
    for act in [lantern().compiled(), kelp().compiled()] {
        let (begins, ends) = span(&act.timeline);
        let threads = thread::threads(&act, begins, ends);
        for run in &act.timeline.runs {
            let (from, to) = (run.tempo.at_f64(0.0), certain(&run.gather.ends));
            for step in 0..200 {
                let time = from + (to - from) * (f64::from(step) + 0.37) / 200.0;
                let mut colours: Vec<usize> = Vec::new();
                let rests = threads.rests.iter();
                let resting = rests.filter(|rest| rest.from <= time && time < rest.until);
                colours.extend(resting.map(|rest| rest.colour));
                let flights = threads.flights.iter();
                let flying = flights.filter(|flight| flight.leaves <= time && time < flight.lands);
                colours.extend(flying.map(|flight| flight.colour));
                colours.sort_unstable();
                let mut expected = run.colours.clone();
                expected.sort_unstable();
                assert_eq!(colours, expected, "at {time}");
            }
        }
        for hand in Hand::BOTH {
            let mut by_lane: BTreeMap<usize, Vec<(f64, f64)>> = BTreeMap::new();
            for rest in threads.rests.iter().filter(|rest| rest.hand == hand) {
                by_lane.entry(rest.lane).or_default().push((rest.from, rest.until));
            }
            for rests in by_lane.values_mut() {
                rests.sort_by(|a, b| a.0.total_cmp(&b.0));
                assert!(rests.windows(2).all(|pair| pair[0].1 <= pair[1].0 + 1e-6));
            }
        }
    }
}

#[test]
fn a_thread_goes_on_where_it_lands() {
    let act = lantern().compiled();
    let (begins, ends) = span(&act.timeline);
    let threads = thread::threads(&act, begins, ends);
    assert!(!threads.flights.is_empty());
    for flight in &threads.flights {
        let before = &threads.rests[flight.before.unwrap()];
        let after = &threads.rests[flight.after.unwrap()];
        assert_eq!((before.hand, before.until), (flight.from, flight.leaves));
        assert_eq!((after.hand, after.from), (flight.to, flight.lands));
        assert_eq!((before.colour, after.colour), (flight.colour, flight.colour));
    }
}

#[test]
fn no_flight_reaches_the_names_of_the_sections() {
    let act = kelp().compiled();
    let scene = scene(&act);
    for row in &scene.layout.rows {
        for &flight in &row.flights {
            let top = scene.layout.y(row, scene.threads.flights[flight].height_m);
            assert!(scene.threads.flights[flight].handed || top > row.bands.names);
        }
    }
}

#[test]
fn values_of_multiplexes_and_pairs_are_written_as_in_the_notation() {
    let svg = strip(&kelp().compiled());
    let document = read(&svg);
    let texts = texts(&document);
    for wanted in ["[54]", "4x", "9", "2", "R waits"] {
        assert!(texts.contains(&wanted), "{wanted}");
    }
}

#[test]
fn a_prop_is_drawn_in_the_colour_of_the_face_that_is_seen() {
    let act = other_faces();
    let (begins, ends) = span(&act.timeline);
    let threads = thread::threads(&act, begins, ends);
    let seen = |time: f64| {
        let mut seen = [0; 2];
        for rest in threads.rests.iter().filter(|rest| rest.from <= time && time < rest.until) {
            seen[rest.colour] += 1;
        }
        let flying = threads.flights.iter().filter(|one| one.leaves <= time && time < one.lands);
        flying.for_each(|flight| seen[flight.colour] += 1);
        seen
    };
    // Three coral and one teal; four beats of 0.3 s later the first has changed, four more and all.
    assert_eq!(seen(1.19), [3, 1]);
    assert_eq!(seen(1.21).iter().sum::<i32>(), 4);
    assert_eq!(seen(2.2), [1, 3]);
    let last = &act.timeline.runs[0];
    assert_eq!(seen(certain(&last.gather.ends) + 0.1), [1, 3]);
    // Amid the pause the hands are empty for a while; then right teal and coral by their fronts.
    let pause = &act.timeline.sections[2];
    let middle = (certain(&pause.starts) + certain(&pause.ends)) / 2.0;
    assert_eq!(seen(middle), [0, 0]);
    let after = certain(&pause.ends) - 0.01;
    let right = threads
        .rests
        .iter()
        .filter(|rest| rest.hand == Hand::Right && rest.from <= after && after < rest.until);
    let mut right: Vec<usize> = right.map(|rest| rest.colour).collect();
    right.sort_unstable();
    assert_eq!((right, seen(after)), (vec![0, 1], [1, 3]));
}

#[test]
fn a_prop_in_a_hand_has_its_letter_and_its_line_where_its_bar_is_long_enough() {
    let act = lantern().compiled();
    let scene = scene(&act);
    let svg = strip(&act);
    let document = read(&svg);
    for (colour, mark) in scene.marks.iter().enumerate() {
        let letters = document.descendants().filter(|node| {
            let is_small = node.attribute("style").is_some_and(|style| style.contains("font-size"));
            class(node) == "m b h"
                && is_small
                && node.text().map(str::trim) == Some(mark.letter.as_str())
        });
        assert!(letters.count() > 3, "{}", mark.name);
        let line = format!("l{colour}");
        let lines = document.descendants().filter(|node| class(node) == line);
        let stretches: usize =
            lines.filter_map(|node| Some(node.attribute("d")?.matches('M').count())).sum();
        // One for each part of a rest that lies in a row.
        let rests = scene.layout.rows.iter().flat_map(|row| &row.rests);
        let rests = rests.map(|&rest| &scene.threads.rests[rest]);
        let rests = rests.filter(|rest| rest.colour == colour && rest.from < rest.until);
        assert_eq!(stretches, rests.count(), "{}", mark.name);
        let dash = match mark.dash {
            "" => String::new(),
            dash => format!(";stroke-dasharray:{dash}"),
        };
        let rule =
            format!(".l{colour}{{fill:none;stroke:{};stroke-width:.35{dash}}}", mark.line_on_it);
        assert!(svg.contains(&rule), "{rule}");
    }
}
