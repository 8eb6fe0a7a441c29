//! The sheet of colours for a terminal: a table for each set, and one for each light on it.

use crate::act::Act;
use crate::appearance::Rgb;
use crate::appearance::reading::{Differences, Verdict};
use crate::appearance::vision::Vision;
use crate::diagnostic::words::all_of;
use crate::sheet::appearance::{
    AgainstLine, AppearanceSheet, ColourLine, LightLine, PairLine, SetLine, compose,
};

use super::heading_text::heading;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, table};

/// How the colours of a routine read, for a terminal `width` columns wide.
#[must_use]
pub fn text(act: &Act, width: u16) -> String {
    of_sheet(&compose(act), width)
}

/// The same of a composed sheet.
#[must_use]
pub fn of_sheet(sheet: &AppearanceSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut text = head(sheet, width);
    for set in &sheet.sets {
        text.push('\n');
        text += &set_text(sheet, set, width);
    }
    if sheet.sets.is_empty() {
        text += "\nNo prop sets.\n";
    }
    text.push('\n');
    text += &paragraph(width, 0, ESTIMATE);
    text
}

const FIGURES: &str = "Differences are CIEDE2000, to usual colour vision and to protan, deutan and \
                       tritan vision at their strongest. Below 10 two colours look ALIKE from a \
                       seat, below 20 they are close, from 20 on they read; the verdict is for \
                       the eyes that tell them apart least.";

const ESTIMATE: &str = "All of this is an estimate. Light and colour are multiplied in linear RGB, \
                        each light alone; lamps, dyes, haze and eyes differ. Try the props under \
                        the real light, from the last row, with people who see colours that way.";

const LIGHTS_UNKNOWN: &str = "An error leaves it unknown under which lights they are juggled.";

const WHITE: Rgb = Rgb { red: 255, green: 255, blue: 255 };

const ONE_COLOUR: &str = "One colour only: there is nothing to tell apart.";

fn head(sheet: &AppearanceSheet, width: u16) -> String {
    let backdrop = match &sheet.backdrop {
        Some(backdrop) => format!("The backdrop is {}.", colour(backdrop)),
        None => "No backdrop is written, so nothing is judged against one.".to_owned(),
    };
    let mut text = heading(&sheet.heading, "how the colours read", width);
    text += &paragraph(width, 0, &backdrop);
    if !sheet.lights_known {
        text += &paragraph(width, 0, LIGHTS_UNKNOWN);
    }
    text.push('\n');
    text + &paragraph(width, 0, FIGURES)
}

/// A colour by its name, and its figures where the name is not just these.
fn colour(line: &ColourLine) -> String {
    let rgb = line.rgb.to_string();
    if line.name.eq_ignore_ascii_case(&rgb) { rgb } else { format!("{} {rgb}", line.name) }
}

fn set_text(sheet: &AppearanceSheet, set: &SetLine, width: u16) -> String {
    let colours: Vec<String> = set.colours.iter().map(colour).collect();
    let mut text = paragraph(width, 0, &format!("SET {} · {}", set.name, colours.join(", ")));
    if !set.is_juggled {
        text += &paragraph(width, 0, "Not juggled in this routine.");
    }
    text.push('\n');
    if set.pairs.is_empty() {
        text += &paragraph(width, 0, ONE_COLOUR);
    } else {
        text += &pair_table("in white light", "told apart in", &set.pairs, width);
    }
    if sheet.backdrop.is_some() && !set.against.is_empty() {
        text.push('\n');
        text += &backdrop_table("against the backdrop", &set.against, width);
    }
    if set.burns {
        text.push('\n');
        let lights = "Burning props are seen by their own flame: no light is judged on them.";
        text += &paragraph(width, 0, lights);
    }
    for light in &set.lights {
        text.push('\n');
        text += &light_text(set, light, width);
    }
    text
}

fn light_text(set: &SetLine, light: &LightLine, width: u16) -> String {
    let mut text = paragraph(
        width,
        0,
        &format!(
            "SET {} UNDER {} · light {} · {}",
            set.name,
            all_of(&light.cues),
            colour(&light.light),
            light.sections.join(", ")
        ),
    );
    text.push('\n');
    if light.light.rgb == WHITE {
        return text + &paragraph(width, 0, "As above: this light is white.");
    }
    if !light.pairs.is_empty() {
        text += &pair_table("in this light", "told apart in", &light.pairs, width);
    }
    if light.pairs.is_empty() && light.against.is_empty() {
        text += &paragraph(width, 0, ONE_COLOUR);
    }
    if !light.against.is_empty() {
        if !light.pairs.is_empty() {
            text.push('\n');
        }
        text += &backdrop_table("against the backdrop", &light.against, width);
    }
    text
}

fn pair_table(what: &str, told: &str, pairs: &[PairLine], width: u16) -> String {
    let rows = pairs.iter().map(|pair| {
        let mut row = vec![format!("{} – {}", pair.first, pair.second)];
        row.extend(figures(&pair.differences));
        row.push(verdict(&pair.differences));
        let sections = pair.told_apart_in.join(", ");
        row.push(if sections.is_empty() { NONE.to_owned() } else { sections });
        row
    });
    table(width, &columns(what, told, Column::Words), rows)
}

fn backdrop_table(what: &str, against: &[AgainstLine], width: u16) -> String {
    let rows = against.iter().map(|line| {
        let mut row = vec![line.colour.clone()];
        row.extend(figures(&line.differences));
        row.push(verdict(&line.differences));
        row.extend(line.contrast.map(|contrast| format!("{contrast:.1} : 1")));
        row
    });
    let mut columns = columns(what, "contrast", Column::Figure);
    if against.iter().all(|line| line.contrast.is_none()) {
        columns.pop();
    }
    table(width, &columns, rows)
}

/// What is compared, a column for each vision, the verdict, and one more.
fn columns<'t>(what: &'t str, last: &'t str, kind: Column) -> Vec<(Column, &'t str)> {
    let mut columns = vec![(Column::Words, what)];
    columns.extend(Vision::ALL.map(|vision| (Column::Figure, vision.word())));
    columns.push((Column::Words, "verdict"));
    columns.push((kind, last));
    columns
}

fn figures(differences: &Differences) -> impl Iterator<Item = String> + use<> {
    Vision::ALL.map(|vision| format!("{:.1}", differences.to(vision))).into_iter()
}

/// The verdict, and to whom where two look alike.
fn verdict(differences: &Differences) -> String {
    let word = differences.verdict().word();
    if differences.verdict() != Verdict::Alike {
        return word.to_owned();
    }
    let who: Vec<&str> = differences.alike_to().map(Vision::word).collect();
    if who.len() == Vision::ALL.len() {
        return format!("{word} to all");
    }
    format!("{word} to {}", who.join(", "))
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;

    /// A routine with a backdrop, two lights and a set that is not juggled.
    const HARBOUR: &str = r##"Routine(
        title: "Harbour Lamps", lead: Right, tempo: PerMinute(200), zero: FirstThrow,
        backdrop: "#101018",
        colours: {
            "brick": "#c05020", "grass": "#7a7d22", "chalk": "#f4f1e6", "pitch": "#15151d",
        },
        sets: {
            "three": Set(kind: Ball, length: 0.072, colours: ["brick", "grass", "chalk"]),
            "spare": Set(kind: Ring, length: 0.32, colours: ["pitch", "pitch"]),
        },
        score: [
            Juggle(name: "quay", set: "three", pattern: "3", lasts: Beats(12)),
            Juggle(name: "beam", pattern: "531", lasts: Cycles(8), shows: { 2: ["grass"] }),
        ],
        cues: [
            Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "red sides", count: 0,
                light: "red"),
            Cue(crew: Light, number: 10, at: Cycle("beam", 4), trigger: Called, does: "blue", count: 2,
                light: "#2040ff"),
            Cue(crew: Light, number: 15, at: LastCatch, trigger: See, does: "white", count: 2,
                light: "white"),
        ],
    )"##;

    fn harbour(width: u16) -> String {
        let opened = crate::open(HARBOUR);
        let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        text(act, width)
    }

    #[test]
    fn the_sheet_of_colours_reads_well_at_80_columns() {
        let text = harbour(80);
        assert!(text.lines().all(|line| line.width() <= 80), "{text}");
        // Nothing flies under the last light.
        assert!(!text.contains("LX 15"), "{text}");
        insta::assert_snapshot!(text);
    }

    #[test]
    fn a_narrow_sheet_says_the_same() {
        let words = |text: &str| text.matches("ALIKE").count();
        assert_eq!(words(&harbour(10)), words(&harbour(200)));
    }
}
