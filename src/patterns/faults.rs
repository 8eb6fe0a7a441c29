//! Why written throws cannot repeat for ever, in the trade's terms.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::hand::Hand;
use crate::notation::{Fault, Kind, Sequence};

use super::landing::{Landings, Toss};
use super::neighbours::nearest;

/// The most landings that one report speaks of.
const MOST_CLASHES: usize = 5;

/// The most throws that one sentence names.
const MOST_NAMED: usize = 4;

/// Nothing is written, or both notations are.
pub(super) fn no_kind(sequence: &Sequence) -> Fault {
    let Some(first) = sequence.steps.first() else {
        let message = "There are no throws here; a pattern has at least one, such as 3.";
        return Fault::error("empty-pattern", 0..0, message);
    };
    let other = sequence.steps.iter().find(|step| step.kind() != first.kind()).unwrap_or(first);
    let (here, before) = match other.kind() {
        Kind::Sync => ("a pair", "alternating throws"),
        Kind::Async => ("an alternating throw", "pairs"),
    };
    let message = format!(
        "A pattern is written in one notation, but here {here} stands among {before}; only a \
         transition may mix them."
    );
    Fault::error("mixed-notation", other.at(), message)
        .help("Make two sections of it, each with a pattern of its own, and join them.")
}

/// The average of the values is no whole number, or is out of all reach.
pub(super) fn average(sequence: &Sequence, landings: &Landings, whole: Range<usize>) -> Fault {
    let (sum, beats) = (landings.sum(), u64::from(landings.period()));
    if sum.is_multiple_of(beats) {
        let message = format!(
            "This pattern needs {} props, which is more than can be counted here.",
            sum / beats
        );
        return Fault::error("too-many-props", whole, message);
    }
    let below = sum / beats;
    let message = format!(
        "The values sum to {sum} over {}, an average of {}, which is not a whole number of props; \
         {below} props need a sum of {}, {} props {}.",
        counted(beats, "beat"),
        quotient(sum, beats),
        below * beats,
        below + 1,
        (below + 1) * beats,
    );
    let fault = Fault::error("average-not-whole", whole, message);
    nearest(sequence, landings).into_iter().fold(fault, |fault, offer| {
        let change = offer.instead.unwrap_or_else(|| format!("Write {}", offer.text));
        let sentence = format!("{change} for {}.", counted(u64::from(offer.props), "prop"));
        fault.help_write(sentence, offer.text)
    })
}

/// A quotient that is no whole number: with a decimal or two where that is exact, else with a
/// fraction.
fn quotient(sum: u64, beats: u64) -> String {
    let (whole, rest) = (sum / beats, sum % beats);
    if (rest * 100).is_multiple_of(beats) {
        let decimals = format!("{:02}", rest * 100 / beats);
        return format!("{whole}.{}", decimals.trim_end_matches('0'));
    }
    let shared = greatest_divisor(rest, beats);
    format!("{whole} {}/{}", rest / shared, beats / shared)
}

/// The greatest number that divides both.
fn greatest_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { greatest_divisor(b, a % b) }
}

/// `1 beat`, `2 beats`.
fn counted(count: u64, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// The landings that do not fit what the hands throw.
pub(super) fn clashes(sequence: &Sequence, landings: &Landings, whole: Range<usize>) -> Vec<Fault> {
    let mut arrivals: Vec<Vec<Toss>> = vec![Vec::new(); landings.excess().len()];
    for &toss in landings.tosses().iter().filter(|toss| toss.throw.value > 0) {
        let slot = landings.slot(landings.lands_on(toss), landings.lands_in(toss));
        arrivals[slot].push(toss);
    }
    let mut clashes: Vec<(u32, Hand, usize)> = Vec::new();
    for (slot, tosses) in
        arrivals.iter().enumerate().filter(|&(slot, _)| landings.excess()[slot] > 0)
    {
        // The last to land is in its first pass; the others may be in a later one.
        if let Some(&last) = tosses.iter().max_by_key(|&&toss| landings.lands_on(toss)) {
            clashes.push((landings.lands_on(last), landings.lands_in(last), slot));
        }
    }
    clashes.sort_by_key(|&(beat, hand, _)| (beat, hand));
    if sequence.starred {
        // The other half clashes in the same way with the hands exchanged: once is enough.
        let written = u32::try_from(landings.tosses().len() / 2).unwrap_or(u32::MAX);
        let mut said = BTreeSet::new();
        clashes.retain(|&(_, _, slot)| {
            let places = arrivals[slot].iter().map(|toss| (toss.number - 1) % written);
            places.min().is_some_and(|place| said.insert(place))
        });
    }
    let more = clashes.len().saturating_sub(MOST_CLASHES);
    let mut faults: Vec<Fault> = clashes
        .iter()
        .take(MOST_CLASHES)
        .map(|&(beat, hand, slot)| {
            let thrown =
                i32::try_from(arrivals[slot].len()).unwrap_or(i32::MAX) - landings.excess()[slot];
            let at = place_of_last(sequence, &arrivals[slot]).unwrap_or_else(|| whole.clone());
            clash(landings, &arrivals[slot], beat, hand, thrown, at)
        })
        .collect();
    if let (Some(last), true) = (faults.last_mut(), more > 0) {
        let there = if more == 1 { "There is" } else { "There are" };
        last.message += &format!(" {there} {more} more like this.");
    }
    let offers = nearest(sequence, landings);
    if let (Some(first), Some((last, others))) = (faults.first_mut(), offers.split_last()) {
        let texts: Vec<&str> = others.iter().map(|offer| offer.text.as_str()).collect();
        let sentence = match (&offers[0].instead, texts.as_slice()) {
            (Some(change), _) => format!("{change}."),
            (None, []) => format!("Write {} instead.", last.text),
            (None, texts) => format!("Write {} or {} instead.", texts.join(", "), last.text),
        };
        first.helps.push((sentence, None));
    }
    faults
}

/// The characters of the last throw that lands there.
fn place_of_last(sequence: &Sequence, arrivals: &[Toss]) -> Option<Range<usize>> {
    let last = arrivals.last()?.number;
    sequence.throws().find(|written| written.number == last).map(|written| written.at.clone())
}

/// One beat of one hand on which more props land than are thrown.
fn clash(
    landings: &Landings,
    arrivals: &[Toss],
    beat: u32,
    hand: Hand,
    thrown: i32,
    at: Range<usize>,
) -> Fault {
    let name = |toss: &Toss| {
        let Toss { throw, number, .. } = toss;
        match (beat - landings.lands_on(*toss)) / landings.period() {
            0 => format!("the {throw} (throw {number})"),
            1 => format!("the next cycle's {throw} (throw {number})"),
            later => format!("the {throw} (throw {number}) of {later} cycles later"),
        }
    };
    let mut names: Vec<String> = arrivals.iter().take(MOST_NAMED).map(name).collect();
    if arrivals.len() > MOST_NAMED {
        names.push(format!("{} more", arrivals.len() - MOST_NAMED));
    }
    let (verb, gathered) = match names.as_slice() {
        [one] => ("lands", one.clone()),
        [first, second] => ("both land", format!("{first} and {second}")),
        [all @ .., last] => ("all land", format!("{} and {last}", all.join(", "))),
        [] => unreachable!("a slot with more landings than throws has a landing"),
    };
    let throws = match thrown {
        0 => "where that hand throws nothing".to_owned(),
        1 => "where that hand throws only one prop".to_owned(),
        props => format!("where that hand throws only {props} props"),
    };
    let mut sentence = gathered;
    sentence[..1].make_ascii_uppercase();
    let message = format!("{sentence} {verb} in the {hand} hand on beat {}, {throws}.", beat + 1);
    Fault::error("landing-clash", at, message)
}

#[cfg(test)]
mod tests {
    use crate::patterns::Pattern;

    /// Code, place and message of every fault.
    fn faults(text: &str) -> Vec<(&'static str, std::ops::Range<usize>, String)> {
        let faults = Pattern::read(text).err().unwrap_or_default();
        faults.into_iter().map(|fault| (fault.code, fault.at, fault.message)).collect()
    }

    /// What the first fault offers to write, and what it says beside that.
    fn offered(text: &str) -> Vec<String> {
        let faults = Pattern::read(text).err().unwrap_or_default();
        let helps = faults.into_iter().next().map(|fault| fault.helps).unwrap_or_default();
        helps.into_iter().map(|(sentence, write)| write.unwrap_or(sentence)).collect()
    }

    #[test]
    fn a_clash_names_its_throws_its_beat_and_its_hand() {
        for (text, at, message) in [
            (
                "543",
                2..3,
                "The 5 (throw 1), the 4 (throw 2) and the 3 (throw 3) all land in the left hand \
                 on beat 6, where that hand throws only one prop.",
            ),
            (
                "402",
                2..3,
                "The 4 (throw 1) and the 2 (throw 3) both land in the right hand on beat 5, \
                 where that hand throws nothing.",
            ),
            (
                "(4,2x)",
                3..5,
                "The 4 (throw 1) and the next cycle's 2x (throw 2) both land in the left hand on \
                 beat 5, where that hand throws only one prop.",
            ),
            (
                "([2x2],2x)*",
                7..9,
                "The 2 (throw 2) and the 2x (throw 3) both land in the left hand on beat 3, where \
                 that hand throws only one prop.",
            ),
        ] {
            assert_eq!(faults(text), [("landing-clash", at, message.to_owned())], "{text}");
        }
    }

    #[test]
    fn an_average_names_its_sum_and_beats() {
        let message = "The values sum to 14 over 3 beats, an average of 4 2/3, which is not a whole number of props; 4 props need a sum of 12, 5 props 15.";
        assert_eq!(faults("[54]23"), [("average-not-whole", 0..6, message.to_owned())]);
        assert_eq!(offered("[54]23"), ["[64]23", "[54]24", "[34]23", "[54]21"]);
        assert_eq!(offered("54"), ["44", "64", "53", "55"]);
        assert_eq!(offered("(4, 2x)(2x,6)")[1], "(4,2x)(2x,4)");
    }

    #[test]
    fn the_same_throws_in_another_order_are_the_first_to_be_offered() {
        assert_eq!(offered("432"), ["Write 342, 423, 333 or 522 instead."]);
    }

    #[test]
    fn many_clashes_are_counted_rather_than_listed() {
        let text = "432".repeat(50);
        let found = faults(&text);
        assert_eq!(found.len(), super::MOST_CLASHES);
        assert!(found[4].2.ends_with("There are 45 more like this."), "{}", found[4].2);
    }

    #[test]
    fn a_pattern_is_one_notation_and_no_more_props_than_can_be_counted() {
        assert_eq!(faults("3(4,4)")[0].0, "mixed-notation");
        assert_eq!(faults("3(4,4)")[0].1, 2..5);
        let crowd = format!("[{}]", "z".repeat(20));
        assert_eq!(faults(&crowd)[0].0, "too-many-props");
    }
}
