//! Routine files that are mangled, and everything that is done with a file.

use throwbook::act::Act;
use throwbook::diagnostic::{Diagnostic, Place, json, render};
use throwbook::difference::{Comparison, Side};
use throwbook::export::difference_text::Names;
use throwbook::export::{captions as captions_text, click_wav::wav, midi::midi};
use throwbook::export::{
    cues_csv, cues_json, cues_page, cues_text, difference_json, difference_text, state_text,
    timing_json, timing_text,
};
use throwbook::issue::{Frozen, freeze, written};
use throwbook::offer::{Mended, mend, offers};
use throwbook::read::Edits;
use throwbook::sheet::cues::papers;
use throwbook::sheet::rehearsal::clicks::{self, Per};
use throwbook::sheet::rehearsal::{Media, captions, sequence};
use throwbook::sound::Tracks;
use throwbook::{Opened, open, open_issued, open_to_compare, strip};

pub(crate) const FILES: [&str; 7] = [
    include_str!("../routines/lantern.ron"),
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
    include_str!("../../routines/bowline.ron"),
    include_str!("../../routines/kiln-yard.ron"),
    include_str!("../../routines/signal-box.ron"),
];

/// Pieces that files are made of, to be put where they do not belong.
pub(crate) const PIECES: [&str; 27] = [
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ":",
    "\"",
    "Auto",
    "Direct",
    "Throws(\"4\")",
    "Left",
    "Cycles(3)",
    "Until(LastCatch)",
    "For(\"0:00\")",
    "Between(\"0:00\", \"0:09\")",
    "Until(HoldEnd(\"day\", \"signal at danger\"))",
    "TrackEnd(\"night\")",
    "\"3\"",
    "\"[54]24\"",
    "\"(4,2x)*\"",
    "-1",
    "1e308",
    "99999999999999999999",
    "\"é\"",
    "// ",
];

/// A change of a text.
#[derive(Clone, Debug)]
pub(crate) enum Change {
    Delete { from: usize, length: usize },
    Double { from: usize, length: usize },
    Put { at: usize, piece: usize },
    Replace { at: usize, length: usize, piece: usize },
}

/// The text after some changes.
pub(crate) fn changed(text: &str, changes: &[Change]) -> String {
    let mut characters: Vec<char> = text.chars().collect();
    for change in changes {
        let size = characters.len();
        if size == 0 {
            break;
        }
        let stretch = |from: usize, length: usize| {
            let from = from % size;
            from..(from + length).min(size)
        };
        match *change {
            Change::Delete { from, length } => {
                characters.drain(stretch(from, length));
            }
            Change::Double { from, length } => {
                let part: Vec<char> = characters[stretch(from, length)].to_vec();
                let at = from % size;
                characters.splice(at..at, part);
            }
            Change::Put { at, piece } => {
                let at = at % size;
                characters.splice(at..at, PIECES[piece].chars());
            }
            Change::Replace { at, length, piece } => {
                characters.splice(stretch(at, length), PIECES[piece].chars());
            }
        }
    }
    characters.into_iter().collect()
}

/// Changes that bytes stand for, six each.
pub(crate) fn changes_of(bytes: &[u8]) -> Vec<Change> {
    let change = |part: &[u8]| {
        let at = usize::from(part[1]) << 8 | usize::from(part[2]);
        // Mostly a few characters, sometimes some hundred.
        let length = 1 + usize::from(part[3]) * if part[4] > 200 { 2 } else { 1 } / 16;
        let piece = usize::from(part[5]) % PIECES.len();
        match part[0] % 4 {
            0 => Change::Delete { from: at, length },
            1 => Change::Double { from: at, length },
            2 => Change::Put { at, piece },
            _ => Change::Replace { at, length, piece },
        }
    };
    bytes.chunks_exact(6).take(12).map(change).collect()
}

/// The text that bytes stand for: an act that ships with changes, or as they come.
pub(crate) fn text_of(bytes: &[u8]) -> String {
    match bytes.split_first() {
        Some((&act, changes)) if act < 192 => {
            changed(FILES[usize::from(act) % FILES.len()], &changes_of(changes))
        }
        Some((_, text)) => String::from_utf8_lossy(text).into_owned(),
        None => String::new(),
    }
}

/// Opens a text, draws what is wrong with it, and makes every document, drafts where anything is.
pub(crate) fn goes_through(text: &str) {
    let opened = open(text);
    for diagnostic in &opened.diagnostics {
        for place in places(diagnostic) {
            assert!(
                text.get(place.start..place.end).is_some(),
                "{} names {place:?} of {} bytes",
                diagnostic.code,
                text.len()
            );
        }
    }
    let drawn = render(&opened.diagnostics, "mangled.ron", text, 80, false);
    assert_eq!(drawn.is_empty(), opened.diagnostics.is_empty());
    let report = json(&opened.diagnostics, "mangled.ron", text);
    assert_eq!(report.errors + report.warnings, opened.diagnostics.len());
    assert_eq!(report.errors == 0, opened.finished().is_some());
    is_compared_and_mended(text, &opened);
    let Some(act) = &opened.act else { return };
    let documents = [
        timing_text::text(act, 80),
        timing_text::moves_text(act, 80),
        timing_json::json(act),
        cues_text::text(act, None, 80),
        cues_json::json(act, None),
        cues_csv::csv(act, None),
        cues_page::page(act, None),
        state_text::text(act, 80),
        strip::strip(act),
        strip::overview(act),
    ];
    assert!(documents.iter().all(|document| !document.is_empty()));
    let Some(act) = opened.finished() else { return };
    assert!(act.calls.uncallable.is_empty(), "what cannot be called is an error");
    rehearses(act);
    let Frozen::Added(issued) = freeze(&act.routine, &papers(act)) else {
        panic!("nothing was handed out before");
    };
    let again = open_issued(text, Some(&written(&issued)));
    assert_eq!(again.in_record, []);
    assert_eq!(again.diagnostics, opened.diagnostics);
}

/// Holds a text against the file that it was, where it still is nearly that, and makes every change
/// that its messages offer.
fn is_compared_and_mended(text: &str, opened: &Opened) {
    const FEW: usize = 3;
    let reopen = |text: &str| open_to_compare(text, None, |_| Tracks::new());
    for old in FILES {
        let Some(edits) = Edits::between(old, text) else { break };
        let many = edits.count() > FEW;
        if many {
            continue;
        }
        let (was, is) = (reopen(old), reopen(text));
        let sides = [Side { text: old, opened: &was }, Side { text, opened: &is }];
        let comparison = Comparison::between(sides[0], sides[1], reopen);
        let names = Names { old: "old.ron", new: "new.ron" };
        assert!(difference_json::of_comparison(&comparison).starts_with("{\"same\""));
        let told = difference_text::of_comparison(&comparison, names, 80);
        assert_eq!(told.contains("Nothing is different."), comparison.is_same);
        if let (Some(was), Some(is)) = (&was.act, &is.act) {
            assert!(strip::overview_over(is, was).ends_with("</svg>"));
        }
        break;
    }
    for offer in &offers(opened) {
        let mended = mend(text, opened, &[offer], reopen);
        assert!(matches!(mended, Mended::Done { .. }), "{offer:?}");
    }
}

/// Makes every file to rehearse by that is not refused.
fn rehearses(act: &Act) {
    let Ok(media) = Media::new(act, None) else {
        unreachable!("the track's start and the zero come in a routine without errors");
    };
    if let Ok(captions) = captions::compose(media.clone()) {
        assert!(captions_text::vtt(&captions).starts_with("WEBVTT"));
        assert!(captions_text::srt(&captions).starts_with("1\n"));
    }
    if let Ok(sequence) = sequence::compose(act, media.clone(), Some(1)) {
        assert!(midi(&sequence).starts_with(b"MThd"));
    }
    for per in [Per::Throw, Per::MusicBeat { through_pauses: true }] {
        if let Ok(track) = clicks::compose(act, media.clone(), per, Some(4)) {
            assert!(track.clicks.iter().all(|click| !click.at.is_negative()));
            // A file of minutes takes a while where nothing is optimized.
            if track.lasts.to_f64() < 70.0 {
                assert!(wav(&track).starts_with(b"RIFF"));
            }
        }
    }
}

fn places(diagnostic: &Diagnostic) -> Vec<&Place> {
    let notes = diagnostic.notes.iter().filter_map(|note| note.at.as_ref());
    let edits = diagnostic.helps.iter().flat_map(|help| &help.edits).map(|edit| &edit.at);
    std::iter::once(&diagnostic.at).chain(notes).chain(edits).collect()
}
