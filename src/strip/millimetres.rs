//! Millimetres on paper, and the one place where the drawings' numbers become text.
//!
//! One unit of a drawing is one millimetre. Numbers are written with at most two decimals
//! (a hundredth of a millimetre), so equal drawings are equal bytes.

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use svg::node::Value;

/// A length or a place on paper, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub(crate) struct Mm(pub(crate) f64);

impl Mm {
    /// The smaller of two.
    pub(crate) fn min(self, other: Mm) -> Mm {
        Mm(self.0.min(other.0))
    }

    /// The larger of two.
    pub(crate) fn max(self, other: Mm) -> Mm {
        Mm(self.0.max(other.0))
    }
}

impl Add for Mm {
    type Output = Mm;
    fn add(self, other: Mm) -> Mm {
        Mm(self.0 + other.0)
    }
}

impl AddAssign for Mm {
    fn add_assign(&mut self, other: Mm) {
        self.0 += other.0;
    }
}

impl Sub for Mm {
    type Output = Mm;
    fn sub(self, other: Mm) -> Mm {
        Mm(self.0 - other.0)
    }
}

impl Neg for Mm {
    type Output = Mm;
    fn neg(self) -> Mm {
        Mm(-self.0)
    }
}

impl Mul<f64> for Mm {
    type Output = Mm;
    fn mul(self, factor: f64) -> Mm {
        Mm(self.0 * factor)
    }
}

impl Div<f64> for Mm {
    type Output = Mm;
    fn div(self, divisor: f64) -> Mm {
        Mm(self.0 / divisor)
    }
}

impl Div for Mm {
    type Output = f64;
    fn div(self, other: Mm) -> f64 {
        self.0 / other.0
    }
}

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A drawing is metres long at most; the cast saturates and takes NaN to 0.
        let hundredths = (self.0 * 100.0).round() as i64;
        if hundredths < 0 {
            f.write_str("-")?;
        }
        let (whole, rest) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
        write!(f, "{whole}")?;
        match (rest, rest % 10) {
            (0, _) => Ok(()),
            (_, 0) => write!(f, ".{}", rest / 10),
            _ => write!(f, ".{rest:02}"),
        }
    }
}

impl From<Mm> for Value {
    fn from(length: Mm) -> Value {
        Value::from(length.to_string())
    }
}

/// The data of a path, built from places on paper.
#[derive(Clone, Debug, Default)]
pub(crate) struct PathData {
    data: String,
}

impl PathData {
    /// Whether nothing has been drawn.
    pub(crate) fn is_empty(&self) -> bool {
        self.data.is_empty()
    }

    /// Moves the pen.
    pub(crate) fn go(&mut self, x: Mm, y: Mm) -> &mut PathData {
        self.write(format_args!("M{x} {y}"))
    }

    /// Draws a straight line.
    pub(crate) fn line(&mut self, x: Mm, y: Mm) -> &mut PathData {
        self.write(format_args!("L{x} {y}"))
    }

    /// Draws a horizontal line.
    pub(crate) fn across(&mut self, x: Mm) -> &mut PathData {
        self.write(format_args!("H{x}"))
    }

    /// Draws a vertical line.
    pub(crate) fn down(&mut self, y: Mm) -> &mut PathData {
        self.write(format_args!("V{y}"))
    }

    /// Draws a parabola's arc to `(x, y)` with its tangents meeting at `(cx, cy)`.
    pub(crate) fn arc(&mut self, cx: Mm, cy: Mm, x: Mm, y: Mm) -> &mut PathData {
        self.write(format_args!("Q{cx} {cy} {x} {y}"))
    }

    /// Closes the shape.
    pub(crate) fn close(&mut self) -> &mut PathData {
        self.data.push('Z');
        self
    }

    /// Draws a rectangle.
    pub(crate) fn rectangle(&mut self, x: Mm, y: Mm, right: Mm, bottom: Mm) -> &mut PathData {
        self.go(x, y).across(right).down(bottom).across(x).close()
    }

    fn write(&mut self, part: fmt::Arguments<'_>) -> &mut PathData {
        fmt::Write::write_fmt(&mut self.data, part)
            .unwrap_or_else(|_| unreachable!("writing to a string never fails"));
        self
    }
}

impl From<PathData> for Value {
    fn from(path: PathData) -> Value {
        Value::from(path.data)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_written_with_at_most_two_decimals_and_no_sign_of_nothing() {
        for (length, text) in [
            (0.0, "0"),
            (-0.004, "0"),
            (12.0, "12"),
            (12.5, "12.5"),
            (12.05, "12.05"),
            (-3.456, "-3.46"),
            (f64::NAN, "0"),
        ] {
            assert_eq!(Mm(length).to_string(), text);
        }
    }
}
