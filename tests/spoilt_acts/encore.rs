//! The colours of an encore stand on the colour sheet as those of the act do.

use serde_json::Value;

use crate::said::{Said, Wanted, said};

fn act(encore: &str) -> Said {
    said(
        &format!(
            "Routine(
    title: \"Act\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
    sets: {{
        \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]),
        \"clubs\": Set(kind: Club, length: 0.5, colours: [\"teal\", \"coral\", \"pearl\"]),
    }},
    score: [Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20))],
    encore: Encore(score: [{encore}]),
)
"
        ),
        Wanted::All,
    )
}

/// Every object of a document that has these fields.
fn with<'v>(document: &'v Value, fields: &[(&str, &str)]) -> Vec<&'v Value> {
    let below: Vec<&Value> = match document {
        Value::Object(of) => of.values().collect(),
        Value::Array(of) => of.iter().collect(),
        _ => Vec::new(),
    };
    let is_it =
        document.is_object() && fields.iter().all(|(name, value)| document[*name] == *value);
    let own = is_it.then_some(document);
    own.into_iter().chain(below.into_iter().flat_map(|one| with(one, fields))).collect()
}

fn colours(said: &Said) -> &Value {
    said.colours.as_ref().unwrap_or_else(|| panic!("{:#}", said.check))
}

#[test]
fn the_loading_found_for_an_encore_is_on_the_colour_sheet() {
    let said =
        act("Pause(name: \"back\", lasts: For(\"0:05\")), Juggle(name: \"last\", set: \"clubs\", \
         pattern: \"531\", lasts: Cycles(6), loading: Found, shows: { 2: [\"teal\"] })");
    assert_eq!(said.check["errors"], 0, "{:#}", said.check);
    let colours = colours(&said);
    assert_eq!(with(colours, &[("before", "last"), ("came", "found")]).len(), 1, "{colours:#}");
    assert!(!with(colours, &[("name", "last"), ("pattern", "531")]).is_empty(), "{colours:#}");
    assert_eq!(with(colours, &[("section", "last")]).len(), 2, "asked and chosen: {colours:#}");
}

#[test]
fn what_an_encore_asks_for_and_does_not_get_is_said_on_the_colour_sheet() {
    // All props of 441 go the same way.
    let said =
        act("Pause(name: \"back\", lasts: For(\"0:05\")), Juggle(name: \"last\", set: \"clubs\", \
         pattern: \"441\", lasts: Cycles(6), shows: { 2: [\"teal\"] })");
    let colours = colours(&said);
    assert_eq!(colours["possible"], false);
    let unmet = with(colours, &[("section", "last")]);
    assert!(unmet.iter().any(|one| one["met"] == false), "{colours:#}");
    assert!(unmet.iter().any(|one| one["reason"].is_string()), "{colours:#}");
}
