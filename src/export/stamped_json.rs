//! Times in JSON: every one with both its ends, under names that begin alike.
//!
//! A time `x` is written as `x_s` and `x_latest_s`, the earliest and, where it is another, the
//! latest; beside them `x_bar`, `x_music_beat`, `x_bar_latest` and `x_music_beat_latest`. What is
//! not known is null.

use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::sheet::stamp::{Stamp, figures};
use crate::time::{Seconds, TimeRange};

/// A time on the show clock with its bar, under its name.
pub(super) struct Stamped<'a>(pub(super) &'static str, pub(super) Option<&'a Stamp>);

/// A time on some clock, or a length of time, under its name.
pub(super) struct Ranged(pub(super) &'static str, pub(super) Option<TimeRange>);

impl Serialize for Ranged {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        range(&mut map, self.0, self.1.as_ref())?;
        map.end()
    }
}

impl Serialize for Stamped<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Stamped(name, stamp) = self;
        let mut map = serializer.serialize_map(None)?;
        range(&mut map, name, stamp.map(Stamp::range).as_ref())?;
        let bar = stamp.and_then(|stamp| stamp.bar.as_ref());
        let ends = [bar.map(|bar| &bar.earliest), bar.and_then(|bar| bar.latest.as_ref())];
        for (end, latest) in ends.into_iter().zip(["", "_latest"]) {
            let (bar, beat) =
                end.map(figures).map_or((None, None), |(bar, beat)| (Some(bar), beat));
            map.serialize_entry(&format!("{name}_bar{latest}"), &bar)?;
            map.serialize_entry(&format!("{name}_music_beat{latest}"), &beat)?;
        }
        map.end()
    }
}

/// The time code, and the latest where that is another.
pub(super) fn timecode(stamp: &Stamp) -> (Option<String>, Option<String>) {
    let code = stamp.timecode.as_ref();
    let latest = code.and_then(|code| code.latest.as_ref());
    (code.map(|code| code.earliest.to_string()), latest.map(ToString::to_string))
}

fn range<M: SerializeMap>(
    map: &mut M,
    name: &str,
    range: Option<&TimeRange>,
) -> Result<(), M::Error> {
    let earliest = range.and_then(TimeRange::earliest).map(Seconds::to_f64);
    let latest = range.and_then(TimeRange::uncertain).map(Seconds::to_f64);
    map.serialize_entry(&format!("{name}_s"), &earliest)?;
    map.serialize_entry(&format!("{name}_latest_s"), &latest)
}
