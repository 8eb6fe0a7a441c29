//! The music beats of the track on the show clock, from the bars that its user wrote.
//!
//! The one place that clicks, tempo maps and whatever else counts music beats ask. Times are exact.
//! A music beat that falls less than a quarter of itself before the next stretch of bars is that
//! stretch's first: players are free by so much where bars are written anew.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::routine::{Bars, Routine};
use crate::time::Seconds;
use crate::timeline::Timeline;

/// A music beat.
#[derive(Clone, Debug, PartialEq)]
pub struct MusicBeat {
    /// When it comes, on the show clock.
    pub at: Seconds,
    /// The number of its bar.
    pub bar: i64,
    /// Its number in the bar, from 1.
    pub number: u32,
    /// Music beats of the bar.
    pub of: u32,
}

/// The music beats from one time of the show clock to another, the later excluded, in order.
/// Empty without music, or where no bars are written.
#[must_use]
pub fn music_beats(
    routine: &Routine,
    timeline: &Timeline,
    from: &Seconds,
    to: &Seconds,
) -> Vec<MusicBeat> {
    let (Some(track), Some(starts)) = (routine.first_track(), timeline.track_start()) else {
        return Vec::new();
    };
    let mut beats = Vec::new();
    for (index, bars) in track.bars.iter().enumerate() {
        let first = starts + &bars.from.value;
        let lasts = Seconds::from(sixty() / &bars.bpm);
        let ends = match track.bars.get(index + 1) {
            Some(next) => {
                let quarter = BigRational::new(BigInt::from(1), BigInt::from(4));
                &(starts + &next.from.value) - &(&lasts * &quarter)
            }
            None => starts + &track.length.value,
        };
        let ends = if &ends < to { ends } else { to.clone() };
        for count in count_at(&(from - &first), &lasts).. {
            let at = &first + &(&lasts * &BigRational::from_integer(BigInt::from(count)));
            if at >= ends {
                break;
            }
            beats.push(beat(bars, count, at));
        }
    }
    beats
}

/// How many whole beats have begun so long after the first: the first count that is not earlier.
fn count_at(after: &Seconds, lasts: &Seconds) -> u64 {
    let count = match after.divided_by(lasts) {
        Some(Seconds::Exact(count)) => count.ceil().to_integer().to_u64(),
        Some(Seconds::Near(count)) => (count - 1e-6).ceil().to_u64(),
        None => None,
    };
    // Less than none is none.
    count.unwrap_or(0)
}

fn beat(bars: &Bars, count: u64, at: Seconds) -> MusicBeat {
    let of = bars.music_beats.max(1);
    let (bar, number) = (count / u64::from(of), count % u64::from(of));
    MusicBeat {
        at,
        bar: i64::from(bars.number).saturating_add_unsigned(bar),
        number: u32::try_from(number).unwrap_or(0) + 1,
        of,
    }
}

fn sixty() -> BigRational {
    BigRational::from_integer(BigInt::from(60))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms, placed};

    fn bars(from: i64, bpm: i64, music_beats: u32, number: i32) -> Bars {
        let bpm = BigRational::from_integer(BigInt::from(bpm));
        Bars { from: placed(ms(from)), bpm, music_beats, number }
    }

    /// Bar, number in it and thousandths of each beat of the worked example with other bars.
    fn beats(bars: Vec<Bars>, from: i64, to: i64) -> Vec<(i64, u32, i64)> {
        let mut quay = lantern_quay();
        quay.music.as_mut().unwrap().bars = bars;
        let timeline = compiled(&quay);
        music_beats(&quay, &timeline, &ms(from), &ms(to))
            .into_iter()
            .map(|beat| (beat.bar, beat.number, (beat.at.to_f64() * 1000.0).round() as i64))
            .collect()
    }

    #[test]
    fn music_beats_are_counted_from_the_first_bar_that_is_written() {
        let one = || vec![bars(850, 120, 4, 1)];
        let from_the_start = [(1, 1, 850), (1, 2, 1350), (1, 3, 1850), (1, 4, 2350), (2, 1, 2850)];
        assert_eq!(beats(one(), -6_000, 3_350), from_the_start);
        assert_eq!(beats(one(), 2_350, 2_851), from_the_start[3..]);
        assert_eq!(beats(one(), 64_500, 90_000), [(33, 1, 64_850)], "the track ends at 1:05");
        assert_eq!(beats(Vec::new(), 0, 90_000), []);
    }

    #[test]
    fn a_stretch_takes_over_from_the_beat_that_it_nearly_meets() {
        // The fifth beat would fall at 2.0, a tenth of a beat before the next stretch.
        let two = vec![bars(0, 120, 4, 1), bars(2_050, 60, 3, 2)];
        let expected = [(1, 3, 1_000), (1, 4, 1_500), (2, 1, 2_050), (2, 2, 3_050), (2, 3, 4_050)];
        assert_eq!(beats(two, 1_000, 5_000), expected);
    }
}
