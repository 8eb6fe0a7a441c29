//! All documents of a routine file, for tests.

use throwbook::export;
use throwbook::sheet::rehearsal::{Media, captions, clicks, sequence};

/// Everything that can be written of a file, and everything that is said of it.
pub(crate) fn documents(text: &str) -> Vec<String> {
    let opened = throwbook::open(text);
    let mut documents = vec![format!("{:?}", opened.diagnostics)];
    if let Some(act) = &opened.act {
        let colours = opened.colours.as_ref().expect("a routine with a timeline has its colours");
        documents.push(export::colours_json::json(act, colours));
        documents.push(export::colours_text::text(act, colours, 80));
        documents.push(export::timing_json::json(act));
        documents.push(export::timing_json::moves_json(act));
        documents.push(export::timing_text::text(act, 80));
        documents.push(export::cues_json::json(act, None));
        documents.push(export::cues_csv::csv(act, None));
        documents.push(export::cues_page::page(act, None));
        documents.push(export::cues_text::text(act, None, 80));
        documents.push(throwbook::strip::strip(act));
        documents.push(throwbook::strip::overview(act));
    }
    if let Some(act) = opened.finished() {
        let media = Media::new(act, None).expect("its zero comes");
        documents.push(format!("{:?}", captions::compose(media.clone())));
        documents.push(format!("{:?}", sequence::compose(act, media.clone(), None)));
        let clicks = clicks::compose(act, media, clicks::Per::Throw, None);
        documents.push(format!("{clicks:?}"));
    }
    documents
}
