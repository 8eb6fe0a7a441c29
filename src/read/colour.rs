//! Colours: `#rrggbb` or a CSS name.

use palette::named;

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{NamedColour, Rgb};

use super::names::{Kind, quoted};
use super::nearest::nearest;
use super::raw::Raw;
use super::reader::Reader;
use super::text::text;

/// The routine's colours, in the file's order.
pub(super) fn colours<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Vec<NamedColour>> {
    let colour = |reader: &mut Reader, (key, value): (Raw<'a>, Raw<'a>)| {
        let name = text(reader, key);
        if let Some(name) = &name {
            reader.names.give(Kind::Colour, name);
        }
        let rgb = text(reader, value).and_then(|written| rgb(reader, &written, &[]))?;
        Some(NamedColour { name: name?, rgb, at: value.place() })
    };
    let entries = reader.entries(raw);
    Some(entries.into_iter().filter_map(|entry| colour(reader, entry)).collect())
}

/// The name of one of the routine's colours.
pub(super) fn colour_name<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<String>> {
    let name = text(reader, raw)?;
    reader.names.refer(Kind::Colour, &name);
    Some(name)
}

/// The name of a prop: one of the routine's colours, or two, front and back, as in `ivory/ink`,
/// which are compared with the set in use.
pub(super) fn prop_name<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<String>> {
    let name = text(reader, raw)?;
    if !name.value.contains('/') {
        reader.names.refer(Kind::Colour, &name);
    }
    Some(name)
}

/// The backdrop: one of the routine's colours by name, else a colour as any other.
pub(super) fn backdrop<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    colours: &[NamedColour],
) -> Option<NamedColour> {
    let written = text(reader, raw)?;
    if let Some(own) = colours.iter().find(|colour| colour.name.value == written.value) {
        return Some(NamedColour { at: written.at.clone(), name: written, rgb: own.rgb });
    }
    if reader.names.gives(Kind::Colour, &written.value) {
        // What it looks like could not be read, and is reported there.
        return None;
    }
    let names: Vec<&str> = colours.iter().map(|colour| colour.name.value.as_str()).collect();
    let rgb = rgb(reader, &written, &names)?;
    Some(NamedColour { at: written.at.clone(), name: written, rgb })
}

/// The colour of a light, on a Light or a Spot cue.
pub(super) fn light<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<NamedColour> {
    let written = text(reader, raw)?;
    let rgb = rgb(reader, &written, &[])?;
    if rgb == (Rgb { red: 0, green: 0, blue: 0 }) {
        let message = format!("`{}` is black, which lights nothing.", written.value);
        let fault = Diagnostic::error("light-is-black", written.at, message).label("no light");
        reader.report(fault.help(
            "Write `dark: true` in place of `light` on a Light cue, or `spot: Out` on a Spot cue: \
             the checks of the dark read that.",
        ));
        return None;
    }
    Some(NamedColour { at: written.at.clone(), name: written, rgb })
}

/// `#rrggbb`, or a colour name of CSS; `names` are others that may stand there.
fn rgb(reader: &mut Reader, written: &Placed<String>, names: &[&str]) -> Option<Rgb> {
    if let Some(digits) = written.value.strip_prefix('#') {
        let rgb = hexadecimal(digits);
        if rgb.is_none() {
            let message = format!(
                "`{}` is not a colour: after the # stand six digits, two each for red, green and blue.",
                written.value
            );
            let fault = Diagnostic::error("unknown-colour", written.at.clone(), message);
            reader.report(fault.label("not #rrggbb"));
        }
        return rgb;
    }
    let small = written.value.to_lowercase();
    let Some(colour) = named::from_str(&small) else {
        let message = format!(
            "`{}` is not a colour: write #rrggbb or one of the colour names of CSS.",
            written.value
        );
        let mut fault =
            Diagnostic::error("unknown-colour", written.at.clone(), message).label("not known");
        let css: Vec<&str> = named::entries().map(|(name, _)| name).collect();
        let own = nearest(&written.value, names.iter().copied());
        if let Some(near) = own.or_else(|| first_nearest(&small, css)) {
            let insert = quoted(near);
            fault = fault.help_edit(format!("Write {insert}."), written.at.clone(), insert);
        }
        reader.report(fault);
        return None;
    };
    Some(Rgb { red: colour.red, green: colour.green, blue: colour.blue })
}

/// The nearest name, of equally near ones the first in the alphabet.
fn first_nearest<'n>(word: &str, mut names: Vec<&'n str>) -> Option<&'n str> {
    names.sort_unstable();
    nearest(word, names)
}

fn hexadecimal(digits: &str) -> Option<Rgb> {
    if digits.len() != 6 || !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
        return None;
    }
    let [_, red, green, blue] = u32::from_str_radix(digits, 16).ok()?.to_be_bytes();
    Some(Rgb { red, green, blue })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_is_six_digits_or_nothing() {
        let coral = Rgb { red: 0xec, green: 0x6a, blue: 0x5c };
        assert_eq!(hexadecimal("ec6a5c"), Some(coral));
        assert_eq!(hexadecimal("EC6A5C"), Some(coral));
        for digits in ["", "fff", "ec6a5", "ec6a5g", "+c6a5c", "ec6a5c0", "éé12"] {
            assert_eq!(hexadecimal(digits), None, "{digits}");
        }
    }
}
