//! A time that is not certain: from an earliest to a latest. Unit: seconds.

use super::{Seconds, clock, clock_beside, seconds_text};

/// From the earliest to the latest; both the same where the time is certain. It has no ends where an
/// error leaves the time unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeRange {
    ends: Option<(Seconds, Seconds)>,
}

impl TimeRange {
    /// From one time to another that is not below it.
    #[must_use]
    pub fn between(earliest: Seconds, latest: Seconds) -> TimeRange {
        TimeRange { ends: Some((earliest, latest)) }
    }

    /// A time that nobody knows.
    #[must_use]
    pub fn unknown() -> TimeRange {
        TimeRange { ends: None }
    }

    /// It is never less; `None` where it is unknown.
    #[must_use]
    pub fn earliest(&self) -> Option<&Seconds> {
        self.ends.as_ref().map(|(earliest, _)| earliest)
    }

    /// It is never more; `None` where it is unknown.
    #[must_use]
    pub fn latest(&self) -> Option<&Seconds> {
        self.ends.as_ref().map(|(_, latest)| latest)
    }

    /// Whether it has ends.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.ends.is_some()
    }

    /// Whether it is one time, to 1 µs after a ramp.
    #[must_use]
    pub fn is_certain(&self) -> bool {
        self.ends.as_ref().is_some_and(|(earliest, latest)| earliest == latest)
    }

    /// The latest, where it is not the earliest.
    #[must_use]
    pub fn uncertain(&self) -> Option<&Seconds> {
        self.latest().filter(|_| !self.is_certain())
    }

    /// On a clock to a tenth of a second: `1:04.0`, or `1:04.0–1:12.0` where it is not certain;
    /// nothing where it is unknown.
    #[must_use]
    pub fn clock(&self) -> String {
        self.written(clock, |earliest, latest| format!("{earliest}–{latest}"))
    }

    /// The same, to a thousandth where a tenth would hide on which side of one of these lines an end
    /// lies ([`clock_beside`]).
    #[must_use]
    pub fn clock_beside(&self, lines: &[Seconds]) -> String {
        let one = |end: &Seconds| clock_beside(end, lines);
        self.written(one, |earliest, latest| format!("{earliest}–{latest}"))
    }

    /// As a length of time to a tenth of a second: `4.0 s` or `4.0–12.0 s`.
    #[must_use]
    pub fn seconds_text(&self) -> String {
        self.written(seconds_text, |earliest, latest| {
            format!("{}–{latest}", earliest.strip_suffix(" s").unwrap_or(earliest))
        })
    }

    fn written(
        &self,
        one: impl Fn(&Seconds) -> String,
        two: impl Fn(&str, &str) -> String,
    ) -> String {
        let Some((earliest, latest)) = &self.ends else { return String::new() };
        let (earliest, latest) = (one(earliest), one(latest));
        if earliest == latest { latest } else { two(&earliest, &latest) }
    }
}

impl From<Seconds> for TimeRange {
    /// A time that is certain.
    fn from(time: Seconds) -> TimeRange {
        TimeRange::between(time.clone(), time)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_prints_both_ends_and_a_certain_time_one() {
        let range = |earliest: i64, latest: i64| {
            TimeRange::between(Seconds::fraction(earliest, 1000), Seconds::fraction(latest, 1000))
        };
        for (range, on_a_clock, as_a_length) in [
            (range(64_000, 72_000), "1:04.0–1:12.0", "64.0–72.0 s"),
            (range(64_000, 64_000), "1:04.0", "64.0 s"),
            (range(64_010, 64_020), "1:04.0", "64.0 s"),
            (range(-6_500, 1_500), "-0:06.5–0:01.5", "-6.5–1.5 s"),
            (TimeRange::unknown(), "", ""),
        ] {
            assert_eq!(range.clock(), on_a_clock);
            assert_eq!(range.seconds_text(), as_a_length);
        }
        assert_eq!(range(1, 2).uncertain(), Some(&Seconds::fraction(2, 1000)));
        assert_eq!(TimeRange::from(Seconds::zero()).uncertain(), None);
        assert!(!TimeRange::unknown().is_certain());
    }
}
