//! The cue page: what it says is what the sheet in text says, and everything stands on paper.
#![allow(missing_docs, dead_code)]

mod pages;
mod written;

use std::collections::BTreeSet;

use pages::{Line, faults};
use throwbook::export::{cues_page, cues_text};
use throwbook::sheet::cues::{CueSheet, compose};
use written::score;

fn words(text: &str) -> BTreeSet<String> {
    let bare = |word: &str| word.trim_matches(['•', '─', '═', '(', ')']).to_owned();
    // Two ends stand one below the other on the page.
    text.replace('–', "– ").split_whitespace().map(bare).filter(|word| !word.is_empty()).collect()
}

/// The pages of a document on which everything stands as it should.
fn pages(html: &str) -> Vec<Vec<Line>> {
    let pages = pages::read(html);
    for page in &pages {
        assert_eq!(faults(page), Vec::<String>::new(), "{}", page.name);
    }
    pages.into_iter().map(|page| page.lines).collect()
}

fn sheet(text: &str) -> CueSheet {
    compose(throwbook::open(text).act.as_ref().unwrap(), None)
}

#[test]
fn every_routine_that_ships_says_on_the_page_what_it_says_in_text() {
    for (path, text) in pages::shipped() {
        let all = sheet(&text);
        let crews = all.crews();
        for sheet in crews.into_iter().map(|crew| all.of_crew(crew)).chain([all.clone()]) {
            let html = cues_page::of_sheet(&sheet);
            let pages = pages(&html);
            let of = pages.len();
            for (index, page) in pages.iter().enumerate() {
                let foot = format!("{} · page {} of {of}", sheet.heading.issue_words(), index + 1);
                assert!(page.iter().any(|line| line.words == foot), "{page:?}");
            }
            let lines: Vec<String> = pages.into_iter().flatten().map(|line| line.words).collect();
            let on_page = words(&lines.join(" "));
            let text = cues_text::of_sheet(&sheet, 200);
            // A stand-by may stand in the row of its cue, without its bar.
            let rows = text.lines().filter(|line| !line.contains("STAND BY "));
            let in_text = words(&rows.collect::<Vec<_>>().join("\n"));
            let missing: Vec<&String> = in_text.difference(&on_page).collect();
            // In text a stand-by in its cue's row is a note; on the page it has a column.
            let of_note = ["stand", "by", "at", "and", "GO", "1–"].map(str::to_owned);
            // Sections that share a row to save room are told in short.
            let sections = sheet.parts().flat_map(|(part, _)| &part.sections);
            let of_sections: Vec<String> = sections.map(|section| section.words()).collect();
            let in_short = words(&of_sections.join(" "));
            let missing: Vec<_> = missing
                .into_iter()
                .filter(|word| !of_note.contains(word) && !in_short.contains(*word))
                .collect();
            assert!(missing.is_empty(), "{}: {missing:?}", path.display());
        }
    }
}

#[test]
fn the_number_is_the_largest_in_its_row_and_a_row_is_never_parted() {
    let mut cues = String::new();
    let mut sections = String::new();
    for number in 1..=200 {
        sections += &format!("Pause(name: \"rest {number}\", lasts: For(\"0:03\")),");
        if number % 3 > 0 {
            cues += &format!(
                "Cue(crew: Light, number: {number}, at: Start(\"rest {number}\"), trigger: Called, \
                 does: \"a word or two that wrap about and then a few more\", count: 1),"
            );
        }
    }
    let mut written = score(&sections);
    written.zero = "Start(\"rest 1\")".to_owned();
    written.after = format!("cues: [{cues}],");
    let sheet = sheet(&written.text());
    let html = cues_page::of_sheet(&sheet);
    let pages = pages(&html);
    assert!(pages.len() > 6);
    let mut numbers = Vec::new();
    for page in &pages {
        let largest = page.iter().map(|line| line.size).fold(0.0, f64::max);
        for (index, line) in page.iter().enumerate() {
            let is_number = line.size == largest && line.words.parse::<u32>().is_ok();
            if !is_number {
                continue;
            }
            numbers.push(line.words.clone());
            // What is done, in whole, on the same page.
            let rest: Vec<&str> =
                page[index..].iter().take(9).map(|line| line.words.as_str()).collect();
            let done = "a word or two that wrap about and then a few more";
            assert!(rest.join(" ").contains(done), "{rest:?}");
        }
        // The last section of a page has its cue there, if it has one.
        let last = page.iter().rev().find(|line| line.words.contains("\"rest ") && !line.bold);
        if let Some(last) = last {
            let number = last.words.rsplit("\"rest ").next().unwrap();
            let number = number.split('"').next().unwrap();
            let has_cue = number.parse::<u32>().unwrap() % 3 > 0;
            assert!(!has_cue || page.iter().any(|line| line.words == number), "{number}");
        }
    }
    let expected: Vec<String> =
        (1..=200).filter(|number| number % 3 > 0).map(|number| number.to_string()).collect();
    assert_eq!(numbers, expected);
}

#[test]
fn a_cue_longer_than_a_page_is_all_there_and_a_users_text_is_never_markup() {
    let long: Vec<String> = (0..240).map(|number| format!("word{number}")).collect();
    let mut written = score("Pause(name: \"on\", lasts: For(\"0:30\")),");
    written.zero = "Start(\"on\")".to_owned();
    written.after = format!(
        "cues: [Cue(crew: Light, number: 5, at: At(\"0:05\"), trigger: See(\"{}\"), does: \"{}\", \
         count: 1), Cue(crew: Deck, number: 100.5, at: At(\"0:06\"), trigger: Called, \
         does: \"<script>a & b</script>\"), Cue(crew: House, at: At(\"0:08\"), trigger: \
         See(\"\"), does: \"\"), Cue(crew: Sound, number: 7, trigger: With(Light(5)), does: \"{}\")],",
        "neverending".repeat(20),
        long.join(" "),
        // Beside the bracket of a group, in digits that no row has room for.
        "1".repeat(1_900)
    );
    let sheet = sheet(&written.text());
    let html = cues_page::of_sheet(&sheet);
    assert!(!html.contains("<script") && html.contains("&lt;script&gt;a &amp; b&lt;/script&gt;"));
    let pages = pages(&html);
    assert!(pages.len() > 2, "{}", pages.len());
    let lines: Vec<String> = pages.into_iter().flatten().map(|line| line.words).collect();
    let on_page = words(&lines.join(" "));
    assert!(long.iter().all(|word| on_page.contains(word)));
    assert_eq!(lines.iter().filter(|line| *line == "100.5").count(), 1);
}

#[test]
fn an_act_without_cues_and_a_draft_say_so_on_every_page() {
    let mut written = score("Pause(name: \"on\", lasts: For(\"0:30\")),");
    written.zero = "Start(\"on\")".to_owned();
    let html = cues_page::of_sheet(&sheet(&written.text()));
    assert!(html.contains("No cues in the act.") && !html.contains("DRAFT"), "{html}");
    written.after =
        "cues: [Cue(crew: Light, number: 5, trigger: Follow(9, Go, 1), does: \"a\")],".to_owned();
    let html = cues_page::of_sheet(&sheet(&written.text()));
    for page in pages(&html) {
        assert!(page.iter().any(|line| line.words.starts_with("DRAFT: ")), "{page:?}");
    }
}
