//! Between two throws of a hand: pauses that load the hands anew, sections that show the other faces.

use crate::hand::Hand;
use crate::routine::{Juggle, Pause, Routine};

use super::compile::Compiler;
use super::run::{Face, HandLoading, Prop};
use super::{Trouble, WhyNoRegrip, loading};

/// Hands that a pause loads anew, with the props of the set in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Regrip {
    /// Index of the set in the routine.
    pub set: usize,
    /// The face that the props show.
    pub face: Face,
    /// What the hands held.
    pub before: HandLoading,
    /// What they hold now.
    pub after: HandLoading,
    /// The props that change hands, those that come to the right hand first, each hand's in order
    /// of leaving.
    pub moves: Vec<Moved>,
    /// Whether the props that stay in a hand leave in another order than before: the left hand's,
    /// then the right hand's ([`Hand::index`]).
    pub reordered: [bool; 2],
}

/// A prop that changes hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The prop.
    pub prop: Prop,
    /// The hand that held it.
    pub from: Hand,
    /// The hand that holds it now.
    pub to: Hand,
    /// Its place in the order of leaving there, from 0.
    pub place: usize,
}

impl Regrip {
    /// What it takes to come from one loading to another of the same props.
    fn between(set: usize, face: Face, before: HandLoading, after: HandLoading) -> Regrip {
        let mut moves = Vec::new();
        for to in [Hand::Right, Hand::Left] {
            let from = to.other();
            for (place, &prop) in after.in_hand(to).iter().enumerate() {
                if before.in_hand(from).contains(&prop) {
                    moves.push(Moved { prop, from, to, place });
                }
            }
        }
        let reordered = Hand::BOTH.map(|hand| {
            let stays = |prop: &&Prop| {
                before.in_hand(hand).contains(prop) && after.in_hand(hand).contains(prop)
            };
            let order = |loading: &HandLoading| -> Vec<Prop> {
                loading.in_hand(hand).iter().filter(stays).copied().collect()
            };
            order(&before) != order(&after)
        });
        Regrip { set, face, before, after, moves, reordered }
    }
}

impl Compiler<'_> {
    /// Loads the hands anew as a pause says.
    pub(super) fn regrip(&mut self, index: usize, pause: &Pause) -> Option<Regrip> {
        let written = &pause.regrip.as_ref()?.value;
        let before = self.routine.score.get(..index).unwrap_or_default();
        let brought = set_brought_after(self.routine, index).filter(|&next| Some(next) != self.set);
        let why = match (self.set, &self.hands) {
            (Some(set), Some(held)) => match brought {
                Some(other) => WhyNoRegrip::OtherSet(other),
                None => {
                    let props = self.routine.sets.get(set)?;
                    if let Some(after) = loading::named(props, written, held) {
                        self.regripped = true;
                        let held = std::mem::replace(self.hands.as_mut()?, after.clone());
                        // What they hold now is written; what moves hangs on what they held.
                        let known = std::mem::replace(&mut self.known.held, true);
                        return known.then(|| Regrip::between(set, self.face, held, after));
                    }
                    WhyNoRegrip::NotTheProps { set, held: held.clone() }
                }
            },
            _ if before.iter().all(|section| section.pause().is_some()) => {
                WhyNoRegrip::NothingGathered
            }
            // What the hands hold is not known, which is reported where it comes from.
            _ => return None,
        };
        self.trouble(Trouble::Regrip { section: index, why });
        None
    }

    /// Shows the other faces where a section says so: the face that its own throws show, and whether it
    /// is another than before. `None` where the props have only one face.
    pub(super) fn show_faces(
        &mut self,
        juggle: &Juggle,
        own_first_beat: u32,
    ) -> (Option<Face>, bool) {
        if self.open_run().backs.is_empty() {
            return (None, false);
        }
        let other = juggle.shows_other_faces();
        if other {
            self.face = self.face.other();
            self.open_run().other_faces.push(own_first_beat);
        }
        (Some(self.face), other)
    }
}

/// The set that the next juggled section after a pause names.
fn set_brought_after(routine: &Routine, pause: usize) -> Option<usize> {
    let after = routine.score.get(pause + 1..)?;
    let next = after.iter().find(|section| section.pause().is_none())?;
    let juggle = next.juggle()?;
    let name = &juggle.set.as_ref()?.value;
    routine.set_index(name)
}
