//! Everything that is drawn, gathered from routine and timeline, and where it lies.

use std::collections::BTreeSet;

use num_traits::ToPrimitive;

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::measure::height;
use crate::routine::{Arms, Made, Routine};
use crate::sheet::{clocks, heading};
use crate::time::Pace;
use crate::timeline::{Joining, Timeline, left_open};

use super::arm::{self, ArmMark};
use super::at_rest;
use super::certainty::Certainty;
use super::flag::{self, Flag};
use super::fold;
use super::head::Head;
use super::layout::Layout;
use super::limit_mark::{self, LimitMark};
use super::matter::Matter;
use super::music::{self, Music};
use super::paper::{LEFT, MARGIN, RIGHT};
use super::prop_mark::{self, PropMark};
use super::section::{self, Section};
use super::stretch::{self, Stretch, StretchOf};
use super::text;
use super::thread::{self, Threads};

/// The matter of a drawing, laid out.
pub(super) struct Scene {
    /// The head of each sheet.
    pub(super) head: Head,
    /// The sections.
    pub(super) sections: Vec<Section>,
    /// What every prop goes through.
    pub(super) threads: Threads,
    /// Where the arms are, in order of time; none where no section has an arm cycle.
    pub(super) arms: Vec<ArmMark>,
    /// How the routine's colours are drawn.
    pub(super) marks: Vec<PropMark>,
    /// The colours in play, by index.
    pub(super) seen: Vec<usize>,
    /// The cues, in order of GO.
    pub(super) flags: Vec<Flag>,
    /// Stretches in which the stage is dark, a strobe flashes or flames are alight.
    pub(super) stretches: Vec<Stretch>,
    /// Where the limits end.
    pub(super) limits: Vec<LimitMark>,
    /// Where the ruler's times are certain.
    pub(super) certainty: Certainty,
    /// The tracks.
    pub(super) music: Vec<Music>,
    /// What is written at the line of the clear height.
    pub(super) ceiling_label: String,
    /// Where everything lies.
    pub(super) layout: Layout,
}

impl Scene {
    /// Gathers what is drawn of an act or of its encore, and lays it out; `whole` is the act, whose
    /// colours look the same in both. A row holds `asked_s` seconds, where that is asked.
    pub(super) fn new(
        act: &Act,
        whole: &Act,
        lay_out: impl Fn(&Matter<'_>) -> Layout,
        asked_s: Option<f64>,
    ) -> Scene {
        let timeline = &act.timeline;
        let span = span(timeline);
        let threads = thread::threads(act, span.0, span.1);
        let arms = arm::marks(act);
        let mut used = used(act);
        let mut marks = marks(whole);
        if threads.flights.iter().any(|flight| flight.colour == marks.len()) {
            marks.push(prop_mark::unknown());
            used.push(true);
        }
        let certainty = Certainty::of(act);
        let (flags, unplaced) = flag::flags(act, &certainty);
        let stretches = stretch::stretches(act, &certainty, span.1);
        let is_on = |of| stretches.iter().any(|stretch| stretch.of == of);
        let limits = limit_mark::marks(act);
        let music = music::music(act, &certainty);
        let sections = section::sections(act);
        let ceiling = ceiling(act);
        let seen = Seen {
            colours: (0..marks.len()).filter(|&colour| used.get(colour) == Some(&true)).collect(),
            transitions: sections.iter().any(|section| section.transition.is_some()),
            arms: positions(&arms),
            made: ways(&threads),
            handed: threads.flights.iter().any(|flight| flight.handed),
            cues: !flags.is_empty(),
            dark: is_on(StretchOf::Dark),
            strobe: is_on(StretchOf::Strobe),
            flames: is_on(StretchOf::Flames),
            open: sections.iter().any(|section| section.is_open),
            torn: sections.iter().any(|section| section.torn),
            unread: sections.iter().any(|section| section.unread),
            unknown: !certainty.ends().is_empty(),
        };
        let mut head = Head::new(act, &marks, &seen);
        let mut matter = Matter {
            span,
            fastest: fastest(timeline),
            asked_s,
            ceiling: ceiling.map(|(_, above_hands)| above_hands),
            threads: &threads,
            flags: &flags,
            quiet: fold::quiet(&threads, span),
            happenings: fold::happenings(
                &sections, &flags, &stretches, &music, &limits, &certainty,
            ),
            reach: flags
                .iter()
                .map(|flag| flag.go)
                .chain(limits.iter().map(|mark| mark.at))
                .collect(),
            arms: &arms,
            music: !music.is_empty(),
            heard: heard(&music),
            heads: head.heights(),
        };
        let (first, last) = matter.ends_of_rows();
        head.note(notes(&threads, ceiling, matter.shows_ceiling(), matter.detail_note()));
        head.note(matter.rows_note());
        head.note(open(act));
        head.note(unknown(act));
        head.note((!unplaced.is_empty()).then(|| {
            format!("Cues whose place in the drawing is not known: {}.", unplaced.join("; "))
        }));
        head.note(outside(
            "Cues before the first row",
            flags.iter().filter(|flag| flag.go < first),
        ));
        head.note(outside("Cues after the last row", flags.iter().filter(|flag| flag.go > last)));
        matter.heads = head.heights();
        let mut layout = lay_out(&matter);
        if let Some(at_rest) = at_rest::note(act, &threads, &layout) {
            // It makes the head higher; along the rows nothing changes.
            head.note(Some(at_rest));
            matter.heads = head.heights();
            layout = lay_out(&matter);
        }
        let ceiling_label = ceiling.map(|(floor, hand)| ceiling_label(floor, hand));
        let ceiling_label = ceiling_label.unwrap_or_default();
        let seen = seen.colours;
        Scene {
            head,
            sections,
            threads,
            arms,
            marks,
            seen,
            flags,
            stretches,
            limits,
            certainty,
            music,
            ceiling_label,
            layout,
        }
    }
}

/// What of the legend is needed.
pub(super) struct Seen {
    /// Colours in play.
    pub(super) colours: Vec<usize>,
    /// Transitions or waits.
    pub(super) transitions: bool,
    /// Positions of the arms.
    pub(super) arms: Vec<Arms>,
    /// Ways in which throws are made.
    pub(super) made: Vec<Made>,
    /// Props handed across.
    pub(super) handed: bool,
    /// Cues.
    pub(super) cues: bool,
    /// A dark stage.
    pub(super) dark: bool,
    /// A strobe.
    pub(super) strobe: bool,
    /// Flames.
    pub(super) flames: bool,
    /// Pauses that last as long as it takes.
    pub(super) open: bool,
    /// Torn junctions.
    pub(super) torn: bool,
    /// Sections that could not be read.
    pub(super) unread: bool,
    /// A place from which on times are not known.
    pub(super) unknown: bool,
}

/// Where the arms are in a routine, each position once.
fn positions(marks: &[ArmMark]) -> Vec<Arms> {
    let positions: BTreeSet<Arms> = marks.iter().map(|mark| mark.arms).collect();
    positions.into_iter().collect()
}

/// How throws are made, each way once.
fn ways(threads: &Threads) -> Vec<Made> {
    let ways: BTreeSet<Made> = threads.flights.iter().filter_map(|flight| flight.made).collect();
    ways.into_iter().collect()
}

/// The title as it may stand in a drawing.
pub(super) fn title(routine: &Routine) -> String {
    let title = text::clean(&routine.title.value);
    if routine.is_encore { format!("{title} · encore") } else { title }
}

/// Issue and clock, in words.
pub(super) fn under_title(routine: &Routine) -> String {
    let zero = text::clean(&heading::zero(routine));
    let open = match left_open(routine).is_empty() {
        true => "",
        false => " · drawn at its shortest",
    };
    let clock = match routine.is_encore {
        true => "only if it is called for · clock: its own",
        false => "clock: show",
    };
    format!("issue {} · {clock}; zero = {zero}{open}", routine.issue)
}

/// When the first section starts and the last one ends.
pub(super) fn span(timeline: &Timeline) -> (f64, f64) {
    let starts =
        timeline.sections.first().map_or(0.0, |section| section.starts.shortest().to_f64());
    let ends = timeline.sections.iter().map(|section| section.ends.shortest().to_f64());
    (starts, ends.fold(starts, f64::max))
}

/// How the routine's colours are drawn, in the act and in its encore.
pub(super) fn marks(whole: &Act) -> Vec<PropMark> {
    let mut all = vec![false; whole.routine.colours.len()];
    for part in whole.with_encore() {
        all.iter_mut().zip(used(part)).for_each(|(all, used)| *all |= used);
    }
    prop_mark::marks(&whole.routine.colours, &all)
}

/// Which of the routine's colours are in play.
fn used(act: &Act) -> Vec<bool> {
    let Act { routine, timeline, .. } = act;
    let mut used = vec![false; routine.colours.len()];
    for run in &timeline.runs {
        let shown = run.other_faces.iter().map(|&beat| run.face_at(beat)).chain([run.face]);
        for colour in shown.flat_map(|face| run.colours_of(face)) {
            if let Some(used) = used.get_mut(*colour) {
                *used = true;
            }
        }
    }
    used
}

/// Throws a minute where they are fastest.
fn fastest(timeline: &Timeline) -> f64 {
    let pieces = timeline.runs.iter().flat_map(|run| &run.tempo.pieces);
    let tempos = pieces.flat_map(|piece| match &piece.pace {
        Pace::Steady(tempo) => [tempo.to_f64(), None],
        Pace::Ramp { from, to } => [from.to_f64(), to.to_f64()],
        Pace::Music { .. } => [piece.fastest(), None],
    });
    tempos.flatten().filter(|tempo| tempo.is_finite()).fold(1.0, f64::max)
}

/// The clear height from the floor, and above the hands for the middle of the longest prop.
pub(super) fn ceiling(act: &Act) -> Option<(f64, f64)> {
    let Act { routine, timeline, .. } = act;
    let room = routine.room.as_ref()?;
    let sets = timeline.runs.iter().filter_map(|run| routine.sets.get(run.set));
    let longest = sets.map(|set| set.length).fold(0.0, f64::max);
    let floor = room.clear_height.value;
    Some((floor, floor - height::clear_height_m(room, 0.0, longest)))
}

/// What must be known of heights and of what was left out.
fn notes(
    threads: &Threads,
    ceiling: Option<(f64, f64)>,
    is_drawn: bool,
    detail: Option<&str>,
) -> Option<String> {
    let flown = threads.flights.iter().filter(|flight| !flight.handed);
    let highest = flown.map(|flight| flight.height_m).fold(0.0, f64::max);
    let mut notes = Vec::new();
    if highest > 0.0 {
        notes.push(format!(
            "Heights are estimates, to scale; the highest flight rises {highest:.2} m above the hand"
        ));
    }
    if let Some((floor, above_hands)) = ceiling.filter(|_| !is_drawn && highest > 0.0) {
        notes.push(format!(
            "the clear height of {floor} m lies {:.1} m above that, off this scale",
            above_hands - highest
        ));
    }
    let mut text = notes.join("; ");
    if !text.is_empty() {
        text.push('.');
    }
    if let Some(detail) = detail {
        text.push(' ');
        text.push_str(detail);
    }
    (!text.is_empty()).then_some(text)
}

/// What is left open, and what the ruler shows of it.
fn open(act: &Act) -> Option<String> {
    let Act { routine, timeline: _, .. } = act;
    let open: Vec<String> =
        clocks::open_in_words(routine).iter().map(|open| text::clean(open)).collect();
    (!open.is_empty()).then(|| {
        format!(
            "Drawn as if all that is left open lasted its shortest: {}. Where the ruler says ≥, \
             what is drawn comes then or later (≤: then or earlier; ~: either).",
            all_of(&open)
        )
    })
}

/// What is not known of the times, and what is drawn instead.
fn unknown(act: &Act) -> Option<String> {
    let spans = || act.sections().filter_map(|(.., span)| span.juggle.as_ref());
    let is_torn = spans().any(|juggle| juggle.joining == Joining::Torn);
    let is_unsure = spans().any(|juggle| juggle.joining == Joining::Unknown);
    let torn = match (is_torn, is_unsure) {
        (false, false) => None,
        (true, false) => Some("From a torn junction on, the strip is drawn"),
        (false, true) => Some("Where nobody knows how the props come to a section it is drawn"),
        (true, true) => Some(
            "From a torn junction on, and where nobody knows how the props come to a section, the \
             strip is drawn",
        ),
    };
    let torn = torn.map(|torn| format!("{torn} as if the hands had been put right."));
    let unknown = (!act.times_known).then_some(
        "Where the ruler says ?, an error leaves the time unknown; what is drawn there has its \
         order but no place on the clock.",
    );
    let unknown = unknown.map(str::to_owned);
    let said: Vec<String> = [torn, unknown].into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(" "))
}

/// Cues that fall outside of the rows, in one line.
fn outside<'a>(what: &str, flags: impl Iterator<Item = &'a Flag>) -> Option<String> {
    let cues: Vec<&str> = flags.map(|flag| flag.title.as_str()).collect();
    (!cues.is_empty()).then(|| format!("{what}: {}.", cues.join("; ")))
}

/// The label of the clear height, shortened to what fits.
fn ceiling_label(clear_height_m: f64, above_hands_m: f64) -> String {
    let label = format!("clear height {clear_height_m} m: {above_hands_m:.1} m above the hand");
    let room = RIGHT - LEFT - MARGIN;
    text::shorten(&label, text::SMALL, true, room).unwrap_or_default()
}

/// From when to when the loudness of some track is known, on the show clock.
fn heard(music: &[Music]) -> Option<(f64, f64)> {
    let spans: Vec<(f64, f64)> = music.iter().filter_map(Music::heard).collect();
    let from = spans.iter().map(|span| span.0).reduce(f64::min)?;
    Some((from, spans.iter().map(|span| span.1).fold(from, f64::max)))
}
