//! What is written of each section: name, pattern, tempo, the transition before it.

use num_traits::ToPrimitive;

use crate::act::Act;
use crate::hand::Hand;
use crate::routine::Part;
use crate::sheet::regrip;
use crate::time::{Pace, TimeRange};
use crate::timeline::{Joining, JuggleSpan, TakenTransition, Timeline};

use super::text;

/// What is said of a section whose props do not come as it needs them.
const TORN: &str = "torn junction: the props do not come as it needs them";

/// A section as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Section {
    /// Its edges on the show clock.
    pub(super) from: f64,
    /// See `from`.
    pub(super) to: f64,
    /// Its name.
    pub(super) name: String,
    /// Its pattern; `None` for a pause.
    pub(super) pattern: Option<String>,
    /// How often it goes round, as in `×8`; empty for a pause, and where that is not known.
    pub(super) how_often: String,
    /// Whether it could not be read.
    pub(super) unread: bool,
    /// Whether its props do not come as it needs them.
    pub(super) torn: bool,
    /// Whether it is a pause whose length is a range: drawn at its shortest, or where it takes up
    /// what is uncertain before it, at its longest.
    pub(super) is_open: bool,
    /// What else there is to say, if there is room: the tempo, or a pause's length.
    pub(super) detail: String,
    /// Where its transition ends, and what it consists of.
    pub(super) transition: Option<(f64, String)>,
    /// What is done to the props: a regrip, the other faces.
    pub(super) handling: Option<Handling>,
    /// All of it, for its title.
    pub(super) title: String,
}

impl Section {
    /// Its pattern and how often it goes round, as in `531 ×8`; empty for a pause.
    pub(super) fn juggled(&self) -> String {
        let pattern = self.pattern.as_deref().unwrap_or_default();
        format!("{pattern} {}", self.how_often).trim_end().to_owned()
    }
}

/// What is done to the props where a section begins, or in a pause.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Handling {
    /// When: amid a pause, or at the section's own first throw.
    pub(super) at: f64,
    /// The word that is written.
    pub(super) word: &'static str,
    /// All of it.
    pub(super) title: String,
}

/// The sections of a routine, in the order of the score.
pub(super) fn sections(act: &Act) -> Vec<Section> {
    let Act { routine, timeline, .. } = act;
    let entries = routine.score.iter().zip(&timeline.sections).enumerate();
    entries
        .map(|(index, (entry, span))| {
            let name = text::clean(&entry.name.value);
            let pattern = match &entry.part {
                Part::Juggle(juggle) => Some(text::clean(&juggle.pattern.text)),
                Part::Pause(_) | Part::Unread(_) => None,
            };
            let unread = entry.unread().is_some();
            let torn = span.juggle.as_ref();
            let torn = torn.is_some_and(|juggle| juggle.joining == Joining::Torn);
            let length = &span.ends - &span.starts;
            let lasts = length.range();
            let detail = match &span.juggle {
                Some(juggle) if juggle.pace_known => tempo(timeline, juggle),
                Some(_) => String::new(),
                None if unread => "not read".to_owned(),
                None => format!("pause {}", lasts.seconds_text()).trim_end().to_owned(),
            };
            let transition = span.juggle.as_ref().and_then(|juggle| {
                let taken = juggle.transition.as_ref().filter(|_| juggle.way_known)?;
                let run = timeline.runs.get(juggle.run)?;
                Some((run.tempo.at_f64(f64::from(juggle.own_first_beat)), transition(taken)))
            });
            let handling = handling(act, index);
            let edges = [span.starts.range(), span.ends.range()];
            let how_often = span.juggle.as_ref().and_then(|juggle| juggle.how_often());
            let how_often = how_often.unwrap_or_default();
            let juggled = pattern.as_ref().map(|pattern| format!("{pattern} {how_often}"));
            let juggled = juggled.as_deref().map(str::trim_end);
            let mut title = title(&name, juggled, &detail, transition.as_ref(), &edges);
            if torn {
                title += &format!("; {TORN}");
            }
            let is_open = pattern.is_none() && lasts.uncertain().is_some();
            Section {
                from: span.starts.shortest().to_f64(),
                to: span.ends.shortest().to_f64(),
                title: match &handling {
                    Some(handling) => format!("{title}; {}", handling.title),
                    None => title,
                },
                name,
                pattern,
                how_often,
                unread,
                torn,
                is_open,
                detail,
                transition,
                handling,
            }
        })
        .collect()
}

/// What a section does to the props.
fn handling(act: &Act, index: usize) -> Option<Handling> {
    let Act { timeline, .. } = act;
    if let Some(line) = regrip::of_section(act, index) {
        let title = text::clean(&format!("regrip: {}", line.words()));
        let span = timeline.sections.get(index)?;
        let at = (span.starts.shortest().to_f64() + span.ends.shortest().to_f64()) / 2.0;
        return Some(Handling { at, word: "regrip", title });
    }
    let title = regrip::other_face_words(timeline, index)?;
    let juggle = timeline.sections.get(index)?.juggle.as_ref()?;
    let at = timeline.runs.get(juggle.run)?.tempo.at_f64(f64::from(juggle.own_first_beat));
    Some(Handling { at, word: "other face", title })
}

fn title(
    name: &str,
    pattern: Option<&str>,
    detail: &str,
    transition: Option<&(f64, String)>,
    edges: &[TimeRange; 2],
) -> String {
    let pattern = pattern.map(|pattern| format!(" {pattern},")).unwrap_or_default();
    let transition =
        transition.map(|(_, label)| format!(", transition {label}")).unwrap_or_default();
    let [from, to] = edges.each_ref().map(TimeRange::clock);
    let when = match (from.is_empty(), to.is_empty()) {
        (false, false) => format!(", {from} to {to}"),
        (false, true) => format!(", from {from}"),
        (true, false) => format!(", to {to}"),
        (true, true) => String::new(),
    };
    format!("{name}:{pattern} {detail}{transition}{when}")
}

/// `4`, `R waits`, or both.
fn transition(taken: &TakenTransition) -> String {
    let throws = taken.throws.to_string();
    let waits = taken.waits.map(|hand| match hand {
        Hand::Left => "L waits",
        Hand::Right => "R waits",
    });
    let parts = [Some(throws.as_str()).filter(|throws| !throws.is_empty()), waits];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// The tempo of a section's own beats: `200/min`, of a ramp `180–220/min`.
fn tempo(timeline: &Timeline, juggle: &JuggleSpan) -> String {
    let Some(run) = timeline.runs.get(juggle.run) else { return String::new() };
    let first = i64::from(juggle.own_first_beat);
    let Some(piece) = run.tempo.piece_at(first.into()) else { return String::new() };
    match &piece.pace {
        Pace::Steady(tempo) => format!("{}/min", per_minute(tempo.to_f64())),
        Pace::Ramp { from, to } => {
            format!("{}–{}/min", per_minute(from.to_f64()), per_minute(to.to_f64()))
        }
        Pace::Music { throws, .. } => format!("{throws} per music beat"),
    }
}

/// Throws a minute with at most one decimal.
fn per_minute(tempo: Option<f64>) -> String {
    let tenths = (tempo.unwrap_or(0.0) * 10.0).round();
    if tenths % 10.0 == 0.0 {
        format!("{:.0}", tenths / 10.0)
    } else {
        format!("{:.1}", tenths / 10.0)
    }
}
