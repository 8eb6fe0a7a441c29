//! How times are written: `m:ss.s` on sheets, `"m:ss"` with up to three decimals in a file.

use num_bigint::{BigInt, Sign};
use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::{Seconds, TimeRange};

/// A time on a clock to a tenth of a second, half away from zero: `1:59.96` prints `2:00.0`, and
/// what rounds to nothing carries no sign: −0.04 prints `0:00.0`.
#[must_use]
pub fn clock(time: &Seconds) -> String {
    let tenths = tenths(time);
    let sign = if tenths.sign() == Sign::Minus { "-" } else { "" };
    let tenths = tenths.abs();
    let minutes = &tenths / 600;
    let rest = &tenths % 600;
    format!("{sign}{minutes}:{:0>2}.{}", &rest / 10, &rest % 10)
}

/// A length of time to a tenth of a second, as in `9.7 s`.
#[must_use]
pub fn seconds_text(time: &Seconds) -> String {
    let tenths = tenths(time);
    let sign = if tenths.sign() == Sign::Minus { "-" } else { "" };
    let tenths = tenths.abs();
    format!("{sign}{}.{} s", &tenths / 10, &tenths % 10)
}

/// A length of time in as many of three decimals as it needs, at least one: `8.0 s`, `8.125 s`.
#[must_use]
pub fn seconds_in_full(time: &Seconds) -> String {
    let thousandths = in_parts(time, 1000);
    let sign = if thousandths.sign() == Sign::Minus { "-" } else { "" };
    let thousandths = thousandths.abs();
    let decimals = format!("{:0>3}", &thousandths % 1000);
    let decimals = decimals.trim_end_matches('0');
    let decimals = if decimals.is_empty() { "0" } else { decimals };
    format!("{sign}{}.{decimals} s", &thousandths / 1000)
}

/// A distance from a line to a tenth of a second, or to a thousandth where a tenth would make it
/// nothing: `9.7 s`, `0.04 s`. What is still less says so.
#[must_use]
pub fn distance_text(distance: &Seconds) -> String {
    let is_some = *distance != Seconds::zero();
    match is_some && tenths(distance).sign() == Sign::NoSign {
        true if in_parts(distance, 1000).sign() == Sign::NoSign => "less than 0.001 s".to_owned(),
        true => seconds_in_full(distance),
        false => seconds_text(distance),
    }
}

/// A length of time that is at least this one, in whole tenths of a second, or in thousandths where
/// it is less than a tenth; never nothing.
#[must_use]
pub fn at_least_text(time: &Seconds) -> String {
    let up = |parts: i64| {
        let nearest = in_parts(time, u32::try_from(parts).unwrap_or(1));
        let up = Seconds::Exact(BigRational::new(nearest, BigInt::from(parts)));
        let part = Seconds::fraction(1, parts);
        if up < *time { &up + &part } else { up }
    };
    let tenth = Seconds::fraction(1, 10);
    if *time >= tenth {
        return seconds_text(&up(10));
    }
    let thousandths = up(1000);
    let least = Seconds::fraction(1, 1000);
    seconds_in_full(if thousandths < least { &least } else { &thousandths })
}

/// A time on a clock to a tenth of a second, or to a thousandth where a tenth would put it on the
/// other side of one of these lines, or on it: `3:00.04` beside a line at 3:00.
#[must_use]
pub fn clock_beside(time: &Seconds, lines: &[Seconds]) -> String {
    let rounded =
        |parts: u32| Seconds::Exact(BigRational::new(in_parts(time, parts), BigInt::from(parts)));
    let hides = |printed: &Seconds| {
        lines.iter().any(|line| printed.partial_cmp(line) != time.partial_cmp(line))
    };
    if !hides(&rounded(10)) {
        return clock(time);
    }
    let nearest = rounded(1000);
    if !hides(&nearest) {
        return written(&nearest);
    }
    let thousandth = Seconds::fraction(1, 1000);
    let away = if nearest < *time { &nearest + &thousandth } else { &nearest - &thousandth };
    written(&away)
}

/// A length of time in all the decimals with which it was written, at least one.
#[must_use]
pub fn seconds_as_written(time: &Seconds) -> String {
    let thousandths = Seconds::Exact(BigRational::new(in_parts(time, 1000), BigInt::from(1000)));
    if thousandths == *time { seconds_in_full(time) } else { format!("{} s", time.to_f64()) }
}

/// A time as a routine file has it, without its quotation marks: `m:ss` with as many of three
/// decimals as it needs, the last one half away from zero.
#[must_use]
pub fn written(time: &Seconds) -> String {
    let thousandths = in_parts(time, 1000);
    let sign = if thousandths.sign() == Sign::Minus { "-" } else { "" };
    let thousandths = thousandths.abs();
    let rest: BigInt = &thousandths % 60_000;
    let decimals = format!("{:0>3}", &rest % 1000);
    let decimals = decimals.trim_end_matches('0');
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{sign}{}:{:0>2}{point}{decimals}", &thousandths / 60_000, &rest / 1000)
}

/// Whole tenths, half away from zero.
fn tenths(time: &Seconds) -> BigInt {
    in_parts(time, 10)
}

/// Whole parts of a second, so many of which make one, half away from zero.
fn in_parts(time: &Seconds, parts: u32) -> BigInt {
    let exact = match time {
        Seconds::Exact(exact) => exact.clone(),
        // What follows a ramp is good to 1 µs: a float that close to a half counts as the half.
        Seconds::Near(near) => {
            super::exact_decimal((near * 1e6).round() / 1e6).unwrap_or_else(BigRational::zero)
        }
    };
    // `round` of a fraction goes half away from zero.
    (exact * BigInt::from(parts)).round().to_integer()
}

/// Reads a time as it stands on paper, `1:04.0` or `1:04.0–1:12.0`; unknown where it is no time.
#[must_use]
pub fn on_paper(text: &str) -> TimeRange {
    let (earliest, latest) = text.split_once('–').unwrap_or((text, text));
    match (parse_clock(earliest), parse_clock(latest)) {
        (Ok(earliest), Ok(latest)) => TimeRange::between(earliest, latest),
        _ => TimeRange::unknown(),
    }
}

/// Reads `"m:ss"`, with up to three decimals and perhaps a minus sign, into exact seconds.
///
/// # Errors
/// A sentence that says what a time looks like, when `text` is none.
pub fn parse_clock(text: &str) -> Result<Seconds, String> {
    let refuse = || {
        format!(
            "`{text}` is not a time; a time is minutes, a colon and two digits of seconds, \
             with up to three decimals, such as \"1:05\" or \"0:06.5\""
        )
    };
    let trimmed = text.trim();
    let (negative, unsigned) =
        trimmed.strip_prefix('-').map_or((false, trimmed), |rest| (true, rest));
    let (minutes, seconds) = unsigned.split_once(':').ok_or_else(refuse)?;
    let (whole, decimals) = match seconds.split_once('.') {
        Some((_, "")) => return Err(refuse()),
        Some(parts) => parts,
        None => (seconds, ""),
    };
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let shaped = !minutes.is_empty()
        && minutes.len() <= 6
        && whole.len() == 2
        && decimals.len() <= 3
        && digits(minutes)
        && digits(whole)
        && digits(decimals);
    if !shaped {
        return Err(refuse());
    }
    let number = |part: &str| part.parse::<i64>().map_err(|_| refuse());
    let (minutes, whole) = (number(minutes)?, number(whole)?);
    if whole > 59 {
        return Err(format!(
            "`{text}` has {whole} seconds after the colon; a minute has 60, \
             so write \"{}:{:02}\"",
            minutes + whole / 60,
            whole % 60
        ));
    }
    let thousandths = number(&format!("{decimals:0<3}"))?;
    let total = (minutes * 60 + whole) * 1000 + thousandths;
    Ok(Seconds::fraction(if negative { -total } else { total }, 1000))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_rounds_half_away_from_zero_and_drops_the_sign_of_nothing() {
        for (thousandths, text) in [
            (-40, "0:00.0"),
            (-50, "-0:00.1"),
            (50, "0:00.1"),
            (49, "0:00.0"),
            (119_960, "2:00.0"),
            (119_949, "1:59.9"),
            (179_960, "3:00.0"),
            (-20_000, "-0:20.0"),
            (3_661_250, "61:01.3"),
        ] {
            assert_eq!(clock(&Seconds::fraction(thousandths, 1000)), text, "{thousandths} ms");
        }
        assert_eq!(clock(&Seconds::Near(119.95)), "2:00.0");
        assert_eq!(seconds_text(&Seconds::fraction(146, 15)), "9.7 s");
    }

    #[test]
    fn what_is_close_to_a_line_is_printed_so_that_its_side_is_seen() {
        let lines = [Seconds::fraction(180, 1), Seconds::fraction(180_250, 1000)];
        for (millionths, on_a_clock) in [
            (179_960_000, "2:59.96"),
            (180_000_000, "3:00.0"),
            (180_040_000, "3:00.04"),
            (180_060_000, "3:00.1"),
            (180_000_300, "3:00.001"),
            (179_999_700, "2:59.999"),
            (180_300_000, "3:00.3"),
            (180_260_000, "3:00.3"),
            (180_249_000, "3:00.2"),
            (181_000_000, "3:01.0"),
        ] {
            let time = Seconds::fraction(millionths, 1_000_000);
            assert_eq!(clock_beside(&time, &lines), on_a_clock, "{millionths}");
        }
        for (millionths, distance, at_least) in [
            (0, "0.0 s", "0.001 s"),
            (300, "less than 0.001 s", "0.001 s"),
            (40_000, "0.04 s", "0.04 s"),
            (40_300, "0.04 s", "0.041 s"),
            (60_000, "0.1 s", "0.06 s"),
            (9_733_333, "9.7 s", "9.8 s"),
            (9_700_000, "9.7 s", "9.7 s"),
        ] {
            let time = Seconds::fraction(millionths, 1_000_000);
            let texts = (distance_text(&time), at_least_text(&time));
            assert_eq!(texts, (distance.to_owned(), at_least.to_owned()), "{millionths}");
        }
        assert_eq!(seconds_as_written(&Seconds::fraction(1, 4)), "0.25 s");
        assert_eq!(seconds_as_written(&Seconds::fraction(3, 10_000)), "0.0003 s");
    }

    #[test]
    fn a_time_is_written_as_a_file_has_it_and_reads_back() {
        for (thousandths, text) in [
            (0, "0:00"),
            (850, "0:00.85"),
            (65_000, "1:05"),
            (-6_500, "-0:06.5"),
            (3_661_002, "61:01.002"),
        ] {
            let time = Seconds::fraction(thousandths, 1000);
            assert_eq!(written(&time), text);
            assert_eq!(parse_clock(text).unwrap(), time);
        }
        assert_eq!(written(&Seconds::fraction(359_999_999, 3_000_000)), "2:00");
    }

    #[test]
    fn a_time_of_a_file_is_read_exactly_or_refused_with_its_shape() {
        for (text, thousandths) in
            [("0:20", 20_000), ("-0:06.5", -6_500), ("1:05.0", 65_000), ("0:00.850", 850)]
        {
            assert_eq!(parse_clock(text).unwrap(), Seconds::fraction(thousandths, 1000));
        }
        for text in ["20", "0:5", "0:60", "0:20.1234", "a:20", "1:0a", "", ":20", "0:20.", "--0:20"]
        {
            assert!(parse_clock(text).is_err(), "{text}");
        }
    }
}
