//! What lands on the moment at which a section ends: a throw or a catch of the next section, or the
//! last of its own.

use crate::diagnostic::{Diagnostic, Placed};
use crate::notation::HIGHEST_VALUE;
use crate::routine::Lands;

use super::moment::counted;
use super::number::{Between, whole};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::score::Lasting;

/// The highest value that notation writes.
const HIGHEST: f64 = HIGHEST_VALUE as f64;

/// What stands first in the brackets of `Lands`.
pub(super) fn lands<'a>(reader: &mut Reader, raw: Raw<'a>, lasting: Lasting) -> Option<Lands> {
    const WHAT: &str = "throw or catch that lands";
    const FORMS: [Form; 4] = [
        ("Throw", "Throw(\"section\", 3)"),
        ("Catch", "Catch(\"section\", 3)"),
        ("LastThrow", "LastThrow(7)"),
        ("LastCatch", "LastCatch(7)"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    if lasting == Lasting::Pause && matches!(word.value, "LastThrow" | "LastCatch") {
        let message = "Nothing is thrown in a pause: there is no last throw to land.";
        let fault = Diagnostic::error("wrong-shape", raw.place(), message)
            .label("of a pause")
            .help("Name a throw of the section after it, such as Throw(\"section\", 1).");
        reader.report(fault);
        return None;
    }
    let value = |reader: &mut Reader, example: &str| {
        let value = reader.argument(&word, rest, example)?;
        let value = whole(reader, value, Between::from("the value of a throw", 1.0, HIGHEST, ""))?;
        let number =
            u8::try_from(value.value).unwrap_or_else(|_| unreachable!("it is at most {HIGHEST}"));
        Some(Placed { value: number, at: value.at })
    };
    Some(match word.value {
        "Throw" => {
            let (section, number) = counted(reader, &word, rest)?;
            Lands::Throw(section, number)
        }
        "Catch" => {
            let (section, number) = counted(reader, &word, rest)?;
            Lands::Catch(section, number)
        }
        "LastThrow" => Lands::LastThrow(value(reader, FORMS[2].1)?),
        "LastCatch" if rest.is_blank() => Lands::Gather,
        "LastCatch" => Lands::LastCatch(value(reader, FORMS[3].1)?),
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    })
}
