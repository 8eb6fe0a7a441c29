//! What the program says of a routine file, as its documents for other programs: the one place
//! where these tests touch the library.

pub(crate) mod chance;
pub(crate) mod compared;
pub(crate) mod failures;
pub(crate) mod mended;
pub(crate) mod names;

use serde_json::{Value, json};
use throwbook::diagnostic;
use throwbook::export::{colours_json, cues_json, timing_json};
use throwbook::sheet::stamp::TimecodeClock;
use throwbook::sheet::{cues, timing};
use throwbook::time::{FrameRate, Timecode};

/// Everything that is said of one file.
pub(crate) struct Said {
    /// Of `check --format json`.
    pub(crate) check: Value,
    /// Of `time --timecode 25 --format json`, where there is one.
    pub(crate) time: Option<Value>,
    /// Of `cues --timecode 25 --format json`, where there is one.
    pub(crate) cues: Option<Value>,
    /// Of `colours --format json`, where there is one.
    pub(crate) colours: Option<Value>,
}

/// Which documents are wanted beside `check`.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Wanted {
    /// None.
    Check,
    /// Those that give times.
    Times,
    /// All of them.
    All,
}

/// What is said of a routine file; its music files are not looked for. A panic is said as an error.
pub(crate) fn said(text: &str, wanted: Wanted) -> Said {
    std::panic::catch_unwind(|| documents(text, wanted)).unwrap_or_else(|_| {
        println!("the program panics at\n{text}");
        let fault = json!({
            "severity": "error", "code": PANIC, "message": "the program panics", "line": 1,
            "column": 1, "notes": [], "helps": [],
        });
        let check = json!({ "errors": 1, "warnings": 0, "diagnostics": [fault] });
        Said { check, time: None, cues: None, colours: None }
    })
}

/// The code of an error that no file may bring about.
pub(crate) const PANIC: &str = "panic";

fn documents(text: &str, wanted: Wanted) -> Said {
    let opened = throwbook::open(text);
    let check =
        serde_json::to_value(diagnostic::json(&opened.diagnostics, "act.ron", text)).unwrap();
    let none = Said { check, time: None, cues: None, colours: None };
    let Some(act) = opened.act.as_ref().filter(|_| wanted != Wanted::Check) else { return none };
    let clock = TimecodeClock::new(act, Timecode::of_frame(FrameRate::F25, 0));
    let read = |text: String| serde_json::from_str::<Value>(&text).unwrap();
    let time = timing::compose(act).with_timecode(clock.clone());
    let sheet = cues::compose(act, None).with_timecode(&clock);
    let colours = opened.colours.as_ref().filter(|_| wanted == Wanted::All);
    Said {
        time: Some(read(timing_json::of_sheet(&time))),
        cues: (!opened.is_unsafe()).then(|| read(cues_json::of_sheet(&sheet))),
        colours: colours.map(|colours| read(colours_json::json(act, colours))),
        ..none
    }
}

/// The diagnostics of a `check`.
pub(crate) fn diagnostics(check: &Value) -> &[Value] {
    check["diagnostics"].as_array().map_or(&[], Vec::as_slice)
}

/// The codes of its errors.
pub(crate) fn errors(check: &Value) -> Vec<&str> {
    let errors = diagnostics(check).iter().filter(|one| one["severity"] == "error");
    errors.map(|one| one["code"].as_str().unwrap()).collect()
}

/// Errors that are found from the times of an act, and so do not keep it from having any.
pub(crate) const OF_TIMES: [&str; 3] =
    ["burn-too-short", "danger-in-dark", "dark-before-last-catch"];

/// Whether nothing keeps an act from having times.
pub(crate) fn has_times(check: &Value) -> bool {
    errors(check).iter().all(|code| OF_TIMES.contains(code))
}
