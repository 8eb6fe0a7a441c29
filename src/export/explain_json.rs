//! What codes mean, as JSON: a contract, read by other programs.

use serde::Serialize;

use crate::diagnostic::{Beside, Explanation, Form};
use crate::explain::{Explained, topics};

use super::json::written;
use super::reference_json::{OfRecord, records};

#[derive(Serialize)]
struct Document<'a> {
    code: &'static str,
    topic: &'static str,
    what: &'static str,
    why: &'static str,
    form: &'static str,
    raises: &'static str,
    times: usize,
    mended: &'static str,
    beside: Vec<File>,
    also: &'a [&'static str],
}

#[derive(Serialize)]
struct File {
    file: &'static str,
    what: &'static str,
    text: Option<&'static str>,
}

#[derive(Serialize)]
struct All {
    topics: Vec<OfTopic>,
    records: Vec<OfRecord>,
}

#[derive(Serialize)]
struct OfTopic {
    topic: &'static str,
    codes: Vec<Line>,
}

#[derive(Serialize)]
struct Line {
    code: &'static str,
    what: &'static str,
}

/// One code as a JSON object and a line end.
#[must_use]
pub fn json(explained: &Explained) -> String {
    let Explanation { code, what, why, form, times, beside, raises, mended } =
        explained.explanation;
    let file = |&Beside { file, what, text }: &Beside| File { file, what, text };
    written(&Document {
        code,
        topic: explained.topic.title(),
        what,
        why,
        form: match form {
            Form::Routine => "routine",
            Form::Latin1 => "latin-1",
            Form::Record => "record",
            Form::Pattern => "pattern",
            Form::Transition => "transition",
        },
        raises,
        times,
        mended,
        beside: beside.iter().map(file).collect(),
        also: &explained.also,
    })
}

/// Every code with what is looked for, topic by topic, and every record, as a JSON object and a line end.
#[must_use]
pub fn list() -> String {
    let line = |one: &Explanation| Line { code: one.code, what: one.what };
    let topics = topics().into_iter().map(|(topic, explanations)| OfTopic {
        topic: topic.title(),
        codes: explanations.iter().map(line).collect(),
    });
    written(&All { topics: topics.collect(), records: records() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explain::code;

    #[test]
    fn the_fields_are_those_of_the_contract() {
        insta::assert_snapshot!(json(&code("star-without-pairs").unwrap()));
        let list: serde_json::Value = serde_json::from_str(&list()).unwrap();
        let names = |topic: &serde_json::Value| topic["topic"] == "names";
        let names = list["topics"].as_array().unwrap().iter().find(|topic| names(topic)).unwrap();
        assert_eq!(names["codes"][0]["code"], "duplicate-name");
        assert!(names["codes"][0]["what"].as_str().unwrap().ends_with('.'));
    }
}
