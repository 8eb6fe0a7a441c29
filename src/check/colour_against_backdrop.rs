//! A prop that is lost against the backdrop.

use crate::appearance::reading::Differences;
use crate::appearance::vision::Vision;
use crate::diagnostic::Diagnostic;
use crate::measure::appearance::{SetInUse, before_backdrop};
use crate::measure::replacement::look;
use crate::routine::{Cue, NamedColour};

use super::colour_words::{ESTIMATE, instead, light_of, sets_seen, under_more_lights, whom};
use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "colour-against-backdrop",
    what: "Every prop that is juggled is seen against the backdrop, in white light and under the \
           coloured light of each cue.",
    why: "A prop that sinks into what is behind it is lost to the audience, and it is hard to \
          catch what comes out of nowhere.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r##"    backdrop: "#0c7f86",
"##
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    backdrop: "black",
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(backdrop) = &case.routine().backdrop else { return Vec::new() };
    let sets = sets_seen(case);
    let flown = |colour: usize| {
        sets.iter().filter(move |set| !set.sections.is_empty() && set.colours.contains(&colour))
    };
    let mut found = Vec::new();
    for (index, colour) in case.routine().colours.iter().enumerate() {
        let with_it: Vec<&SetInUse> = flown(index).collect();
        let Some(&first) = with_it.first() else { continue };
        let white = in_white(backdrop, colour);
        let Some(mut diagnostic) = white.or_else(|| under_lights(case, backdrop, colour, &with_it))
        else {
            continue;
        };
        diagnostic = diagnostic
            .note_at(backdrop.at.clone(), format!("the backdrop is {}", backdrop.rgb))
            .note(ESTIMATE);
        match look(case.routine(), &sets, first, index) {
            Some(look) if look.under_lights || diagnostic.at == colour.at => {
                diagnostic.helps.push(instead(case, first, &look));
            }
            _ => diagnostic = diagnostic.help("hang another backdrop, or light it less"),
        }
        found.push(diagnostic);
    }
    found
}

/// A colour that is like the backdrop whatever the light.
fn in_white(backdrop: &NamedColour, colour: &NamedColour) -> Option<Diagnostic> {
    let differences = Differences::between(colour.rgb, backdrop.rgb);
    let alike: Vec<Vision> = differences.alike_to().collect();
    if alike.is_empty() {
        return None;
    }
    let name = &colour.name.value;
    let message = if colour.rgb == backdrop.rgb {
        format!("\"{name}\" is the colour of the backdrop, {}", backdrop.rgb)
    } else {
        format!("\"{name}\" is lost against the backdrop to {}", whom(&differences, &alike))
    };
    let code = CHECK.code;
    Some(Diagnostic::warning(code, colour.at.clone(), message).label("like the backdrop"))
}

/// A colour that is like the backdrop under the light of a cue, the first such light first.
fn under_lights(
    case: &Case<'_>,
    backdrop: &NamedColour,
    colour: &NamedColour,
    sets: &[&SetInUse],
) -> Option<Diagnostic> {
    let mut found: Vec<(&Cue, Differences)> = Vec::new();
    for light in sets.iter().flat_map(|set| &set.lights) {
        let Some(differences) = before_backdrop(light, colour.rgb, backdrop.rgb) else { continue };
        if differences.alike_to().next().is_none() {
            continue;
        }
        for (cue, _) in &light.cues {
            let Some(cue) = case.routine().cues.get(*cue) else { continue };
            if !found.iter().any(|(known, _)| known.at == cue.at) {
                found.push((cue, differences));
            }
        }
    }
    let ((cue, differences), more) = found.split_first()?;
    let to = |differences: &Differences| {
        whom(differences, &differences.alike_to().collect::<Vec<Vision>>())
    };
    let message = format!(
        "under {} \"{}\" is lost against the backdrop to {}",
        light_of(cue),
        colour.name.value,
        to(differences)
    );
    let at = cue.light.as_ref()?.at.clone();
    let diagnostic = Diagnostic::warning(CHECK.code, at, message).label("in this light");
    let more = more.iter().map(|(cue, differences)| (*cue, to(differences)));
    let diagnostic = under_more_lights(diagnostic, more);
    Some(diagnostic.note("light, prop and backdrop are multiplied in linear RGB, an approximation"))
}
