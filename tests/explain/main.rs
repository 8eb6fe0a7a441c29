//! Every code that a message can have is explained, every example raises its code, at a place in
//! the text, and is silent once mended.
#![allow(missing_docs)]

mod emitted;
mod messages;

use std::collections::BTreeSet;
use std::path::Path;

use throwbook::diagnostic::{Explanation, Form};
use throwbook::explain::{Answer, NoSuchName, code, explain, topics};

use messages::{Message, mended, messages, throwbook};

fn explanations() -> Vec<Explanation> {
    topics().into_values().flatten().collect()
}

#[test]
fn every_code_in_the_sources_is_explained_and_no_other() {
    let sources = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let emitted = emitted::codes(&sources);
    let explained: BTreeSet<String> =
        explanations().iter().map(|explanation| explanation.code.to_owned()).collect();
    assert_eq!(emitted.difference(&explained).collect::<Vec<_>>(), [""; 0], "not explained");
    assert_eq!(explained.difference(&emitted).collect::<Vec<_>>(), [""; 0], "in no message");
}

#[test]
fn every_code_is_explained_once_in_sentences_under_its_topic_in_order() {
    let codes: Vec<&str> = explanations().iter().map(|explanation| explanation.code).collect();
    assert_eq!(codes.iter().collect::<BTreeSet<_>>().len(), codes.len(), "{codes:?}");
    for of_topic in topics().values() {
        let codes: Vec<&str> = of_topic.iter().map(|explanation| explanation.code).collect();
        assert!(codes.is_sorted(), "{codes:?}");
    }
    for Explanation { code, what, why, .. } in explanations() {
        for sentence in [what, why] {
            assert!(sentence.ends_with('.'), "{code}: {sentence}");
            assert!(!sentence.contains("  "), "{code}: {sentence}");
        }
        let explained = throwbook::explain::code(code).unwrap();
        assert!(!explained.also.contains(&code), "{code}");
    }
}

#[test]
fn every_example_raises_its_code_and_is_silent_once_mended_or_changed_as_offered() {
    let mut wrong = Vec::new();
    for explanation in explanations() {
        let code = explanation.code;
        let text = explanation.raises_in_full();
        let raised = messages(&explanation, &text);
        let codes: Vec<&str> = raised.iter().map(|message| message.code.as_str()).collect();
        if !codes.contains(&code) {
            wrong.push(format!("{code} raises {codes:?}"));
        }
        for message in &raised {
            assert!(!message.says.is_empty(), "{code}: says nothing");
            if let Some(at) = &message.at {
                assert!(text.get(at.clone()).is_some(), "{code}: marks no text");
            }
        }
        let left: Vec<String> =
            mended(&explanation).into_iter().map(|message| message.says).collect();
        if !left.is_empty() {
            wrong.push(format!("{code} mended still says {left:?}"));
        }
        wrong.extend(changes_without_effect(&explanation, &text, &raised));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The changes that messages of the code offer and after which it is said as often as before.
fn changes_without_effect(
    explanation: &Explanation,
    text: &str,
    raised: &[Message],
) -> Vec<String> {
    let code = explanation.code;
    let of_code = |all: &[Message]| all.iter().filter(|message| message.code == code).count();
    let messages_of_it = raised.iter().filter(|message| message.code == code);
    let changes = messages_of_it.flat_map(|message| &message.changes);
    changes
        .filter(|edits| !edits.is_empty())
        .filter_map(|edits| {
            let mut text = text.to_owned();
            for (at, insert) in edits.iter().rev() {
                text.replace_range(at.clone(), insert);
            }
            let left = messages(explanation, &text);
            (of_code(&left) >= of_code(raised)).then(|| format!("{code}: a change gives\n{text}"))
        })
        .collect()
}

#[test]
fn an_example_without_what_lies_beside_it_says_nothing_of_its_own() {
    let issues = explanations().into_iter().filter(|one| one.form == Form::Routine);
    for explanation in issues.filter(|one| one.beside.iter().any(|beside| beside.text.is_some())) {
        let alone = Explanation { beside: &[], ..explanation };
        let said = messages(&alone, explanation.raises);
        assert!(said.is_empty(), "{}", explanation.code);
    }
}

#[test]
fn an_unknown_name_is_refused_with_the_nearest_one() {
    for (written, near) in [
        ("juncton-clash", Some("junction-clash")),
        ("cue.triger", Some("cue.trigger")),
        ("patern", Some("pattern")),
        ("LastCach", Some("LastCatch")),
        ("zzzzzz", None),
    ] {
        assert_eq!(explain(written), Err(NoSuchName { nearest: near.map(str::to_owned) }));
    }
    let refused = throwbook(&["explain", "juncton-clash"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(refused.stdout.is_empty());
    let said = "throwbook: nothing is called `juncton-clash`; did you mean `junction-clash`?\n";
    assert_eq!(String::from_utf8(refused.stderr).unwrap(), said);
}

#[test]
fn a_name_finds_everything_that_bears_it() {
    for (name, found) in [
        ("cue.trigger", vec!["cue.trigger"]),
        ("Cue.trigger", vec!["cue.trigger"]),
        ("lasts", vec!["juggle.lasts", "pause.lasts", "hold.lasts"]),
        ("juggle", vec!["juggle", "Juggle"]),
        ("PerMusicBeat", vec!["per_music_beat", "PerMusicBeat"]),
        ("moment", vec!["moment"]),
        ("Shift", vec!["Shift"]),
    ] {
        let Ok(Answer::Reference(entries)) = explain(name) else { panic!("{name}") };
        let names: Vec<String> = entries.iter().map(|entry| entry.name()).collect();
        assert_eq!(names, found, "{name}");
    }
    // A code is a code, whatever else there is.
    for entry in throwbook::explain::reference::entries() {
        assert_eq!(code(&entry.name()), None);
    }
}

#[test]
fn the_program_explains_a_code_and_lists_all_of_them() {
    let printed = |arguments: &[&str]| {
        let output = throwbook(arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        String::from_utf8(output.stdout).unwrap()
    };
    let json = |arguments: &[&str]| {
        let document: serde_json::Value = serde_json::from_str(&printed(arguments)).unwrap();
        document
    };
    assert!(printed(&["explain", "cut-cycle"]).starts_with("cut-cycle · "));
    let document = json(&["explain", "cut-cycle", "--format", "json"]);
    for field in ["code", "topic", "what", "why", "form", "raises", "mended"] {
        assert!(document[field].as_str().is_some_and(|text| !text.is_empty()), "{field}");
    }
    let list = printed(&["explain"]);
    let topics = json(&["explain", "--format", "json"])["topics"].as_array().unwrap().clone();
    let codes = topics.iter().flat_map(|topic| topic["codes"].as_array().unwrap());
    assert_eq!(codes.clone().count(), explanations().len());
    for code in codes {
        assert!(list.contains(&format!("\n{} ", code["code"].as_str().unwrap())), "{code}");
    }
}
