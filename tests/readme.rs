//! The README is true: its commands print what it shows, its routines compile, its pictures are
//! those that the program draws; and so is the page of the routine file.
#![allow(missing_docs)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A fenced block: its language and its text.
fn blocks(text: &str) -> Vec<(&str, &str)> {
    let mut blocks = Vec::new();
    let mut rest = text;
    while let Some((_, opened)) = rest.split_once("```") {
        let (language, body) = opened.split_once('\n').expect("a fence ends its line");
        let (body, after) = body.split_once("```").expect("every fence is closed");
        blocks.push((language, body));
        rest = after;
    }
    blocks
}

/// A word as a shell hands it on.
fn unquoted(word: &str) -> &str {
    word.strip_prefix('\'').and_then(|word| word.strip_suffix('\'')).unwrap_or(word)
}

fn readme() -> String {
    fs::read_to_string(root().join("README.md")).unwrap()
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A new folder for one test, emptied before.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

fn throwbook(arguments: &[&str], folder: &Path) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_throwbook"))
        .args(arguments)
        .current_dir(folder)
        .env("COLUMNS", "80")
        .env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR"))
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    String::from_utf8([output.stderr, output.stdout].concat()).unwrap()
}

/// Asserts that something was printed as it is shown; `…` on a line of its own stands for lines
/// that are left out.
fn prints(printed: &str, shown: &str) {
    let shown = format!("\n{}\n", shown.trim_end());
    let printed = format!("\n{}\n", printed.trim_end());
    let parts: Vec<&str> = shown.split("\n…\n").collect();
    if let [whole] = parts[..] {
        return assert_eq!(printed, whole);
    }
    let mut rest = printed.as_str();
    for part in parts.iter().map(|part| part.trim_matches('\n')) {
        let Some((_, after)) = rest.split_once(part) else { panic!("{part}\nis not in\n{rest}") };
        rest = after;
    }
    assert!(printed.trim_start().starts_with(parts[0].trim_start()), "{printed}");
}

#[test]
fn the_page_of_the_routine_file_is_the_one_that_the_program_prints() {
    let page = fs::read_to_string(root().join("routines/REFERENCE.md")).unwrap();
    let printed = throwbook(&["explain", "--page"], root());
    assert!(page == printed, "throwbook explain --page > routines/REFERENCE.md");
    assert!(readme().contains("(routines/REFERENCE.md)"));
    let examples = blocks(&page);
    assert!(examples.iter().all(|(language, _)| *language == "ron") && examples.len() > 30);
    // The tests of the reference compile every example; a whole routine must do so as it stands.
    let wholes = examples.iter().filter(|(_, text)| text.starts_with("Routine("));
    let opened: Vec<_> = wholes.map(|(_, text)| throwbook::open(text)).collect();
    assert!(!opened.is_empty() && opened.iter().all(|one| one.finished().is_some()));
}

#[test]
fn every_link_of_the_page_has_its_heading() {
    let page = fs::read_to_string(root().join("routines/REFERENCE.md")).unwrap();
    let headings: Vec<String> = page
        .lines()
        .filter(|line| line.starts_with('#'))
        .map(|line| {
            line.trim_start_matches(['#', ' ']).replace(' ', "-").replace(['.', '\'', ':'], "")
        })
        .map(|heading| heading.to_lowercase())
        .collect();
    let links: Vec<&str> =
        page.split("](#").skip(1).map(|rest| rest.split(')').next().unwrap_or_default()).collect();
    assert!(links.len() > 40);
    for link in links {
        let bearing = headings.iter().filter(|heading| *heading == link).count();
        assert_eq!(bearing, 1, "{link}");
    }
}

#[test]
fn the_tour_prints_what_the_readme_shows() {
    let folder = folder("readme-tour");
    let file = folder.join("mole.ron");
    let mut commands = 0;
    for (language, body) in blocks(&readme()) {
        match language {
            "ron" if body.starts_with("Routine(") => fs::write(&file, body).unwrap(),
            "ron" => {
                let name = body.split('"').nth(1).expect("a mended line names its section");
                let text = fs::read_to_string(&file).unwrap();
                let mended = text.lines().map(|line| {
                    let same = line.contains(&format!("name: \"{name}\""));
                    if same { body.to_owned() } else { format!("{line}\n") }
                });
                fs::write(&file, mended.collect::<String>()).unwrap();
            }
            "console" => {
                let (command, expected) = body.split_once('\n').unwrap();
                let words: Vec<&str> = command.split_whitespace().map(unquoted).collect();
                assert_eq!(words[..2], ["$", "throwbook"]);
                prints(&throwbook(&words[2..], &folder), expected);
                commands += 1;
            }
            _ => {}
        }
    }
    assert!(commands >= 6, "the tour has lost its commands");
    let opened = throwbook::open(&fs::read_to_string(&file).unwrap());
    assert!(opened.diagnostics.is_empty(), "{:?}", opened.diagnostics);
}

#[test]
fn the_pictures_are_those_that_the_program_draws() {
    let folder = folder("readme-pictures");
    for (routine, picture, overview) in [
        ("night-ferry", "night-ferry-overview.svg", true),
        ("paper-boats", "paper-boats-strip.svg", false),
        ("bowline", "bowline-strip.svg", false),
        ("signal-box", "signal-box-strip.svg", false),
    ] {
        let routine = root().join("routines").join(routine).with_extension("ron");
        let mut arguments = vec!["strip", routine.to_str().unwrap(), "-o", picture];
        arguments.extend(overview.then_some("--overview"));
        throwbook(&arguments, &folder);
        let drawn = fs::read_to_string(folder.join(picture)).unwrap();
        let shown = fs::read_to_string(root().join("routines/pictures").join(picture)).unwrap();
        assert!(drawn == shown, "draw it again: throwbook {}", arguments.join(" "));
        assert!(readme().contains(picture));
    }
}

#[test]
fn every_routine_that_ships_compiles_clean_and_builds_every_document() {
    let folder = folder("readme-routines");
    let mut routines = 0;
    for entry in fs::read_dir(root().join("routines")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "ron") {
            continue;
        }
        let opened = throwbook::open(&fs::read_to_string(&path).unwrap());
        assert!(opened.diagnostics.is_empty(), "{}: {:?}", path.display(), opened.diagnostics);
        throwbook(&["build", path.to_str().unwrap(), "--out", "out"], &folder);
        routines += 1;
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        for end in [
            "strip.svg",
            "overview.svg",
            "time.txt",
            "time.json",
            "colours.txt",
            "cues.html",
            "cues.csv",
        ] {
            let document = folder.join("out").join(format!("{stem}-{end}"));
            assert!(fs::metadata(&document).unwrap().len() > 0, "{}", document.display());
        }
    }
    assert!(routines >= 4);
}

#[test]
fn the_command_list_names_every_command() {
    let help = throwbook(&["--help"], root());
    let commands = help.lines().skip_while(|line| !line.starts_with("Commands:")).skip(1);
    let named = |line: &&str| line.starts_with("  ") && !line.starts_with("   ");
    let mut listed = 0;
    for line in commands.take_while(|line| !line.is_empty()).filter(named) {
        let command = line.split_whitespace().next().unwrap();
        assert!(readme().contains(&format!("`throwbook {command}")), "{command}");
        listed += 1;
    }
    assert!(listed >= 10, "{help}");
}

#[test]
fn the_starter_routine_compiles_clean() {
    let folder = folder("readme-new");
    throwbook(&["new", "act.ron"], &folder);
    let opened = throwbook::open(&fs::read_to_string(folder.join("act.ron")).unwrap());
    assert!(opened.diagnostics.is_empty(), "{:?}", opened.diagnostics);
}

#[test]
fn a_strip_is_never_drawn_over_a_routine() {
    let folder = folder("readme-strip");
    throwbook(&["new", "act.ron"], &folder);
    let before = fs::read_to_string(folder.join("act.ron")).unwrap();
    let said = throwbook(&["strip", "act.ron", "-o", "act.ron"], &folder);
    assert!(said.contains("is a routine file"), "{said}");
    assert_eq!(fs::read_to_string(folder.join("act.ron")).unwrap(), before);
}
