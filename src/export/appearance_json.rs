//! How the colours read, as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Differences are CIEDE2000, in full.

use serde::Serialize;

use crate::act::Act;
use crate::appearance::reading::{Differences, Verdict};
use crate::appearance::vision::Vision;
use crate::sheet::appearance::{
    AgainstLine, AppearanceSheet, ColourLine, LightLine, PairLine, SetLine, compose,
};

use super::json::written;

/// The sheet of colours, to stand alone or inside another document.
#[derive(Serialize)]
pub struct Document {
    title: String,
    draft: usize,
    unissued_changes: Option<bool>,
    backdrop: Option<Colour>,
    sets: Vec<Set>,
}

#[derive(Serialize)]
struct Colour {
    name: String,
    rgb: String,
}

#[derive(Serialize)]
struct Set {
    name: String,
    juggled: bool,
    colours: Vec<Colour>,
    pairs: Vec<Pair>,
    against_backdrop: Vec<Against>,
    lights: Vec<Light>,
}

#[derive(Serialize)]
struct Pair {
    colours: [String; 2],
    usual: f64,
    protan: f64,
    deutan: f64,
    tritan: f64,
    verdict: &'static str,
    told_apart_in: Vec<String>,
}

#[derive(Serialize)]
struct Against {
    colour: String,
    usual: f64,
    protan: f64,
    deutan: f64,
    tritan: f64,
    verdict: &'static str,
    contrast: Option<f64>,
}

#[derive(Serialize)]
struct Light {
    cues: Vec<String>,
    light: String,
    sections: Vec<String>,
    pairs: Vec<Pair>,
    against_backdrop: Vec<Against>,
}

/// The sheet of colours as JSON.
#[must_use]
pub fn json(act: &Act) -> String {
    written(&document(&compose(act)))
}

/// A composed sheet as a document, to stand inside another.
#[must_use]
pub fn document(sheet: &AppearanceSheet) -> Document {
    let AppearanceSheet { heading, lights_known: _, backdrop, sets } = sheet.clone();
    Document {
        title: heading.title,
        draft: heading.errors,
        unissued_changes: heading.unissued,
        backdrop: backdrop.map(colour),
        sets: sets.into_iter().map(set).collect(),
    }
}

fn colour(line: ColourLine) -> Colour {
    Colour { name: line.name, rgb: line.rgb.to_string() }
}

fn set(line: SetLine) -> Set {
    Set {
        name: line.name,
        juggled: line.is_juggled,
        colours: line.colours.into_iter().map(colour).collect(),
        pairs: line.pairs.into_iter().map(pair).collect(),
        against_backdrop: line.against.into_iter().map(against).collect(),
        lights: line.lights.into_iter().map(light).collect(),
    }
}

fn light(line: LightLine) -> Light {
    Light {
        cues: line.cues,
        light: line.light.rgb.to_string(),
        sections: line.sections,
        pairs: line.pairs.into_iter().map(pair).collect(),
        against_backdrop: line.against.into_iter().map(against).collect(),
    }
}

fn pair(line: PairLine) -> Pair {
    let to = |vision| line.differences.to(vision);
    Pair {
        usual: to(Vision::Usual),
        protan: to(Vision::Protan),
        deutan: to(Vision::Deutan),
        tritan: to(Vision::Tritan),
        verdict: verdict(&line.differences),
        colours: [line.first, line.second],
        told_apart_in: line.told_apart_in,
    }
}

fn against(line: AgainstLine) -> Against {
    let to = |vision| line.differences.to(vision);
    Against {
        usual: to(Vision::Usual),
        protan: to(Vision::Protan),
        deutan: to(Vision::Deutan),
        tritan: to(Vision::Tritan),
        verdict: verdict(&line.differences),
        contrast: line.contrast,
        colour: line.colour,
    }
}

fn verdict(differences: &Differences) -> &'static str {
    match differences.verdict() {
        Verdict::Alike => "alike",
        Verdict::Close => "close",
        Verdict::Reads => "reads",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_finds_every_pair_its_figures_and_the_light() {
        let opened = crate::open(include_str!("../../routines/night-ferry.ron"));
        let text = json(opened.finished().unwrap());
        let read: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert!(text.ends_with("}\n") && text.lines().count() == 1);
        assert_eq!(read["backdrop"]["rgb"], "#0e1420");
        let five = &read["sets"][1];
        assert_eq!(five["pairs"].as_array().unwrap().len(), 6, "four colours");
        let pair = &five["pairs"][2];
        assert_eq!(pair["colours"], serde_json::json!(["buoy", "weed"]));
        assert_eq!(pair["verdict"], "alike");
        assert!((pair["protan"].as_f64().unwrap() - 7.6).abs() < 0.05, "{pair}");
        assert_eq!(read["sets"][0]["pairs"][0]["told_apart_in"], serde_json::json!(["gulls"]));
        let green = &five["lights"][1];
        assert_eq!(green["cues"], serde_json::json!(["LX 30"]));
        assert_eq!(green["light"], "#b8f0c8");
        assert_eq!(green["sections"], serde_json::json!(["nets", "hauled in"]));
        assert!(green["against_backdrop"][0]["contrast"].is_null());
    }
}
