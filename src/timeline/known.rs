//! What an error leaves unknown while the routine is laid out: the compiler assumes something and
//! goes on, and notes here what of it is assumed.

use crate::notation::Kind;
use crate::routine::{Juggle, Loading, Tempo, Transition, Unread};
use crate::time::{Seconds, Time};

use super::Trouble;
use super::compile::Compiler;
use super::join::Join;
use super::length::{InForce, MusicTempo};
use super::section::{Joining, SectionSpan};

/// How long an entry is assumed to last of which nothing is known, in seconds: long enough to be
/// drawn with its name.
const ASSUMED_S: i64 = 4;

/// What is known of where the compiler stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known {
    /// The tempo in force.
    pub(super) tempo: bool,
    /// The number of beats of the section before.
    pub(super) beats: bool,
    /// Which hand does what in the run in the making.
    pub(super) hands: bool,
    /// Which prop does what in it.
    pub(super) run: bool,
    /// What the hands hold since the last gather.
    pub(super) held: bool,
    /// Which face the props show.
    pub(super) face: bool,
}

impl Known {
    /// Before the first section.
    pub(super) const ALL: Known =
        Known { tempo: true, beats: true, hands: true, run: true, held: true, face: true };
}

/// What is known of the way into a section, and of how it goes on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sure {
    /// Where its props are.
    pub(super) props: bool,
    /// What is put before it.
    pub(super) way: bool,
    /// Which hand does what.
    pub(super) hands: bool,
    /// Its pace.
    pub(super) pace: bool,
}

impl Compiler<'_> {
    /// Where an entry ends that starts there and of which nothing is known.
    pub(super) fn assumed(starts: &Time) -> Time {
        starts + &Seconds::fraction(ASSUMED_S, 1)
    }

    /// An entry that could not be read: its set and its tempo are known to those after it as far as
    /// they are to the reader, but not what is in the hands.
    pub(super) fn unread(&mut self, index: usize, unread: &Unread) {
        if let Some(label) = self.label.take() {
            self.break_off(index, label);
        }
        let hides_throws = unread.is_juggled != Some(false);
        let span = SectionSpan::from(self.clock.clone());
        self.timeline.sections.push(SectionSpan { hides_throws, ..span });
        self.hands = None;
        (self.known.held, self.known.face) = (false, self.known.face && !hides_throws);
        match &unread.set {
            Some(set) => self.set = self.routine.set_index(&set.value),
            None if unread.hides_set => self.set = None,
            None => {}
        }
        match unread.tempo.as_ref().map(|tempo| &tempo.value) {
            Some(Tempo::PerMinute(tempo) | Tempo::Ramp { to: tempo, .. }) => {
                self.tempo = Some(InForce::PerMinute(Some(tempo.clone())));
                self.known.tempo = true;
            }
            Some(Tempo::PerMusicBeat { throws, accent }) => {
                let (throws, accent) = (throws.clone(), *accent);
                self.tempo = Some(InForce::Music(MusicTempo { throws, accent, reached: None }));
                self.known.tempo = true;
            }
            None => self.known.tempo &= !unread.hides_tempo,
        }
        self.lose();
        self.end_section(Compiler::assumed(&self.clock));
    }

    /// What is known of the entry after this one, where it could not be read.
    pub(super) fn unread_after(&self, index: usize) -> Option<&Unread> {
        self.routine.score.get(index + 1)?.unread()
    }

    /// What is known of the way into a section.
    pub(super) fn sure(&self, juggle: &Juggle) -> Sure {
        let cold = self.label.is_none();
        let loading = juggle.loading.as_ref().map(|loading| &loading.value);
        let held = self.known.held || matches!(loading, Some(Loading::Hands(_)));
        let props = if cold { held && !self.routine.hidden.lead } else { self.known.beats };
        let hands_before = props && (cold || self.known.hands);
        let demanded = juggle.lead.is_some();
        // What is found, and what waits, hangs on where the props are and in which hands.
        let found = juggle.transition.value == Transition::Auto;
        let hangs = found || juggle.pattern.pattern.kind() == Kind::Sync;
        let way = !hangs || props && (hands_before || !demanded);
        Sure { props, way, hands: hands_before || demanded, pace: true }
    }

    /// Notes what is known of the run that goes on, or begins, with a section.
    pub(super) fn go_on(&mut self, cold: bool, sure: Sure) {
        self.known.hands = sure.hands;
        self.known.run = (cold || self.known.run) && sure.props && sure.way;
    }

    /// How the props come to a section.
    pub(super) fn joining(&self, index: usize, join: &Join, sure: Sure) -> Joining {
        let tears = |trouble: &Trouble| trouble.tears() == Some(index);
        if self.troubles.iter().any(tears) {
            Joining::Torn
        } else if !sure.props || join.trouble.is_some() && !sure.hands {
            Joining::Unknown
        } else if join.trouble.is_some() {
            Joining::Torn
        } else {
            Joining::Fits
        }
    }
}
