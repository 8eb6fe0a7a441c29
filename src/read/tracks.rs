//! Several tracks: `tracks: { "main": Track(…), "encore": Track(…) }` in place of `music`, and the
//! names that moments give them.
//!
//! With one track a moment may leave its name out; with several, nothing says which is meant.

use std::collections::HashMap;

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Cue, Track};

use super::names::{quoted, unknown_name};
use super::nearest::one_of;
use super::raw::Raw;
use super::reader::Reader;
use super::staging::track;
use super::text::text;

/// The most tracks of a routine.
const MOST_TRACKS: usize = 100;

/// The tracks by name, in the file's order, and the cues of their holds.
pub(super) fn tracks<'a>(
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
            reader.names.tracks.named.push(name.clone());
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

    /// Everything that is wrong with the names of the music.
    pub(super) fn faults(&self) -> Vec<Diagnostic> {
        let mut faults = Vec::new();
        for spoken in &self.spoken {
            faults.extend(self.fault(spoken));
        }
        self.twice(&mut faults);
        faults
    }

    fn fault(&self, spoken: &Spoken) -> Option<Diagnostic> {
        let track = match &spoken.track {
            Some(track) if !spoken.own => {
                if !self.named.iter().any(|name| name.value == track.value) {
                    return Some(self.unknown_track(track));
                }
                Some(track.value.as_str())
            }
            Some(track) => Some(track.value.as_str()),
            None if self.named.len() > 1 && !spoken.own => return Some(self.which_track(spoken)),
            None => self.named.first().map(|name| name.value.as_str()),
        };
        let (what, name) = spoken.name.as_ref()?;
        let given =
            self.given.iter().filter(|(of, kind, _)| of.as_deref() == track && kind == what);
        let given: Vec<Placed<String>> = given.map(|(_, _, name)| name.clone()).collect();
        unknown_name(what.word(), what.code(), &given, name)
    }

    fn unknown_track(&self, track: &Placed<String>) -> Diagnostic {
        let fault = unknown_name("track", "unknown-track", &self.named, track);
        let known = || Diagnostic::error("unknown-track", track.at.clone(), "It is not a track.");
        fault.unwrap_or_else(known)
    }

    fn which_track(&self, spoken: &Spoken) -> Diagnostic {
        let message = "The routine has several `tracks`, and this moment does not say of which.";
        let marked = spoken.name.as_ref().map_or(&spoken.at, |(_, name)| &name.at);
        let mut fault =
            Diagnostic::error("which-track", marked.clone(), message).label("of which track?");
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

    /// Reports two tracks of one name, and two marks or two holds of one track.
    fn twice(&self, faults: &mut Vec<Diagnostic>) {
        let tracks = self.named.iter().map(|name| (("track", None), name));
        let own =
            self.given.iter().map(|(track, what, name)| ((what.word(), track.as_ref()), name));
        let mut first: HashMap<_, &Place> = HashMap::new();
        for (kind, name) in tracks.chain(own) {
            let Some(there) = first.get(&(kind, name.value.as_str())).copied() else {
                first.insert((kind, name.value.as_str()), &name.at);
                continue;
            };
            let message = format!("Two {}s are called \"{}\".", kind.0, name.value);
            let fault = Diagnostic::error("duplicate-name", name.at.clone(), message)
                .label("the second one")
                .note_at(there.clone(), "The first one is here.")
                .help("Give one of them another name.");
            faults.push(fault);
        }
    }
}
