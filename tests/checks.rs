//! Every check raises what its example shows, at a place in the file, and is silent once mended.
#![allow(missing_docs)]

use throwbook::check::CHECKS;
use throwbook::sound::{Found, Heard, Loudness, Tracks, Unheard};
use throwbook::time::Seconds;
use throwbook::{Opened, open_with};

/// Opens an example as if its music files lay beside it.
fn open(text: &str) -> Opened {
    open_with(text, None, |_| {
        let minute = Heard {
            length: Seconds::fraction(60, 1),
            silence: Seconds::zero(),
            loudness: Loudness::default(),
        };
        let cut = Unheard::CutOff { holds_s: 20.0, promises_s: None };
        let mut tracks = Tracks::new();
        tracks.note("a-minute.wav", Found::Heard(minute));
        tracks.note("missing.wav", Found::Missing);
        tracks.note("cut-off.wav", Found::Unreadable(cut));
        tracks
    })
}

#[test]
fn every_example_raises_its_fault_and_compiles_clean_when_mended() {
    let mut wrong = Vec::new();
    for check in CHECKS {
        let raised = open(check.raises).diagnostics;
        let codes: Vec<&str> = raised.iter().map(|diagnostic| diagnostic.code).collect();
        if !codes.contains(&check.code) {
            wrong.push(format!("{} raises {codes:?}", check.code));
        }
        for diagnostic in &raised {
            let marked = check.raises.get(diagnostic.at.start..diagnostic.at.end);
            assert!(marked.is_some(), "{}: marks no text", check.code);
            assert!(!diagnostic.message.is_empty(), "{}: says nothing", check.code);
        }
        let mended = open(check.mended);
        if !mended.diagnostics.is_empty() || mended.finished().is_none() {
            wrong.push(format!("{} mended still says {:?}", check.code, mended.diagnostics));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_check_says_what_it_is_for_in_sentences_and_has_a_code_of_its_own() {
    let codes: Vec<&str> = CHECKS.iter().map(|check| check.code).collect();
    assert!(codes.is_sorted_by(|code, next| code < next), "in order, each once: {codes:?}");
    for check in CHECKS {
        for sentence in [check.what, check.why] {
            assert!(sentence.ends_with('.'), "{}: {sentence}", check.code);
            assert!(!sentence.contains("  "), "{}: {sentence}", check.code);
        }
    }
}

#[test]
fn the_changes_that_a_message_offers_mend_its_fault() {
    for check in CHECKS {
        let raised = open(check.raises).diagnostics;
        let count = |diagnostics: &[throwbook::diagnostic::Diagnostic]| {
            diagnostics.iter().filter(|diagnostic| diagnostic.code == check.code).count()
        };
        for diagnostic in raised.iter().filter(|diagnostic| diagnostic.code == check.code) {
            for help in diagnostic.helps.iter().filter(|help| !help.edits.is_empty()) {
                let mut text = check.raises.to_owned();
                for edit in help.edits.iter().rev() {
                    text.replace_range(edit.at.start..edit.at.end, &edit.insert);
                }
                let left = count(&open(&text).diagnostics);
                assert!(left < count(&raised), "{}: `{}` gives\n{text}", check.code, help.text);
            }
        }
    }
}
