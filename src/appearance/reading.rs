//! What a difference means from a seat in the house, and to whom.

use super::difference::difference;
use super::light::lit;
use super::vision::Vision;
use super::{Linear, Rgb};

/// Below this CIEDE2000 two colours look alike on props in flight. Side by side and at rest 1 to 2
/// is just seen; small things that move, far away, need several times as much. Common practice, no
/// source.
pub const LOOK_ALIKE: f64 = 10.0;

/// From here on two colours are told apart at a glance; between the two lines they are close.
/// Common practice, no source.
pub const READS: f64 = 20.0;

/// What a figure comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Not told apart: below [`LOOK_ALIKE`].
    Alike,
    /// Told apart by who looks for it: below [`READS`].
    Close,
    /// Told apart at a glance.
    Reads,
}

impl Verdict {
    /// What a difference comes to.
    #[must_use]
    pub fn of(difference: f64) -> Verdict {
        if difference < LOOK_ALIKE {
            Verdict::Alike
        } else if difference < READS {
            Verdict::Close
        } else {
            Verdict::Reads
        }
    }

    /// Its word on a sheet.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Alike => "ALIKE",
            Verdict::Close => "close",
            Verdict::Reads => "reads",
        }
    }
}

/// How far two colours are apart to each [`Vision`], in the order of [`Vision::ALL`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Differences([f64; 4]);

impl Differences {
    /// Of two colours in white light.
    #[must_use]
    pub fn between(a: Rgb, b: Rgb) -> Differences {
        Differences::of(a.linear(), b.linear())
    }

    /// Of two colours under a coloured light.
    #[must_use]
    pub fn under(light: Rgb, a: Rgb, b: Rgb) -> Differences {
        let light = light.linear();
        Differences::of(lit(a.linear(), light), lit(b.linear(), light))
    }

    fn of(a: Linear, b: Linear) -> Differences {
        Differences(Vision::ALL.map(|vision| difference(vision.sees(a), vision.sees(b))))
    }

    /// To one vision.
    #[must_use]
    pub fn to(&self, vision: Vision) -> f64 {
        self.0[vision.index()]
    }

    /// To whom it is least.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.0.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// What it comes to for those who see it least.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        Verdict::of(self.least())
    }

    /// To whom the two look alike.
    pub fn alike_to(&self) -> impl Iterator<Item = Vision> + '_ {
        Vision::ALL.into_iter().filter(|vision| Verdict::of(self.to(*vision)) == Verdict::Alike)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_belong_to_the_better_verdict() {
        for (difference, verdict) in [
            (0.0, Verdict::Alike),
            (9.999, Verdict::Alike),
            (10.0, Verdict::Close),
            (19.999, Verdict::Close),
            (20.0, Verdict::Reads),
        ] {
            assert_eq!(Verdict::of(difference), verdict, "{difference}");
        }
    }

    #[test]
    fn red_and_green_of_one_lightness_meet_for_those_without_their_cones_only() {
        let red = Rgb { red: 0xc0, green: 0x50, blue: 0x20 };
        let green = Rgb { red: 0x6a, green: 0x7a, blue: 0x20 };
        let both = Differences::between(red, green);
        assert_eq!(
            both.alike_to().collect::<Vec<_>>(),
            [Vision::Protan, Vision::Deutan],
            "{both:?}"
        );
        assert!(both.to(Vision::Usual) > READS, "{both:?}");
        assert_eq!(both.least(), both.to(Vision::Deutan));
    }

    #[test]
    fn under_black_light_nothing_differs() {
        let [black, red, white] = [(0, 0, 0), (255, 0, 0), (255, 255, 255)]
            .map(|(red, green, blue)| Rgb { red, green, blue });
        assert_eq!(Differences::under(black, red, white).least(), 0.0);
        assert_eq!(Differences::under(white, red, black), Differences::between(red, black));
        // Under red light a white ball is a red ball.
        assert_eq!(Differences::under(red, red, white).least(), 0.0);
    }
}
