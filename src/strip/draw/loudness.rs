//! How loud the music is: a silhouette below the hands, on the same time.

use svg::node::element::{Description, Group};

use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::music::Music;
use super::super::paper::LOUDEST;
use super::super::scene::Scene;
use super::{path, ruler, titled, words};

/// From one height to the next along the row.
const STEP: Mm = Mm(0.6);

/// The silhouette, where the music was heard.
pub(in super::super) fn silhouette(scene: &Scene, row: &Row) -> Option<Group> {
    // Where the track is not known, neither is how loud it is.
    let sounds = |music: &&Music| {
        music.known.iter().any(|known| known.0 < row.shown.1 && known.1 > row.shown.0)
    };
    let heard: Vec<&Music> =
        scene.music.iter().filter(|music| music.loudness.is_some()).filter(sounds).collect();
    let line = row.bands.loudness?;
    let layout = &scene.layout;
    let known = || heard.iter().flat_map(|music| &music.known);
    let from = known().map(|known| known.0).reduce(f64::min)?.max(row.shown.0);
    let to = known().map(|known| known.1).reduce(f64::max)?.min(row.shown.1);
    if from >= to {
        return None;
    }
    let step = STEP / layout.second;
    let mut shape = PathData::default();
    shape.go(layout.x(row, from), line);
    let windows = row.parts((from, to)).into_iter().flat_map(|(from, to)| {
        // Steps begin at whole multiples, so that two rows agree on them.
        let first = (from / step).floor();
        let count = ((to - from) / step).ceil() as u32 + 1;
        (0..count).map(move |index| {
            let starts = first + f64::from(index);
            ((starts * step).max(from), ((starts + 1.0) * step).min(to))
        })
    });
    for (starts, ends) in windows {
        if starts >= ends {
            continue;
        }
        let known =
            |music: &&&Music| music.known.iter().any(|known| known.0 < ends && starts < known.1);
        let heights = heard.iter().filter(known).map(|music| music.height(starts, ends));
        let height = heights.fold(0.0, f64::max);
        shape.down(line - LOUDEST * height).across(layout.x(row, ends));
    }
    shape.down(line).close();
    let mut base = PathData::default();
    base.go(layout.x(row, from), line).across(layout.x(row, to));
    let title =
        format!("loudness of the music from {} to {}", ruler::label(from), ruler::label(to));
    let described = "The higher, the louder: from 40 decibels below the loudest moment of the \
                     track at the line to that moment at the top.";
    let label = words("loudness", layout.x(row, from) - Mm(1.5), line, "q r");
    Some(
        titled(title)
            .add(Description::new().add(svg::node::Text::new(described)))
            .add(path(shape, "l"))
            .add(path(base, "Y"))
            .add(label),
    )
}
