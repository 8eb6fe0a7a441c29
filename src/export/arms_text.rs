//! Arms that cross and how throws are made, for a terminal: a part of the timing sheet.

use crate::hand::Hand;
use crate::measure::made::MadeCounts;
use crate::routine::Arms;
use crate::sheet::timing::{JuggledLine, SectionLine, TimingSheet};

use super::heading_text::figure;
use super::table::{Column, NONE, paragraph, table};

const CROSSINGS: &str =
    "A crossing is a change from open arms to crossed, or from one arm above to the other.";
const WAYS: &str = "Only throws whose way is written are counted; a transition's have none.";

/// The table of crossings and ways; nothing where the routine has neither.
pub(super) fn arms_and_ways(sheet: &TimingSheet, width: u16) -> String {
    let (has_arms, has_ways) = (sheet.has_arms, sheet.has_ways);
    if !has_arms && !has_ways {
        return String::new();
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (section, juggled) in juggled(sheet) {
        let arms = arms(juggled);
        let made = juggled.made.as_ref();
        rows.push(row(section.name.clone(), has_arms, arms, juggled.crossings, made));
    }
    let (all, none) = ("IN ALL".to_owned(), NONE.to_owned());
    rows.push(row(all, has_arms, none, sheet.crossings, sheet.made.as_ref()));
    let mut columns = vec![(Column::Words, "section")];
    if has_arms {
        columns.extend([(Column::Words, "arms"), (Column::Figure, "crossings")]);
    }
    if has_ways {
        columns.extend([(Column::Label, "left hand"), (Column::Label, "right hand")]);
    } else {
        rows.iter_mut().for_each(|row| row.truncate(columns.len()));
    }
    let heading = match (has_arms, has_ways) {
        (true, true) => "ARMS AND WAYS · how often arms cross, and how each hand's throws are made",
        (true, false) => "ARMS · how often they cross",
        (false, _) => "WAYS · how each hand's throws are made",
    };
    let mut text = format!("{heading}\n") + &table(width, &columns, rows);
    let notes = [
        if has_arms { CROSSINGS.to_owned() } else { String::new() },
        if has_ways { WAYS.to_owned() } else { String::new() },
        at_rest_crossed(sheet),
    ];
    let notes: Vec<String> = notes.into_iter().filter(|note| !note.is_empty()).collect();
    text += &paragraph(width, 0, &notes.join(" "));
    text
}

fn juggled(sheet: &TimingSheet) -> impl Iterator<Item = (&SectionLine, &JuggledLine)> {
    sheet.sections.iter().filter_map(|section| Some((section, section.juggled.as_ref()?)))
}

fn row(
    name: String,
    has_arms: bool,
    arms: String,
    crossings: Option<u32>,
    made: Option<&MadeCounts>,
) -> Vec<String> {
    let mut row = vec![name];
    if has_arms {
        row.extend([arms, figure(crossings)]);
    }
    row.extend(Hand::BOTH.map(|hand| {
        let Some(made) = made else { return String::new() };
        let ways: Vec<String> = made[hand.index()]
            .iter()
            .map(|(made, times)| format!("{} ×{times}", made.words()))
            .collect();
        if ways.is_empty() { NONE.to_owned() } else { ways.join("\n") }
    }));
    row
}

/// Where the arms are at its two ends.
fn arms(juggled: &JuggledLine) -> String {
    match juggled.arms {
        (Arms::Open, Arms::Open) if juggled.crossings == Some(0) => "open".to_owned(),
        // Where its beats are not known, neither is where it ends.
        (first, _) if juggled.beats.is_none() => first.words().to_owned(),
        (first, last) => format!("{} to {}", first.words(), last.words()),
    }
}

/// Which sections start from rest, or gather, with crossed arms.
fn at_rest_crossed(sheet: &TimingSheet) -> String {
    let mut said = Vec::new();
    for (section, juggled) in juggled(sheet) {
        let (first, last) = juggled.arms;
        if juggled.starts_cold && first != Arms::Open {
            said.push(format!("\"{}\" starts cold with {}.", section.name, first.phrase()));
        }
        if juggled.ends_run && last != Arms::Open {
            said.push(format!(
                "\"{}\" ends with {}: its props are gathered in crossed arms.",
                section.name,
                last.phrase()
            ));
        }
    }
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use crate::export::{timing_json, timing_text};

    fn sheets(says: &str) -> (String, serde_json::Value) {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: [\
             Pause(name: \"p\", lasts: For(\"0:02\")),\
             Juggle(name: \"plain\", set: \"s\", pattern: \"3\", lasts: Beats(6)), \
             Juggle(name: \"weave\", pattern: \"441\", lasts: Cycles(4){says})])"
        );
        let opened = crate::open(&text);
        assert_eq!(opened.diagnostics, []);
        let act = opened.finished().unwrap();
        let json = timing_json::json(act);
        (timing_text::text(act, 80), serde_json::from_str(&json).unwrap())
    }

    #[test]
    fn a_routine_without_arms_and_ways_has_no_such_table() {
        let (text, json) = sheets("");
        assert!(!text.contains("ARMS") && !text.contains("WAYS"), "{text}");
        assert_eq!(json["crossings"], 0);
        assert_eq!(json["made"], serde_json::json!({ "right": {}, "left": {} }));
        assert_eq!(json["sections"][0]["crossings"], serde_json::Value::Null);
        assert_eq!(json["sections"][0]["made"], serde_json::Value::Null);
    }

    #[test]
    fn crossings_and_ways_are_counted_by_section_and_in_all() {
        let (text, json) =
            sheets(", arms: [Open, RightOver, LeftOver], made: { 1: UnderLeg, 3: BehindBack }");
        assert!(text.lines().all(|line| line.width() <= 80), "{text}");
        let (_, table) = text.split_once("ARMS AND WAYS").unwrap();
        insta::assert_snapshot!(table.split_once("CATCHES").unwrap().0);
        let made = serde_json::json!({
            "right": { "behind-back": 2, "under-leg": 2 }, "left": { "behind-back": 2, "under-leg": 2 }
        });
        assert_eq!((&json["sections"][2]["made"], &json["made"]), (&made, &made));
        assert_eq!((&json["sections"][2]["crossings"], &json["crossings"]), (&8.into(), &8.into()));
        assert_eq!(json["sections"][1]["crossings"], 0);
    }

    #[test]
    fn only_what_the_routine_has_is_tabulated() {
        let (arms, _) = sheets(", arms: [Open, RightOver, Open]");
        assert!(arms.contains("ARMS · how often they cross"), "{arms}");
        assert!(!arms.contains("gathered in crossed arms"), "{arms}");
        let (ways, _) = sheets(", made: { 2: OverTop }");
        assert!(ways.contains("WAYS · ") && !ways.contains("crossings"), "{ways}");
        assert!(ways.contains("over the top ×2"), "{ways}");
    }
}
