//! Ticks: where a time stands in a file that counts parts of a quarter note.
//!
//! A quarter note is a music beat, in a ramp in parts of a tempo each. Its length is a whole number
//! of microseconds, as the format has it, so a bar line may drift half a microsecond a beat from the
//! music; a time is placed by the file's own tempo, at its nearest tick, so that no error adds up.
//! What stands before the first music beat is filled with quarter notes that end on it. Without
//! bars a quarter note is a second of a thousand ticks, so that a tick is a thousandth.

use num_bigint::BigInt;
use num_rational::BigRational;

use crate::measure::music_beats::MusicBeat;
use crate::time::{Seconds, nearest};

use super::Refused;

/// Ticks of a music beat.
const TICKS_A_BEAT: u16 = 960;
/// Ticks of a second where no bars are written.
const TICKS_A_SECOND: u16 = 1_000;
/// The longest quarter note, in microseconds: 24 bits.
const LONGEST_QUARTER_US: i64 = 0xff_ffff;
/// The last tick: what the format's longest distance between two events can hold.
const LAST_TICK: i64 = 0x0fff_ffff;
/// The most music beats that one time signature can say.
const MOST_BEATS: u32 = 255;

/// Quarter notes of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Pace {
    /// The first tick.
    pub tick: u32,
    /// Microseconds of a quarter note; at least 1, below 2^24.
    pub quarter_us: u32,
    /// When the first tick comes by the file's own tempo.
    at: Seconds,
}

/// A change of the music beats to the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signature {
    /// From which tick.
    pub tick: u32,
    /// Quarter notes to the bar.
    pub beats: u8,
}

/// Tempo and bars of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Ticks of a quarter note.
    pub ticks_a_quarter: u16,
    /// In order; the first at tick 0.
    pub paces: Vec<Pace>,
    /// In order; empty where no bars are written.
    pub signatures: Vec<Signature>,
}

impl Grid {
    /// The grid of music beats, whose times are those of the file.
    ///
    /// # Errors
    /// [`Refused::TooLong`] past the last tick.
    pub fn of(beats: &[MusicBeat], at: impl Fn(&MusicBeat) -> Seconds) -> Result<Grid, Refused> {
        let Some(first) = beats.first() else {
            let pace = Pace { tick: 0, quarter_us: 1_000_000, at: Seconds::zero() };
            let (paces, signatures) = (vec![pace], Vec::new());
            return Ok(Grid { ticks_a_quarter: TICKS_A_SECOND, paces, signatures });
        };
        let mut grid =
            Grid { ticks_a_quarter: TICKS_A_BEAT, paces: Vec::new(), signatures: Vec::new() };
        let quarters_of: Vec<i64> = beats.iter().map(|beat| quarters(&beat.lasts())).collect();
        let mut quarter = grid.lead_in(&at(first), &first.lasts());
        let mut bar = None;
        for (index, (beat, &count)) in beats.iter().zip(&quarters_of).enumerate() {
            if bar.replace((beat.bar, beat.of)) != Some((beat.bar, beat.of)) {
                grid.sign(quarter, bar_length(&beats[index..], &quarters_of[index..]))?;
            }
            if count > 1 {
                grid.pace(grid.ticks(quarter), &beat.lasts(), ratio(count))?;
            } else {
                let of = i64::try_from(beat.parts.len()).unwrap_or(1).max(1);
                let part_ticks = grid.ticks(1) / of;
                for (part, lasts) in (0..of).zip(&beat.parts) {
                    let tick = grid.ticks(quarter).saturating_add(part * part_ticks);
                    grid.pace(tick, lasts, ratio(1) / ratio(of))?;
                }
            }
            quarter += count;
        }
        Ok(grid)
    }

    /// Fills what stands before the first music beat; how many quarter notes it took.
    fn lead_in(&mut self, lasts: &Seconds, usual: &Seconds) -> i64 {
        if *lasts <= Seconds::zero() {
            return 0;
        }
        let count = lasts.divided_by(usual).map_or(1, |count| nearest(&count, &ratio(1)));
        let count = count.max(1).max(quarters(lasts));
        let beats = u32::try_from(count).unwrap_or(u32::MAX);
        let beats = if beats > MOST_BEATS { 1 } else { beats };
        let signed = self.sign(0, beats).and_then(|()| self.pace(0, lasts, ratio(count)));
        signed.unwrap_or_else(|_| unreachable!("tick 0 is no late one"));
        count
    }

    /// From a quarter note on, bars have so many.
    fn sign(&mut self, quarters: i64, beats: u32) -> Result<(), Refused> {
        let beats = u8::try_from(beats.clamp(1, MOST_BEATS)).unwrap_or(u8::MAX);
        if self.signatures.last().is_none_or(|last| last.beats != beats) {
            let tick = in_file(self.ticks(quarters))?;
            self.signatures.push(Signature { tick, beats });
        }
        Ok(())
    }

    /// From a tick on, so many quarter notes, or such a part of one, last so long.
    fn pace(&mut self, tick: i64, lasts: &Seconds, count: BigRational) -> Result<(), Refused> {
        let micro = ratio(1_000_000) / count;
        let us = nearest(lasts, &micro).clamp(1, LONGEST_QUARTER_US);
        let quarter_us = u32::try_from(us).unwrap_or(1);
        if self.paces.last().is_none_or(|last| last.quarter_us != quarter_us) {
            let tick = in_file(tick)?;
            let at = self.time_of(tick);
            self.paces.push(Pace { tick, quarter_us, at });
        }
        Ok(())
    }

    fn ticks(&self, quarters: i64) -> i64 {
        quarters.saturating_mul(i64::from(self.ticks_a_quarter))
    }

    /// When a tick comes by the file's own tempo.
    fn time_of(&self, tick: u32) -> Seconds {
        let before = self.paces.partition_point(|pace| pace.tick <= tick);
        match self.paces.get(before.saturating_sub(1)) {
            Some(pace) => {
                let ticks = BigRational::from_integer(BigInt::from(tick - pace.tick));
                &pace.at + &Seconds::from(ticks / self.ticks_a_second(pace))
            }
            None => Seconds::zero(),
        }
    }

    fn ticks_a_second(&self, pace: &Pace) -> BigRational {
        let numerator = BigInt::from(self.ticks_a_quarter) * 1_000_000;
        BigRational::new(numerator, BigInt::from(pace.quarter_us))
    }

    /// The tick nearest to a time from the file's start, half away from zero.
    ///
    /// # Errors
    /// [`Refused::TooLong`] past the last tick.
    pub fn tick(&self, time: &Seconds) -> Result<u32, Refused> {
        let before = self.paces.partition_point(|pace| &pace.at <= time);
        let Some(pace) = self.paces.get(before.saturating_sub(1)) else {
            unreachable!("`Grid::of` begins with a pace at tick 0");
        };
        let into = nearest(&(time - &pace.at), &self.ticks_a_second(pace));
        in_file(i64::from(pace.tick).saturating_add(into).max(0))
    }
}

fn in_file(tick: i64) -> Result<u32, Refused> {
    if tick > LAST_TICK {
        Err(Refused::TooLong)
    } else {
        u32::try_from(tick).map_err(|_| Refused::TooLong)
    }
}

/// How many quarter notes something so long needs at least.
fn quarters(lasts: &Seconds) -> i64 {
    let longest = Seconds::fraction(LONGEST_QUARTER_US, 1_000_000);
    match lasts.divided_by(&longest) {
        Some(Seconds::Exact(count)) => nearest(&Seconds::Exact(count.ceil()), &ratio(1)).max(1),
        Some(Seconds::Near(count)) => nearest(&Seconds::Near(count.ceil()), &ratio(1)).max(1),
        None => 1,
    }
}

/// The bar with which these music beats begin, in quarter notes, of which each has so many; where
/// the end of the music cuts it, as many as it is written with.
fn bar_length(beats: &[MusicBeat], quarters_of: &[i64]) -> u32 {
    let Some(first) = beats.first() else { return 1 };
    let count = beats.iter().take_while(|beat| beat.bar == first.bar).count();
    if count == beats.len() {
        return first.of.max(1);
    }
    let whole =
        quarters_of.iter().take(count).fold(0, |sum: i64, &count| sum.saturating_add(count));
    u32::try_from(whole).unwrap_or(u32::MAX).max(1)
}

fn ratio(number: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(number))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::ms;

    fn beats(from: i64, apart: i64, count: u32, of: u32) -> Vec<MusicBeat> {
        (0..count)
            .map(|index| MusicBeat {
                at: ms(from + apart * i64::from(index)),
                parts: vec![ms(apart)],
                bar: i64::from(index / of),
                number: index % of + 1,
                of,
            })
            .collect()
    }

    fn grid(beats: &[MusicBeat]) -> Grid {
        Grid::of(beats, |beat| beat.at.clone()).unwrap()
    }

    fn paces(grid: &Grid) -> Vec<(u32, u32)> {
        grid.paces.iter().map(|pace| (pace.tick, pace.quarter_us)).collect()
    }

    fn signatures(grid: &Grid) -> Vec<(u32, u8)> {
        grid.signatures.iter().map(|one| (one.tick, one.beats)).collect()
    }

    #[test]
    fn what_stands_before_the_first_music_beat_ends_on_it() {
        // 0.85 s at 120 are nearest to two beats of 0.425 s.
        let grid = grid(&beats(850, 500, 9, 4));
        assert_eq!(paces(&grid), [(0, 425_000), (1_920, 500_000)]);
        assert_eq!(signatures(&grid), [(0, 2), (1_920, 4)]);
        assert_eq!(grid.tick(&ms(850)), Ok(1_920));
        assert_eq!(grid.tick(&ms(7_500)), Ok(1_920 + 12_768));
        assert_eq!(grid.tick(&ms(60_850)), Ok(1_920 + 120 * 960), "the last tempo goes on");
    }

    #[test]
    fn a_tempo_that_is_no_whole_microsecond_drifts_and_times_do_not() {
        let third = |index: i64| Seconds::fraction(index, 3);
        let beats: Vec<MusicBeat> = (0..3000)
            .map(|index| MusicBeat {
                at: third(index),
                parts: vec![third(1)],
                bar: index / 4,
                number: 1,
                of: 4,
            })
            .collect();
        let grid = grid(&beats);
        assert_eq!(paces(&grid), [(0, 333_333)]);
        let tick = grid.tick(&third(2_999)).unwrap();
        let file_s = f64::from(tick) * 333_333.0 / 960.0 / 1e6;
        assert!((file_s - 2_999.0 / 3.0).abs() < 333_333.0 / 960.0 / 1e6 / 2.0);
        assert!(tick > 2_999 * 960, "a beat's third of a microsecond has added up to ticks");
    }

    #[test]
    fn bars_that_are_cut_and_beats_that_are_too_long_keep_to_the_format() {
        let mut cut = beats(0, 500, 8, 4);
        cut.drain(..2);
        cut.iter_mut().for_each(|beat| beat.at = &beat.at - &ms(1_000));
        assert_eq!(signatures(&grid(&cut)), [(0, 2), (1_920, 4)]);
        let slow = grid(&beats(20_000, 40_000, 2, 1));
        assert_eq!(paces(&slow), [(0, 10_000_000), (1_920, 13_333_333)]);
        // Bars of quarter notes that are longer than a byte can say.
        let late = grid(&beats(4_000_000, 500, 2, 2));
        assert_eq!(signatures(&late)[0], (0, 1));
    }

    #[test]
    fn without_bars_a_tick_is_a_thousandth() {
        let grid = grid(&[]);
        assert_eq!((grid.ticks_a_quarter, paces(&grid)), (1_000, vec![(0, 1_000_000)]));
        assert_eq!(grid.tick(&ms(12_345)), Ok(12_345));
        assert_eq!(grid.tick(&Seconds::fraction(1, 2_000)), Ok(1), "half away from zero");
        assert_eq!(grid.tick(&ms(300_000_000)), Err(Refused::TooLong));
    }
}
