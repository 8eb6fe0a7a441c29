//! How loud a recording is over time.

/// Windows of loudness in a second.
pub(super) const WINDOWS: u32 = 20;
/// What is quieter than the loudest window by so many decibels is drawn as nothing.
const RANGE_DB: f64 = 40.0;
/// Levels of a decibel: a thirty-second of it is heard by nobody.
const LEVELS_OF_DB: f64 = 32.0;
/// Level 0 is silence; the others begin here, in decibels of full scale.
const LOWEST_DB: f64 = -110.0;
/// The highest level: it has twelve bits.
pub const HIGHEST_LEVEL: u16 = 0xfff;

/// The loudness of a recording: the root mean square of each window of a twentieth of a second,
/// over all channels, full scale being 1.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loudness {
    /// Window by window from the first sample on.
    pub windows: Vec<f32>,
}

impl Loudness {
    /// Seconds that a window lasts.
    pub const WINDOW_S: f64 = 1.0 / WINDOWS as f64;

    /// Each window as one of 4,096 levels, a thirty-second of a decibel apart: what is kept of it.
    pub fn levels(&self) -> impl ExactSizeIterator<Item = u16> {
        let level = |&rms: &f32| {
            if rms <= 0.0 {
                return 0;
            }
            let level = (20.0 * f64::from(rms).log10() - LOWEST_DB) * LEVELS_OF_DB;
            level.round().clamp(0.0, f64::from(HIGHEST_LEVEL)) as u16
        };
        self.windows.iter().map(level)
    }

    /// The loudness that has these [`Loudness::levels`].
    #[must_use]
    pub fn of_levels(levels: impl IntoIterator<Item = u16>) -> Loudness {
        let rms = |level: u16| match level {
            0 => 0.0,
            level => 10_f64.powf((f64::from(level) / LEVELS_OF_DB + LOWEST_DB) / 20.0) as f32,
        };
        Loudness { windows: levels.into_iter().map(rms).collect() }
    }

    /// The loudest window, full scale being 1.
    #[must_use]
    pub fn loudest(&self) -> f64 {
        f64::from(self.windows.iter().copied().fold(0.0, f32::max))
    }

    /// How loud it is from one time to another, in seconds of the recording, as a part of its
    /// loudest window: 0 for 40 dB below it or less, 1 for the loudest itself, even steps of
    /// decibels between.
    #[must_use]
    pub fn height(&self, from: f64, to: f64) -> f64 {
        let loudest = self.loudest();
        let mean = self.mean(from, to);
        if loudest <= 0.0 || mean <= 0.0 {
            return 0.0;
        }
        // 20·log10 of a ratio of amplitudes is its decibels: a tenth is −20 dB, height 0.5.
        (1.0 + 20.0 * (mean / loudest).log10() / RANGE_DB).clamp(0.0, 1.0)
    }

    /// The root mean square from one time to another, in seconds of the recording, over every
    /// window that the stretch touches; 0 outside of it.
    #[must_use]
    pub fn mean(&self, from: f64, to: f64) -> f64 {
        let first = (from / Self::WINDOW_S + 1e-9).floor().max(0.0) as usize;
        let after = (to / Self::WINDOW_S - 1e-9).ceil().max(0.0) as usize;
        let windows = self.windows.get(first..after.min(self.windows.len())).unwrap_or_default();
        if windows.is_empty() {
            return 0.0;
        }
        let power: f64 = windows.iter().map(|&rms| f64::from(rms).powi(2)).sum();
        (power / windows.len() as f64).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_stand_for_the_loudness_to_a_sixty_fourth_of_a_decibel_and_for_themselves() {
        let windows = vec![0.0, 1e-9, 0.000_01, 0.25, 1.0, 7.0];
        let loudness = Loudness { windows };
        let levels: Vec<u16> = loudness.levels().collect();
        let again = Loudness::of_levels(levels.clone());
        assert_eq!((levels[0], levels[1]), (0, 0));
        for (one, other) in loudness.windows.iter().zip(&again.windows).skip(2) {
            let apart = 20.0 * f64::from(one / other).log10();
            assert!(apart.abs() < 1.0 / 60.0, "{one} is {apart} dB from {other}");
        }
        for level in 0..=HIGHEST_LEVEL {
            assert_eq!(Loudness::of_levels([level]).levels().next(), Some(level));
        }
    }

    #[test]
    fn a_height_falls_evenly_in_decibels_to_nothing_at_40_below_the_loudest() {
        let loudness = Loudness { windows: vec![0.0, 0.5, 0.05, 0.005, 0.001] };
        let of = |window: f64| loudness.height(window * 0.05, (window + 1.0) * 0.05);
        assert_eq!(of(0.0), 0.0);
        assert!((of(1.0) - 1.0).abs() < 1e-6);
        assert!((of(2.0) - 0.5).abs() < 1e-6);
        assert!(of(3.0).abs() < 1e-6);
        assert_eq!((of(4.0), of(9.0)), (0.0, 0.0));
    }
}
