//! Time code: hours, minutes, seconds and frames of a clock that film, video and desks share.
//!
//! After SMPTE ST 12-1. At 29.97 frames a second (30000/1001) the numbers run faster than the
//! clock, so two of them, `;00` and `;01`, are left out at the start of every minute that is no
//! multiple of ten; frames are never left out. Worked: frame 1800 is `00:01:00;02`, and frame
//! 17982, ten minutes less 0.6 ms, is `00:10:00;00`. A day's numbers begin again after midnight.

use std::fmt;

use num_bigint::BigInt;
use num_rational::BigRational;

use super::Seconds;
use super::nearest::nearest;

/// How many frames a second, and whether numbers are left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FrameRate {
    /// 24 frames a second.
    F24,
    /// 25 frames a second.
    F25,
    /// 30 frames a second, no number left out.
    F30,
    /// 30000/1001 frames a second, drop-frame.
    Drop2997,
}

/// Frames of ten minutes in drop-frame: 10 · 60 · 30 less 9 · 2.
const DROP_TEN_MINUTES: u32 = 17_982;
/// Frames of a minute at whose start two numbers are left out.
const DROP_MINUTE: u32 = 1_798;

impl FrameRate {
    /// Every rate.
    pub const ALL: [FrameRate; 4] =
        [FrameRate::F24, FrameRate::F25, FrameRate::F30, FrameRate::Drop2997];

    /// Frames a second, exactly.
    #[must_use]
    pub fn per_second(self) -> BigRational {
        let (numerator, denominator) = match self {
            FrameRate::Drop2997 => (30_000, 1_001),
            _ => (self.numbers_a_second(), 1),
        };
        BigRational::new(BigInt::from(numerator), BigInt::from(denominator))
    }

    /// The numbers of a second's frames: 30 for 29.97 too.
    #[must_use]
    pub fn numbers_a_second(self) -> u32 {
        match self {
            FrameRate::F24 => 24,
            FrameRate::F25 => 25,
            FrameRate::F30 | FrameRate::Drop2997 => 30,
        }
    }

    /// Frames from midnight to midnight.
    #[must_use]
    pub fn frames_a_day(self) -> u32 {
        match self {
            FrameRate::Drop2997 => DROP_TEN_MINUTES * 6 * 24,
            _ => self.numbers_a_second() * 86_400,
        }
    }

    /// In words, as in `25 frames a second`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            FrameRate::F24 => "24 frames a second",
            FrameRate::F25 => "25 frames a second",
            FrameRate::F30 => "30 frames a second",
            FrameRate::Drop2997 => "29.97 frames a second, drop-frame",
        }
    }
}

/// A frame of the day, at its rate. Prints as `hh:mm:ss:ff`, in drop-frame as `hh:mm:ss;ff`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timecode {
    rate: FrameRate,
    frame: u32,
}

impl Timecode {
    /// The frame of that number, counted from midnight; other days' frames count as this day's.
    #[must_use]
    pub fn of_frame(rate: FrameRate, frame: i64) -> Timecode {
        let of_day = frame.rem_euclid(i64::from(rate.frames_a_day()));
        let frame = u32::try_from(of_day)
            .unwrap_or_else(|_| unreachable!("a remainder is below a day's frames"));
        Timecode { rate, frame }
    }

    /// The frame so long after this one: the nearest, half away from this one.
    #[must_use]
    pub fn after(self, time: &Seconds) -> Timecode {
        let frames = nearest(time, &self.rate.per_second());
        Timecode::of_frame(self.rate, i64::from(self.frame).saturating_add(frames))
    }

    /// Its number, counted from midnight.
    #[must_use]
    pub fn frame(self) -> u32 {
        self.frame
    }

    /// Its rate.
    #[must_use]
    pub fn rate(self) -> FrameRate {
        self.rate
    }

    /// Reads `hh:mm:ss:ff`; `;` before the frames is read too, as drop-frame is written.
    ///
    /// # Errors
    /// A sentence part that says what is wrong with it.
    pub fn read(text: &str, rate: FrameRate) -> Result<Timecode, String> {
        let shape = || {
            format!("`{text}` is not a time code; one is hh:mm:ss:ff, such as {}", example(rate))
        };
        let parts: Vec<&str> = text.split([':', ';']).collect();
        let two_digits =
            |part: &&str| part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
        let colons = text.bytes().filter(|&byte| byte == b':').count();
        if parts.len() != 4 || !parts.iter().all(two_digits) {
            return Err(shape());
        }
        let semicolon = text.as_bytes().get(8) == Some(&b';');
        if colons != 3 - usize::from(semicolon) {
            return Err(shape());
        }
        if semicolon && rate != FrameRate::Drop2997 {
            return Err(format!(
                "`{text}` is written as drop-frame, with `;` before its frames; at {} \
                 none is dropped, so write `:`",
                rate.words()
            ));
        }
        let mut numbers = parts.iter().map(|part| part.parse::<u32>().map_err(|_| shape()));
        let mut next = || numbers.next().unwrap_or_else(|| Err(shape()));
        let (hours, minutes, seconds, frames) = (next()?, next()?, next()?, next()?);
        let a_second = rate.numbers_a_second();
        for (number, below, what) in [
            (hours, 24, "hours"),
            (minutes, 60, "minutes"),
            (seconds, 60, "seconds"),
            (frames, a_second, "frames"),
        ] {
            if number >= below {
                return Err(format!(
                    "`{text}` has {number} {what}, which go from 00 to {}",
                    below - 1
                ));
            }
        }
        let minute = hours * 60 + minutes;
        let count = (minute * 60 + seconds) * a_second + frames;
        if rate != FrameRate::Drop2997 {
            return Ok(Timecode { rate, frame: count });
        }
        if minutes % 10 != 0 && seconds == 0 && frames < 2 {
            return Err(format!(
                "there is no `{text}`: in drop-frame a minute that is no multiple of ten begins \
                 with {hours:02}:{minutes:02}:00;02"
            ));
        }
        Ok(Timecode { rate, frame: count - 2 * (minute - minute / 10) })
    }
}

/// A time code to show how one is written.
fn example(rate: FrameRate) -> &'static str {
    if rate == FrameRate::Drop2997 { "01:00:00;00" } else { "01:00:00:00" }
}

impl fmt::Display for Timecode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let drop = self.rate == FrameRate::Drop2997;
        let left_out = if drop {
            let (tens, within) = (self.frame / DROP_TEN_MINUTES, self.frame % DROP_TEN_MINUTES);
            18 * tens + 2 * (within.saturating_sub(2) / DROP_MINUTE)
        } else {
            0
        };
        let a_second = self.rate.numbers_a_second();
        let number = self.frame + left_out;
        let (seconds, frames) = (number / a_second, number % a_second);
        let mark = if drop { ';' } else { ':' };
        let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        f.pad(&format!("{hours:02}:{minutes:02}:{seconds:02}{mark}{frames:02}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_stands_at_its_nearest_frame_half_away_from_zero() {
        let start = Timecode::read("01:00:00:00", FrameRate::F25).unwrap();
        for (thousandths, text) in [
            (0, "01:00:00:00"),
            (19, "01:00:00:00"),
            (20, "01:00:00:01"),
            (7_500, "01:00:07:13"),
            (-20, "00:59:59:24"),
            (-3_600_040, "23:59:59:24"),
        ] {
            let after = start.after(&Seconds::fraction(thousandths, 1000));
            assert_eq!(after.to_string(), text, "{thousandths} ms");
        }
    }

    #[test]
    fn what_is_no_time_code_says_why() {
        for (text, rate, why) in [
            ("1:00:00:00", FrameRate::F25, "hh:mm:ss:ff"),
            ("01:00:00", FrameRate::F25, "hh:mm:ss:ff"),
            ("01:00;00:00", FrameRate::F25, "hh:mm:ss:ff"),
            ("01;00;00;00", FrameRate::Drop2997, "hh:mm:ss:ff"),
            ("01:00:00:+1", FrameRate::F25, "hh:mm:ss:ff"),
            ("é1:00:00:0", FrameRate::F25, "hh:mm:ss:ff"),
            ("", FrameRate::F25, "hh:mm:ss:ff"),
            ("24:00:00:00", FrameRate::F25, "24 hours"),
            ("00:60:00:00", FrameRate::F25, "60 minutes"),
            ("00:00:60:00", FrameRate::F25, "60 seconds"),
            ("00:00:00:25", FrameRate::F25, "25 frames"),
            ("00:00:00;00", FrameRate::F30, "drop-frame"),
            ("00:01:00;00", FrameRate::Drop2997, "00:01:00;02"),
        ] {
            let said = Timecode::read(text, rate).unwrap_err();
            assert!(said.contains(why), "{text}: {said}");
        }
        let with_colon = Timecode::read("00:01:00:02", FrameRate::Drop2997).unwrap();
        assert_eq!(with_colon.to_string(), "00:01:00;02");
    }
}
