//! Every code that a message can have is explained, every example raises its code, at a place in
//! the text, and is silent once mended.
#![allow(missing_docs)]

mod emitted;
mod messages;

use std::collections::BTreeSet;
use std::path::Path;

use throwbook::diagnostic::{Explanation, Form};
use throwbook::explain::{NoSuchCode, explain, topics};

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
        let explained = explain(code).unwrap();
        assert!(!explained.also.contains(&code), "{code}");
    }
}

#[test]
fn every_example_raises_its_code_and_is_silent_once_mended() {
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
        let mended: Vec<String> = mended(&explanation).into_iter().map(|left| left.says).collect();
        if !mended.is_empty() {
            wrong.push(format!("{code} mended still says {mended:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_changes_that_a_message_offers_mend_its_fault() {
    for explanation in explanations() {
        let code = explanation.code;
        let count = |all: &[Message]| all.iter().filter(|message| message.code == code).count();
        let text = explanation.raises_in_full();
        let raised = messages(&explanation, &text);
        for message in raised.iter().filter(|message| message.code == code) {
            for edits in message.changes.iter().filter(|edits| !edits.is_empty()) {
                let mut text = text.clone();
                for (at, insert) in edits.iter().rev() {
                    text.replace_range(at.clone(), insert);
                }
                let left = messages(&explanation, &text);
                assert!(count(&left) < count(&raised), "{code}: a change gives\n{text}");
            }
        }
    }
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
fn an_unknown_code_is_refused_with_the_nearest_one() {
    assert_eq!(explain("juncton-clash"), Err(NoSuchCode { nearest: Some("junction-clash") }));
    assert_eq!(explain("lights"), Err(NoSuchCode { nearest: None }));
    let refused = throwbook(&["explain", "juncton-clash"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(refused.stdout.is_empty());
    let said =
        "throwbook: no message has the code `juncton-clash`; did you mean `junction-clash`?\n";
    assert_eq!(String::from_utf8(refused.stderr).unwrap(), said);
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
