//! The repairs on the colour sheet, made and looked at again.

use serde_json::Value;

use crate::difference;
use crate::offers::changed;
use crate::said::failures::Failure;
use crate::said::{Said, Wanted, diagnostics, said};

/// Makes every repair that is a change of the text. Its edits stand with the same words beside the
/// colour that is not shown.
pub(crate) fn judge(text: &str, before: &Said) -> Vec<Failure> {
    let Some(colours) = &before.colours else { return Vec::new() };
    let helps: Vec<&Value> = diagnostics(&before.check)
        .iter()
        .flat_map(|one| one["helps"].as_array().into_iter().flatten())
        .filter(|help| help["edits"].as_array().is_some_and(|edits| !edits.is_empty()))
        .collect();
    let mut failures = Vec::new();
    for repair in colours["repairs"].as_array().into_iter().flatten() {
        let what = repair["what"].as_str().unwrap_or_default();
        // A sentence begins with a great letter, the sheet's words with a small one.
        let rest = what.get(1..).unwrap_or_default();
        let help =
            helps.iter().find(|help| help["text"].as_str().is_some_and(|text| text.contains(rest)));
        let mut fail = |kind: &str, detail: String| {
            let detail = format!("{repair:#}\n{detail}");
            failures.push(Failure::new(format!("a repair {kind}"), detail));
        };
        let Some(help) = help else {
            fail("that no message offers", format!("{helps:#?}"));
            continue;
        };
        let edits = help["edits"].as_array().map_or(&[][..], Vec::as_slice);
        let after = said(&changed(text, edits), Wanted::All);
        // With another error elsewhere the times are not all known.
        let Some(difference) = difference::of(before, &after) else { continue };
        let unmet = |said: &Said| {
            let unmet = said.colours.as_ref().and_then(|one| one["unmet"].as_array().map(Vec::len));
            unmet.unwrap_or(0)
        };
        if unmet(&after) >= unmet(before) {
            fail("that brings nothing about", String::new());
        }
        let adds = repair["adds_s"].as_f64().unwrap_or(0.0);
        if (adds - difference.adds_s).abs() > 1e-6 {
            fail("that says another time than it adds", format!("{difference:?}"));
        }
        if repair["flips_lead"] != difference.flips_lead {
            fail("that does not flip the lead as it says", format!("{difference:?}"));
        }
        let told = repair["cues_that_move"].as_array().map_or(0, Vec::len);
        if told != difference.cues_that_move.len() {
            fail("that does not move the cues that it says", format!("{difference:?}"));
        }
    }
    failures
}
