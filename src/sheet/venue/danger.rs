//! What may hurt somebody: flames and blades from when to when, strobes, haze, and what is at hand.
//!
//! Pointers, never a clearance: local codes, the venue and licensed practice decide.

use crate::act::Act;
use crate::act::in_use::InUse;
use crate::measure::flashes::{Burst, bursts};
use crate::routine::{Cue, Hazard, Haze, Part, Venue};
use crate::time::{Seconds, seconds_text};

use super::super::limits::{BurnLine, burns};
use super::super::loading::section_name;
use super::super::words::{plain, quoted};
use super::{Fact, at, known};

pub(super) fn hazards(act: &Act, venue: &Venue) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    for hazard in Hazard::ALL {
        facts.extend(of_hazard(act, hazard));
    }
    let burns = act.routine.hidden.sets || act.routine.sets.iter().any(|set| set.is(Hazard::Fire));
    let at_hand = [
        ("fuel", &venue.fuel),
        ("spotter", &venue.spotter),
        ("fire blanket", &venue.blanket),
        ("extinguisher", &venue.extinguisher),
    ];
    let asked = at_hand.iter().filter(|(_, says)| burns || says.is_some());
    facts.extend(asked.map(|(label, says)| Fact::written(label, says.as_ref())));
    facts.push(strobe(act));
    let haze = venue.haze.as_ref().map(|haze| match haze {
        Haze::Nothing => "none".to_owned(),
        Haze::Made(which) => plain(which),
    });
    facts.push(Fact::one("haze", haze));
    facts
}

/// When flames are alight, or blades in somebody's hands.
fn of_hazard(act: &Act, hazard: Hazard) -> Vec<Fact> {
    let (label, none) = match hazard {
        Hazard::Fire => ("flames", "No set of this file burns."),
        Hazard::Blades => ("blades", "No set of this file has blades."),
    };
    let mut facts = Vec::new();
    for one in act.with_encore() {
        let clock = if one.routine.is_encore { ", in the encore on its own clock" } else { "" };
        for used in one.in_use.iter().filter(|used| used.hazard == hazard) {
            let Some(set) = one.routine.sets.get(used.set) else { continue };
            let label = format!("{label}: {}{clock}", quoted(&set.name.value));
            facts.push(Fact::new(label, in_use(one, used)));
        }
    }
    // Where an error hides sets or sections, nobody knows that there is none, or no more.
    let hides = |act: &Act| {
        let hidden = &act.routine.hidden;
        act.hides_sets() || hidden.sets || hidden.encore
    };
    let is_known = act.errors == 0 || !act.with_encore().any(hides);
    if !facts.is_empty() {
        if !is_known {
            let more = "An error hides a part of the act: there may be more.".to_owned();
            facts.push(Fact::one(label, Some(more)));
        }
        return facts;
    }
    let has_set = act.routine.sets.iter().any(|set| set.is(hazard));
    let says = match (is_known, has_set) {
        (false, _) => None,
        (true, true) => Some("They are not used in this act.".to_owned()),
        (true, false) => Some(none.to_owned()),
    };
    vec![Fact::one(label, says)]
}

/// From when to when, where, and for how long.
fn in_use(act: &Act, used: &InUse) -> Vec<String> {
    let state = used.hazard.state();
    let from = match used.begins {
        Some(entry) => format!("{} in {}", used.hazard.taken(), where_it_is(act, entry)),
        None => "since the act".to_owned(),
    };
    let whole = if act.routine.is_encore { "encore" } else { "act" };
    let to = match used.ends {
        Some(entry) => format!("{} in {}", used.hazard.put_away(), where_it_is(act, entry)),
        None if act.errors > 0 => "where it ends is not known, for the act has errors".to_owned(),
        None => format!("NOT {} by the end of the {whole}", used.hazard.put_away().to_uppercase()),
    };
    let mut says = vec![format!("{state} from {}: {from}", at(&used.from))];
    says.push(format!("to {}: {to}", at(&used.to)));
    // A draft may miss the pause that lights them; then the time would be too short.
    if act.errors > 0 {
        return says;
    }
    let is_this = |line: &&BurnLine| {
        let same = line.from.1 == used.from.range() && line.to.1 == used.to.range();
        let set = act.routine.sets.get(used.set);
        same && set.is_some_and(|set| plain(&set.name.value) == line.set)
    };
    let burns = if used.hazard == Hazard::Fire { burns(act) } else { Vec::new() };
    match burns.iter().find(is_this) {
        Some(burn) if burn.lasts.is_known() => says.push(format!(
            "{} at most with the slowest pick-ups; shortest tested burn {}",
            burn.lasts.latest().map(seconds_text).unwrap_or_default(),
            seconds_text(&burn.shortest)
        )),
        _ => says.extend(
            known(&used.lasts().range())
                .map(|_| format!("{} long", used.lasts().range().seconds_text())),
        ),
    }
    says
}

/// A section and its place, as in `"light up", down centre`.
fn where_it_is(act: &Act, entry: usize) -> String {
    let name = quoted(&section_name(&act.routine, entry));
    let place = act.routine.score.get(entry).and_then(|section| match &section.part {
        Part::Juggle(juggle) => juggle.place.as_deref(),
        Part::Pause(pause) => pause.place.as_deref(),
        Part::Unread(_) => None,
    });
    place.map_or(name.clone(), |place| format!("{name}, {}", plain(place)))
}

/// The longest burst first, then every one.
fn strobe(act: &Act) -> Fact {
    let mut says = Vec::new();
    let mut longest: Option<(Seconds, String)> = None;
    let mut unknown = false;
    for one in act.with_encore() {
        for burst in bursts(one) {
            let words = burst_in_words(one, &burst);
            unknown |= burst.longest.is_none();
            if let Some(lasts) = burst.longest
                && longest.as_ref().is_none_or(|(most, _)| lasts > *most)
            {
                let label = one.routine.cues.get(burst.cue).map(Cue::label);
                longest = Some((lasts, label.unwrap_or_default()));
            }
            says.push(words);
        }
    }
    let hidden = !act.cues_known();
    if let Some((lasts, label)) = longest.filter(|_| !unknown && !hidden) {
        says.insert(0, format!("longest burst: {}, {label}", seconds_text(&lasts)));
    }
    match says.is_empty() && !hidden {
        true => Fact::one("strobe", Some("No cue says that its light flashes.".to_owned())),
        false => Fact::new("strobe", says),
    }
}

/// As in `LX 20: 2.5 flashes a second from 0:10.0, for up to 4.0 s, until LX 25`.
fn burst_in_words(act: &Act, burst: &Burst) -> String {
    let label = |cue: usize| act.routine.cues.get(cue).map(Cue::label);
    let own = label(burst.cue).unwrap_or_default();
    let lasts =
        burst.longest.as_ref().map(|longest| format!(", for up to {}", seconds_text(longest)));
    let whole = if act.routine.is_encore { "encore" } else { "act" };
    let until = match burst.until.and_then(label) {
        Some(until) => format!("until {until}"),
        None => format!("to the end of the {whole}: NO CUE ENDS IT"),
    };
    let of_encore = if act.routine.is_encore { " of the encore" } else { "" };
    format!(
        "{own}{of_encore}: {} flashes a second from {}{}, {until}",
        burst.rate,
        at(&burst.from),
        lasts.unwrap_or_default()
    )
}
