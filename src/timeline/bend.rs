//! Bent tempos: a section whose end is fixed lands on it with whole cycles.
//!
//! The bend is the new tempo by the written one, less 1, as an exact fraction. All of a section has
//! one tempo, its transition included. Only where the section before lasts until a moment, which is
//! that of this section's own first throw, does the transition keep the written tempo: its place is
//! decided before the bend is. A later section without a tempo of its own goes on with the written
//! tempo, never with the bent one.

use num_rational::BigRational;
use num_traits::{FromPrimitive, One, Signed, ToPrimitive, Zero};

use crate::routine::Until;
use crate::time::Seconds;

use super::length::MOST_BEATS;

/// Around the number of cycles that would fit as written, so many on each side are looked at: the
/// bend grows evenly with the cycles of one parity, so the least stands right beside it.
const BESIDE: u32 = 3;

/// The same where several are to be offered.
fn around(at_most: usize) -> u32 {
    u32::try_from(at_most).unwrap_or(u32::MAX).saturating_mul(2).saturating_add(BESIDE)
}

/// A tempo that lands whole cycles on a section's end.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    /// Whole cycles.
    pub cycles: u32,
    /// The written tempo, in throws a minute.
    pub written: BigRational,
    /// The tempo that lands, in throws a minute.
    pub per_minute: BigRational,
    /// From the section's start to the end of its last beat, in seconds.
    pub lasts: Seconds,
}

impl Bend {
    /// The tempo by the written one, less 1.
    #[must_use]
    pub fn bend(&self) -> BigRational {
        &self.per_minute / &self.written - BigRational::one()
    }

    /// The size of the bend, and whether it is slower: of equal sizes the faster comes first.
    fn rank(&self) -> (BigRational, bool, u32) {
        let bend = self.bend();
        (bend.abs(), bend.is_negative(), self.cycles)
    }
}

/// A section's end where it is fixed: what whole cycles have to fill.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedEnd {
    /// What lands on which moment; `None` where a length of time is written.
    pub until: Option<Until>,
    /// The tempo, in throws a minute.
    pub written: BigRational,
    /// Beats of the transition that bend with the section.
    pub bending_beats: u32,
    /// Seconds at its start that do not bend.
    pub unbent: Seconds,
    /// Beats from what lands to the end of the last beat, at the bent tempo; below zero where it
    /// lands after that end.
    pub short: BigRational,
    /// Beats of a cycle.
    pub period: u32,
    /// From the section's start to what lands, or to the end of its last beat, in seconds, after an
    /// even number of cycles and after an odd one, which may leave the next section's transition to
    /// the other hand; `None` where that transition's length is not known.
    pub lasts: [Option<Seconds>; 2],
}

impl FixedEnd {
    /// The tempo that lands so many cycles on the end; `None` where no time is left for them.
    #[must_use]
    pub fn bend(&self, cycles: u32) -> Option<Bend> {
        let beats = self.beats(cycles);
        if cycles == 0 || beats > BigRational::from_integer(MOST_BEATS.into()) {
            return None;
        }
        let lands = self.lasts.get(cycles as usize % 2)?.clone()?;
        let fills = exact(&(&lands - &self.unbent))?;
        let before = beats - &self.short;
        if fills <= BigRational::zero() || before <= BigRational::zero() {
            return None;
        }
        let per_minute = before * BigRational::from_integer(60.into()) / fills;
        let rest = &self.short * BigRational::from_integer(60.into()) / &per_minute;
        let lasts = &lands + &Seconds::from(rest);
        Some(Bend { cycles, written: self.written.clone(), per_minute, lasts })
    }

    /// How much later so many cycles end at the written tempo; negative when earlier.
    #[must_use]
    pub fn off_as_written(&self, bend: &Bend) -> Seconds {
        let beats = self.beats(bend.cycles) - &self.short;
        let slower = self.written.recip() - bend.per_minute.recip();
        Seconds::from(beats * BigRational::from_integer(60.into()) * slower)
    }

    /// The beats that so many cycles bend.
    fn beats(&self, cycles: u32) -> BigRational {
        let beats = u64::from(cycles) * u64::from(self.period) + u64::from(self.bending_beats);
        BigRational::from_integer(beats.into())
    }

    /// The least bend; `None` where no time is left for a single cycle.
    #[must_use]
    pub fn least(&self) -> Option<Bend> {
        self.near(BESIDE).into_iter().next()
    }

    /// The least bends that are slower than written and faster.
    #[must_use]
    pub fn each_side(&self) -> [Option<Bend>; 2] {
        let near = self.near(BESIDE);
        let side = |slower| near.iter().find(|one| one.bend().is_negative() == slower).cloned();
        [side(true), side(false)]
    }

    /// The bends of at most this size, least first, the faster of equal ones first, at most so
    /// many; where all are larger, the least.
    #[must_use]
    pub fn choices(&self, within: &BigRational, at_most: usize) -> Vec<Bend> {
        let near = self.near(around(at_most));
        let mut choices: Vec<Bend> =
            near.iter().filter(|one| one.bend().abs() <= *within).take(at_most).cloned().collect();
        if choices.is_empty() {
            choices.extend(near.into_iter().next());
        }
        choices
    }

    /// The bends of the numbers of cycles that come closest, least first.
    fn near(&self, around: u32) -> Vec<Bend> {
        let mut near = Vec::new();
        for (odd, lasts) in self.lasts.iter().enumerate() {
            let Some(lasts) = lasts else { continue };
            let fills = (lasts - &self.unbent).to_f64();
            let per_minute = self.written.to_f64().unwrap_or(0.0);
            let short = self.short.to_f64().unwrap_or(0.0);
            let cycles = (fills * per_minute / 60.0 + short - f64::from(self.bending_beats))
                / f64::from(self.period.max(1));
            let middle = whole(cycles.clamp(1.0, f64::from(MOST_BEATS)));
            let looked_at = middle.saturating_sub(around).max(1)..=middle.saturating_add(around);
            let of_parity = looked_at.filter(|cycles| *cycles as usize % 2 == odd);
            near.extend(of_parity.filter_map(|cycles| self.bend(cycles)));
        }
        near.sort_by_cached_key(Bend::rank);
        near
    }
}

/// An exact time as it is, one after a ramp as the double that it is.
fn exact(time: &Seconds) -> Option<BigRational> {
    match time {
        Seconds::Exact(exact) => Some(exact.clone()),
        Seconds::Near(near) => BigRational::from_f64(*near),
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped before")]
fn whole(cycles: f64) -> u32 {
    cycles.round() as u32
}

#[cfg(test)]
mod tests {
    use num_bigint::BigInt;

    use super::*;

    fn fraction(numerator: i64, denominator: i64) -> BigRational {
        BigRational::new(BigInt::from(numerator), BigInt::from(denominator))
    }

    fn fixed(period: u32, bending_beats: u32, even: Seconds, odd: Seconds) -> FixedEnd {
        FixedEnd {
            until: None,
            written: fraction(200, 1),
            bending_beats,
            unbent: Seconds::zero(),
            short: fraction(0, 1),
            period,
            lasts: [Some(even), Some(odd)],
        }
    }

    #[test]
    fn whole_cycles_end_on_the_fixed_end_at_an_exact_tempo() {
        // 8 s at 200 a minute are 26⅔ beats, 8.88… cycles of three: nine need 202.5 a minute.
        let end = fixed(3, 0, Seconds::fraction(8, 1), Seconds::fraction(8, 1));
        let least = end.least().unwrap();
        assert_eq!((least.cycles, least.per_minute.clone()), (9, fraction(405, 2)));
        assert_eq!(least.bend(), fraction(1, 80));
        assert_eq!(end.off_as_written(&least), Seconds::fraction(1, 10));
        let [slower, faster] = end.each_side();
        assert_eq!(slower.map(|one| one.cycles), Some(8));
        assert_eq!(faster.map(|one| one.cycles), Some(9));
    }

    #[test]
    fn of_equal_bends_the_faster_comes_first() {
        // 4½ beats of one: four are as much too slow as five are too fast.
        let lasts = Seconds::fraction(27, 20);
        let choices = fixed(1, 0, lasts.clone(), lasts).choices(&fraction(1, 4), 12);
        let cycles: Vec<u32> = choices.iter().map(|one| one.cycles).collect();
        assert_eq!(cycles, [5, 4]);
        assert_eq!(choices[0].bend(), -choices[1].bend());
    }

    #[test]
    fn no_choice_is_further_off_than_asked_except_a_lone_one() {
        let lasts = Seconds::fraction(30, 1);
        let end = fixed(1, 0, lasts.clone(), lasts);
        let choices = end.choices(&fraction(1, 4), 12);
        assert_eq!(choices.len(), 12);
        assert!(choices.iter().all(|one| one.bend().abs() <= fraction(6, 100)));
        let short = Seconds::fraction(1, 10);
        let lone = fixed(7, 2, short.clone(), short.clone()).choices(&fraction(1, 4), 12);
        assert_eq!(lone.iter().map(|one| one.cycles).collect::<Vec<_>>(), [1]);
        let gone = FixedEnd { unbent: short.clone(), ..fixed(7, 2, short.clone(), short) };
        assert_eq!(gone.choices(&fraction(1, 4), 12), []);
        assert_eq!(gone.least(), None);
    }

    #[test]
    fn the_least_bend_is_the_least_of_all_numbers_of_cycles() {
        for (period, bending) in [(1, 0), (2, 1), (3, 2), (5, 0), (7, 3)] {
            for tenths in (1..200).step_by(4) {
                let even = Seconds::fraction(tenths, 10);
                let odd = &even - &Seconds::fraction(3, 10);
                let end = fixed(period, bending, even, odd);
                let brute = (1..600).filter_map(|cycles| end.bend(cycles)).min_by_key(Bend::rank);
                assert_eq!(end.least(), brute, "{period} {bending} {tenths}");
            }
        }
    }
}
