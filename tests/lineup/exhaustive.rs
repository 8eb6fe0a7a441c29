//! The exhaustive search: everything that is open, one after another.

use std::collections::BTreeSet;

use crate::cases::{Case, Section};
use crate::juggler::{Juggler, Made, Steps};

/// What a section asks, its lists started at these colours.
pub(crate) struct Wanted<'a> {
    pub(crate) section: &'a Section,
    pub(crate) starts: Vec<usize>,
}

/// Whether throws that were made show what is asked, the props having these colours.
pub(crate) fn is_met(wanted: &Wanted<'_>, steps: &Steps, made: &[Made], colours: &[usize]) -> bool {
    let Wanted { section, starts } = wanted;
    let shown = section.shows.iter().zip(starts).all(|((throw, list), start)| {
        let of = made.iter().filter(|made| made.number == *throw);
        of.enumerate().all(|(time, made)| colours[made.prop] == list[(time + start) % list.len()])
    });
    let two = |(one, other): (u32, u32), alike: bool| {
        let of = |number: u32| made.iter().filter(move |made| made.number == number);
        of(one).all(|first| {
            let same_time = of(other).filter(|second| second.cycle == first.cycle);
            same_time
                .into_iter()
                .all(|second| (colours[first.prop] == colours[second.prop]) == alike)
        })
    };
    let solid = || {
        orbits(steps).iter().all(|orbit| {
            let of = made.iter().filter(|made| orbit.contains(&made.number));
            of.map(|made| colours[made.prop]).collect::<BTreeSet<usize>>().len() <= 1
        })
    };
    shown
        && section.alike.is_none_or(|pair| two(pair, true))
        && section.unlike.is_none_or(|pair| two(pair, false))
        && (!section.solid || solid())
}

/// The numbers of the throws that one prop goes through, seen long after the start.
fn orbits(steps: &Steps) -> Vec<BTreeSet<u32>> {
    let mut juggler = Juggler::anew(1);
    let made = juggler.juggle(steps, 120 * steps.len(), true).expect("a pattern goes on for ever");
    let late = made.iter().filter(|made| made.cycle >= 60);
    let mut by_prop: Vec<BTreeSet<u32>> = Vec::new();
    for made in late {
        if by_prop.len() <= made.prop {
            by_prop.resize(made.prop + 1, BTreeSet::new());
        }
        by_prop[made.prop].insert(made.number);
    }
    by_prop
}

/// The fewest beats of transitions with which everything that an act asks comes about.
pub(crate) fn cheapest(case: &Case) -> Option<usize> {
    let loadings: Vec<Vec<usize>> = match case.found {
        true => arrangements(&case.set),
        false => vec![case.set.clone()],
    };
    let mut best = None;
    let all: Vec<usize> = (0..loadings.len()).collect();
    from_section(case, 0, None, &loadings, &all, 0, &mut best);
    best
}

/// Every order of the colours that differs.
fn arrangements(set: &[usize]) -> Vec<Vec<usize>> {
    if set.is_empty() {
        return vec![Vec::new()];
    }
    let mut all = BTreeSet::new();
    for first in 0..set.len() {
        let mut rest = set.to_vec();
        let colour = rest.remove(first);
        for mut order in arrangements(&rest) {
            order.insert(0, colour);
            all.insert(order);
        }
    }
    all.into_iter().collect()
}

fn from_section(
    case: &Case,
    index: usize,
    juggler: Option<&Juggler>,
    loadings: &[Vec<usize>],
    left: &[usize],
    beats: usize,
    best: &mut Option<usize>,
) {
    if left.is_empty() || best.is_some_and(|best| best <= beats) {
        return;
    }
    let Some(section) = case.sections.get(index) else {
        *best = Some(beats);
        return;
    };
    for steps in variants(section) {
        for (start, taken) in beginnings(case, section, &steps, juggler) {
            let mut ahead = start;
            let cold = section.after_pause || section.starts_anew;
            let Some(made) = ahead.juggle(&steps, section.beats, cold) else { continue };
            for starts in list_starts(section) {
                let wanted = Wanted { section, starts };
                let met = |&&loading: &&usize| is_met(&wanted, &steps, &made, &loadings[loading]);
                let still: Vec<usize> = left.iter().filter(met).copied().collect();
                from_section(case, index + 1, Some(&ahead), loadings, &still, beats + taken, best);
            }
        }
    }
}

/// The pattern begun and ordered in every way that is open.
fn variants(section: &Section) -> Vec<Steps> {
    let mut all = vec![section.steps.clone()];
    if section.multiplex_order {
        for place in 0..section.steps.len() {
            let mut more = Vec::new();
            for steps in &all {
                // A multiplex of two values has one other order, if they differ.
                if let [one, other] = steps[place][..]
                    && one.0 != other.0
                {
                    let mut changed = steps.clone();
                    changed[place] = vec![other, one];
                    more.push(changed);
                }
            }
            all.extend(more);
        }
    }
    let begun = |steps: Steps| {
        let places = if section.starting_throw { steps.len() } else { 1 };
        (0..places).map(move |place| {
            let mut begun = steps.clone();
            begun.rotate_left(place);
            begun
        })
    };
    all.into_iter().flat_map(begun).collect()
}

fn list_starts(section: &Section) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for (_, list) in &section.shows {
        let open = if section.starting_throw { list.len() } else { 1 };
        all = all
            .into_iter()
            .flat_map(|starts: Vec<usize>| {
                (0..open).map(move |s| [starts.clone(), vec![s]].concat())
            })
            .collect();
    }
    all
}

/// Every state in which the section's own first throw may come, and the beats that it took.
fn beginnings(
    case: &Case,
    section: &Section,
    steps: &Steps,
    juggler: Option<&Juggler>,
) -> Vec<(Juggler, usize)> {
    let Some(juggler) = juggler else { return vec![(Juggler::anew(1), 0)] };
    if section.after_pause {
        let hands = juggler.gathered();
        let held = [hands[0].len(), hands[1].len()];
        // The hand for which the numbers fit leads; both: the right.
        let fits = |lead: usize| {
            let mut ahead = Juggler::anew(lead);
            ahead.juggle(steps, 40, true);
            ahead.called == held
        };
        let lead = [1, 0].into_iter().find(|&lead| fits(lead));
        return lead.map(|lead| (Juggler::holding(&hands, lead), 0)).into_iter().collect();
    }
    if !section.auto {
        return if juggler.goes_on(steps) { vec![(juggler.clone(), 0)] } else { Vec::new() };
    }
    let highest = |steps: &Steps| steps.iter().flatten().map(|throw| throw.0).max().unwrap_or(0);
    let at_once = |steps: &Steps| steps.iter().map(Vec::len).max().unwrap_or(0);
    let before = case.sections.iter().position(|other| std::ptr::eq(other, section)).unwrap() - 1;
    let before = &case.sections[before].steps;
    let most = case.highest.max(highest(steps)).max(highest(before));
    let at_once = at_once(steps).max(at_once(before));
    let mut found = Vec::new();
    for beats in 0..=case.beats {
        let mut ways: Vec<(Way, Juggler)> = vec![(Vec::new(), juggler.clone())];
        for _ in 0..beats {
            ways = ways
                .into_iter()
                .flat_map(|(thrown, juggler)| {
                    let here = juggler.due_here();
                    let hands = if here > at_once { Vec::new() } else { hands_of(here, most) };
                    hands.into_iter().filter_map(move |values| {
                        let mut ahead = juggler.clone();
                        throw(&mut ahead, &values)?;
                        Some(([thrown.clone(), vec![values]].concat(), ahead))
                    })
                })
                .collect();
        }
        ways.retain(|(_, juggler)| juggler.goes_on(steps));
        // The fewest multiplexes first, then the lowest highest throw, then the lowest throws.
        ways.sort_by_key(|(thrown, _)| {
            let multiplexes = thrown.iter().filter(|values| values.len() > 1).count();
            (multiplexes, thrown.iter().flatten().max().copied(), thrown.clone())
        });
        if !section.transition {
            ways.truncate(1);
        }
        for (thrown, as_found) in ways {
            if !section.multiplex_order || case.ways_are_fixed {
                found.push((as_found, beats));
                continue;
            }
            for order in orders(&thrown) {
                let mut ahead = juggler.clone();
                for values in &order {
                    throw(&mut ahead, values).expect("it was thrown in another order");
                }
                found.push((ahead, beats));
            }
        }
        if !section.transition && !found.is_empty() {
            break;
        }
    }
    found
}

/// The values that a hand throws at once, beat by beat.
type Way = Vec<Vec<u8>>;

fn throw(juggler: &mut Juggler, values: &[u8]) -> Option<()> {
    let throws: Vec<(u8, u32)> = values.iter().map(|&value| (value, 0)).collect();
    juggler.step(&throws, false).map(|_| ())
}

/// Everything that a hand can throw with so many props due, each highest first.
fn hands_of(due: usize, most: u8) -> Vec<Vec<u8>> {
    match due {
        0 => vec![vec![0]],
        1 => (1..=most).map(|value| vec![value]).collect(),
        _ => {
            let fewer = hands_of(due - 1, most).into_iter();
            let more = fewer.flat_map(|values| {
                (1..=values[due - 2]).map(move |value| [values.clone(), vec![value]].concat())
            });
            more.collect()
        }
    }
}

/// The same throws with those of each hand in every order.
fn orders(way: &[Vec<u8>]) -> Vec<Way> {
    let Some((first, rest)) = way.split_first() else { return vec![Vec::new()] };
    let mut hands = vec![first.clone()];
    if let [one, other] = first[..]
        && one != other
    {
        hands.push(vec![other, one]);
    }
    assert!(first.len() <= 2, "no pattern here throws three");
    let rest = orders(rest);
    let with =
        |hand: Vec<u8>| rest.iter().map(move |rest| [vec![hand.clone()], rest.clone()].concat());
    hands.into_iter().flat_map(with).collect()
}
