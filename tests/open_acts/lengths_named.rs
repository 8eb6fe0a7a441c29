//! The lengths that a message names, with which it comes true.
//!
//! A message about an open act has one note of this form, and only this:
//!
//! `It happens with "applause" at 12.0 s, the hold "freeze" at 3.25 s and "talk" at 1.0 s.`
//!
//! A pause is named by its name in quotes (`"` and `\` in it behind a `\`), a hold as `the hold
//! "freeze"`; where another one has the same name, as `the hold "freeze" of "day"`, and what belongs
//! to the encore with ` in the encore` behind it. A length has one to three decimals, so that it can be written
//! into the file as it stands. What is not named can last what it likes: the message is true all
//! the same.

/// The beginning of the note.
const BEGINS: &str = "It happens with ";

/// The note of a message that was found on the safe side: no lengths are known that show it.
pub(crate) const ON_THE_SAFE_SIDE: &str =
    "This is judged on the safe side: it may be that no lengths bring it about.";

/// Whether a note names lengths.
pub(crate) fn is_of_lengths(note: &str) -> bool {
    note.starts_with(BEGINS)
}

/// The lengths that a note names, in thousandths of a second, each with how it is called.
///
/// # Errors
/// What is left of the note where it does not have the form.
pub(crate) fn lengths(note: &str) -> Result<Vec<(String, i64)>, String> {
    let mut rest = note.strip_prefix(BEGINS).ok_or(note)?;
    let mut lengths = Vec::new();
    loop {
        let size = called(rest).ok_or(rest)?;
        let (called, behind) = rest.split_at(size);
        let behind = behind.strip_prefix(" at ").ok_or(rest)?;
        let (length, behind) = behind.split_once(" s").ok_or(rest)?;
        lengths.push((called.to_owned(), thousandths(length).ok_or(rest)?));
        if behind == "." {
            return Ok(lengths);
        }
        rest = behind.strip_prefix(", ").or_else(|| behind.strip_prefix(" and ")).ok_or(behind)?;
    }
}

/// How many bytes from the beginning name one open length.
fn called(text: &str) -> Option<usize> {
    let mut size = if text.starts_with("the hold ") { "the hold ".len() } else { 0 };
    let is_hold = size > 0;
    size += in_quotes(&text[size..])?;
    if is_hold && text[size..].starts_with(" of \"") {
        size += " of ".len();
        size += in_quotes(&text[size..])?;
    }
    if text[size..].starts_with(" in the encore") {
        size += " in the encore".len();
    }
    Some(size)
}

/// The bytes of a text in quotes.
fn in_quotes(text: &str) -> Option<usize> {
    let mut is_escaped = true;
    text.starts_with('"').then_some(())?;
    for (index, character) in text.char_indices() {
        match character {
            _ if is_escaped => is_escaped = false,
            '\\' => is_escaped = true,
            '"' => return Some(index + 1),
            _ => {}
        }
    }
    None
}

fn thousandths(text: &str) -> Option<i64> {
    let (whole, decimals) = text.split_once('.')?;
    let is_number = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    if !is_number(whole) || !is_number(decimals) || decimals.len() > 3 {
        return None;
    }
    let decimals: i64 = format!("{decimals:0<3}").parse().ok()?;
    Some(whole.parse::<i64>().ok()? * 1000 + decimals)
}

#[test]
fn lengths_are_read_in_the_one_form_that_a_note_has() {
    let read = |note: &str| lengths(note).ok();
    let of = |called: &str, length| (called.to_owned(), length);
    assert_eq!(
        read("It happens with \"applause\" at 12.0 s."),
        Some(vec![of("\"applause\"", 12_000)])
    );
    assert_eq!(
        read(
            "It happens with \"a \\\"b\\\" \\\\\" at 0.125 s, the hold \"h\" at 3.25 s, the hold \
             \"h\" of \"day\" at 4.0 s and \"e0\" in the encore at 10.5 s."
        ),
        Some(vec![
            of("\"a \\\"b\\\" \\\\\"", 125),
            of("the hold \"h\"", 3_250),
            of("the hold \"h\" of \"day\"", 4_000),
            of("\"e0\" in the encore", 10_500),
        ])
    );
    for note in [
        "It happens with \"applause\" at 12 s.",
        "It happens with \"applause\" at 12.0625 s.",
        "It happens with applause at 12.0 s.",
        "It happens with \"applause\" at 12.0 s",
        "It happens with \"a\" at 1.0 s \"b\" at 2.0 s.",
    ] {
        assert_eq!(read(note), None, "{note}");
    }
}
