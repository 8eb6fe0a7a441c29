//! What is on after a cue, in words: the look, dark, followspot, strobe, tracks and flames.
//!
//! Whoever has lost the place after a drop compares this with what is on stage. Where open lengths
//! leave it open, it says what may be. It tells what the cues and the score say, and clears nothing.

use crate::act::Act;
use crate::act::calls::Call;
use crate::measure::sound_cues::{Meant, fades, meant, plays};
use crate::routine::{Crew, Cue, Hazard, SpotMove};
use crate::time::{Seconds, Time};
use crate::timeline::TrackSpan;

use super::words::{plain, quoted};

/// What is on after a cue.
#[derive(Clone, Debug, PartialEq)]
pub struct On {
    /// What the last Light cue does; several where it is open which one is the last.
    pub looks: Vec<String>,
    /// Whether no Light cue has gone yet.
    pub no_look_yet: Sure,
    /// Whether the stage is dark.
    pub dark: Sure,
    /// Whether the followspot is up; `None` where no cue has moved it yet.
    pub spot: Option<Sure>,
    /// Whether a strobe is on.
    pub strobe: Sure,
    /// The tracks that have begun, or may have.
    pub tracks: Vec<TrackOn>,
    /// The sets whose flames are alight, or may be.
    pub flames: Vec<(String, Sure)>,
}

/// Whether something holds on every night, on some, or on none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// On none.
    No,
    /// On some.
    Maybe,
    /// On every one.
    Yes,
}

impl Sure {
    fn of(surely: bool, may: bool) -> Sure {
        match (surely, may) {
            (true, _) => Sure::Yes,
            (false, true) => Sure::Maybe,
            (false, false) => Sure::No,
        }
    }

    /// `yes`, `maybe` or `no`, as documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Sure::No => "no",
            Sure::Maybe => "maybe",
            Sure::Yes => "yes",
        }
    }
}

/// A track that has begun, or may have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrackOn {
    /// Its name, if it has one.
    pub name: Option<String>,
    /// How it stands; several where that is open.
    pub stands: Vec<Stands>,
}

/// How a track stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It has not begun.
    NotBegun,
    /// It plays.
    Playing,
    /// It is held.
    Held,
    /// A cue has faded it.
    Faded,
    /// It is over.
    Ended,
}

impl Stands {
    /// As sheets and documents write it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Stands::NotBegun => "not begun",
            Stands::Playing => "playing",
            Stands::Held => "held",
            Stands::Faded => "faded",
            Stands::Ended => "ended",
        }
    }
}

impl On {
    /// What is on, one thing at a time, as in `look: sides up`, `spot out`, `track "day" held`.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let mut words = Vec::new();
        if !self.looks.is_empty() {
            let none = said(self.no_look_yet, "", ", or none yet").unwrap_or_default();
            words.push(format!("look: {}{none}", self.looks.join(", or ")));
        }
        words.extend(said(self.dark, "DARK", "may be DARK").map(str::to_owned));
        words.extend(
            self.spot.map(|spot| {
                said(spot, "spot up", "spot may be up").unwrap_or("spot out").to_owned()
            }),
        );
        words.extend(said(self.strobe, "STROBE on", "STROBE may be on").map(str::to_owned));
        for track in &self.tracks {
            let name = track.name.as_deref().map(|name| format!(" {}", quoted(name)));
            let stands: Vec<&str> = track.stands.iter().map(|stands| stands.words()).collect();
            words.push(format!("track{} {}", name.unwrap_or_default(), stands.join(" or ")));
        }
        for (set, sure) in &self.flames {
            let alight = said(*sure, "alight", "may be alight").unwrap_or_default();
            words.push(format!("FLAMES {} {alight}", quoted(set)));
        }
        words
    }
}

fn said(sure: Sure, yes: &'static str, maybe: &'static str) -> Option<&'static str> {
    match sure {
        Sure::Yes => Some(yes),
        Sure::Maybe => Some(maybe),
        Sure::No => None,
    }
}

/// What is on after each call of an act, in the order of its calls; an encore finds the lights as the
/// act before it leaves them. `None` where an error may hide what is on.
#[must_use]
pub fn after_each(act: &Act, before: Option<&Act>) -> Vec<Option<On>> {
    let parts = Parts::of(act, before);
    let calls = act.calls.calls.iter();
    calls.map(|call| (act.errors == 0).then(|| parts.after(call))).collect()
}

struct Parts<'a> {
    act: &'a Act,
    before: Option<&'a Act>,
    /// How the tracks of the act before stand.
    left: Vec<TrackOn>,
    /// What each cue means, where it plays or fades something.
    sounds: Vec<Option<Meant>>,
}

impl<'a> Parts<'a> {
    fn of(act: &'a Act, before: Option<&'a Act>) -> Parts<'a> {
        let meant = |cue| (plays(cue) || fades(cue)).then(|| meant(act, cue));
        Parts {
            act,
            before,
            left: before.map(left_on).unwrap_or_default(),
            sounds: act.routine.cues.iter().map(meant).collect(),
        }
    }

    fn after(&self, call: &Call) -> On {
        let light = self.last(call, |cue| cue.crew.value == Crew::Light);
        // A dark takes the followspot along, if its operator does as usual: no cue says so.
        let taken = self.last(call, |cue| cue.spot.is_some() || cue.dark && !cue.spot_stays);
        let moved = self.last(call, |cue| cue.spot.is_some());
        let up = |last: &Last<'_>| last.sure(|cue| cue.spot == Some(SpotMove::Up));
        let spot = match up(&moved) {
            Sure::Yes if up(&taken) != Sure::Yes => Sure::Maybe,
            sure => sure,
        };
        let mut looks: Vec<String> = Vec::new();
        for look in light.cues.iter().map(|cue| look(cue)) {
            if !looks.contains(&look) {
                looks.push(look);
            }
        }
        let flashing: Vec<Sure> = Crew::ALL
            .iter()
            .map(|crew| self.last(call, |cue| cue.crew.value == *crew))
            .map(|last| last.sure(|cue| cue.flashes.is_some()))
            .collect();
        On {
            looks,
            no_look_yet: Sure::of(light.cues.is_empty(), !light.surely),
            dark: light.sure(|cue| cue.dark),
            spot: (!moved.cues.is_empty()).then_some(spot),
            strobe: Sure::of(flashing.contains(&Sure::Yes), flashing.contains(&Sure::Maybe)),
            tracks: self.tracks(call),
            flames: self.flames(&call.go),
        }
    }

    /// The cues that may be the last of some by a call, it included.
    fn last(&self, call: &Call, wanted: impl Fn(&Cue) -> bool) -> Last<'a> {
        let wanted = |_: usize, cue: &Cue| wanted(cue);
        let mut last = last_of(self.act, Some(call), &wanted);
        if let Some(before) = self.before.filter(|_| !last.surely) {
            let earlier = last_of(before, None, &wanted);
            last.cues.extend(earlier.cues);
            last.surely = earlier.surely;
        }
        last
    }

    /// The act's own tracks; in an encore those of the act before them.
    fn tracks(&self, call: &Call) -> Vec<TrackOn> {
        let own = self.tracks_at(Some(call), &call.go);
        self.left.iter().cloned().chain(own).collect()
    }

    /// How the act's tracks stand at a time, which is that of a call or the act's end.
    fn tracks_at(&self, by: Option<&Call>, at: &Time) -> Vec<TrackOn> {
        let tracks = self.act.routine.all_tracks().zip(&self.act.timeline.tracks).enumerate();
        let on = tracks.filter_map(|(index, ((name, _), span))| {
            let stands = self.stands(by, at, index, span);
            let begun = stands.iter().any(|one| *one != Stands::NotBegun);
            begun.then(|| TrackOn { name: name.map(|name| plain(&name.value)), stands })
        });
        on.collect()
    }

    fn stands(&self, by: Option<&Call>, at: &Time, index: usize, span: &TrackSpan) -> Vec<Stands> {
        let (Some(starts), Some(ends)) = (&span.starts, span.ends()) else { return Vec::new() };
        let begun = since(at, starts);
        let ended = since(at, &ends);
        let held: Vec<Sure> = span
            .holds
            .iter()
            .filter_map(|hold| {
                let from = span.at(&hold.from)?;
                Some(both(since(at, &from), not(since(at, &(&from + &hold.lasts)))))
            })
            .collect();
        let held = Sure::of(held.contains(&Sure::Yes), held.contains(&Sure::Maybe));
        let of_track = |cue: usize| {
            let meant = self.sounds.get(cue).and_then(Option::as_ref);
            meant.filter(|meant| meant.tracks.contains(&index))
        };
        let last = last_of(self.act, by, &|cue: usize, _: &Cue| of_track(cue).is_some());
        let is_meant = |call: &&Call| of_track(call.cue).is_some_and(|meant| !meant.or_else);
        let faded = match last.sure(fades) {
            Sure::Yes if !last.calls.iter().all(is_meant) => Sure::Maybe,
            sure => sure,
        };
        let after_start = last.calls.iter().any(|one| since(&one.go, starts) != Sure::No);
        let faded = if after_start { faded } else { Sure::No };
        let mut stands = Vec::new();
        let mut may = |one: Stands, is: bool| stands.extend(is.then_some(one));
        may(Stands::NotBegun, begun != Sure::Yes);
        let on = begun != Sure::No && ended != Sure::Yes;
        may(Stands::Playing, on && held != Sure::Yes && faded != Sure::Yes);
        may(Stands::Held, on && held != Sure::No && faded != Sure::Yes);
        may(Stands::Faded, on && faded != Sure::No);
        may(Stands::Ended, begun != Sure::No && ended != Sure::No);
        stands
    }

    fn flames(&self, go: &Time) -> Vec<(String, Sure)> {
        let mut flames: Vec<(String, Sure)> = Vec::new();
        let burning = self.act.in_use.iter().filter(|used| used.hazard == Hazard::Fire);
        for used in burning {
            let Some(set) = self.act.routine.sets.get(used.set) else { continue };
            let out = if used.ends.is_some() { since(go, &used.to) } else { Sure::No };
            let alight = both(since(go, &used.from), not(out));
            if alight != Sure::No {
                flames.push((plain(&set.name.value), alight));
            }
        }
        flames
    }
}

/// How the tracks of an act stand when its encore begins: nobody knows how long after the act that is.
fn left_on(act: &Act) -> Vec<TrackOn> {
    let parts = Parts::of(act, None);
    let left = act.timeline.ends().into_iter().flat_map(|ends| parts.tracks_at(None, ends));
    let left = left.map(|mut track| {
        if !track.stands.contains(&Stands::Ended) {
            track.stands.push(Stands::Ended);
        }
        track
    });
    left.collect()
}

/// Whether a time has come by another.
fn since(time: &Time, from: &Time) -> Sure {
    let since = time - from;
    Sure::of(!since.least().is_negative(), !since.most().is_negative())
}

fn not(sure: Sure) -> Sure {
    match sure {
        Sure::No => Sure::Yes,
        Sure::Maybe => Sure::Maybe,
        Sure::Yes => Sure::No,
    }
}

fn both(one: Sure, other: Sure) -> Sure {
    let all = [one, other];
    Sure::of(all == [Sure::Yes; 2], !all.contains(&Sure::No))
}

/// What a Light cue does, and the colour that it brings up.
fn look(cue: &Cue) -> String {
    let does = plain(&cue.does.value.words());
    match &cue.light {
        Some(light) => format!("{does} ({})", plain(&light.name.value)),
        None => does,
    }
}

/// The cues that may be the last of some.
struct Last<'a> {
    calls: Vec<&'a Call>,
    cues: Vec<&'a Cue>,
    /// Whether one of them comes on every night.
    surely: bool,
}

impl Last<'_> {
    /// Whether the last one is such.
    fn sure(&self, is_such: impl Fn(&Cue) -> bool) -> Sure {
        let such = self.cues.iter().filter(|cue| is_such(cue)).count();
        Sure::of(self.surely && such == self.cues.len(), such > 0)
    }
}

/// The calls of an act that may be the last of some by a call, or at the act's end.
fn last_of<'a>(act: &'a Act, by: Option<&Call>, wanted: &impl Fn(usize, &Cue) -> bool) -> Last<'a> {
    let mut last = Last { calls: Vec::new(), cues: Vec::new(), surely: false };
    let mut sure: Vec<&Call> = Vec::new();
    let is_by = |one: &Call| by.is_none_or(|by| one.cue == by.cue || one.always_comes_before(by));
    // Right behind its own GO a cue is the last of its kind, beside those that come then too.
    let own = by.and_then(|by| Some((by.cue, act.routine.cues.get(by.cue)?)));
    let is_own = own.is_some_and(|(index, cue)| wanted(index, cue));
    // Where nothing is open the calls come in their order: those behind it need no look.
    let calls = &act.calls.calls;
    let place = by.filter(|_| !act.is_open());
    let place = place.and_then(|by| calls.iter().position(|one| one.cue == by.cue));
    let so_far = place.and_then(|place| calls.get(..=place)).unwrap_or(calls);
    for one in so_far.iter().rev() {
        let found = act.routine.cues.get(one.cue).filter(|cue| wanted(one.cue, cue));
        let Some(cue) = found else { continue };
        let is_past = by.is_some_and(|by| {
            let at_once = || (&one.go - &by.go).certain() == Some(&Seconds::zero());
            one.cue != by.cue && (by.always_comes_before(one) || is_own && !at_once())
        });
        if is_past || sure.iter().any(|later| one.always_comes_before(later)) {
            continue;
        }
        last.calls.push(one);
        last.cues.push(cue);
        if is_by(one) {
            sure.push(one);
            if !act.is_open() {
                break;
            }
        }
    }
    last.surely = !sure.is_empty();
    last
}
