//! What the headers of folders say of the house: their numbers run, their folders exist, and
//! nothing stands in them twice.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The header of a file: its lines that begin with `//!`.
fn header(path: &Path) -> Vec<String> {
    let text = fs::read_to_string(path).unwrap();
    let lines = text.lines().take_while(|line| line.starts_with("//!"));
    lines.map(|line| line.trim_start_matches("//!").trim_start_matches(' ').to_owned()).collect()
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// The numbers of a header's list, in their order.
fn numbers(header: &[String]) -> Vec<u32> {
    let number = |line: &String| line.split_once(". ")?.0.parse().ok();
    header.iter().filter_map(number).collect()
}

/// What a header links, as in `` [`read`] `` or `` [`timeline::compile`] ``: its first part.
fn linked(header: &[String]) -> Vec<String> {
    let text = header.join(" ");
    let links = text.split("[`").skip(1).filter_map(|rest| rest.split_once("`]"));
    links.map(|(link, _)| link.split("::").next().unwrap_or(link).to_owned()).collect()
}

#[test]
fn the_numbers_of_the_pipeline_run_and_its_folders_exist() {
    let header = header(Path::new("src/lib.rs"));
    let numbers = numbers(&header);
    assert!(numbers.len() >= 8, "the pipeline is gone: {numbers:?}");
    assert!(numbers.iter().copied().eq(1..=numbers.len() as u32), "{numbers:?}");
    let links = linked(&header);
    assert!(links.len() >= numbers.len(), "a stage links nothing: {links:?}");
    for link in links {
        let link = link.trim_end_matches("()").to_owned();
        assert!(Path::new("src").join(&link).is_dir(), "no folder src/{link}");
    }
}

#[test]
fn every_folder_of_the_house_stands_in_the_pipeline() {
    let links: BTreeSet<String> = linked(&header(Path::new("src/lib.rs"))).into_iter().collect();
    let all = fs::read_dir("src").unwrap().map(|entry| entry.unwrap().path());
    for folder in all.filter(|path| path.is_dir()) {
        let name = folder.file_name().unwrap().to_string_lossy().into_owned();
        // The program is not the library's.
        assert!(name == "program" || links.contains(&name), "src/{name} has no place in lib.rs");
    }
}

#[test]
fn no_header_says_a_thing_twice() {
    let mut found = Vec::new();
    sources(Path::new("src"), &mut found);
    assert!(found.len() > 200);
    for path in found {
        let mut seen = BTreeSet::new();
        for line in header(&path).into_iter().filter(|line| line.len() > 30) {
            assert!(seen.insert(line.clone()), "{}: {line}", path.display());
        }
    }
}
