//! What holds for the cues of a desk unless they say otherwise.

use crate::diagnostic::Diagnostic;
use crate::routine::{DeskDefaults, Numbering};

use super::cue::{DESKS, count, standby};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;

const NUMBERS: [(&str, Numbering); 2] = [("Odd", Numbering::Odd), ("Gaps", Numbering::Gaps)];

/// The desks, in the file's order.
pub(super) fn desks<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Vec<DeskDefaults>> {
    let mut desks: Vec<DeskDefaults> = Vec::new();
    for (key, value) in reader.entries(raw) {
        let Some(desk) = reader.choice(key, "desk", &DESKS) else { continue };
        let desk = key.placed(desk);
        if let Some(first) = desks.iter().find(|one| one.desk.value == desk.value) {
            let message = format!("The {:?} desk is written twice.", desk.value);
            let fault = Diagnostic::error("duplicate-field", desk.at.clone(), message)
                .label("the second time")
                .note_at(first.desk.at.clone(), "It is written here already.");
            reader.report(fault);
            continue;
        }
        let Some(mut record) = Record::open(reader, value, "Desk") else { continue };
        let count = record.may(reader, "count", count);
        let standby = record.may(reader, "standby", standby);
        let numbers =
            record.may(reader, "numbers", |reader, raw| reader.choice(raw, "numbering", &NUMBERS));
        record.close(reader);
        desks.push(DeskDefaults { desk, count, standby, numbers });
    }
    Some(desks)
}
