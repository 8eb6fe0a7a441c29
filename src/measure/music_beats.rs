//! The music beats of the track on the show clock, from the bars that its user wrote.
//!
//! The one place that clicks, tempo maps and whatever else counts music beats ask. Times are exact,
//! but for what follows a ramp; all that is open is at its shortest.
//! A music beat that falls less than a quarter of itself before the next stretch of bars is that
//! stretch's first: players are free by so much where bars are written anew.

use num_bigint::BigInt;
use num_rational::BigRational;

use crate::act::Act;
use crate::routine::Track;
use crate::time::{BarBeat, MusicMap, Seconds};
use crate::timeline::TrackSpan;

/// A music beat.
#[derive(Clone, Debug, PartialEq)]
pub struct MusicBeat {
    /// When it comes, on the show clock.
    pub at: Seconds,
    /// How long each of its equal parts lasts, up to the next music beat: a single one where the
    /// tempo is steady, in a ramp so many that in each of them it may be taken as steady.
    pub parts: Vec<Seconds>,
    /// The number of its bar.
    pub bar: i64,
    /// Its number in the bar, from 1.
    pub number: u32,
    /// Music beats of the bar.
    pub of: u32,
}

impl MusicBeat {
    /// How long it lasts, up to the next music beat, in seconds.
    #[must_use]
    pub fn lasts(&self) -> Seconds {
        self.parts.iter().fold(Seconds::zero(), |sum, part| &sum + part)
    }
}

/// The most parts of a music beat.
const MOST_PARTS: i64 = 64;
/// A music beat is parted until a place in a part is no further than this from where a steady tempo
/// has it, in music beats: a quarter of a MIDI tick.
const FINE: f64 = 0.25 / 960.0;

/// The music beats from one time of the show clock to another, the later excluded, in order.
/// Empty without music, or where no bars are written.
#[must_use]
pub fn music_beats(act: &Act, from: &Seconds, to: &Seconds) -> Vec<MusicBeat> {
    let Act { routine, timeline, .. } = act;
    let map = routine.first_track().and_then(Track::music_map);
    let track = timeline.tracks.first().map(TrackSpan::at_shortest);
    let (Some(map), Some(track)) = (map, track) else { return Vec::new() };
    let place = |time: &Seconds| track.place(&time.clone().into())?.certain().cloned();
    let (Some(begins), Some(ends)) = (place(from), place(to)) else { return Vec::new() };
    let ends = if &ends < map.within().1 { &ends } else { map.within().1 };
    let beats = map.whole_beats(&begins, ends).filter_map(|count| {
        let count = whole(count);
        let BarBeat { bar, of, .. } = map.named(&count);
        let number = u32::try_from(map.named(&count).whole_beat()).unwrap_or(1);
        let shown = |time: &Seconds| Some(track.at(time)?.shortest().clone());
        let [from, to] = [map.time(&count), map.time(&(&count + whole(1)))];
        let at = shown(&from)?;
        let lasts = &shown(&to)? - &at;
        // Where the track is held within it, the music beat waits as a whole.
        let held = lasts != &to - &from;
        let parts = if held { vec![lasts] } else { parts(&map, &count) };
        Some(MusicBeat { at, parts, bar, number, of })
    });
    beats.collect()
}

/// How long the equal parts of a music beat last that begins at a place in the count.
fn parts(map: &MusicMap, count: &BigRational) -> Vec<Seconds> {
    let at = |part: i64, of: i64| map.time(&(count + BigRational::new(part.into(), of.into())));
    let lasts = |part: i64, of: i64| &at(part + 1, of) - &at(part, of);
    // Half-way a ramp is furthest from a steady tempo, by a quarter as much in parts half as long.
    let off = (&lasts(0, 2) - &lasts(1, 2)).to_f64().abs() / 2.0 / lasts(0, 1).to_f64();
    let mut of = 1;
    while of < MOST_PARTS && off > FINE * (of * of) as f64 {
        of *= 2;
    }
    (0..of).map(|part| lasts(part, of)).collect()
}

fn whole(count: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(count))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms, placed};
    use crate::routine::Bars;

    fn bars(from: i64, bpm: i64, music_beats: u32, number: i32) -> Bars {
        let bpm = BigRational::from_integer(BigInt::from(bpm));
        Bars { from: placed(ms(from)), bpm, music_beats, number, upbeat: 0, to: None, over: None }
    }

    /// Bar, number in it and thousandths of each beat of the worked example with other bars.
    fn beats(bars: Vec<Bars>, from: i64, to: i64) -> Vec<(i64, u32, i64)> {
        let mut quay = lantern_quay();
        quay.music.as_mut().unwrap().bars = bars;
        music_beats(&compiled(&quay), &ms(from), &ms(to))
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
