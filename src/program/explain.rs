//! `throwbook explain`: what the code of a message means.

use throwbook::explain::{NoSuchCode, explain};
use throwbook::export::{explain_json, explain_text};

use super::arguments::{Explain, Format};
use super::output::{Output, width_of_results};
use super::{Failure, Outcome};

/// Explains one code, or lists all of them.
pub(crate) fn run(arguments: &Explain, output: &mut Output) -> Result<Outcome, Failure> {
    let text = match (&arguments.code, arguments.format) {
        (None, Format::Text) => explain_text::list(width_of_results()),
        (None, Format::Json) => explain_json::list(),
        (Some(code), format) => {
            let explained = explain(code).map_err(|none| no_such_code(code, none))?;
            match format {
                Format::Text => explain_text::text(&explained, width_of_results()),
                Format::Json => explain_json::json(&explained),
            }
        }
    };
    output.results(&text)?;
    Ok(Outcome::Fine)
}

fn no_such_code(written: &str, NoSuchCode { nearest }: NoSuchCode) -> Failure {
    let instead = match nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`throwbook explain` lists all codes".to_owned(),
    };
    Failure::new(format!("no message has the code `{written}`; {instead}"))
}
