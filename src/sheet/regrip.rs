//! Regrips and other faces as sheets say them: which prop moves where, which face is shown.

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::hand::Hand;
use crate::timeline::{HandLoading, Prop, Regrip, Timeline};

use super::words::plain;

/// Hands that a pause loads anew, by the colours that are seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RegripLine {
    /// What the right hand holds then, in order of leaving.
    pub right: Vec<String>,
    /// What the left hand holds then, in order of leaving.
    pub left: Vec<String>,
    /// The props that change hands.
    pub moves: Vec<MoveLine>,
    /// The hands in which props that stay leave in another order than before.
    pub reordered: Vec<Hand>,
}

/// A prop that changes hands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MoveLine {
    /// Its colour.
    pub colour: String,
    /// The hand that held it.
    pub from: Hand,
    /// The hand that it comes into.
    pub to: Hand,
    /// Its place in the order of leaving there, from 1.
    pub leaves: usize,
}

/// How a section of the score loads the hands anew; `None` where it does not.
#[must_use]
pub fn of_section(act: &Act, section: usize) -> Option<RegripLine> {
    let Act { routine, timeline, .. } = act;
    let regrip = timeline.sections.get(section)?.regrip.as_ref()?;
    // The props were juggled before, so there is a run with them.
    let run = timeline.runs.iter().find(|run| run.set == regrip.set)?;
    let colour = |prop: Prop, face| {
        let colour = run.colour_of(prop, face).and_then(|colour| routine.colours.get(colour));
        colour.map(|colour| colour.name.value.as_str())
    };
    let seen = |prop: Prop| {
        let face = regrip.face;
        let (shown, hidden) = (colour(prop, face), colour(prop, face.other()));
        let shown_name = plain(shown.unwrap_or_default());
        // Props that look the same are told apart by what they hide.
        let alike =
            (0..run.colours.len()).filter_map(|other| u8::try_from(other).ok()).any(|other| {
                colour(Prop(other), face) == shown && colour(Prop(other), face.other()) != hidden
            });
        match hidden.filter(|_| alike) {
            Some(hidden) => format!("{shown_name} ({} behind)", plain(hidden)),
            None => shown_name,
        }
    };
    let Regrip { after, moves, reordered, .. } = regrip;
    let in_hand = |loading: &HandLoading, hand: Hand| {
        loading.in_hand(hand).iter().map(|&prop| seen(prop)).collect()
    };
    Some(RegripLine {
        right: in_hand(after, Hand::Right),
        left: in_hand(after, Hand::Left),
        moves: moves
            .iter()
            .map(|moved| MoveLine {
                colour: seen(moved.prop),
                from: moved.from,
                to: moved.to,
                leaves: moved.place + 1,
            })
            .collect(),
        reordered: Hand::BOTH.into_iter().rev().filter(|hand| reordered[hand.index()]).collect(),
    })
}

impl RegripLine {
    /// What the hands do, as in `pearl from the right hand to the left, where it leaves second`.
    #[must_use]
    pub fn words(&self) -> String {
        let moves = self.moves.iter().map(|moved| {
            let MoveLine { colour, from, to, leaves } = moved;
            format!("{colour} from the {from} hand to the {to}, where it leaves {}", nth(*leaves))
        });
        let orders = self.reordered.iter().map(|&hand| {
            let held = if hand == Hand::Right { &self.right } else { &self.left };
            format!("the {hand} hand in another order, {}", all_of(held))
        });
        let parts: Vec<String> = moves.chain(orders).collect();
        if parts.is_empty() { "nothing moves".to_owned() } else { parts.join("; ") }
    }
}

/// A place in an order, in words.
fn nth(place: usize) -> String {
    const WORDS: [&str; 9] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"];
    let word = place.checked_sub(1).and_then(|index| WORDS.get(index));
    word.map_or_else(|| format!("as number {place}"), |&word| word.to_owned())
}

/// What a section does to the faces, as in `other face: backs`; `None` where it goes on as before.
#[must_use]
pub fn other_face_words(timeline: &Timeline, section: usize) -> Option<String> {
    let juggle = timeline.sections.get(section)?.juggle.as_ref()?;
    let face = juggle.face.filter(|_| juggle.other_face)?;
    Some(format!("other face: {}s", face.word()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::open;

    /// Five rings, two of which differ by their backs only.
    fn rings(other_face: &str, regrip: &str) -> Act {
        let text = format!(
            r##"Routine(title: "Rings", tempo: PerMinute(200), zero: FirstThrow,
            colours: {{ "ivory": "#f5f0dc", "ink": "#2b3a67", "moss": "#6a8d3f" }},
            sets: {{ "five": Set(kind: Ring, length: 0.32,
                colours: ["ivory", "ink", "moss", "ivory", "moss"],
                backs: ["ink", "moss", "ivory", "moss", "ivory"]) }},
            score: [
                Juggle(name: "a", set: "five", pattern: "5", lasts: Beats(10) {other_face}),
                Pause(name: "p", lasts: For("0:05"), regrip: Hands({regrip})),
                Juggle(name: "b", pattern: "5", lasts: Beats(10)),
            ])"##
        );
        let opened = open(&text);
        let said: Vec<_> = opened.diagnostics.iter().map(|one| &one.message).collect();
        opened.finished().unwrap_or_else(|| panic!("{said:?}")).clone()
    }

    fn said(other_face: &str, regrip: &str) -> String {
        let act = rings(other_face, regrip);
        of_section(&act, 1).unwrap().words()
    }

    #[test]
    fn a_regrip_says_what_moves_where_and_when_it_leaves() {
        // By hand: beats 5 to 9 throw props 1 to 5 (from 1) a last time, right, left, right, left
        // and right again being where they land.
        let act = rings("", r#"right: ["moss", "moss", "ivory"], left: ["ink", "ivory"]"#);
        let timeline = &act.timeline;
        let before = &timeline.sections[1].regrip.as_ref().unwrap().before;
        assert_eq!(before, &timeline.runs[0].gather.hands);
        assert_eq!(before.in_hand(Hand::Right), [Prop(4), Prop(2), Prop(0)]);
        assert_eq!(before.in_hand(Hand::Left), [Prop(3), Prop(1)]);
        // Equal props that stay keep their order, so only the left hand's order changes.
        assert_eq!(
            said("", r#"right: ["moss", "moss", "ivory"], left: ["ink", "ivory"]"#),
            "the left hand in another order, ink and ivory (moss behind)"
        );
        assert_eq!(
            said("", r#"right: ["moss", "ink", "ivory/ink"], left: ["moss", "ivory/moss"]"#),
            "ink from the left hand to the right, where it leaves second; moss from the right \
             hand to the left, where it leaves first"
        );
        // The fewest props change hands: a plain ivory is the one that is there already.
        assert_eq!(
            said("", r#"right: ["ivory", "moss", "moss"], left: ["ivory", "ink"]"#),
            "the right hand in another order, ivory (ink behind), moss and moss"
        );
        assert_eq!(
            said("", r#"right: ["moss", "moss", "ivory/moss"], left: ["ivory/ink", "ink"]"#),
            "ivory (moss behind) from the left hand to the right, where it leaves third; ivory \
             (ink behind) from the right hand to the left, where it leaves first"
        );
        let same = r#"right: ["moss", "moss", "ivory"], left: ["ivory", "ink"]"#;
        assert_eq!(said("", same), "nothing moves");
    }

    #[test]
    fn props_that_show_their_other_faces_are_called_by_the_colour_that_is_seen() {
        let written = r#"right: ["moss", "ink", "ivory/ink"], left: ["moss", "ivory/moss"]"#;
        // Fronts are written; seen are the backs, moss of ink, ivory of moss.
        assert_eq!(
            said(", other_face: true", written),
            "moss (ink behind) from the left hand to the right, where it leaves second; ivory \
             from the right hand to the left, where it leaves first"
        );
        let act = rings(", other_face: true", written);
        assert_eq!(other_face_words(&act.timeline, 0), Some("other face: backs".to_owned()));
        assert_eq!(other_face_words(&act.timeline, 2), None);
        assert_eq!(of_section(&act, 0), None);
    }

    #[test]
    fn an_order_is_said_in_words_as_far_as_they_go() {
        assert_eq!([nth(1), nth(9), nth(10)], ["first", "ninth", "as number 10"]);
    }
}
