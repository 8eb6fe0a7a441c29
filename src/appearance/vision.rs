//! Colours as people with another colour vision see them.
//!
//! G. Machado, M. Oliveira, L. Fernandes, "A Physiologically-based Model for Simulation of Color
//! Vision Deficiency", IEEE TVCG 15(6) (2009) 1291–1298: a matrix on linear RGB; what leaves the
//! range is cut off. The matrices are those of severity 1.0, at which one kind of cone is missing;
//! most people concerned see more than that, so a figure from here is the worst case. Worked: red
//! #ff0000 is #a39000 to deutan vision (0.367322 of red and 0.280085 of green come through).

use super::Linear;

/// How somebody sees colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Vision {
    /// As most people do.
    Usual,
    /// Without the cones for long waves: reds go dark and meet greens.
    Protan,
    /// Without the cones for middle waves: reds meet greens. The most frequent.
    Deutan,
    /// Without the cones for short waves: blues meet greens. Rare.
    Tritan,
}

/// A matrix on linear red, green and blue, row by row.
type Matrix = [[f64; 3]; 3];

const PROTAN: Matrix = [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
];
const DEUTAN: Matrix = [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.011820, 0.042940, 0.968881],
];
const TRITAN: Matrix = [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.303900],
];

impl Vision {
    /// Every one, the usual first.
    pub const ALL: [Vision; 4] = [Vision::Usual, Vision::Protan, Vision::Deutan, Vision::Tritan];

    /// Its place in [`Vision::ALL`].
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// Its word, as in `deutan`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Vision::Usual => "usual",
            Vision::Protan => "protan",
            Vision::Deutan => "deutan",
            Vision::Tritan => "tritan",
        }
    }

    /// A linear light as this vision sees it.
    #[must_use]
    pub fn sees(self, linear: Linear) -> Linear {
        let Some(matrix) = self.matrix() else { return linear };
        let [red, green, blue] = matrix.map(|[red, green, blue]| {
            (red * linear.red + green * linear.green + blue * linear.blue).clamp(0.0, 1.0)
        });
        Linear::new(red, green, blue)
    }

    /// Its matrix; `None` where nothing changes.
    pub(super) fn matrix(self) -> Option<Matrix> {
        match self {
            Vision::Usual => None,
            Vision::Protan => Some(PROTAN),
            Vision::Deutan => Some(DEUTAN),
            Vision::Tritan => Some(TRITAN),
        }
    }
}
