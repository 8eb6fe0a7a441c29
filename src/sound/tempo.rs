//! The tempo of a recording and its strong beats, estimated from novelty and onsets.
//!
//! The beat is the lag at which the novelty is most like itself, at once and again after two,
//! three and four beats; among those, tempos that people tap to are preferred. It is made exact
//! over longer and longer lags, laid where it gathers most onsets, and settled by a straight line
//! through the onsets that lie on it (least squares).

use super::listening::{Alternative, Relation, Tempo};
use super::onset::{Novelty, Onset};
use super::pulse::Pulse;

/// Tempos that are looked at, in music beats a minute.
const LOOKED_AT: (f64, f64) = (40.0, 220.0);
/// The tempo that people tap to most easily, in music beats a minute (common practice, no source).
const EASY_BPM: f64 = 120.0;
/// How quickly ease falls off, in octaves.
const EASE_OCTAVES: f64 = 1.0;
/// From one tempo that is looked at to the next.
const STEP: f64 = 1.004;
/// Where half a beat is so much like a whole one, the half is the beat.
const HALF_IS_BEAT: f64 = 0.94;
/// Tempos that are tried close by, as a part of the tempo.
const CLOSE_BY: f64 = 0.006;
/// An onset lies on a beat within this part of it.
const ON_BEAT: f64 = 0.10;
/// A player is no further off the beat than this, in seconds.
const FREEDOM_S: f64 = 0.05;
/// Alternatives outside of these are not named.
const NAMED: (f64, f64) = (30.0, 300.0);
/// Fewer beats are no proof of a tempo.
const FEWEST_BEATS: usize = 6;
/// What is less certain is no steady beat; of few beats more is asked, for chance makes patterns.
const CERTAIN: f64 = 0.3;
/// See [`CERTAIN`]: so much more, divided by the root of the number of beats.
const CERTAIN_OF_FEW: f64 = 0.6;
/// What is quieter than this part of the strong beats after it is no strong beat.
const QUIET: f64 = 0.4;
/// What is quieter than this part of the loudest of the strong beats around it is none at all.
const NOTHING: f64 = 0.05;
/// Beats that are stronger than the others of their bar by this factor begin the bar.
const STRONGER: f64 = 1.15;

/// A straight line of beats.
#[derive(Clone, Copy, Debug)]
struct Grid {
    /// Seconds of one of its beats.
    at: f64,
    /// Seconds from one beat to the next.
    beat_s: f64,
}

impl Grid {
    /// The nearest beat and how far a time lies from it, in beats.
    fn nearest(&self, at: f64) -> (f64, f64) {
        let place = (at - self.at) / self.beat_s;
        (place.round(), place - place.round())
    }

    fn time(&self, beat: f64) -> f64 {
        self.at + beat * self.beat_s
    }
}

/// The tempo and the strong beats; `None` where there is no steady beat.
pub(super) fn tempo(novelty: &Novelty, onsets: &[Onset]) -> Option<Tempo> {
    if onsets.len() < FEWEST_BEATS {
        return None;
    }
    let pulse = Pulse::new(novelty);
    let beat_s = exact(&pulse, rough(&pulse)?);
    let grid = settled(onsets, laid(onsets, beat_s));
    let confidence = confidence(&pulse, onsets, &grid);
    let beats = on_beats(onsets, &grid);
    if confidence < CERTAIN + CERTAIN_OF_FEW / (beats.len().max(1) as f64).sqrt() {
        return None;
    }
    let (first, every, stands_out) = strong(&beats);
    let last = beats.last()?.0;
    let strong: Vec<i64> =
        (0..).map(|bar| first + bar * every).take_while(|&beat| beat <= last).collect();
    let strong = begun(&strong, &beats).iter();
    let bpm = 60.0 / grid.beat_s;
    Some(Tempo {
        bpm,
        confidence,
        music_beats: every as u32,
        stands_out,
        strong_beats: strong.map(|&beat| grid.time(beat as f64).max(0.0)).collect(),
        alternatives: alternatives(&pulse, bpm),
    })
}

/// How easily people tap to a tempo: 1 at the easiest.
fn ease(bpm: f64) -> f64 {
    let octaves = (bpm / EASY_BPM).ln() / std::f64::consts::LN_2 / EASE_OCTAVES;
    (-0.5 * octaves * octaves).exp()
}

/// How much a lag is a beat: the novelty is alike after one of it, and after two, three and four.
fn merit(pulse: &Pulse, beat_s: f64) -> f64 {
    let alike = |beats: f64| {
        let near = pulse.peak_near(beat_s * beats, 0.004 * beats * beat_s + 0.006);
        near.map_or(0.0, |(_, likeness)| likeness.max(0.0))
    };
    let comb = (1..=4).map(|beats| alike(f64::from(beats))).sum::<f64>() / 4.0;
    (alike(1.0) * comb).sqrt()
}

/// The beat in seconds, to a hundredth of itself.
fn rough(pulse: &Pulse) -> Option<f64> {
    let mut best = (0.0, 0.0);
    let mut bpm = LOOKED_AT.0;
    while bpm <= LOOKED_AT.1 {
        let beat_s = 60.0 / bpm;
        let score =
            if beat_s * 4.0 <= pulse.longest() { ease(bpm) * merit(pulse, beat_s) } else { 0.0 };
        if score > best.1 {
            best = (beat_s, score);
        }
        bpm *= STEP;
    }
    let (mut beat_s, _) = best;
    if beat_s <= 0.0 {
        return None;
    }
    let alike = |lag: f64| pulse.peak_near(lag, 0.015).map_or(0.0, |(_, likeness)| likeness);
    while 60.0 / beat_s * 2.0 <= LOOKED_AT.1 && alike(beat_s / 2.0) >= HALF_IS_BEAT * alike(beat_s)
    {
        beat_s /= 2.0;
    }
    Some(beat_s)
}

/// The beat in seconds, made exact over 2, 4, 8 ... beats for as long as the music keeps to it.
fn exact(pulse: &Pulse, rough: f64) -> f64 {
    let Some((mut beat_s, alike)) = pulse.peak_near(rough, rough * 0.02 + 0.006) else {
        return rough;
    };
    let mut beats = 2.0;
    while beats * beat_s < pulse.longest() {
        let within = (beat_s / 3.0).min(0.025);
        match pulse.peak_near(beats * beat_s, within) {
            Some((lag, likeness)) if likeness > 0.3 * alike => beat_s = lag / beats,
            _ => break,
        }
        beats *= 2.0;
    }
    beat_s
}

/// Where the beats lie: of the tempos close by, the one whose beats gather the onsets best.
fn laid(onsets: &[Onset], beat_s: f64) -> Grid {
    let span = onsets.last().map_or(0.0, |last| last.at);
    // From one tempo to the next the last beat moves by a fiftieth of a beat.
    let step = beat_s * 0.02 / (span / beat_s).max(1.0);
    let steps = (beat_s * CLOSE_BY / step).ceil().min(2000.0) as i32;
    let mut best = (Grid { at: 0.0, beat_s }, 0.0);
    // From the middle outwards, so that what was found stands unless another is better.
    for aside in (0..=steps).flat_map(|aside| [aside, -aside]) {
        let beat_s = beat_s + f64::from(aside) * step;
        let (at, gathered) = folded(onsets, beat_s);
        if gathered > best.1 {
            best = (Grid { at, beat_s }, gathered);
        }
    }
    best.0
}

/// The place within a beat around which most onsets gather, and how much gathers there.
fn folded(onsets: &[Onset], beat_s: f64) -> (f64, f64) {
    const PLACES: usize = 48;
    /// Onsets are spread over so many places to either side, less and less.
    const SPREAD: usize = 3;
    let mut places = [0.0; PLACES];
    for onset in onsets {
        let place = (onset.at / beat_s).rem_euclid(1.0) * PLACES as f64;
        let place = (place as usize).min(PLACES - 1);
        places[place] += onset.weight();
    }
    let gathered = |place: usize| {
        let weigh = |aside: usize| (SPREAD + 1 - aside) as f64 / (SPREAD + 1) as f64;
        (1..=SPREAD).fold(places[place], |sum, aside| {
            let sides = (place + PLACES - aside, place + aside);
            sum + weigh(aside) * (places[sides.0 % PLACES] + places[sides.1 % PLACES])
        })
    };
    let all = (0..PLACES).map(|place| (place, gathered(place)));
    let (place, gathered) = all.fold((0, 0.0), |best, one| if one.1 > best.1 { one } else { best });
    ((place as f64 + 0.5) / PLACES as f64 * beat_s, gathered)
}

/// A grid laid by least squares through the onsets on its beats, a few times over.
fn settled(onsets: &[Onset], mut grid: Grid) -> Grid {
    for within in [2.0 * ON_BEAT, ON_BEAT, ON_BEAT, ON_BEAT / 2.0] {
        let within = within.min(FREEDOM_S / grid.beat_s);
        let on: Vec<(f64, f64, f64)> = onsets
            .iter()
            .filter_map(|onset| {
                let (beat, aside) = grid.nearest(onset.at);
                (aside.abs() <= within).then_some((beat, onset.at, onset.weight()))
            })
            .collect();
        let weight: f64 = on.iter().map(|on| on.2).sum();
        if on.len() < FEWEST_BEATS || weight <= 0.0 {
            break;
        }
        let mean = |of: fn(&(f64, f64, f64)) -> f64| {
            on.iter().map(|on| of(on) * on.2).sum::<f64>() / weight
        };
        let (beat, at) = (mean(|on| on.0), mean(|on| on.1));
        let spread: f64 = on.iter().map(|on| on.2 * (on.0 - beat).powi(2)).sum();
        let slope: f64 = on.iter().map(|on| on.2 * (on.0 - beat) * (on.1 - at)).sum();
        let beat_s = slope / spread;
        // More than a fiftieth off is no mending but another tempo.
        if !beat_s.is_finite() || (beat_s / grid.beat_s - 1.0).abs() > 0.02 {
            break;
        }
        grid = Grid { at: at - beat * beat_s, beat_s };
    }
    grid
}

/// The beats of the grid that sound, in order, and how loud each is.
fn on_beats(onsets: &[Onset], grid: &Grid) -> Vec<(i64, f64)> {
    let mut beats: Vec<(i64, f64)> = Vec::new();
    for onset in onsets {
        let (beat, aside) = grid.nearest(onset.at);
        if aside.abs() > ON_BEAT {
            continue;
        }
        match beats.last_mut() {
            Some(last) if last.0 == beat as i64 => last.1 = last.1.max(onset.loud),
            _ => beats.push((beat as i64, onset.loud)),
        }
    }
    beats
}

/// How certain it is that these are the beats, from 0 to 1: the part of the beats that sound and
/// how much of the novelty comes back after a beat, beside what chance would give.
fn confidence(pulse: &Pulse, onsets: &[Onset], grid: &Grid) -> f64 {
    let beats = on_beats(onsets, grid);
    let (Some(first), Some(last)) = (onsets.first(), onsets.last()) else { return 0.0 };
    let whole = (last.at - first.at) / grid.beat_s + 1.0;
    let sounding = (beats.len() as f64 / whole).min(1.0);
    // By chance an onset falls on a beat twice `ON_BEAT` of the time.
    let each = onsets.len() as f64 / whole;
    let chance = 1.0 - (1.0 - 2.0 * ON_BEAT).powf(each);
    let beyond_chance = ((sounding - chance) / (1.0 - chance).max(0.05)).clamp(0.0, 1.0);
    let alike = pulse.peak_near(grid.beat_s, 0.02).map_or(0.0, |(_, likeness)| likeness);
    (alike.clamp(0.0, 1.0) * beyond_chance).sqrt()
}

/// The first strong beat, how many beats a bar has, and whether that was heard: four where every
/// fourth is stronger, three where every third is, else four from the first that sounds.
fn strong(beats: &[(i64, f64)]) -> (i64, i64, bool) {
    let Some(&(first, _)) = beats.first() else { return (0, 4, false) };
    let mut best = (first, 4, STRONGER);
    for every in [4_i64, 3] {
        for place in 0..every {
            let is_on = |beat: i64| (beat - first).rem_euclid(every) == place;
            let mean = |on: bool| {
                let these = beats.iter().filter(|beat| is_on(beat.0) == on).map(|beat| beat.1);
                let count = these.clone().count();
                (count > 1).then(|| these.sum::<f64>() / count as f64)
            };
            let (Some(on), Some(off)) = (mean(true), mean(false)) else { continue };
            if on / off > best.2 * if best.2 > STRONGER { 1.05 } else { 1.0 } {
                best = (first + place, every, on / off);
            }
        }
    }
    (best.0, best.1, best.2 > STRONGER)
}

/// The strong beats from the first that belongs to the music: before it there may be noise, which
/// is much quieter than what comes next.
fn begun<'a>(strong: &'a [i64], beats: &[(i64, f64)]) -> &'a [i64] {
    let loud = |beat: i64| {
        let place = beats.binary_search_by_key(&beat, |&(beat, _)| beat);
        place.ok().and_then(|place| beats.get(place)).map_or(0.0, |beat| beat.1)
    };
    let is_music = |place: usize| {
        let next = strong.iter().skip(place + 1).take(4);
        let mut next: Vec<f64> = next.map(|&beat| loud(beat)).collect();
        next.sort_by(f64::total_cmp);
        let (Some(&usual), Some(&most)) = (next.get(next.len() / 2), next.last()) else {
            return true;
        };
        usual > 0.0 && usual >= most * NOTHING && loud(strong[place]) >= QUIET * usual
    };
    let first = (0..strong.len()).find(|&place| is_music(place)).unwrap_or(0);
    &strong[first..]
}

/// What the tempo would be if the beat was mistaken, best first.
fn alternatives(pulse: &Pulse, bpm: f64) -> Vec<Alternative> {
    let other = |relation: Relation| Alternative { bpm: bpm * relation.factor(), relation };
    let named = |other: &Alternative| (NAMED.0..=NAMED.1).contains(&other.bpm);
    let merit = |other: &Alternative| ease(other.bpm) * merit(pulse, 60.0 / other.bpm);
    let own = ease(bpm) * self::merit(pulse, 60.0 / bpm);
    let octaves = [Relation::Half, Relation::Double].map(other).into_iter();
    let others = [Relation::TwoThirds, Relation::ThreeHalves].map(other).into_iter();
    let mut all: Vec<Alternative> =
        octaves.chain(others.filter(|other| merit(other) > 0.4 * own)).filter(named).collect();
    all.sort_by(|one, other| merit(other).total_cmp(&merit(one)));
    all
}
