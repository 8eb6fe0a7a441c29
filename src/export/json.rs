//! How every JSON document is written: in one line, with a line end after it.

use serde::Serialize;

/// A document in JSON with a line end after it.
#[must_use]
pub fn written(document: &impl Serialize) -> String {
    let text = serde_json::to_string(document)
        .unwrap_or_else(|_| unreachable!("a document has text keys only and no writer to fail"));
    text + "\n"
}
