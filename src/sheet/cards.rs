//! The practice cards: one for each section that is juggled, in the order of the act, and one for
//! each move alone.
//!
//! The front has a name, a pattern and the way in; the back what the hands hold, the colours and the
//! counts. A move alone starts cold, at its own first throw. Lists over hands hold left, then right.

use crate::act::Act;
use crate::appearance::Rgb;
use crate::diagnostic::words::{counted, counted_as};
use crate::hand::Hand;
use crate::measure::bend::tempo_text;
use crate::measure::counts::Counts;
use crate::measure::height::metres_and_feet;
use crate::notation::{Kind, spoken};
use crate::patterns::hands::{HandCount, counts};
use crate::routine::{Juggle, Twos};
use crate::strip;
use crate::time::{BeatPosition, Pace};
use crate::timeline::{Joining, JuggleSpan, Run};

use super::colour_chart::{SectionChart, chart};
use super::heading::Heading;
use super::loading::{AtRest, PropName, colours_known, prop_names};
use super::stamp::StampClocks;
use super::timing::{JuggledLine, SectionLine, TransitionLine, section_lines};
use super::words::{plain, quoted};

/// The practice cards of an act and its encore.
#[derive(Clone, Debug, PartialEq)]
pub struct CardSheet {
    /// Its head.
    pub heading: Heading,
    /// The names of the routine's colours, by their index.
    pub colours: Vec<String>,
    /// Each colour's letter on the strip.
    pub letters: Vec<String>,
    /// What each of them looks like.
    pub shades: Vec<Rgb>,
    /// One for each section that is juggled, the encore's last.
    pub sections: Vec<Card>,
    /// One for each distinct move, in the order in which it first comes.
    pub alone: Vec<Card>,
}

/// A card.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Its number among the cards of its kind, from 1.
    pub number: usize,
    /// Whether it is of the encore.
    pub in_encore: bool,
    /// What it is called: its section, or the sections in which the move comes.
    pub name: String,
    /// How many of what, as in `3 balls`; empty where it could not be read.
    pub props: String,
    /// The pattern as written; empty where it could not be read.
    pub pattern: String,
    /// How often, as in `×8`; `None` on a card of a move alone, and where an error leaves it unknown.
    pub how_often: Option<String>,
    /// The pattern and how often, as it is said aloud.
    pub spoken: String,
    /// How it begins, piece by piece.
    pub way_in: Vec<String>,
    /// Whether it starts cold in the act; a move alone does.
    pub starts_cold: bool,
    /// What each hand holds to start it cold, in order of leaving: the throws before it included where
    /// it does so in the act, at its own first throw where it does not; `None` where an error leaves
    /// that unknown.
    pub loading: Option<AtRest>,
    /// Its colours; `None` where it could not be read.
    pub chart: Option<SectionChart>,
    /// How fast, as in `200 a minute`; `None` where an error leaves that unknown.
    pub tempo: Option<String>,
    /// How high, as in `the 5, 1.23 m (4.0 ft) above the hand`; `None` where an error leaves that unknown.
    pub height: Option<String>,
    /// What each hand does, and the catches; empty where an error leaves that unknown.
    pub counts: Vec<String>,
}

/// Composes the practice cards.
#[must_use]
pub fn compose(act: &Act) -> CardSheet {
    let mut sections = Vec::new();
    let mut moves: Vec<Alone> = Vec::new();
    for one in act.with_encore() {
        let lines = section_lines(one, &StampClocks::of(one));
        for (index, line) in lines.iter().enumerate().filter(|(_, line)| line.may_be_juggled()) {
            let number = sections.len() + 1;
            sections.push(of_section(one, (index, &lines), line, number));
            Alone::add(&mut moves, one, index, line);
        }
    }
    let alone = moves.into_iter().zip(1..).map(|(alone, number)| alone.card(number)).collect();
    let colours = act.routine.colours.iter().map(|colour| plain(&colour.name.value)).collect();
    let shades = act.routine.colours.iter().map(|colour| colour.rgb).collect();
    let letters = strip::letters(act);
    CardSheet { heading: Heading::of(act), colours, letters, shades, sections, alone }
}

fn of_section(
    act: &Act,
    (index, lines): (usize, &[SectionLine]),
    line: &SectionLine,
    number: usize,
) -> Card {
    let unread = || Card {
        number,
        in_encore: act.routine.is_encore,
        name: line.name.clone(),
        props: String::new(),
        pattern: String::new(),
        how_often: None,
        spoken: "could not be read".to_owned(),
        way_in: Vec::new(),
        starts_cold: false,
        loading: None,
        chart: None,
        tempo: None,
        height: None,
        counts: Vec::new(),
    };
    let span = act.timeline.sections.get(index).and_then(|span| span.juggle.as_ref());
    let (Some(juggled), Some(span), Some(juggle)) = (&line.juggled, span, act.juggle(index)) else {
        return unread();
    };
    let before = index.checked_sub(1).and_then(|before| lines.get(before));
    let begins = if juggled.starts_cold { 0 } else { span.own_first_beat };
    Card {
        props: props(juggled),
        pattern: juggled.listed.pattern.clone(),
        how_often: juggled.how_often.clone(),
        spoken: said(juggle, span),
        way_in: way_in(juggled, before),
        starts_cold: juggled.starts_cold,
        loading: loading(act, index, span, begins),
        chart: chart(act, index, span),
        tempo: tempo(act, span),
        height: height(juggled),
        counts: juggled.counts.as_ref().map_or_else(Vec::new, counts_in_words),
        ..unread()
    }
}

/// How many of what.
fn props(juggled: &JuggledLine) -> String {
    let listed = &juggled.listed;
    let (one, many) =
        listed.kind.as_ref().map_or(("prop", "props"), |kind| (kind.one(), kind.word()));
    plain(&counted_as(listed.props, one, many))
}

/// The pattern and how often, aloud: `five, three, one; times eight and two beats`.
fn said(juggle: &Juggle, span: &JuggleSpan) -> String {
    let pattern = spoken::sequence(juggle.pattern.pattern.sequence());
    match span.beats_known {
        true => format!("{pattern}; {}", spoken::how_often(span.beats, span.cycles)),
        false => pattern,
    }
}

/// How a section begins: a cold start and its hand, or what joins it to the one before.
fn way_in(juggled: &JuggledLine, before: Option<&SectionLine>) -> Vec<String> {
    let from = before.map(|before| format!("from {}", quoted(&before.name)));
    let lead = match juggled.lead {
        Some(hand) => format!("{hand} hand leads"),
        None if juggled.hands_known => "both hands together".to_owned(),
        None => "which hand leads is not known".to_owned(),
    };
    let mut way = Vec::new();
    match juggled.joining {
        Joining::Torn => way.push("the join does NOT FIT".to_owned()),
        Joining::Unknown => way.push("how it is joined is not known".to_owned()),
        Joining::Fits if juggled.starts_cold => way.push("cold start".to_owned()),
        Joining::Fits => way.extend(from),
    }
    if let Some(TransitionLine { throws, waits, .. }) = &juggled.transition {
        way.extend((!throws.is_empty()).then(|| format!("throw {throws}")));
        way.extend(waits.map(|hand| format!("{hand} hand waits")));
    } else if juggled.joining == Joining::Fits && !juggled.starts_cold {
        way.push("straight on".to_owned());
    }
    way.push(lead);
    way.extend(juggled.other_face.clone());
    way
}

/// What each hand holds so that a section starts cold on a beat of its run: every prop stands in the
/// hand that throws or holds it next, in the order of these beats; what is not called for any more
/// stands last, where it comes to rest.
fn loading(act: &Act, index: usize, span: &JuggleSpan, from: u32) -> Option<AtRest> {
    let run = act.timeline.runs.get(span.run).filter(|_| colours_known(act, index))?;
    let names = prop_names(&act.routine, run, run.face_at(from));
    let mut hands: [Vec<PropName>; 2] = [Vec::new(), Vec::new()];
    let mut called = Vec::new();
    let next = run.actions.iter().filter(|action| action.beat >= from);
    let next = next.filter_map(|action| Some((action.hand, action.prop?)));
    let left = Hand::BOTH
        .into_iter()
        .flat_map(|hand| run.gather.hands.in_hand(hand).iter().map(move |prop| (hand, *prop)));
    for (hand, prop) in next.chain(left) {
        if !called.contains(&prop) {
            called.push(prop);
            hands[hand.index()].extend(names.get(usize::from(prop.0)).cloned());
        }
    }
    Some(AtRest { hands })
}

/// How fast its own throws are.
fn tempo(act: &Act, span: &JuggleSpan) -> Option<String> {
    let run: &Run = act.timeline.runs.get(span.run).filter(|_| span.pace_known)?;
    let first = BeatPosition::from_integer(i64::from(span.own_first_beat));
    Some(match &run.tempo.piece_at(first)?.pace {
        Pace::Steady(tempo) => format!("{} a minute", tempo_text(tempo)),
        Pace::Ramp { from, to } => format!("{} to {} a minute", tempo_text(from), tempo_text(to)),
        Pace::Music { throws, .. } => format!("{} a music beat", tempo_text(throws)),
    })
}

fn height(juggled: &JuggledLine) -> Option<String> {
    let Some(high) = &juggled.highest else {
        return juggled.flights_known.then(|| "nothing flies".to_owned());
    };
    Some(format!("the {}, {} above the hand", high.value, metres_and_feet(high.above_hand_m)))
}

/// What the hands do, the right one first, and the catches.
fn counts_in_words(counts: &Counts) -> Vec<String> {
    let mut words = hands_in_words(&counts.hands);
    words.push(counted_as(counts.catches, "catch", "catches"));
    words
}

fn hands_in_words(hands: &[HandCount; 2]) -> Vec<String> {
    let of = |hand: Hand| {
        let count = &hands[hand.index()];
        let parts = [
            (count.thrown, "thrown"),
            (count.handed_across, "across"),
            (count.held, "held"),
            (count.empty, "empty"),
        ];
        let parts = parts.iter().filter(|(number, _)| *number > 0);
        let parts: Vec<String> = parts.map(|(number, what)| format!("{number} {what}")).collect();
        format!(
            "{hand} hand: {}",
            if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
        )
    };
    [Hand::Right, Hand::Left].map(of).into()
}

/// What a move alone is the same by: its throws, its props, whether its 2s are thrown, which hand
/// leads, how fast it is and how high it flies.
#[derive(PartialEq)]
struct Same {
    throws: String,
    set: Option<usize>,
    twos: Twos,
    lead: Option<Hand>,
    tempo: Option<String>,
    height: Option<String>,
}

/// A move without the sections around it.
struct Alone {
    /// What it is the same by.
    same: Same,
    names: Vec<String>,
    card: Card,
}

impl Alone {
    /// Adds the move of a section, or the section's name to a move that is there.
    fn add(moves: &mut Vec<Alone>, act: &Act, index: usize, line: &SectionLine) {
        let span = act.timeline.sections.get(index).and_then(|span| span.juggle.as_ref());
        let (Some(juggled), Some(span), Some(juggle)) = (&line.juggled, span, act.juggle(index))
        else {
            return;
        };
        let pattern = &juggle.pattern.pattern;
        let set = act.timeline.runs.get(span.run).map(|run| run.set);
        let same = Same {
            throws: pattern.sequence().to_string(),
            set,
            twos: juggle.twos,
            lead: juggled.lead,
            tempo: tempo(act, span),
            height: height(juggled),
        };
        let name = quoted(&line.name);
        if let Some(known) = moves.iter_mut().find(|known| known.same == same) {
            known.names.push(name);
            return;
        }
        let lead = match (pattern.kind(), juggled.lead) {
            (Kind::Async, Some(hand)) => format!("{hand} hand leads"),
            (Kind::Async, None) => "which hand leads is not known".to_owned(),
            (Kind::Sync, _) => "both hands together".to_owned(),
        };
        let beats = counted(pattern.beats_to_repeat(), "beat");
        let mut done = match juggle.twos {
            // What the hands do is counted with 2s held.
            Twos::Held => match (pattern.kind(), juggled.lead) {
                (Kind::Async, None) => Vec::new(),
                (Kind::Async, Some(Hand::Left)) => {
                    // They are counted as the right hand leads.
                    let [one, other] = counts(pattern);
                    hands_in_words(&[other, one])
                }
                _ => hands_in_words(&counts(pattern)),
            },
            Twos::Thrown => Vec::new(),
        };
        if !done.is_empty() {
            done.insert(0, format!("in {beats}, until hands and throws repeat"));
        }
        let card = Card {
            number: 0,
            in_encore: act.routine.is_encore,
            name: String::new(),
            props: props(juggled),
            pattern: juggled.listed.pattern.clone(),
            how_often: None,
            spoken: spoken::sequence(pattern.sequence()),
            way_in: vec!["alone: cold start".to_owned(), lead],
            starts_cold: true,
            loading: loading(act, index, span, span.own_first_beat),
            chart: chart(act, index, span).map(|chart| SectionChart { way: None, ..chart }),
            tempo: same.tempo.clone(),
            height: same.height.clone(),
            counts: done,
        };
        moves.push(Alone { same, names: vec![name], card });
    }

    fn card(self, number: usize) -> Card {
        Card { number, name: self.names.join(", "), ..self.card }
    }
}

#[cfg(test)]
mod tests;
