//! `throwbook fit` as its user meets it: what lands, what fits and why not, and its JSON.
#![allow(missing_docs)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use written::{Written, score};

/// A file of one test, gone when the test is over.
struct File(PathBuf);

impl File {
    fn new(test: &str, written: &Written) -> File {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("fit-{test}.ron"));
        fs::write(&path, written.text()).unwrap();
        File(path)
    }

    fn run(&self, command: &str, arguments: &[&str]) -> (i32, String, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_throwbook"))
            .arg(command)
            .arg(&self.0)
            .args(arguments)
            .env("NO_COLOR", "1")
            .env("COLUMNS", "80")
            .env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR"))
            .output()
            .unwrap();
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
    }

    /// The document of a command that finds nothing wrong.
    fn json(&self, command: &str, arguments: &[&str]) -> Value {
        let arguments = [arguments, &["--format", "json"]].concat();
        let (status, stdout, stderr) = self.run(command, &arguments);
        // The music is not there, which is said.
        assert!(status == 0 && !stderr.contains("error"), "{stderr}");
        serde_json::from_str(&stdout).unwrap()
    }
}

impl Drop for File {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
    }
}

const MUSIC: &str = "    room: Room(clear_height: 3.0, hands_at: 1.0),\n    \
    music: Track(file: \"quay.wav\", length: \"2:00\", starts: Start(\"a\"),\n        \
    bars: [Bars(from: \"0:00\", bpm: 90, music_beats: 4, number: 1),\n            \
    Bars(from: \"0:30\", bpm: 120, music_beats: 4, number: 13)],\n        \
    marks: { \"drum\": \"0:10\", \"bell\": \"0:21\" }),\n";

fn to_music(text: &str) -> Written {
    Written { before: MUSIC.to_owned(), ..score(text) }
}

fn cycles(choices: &Value) -> Vec<u64> {
    choices.as_array().unwrap().iter().map(|one| one["cycles"].as_u64().unwrap()).collect()
}

#[test]
fn one_section_is_exactly_the_object_of_the_contract() {
    let file = File::new(
        "contract",
        &score(
            "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: For(\"0:02.7\")),\n\
             Pause(name: \"p\", lasts: For(\"0:04\")),",
        ),
    );
    // Nine beats at 200 a minute; two cycles are a third slower, four a third faster.
    let choice = json!({
        "cycles": 3, "per_minute": 200.0, "bend": 0.0, "seconds": 2.7,
        "highest_m": 9.806_65 * 1.1 * 1.1 / 8.0, "feasible": true,
    });
    let section = json!({"section": "a", "choices": [choice]});
    let text = file.run("fit", &["--section", "a", "--format", "json"]).1;
    assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), section);
    assert!(text.starts_with("{\"section\":\"a\",\"choices\":[{\"cycles\":3,\"per_minute\":"));
}

#[test]
fn the_least_bend_comes_first_and_the_faster_of_equal_ones() {
    // 10.5 beats: ten are as much too slow as eleven are too fast.
    let file = File::new(
        "order",
        &score("Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"0:03.15\")),"),
    );
    let document = file.json("fit", &["--section", "a"]);
    let choices = document["choices"].as_array().unwrap();
    assert_eq!(cycles(&document["choices"]), [11, 10, 12, 9, 13, 8]);
    let bend = |index: usize| choices[index]["bend"].as_f64().unwrap();
    assert!((bend(0) - 0.5 / 10.5).abs() < 1e-15);
    assert!((bend(0) + bend(1)).abs() < 1e-15);
    for choice in choices {
        assert!(choice["bend"].as_f64().unwrap().abs() <= 0.25);
        // None is within the usual 3 %.
        assert_eq!(choice["feasible"], json!(false));
    }
}

#[test]
fn what_fits_is_known_before_the_file_compiles() {
    let rest = "Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: Cycles(4)),";
    let off = format!(
        "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: Until(Mark(\"drum\"))),\n{rest}"
    );
    let file = File::new("before", &to_music(&off));
    assert_eq!(file.run("time", &[]).0, 1, "it lands between two beats");
    let document = file.json("fit", &["--section", "a"]);
    let least = document["choices"][0].clone();
    assert_eq!(least["feasible"], json!(true));
    // What is promised comes about once the file says `may_bend`.
    let mended = off.replace("(Mark(\"drum\"))", "(Mark(\"drum\")), may_bend: 0.03");
    let mended = File::new("after", &to_music(&mended));
    let sheet = mended.json("time", &[]);
    let section = &sheet["sections"][0];
    for field in ["per_minute", "bend"] {
        assert_eq!(section[field], least[field], "{field}");
    }
    assert_eq!(section["beats"].as_u64().unwrap(), 3 * least["cycles"].as_u64().unwrap());
    let lasts = section["ends_s"].as_f64().unwrap() - section["starts_s"].as_f64().unwrap();
    assert!((lasts - least["seconds"].as_f64().unwrap()).abs() < 1e-12);
    let highest = section["highest"]["above_hand_m"].as_f64().unwrap();
    assert!((highest - least["highest_m"].as_f64().unwrap()).abs() < 0.02);
    // A section too far off is told too, as it would be with a larger `may_bend`.
    let wide = File::new("wide", &to_music(&off.replace("531", "88888").replace("\"3\"", "\"8\"")));
    assert_eq!(wide.run("fit", &["--section", "a"]).0, 1, "another fault is still a fault");
}

#[test]
fn what_does_not_fit_says_why() {
    let file = File::new(
        "why",
        &Written {
            before: "    room: Room(clear_height: 2.6, hands_at: 1.0),\n".to_owned(),
            ..score(
                "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: For(\"0:02.7\"), \
                 may_bend: 0.5),\n\
                 Juggle(name: \"b\", pattern: \"3\", lasts: For(\"0:03\"), may_bend: 0.5, \
                 tempo: PerMinute(520)),\n\
                 Pause(name: \"p\", lasts: For(\"0:02\")),\n\
                 Juggle(name: \"c\", pattern: \"531\", lasts: For(\"0:08.1\"), \
                 tempo: PerMinute(200)),",
            )
        },
    );
    let (status, text, stderr) = file.run("fit", &[]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(text.contains("may bend 50 %"), "{text}");
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("no `may_bend` is written: judged by 3 %"), "{text}");
    // 26 catches, the last of them after the 3 s: as the check counts them.
    assert!(text.contains("NO: 507 catches a minute"), "{text}");
    let (_, _, warned) = file.run("check", &[]);
    assert!(warned.contains("507 catches a minute"), "{warned}");
    // Eight cycles for nine are a ninth slower: 1.88 m above hands at 1 m, and half a ball.
    assert!(words.contains("NO: bends too far; 0.31 m over"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    let document = file.json("fit", &["--section", "b"]);
    for choice in document["choices"].as_array().unwrap() {
        let slow = choice["cycles"].as_u64().unwrap() <= 25;
        assert_eq!(choice["feasible"], json!(slow), "{choice}");
    }
}

#[test]
fn several_sections_stand_in_a_list_with_what_the_music_offers() {
    let file = File::new(
        "music",
        &to_music(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(Mark(\"drum\")), \
             may_bend: 0.03),\n\
             Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: For(\"0:10\"), \
             may_bend: 0.05),\n\
             Juggle(name: \"c\", pattern: \"3\", transition: Auto, lasts: Beats(60)),\n\
             Juggle(name: \"d\", pattern: \"531\", lasts: Beats(30)),\n\
             Pause(name: \"p\", lasts: For(\"0:02\")),",
        ),
    );
    let document = file.json("fit", &[]);
    let names: Vec<&Value> =
        document["sections"].as_array().unwrap().iter().map(|one| &one["section"]).collect();
    assert_eq!(names, ["a", "b"]);
    let stretches = document["to_music"].as_array().unwrap();
    let stretch = |index: usize, field: &str| stretches[index][field].as_f64().unwrap();
    assert_eq!((stretch(0, "bpm"), stretch(0, "from_s")), (90.0, 0.0));
    assert_eq!((stretch(1, "bpm"), stretch(1, "from_s")), (120.0, 30.0));
    assert_eq!((&stretches[0]["bar"], &stretches[1]["bar"]), (&json!(1), &json!(13)));
    let tempos = |index: usize| stretches[index]["tempos"].as_array().unwrap().clone();
    let of = |index: usize, field: &str| -> Vec<f64> {
        tempos(index).iter().map(|tempo| tempo[field].as_f64().unwrap()).collect()
    };
    assert_eq!(of(0, "throws_per_music_beat"), [0.5, 1.0, 1.5, 2.0, 3.0]);
    assert_eq!(of(0, "per_minute"), [45.0, 90.0, 135.0, 180.0, 270.0]);
    assert_eq!(of(1, "per_minute"), [60.0, 120.0, 180.0, 240.0, 360.0]);
    // Four thirds of a beat in the hand.
    assert_eq!(of(1, "dwell_s"), [4.0 / 3.0, 2.0 / 3.0, 4.0 / 9.0, 1.0 / 3.0, 2.0 / 9.0]);
    // A cascade at 120 a minute flies 5/3 beats of half a second; the room has 2 m above the hands.
    let single = &tempos(1)[1]["patterns"];
    assert_eq!(single[0]["sections"], json!(["c"]));
    assert_eq!(single[1]["pattern"], json!("531"));
    let flight: f64 = 5.0 / 6.0;
    let above = 9.806_65 * flight * flight / 8.0;
    assert!((single[0]["highest_m"].as_f64().unwrap() - above).abs() < 1e-12);
    assert!((single[0]["needs_m"].as_f64().unwrap() - (1.0 + above + 0.035)).abs() < 1e-12);
    assert_eq!(single[0]["feasible"], json!(true));
    assert_eq!(single[1]["feasible"], json!(false));
    // The first stretch has the cascades before the second, one line for both.
    assert_eq!(tempos(0)[0]["patterns"][0]["sections"], json!(["a", "c"]));
    let (_, text, _) = file.run("fit", &[]);
    for line in ["NOTHING TO CHOOSE", "no fixed end: c, d", "3/2", "TO MUSIC · from bar 13, 0:30.0"]
    {
        assert!(text.contains(line), "{line}: {text}");
    }
}

#[test]
fn a_counted_section_lands_on_the_mark_or_the_pauses_end_that_is_near() {
    let file = File::new(
        "near",
        &to_music(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Cycles(30)),\n\
             Pause(name: \"p\", lasts: Until(At(\"0:11\"))),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: Cycles(4)),\n\
             Pause(name: \"q\", lasts: Until(Mark(\"bell\"))),",
        ),
    );
    let document = file.json("fit", &[]);
    // One section alone is no list. 30 cycles take 9 s; the drum is at 10 s.
    assert_eq!(document["section"], json!("a"));
    assert_eq!(cycles(&document["choices"])[..3], [33, 34, 32]);
    let (_, text, _) = file.run("fit", &["--section", "a"]);
    assert!(text.contains("ends on mark \"drum\""), "{text}");
    // Four beats and then nine seconds of nothing: no end is near.
    assert_eq!(file.json("fit", &["--section", "b"]), json!({"section": "b", "choices": []}));
}

#[test]
fn a_mark_of_any_track_is_near() {
    let tracks = "    tracks: {
        \"day\": Track(file: \"quay.wav\", length: \"2:00\", starts: Start(\"a\"), marks: { \"bell\": \"0:40\" }),
        \"night\": Track(file: \"quay.wav\", length: \"2:00\", starts: Shift(Start(\"a\"), 1.0),
            marks: { \"drum\": \"0:09\" }),
    },
";
    let near = Written {
        before: tracks.to_owned(),
        ..score(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Cycles(30)),\n\
             Pause(name: \"p\", lasts: For(\"0:04\")),",
        )
    };
    let file = File::new("tracks", &near);
    // 30 cycles take 9 s; the drum of the second track is at 10 s.
    assert_eq!(cycles(&file.json("fit", &[])["choices"])[..3], [33, 34, 32]);
    let (_, text, _) = file.run("fit", &["--section", "a"]);
    assert!(text.contains("ends on mark \"drum\" of \"night\""), "{text}");
}

#[test]
fn what_has_no_choice_says_so_and_what_is_not_there_is_refused() {
    let file = File::new(
        "none",
        &score(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(8)),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: For(\"0:06\"), \
             tempo: Ramp(from: 200, to: 200)),\n\
             Pause(name: \"p\", lasts: For(\"0:02\")),",
        ),
    );
    for (section, why) in [
        ("a", "no fixed end: a"),
        ("b", "a ramp does not bend: b"),
        ("p", "a pause has no throws: p"),
    ] {
        let (status, text, stderr) = file.run("fit", &["--section", section]);
        assert_eq!((status, stderr.as_str()), (0, ""));
        assert!(text.contains(why), "{section}: {text}");
        let empty = json!({"section": section, "choices": []});
        assert_eq!(file.json("fit", &["--section", section]), empty);
    }
    assert_eq!(file.json("fit", &[]), json!({"sections": [], "to_music": [], "encore": null}));
    let (status, stdout, stderr) = file.run("fit", &["--section", "z"]);
    assert_eq!((status, stdout.as_str()), (2, ""));
    assert!(stderr.contains("no section is called \"z\"; there are \"a\", \"b\" and \"p\""));
    let faulty = File::new("faulty", &score("Juggle(name: \"a\", pattern: \"3\"),"));
    let (status, stdout, stderr) = faulty.run("fit", &[]);
    assert_eq!((status, stdout.as_str()), (1, ""));
    assert!(stderr.contains("missing-field"), "{stderr}");
}

#[test]
fn the_sheet_says_what_was_bent_and_what_that_does_to_the_height() {
    let file = File::new(
        "bent",
        &score(
            "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: For(\"0:08\"), may_bend: 0.03),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(9), tempo: Ramp(to: 220)),\n\
             Pause(name: \"p\", lasts: For(\"0:02\")),",
        ),
    );
    let (status, text, stderr) = file.run("time", &[]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let bends = text.lines().skip_while(|line| !line.starts_with("BENDS")).nth(3).unwrap();
    let words: Vec<&str> = bends.split_whitespace().collect();
    let expected = "a 9 200 → 202.5 +1.25 % 3 % 1.48 → 1.45";
    assert_eq!(words.join(" "), expected);
    let sections = file.json("time", &[])["sections"].clone();
    assert_eq!((&sections[0]["per_minute"], &sections[0]["bend"]), (&json!(202.5), &json!(0.0125)));
    for section in [1, 2] {
        assert_eq!(sections[section]["per_minute"], json!(null), "a ramp, and a pause");
        assert_eq!(sections[section]["bend"], json!(null));
    }
}

#[test]
fn every_routine_has_an_answer_whose_choices_stand_in_their_order() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let (mut routines, mut sections) = (0, 0);
    for folder in ["routines", "tests/routines"] {
        for entry in fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|extension| extension != "ron") {
                continue;
            }
            let opened = throwbook::open_to_fit(&fs::read_to_string(&path).unwrap(), None);
            let Some(act) = opened.finished() else { continue };
            routines += 1;
            let sheet = throwbook::sheet::fit::compose(act, None);
            for line in &sheet.sections {
                sections += 1;
                let ranks: Vec<_> = line
                    .fit
                    .choices
                    .iter()
                    .map(|choice| {
                        let bend = choice.bend.bend();
                        let slower = bend < bend.clone() - bend.clone();
                        (if slower { -bend } else { bend }, slower)
                    })
                    .collect();
                assert!(
                    ranks.is_sorted() && ranks.len() <= 12,
                    "{}: {}",
                    path.display(),
                    line.name
                );
            }
            let text = throwbook::export::fit_text::of_sheet(&sheet, 80);
            assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
        }
    }
    assert!(routines >= 6 && sections >= 2, "{routines} routines, {sections} sections");
}

#[test]
fn a_ramp_of_the_music_offers_the_tempos_of_both_its_ends() {
    let music = MUSIC.replace(
        "Bars(from: \"0:30\", bpm: 120, music_beats: 4, number: 13)",
        "Bars(from: \"0:30\", bpm: 60, music_beats: 4, number: 13, to: 120, over: 16)",
    );
    let score = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"0:33\")),\n\
         Pause(name: \"p\", lasts: For(\"0:12\")),\n\
         Juggle(name: \"b\", pattern: \"3\", lasts: Cycles(40)),",
    );
    let file = File::new("ramp", &Written { before: music, ..score });
    let document = file.json("fit", &[]);
    let stretches = document["to_music"].as_array().unwrap();
    let of = |field: &str| -> Vec<&Value> { stretches.iter().map(|one| &one[field]).collect() };
    assert_eq!(of("bpm"), [90.0, 60.0, 120.0]);
    assert_eq!(of("bar"), [1, 13, 17]);
    // 16 music beats from 60 to 120 a minute take 16·ln 2 seconds.
    let ends = 30.0 + 16.0 * std::f64::consts::LN_2;
    assert!((stretches[2]["from_s"].as_f64().unwrap() - ends).abs() < 1e-9);
    let sections = |index: usize| &stretches[index]["tempos"][0]["patterns"][0]["sections"];
    // `b` begins when the ramp is over.
    assert_eq!((sections(1), sections(2)), (&json!(["a"]), &json!(["a", "b"])));
    let (_, text, _) = file.run("fit", &[]);
    assert!(text.contains("TO MUSIC · a ramp ends in bar 17, 0:41.1"), "{text}");
}
