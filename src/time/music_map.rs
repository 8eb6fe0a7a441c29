//! The music's bars and music beats on the clock of its track, and back.
//!
//! The one place where a bar becomes a time. Music beats are also counted through the whole track,
//! from 0 at the first that is written: a *count*, which fractions lie between. A music beat that
//! would fall less than a quarter of itself before the next stretch is that stretch's first, and
//! the last one before a stretch is as long as what is left: players are free by so much.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Signed, ToPrimitive, Zero};

use super::{Seconds, Speed, Stage, Stages, ramp_s};

/// Bars that are written together.
#[derive(Clone, Debug, PartialEq)]
pub struct MusicStretch {
    /// Its first music beat, in seconds from the track's first sample.
    pub from: Seconds,
    /// Music beats a minute; above 0.
    pub bpm: BigRational,
    /// A ramp, linear in music beats: to so many a minute, reached after so many music beats and
    /// then held, or where the next stretch begins.
    pub ramp: Option<(BigRational, Option<u32>)>,
    /// Music beats to the bar.
    pub music_beats: u32,
    /// The number of its first whole bar.
    pub number: i32,
    /// Music beats before that bar.
    pub upbeat: u32,
}

/// A music beat by its bar.
#[derive(Clone, Debug, PartialEq)]
pub struct BarBeat {
    /// The number of the bar.
    pub bar: i64,
    /// The music beat in it, from 1; a fraction between two.
    pub music_beat: BigRational,
    /// Music beats to the bar.
    pub of: u32,
}

impl BarBeat {
    /// The music beat that has begun.
    #[must_use]
    pub fn whole_beat(&self) -> i64 {
        self.music_beat.floor().to_integer().to_i64().unwrap_or(0)
    }
}

/// The bars of a track.
#[derive(Clone, Debug, PartialEq)]
pub struct MusicMap {
    stages: Stages,
    counted: Vec<Counted>,
    /// The track's end.
    ends: Seconds,
}

/// A stretch in the count of music beats.
#[derive(Clone, Debug, PartialEq)]
struct Counted {
    /// Its first music beat in the count.
    first: i64,
    /// How many it has; of the last stretch those that begin before the track ends.
    beats: i64,
    music_beats: u32,
    number: i32,
    /// Music beats of its first bar that are not there, because an upbeat begins in it.
    missing: i64,
}

impl MusicStretch {
    /// How many music beats, whole or not, fit before a stretch that starts `time` later.
    #[must_use]
    pub fn beats_in(&self, time: &Seconds) -> f64 {
        match &self.ramp {
            Some((to, None)) => {
                let (from, to) = (float(&self.bpm), float(to));
                time.to_f64() / ramp_s(from, to, 1.0, 1.0)
            }
            _ => float(&self.speed(0.0).beats_in(time)),
        }
    }

    /// The number of the first bar with which the next stretch may begin: one that has begun, where
    /// the upbeat is what is left of it.
    #[must_use]
    pub fn next_bar(&self, next: &MusicStretch) -> i64 {
        let bar = i64::from(self.music_beats.max(1));
        let (_, beats) = self.fitting(&(&next.from - &self.from));
        let beats = beats - i64::from(self.upbeat);
        let (begun, upbeat) = (beats.rem_euclid(bar), i64::from(next.upbeat));
        let shared = upbeat > 0 && begun > 0 && begun + upbeat <= i64::from(next.music_beats);
        i64::from(self.number) + (beats + bar - 1).div_euclid(bar) - i64::from(shared)
    }

    /// The last music beat before a stretch that starts `time` later, in seconds: what its tempo
    /// says, and what is left for it.
    #[must_use]
    pub fn last_beat(&self, time: &Seconds) -> (Seconds, Seconds) {
        let (speed, beats) = self.fitting(time);
        let [before, after] = [beats - 1, beats].map(|count| speed.after(&whole(count)));
        (&after - &before, time - &before)
    }

    /// Its speed, where an open ramp takes `open` music beats.
    fn speed(&self, open: f64) -> Speed {
        match &self.ramp {
            None => Speed::Steady(self.bpm.clone()),
            Some((to, over)) => {
                let over = over.map_or(open, f64::from).max(1.0);
                Speed::Ramp { from: float(&self.bpm), to: float(to), over }
            }
        }
    }

    /// Its speed in `lasts` seconds, and the whole number of music beats that they hold.
    fn fitting(&self, lasts: &Seconds) -> (Speed, i64) {
        if let Some((_, None)) = &self.ramp {
            let beats = self.beats_in(lasts).round().clamp(1.0, 1e9);
            return (self.speed(beats), beats as i64);
        }
        let speed = self.speed(0.0);
        let quarter = BigRational::new(1.into(), 4.into());
        let beats = (speed.beats_in(lasts) - quarter).ceil().to_integer().to_i64();
        (speed, beats.unwrap_or(0).max(1))
    }

    /// The stages of `lasts` seconds with a whole number of music beats from `first` on.
    fn filled(&self, first: i64, lasts: &Seconds) -> (Vec<Stage>, i64) {
        let stage = |count: i64, after: &Seconds, speed| Stage {
            first: whole(first + count),
            starts: &self.from + after,
            speed,
        };
        let (speed, beats) = self.fitting(lasts);
        let fits = speed.beats_in(lasts);
        let mut stages = vec![stage(0, &Seconds::zero(), speed.clone())];
        if fits != whole(beats) {
            let before = speed.after(&whole(beats - 1));
            let left = lasts - &before;
            let one = Seconds::fraction(60, 1).divided_by(&left);
            let last = match one {
                Some(Seconds::Exact(tempo)) if tempo.is_positive() => Speed::Steady(tempo),
                Some(Seconds::Near(tempo)) if tempo > 0.0 => {
                    Speed::Ramp { from: tempo, to: tempo, over: 1.0 }
                }
                _ => speed,
            };
            if beats == 1 {
                stages.clear();
            }
            stages.push(stage(beats - 1, &before, last));
        }
        (stages, beats)
    }
}

impl MusicMap {
    /// The map of a track of that length; `None` where no bars are written. Stretches are in order
    /// of time.
    #[must_use]
    pub fn new(stretches: &[MusicStretch], ends: Seconds) -> Option<MusicMap> {
        let mut map = MusicMap { stages: Stages::default(), counted: Vec::new(), ends };
        let mut first = 0_i64;
        for (index, stretch) in stretches.iter().enumerate() {
            let mut beats = 0;
            if let Some(next) = stretches.get(index + 1) {
                let (stages, filled) = stretch.filled(first, &(&next.from - &stretch.from));
                map.stages.0.extend(stages);
                beats = filled;
            } else {
                let speed = stretch.speed(1.0);
                map.stages.0.push(Stage {
                    first: whole(first),
                    starts: stretch.from.clone(),
                    speed,
                });
                let end = map.stages.beat(&map.ends).ceil().to_integer().to_i64();
                beats = beats.max(end.unwrap_or(i64::MAX / 2) - first);
            }
            let bar = i64::from(stretch.music_beats);
            map.counted.push(Counted {
                first,
                beats,
                music_beats: stretch.music_beats,
                number: stretch.number,
                missing: if stretch.upbeat > 0 { bar - i64::from(stretch.upbeat) } else { 0 },
            });
            first += beats;
        }
        (!map.counted.is_empty()).then_some(map)
    }

    /// When a place in the count of music beats comes, in seconds from the track's first sample.
    #[must_use]
    pub fn time(&self, count: &BigRational) -> Seconds {
        self.stages.time(count)
    }

    /// The place in the count of music beats of a time of the track; `None` before the first bar
    /// and after the track.
    #[must_use]
    pub fn count(&self, time: &Seconds) -> Option<BigRational> {
        let begins = &self.stages.0.first()?.starts;
        (time >= begins && time <= &self.ends).then(|| self.stages.beat(time))
    }

    /// From where to where on the track there are bars.
    #[must_use]
    pub fn within(&self) -> (&Seconds, &Seconds) {
        (self.stages.0.first().map_or(&self.ends, |stage| &stage.starts), &self.ends)
    }

    /// The speeds from a time of the track on, for a pattern of so many throws a music beat.
    #[must_use]
    pub fn followed(&self, from: &Seconds, throws: &BigRational) -> Stages {
        self.stages.followed(from, throws)
    }

    /// Whether it goes on at one steady tempo from one time of the track to another.
    #[must_use]
    pub fn is_steady(&self, from: &Seconds, to: &Seconds) -> bool {
        let stage = |time: &Seconds| self.stages.0.partition_point(|stage| stage.starts <= *time);
        let here = stage(from);
        let steady = here.checked_sub(1).and_then(|here| self.stages.0.get(here));
        // Where the next stage begins this one still holds.
        let next = self.stages.0.get(here).is_none_or(|next| next.starts >= *to);
        next && steady.is_some_and(|stage| matches!(stage.speed, Speed::Steady(_)))
    }

    /// The bar and music beat of a time of the track; `None` where there are no bars. What is
    /// within 1 µs of a music beat is on it; the rest is rounded to a millionth of one.
    #[must_use]
    pub fn bar_beat(&self, time: &Seconds) -> Option<BarBeat> {
        let mut count = self.count(time)?;
        let nearest = count.round();
        if self.time(&nearest) == Seconds::Near(time.to_f64()) {
            count = nearest;
        } else {
            let million = whole(1_000_000);
            count = (count * &million).round() / million;
        }
        Some(self.named(&count))
    }

    /// A place in the count of music beats by its bar.
    #[must_use]
    pub fn named(&self, count: &BigRational) -> BarBeat {
        let stretch = self.stretch_at(count);
        let place = count - whole(stretch.first - stretch.missing);
        let of = whole(i64::from(stretch.music_beats.max(1)));
        let bar = (&place / &of).floor();
        BarBeat {
            bar: stretch.first_bar() + bar.to_integer().to_i64().unwrap_or(0),
            music_beat: place - bar * of + BigRational::one(),
            of: stretch.music_beats,
        }
    }

    /// When a music beat (from 1) of a bar comes on the track; `None` where the music has none.
    #[must_use]
    pub fn time_of(&self, bar: i64, music_beat: u32) -> Option<Seconds> {
        self.counted.iter().find_map(|stretch| {
            let bars = bar.checked_sub(stretch.first_bar())?;
            let within = bars.checked_mul(i64::from(stretch.music_beats))?;
            let beat = within + i64::from(music_beat) - 1 - stretch.missing;
            let is_there = bars >= 0
                && (1..=stretch.music_beats).contains(&music_beat)
                && (0..stretch.beats).contains(&beat);
            is_there.then(|| self.time(&whole(stretch.first + beat)))
        })
    }

    /// The first and the last music beat that there is.
    #[must_use]
    pub fn ends_of(&self) -> (BarBeat, BarBeat) {
        let last = self.counted.last().map_or(0, |last| last.first + last.beats - 1);
        (self.named(&BigRational::zero()), self.named(&whole(last.max(0))))
    }

    /// How many music beats a bar has here, and from which on; `None` where there is no such bar.
    #[must_use]
    pub fn beats_of(&self, bar: i64) -> Option<(u32, u32)> {
        let most = self.counted.iter().map(|stretch| stretch.music_beats).max().unwrap_or(0);
        let mut there = (1..=most).filter(|&beat| self.time_of(bar, beat).is_some());
        let first = there.next()?;
        Some((first, there.next_back().unwrap_or(first)))
    }

    /// The time so many bars after a time of the track: the same place in a later bar. `None`
    /// where the music ends before it, or has no bars at that time.
    #[must_use]
    pub fn after_bars(&self, from: &Seconds, bars: u32) -> Option<Seconds> {
        let count = self.count(from)?;
        let mut stretches = self.counted.iter();
        let begin = self.stretch_at(&count);
        stretches.by_ref().find(|stretch| std::ptr::eq(*stretch, begin));
        let mut stretch = begin;
        let of = |stretch: &Counted| whole(i64::from(stretch.music_beats.max(1)));
        let mut place =
            (count - whole(stretch.first - stretch.missing)) / of(stretch) + whole(bars.into());
        loop {
            let next = stretches.next();
            let beat = (&place * of(stretch) - whole(stretch.missing)).max(BigRational::zero());
            if let Some(next) = next {
                // A bar whose last music beats are the next stretch's upbeat is one bar of both.
                let shared = next.first_bar() == stretch.first_bar() + stretch.bars() - 1;
                let has = whole(stretch.bars() - i64::from(shared));
                if place >= has && !(shared && beat < whole(stretch.beats)) {
                    place -= has;
                    stretch = next;
                    continue;
                }
            }
            let beat = if next.is_some() { beat.min(whole(stretch.beats)) } else { beat };
            let time = self.time(&(whole(stretch.first) + beat));
            return (time <= self.ends).then_some(time);
        }
    }

    /// The whole music beats from one time of the track to another, the later excluded: their
    /// places in the count.
    #[must_use]
    pub fn whole_beats(&self, from: &Seconds, to: &Seconds) -> std::ops::Range<i64> {
        let last = self.counted.last().map_or(0, |last| last.first + last.beats);
        let reached = |time: &Seconds| {
            let count = self.stages.beat(time);
            let near = count.round();
            let on = self.time(&near) == *time;
            let count = if on { near } else { count.ceil() };
            count.to_integer().to_i64().unwrap_or(0).clamp(0, last)
        };
        reached(from)..reached(to)
    }

    fn stretch_at(&self, count: &BigRational) -> &Counted {
        let after = self.counted.partition_point(|stretch| whole(stretch.first) <= *count);
        self.counted
            .get(after.saturating_sub(1))
            .unwrap_or_else(|| unreachable!("`new` makes no map without stretches"))
    }
}

impl Counted {
    /// The number of the bar in which it begins.
    fn first_bar(&self) -> i64 {
        i64::from(self.number) - i64::from(self.missing > 0)
    }

    /// How many bars it has, a begun one counted.
    fn bars(&self) -> i64 {
        let of = i64::from(self.music_beats.max(1));
        (self.missing + self.beats + of - 1) / of
    }
}

fn whole(number: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(number))
}

fn float(number: &BigRational) -> f64 {
    number.to_f64().unwrap_or(f64::NAN)
}
