//! What holds for the cues of a crew unless they say otherwise.

use crate::diagnostic::Diagnostic;
use crate::routine::{CrewDefaults, Numbering};

use super::cue::{CREWS, count, standby};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;

const NUMBERS: [(&str, Numbering); 2] = [("Odd", Numbering::Odd), ("Gaps", Numbering::Gaps)];

/// The crews, in the file's order.
pub(super) fn crews<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Vec<CrewDefaults>> {
    let mut crews: Vec<CrewDefaults> = Vec::new();
    for (key, value) in reader.entries(raw) {
        let Some(crew) = reader.choice(key, "crew", &CREWS) else { continue };
        let crew = key.placed(crew);
        if let Some(first) = crews.iter().find(|one| one.crew.value == crew.value) {
            let message = format!("The {:?} crew is written twice.", crew.value);
            let fault = Diagnostic::error("duplicate-field", crew.at.clone(), message)
                .label("the second time")
                .note_at(first.crew.at.clone(), "It is written here already.");
            reader.report(fault);
            continue;
        }
        let Some(mut record) = Record::open(reader, value, "Crew") else { continue };
        let count = record.may(reader, "count", count);
        let standby = record.may(reader, "standby", standby);
        let numbers =
            record.may(reader, "numbers", |reader, raw| reader.choice(raw, "numbering", &NUMBERS));
        record.close(reader);
        crews.push(CrewDefaults { crew, count, standby, numbers });
    }
    Some(crews)
}
