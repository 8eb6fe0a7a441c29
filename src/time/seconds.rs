//! Instants and lengths of time: exact fractions of a second, floating point only after a ramp.
//!
//! 600 beats at 200 a minute are exactly 3:00. Unit: seconds everywhere.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{FromPrimitive, ToPrimitive, Zero};

/// Edges after a ramp are judged to this many seconds: 1 µs.
pub const EDGE_S: f64 = 1e-6;

/// An instant on some clock, or a length of time, in seconds.
#[derive(Clone, Debug)]
pub enum Seconds {
    /// An exact fraction of a second.
    Exact(BigRational),
    /// What follows a ramp: floating point, judged to [`EDGE_S`].
    Near(f64),
}

impl Seconds {
    /// No time at all, or the zero of a clock.
    #[must_use]
    pub fn zero() -> Seconds {
        Seconds::Exact(BigRational::zero())
    }

    /// `numerator / denominator` seconds.
    ///
    /// # Panics
    /// When `denominator` is 0, which is a caller's bug.
    #[must_use]
    pub fn fraction(numerator: i64, denominator: i64) -> Seconds {
        Seconds::Exact(BigRational::new(BigInt::from(numerator), BigInt::from(denominator)))
    }

    /// The decimal number that `value` prints as, exactly: 0.1 is one tenth, not the double
    /// nearest to it. `None` when `value` is not finite.
    #[must_use]
    pub fn decimal(value: f64) -> Option<Seconds> {
        exact_decimal(value).map(Seconds::Exact)
    }

    /// The nearest double to the time.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        match self {
            // `BigRational::to_f64` rounds correctly; it is `None` for no fraction of ours.
            Seconds::Exact(exact) => exact.to_f64().unwrap_or(f64::NAN),
            Seconds::Near(near) => *near,
        }
    }

    /// As a fraction: an exact time as it is, one after a ramp as the double that it is.
    #[must_use]
    pub fn exact(&self) -> BigRational {
        match self {
            Seconds::Exact(exact) => exact.clone(),
            Seconds::Near(near) => BigRational::from_float(*near).unwrap_or_else(BigRational::zero),
        }
    }

    /// Whether it is below zero, judged to 1 µs where it follows a ramp.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self < &Seconds::zero()
    }

    /// The distance from zero.
    #[must_use]
    pub fn abs(&self) -> Seconds {
        if self.is_negative() { -self.clone() } else { self.clone() }
    }

    /// How often `other` goes into this, as an exact fraction or, after a ramp, a float.
    /// `None` when `other` is zero.
    #[must_use]
    pub fn divided_by(&self, other: &Seconds) -> Option<Seconds> {
        match (self, other) {
            (Seconds::Exact(a), Seconds::Exact(b)) => (!b.is_zero()).then(|| Seconds::Exact(a / b)),
            (a, b) => {
                let b = b.to_f64();
                (b != 0.0).then(|| Seconds::Near(a.to_f64() / b))
            }
        }
    }
}

/// The decimal number that `value` prints as, as an exact fraction.
/// `None` when it is not finite.
#[must_use]
pub fn exact_decimal(value: f64) -> Option<BigRational> {
    if !value.is_finite() {
        return None;
    }
    let written = format!("{value}");
    let (whole, decimals) = written.split_once('.').unwrap_or((&written, ""));
    let numerator: BigInt = format!("{whole}{decimals}").parse().ok()?;
    let denominator = BigInt::from_u8(10)?.pow(u32::try_from(decimals.len()).ok()?);
    Some(BigRational::new(numerator, denominator))
}

impl From<BigRational> for Seconds {
    fn from(exact: BigRational) -> Seconds {
        Seconds::Exact(exact)
    }
}

impl Add<&Seconds> for &Seconds {
    type Output = Seconds;
    fn add(self, other: &Seconds) -> Seconds {
        match (self, other) {
            (Seconds::Exact(a), Seconds::Exact(b)) => Seconds::Exact(a + b),
            (a, b) => Seconds::Near(a.to_f64() + b.to_f64()),
        }
    }
}

impl Sub<&Seconds> for &Seconds {
    type Output = Seconds;
    fn sub(self, other: &Seconds) -> Seconds {
        match (self, other) {
            (Seconds::Exact(a), Seconds::Exact(b)) => Seconds::Exact(a - b),
            (a, b) => Seconds::Near(a.to_f64() - b.to_f64()),
        }
    }
}

impl Mul<&BigRational> for &Seconds {
    type Output = Seconds;
    fn mul(self, factor: &BigRational) -> Seconds {
        match self {
            Seconds::Exact(a) => Seconds::Exact(a * factor),
            Seconds::Near(a) => Seconds::Near(a * factor.to_f64().unwrap_or(f64::NAN)),
        }
    }
}

impl Neg for Seconds {
    type Output = Seconds;
    fn neg(self) -> Seconds {
        match self {
            Seconds::Exact(a) => Seconds::Exact(-a),
            Seconds::Near(a) => Seconds::Near(-a),
        }
    }
}

impl Sum for Seconds {
    fn sum<I: Iterator<Item = Seconds>>(times: I) -> Seconds {
        times.fold(Seconds::zero(), |sum, time| &sum + &time)
    }
}

impl PartialEq for Seconds {
    fn eq(&self, other: &Seconds) -> bool {
        self.partial_cmp(other) == Some(Ordering::Equal)
    }
}

/// Exact times compare exactly; with a float in play, times less than [`EDGE_S`] apart are equal.
impl PartialOrd for Seconds {
    fn partial_cmp(&self, other: &Seconds) -> Option<Ordering> {
        match (self, other) {
            (Seconds::Exact(a), Seconds::Exact(b)) => Some(a.cmp(b)),
            (a, b) => {
                let apart = a.to_f64() - b.to_f64();
                if apart.abs() < EDGE_S { Some(Ordering::Equal) } else { apart.partial_cmp(&0.0) }
            }
        }
    }
}
