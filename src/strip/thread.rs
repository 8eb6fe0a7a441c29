//! What each prop goes through, as a thread: in a hand, through the air or across, in a hand.
//!
//! Taken from the timeline, in floating-point seconds on the show clock: for drawing only.

use num_rational::Ratio;

use crate::act::Act;
use crate::hand::Hand;
use crate::measure::height;
use crate::notation::Throw;
use crate::patterns::hands::ActionKind;
use crate::routine::{Made, Routine};
use crate::time::Seconds;
use crate::timeline::{Action, Face, HandLoading, Joining, Run, SectionSpan};

use super::arm;

/// A prop between two hands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flight {
    /// When it leaves.
    pub(super) leaves: f64,
    /// When it is caught.
    pub(super) lands: f64,
    /// The hand that it leaves.
    pub(super) from: Hand,
    /// The hand that catches it.
    pub(super) to: Hand,
    /// The throw.
    pub(super) throw: Throw,
    /// Handed across, not thrown.
    pub(super) handed: bool,
    /// Index of its colour in the routine.
    pub(super) colour: usize,
    /// Index of its section in the score.
    pub(super) section: usize,
    /// How it is made, where that is written.
    pub(super) made: Option<Made>,
    /// Height above the hand in metres; an estimate.
    pub(super) height_m: f64,
    /// Its place among the flights that leave and land together with it, and how many they are.
    pub(super) strand: (u8, u8),
    /// The rest that it ends.
    pub(super) before: Option<usize>,
    /// The rest that it begins.
    pub(super) after: Option<usize>,
}

/// A prop in a hand: held, about to be thrown, or gathered.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Rest {
    /// The hand.
    pub(super) hand: Hand,
    /// From.
    pub(super) from: f64,
    /// Until.
    pub(super) until: f64,
    /// Index of its colour in the routine.
    pub(super) colour: usize,
    /// Its place in the hand, from 0; no two rests of a hand share one at one time.
    pub(super) lane: usize,
}

/// What one hand does on one beat, to be written at its release.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Release {
    /// When.
    pub(super) at: f64,
    /// The hand.
    pub(super) hand: Hand,
    /// The throw as written, a multiplex in brackets.
    pub(super) written: String,
    /// How each of its throws is made, as written.
    pub(super) made: Vec<Option<Made>>,
    /// Nothing leaves the hand: a held 2 or a 0.
    pub(super) quiet: bool,
}

/// All threads of a routine.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Threads {
    /// By run, then by beat.
    pub(super) flights: Vec<Flight>,
    /// In no order of use.
    pub(super) rests: Vec<Rest>,
    /// By run, then by beat.
    pub(super) releases: Vec<Release>,
    /// Where the props lie still in the hands before, between and after the runs.
    pub(super) gathered: Vec<Gathered>,
    /// How many lanes the fuller hand needs.
    pub(super) lanes: usize,
}

/// Props that lie still in a hand, from a gather or a loading on.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Gathered {
    /// From.
    pub(super) from: f64,
    /// Until.
    pub(super) until: f64,
    /// The hand.
    pub(super) hand: Hand,
    /// Colours, the first to leave first.
    pub(super) colours: Vec<usize>,
}

/// A prop in a hand whose rest has not ended.
#[derive(Clone, Copy)]
struct Open {
    hand: Hand,
    colour: usize,
    since: f64,
    flight: Option<usize>,
}

/// How much of a pause between two different loadings shows neither, and at most how long.
const CHANGE_PART: f64 = 0.2;
const CHANGE_S: f64 = 0.5;

/// Follows every prop of a timeline, at rest from `begins` to `ends`.
pub(super) fn threads(act: &Act, begins: f64, ends: f64) -> Threads {
    let Act { routine, timeline, .. } = act;
    let mut threads = Threads::default();
    let mut at_rest: [Vec<Open>; 2] = [Vec::new(), Vec::new()];
    let mut since = begins;
    let mut sections = 0;
    for run in &timeline.runs {
        let between = timeline.sections.get(sections..run.sections.start).unwrap_or_default();
        since = threads.regripped(act, between, &mut at_rest, (since, ends));
        sections = run.sections.end;
        let starts = run.tempo.at_f64(0.0);
        let loaded = in_hands(routine, run, &run.loading);
        let first = threads.flights.is_empty() && at_rest.iter().all(Vec::is_empty);
        let entry = timeline.sections.get(run.sections.start);
        let entry = entry.and_then(|span| span.juggle.as_ref());
        if entry.is_some_and(|juggle| juggle.joining == Joining::Unknown) {
            // What was in the hands before is not known.
            threads.close(&at_rest, since);
            at_rest = opened(&loaded, starts);
        } else if first {
            at_rest = opened(&loaded, since);
            threads.note_gathered(since, starts, &loaded);
        } else if colours_in(&at_rest) != loaded {
            threads.load_anew(&mut at_rest, &loaded, (since, starts), starts);
        }
        threads.end_gathered(starts);
        at_rest = threads.follow(routine, run, &at_rest, timeline.dwell);
        since = run.gather.ends.shortest().to_f64();
        threads.note_gathered(since, ends.max(since), &colours_in(&at_rest));
    }
    let after = timeline.sections.get(sections..).unwrap_or_default();
    since = threads.regripped(act, after, &mut at_rest, (since, ends));
    threads.close(&at_rest, ends.max(since));
    for hand in Hand::BOTH {
        threads.lanes = threads.lanes.max(put_on_lanes(&mut threads.rests, hand));
    }
    threads
}

impl Release {
    /// How its throws are made, in short: one word, or for a multiplex one for each value; `None`
    /// where nothing is written.
    pub(super) fn how(&self) -> Option<String> {
        self.made.iter().any(Option::is_some).then(|| {
            let short: Vec<&str> =
                self.made.iter().map(|made| made.map_or("–", arm::short)).collect();
            short.join("/")
        })
    }
}

impl Threads {
    /// Follows the pauses of some sections that load the hands anew; gives since when the hands
    /// hold what they hold, given that and the end of all.
    fn regripped(
        &mut self,
        Act { routine, timeline, .. }: &Act,
        sections: &[SectionSpan],
        at_rest: &mut [Vec<Open>; 2],
        (mut since, ends): (f64, f64),
    ) -> f64 {
        for section in sections {
            let Some(regrip) = &section.regrip else { continue };
            let Some(run) = timeline.runs.iter().find(|run| run.set == regrip.set) else {
                continue;
            };
            let loaded = colours_of(routine, run, &regrip.after, regrip.face);
            let within = (section.starts.shortest().to_f64(), section.ends.shortest().to_f64());
            if colours_in(at_rest) != loaded {
                since = self.load_anew(at_rest, &loaded, within, ends);
            }
        }
        since
    }

    /// Shows neither what the hands held nor what they come to hold for a while amid a pause;
    /// gives when the hands hold it.
    fn load_anew(
        &mut self,
        at_rest: &mut [Vec<Open>; 2],
        loaded: &[Vec<usize>; 2],
        (from, to): (f64, f64),
        until: f64,
    ) -> f64 {
        let middle = (from + to) / 2.0;
        let half_gap = ((to - from) * CHANGE_PART / 2.0).clamp(0.0, CHANGE_S);
        self.close(at_rest, middle - half_gap);
        *at_rest = opened(loaded, middle + half_gap);
        self.end_gathered(middle - half_gap);
        self.note_gathered(middle + half_gap, until, loaded);
        middle + half_gap
    }

    /// Follows one run from its loading; gives what its gather leaves at rest.
    fn follow(
        &mut self,
        routine: &Routine,
        run: &Run,
        at_rest: &[Vec<Open>; 2],
        dwell: Ratio<i64>,
    ) -> [Vec<Open>; 2] {
        let mut open: Vec<Option<Open>> = vec![None; run.colours.len()];
        for hand in Hand::BOTH {
            for (prop, &rest) in run.loading.in_hand(hand).iter().zip(&at_rest[hand.index()]) {
                if let Some(place) = open.get_mut(usize::from(prop.0)) {
                    *place = Some(rest);
                }
            }
        }
        let mut beat_starts = self.flights.len();
        let mut beat = None;
        for action in &run.actions {
            let at = run.tempo.at_f64(f64::from(action.beat));
            if beat != Some(action.beat) {
                self.count_strands(beat_starts);
                (beat, beat_starts) = (Some(action.beat), self.flights.len());
            }
            let made = action.made(routine);
            self.note_release(at, action, made);
            let Some(place) = action.prop.and_then(|prop| open.get_mut(usize::from(prop.0))) else {
                continue;
            };
            let Some(mut rest) = place.take() else { continue };
            let colour = run.colour(action).map_or(rest.colour, |one| known(routine, one));
            let Some(caught) = action.caught(dwell) else {
                // A prop that is held when the other faces are shown changes in the hand.
                self.show_face(&mut rest, colour, at);
                *place = Some(rest);
                continue;
            };
            let before = self.end_rest(&rest, at);
            let lands = run.tempo.about(caught);
            *place = Some(Open {
                hand: action.to,
                colour,
                since: lands,
                flight: Some(self.flights.len()),
            });
            self.flights.push(Flight {
                leaves: at,
                lands,
                from: action.hand,
                to: action.to,
                throw: action.throw,
                handed: action.kind == ActionKind::HandedAcross,
                colour,
                section: action.section as usize,
                made,
                height_m: height::above_hand_m(&Seconds::Near(lands - at)),
                strand: (0, 1),
                before: Some(before),
                after: None,
            });
        }
        self.count_strands(beat_starts);
        // What the last section never threw changes with the others where they are gathered.
        let (face, at) = (run.face_gathered(), run.gather.ends.shortest().to_f64());
        let mut gathered: [Vec<Open>; 2] = Default::default();
        for hand in Hand::BOTH {
            for &prop in run.gather.hands.in_hand(hand) {
                let Some(mut rest) = open.get(usize::from(prop.0)).copied().flatten() else {
                    continue;
                };
                let colour = run.colour_of(prop, face);
                let colour = colour.map_or(rest.colour, |one| known(routine, one));
                self.show_face(&mut rest, colour, at);
                gathered[hand.index()].push(rest);
            }
        }
        gathered
    }

    /// Shows a face of this colour of a prop in the hand.
    fn show_face(&mut self, rest: &mut Open, colour: usize, at: f64) {
        if rest.colour != colour {
            self.end_rest(rest, at.max(rest.since));
            *rest = Open { hand: rest.hand, colour, since: at.max(rest.since), flight: None };
        }
    }

    /// Ends a rest; gives its index.
    fn end_rest(&mut self, open: &Open, until: f64) -> usize {
        let index = self.rests.len();
        if let Some(flight) = open.flight {
            self.flights[flight].after = Some(index);
        }
        let (hand, colour) = (open.hand, open.colour);
        self.rests.push(Rest { hand, from: open.since, until, colour, lane: 0 });
        index
    }

    fn close(&mut self, at_rest: &[Vec<Open>; 2], until: f64) {
        for open in at_rest.iter().flatten() {
            self.end_rest(open, until.max(open.since));
        }
    }

    /// Adds a throw to what its hand does at that time.
    fn note_release(&mut self, at: f64, action: &Action, made: Option<Made>) {
        let Action { hand, throw, .. } = *action;
        let quiet = !action.is_release();
        let same = self.releases.last_mut().filter(|last| last.at == at && last.hand == hand);
        match same {
            Some(last) => {
                let values = last.written.trim_start_matches('[').trim_end_matches(']');
                last.written = format!("[{values}{throw}]");
                last.made.push(made);
                last.quiet &= quiet;
            }
            None => {
                let written = throw.to_string();
                self.releases.push(Release { at, hand, written, made: vec![made], quiet });
            }
        }
    }

    fn note_gathered(&mut self, from: f64, until: f64, hands: &[Vec<usize>; 2]) {
        for hand in Hand::BOTH.into_iter().filter(|hand| !hands[hand.index()].is_empty()) {
            let colours = hands[hand.index()].clone();
            self.gathered.push(Gathered { from, until, hand, colours });
        }
    }

    /// What still lies gathered then lies so no longer.
    fn end_gathered(&mut self, at: f64) {
        for gathered in self.gathered.iter_mut().rev().take(4) {
            gathered.until = gathered.until.min(at);
        }
    }

    /// Numbers the flights of one beat that fly on one and the same arc.
    fn count_strands(&mut self, first: usize) {
        let beat = &mut self.flights[first..];
        for index in 0..beat.len() {
            let same =
                |other: &Flight| !other.handed && other.throw.value == beat[index].throw.value;
            let place = beat[..index].iter().filter(|other| same(other)).count();
            let all = beat.iter().filter(|other| same(other)).count();
            let narrow = |count: usize| u8::try_from(count).unwrap_or(u8::MAX);
            if !beat[index].handed {
                beat[index].strand = (narrow(place), narrow(all));
            }
        }
    }
}

/// The colours at rest before a run.
fn in_hands(routine: &Routine, run: &Run, hands: &HandLoading) -> [Vec<usize>; 2] {
    colours_of(routine, run, hands, run.face)
}

/// A colour by its index; where it is not known, that of the mark behind all others.
fn known(routine: &Routine, colour: usize) -> usize {
    colour.min(routine.colours.len())
}

fn colours_of(routine: &Routine, run: &Run, hands: &HandLoading, face: Face) -> [Vec<usize>; 2] {
    Hand::BOTH.map(|hand| {
        let props = hands.in_hand(hand).iter();
        let colours = props.filter_map(|prop| run.colour_of(*prop, face));
        colours.map(|colour| known(routine, colour)).collect()
    })
}

fn colours_in(at_rest: &[Vec<Open>; 2]) -> [Vec<usize>; 2] {
    at_rest.each_ref().map(|hand| hand.iter().map(|open| open.colour).collect())
}

fn opened(loaded: &[Vec<usize>; 2], since: f64) -> [Vec<Open>; 2] {
    Hand::BOTH.map(|hand| {
        let open = |&colour: &usize| Open { hand, colour, since, flight: None };
        loaded[hand.index()].iter().map(open).collect()
    })
}

/// Gives each rest of a hand the lowest lane that is free, of two that begin together the longer
/// one first; gives how many lanes are needed.
fn put_on_lanes(rests: &mut [Rest], hand: Hand) -> usize {
    let mut order: Vec<usize> = (0..rests.len()).filter(|&rest| rests[rest].hand == hand).collect();
    order.sort_by(|&a, &b| {
        let (a, b) = (&rests[a], &rests[b]);
        a.from.total_cmp(&b.from).then(b.until.total_cmp(&a.until))
    });
    let mut free_from: Vec<f64> = Vec::new();
    for index in order {
        let rest = &mut rests[index];
        let lane = free_from.iter().position(|&free| free <= rest.from + 1e-9);
        rest.lane = lane.unwrap_or(free_from.len());
        match free_from.get_mut(rest.lane) {
            Some(free) => *free = rest.until,
            None => free_from.push(rest.until),
        }
    }
    free_from.len()
}
