//! Pages to print: what stands on them, and the PDF read back by another program's library.
#![allow(missing_docs)]
#![cfg(feature = "paper")]

mod pages;
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use lopdf::{Dictionary, Object};
use pages::faults;
use throwbook::act::Act;
use throwbook::export::{
    booklet, cards_page, cues_page, moves_page, slip_page, strip_pages, venue_page,
};
use throwbook::paper::{Document, Fonts, Paper, Part, Size, html, pdf};
use throwbook::sheet::cues::compose;
use written::score;

fn shipped(name: &str) -> Act {
    let text = fs::read_to_string(format!("routines/{name}.ron")).unwrap();
    throwbook::open(&text).act.unwrap()
}

/// All sheets of an act.
fn sheets(act: &Act, paper: &Paper) -> Vec<Part> {
    let all = compose(act, None);
    let mut parts = vec![cues_page::pages(&all, paper)];
    parts.extend(all.crews().into_iter().map(|crew| cues_page::pages(&all.of_crew(crew), paper)));
    parts.extend([
        cards_page::pages(act, paper),
        venue_page::pages(act, paper),
        moves_page::pages(act, paper),
        slip_page::pages(act, paper),
    ]);
    parts.extend([strip_pages::pages(act, paper), strip_pages::wall(act, paper)]);
    parts
}

fn booklet_of(act: &Act, paper: &Paper) -> Document {
    booklet::document(act, sheets(act, paper), paper)
}

/// The document read back, and its catalogue.
fn read(document: &Document) -> lopdf::Document {
    lopdf::Document::load_mem(&pdf(document, &Fonts::default()).unwrap()).unwrap()
}

fn get<'a>(of: &'a lopdf::Document, dictionary: &'a Dictionary, key: &[u8]) -> &'a Object {
    let value = dictionary.get(key).unwrap_or_else(|_| panic!("no {key:?} in {dictionary:?}"));
    of.dereference(value).unwrap().1
}

/// How often each kind of element stands in the structure.
fn elements(of: &lopdf::Document, node: &Object, found: &mut BTreeMap<String, usize>) {
    let node = of.dereference(node).unwrap().1;
    match node {
        Object::Array(all) => all.iter().for_each(|one| elements(of, one, found)),
        Object::Dictionary(one) => {
            if let Ok(Object::Name(kind)) = one.get(b"S") {
                *found.entry(String::from_utf8_lossy(kind).into_owned()).or_default() += 1;
            }
            if let Ok(kids) = one.get(b"K") {
                elements(of, kids, found);
            }
        }
        _ => {}
    }
}

#[test]
fn every_sheet_of_every_routine_that_ships_stands_as_it_should() {
    for (path, text) in pages::shipped() {
        let act = throwbook::open(&text).act.unwrap();
        for size in [Size::A4, Size::Letter] {
            let paper = Paper { dated: Some("4 December 2026".to_owned()), ..Paper::new(size) };
            let document = booklet_of(&act, &paper);
            let read = pages::read(&html(&document));
            assert_eq!(read.len(), document.pages().count());
            for page in &read {
                assert_eq!(faults(page), Vec::<String>::new(), "{} {}", path.display(), page.name);
            }
            assert_eq!(document.missing(&paper.fonts), BTreeSet::new());
        }
    }
}

#[test]
fn a_pdf_is_read_back_with_its_pages_texts_typefaces_and_structure() {
    let act = shipped("night-ferry");
    let document = booklet_of(&act, &Paper::default());
    let read = read(&document);
    assert_eq!(read.get_pages().len(), document.pages().count());
    let catalogue = read.catalog().unwrap();
    assert_eq!(get(&read, catalogue, b"Lang").as_str().unwrap(), b"en");
    let marked = get(&read, catalogue, b"MarkInfo").as_dict().unwrap();
    assert!(get(&read, marked, b"Marked").as_bool().unwrap());
    let mut found = BTreeMap::new();
    let tree = get(&read, catalogue, b"StructTreeRoot").as_dict().unwrap();
    elements(&read, get(&read, tree, b"K"), &mut found);
    // One table for the contents and one for each cue sheet, however many pages it runs over.
    let crews = compose(&act, None).crews().len();
    assert!(found["Table"] >= 2 + crews, "{found:?}");
    assert!(found["H1"] >= 2 + crews && found["TH"] >= 8 && found["TR"] > 20, "{found:?}");
    let drawn: usize = document.parts.iter().rev().take(2).map(|part| part.pages.len()).sum();
    assert!(found["Figure"] >= drawn, "{found:?}");
    // Every typeface is in the file, and only those glyphs that are used.
    let fonts = read.objects.values().filter_map(|one| one.as_dict().ok());
    let descriptors: Vec<&Dictionary> = fonts.filter(|one| one.has(b"FontName")).collect();
    assert!(descriptors.len() >= 2);
    for one in descriptors {
        assert!(one.has(b"FontFile2") || one.has(b"FontFile3"), "{one:?}");
        let name = String::from_utf8_lossy(one.get(b"FontName").unwrap().as_name().unwrap());
        assert_eq!(name.find('+'), Some(6), "a subset has a tag before its name: {name}");
    }
    let all: Vec<u32> = read.get_pages().keys().copied().collect();
    let text = read.extract_text(&all[1..5]).unwrap();
    for words in ["Night Ferry", "blackout", "sides up full", "CALLED", "FOLLOW 4.5 s after"] {
        assert!(text.contains(words), "{words} in {text}");
    }
}

#[test]
fn the_front_of_a_card_stands_on_an_odd_page_of_every_booklet() {
    let act = shipped("kiln-yard");
    let paper = Paper::default();
    let cards = || cards_page::pages(&act, &paper);
    let strip = || strip_pages::pages(&act, &paper);
    let venue = || venue_page::pages(&act, &paper);
    for parts in [
        vec![cards(), strip()],
        vec![strip(), cards()],
        vec![venue(), strip(), cards()],
        vec![slip_page::pages(&act, &paper), venue(), strip(), cards()],
    ] {
        let document = booklet::document(&act, parts, &paper);
        let before = document.parts.iter().take_while(|part| !part.two_sided);
        let before: usize = before.map(|part| part.pages.len()).sum();
        assert_eq!(before % 2, 0, "{before} pages before the cards");
        assert_eq!(read(&document).get_pages().len(), document.pages().count());
    }
}

#[test]
fn equal_input_gives_equal_bytes() {
    let act = shipped("paper-boats");
    let document = || booklet_of(&act, &Paper::default());
    let fonts = Fonts::default();
    assert_eq!(pdf(&document(), &fonts).unwrap(), pdf(&document(), &fonts).unwrap());
    assert_eq!(html(&document()), html(&document()));
}

/// Acts that are awkward on paper.
fn awkward() -> Vec<(&'static str, String)> {
    let pause = |name: &str| format!("Pause(name: \"{name}\", lasts: For(\"0:05\")),");
    let cue = |number: usize, at: &str, does: &str| {
        format!(
            "Cue(crew: Light, number: {number}, at: Start(\"{at}\"), trigger: See(\"{does}\"), \
             does: \"{does}\", count: 1),"
        )
    };
    let act = |sections: &str, cues: &str| {
        let mut written = score(sections);
        written.zero = "Start(\"on\")".to_owned();
        written.after = format!("cues: [{cues}],");
        written.text()
    };
    let long = "forty characters of a name, a long one !";
    let names = [long, "גאות ושפל 5", "مد وجزر", "ज्वार भाटा", "a <b> & \\\"c\\\" = d", "=1+1"];
    let sections: String = names.iter().map(|name| pause(name)).collect();
    let cues: String = names.iter().enumerate().map(|(at, name)| cue(at + 1, name, name)).collect();
    let many: String = (1..=60).map(|at| pause(&format!("rest {at}"))).collect();
    let of_many: String =
        (1..=60).map(|at| cue(at, &format!("rest {at}"), "deck wash, blue")).collect();
    vec![
        ("names", act(&(pause("on") + &sections), &cues)),
        ("60 cues", act(&(pause("on") + &many), &of_many)),
        ("nothing", act(&pause("on"), "")),
        (
            "a name of 200 characters",
            act(&(pause("on") + &pause(&"wide ".repeat(40))), &cue(1, "on", &"word ".repeat(300))),
        ),
    ]
}

#[test]
fn awkward_acts_stand_as_they_should() {
    for (name, text) in awkward() {
        let act = throwbook::open(&text).act.unwrap_or_else(|| panic!("{name}: {text}"));
        for size in [Size::A4, Size::Letter] {
            let paper = Paper::new(size);
            let document = booklet_of(&act, &paper);
            for page in pages::read(&html(&document)) {
                assert_eq!(faults(&page), Vec::<String>::new(), "{name} {}", page.name);
            }
            assert_eq!(read(&document).get_pages().len(), document.pages().count(), "{name}");
        }
    }
}

#[test]
fn what_no_typeface_has_is_named_and_stands_in_a_box() {
    let mut written = score("Pause(name: \"on \u{1f3aa}\", lasts: For(\"0:05\")),");
    written.zero = "Start(\"on \u{1f3aa}\")".to_owned();
    let act = throwbook::open(&written.text()).act.unwrap();
    let document = booklet_of(&act, &Paper::default());
    assert_eq!(document.missing(&Fonts::default()), BTreeSet::from(['\u{1f3aa}']));
    let text = read(&document).extract_text(&[2]).unwrap();
    assert!(text.contains("1F3AA"), "{text}");
}
