//! `throwbook transition`: the shortest ways between two patterns.

use throwbook::export::{transition_json, transition_text};
use throwbook::hand::Hand;
use throwbook::sheet::transition::compose;
use throwbook::transition::Bounds;

use super::arguments::{Format, Transition};
use super::output::{Output, width_of_results};
use super::{Failure, Outcome};

/// Finds the ways and prints them in their order.
pub(crate) fn run(arguments: &Transition, output: &mut Output) -> Result<Outcome, Failure> {
    let usual = Bounds::default();
    let bounds = Bounds {
        highest: arguments.highest.unwrap_or(usual.highest),
        at_once: arguments.at_once.unwrap_or(usual.at_once),
        beats: arguments.beats.unwrap_or(usual.beats),
    };
    let lead = arguments.lead.map(Hand::from);
    let sheet = compose(&arguments.from, &arguments.to, bounds, lead);
    let found = sheet.found();
    match arguments.format {
        Format::Json => output.results(&transition_json::json(&sheet))?,
        Format::Text if found => {
            output.results(&transition_text::text(&sheet, width_of_results()))?;
        }
        Format::Text => output.complaint(&transition_text::text(&sheet, width_of_results())),
    }
    Ok(if found { Outcome::Fine } else { Outcome::Faulty })
}
