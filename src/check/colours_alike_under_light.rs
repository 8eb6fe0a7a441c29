//! Two colours that a section tells apart and that a cue's coloured light makes alike.

use crate::appearance::reading::Differences;
use crate::appearance::vision::Vision;
use crate::appearance::{Linear, Rgb};
use crate::diagnostic::words::all_of;
use crate::diagnostic::{Diagnostic, Edit, Help};
use crate::measure::appearance::{LightInUse, SetInUse};
use crate::measure::replacement::in_set;
use crate::measure::told_apart::ToldApart;
use crate::routine::Cue;

use super::colour_words::{
    ESTIMATE, MOST_NAMED, instead, light_of, sets_seen, under_more_lights, whom,
};
use super::colours_look_alike::pairs;
use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "colours-alike-under-light",
    what: "Colours that a section tells apart are told apart under the coloured light of each cue \
           in which it is juggled.",
    why: "Under red light a white ball is a red ball, and a prop under light of the complementary \
          colour goes dark.",
    raises: example!(
        r##"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            loading: Hands(right: ["teal", "pearl"], left: ["coral"]), shows: { 2: ["coral"] }),
"##,
        r##"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "red back", count: 1,
            light: "#ff1010"),
    ],
"##
    ),
    mended: example!(
        r##"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            loading: Hands(right: ["teal", "pearl"], left: ["coral"]), shows: { 2: ["coral"] }),
"##,
        r##"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "rose back", count: 1,
            light: "#ffb0b0"),
    ],
"##
    ),
    finds: Finds::Timed(find),
};

/// A light under which a pair is alike.
struct Found<'a> {
    light: &'a LightInUse,
    differences: Differences,
    /// To whom it is alike under this light and not already in white light.
    who: Vec<Vision>,
}

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let sets = sets_seen(case);
    let mut found = Vec::new();
    for set in &sets {
        for (told, sections) in pairs(set) {
            let lights: Vec<Found<'_>> = set
                .lights
                .iter()
                .filter(|light| sections.iter().any(|&section| light.lights(section)))
                .filter_map(|light| alike(case, told, light))
                .collect();
            found.extend(diagnostic(case, &sets, set, told, &sections, &lights));
        }
    }
    found
}

/// Whether a light makes a pair alike to somebody who tells it apart in white light.
fn alike<'a>(case: &Case<'_>, told: &ToldApart, light: &'a LightInUse) -> Option<Found<'a>> {
    let [one, two] = [told.shown, told.other].map(|colour| case.routine().colours[colour].rgb);
    let (differences, who) = newly_alike(one, two, light.light);
    (!who.is_empty()).then_some(Found { light, differences, who })
}

/// How a pair differs under a light, and to whom only that makes it alike.
fn newly_alike(one: Rgb, two: Rgb, light: Rgb) -> (Differences, Vec<Vision>) {
    let already: Vec<Vision> = Differences::between(one, two).alike_to().collect();
    let under = Differences::under(light, one, two);
    let who = under.alike_to().filter(|vision| !already.contains(vision)).collect();
    (under, who)
}

fn diagnostic(
    case: &Case<'_>,
    sets: &[SetInUse],
    set: &SetInUse,
    told: &ToldApart,
    sections: &[usize],
    lights: &[Found<'_>],
) -> Option<Diagnostic> {
    let colour = |index: usize| &case.routine().colours[index];
    let [one, two] = [told.shown, told.other].map(|index| &colour(index).name.value);
    // The cues of these lights in which a section tells the pair apart, by their GO.
    let cues: Vec<(&Found<'_>, &Cue)> = lights
        .iter()
        .flat_map(|found| {
            let in_it = found
                .light
                .cues
                .iter()
                .filter(|(_, flown)| flown.iter().any(|section| sections.contains(section)));
            in_it.filter_map(move |(cue, _)| Some((found, case.routine().cues.get(*cue)?)))
        })
        .collect();
    let ((first, cue), more) = cues.split_first()?;
    let message = format!(
        "under {} \"{one}\" and \"{two}\" of \"{}\" look alike to {}",
        light_of(cue),
        case.routine().sets[set.set].name.value,
        whom(&first.differences, &first.who)
    );
    let at = cue.light.as_ref()?.at.clone();
    let mut diagnostic = Diagnostic::warning(CHECK.code, at, message).label("in this light");
    let more = more.iter().map(|(found, cue)| (*cue, whom(&found.differences, &found.who)));
    diagnostic = under_more_lights(diagnostic, more);
    let name = sections.first().map(|&section| &case.section(section).name.value)?;
    diagnostic = diagnostic
        .note_at(told.at.clone(), format!("\"{name}\" shows {one} here"))
        .note("light and prop are multiplied in linear RGB, each light alone, an approximation")
        .note(ESTIMATE);
    diagnostic.helps.push(paler(colour(told.shown).rgb, colour(told.other).rgb, &cues));
    if let Some(found) =
        in_set(case.routine(), sets, set, &[told.other, told.shown]).filter(|it| it.under_lights)
    {
        diagnostic.helps.push(instead(case, set, &found));
    }
    Some(diagnostic)
}

/// The same lights with as much white in them as keeps a pair apart.
fn paler(one: Rgb, two: Rgb, cues: &[(&Found<'_>, &Cue)]) -> Help {
    let mut edits: Vec<Edit> = Vec::new();
    let mut looks: Vec<String> = Vec::new();
    for (_, cue) in cues {
        let Some(light) = &cue.light else { continue };
        let mixed = (1..=10).map(|tenths| whiter(light.rgb, f64::from(tenths) / 10.0));
        let pale = mixed.into_iter().find(|pale| newly_alike(one, two, *pale).1.is_empty());
        // At the last step the light is white, in which nothing is newly alike.
        let Some(pale) = pale else { continue };
        if !looks.contains(&pale.to_string()) {
            looks.push(pale.to_string());
        }
        edits.push(Edit { at: light.at.clone(), insert: format!("\"{pale}\"") });
    }
    edits.sort_by(|a, b| a.at.cmp(&b.at));
    if looks.len() > MOST_NAMED {
        return Help::new(
            "take paler lights, each with as much white as keeps the two apart",
            edits,
        );
    }
    let looks = all_of(&looks);
    Help::new(format!("take a paler light, such as {looks}: it keeps the two apart"), edits)
}

/// A light with a part of white in it.
fn whiter(light: Rgb, white: f64) -> Rgb {
    let part = light.linear() * (1.0 - white);
    Rgb::nearest_to(part + Linear::new(white, white, white))
}
