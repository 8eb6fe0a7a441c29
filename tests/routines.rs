//! Routines with their expected diagnostics: `//! code` on a line of its own says that the next
//! line raises that code, and nothing else is raised anywhere.
#![allow(missing_docs)]

use std::fs;
use std::path::Path;

use throwbook::diagnostic::render;

/// What a text expects and what it raises, as (line, code), in order.
fn expected_and_raised(text: &str) -> [Vec<(usize, String)>; 2] {
    let mut expected = Vec::new();
    let mut waiting: Vec<String> = Vec::new();
    for (line, written) in (1..).zip(text.lines()) {
        match written.trim().strip_prefix("//!") {
            Some(codes) => waiting.extend(codes.split_whitespace().map(str::to_owned)),
            None => expected.extend(waiting.drain(..).map(|code| (line, code))),
        }
    }
    let opened = throwbook::open(text);
    let mut raised: Vec<(usize, String)> = opened
        .diagnostics
        .iter()
        .map(|one| (text[..one.at.start].matches('\n').count() + 1, one.code.to_owned()))
        .collect();
    expected.sort();
    raised.sort();
    [expected, raised]
}

#[test]
fn every_routine_raises_what_it_says_where_it_says_it() {
    let mut files = 0;
    let mut wrong = Vec::new();
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/routines")).unwrap()
    {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "ron") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let [expected, raised] = expected_and_raised(&text);
        if raised != expected {
            wrong.push(format!("{} raises {raised:?}, not {expected:?}", path.display()));
        }
        files += 1;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(files >= 8, "{files} routines");
}

#[test]
fn messages_read_as_a_juggler_reads_them() {
    for name in ["joins", "dark", "starts"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/routines/{name}.ron"));
        let text = fs::read_to_string(path).unwrap();
        let opened = throwbook::open(&text);
        let drawn = render(&opened.diagnostics, &format!("{name}.ron"), &text, 80, false);
        insta::assert_snapshot!(name, drawn);
    }
}
