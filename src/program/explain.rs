//! `throwbook explain`: what the code of a message means, and what stands in a routine file.

use throwbook::explain::{Answer, NoSuchName, explain};
use throwbook::export::{
    explain_json, explain_text, reference_json, reference_page, reference_text,
};

use super::arguments::{Explain, Format};
use super::output::{Output, width_of_results};
use super::{Failure, Outcome};

/// Explains one name, lists all of them, or prints the page of the routine file.
pub(crate) fn run(arguments: &Explain, output: &mut Output) -> Result<Outcome, Failure> {
    let width = width_of_results();
    let text = match (&arguments.name, arguments.format) {
        _ if arguments.page => reference_page::page(),
        (None, Format::Text) => explain_text::list(width),
        (None, Format::Json) => explain_json::list(),
        (Some(name), format) => {
            let answer = explain(name).map_err(|none| no_such_name(name, none))?;
            match (answer, format) {
                (Answer::Code(code), Format::Text) => explain_text::text(&code, width),
                (Answer::Code(code), Format::Json) => explain_json::json(&code),
                (Answer::Reference(entries), Format::Text) => reference_text::text(&entries, width),
                (Answer::Reference(entries), Format::Json) => reference_json::json(name, &entries),
            }
        }
    };
    output.results(&text)?;
    Ok(Outcome::Fine)
}

fn no_such_name(written: &str, NoSuchName { nearest }: NoSuchName) -> Failure {
    let instead = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`throwbook explain` lists all codes and records".to_owned(),
    };
    Failure::new(format!("nothing is called `{written}`; {instead}"))
}
