//! All documents of a routine file, for tests.

use throwbook::export;
use throwbook::sheet::rehearsal::{Media, captions, clicks, sequence};

/// Everything that can be written of a file, and everything that is said of it.
pub(crate) fn documents(text: &str) -> Vec<String> {
    let opened = throwbook::open(text);
    let mut documents = vec![format!("{:?}", opened.diagnostics)];
    if let (Some(routine), Some(timeline)) = (&opened.routine, &opened.timeline) {
        let colours = opened.colours.as_ref().expect("a routine with a timeline has its colours");
        documents.push(export::colours_json::json(routine, timeline, colours));
        documents.push(export::colours_text::text(routine, timeline, colours, 80));
        documents.push(export::timing_json::json(routine, timeline));
        documents.push(export::timing_json::moves_json(routine, timeline));
        documents.push(export::timing_text::text(routine, timeline, 80));
        documents.push(export::cues_json::json(routine, timeline, None));
        documents.push(export::cues_csv::csv(routine, timeline, None));
        documents.push(export::cues_page::page(routine, timeline, None));
        documents.push(export::cues_text::text(routine, timeline, None, 80));
        let media = Media::new(routine, timeline, None).expect("its zero comes");
        documents.push(format!("{:?}", captions::compose(media.clone())));
        documents.push(format!("{:?}", sequence::compose(routine, timeline, media.clone(), None)));
        let clicks = clicks::compose(routine, timeline, media, clicks::Per::Throw, None);
        documents.push(format!("{clicks:?}"));
        let calls = throwbook::measure::calls::calls(routine, timeline).calls;
        documents.push(throwbook::strip::strip(routine, timeline, &calls));
        documents.push(throwbook::strip::overview(routine, timeline, &calls));
    }
    documents
}
