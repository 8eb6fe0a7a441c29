//! The nearest whole of a finer count, half away from zero: the one place where an exact time
//! becomes a sample, a frame, a tick or a thousandth.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};

use super::{Seconds, exact_decimal};

/// How many `per_second` go into a time, to the nearest whole, half away from zero. What follows a
/// ramp is good to 1 µs: a float that close to a half counts as the half. Counts past what an
/// `i64` holds stay at its ends.
#[must_use]
pub fn nearest(time: &Seconds, per_second: &BigRational) -> i64 {
    let exact = match time {
        Seconds::Exact(exact) => exact.clone(),
        Seconds::Near(near) => {
            exact_decimal((near * 1e6).round() / 1e6).unwrap_or_else(BigRational::zero)
        }
    };
    // `round` of a fraction goes half away from zero.
    let whole = (exact * per_second).round().to_integer();
    let end = if whole.is_negative() { i64::MIN } else { i64::MAX };
    whole.to_i64().unwrap_or(end)
}

/// So many a second, for [`nearest`].
#[must_use]
pub fn per_second(count: u32) -> BigRational {
    BigRational::from_integer(BigInt::from(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_goes_away_from_zero_on_both_sides() {
        for (thousandths, whole) in [(1500, 2), (-1500, -2), (1499, 1), (-499, 0), (0, 0)] {
            assert_eq!(nearest(&Seconds::fraction(thousandths, 1000), &per_second(1)), whole);
        }
        assert_eq!(nearest(&Seconds::Near(0.499_999_9), &per_second(1)), 1, "within 1 µs");
        assert_eq!(nearest(&Seconds::Near(f64::NAN), &per_second(1)), 0);
        let huge = BigRational::from_integer(BigInt::from(10_u8).pow(40));
        assert_eq!(nearest(&Seconds::fraction(-1, 1), &huge), i64::MIN);
    }

    #[test]
    fn a_third_of_a_second_is_16000_samples_exactly() {
        assert_eq!(nearest(&Seconds::fraction(1, 3), &per_second(48_000)), 16_000);
    }
}
