//! Numbers of the file: their bounds, exact decimals, times, and cue numbers in tenths.
//!
//! Bounds are there so that nothing a file can contain takes hours or all memory; they are far
//! beyond any act.

use std::fmt;

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};
use num_traits::ToPrimitive;

use crate::diagnostic::Placed;
use crate::routine::CueNumber;
use crate::time::{Seconds, exact_decimal, parse_clock};

use super::raw::Raw;
use super::reader::Reader;

/// The longest time that a file can speak of, in seconds: a day.
pub(super) const LONGEST_S: f64 = 86_400.0;

/// What a number may be.
#[derive(Clone, Copy)]
pub(super) struct Between {
    /// What it is, as in "a margin".
    pub(super) what: &'static str,
    /// The least; excluded where `above` says so.
    pub(super) least: f64,
    /// Whether it must lie above the least.
    pub(super) above: bool,
    /// The most, included.
    pub(super) most: f64,
    /// What it counts, with a blank before it, or nothing.
    pub(super) unit: &'static str,
}

impl Between {
    /// From a least value to a most, both included.
    pub(super) const fn from(
        what: &'static str,
        least: f64,
        most: f64,
        unit: &'static str,
    ) -> Self {
        Between { what, least, above: false, most, unit }
    }

    /// Above a value, up to a most.
    pub(super) const fn above(
        what: &'static str,
        least: f64,
        most: f64,
        unit: &'static str,
    ) -> Self {
        Between { what, least, above: true, most, unit }
    }

    fn holds(&self, value: f64) -> bool {
        (if self.above { value > self.least } else { value >= self.least }) && value <= self.most
    }
}

impl fmt::Display for Between {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Between { what, least, most, unit, .. } = self;
        if self.above {
            write!(f, "{what} is above {least} and at most {most}{unit}")
        } else {
            write!(f, "{what} is at least {least} and at most {most}{unit}")
        }
    }
}

/// A sentence begins with a capital letter.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A number with or without decimals.
pub(super) fn number<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    bounds: Between,
) -> Option<Placed<f64>> {
    #[cfg(test)]
    reader.known.bounds(&bounds);
    let Some(value) = raw.plain::<f64>() else {
        return reader.shape(raw, "a number");
    };
    if !bounds.holds(value) {
        let message = sentence(&format!("{bounds}; this is {}.", raw.text));
        reader.error("out-of-range", raw.place(), message);
        return None;
    }
    Some(raw.placed(value))
}

/// A whole number.
pub(super) fn whole<'a>(reader: &mut Reader, raw: Raw<'a>, bounds: Between) -> Option<Placed<u32>> {
    #[cfg(test)]
    reader.known.bounds(&bounds);
    let Some(value) = raw.plain::<i64>() else {
        return match raw.plain::<f64>() {
            Some(value) if value.fract() == 0.0 => {
                // A whole number with a point, or one that is beyond any bound.
                let value = number(reader, raw, bounds)?.value;
                value.to_u32().map(|value| raw.placed(value))
            }
            _ => reader.shape(raw, "a whole number"),
        };
    };
    let within = u32::try_from(value).ok().filter(|&value| bounds.holds(f64::from(value)));
    if within.is_none() {
        let message = sentence(&format!("{bounds}; this is {}.", raw.text));
        reader.error("out-of-range", raw.place(), message);
    }
    within.map(|value| raw.placed(value))
}

/// A number exactly as its decimals say.
pub(super) fn exact<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    bounds: Between,
) -> Option<Placed<BigRational>> {
    let value = number(reader, raw, bounds)?.value;
    // `number` let a finite one through, so this is never `None`.
    exact_decimal(value).map(|exact| raw.placed(exact))
}

/// Seconds as a plain number, exactly as its decimals say.
pub(super) fn seconds<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    bounds: Between,
) -> Option<Placed<Seconds>> {
    exact(reader, raw, bounds).map(|exact| raw.placed(Seconds::Exact(exact.value)))
}

/// A time in quotation marks, `"m:ss"` with up to three decimals.
pub(super) fn time<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Seconds>> {
    let Some(text) = raw.plain::<String>() else {
        let shape = "a time in quotation marks, such as \"1:05\" or \"0:06.5\",";
        return reader.shape(raw, shape);
    };
    match parse_clock(&text) {
        Ok(time) if time.abs() <= Seconds::fraction(86_400, 1) => Some(raw.placed(time)),
        Ok(_) => {
            reader.error("out-of-range", raw.place(), "A time is less than a day from its zero.");
            None
        }
        Err(message) => {
            reader.error("bad-time", raw.place(), sentence(&format!("{message}.")));
            None
        }
    }
}

/// A time that is not below zero.
pub(super) fn length_of_time<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Seconds>> {
    let time = time(reader, raw)?;
    if time.value.is_negative() {
        reader.error("out-of-range", raw.place(), "A length of time is not below 0:00.");
        return None;
    }
    Some(time)
}

/// The dwell ratio: above 0 and below 1.
pub(super) fn ratio<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Ratio<i64>> {
    /// Decimals beyond these would make the exact times of catches needlessly long.
    const FINEST: i64 = 1_000_000;
    let bounds = Between::above("the dwell ratio", 0.0, 1.0, "");
    let exact = exact(reader, raw, bounds)?.value;
    if exact >= BigRational::from_integer(BigInt::from(1)) {
        let message = "The dwell ratio is below 1: a hand that always holds a prop throws none.";
        reader.error("out-of-range", raw.place(), message);
        return None;
    }
    let part = |part: &BigInt| part.to_i64().filter(|&part| part <= FINEST);
    match (part(exact.numer()), part(exact.denom())) {
        (Some(numerator), Some(denominator)) => Some(Ratio::new(numerator, denominator)),
        _ => {
            let message = "The dwell ratio has at most six decimals.";
            reader.error("out-of-range", raw.place(), message);
            None
        }
    }
}

/// A cue number, read from its text in tenths: 16.1 and 16.10 are the same number.
pub(super) fn cue_number<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<CueNumber>> {
    let refuse = |reader: &mut Reader, why: &str| {
        let message = format!("`{}` is no cue number: {why}.", raw.text);
        reader.error("cue-number", raw.place(), message);
        None
    };
    if raw.plain::<f64>().is_none() {
        return refuse(reader, "it is a number such as 20 or 20.5, without quotation marks");
    }
    if raw.text.starts_with('-') {
        return refuse(reader, "it is not below 0");
    }
    let (whole, decimals) = raw.text.split_once('.').unwrap_or((raw.text, ""));
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(decimals) {
        return refuse(reader, "it is written in digits, with a point and one decimal at most");
    }
    if decimals.len() > 1 && decimals.bytes().skip(1).any(|digit| digit != b'0') {
        return refuse(reader, "it has one decimal at most");
    }
    let tenth = decimals.bytes().next().map_or(0, |digit| u32::from(digit - b'0'));
    match whole.parse::<u32>().ok().filter(|&whole| whole <= 99_999) {
        Some(whole) => Some(raw.placed(CueNumber { tenths: whole * 10 + tenth })),
        None => refuse(reader, "it is at most 99999"),
    }
}
