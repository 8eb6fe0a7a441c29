//! A time that is not certain: from an earliest to a latest. Unit: seconds.

use super::{Seconds, clock, seconds_text};

/// From the earliest to the latest; both the same where the time is certain.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeRange {
    /// It is never less.
    pub earliest: Seconds,
    /// It is never more; not below `earliest`.
    pub latest: Seconds,
}

impl TimeRange {
    /// What a time can be that is `shortest` with all that is open at its shortest, and each of the
    /// `stretched` with one alone at its longest; `None` where any of those is none. Every open
    /// length adds its share, whatever the others last.
    pub fn spread<'s>(
        shortest: &Seconds,
        stretched: impl Iterator<Item = Option<&'s Seconds>>,
    ) -> Option<TimeRange> {
        let mut range = TimeRange::from(shortest.clone());
        for stretched in stretched {
            let share = stretched? - shortest;
            // A share of nothing leaves an exact time exact.
            if share == Seconds::zero() {
                continue;
            }
            let end = if share.is_negative() { &mut range.earliest } else { &mut range.latest };
            *end = &*end + &share;
        }
        Some(range)
    }

    /// Whether it is one time, to 1 µs after a ramp.
    #[must_use]
    pub fn is_certain(&self) -> bool {
        self.earliest == self.latest
    }

    /// The latest, where it is not the earliest.
    #[must_use]
    pub fn uncertain(&self) -> Option<&Seconds> {
        (!self.is_certain()).then_some(&self.latest)
    }

    /// On a clock to a tenth of a second: `1:04.0`, or `1:04.0–1:12.0` where it is not certain.
    #[must_use]
    pub fn clock(&self) -> String {
        self.written(clock(&self.earliest), clock(&self.latest))
    }

    /// On a clock in a narrow column: `1:04.0–` and `1:12.0` below it.
    #[must_use]
    pub fn clock_stacked(&self) -> String {
        self.clock().replace('–', "–\n")
    }

    /// As a length of time in a narrow column: `4.0–` and `12.0 s` below it.
    #[must_use]
    pub fn seconds_stacked(&self) -> String {
        self.seconds_text().replace('–', "–\n")
    }

    /// As a length of time to a tenth of a second: `4.0 s` or `4.0–12.0 s`.
    #[must_use]
    pub fn seconds_text(&self) -> String {
        let earliest = seconds_text(&self.earliest);
        let shortened = earliest.strip_suffix(" s").unwrap_or(&earliest).to_owned();
        let latest = seconds_text(&self.latest);
        if earliest == latest { latest } else { self.written(shortened, latest) }
    }

    fn written(&self, earliest: String, latest: String) -> String {
        if earliest == latest { earliest } else { format!("{earliest}–{latest}") }
    }
}

impl From<Seconds> for TimeRange {
    /// A time that is certain.
    fn from(time: Seconds) -> TimeRange {
        TimeRange { earliest: time.clone(), latest: time }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_prints_both_ends_and_a_certain_time_one() {
        let range = |earliest: i64, latest: i64| TimeRange {
            earliest: Seconds::fraction(earliest, 1000),
            latest: Seconds::fraction(latest, 1000),
        };
        for (range, on_a_clock, as_a_length) in [
            (range(64_000, 72_000), "1:04.0–1:12.0", "64.0–72.0 s"),
            (range(64_000, 64_000), "1:04.0", "64.0 s"),
            (range(64_010, 64_020), "1:04.0", "64.0 s"),
            (range(-6_500, 1_500), "-0:06.5–0:01.5", "-6.5–1.5 s"),
        ] {
            assert_eq!(range.clock(), on_a_clock);
            assert_eq!(range.seconds_text(), as_a_length);
        }
        assert_eq!(range(1, 2).uncertain(), Some(&Seconds::fraction(2, 1000)));
        assert_eq!(TimeRange::from(Seconds::zero()).uncertain(), None);
    }
}
