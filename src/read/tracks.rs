//! Several tracks: `tracks: { "main": Track(…), "encore": Track(…) }` in place of `music`, and the
//! names that moments give them.
//!
//! With one track a moment may leave its name out; with several, nothing says which is meant.

use std::collections::HashMap;

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Cue, Track};

use super::names::{Known, quoted, unknown_name};
use super::nearest::one_of;
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;
use super::staging::track;
use super::text::text;

/// The music of the act, or of its encore.
pub(super) struct Music {
    /// The one track without a name.
    pub(super) music: Option<Track>,
    /// The tracks by name, in the file's order.
    pub(super) tracks: Vec<(Placed<String>, Track)>,
    /// The cues of their holds.
    pub(super) cues: Vec<Cue>,
    /// Whether some of it is written and could not be read.
    pub(super) is_lost: bool,
}

/// What stands in `music`, or in `tracks` in its place.
pub(super) fn music<'a>(reader: &mut Reader, record: &mut Record<'a>) -> Music {
    let mut cues = Vec::new();
    let music = record.may(reader, "music", |reader, raw| track(reader, raw, None, &mut cues));
    let named = record.may(reader, "tracks", |reader, raw| tracks(reader, raw, &mut cues));
    let written = ["music", "tracks"].map(|field| record.place_of(field));
    if let [Some(_), Some(at)] = &written {
        let message = "`tracks` stands in place of `music`; here are both.";
        let fault = Diagnostic::error("misplaced-field", at.clone(), message).label("one too many");
        reader.report(fault.help("Give the track of `music` a name and put it into `tracks`."));
    }
    let [one, several] = written.map(|at| at.is_some());
    let is_lost = (one && music.is_none()) || (several && named.is_none());
    Music { music, tracks: named.unwrap_or_default(), cues, is_lost }
}

/// The most tracks of a routine.
const MOST_TRACKS: usize = 100;

/// The tracks by name, in the file's order, and the cues of their holds.
fn tracks<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    cues: &mut Vec<Cue>,
) -> Option<Vec<(Placed<String>, Track)>> {
    let before = reader.errors();
    let entries = reader.entries(raw);
    if entries.is_empty() && reader.errors() == before {
        let fault = Diagnostic::error("empty-list", raw.place(), "`tracks` has no track.")
            .help("Leave it out where there is no music.");
        reader.report(fault);
    }
    if entries.len() > MOST_TRACKS {
        let message = format!("A routine has at most {MOST_TRACKS} tracks.");
        reader.error("out-of-range", raw.place(), message);
        return None;
    }
    let mut tracks = Vec::new();
    for (key, value) in entries {
        let name = text(reader, key);
        if let Some(name) = &name {
            reader.names.tracks().named.push(name.clone());
        }
        let Some(name) = name else { continue };
        tracks.extend(track(reader, value, Some(&name), cues).map(|track| (name, track)));
    }
    (reader.errors() == before).then_some(tracks)
}

/// Which name of a track's own is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum What {
    Mark,
    Hold,
}

impl What {
    fn word(self) -> &'static str {
        match self {
            What::Mark => "mark",
            What::Hold => "hold",
        }
    }

    /// The code where nothing bears the name.
    fn code(self) -> &'static str {
        match self {
            What::Mark => "unknown-mark",
            What::Hold => "unknown-hold",
        }
    }
}

/// A moment that speaks of a track.
struct Spoken {
    /// Its track, if it names one.
    track: Option<Placed<String>>,
    /// The mark or hold that it names.
    name: Option<(What, Placed<String>)>,
    /// Where its arguments would begin with the track's name, and what is written there: what
    /// stands before it, and behind it.
    at: Place,
    around: (&'static str, &'static str),
    /// Whether it stands in the track itself, which nothing else could mean.
    own: bool,
}

/// The names of tracks, of their marks and holds, and the moments that speak of them.
#[derive(Default)]
pub(super) struct TrackNames {
    /// The names in `tracks`.
    named: Vec<Placed<String>>,
    /// The track, if it has a name, and the name of its mark or hold.
    given: Vec<(Option<String>, What, Placed<String>)>,
    spoken: Vec<Spoken>,
}

impl TrackNames {
    /// There is this track, with its marks and holds.
    pub(super) fn give(&mut self, name: Option<&Placed<String>>, track: &Track) {
        self.named.extend(name.cloned());
        track.marks.iter().for_each(|(mark, _)| self.give_mark(name, mark));
        track.holds.iter().for_each(|hold| self.give_hold(name, &hold.name));
    }

    /// A track has this mark.
    pub(super) fn give_mark(&mut self, track: Option<&Placed<String>>, name: &Placed<String>) {
        self.given.push((track.map(|track| track.value.clone()), What::Mark, name.clone()));
    }

    /// A track has this hold.
    pub(super) fn give_hold(&mut self, track: Option<&Placed<String>>, name: &Placed<String>) {
        self.given.push((track.map(|track| track.value.clone()), What::Hold, name.clone()));
    }

    /// A track speaks of a mark of its own.
    pub(super) fn refer_own_mark(&mut self, track: Option<&Placed<String>>, name: &Placed<String>) {
        let name = Some((What::Mark, name.clone()));
        let at = Place::default();
        self.spoken.push(Spoken { track: track.cloned(), name, at, around: ("", ""), own: true });
    }

    /// A moment speaks of a track, or leaves its name out.
    pub(super) fn refer(&mut self, track: Option<&Placed<String>>, at: Place) {
        let around = ("(", ")");
        self.spoken.push(Spoken { track: track.cloned(), name: None, at, around, own: false });
    }

    /// The same, of a moment that has other arguments behind the track's name.
    pub(super) fn refer_before(&mut self, track: Option<&Placed<String>>, at: Place) {
        let around = ("", ", ");
        self.spoken.push(Spoken { track: track.cloned(), name: None, at, around, own: false });
    }

    /// A moment speaks of a mark or of a hold.
    pub(super) fn refer_name(
        &mut self,
        track: Option<&Placed<String>>,
        is_hold: bool,
        name: &Placed<String>,
    ) {
        let what = if is_hold { What::Hold } else { What::Mark };
        let at = Place { start: name.at.start, end: name.at.start };
        let name = Some((what, name.clone()));
        let around = ("", ", ");
        self.spoken.push(Spoken { track: track.cloned(), name, at, around, own: false });
    }

    /// Everything that is wrong with the names of the music: the act's, and its encore's.
    pub(super) fn faults(parts: &[TrackNames; 2]) -> Vec<Diagnostic> {
        let [act, encore] = parts;
        let mut faults = Vec::new();
        for (names, other, in_encore) in [(act, encore, false), (encore, act, true)] {
            for spoken in &names.spoken {
                faults.extend(names.fault(spoken, other, in_encore));
            }
            let given = names.given.iter();
            let own = given.map(|(track, what, name)| (what.word(), track.as_ref(), name));
            twice(own, &mut faults);
        }
        // An operator who is told a track's name must not have two of it.
        let tracks = parts.iter().flat_map(|part| &part.named);
        twice(tracks.map(|name| ("track", None, name)), &mut faults);
        faults
    }

    fn fault(&self, spoken: &Spoken, other: &TrackNames, in_encore: bool) -> Option<Diagnostic> {
        let track = match &spoken.track {
            Some(track) if !spoken.own => {
                if !self.named.iter().any(|name| name.value == track.value) {
                    let (here, elsewhere) = (&self.named[..], &other.named[..]);
                    let known = Known { here, elsewhere, in_encore };
                    return unknown_name("track", "unknown-track", &known, track);
                }
                Some(track.value.as_str())
            }
            Some(track) => Some(track.value.as_str()),
            None if self.named.len() > 1 && !spoken.own => {
                return Some(self.which_track(spoken, in_encore));
            }
            None => self.named.first().map(|name| name.value.as_str()),
        };
        let (what, name) = spoken.name.as_ref()?;
        let of_kind = |names: &TrackNames, of: &dyn Fn(Option<&str>) -> bool| {
            let given =
                names.given.iter().filter(|(at, kind, _)| kind == what && of(at.as_deref()));
            given.map(|(_, _, name)| name.clone()).collect::<Vec<_>>()
        };
        let (here, elsewhere) = (of_kind(self, &|of| of == track), of_kind(other, &|_| true));
        let known = Known { here: &here, elsewhere: &elsewhere, in_encore };
        unknown_name(what.word(), what.code(), &known, name)
    }

    fn which_track(&self, spoken: &Spoken, in_encore: bool) -> Diagnostic {
        let whose = if in_encore { "encore" } else { "routine" };
        let message = format!("The {whose} has several `tracks`, and this moment names none.");
        let marked = spoken.name.as_ref().map_or(&spoken.at, |(_, name)| &name.at);
        let mut fault =
            Diagnostic::error("which-track", marked.clone(), message).label("which track?");
        let has = |track: &&Placed<String>| {
            spoken.name.as_ref().is_none_or(|(what, name)| {
                self.given.iter().any(|(of, kind, given)| {
                    of.as_ref() == Some(&track.value) && kind == what && given.value == name.value
                })
            })
        };
        let place = Place { start: spoken.at.end, end: spoken.at.end };
        for track in self.named.iter().filter(has).take(3) {
            let (before, after) = spoken.around;
            let written = format!("{before}{}{after}", quoted(&track.value));
            fault = fault.help_edit(format!("Say of \"{}\".", track.value), place.clone(), written);
        }
        if fault.helps.is_empty() {
            let named: Vec<&str> = self.named.iter().map(|name| name.value.as_str()).collect();
            fault = fault.help(format!("Its tracks are {}.", one_of(&named)));
        }
        fault
    }
}

/// Reports names that two things of one kind have, each with the track that it belongs to, if to
/// one.
fn twice<'n>(
    names: impl Iterator<Item = (&'static str, Option<&'n String>, &'n Placed<String>)>,
    faults: &mut Vec<Diagnostic>,
) {
    let mut first: HashMap<_, &Place> = HashMap::new();
    for (kind, track, name) in names {
        let named = (kind, track, name.value.as_str());
        let Some(there) = first.get(&named).copied() else {
            first.insert(named, &name.at);
            continue;
        };
        let message = format!("Two {kind}s are called \"{}\".", name.value);
        let fault = Diagnostic::error("duplicate-name", name.at.clone(), message)
            .label("the second one")
            .note_at(there.clone(), "The first one is here.")
            .help("Give one of them another name.");
        faults.push(fault);
    }
}
