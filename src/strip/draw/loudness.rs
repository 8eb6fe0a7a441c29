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
    let sounds = |music: &&Music| music.starts < row.shown.1 && music.ends > row.shown.0;
    let heard = |music: &&Music| music.loudness.is_some();
    let music = scene.music.iter().filter(heard).find(sounds)?;
    let parts = music.known.iter().filter_map(|known| part(scene, row, music, *known));
    parts.reduce(|parts, part| Group::new().add(parts).add(part))
}

/// The same within a stretch of the show clock.
fn part(scene: &Scene, row: &Row, music: &Music, known: (f64, f64)) -> Option<Group> {
    let (loudness, line) = (music.loudness.as_ref()?, row.bands.loudness?);
    let layout = &scene.layout;
    let (from, to) = (known.0.max(row.shown.0), known.1.min(row.shown.1));
    if from >= to {
        return None;
    }
    let step = STEP / layout.second;
    // Steps begin at whole multiples, so that two rows agree on them.
    let first = (from / step).floor();
    let count = ((to - from) / step).ceil() as u32 + 1;
    let mut shape = PathData::default();
    shape.go(layout.x(row, from), line);
    for index in 0..count {
        let (starts, ends) = (first + f64::from(index), first + f64::from(index) + 1.0);
        let (starts, ends) = ((starts * step).max(from), (ends * step).min(to));
        if starts >= ends {
            continue;
        }
        let height = loudness.height(starts - music.starts, ends - music.starts);
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
