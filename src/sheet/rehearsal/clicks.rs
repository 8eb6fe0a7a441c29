//! A click track: one click a throw or a music beat, a count-in before the first.
//!
//! A throw is a release: a multiplex is one, the two hands of a pair are two at one instant, a held
//! 2 and an empty hand are none. Music beats click where something is juggled, through pauses only
//! where that is asked for. The click at which a section begins is accented, its transition's first
//! throw perhaps; of music beats the first at or after its start.

use crate::act::Act;
use crate::hand::Hand;
use crate::measure::music_beats::{MusicBeat, music_beats};
use crate::time::Seconds;
use crate::timeline::{Run, Timeline};

use super::{LeftOut, Media, Refused, longest};

/// The beats of a count-in where nothing says another number; of music beats it is a bar.
const COUNT_IN: u32 = 4;

/// The longest bar that is counted in whole.
const LONGEST_BAR: u32 = 16;

/// What is clicked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Per {
    /// Every throw.
    Throw,
    /// Every music beat.
    MusicBeat {
        /// In pauses too.
        through_pauses: bool,
    },
}

/// A click track.
#[derive(Clone, Debug, PartialEq)]
pub struct ClickTrack {
    /// Its clock.
    pub media: Media,
    /// How long the file runs before that clock's zero, so that the count-in has room.
    pub lead_in: Seconds,
    /// In order of time.
    pub clicks: Vec<Click>,
    /// How long the file is, from its first sample.
    pub lasts: Seconds,
    /// The beats of a count-in for which there is no room.
    pub no_room_for: Option<u32>,
    /// Clicks before the zero, section by section.
    pub left_out: Vec<LeftOut>,
}

/// A click.
#[derive(Clone, Debug, PartialEq)]
pub struct Click {
    /// When, from the file's first sample.
    pub at: Seconds,
    /// What it stands for.
    pub of: ClickOf,
    /// Whether something begins with it.
    pub accent: Accent,
}

/// What a click stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ClickOf {
    /// A throw of that hand.
    Throw(Hand),
    /// A music beat.
    MusicBeat,
    /// A beat of the count-in.
    CountIn,
}

/// What begins with a click.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Accent {
    /// Nothing.
    None,
    /// A bar, of music beats.
    Bar,
    /// A section, of throws.
    Section,
}

/// A click before it is known whether there is room for it.
struct Due {
    /// On the media's clock.
    at: Seconds,
    of: ClickOf,
    accent: Accent,
    /// Index of its section in the score.
    section: usize,
}

/// Composes a click track. `count_in` beats are counted in, and room is made for them in front of
/// the zero; where nothing is asked, the usual number is counted in if there is room for it.
///
/// # Errors
/// Why there is none.
pub fn compose(
    act: &Act,
    media: Media,
    per: Per,
    count_in: Option<u32>,
) -> Result<ClickTrack, Refused> {
    let Act { timeline, .. } = act;
    let due = match per {
        Per::Throw => throws(timeline, &media),
        Per::MusicBeat { through_pauses } => beats(act, &media, through_pauses)?,
    };
    let (early, mut due): (Vec<Due>, Vec<Due>) =
        due.into_iter().partition(|click| click.at.is_negative());
    let first = due.first().ok_or(Refused::Nothing)?;
    let counted = match per {
        Per::Throw => counted_in_beats(timeline, &media, first, count_in.unwrap_or(COUNT_IN)),
        Per::MusicBeat { .. } => counted_in_music(act, &media, first, count_in),
    };
    let earliest = counted.last().cloned().unwrap_or_else(Seconds::zero);
    let has_room = !earliest.is_negative();
    let lead_in = if has_room || count_in.is_none() { Seconds::zero() } else { -earliest };
    let no_room_for =
        (!has_room && count_in.is_none()).then(|| u32::try_from(counted.len()).unwrap_or(0));
    let ends = media.act_ends();
    let last = due.last().map_or_else(Seconds::zero, |click| click.at.clone());
    let lasts = &lead_in + if ends > last { &ends } else { &last };
    if lasts > longest() {
        return Err(Refused::TooLong);
    }
    if no_room_for.is_none() {
        let section = first.section;
        let count = |at| Due { at, of: ClickOf::CountIn, accent: Accent::None, section };
        due.splice(0..0, counted.into_iter().rev().map(count));
    }
    let click = |due: Due| Click { at: &due.at + &lead_in, of: due.of, accent: due.accent };
    let clicks = due.into_iter().map(click).collect();
    let left_out = left_out(&media, per, &early);
    Ok(ClickTrack { media, lead_in, clicks, lasts, no_room_for, left_out })
}

/// Every throw of every run.
fn throws(timeline: &Timeline, media: &Media) -> Vec<Due> {
    let mut due = Vec::new();
    for run in &timeline.runs {
        let mut section = None;
        let mut accented = None;
        let mut before = None;
        for action in run.actions.iter().filter(|action| action.is_release()) {
            if before.replace((action.beat, action.hand)) == Some((action.beat, action.hand)) {
                continue;
            }
            if section.replace(action.section) != Some(action.section) {
                accented = Some(action.beat);
            }
            due.push(Due {
                at: media.reads(run.time_of(action).shortest()),
                of: ClickOf::Throw(action.hand),
                accent: if accented == Some(action.beat) { Accent::Section } else { Accent::None },
                section: usize::try_from(action.section).unwrap_or(usize::MAX),
            });
        }
    }
    due
}

/// The music beats, where something is juggled or everywhere from the first section to the last.
fn beats(act: &Act, media: &Media, through_pauses: bool) -> Result<Vec<Due>, Refused> {
    let Act { routine, .. } = act;
    if routine.first_track().is_none_or(|track| track.bars.is_empty()) {
        return Err(Refused::NoBars);
    }
    let mut due = Vec::new();
    let clicked = |section: &super::Stretch| section.is_juggled || through_pauses;
    for (index, section) in media.sections.iter().enumerate().filter(|(_, one)| clicked(one)) {
        if &section.ends - &section.starts > longest() {
            return Err(Refused::TooLong);
        }
        let [from, to] = [&section.starts, &section.ends].map(|time| media.on_show_clock(time));
        for beat in music_beats(act, &from, &to) {
            due.push(Due {
                at: media.reads(&beat.at),
                of: ClickOf::MusicBeat,
                accent: if beat.number == 1 { Accent::Bar } else { Accent::None },
                section: index,
            });
        }
    }
    Ok(due)
}

/// The times of so many beats before the first throw, at its tempo, the latest first. Before a
/// section of pairs a pair is counted, which fills two beats.
fn counted_in_beats(timeline: &Timeline, media: &Media, first: &Due, count: u32) -> Vec<Seconds> {
    let span = timeline.sections.get(first.section).and_then(|span| span.juggle.as_ref());
    let Some((juggle, run)) = span.and_then(|one| Some((one, timeline.runs.get(one.run)?))) else {
        return Vec::new();
    };
    let Some(beat) = beat_at(run, media, &first.at) else { return Vec::new() };
    let step = if juggle.lead.is_none() { 2 } else { 1 };
    let place = |beat: u32| i64::from(beat).into();
    let apart = run.tempo.lasts(place(beat), place(beat + step));
    before(&first.at, &apart, count)
}

/// The beat of a run's release that falls at a time.
fn beat_at(run: &Run, media: &Media, at: &Seconds) -> Option<u32> {
    let mut releases = run.actions.iter().filter(|action| action.is_release());
    releases
        .find(|action| media.reads(run.time_of(action).shortest()) == *at)
        .map(|action| action.beat)
}

/// The times of so many music beats before the first that clicks, the latest first: the track's
/// own as far as it has them, then as far apart as the first two.
fn counted_in_music(act: &Act, media: &Media, first: &Due, count: Option<u32>) -> Vec<Seconds> {
    let shown = media.on_show_clock(&first.at);
    // A music beat takes part of a minute at least; ten minutes hold any count-in that is one.
    let span = Seconds::fraction(600, 1);
    let around = music_beats(act, &(&shown - &span), &(&shown + &span));
    let at = around.iter().position(|beat| beat.at == shown).unwrap_or(0);
    let bar = around.get(at).map_or(COUNT_IN, |beat| beat.of.min(LONGEST_BAR));
    let count = usize::try_from(count.unwrap_or(bar)).unwrap_or(0);
    let own = around[..at].iter().rev().take(count);
    let mut counted: Vec<Seconds> = own.map(|beat: &MusicBeat| media.reads(&beat.at)).collect();
    let missing = u32::try_from(count - counted.len()).unwrap_or(0);
    if let [one, other, ..] = around.as_slice()
        && missing > 0
    {
        let from = counted.last().unwrap_or(&first.at).clone();
        counted.extend(before(&from, &(&other.at - &one.at), missing));
    }
    counted
}

/// So many times before one, equally far apart, the latest first.
fn before(time: &Seconds, apart: &Seconds, count: u32) -> Vec<Seconds> {
    let mut at = time.clone();
    let earlier = (0..count).map(|_| {
        at = &at - apart;
        at.clone()
    });
    earlier.collect()
}

/// The clicks before the zero, section by section.
fn left_out(media: &Media, per: Per, early: &[Due]) -> Vec<LeftOut> {
    let word = match per {
        Per::Throw => "click of a throw",
        Per::MusicBeat { .. } => "click of a music beat",
    };
    let plural = match per {
        Per::Throw => "clicks of throws",
        Per::MusicBeat { .. } => "clicks of music beats",
    };
    early
        .chunk_by(|one, next| one.section == next.section)
        .filter_map(|clicks| {
            let first = clicks.first()?;
            let name = &media.sections.get(first.section)?.name;
            let count = clicks.len();
            let word = if count == 1 { word } else { plural };
            Some(LeftOut { at: first.at.clone(), what: format!("{name}, {count} {word}") })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms};
    use crate::routine::{Moment, Routine};

    const BEATS: Per = Per::MusicBeat { through_pauses: false };

    fn track(quay: &Routine, from: Option<Moment>, per: Per, count_in: Option<u32>) -> ClickTrack {
        let act = compiled(quay);
        let media = Media::new(&act, from.as_ref()).unwrap();
        compose(&act, media, per, count_in).unwrap()
    }

    #[test]
    fn four_beats_are_counted_in_and_every_section_begins_with_an_accent() {
        let track = track(&lantern_quay(), None, Per::Throw, None);
        let first: Vec<_> =
            track.clicks[..6].iter().map(|click| (click.at.clone(), click.of)).collect();
        let count = |at| (ms(at), ClickOf::CountIn);
        let hand = |at, hand| (ms(at), ClickOf::Throw(hand));
        assert_eq!(
            first,
            [
                count(6_300),
                count(6_600),
                count(6_900),
                count(7_200),
                hand(7_500, Hand::Right),
                hand(7_800, Hand::Left)
            ]
        );
        let accents = track.clicks.iter().filter(|click| click.accent == Accent::Section);
        let starts: Vec<_> = accents.map(|click| click.at.clone()).collect();
        // ebb begins with a 2 that is held: its first throw comes a beat later.
        assert_eq!(starts, [ms(7_500), ms(15_300), ms(22_500), ms(29_100), ms(37_100)]);
        // tide 26, beam 24, wake 1 + 20, ebb 5 less its held 2, fleet 50.
        let throws = track.clicks.len() - 4;
        assert_eq!(throws, 26 + 24 + 21 + 6 + 50);
        assert_eq!((track.left_out, track.no_room_for), (vec![], None));
    }

    #[test]
    fn music_beats_click_where_something_is_juggled() {
        let quay = lantern_quay();
        let clicks = track(&quay, None, BEATS, None).clicks;
        // A bar of four is counted in by the music's own beats.
        let at: Vec<_> = clicks[..5].iter().map(|click| click.at.clone()).collect();
        assert_eq!(at, [ms(5_850), ms(6_350), ms(6_850), ms(7_350), ms(7_850)]);
        // Every bar is accented, and no start of a section beside one: tide starts at 7.5.
        let accented = clicks.iter().filter(|click| click.accent != Accent::None);
        let bars: Vec<_> = accented.map(|click| click.at.clone()).collect();
        let juggled = (850..55_000)
            .step_by(2_000)
            .filter(|at| (7_500..31_100).contains(at) || (37_100..50_267).contains(at));
        assert_eq!(bars, juggled.map(ms).collect::<Vec<_>>());
        let in_pause = |click: &&Click| ms(31_100) <= click.at && click.at < ms(37_100);
        assert_eq!(clicks.iter().filter(in_pause).count(), 0);
        let through = track(&quay, None, Per::MusicBeat { through_pauses: true }, Some(0)).clicks;
        assert_eq!(through.iter().filter(in_pause).count(), 12);
        assert_eq!(through[0].at, ms(850));
    }

    #[test]
    fn a_count_in_that_is_asked_for_makes_room_and_the_usual_one_does_not() {
        let quay = lantern_quay();
        let from = || Some(Moment::At(ms(15_300)));
        let usual = track(&quay, from(), Per::Throw, None);
        assert_eq!((usual.no_room_for, &usual.lead_in), (Some(4), &Seconds::zero()));
        assert_eq!(usual.clicks[0].at, Seconds::zero());
        assert_eq!(usual.left_out[0].what, "tide, 26 clicks of throws");
        let asked = track(&quay, from(), Per::Throw, Some(2));
        assert_eq!((asked.no_room_for, &asked.lead_in), (None, &ms(600)));
        let at: Vec<_> = asked.clicks[..3].iter().map(|click| click.at.clone()).collect();
        assert_eq!(at, [ms(0), ms(300), ms(600)]);
        assert_eq!(asked.lasts, &usual.lasts + &ms(600));
        // Before the track's first bar the count-in keeps its distance.
        let first = track(&quay, None, Per::MusicBeat { through_pauses: true }, Some(3));
        assert_eq!(first.lead_in, ms(650));
    }

    #[test]
    fn what_cannot_be_clicked_is_refused() {
        let quay = lantern_quay();
        let refused = |quay: &Routine, from: Option<Moment>, per| {
            let act = compiled(quay);
            let media = Media::new(&act, from.as_ref()).unwrap();
            compose(&act, media, per, None).unwrap_err()
        };
        assert_eq!(refused(&quay, Some(Moment::TrackEnd), Per::Throw), Refused::Nothing);
        assert_eq!(refused(&quay, Some(Moment::At(ms(-8_000_000))), Per::Throw), Refused::TooLong);
        let mut without = quay.clone();
        without.music.as_mut().unwrap().bars.clear();
        assert_eq!(refused(&without, None, BEATS), Refused::NoBars);
    }
}
