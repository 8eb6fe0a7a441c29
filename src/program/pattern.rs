//! `throwbook pattern`: one pattern explained.

use throwbook::export::{pattern_json, pattern_text};

use super::arguments::{Format, Pattern};
use super::output::{Output, width_of_results};
use super::{Failure, Outcome};

/// Explains the pattern, or says what is wrong with it.
pub(crate) fn run(arguments: &Pattern, output: &mut Output) -> Result<Outcome, Failure> {
    let pattern = &arguments.pattern;
    let valid = match arguments.format {
        Format::Json => {
            let (text, valid) = pattern_json::explain(pattern);
            output.results(&text)?;
            valid
        }
        Format::Text => {
            let (text, valid) = pattern_text::explain(pattern, width_of_results());
            if valid {
                output.results(&text)?;
            } else {
                output.complaint(&text);
            }
            valid
        }
    };
    Ok(if valid { Outcome::Fine } else { Outcome::Faulty })
}
