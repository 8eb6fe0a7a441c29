//! Pages for the venue, the host, the contest's desk and the floor: everything stands on paper, nothing
//! is smaller than it may be, and the two sides of a card match.
#![allow(missing_docs, dead_code)]

mod pages;

use std::fs;

use pages::{Page, faults};
use throwbook::act::Act;
use throwbook::export::{cards_page, moves_page, slip_page, venue_page};
use throwbook::paper::{Document, Paper, Part, Size, html};

type Pages = fn(&Act, &Paper) -> Part;

const SHEETS: [(&str, Pages); 4] = [
    ("venue page", venue_page::pages),
    ("practice cards", cards_page::pages),
    ("running order slip", slip_page::pages),
    ("list of moves", moves_page::pages),
];

/// The pages of a sheet, read back; every one of them is without fault.
fn read(act: &Act, pages: Pages, size: Size) -> Vec<Page> {
    let html = html(&Document::of(String::new(), pages(act, &Paper::new(size))));
    let pages = pages::read(&html);
    for page in &pages {
        assert_eq!(faults(page), Vec::<String>::new(), "{size:?} {}", page.name);
    }
    pages
}

fn open(text: &str) -> Act {
    let opened = throwbook::open(text);
    opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
}

fn shipped() -> Vec<Act> {
    pages::shipped().into_iter().map(|(_, text)| open(&text)).collect()
}

/// An act of that title with these colours of its one set, this score and the rest.
fn act(title: &str, colours: &[&str], score: &str, rest: &str) -> Act {
    let written: Vec<String> = colours.iter().map(|colour| format!("{colour:?}")).collect();
    let mut palette: Vec<String> = Vec::new();
    for (colour, shade) in
        written.iter().zip(["red", "white", "gold", "teal", "navy"].iter().cycle())
    {
        if palette.iter().all(|known| !known.starts_with(&format!("{colour}:"))) {
            palette.push(format!("{colour}: {shade:?}"));
        }
    }
    open(&format!(
        "Routine(title: {title:?}, tempo: PerMinute(200), zero: FirstThrow, backdrop: \"black\", \
         colours: {{ {} }}, sets: {{ \"set\": Set(kind: Torch, length: 0.6, colours: [{}]) }}, \
         score: [{score}], {rest})",
        palette.join(", "),
        written.join(", ")
    ))
}

fn awkward() -> Vec<Act> {
    let long = "a name that goes on for a very long time ".repeat(5);
    let word = "w".repeat(200);
    let hebrew = "אחת שתיים שלוש ארבע חמש שש שבע שמונה תשע";
    let devanagari = "नमस्ते दुनिया यह एक लंबा नाम है";
    let nine = ["a", "b", "c", "d", "e", "a", "b", "c", "d"];
    let juggle = |name: &str, pattern: &str, lasts: &str| {
        format!("Juggle(name: {name:?}, set: \"set\", pattern: \"{pattern}\", lasts: {lasts}),")
    };
    let plan: Vec<String> = ["up right", "up left", "centre", "down centre", "wing", "wing"]
        .iter()
        .cycle()
        .take(100)
        .map(|place| format!("({place:?}, {:?})", &word[..40]))
        .collect();
    let says = "the floor of the stage, said at length; ".repeat(50);
    let full = format!(
        "venue: Venue(performers: 100, helpers: 0, width: 0.5, depth: 100, floor: {says:?}, light: \
         {hebrew:?}, power: {word:?}, plan: [{}], fuel: {devanagari:?}, haze: Made({long:?}), intro: \
         {says:?}, contact: \"<b>&\\\"=1\\u{{202e}}\\u{{1f600}}\")",
        plan.join(", ")
    );
    let pause = "Pause(name: \"in\", lasts: For(\"0:05\")),";
    let open_length =
        "Pause(name: \"wait\", lasts: Between(\"0:02\", \"0:09\"), place: \"up left\"),";
    let three = ["a", "b", "c"];
    let many: String = (0..30)
        .map(|number| juggle(&format!("section {number} of a long act"), "531", "Cycles(8)"))
        .collect();
    vec![
        act(&long[..200], &three, &juggle(&long[..199], "3", "Beats(1)"), &full),
        act(&word, &three, &juggle(&word, "[333]33", "Cycles(2)"), ""),
        act(hebrew, &three, &juggle(hebrew, "(4,2x)*", "Cycles(3)"), "venue: Venue(plan: [])"),
        act(devanagari, &[devanagari, hebrew, &word], &juggle(devanagari, "51", "Beats(9)"), ""),
        act("Nine", &nine, &juggle("nine", "9", "Beats(90)"), ""),
        act("Nine more", &nine, &juggle("nine", "b97b97b97b97", "Cycles(9)"), ""),
        act("Long", &three, &juggle("long", &"4413".repeat(50), "Cycles(1)"), ""),
        act("Many", &three, &many, ""),
        act("Open", &three, &[pause, open_length, &juggle("a", "3", "Beats(9)")].concat(), ""),
        act("Nothing", &three, pause, ""),
        act(
            "Draft",
            &three,
            &[&juggle("a", "3", "Beats(9)"), "Juggle(name: \"b\", pattern: \"(\")"].concat(),
            "",
        ),
        act(
            "Encore",
            &three,
            &juggle("a", "3", "Beats(9)"),
            &format!("encore: Encore(score: [{pause} {}])", juggle("again", "441", "Cycles(4)")),
        ),
    ]
}

#[test]
fn every_page_of_every_act_is_without_fault_on_both_papers() {
    let mut counted = 0;
    for act in shipped().iter().chain(&awkward()) {
        for (_, sheet) in SHEETS {
            for size in [Size::A4, Size::Letter] {
                let pages = read(act, sheet, size);
                assert!(!pages.is_empty());
                let of = pages.len();
                for (index, page) in pages.iter().enumerate() {
                    let place = format!("page {} of {of}", index + 1);
                    assert!(page.name.ends_with(&place), "{}", page.name);
                }
                counted += of;
            }
        }
    }
    assert!(counted > 150, "{counted}");
}

#[test]
fn a_draft_is_marked_on_every_page_and_every_card() {
    let draft = awkward().into_iter().find(|act| act.errors > 0).unwrap();
    for (name, sheet) in SHEETS {
        for page in read(&draft, sheet, Size::A4) {
            let marks = page.lines.iter().filter(|line| line.words.starts_with("DRAFT")).count();
            let expected = if name == "practice cards" { feet(&page).len() } else { 1 };
            assert_eq!(marks, expected, "{name}: {page:?}");
            assert!(page.name.starts_with("DRAFT"), "{}", page.name);
        }
    }
}

/// Which card stands where: the left half of its foot's end, its upper half, and what it says.
fn feet(page: &Page) -> Vec<(bool, bool, String)> {
    let is_foot = |words: &str| {
        ["section ", "move "].iter().any(|kind| words.starts_with(kind)) && words.contains(" of ")
    };
    let feet =
        page.lines.iter().filter(|line| line.size < 4.0 && line.bold && is_foot(&line.words));
    feet.map(|line| (line.x < page.wide / 2.0, line.y < page.high / 2.0, line.words.clone()))
        .collect()
}

#[test]
fn the_back_of_every_card_lies_behind_its_front() {
    for act in shipped().iter().chain(&awkward()) {
        let pages = read(act, cards_page::pages, Size::A4);
        if act.routine.juggles().next().is_none() {
            continue;
        }
        assert!(pages.len().is_multiple_of(2));
        for sheet in pages.chunks(2) {
            let [front, back] = sheet else { panic!("a sheet has two sides") };
            // Turned over the long edge, left is right.
            let turned = feet(back)
                .into_iter()
                .map(|(is_left, is_upper, words)| (!is_left, is_upper, words));
            let (front, turned): (Vec<_>, Vec<_>) = (feet(front), turned.collect());
            assert!(!front.is_empty());
            assert_eq!(front, turned);
        }
    }
}

#[test]
fn a_front_can_be_read_on_the_floor() {
    for act in shipped() {
        for front in read(&act, cards_page::pages, Size::Letter).iter().step_by(2) {
            let feet: Vec<String> = feet(front).into_iter().map(|(.., words)| words).collect();
            // 28 pt, and the feet's 11 pt.
            let small = front.lines.iter().filter(|line| line.size < 9.87);
            let feet_have = feet.len() * 2;
            assert_eq!(small.count(), feet_have, "{:?}", front.lines);
        }
    }
}

#[test]
fn each_blank_of_the_venue_page_has_a_line_to_write_on_and_says_so() {
    let act = open(&fs::read_to_string("routines/salt-flat.ron").unwrap());
    let html = html(&Document::of(String::new(), venue_page::pages(&act, &Paper::default())));
    for label in ["contact", "floor", "power", "backdrop"] {
        assert!(html.contains(&format!(">\n{label}\n<")), "{label}");
    }
    let blanks = throwbook::sheet::venue::compose(&act);
    let blanks =
        blanks.parts.iter().flat_map(|part| &part.facts).filter(|fact| fact.is_blank()).count();
    assert!(blanks > 10);
    let pages = venue_page::pages(&act, &Paper::default());
    assert_eq!(pages.name, "venue page");
}
