//! The arms as they are drawn: where they are on each beat, and the short word for each way in
//! which a throw is made.

use crate::act::Act;
use crate::routine::{Arms, Made};

use super::matter::{Detail, Matter};
use super::millimetres::Mm;
use super::text::{self, SMALL};
use super::thread::Release;

/// Where the arms are from one beat to the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ArmMark {
    /// The beat, on the show clock.
    pub(super) at: f64,
    /// The next beat.
    pub(super) until: f64,
    /// Where the arms are.
    pub(super) arms: Arms,
    /// What it is, in words, where the arms are crossed; nothing where they are open.
    pub(super) title: String,
}

/// The marks of a routine in order of time; none where no section has an arm cycle.
pub(super) fn marks(act: &Act) -> Vec<ArmMark> {
    let Act { routine, timeline, .. } = act;
    let mut marks = Vec::new();
    if !routine.has_arms() {
        return marks;
    }
    for (index, run) in timeline.runs.iter().enumerate() {
        let arms = timeline.arms(routine, index);
        for section in run.sections.clone() {
            let span = timeline.sections.get(section).and_then(|section| section.juggle.as_ref());
            let (Some(span), Some(entry)) = (span, routine.score.get(section)) else { continue };
            let name = text::clean(&entry.name.value);
            for own in 0..span.beats {
                let beat = span.own_first_beat + own;
                let Some(&Some(arms)) = arms.get(beat as usize) else { continue };
                marks.push(ArmMark {
                    at: run.tempo.at_f64(f64::from(beat)),
                    until: run.tempo.at_f64(f64::from(beat + 1)),
                    arms,
                    title: match arms {
                        Arms::Open => String::new(),
                        _ => format!("{}, beat {} of {name}", words(arms), own + 1),
                    },
                });
            }
        }
    }
    marks
}

/// A position of the arms, as the legend explains it.
pub(super) fn words(arms: Arms) -> &'static str {
    match arms {
        Arms::Open => "arms open",
        Arms::RightOver => "right arm over",
        Arms::LeftOver => "left arm over",
    }
}

/// The short word for a way, written beside the value of its throw.
pub(super) fn short(made: Made) -> &'static str {
    match made {
        Made::Inside => "in",
        Made::Outside => "out",
        Made::UnderWrist => "wr",
        Made::UnderLeg => "leg",
        Made::BehindBack => "bk",
        Made::OverTop => "top",
    }
}

/// From a line of values to the line of the ways below it.
const WAYS: Mm = Mm(3.2);
/// Height of the lane of the arms.
const ARMS: Mm = Mm(4.4);
/// From the line of a release to the value beside it, and from the value to the way beside that.
const BESIDE: (Mm, Mm) = (Mm(0.6), Mm(0.5));

/// How far into the room before the hand acts again the way of a release reaches, written beside
/// its value; `second` is a second on paper. At most 1 where it fits.
fn reach_beside(releases: &[Release], index: usize, second: Mm) -> f64 {
    let release = &releases[index];
    let Some(how) = release.how() else { return 0.0 };
    let next = releases[index + 1..].iter().find(|next| next.hand == release.hand);
    let Some(next) = next else { return 0.0 };
    let value = BESIDE.0 + text::width(&release.written, SMALL, true) + BESIDE.1;
    (value + text::width(&how, SMALL, false)) / (second * (next.at - release.at) + BESIDE.0 / 2.0)
}

/// How much taller a row from one time to another is: for a line of ways below each hand's values,
/// and for the lane of the arms.
pub(super) fn rooms(
    matter: &Matter<'_>,
    detail: Detail,
    (from, to): (f64, f64),
    second: Mm,
) -> (Mm, Mm) {
    if detail == Detail::Lines {
        return (Mm(0.0), Mm(0.0));
    }
    let first = matter.arms.partition_point(|mark| mark.until <= from);
    let crossing = matter.arms.get(first).is_some_and(|mark| mark.at < to);
    let below = ways_need_a_line(&matter.threads.releases, from, to, second);
    let room = |needed: bool, room: Mm| if needed { room } else { Mm(0.0) };
    (room(below, WAYS), room(crossing, ARMS))
}

/// Whether some way of a row does not fit beside its value, so that all of them get a line of
/// their own.
fn ways_need_a_line(releases: &[Release], from: f64, to: f64, second: Mm) -> bool {
    let first = releases.partition_point(|release| release.at < from);
    let after = releases.partition_point(|release| release.at < to);
    (first..after).any(|index| reach_beside(releases, index, second) > 1.0)
}

#[cfg(test)]
mod tests {
    use roxmltree::{Document, Node};

    use super::*;
    use crate::strip::layout::Layout;
    use crate::strip::scene::Scene;
    use crate::strip::strip;

    fn act(set: usize, score: &str) -> Act {
        let colours = vec!["\"a\""; set].join(", ");
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"s\": Set(kind: Ball, length: 0.07, colours: [{colours}]) }}, score: [{score}])"
        );
        let opened = crate::open(&text);
        let said: Vec<_> = opened.diagnostics.iter().map(|fault| &fault.message).collect();
        opened.finished().unwrap_or_else(|| panic!("{said:?}")).clone()
    }

    fn scene(act: &Act) -> Scene {
        Scene::new(
            act,
            act,
            |matter: &Matter<'_>| Layout::new(matter, super::super::paper::PAGE.1),
            None,
        )
    }

    const WEAVE: &str = "Juggle(name: \"weave\", set: \"s\", pattern: \"3\", lasts: Beats(60), \
                         arms: [RightOver, LeftOver])";

    /// Titles of groups, and how often each line of the group (right arm, left arm) is begun.
    fn signs(document: &Document<'_>) -> Vec<(String, [usize; 2])> {
        let begun = |group: &Node<'_, '_>, class: &str| {
            let lines = group.children().filter(|node| node.attribute("class") == Some(class));
            lines.filter_map(|line| Some(line.attribute("d")?.matches('M').count())).sum()
        };
        let groups = document.descendants().filter(|node| node.has_tag_name("g"));
        groups
            .filter_map(|group| {
                let title = group.first_element_child()?.text()?.trim().to_owned();
                let arms = title.contains("arm over") || title == "arms open";
                arms.then(|| (title, [begun(&group, "K"), begun(&group, "k")]))
            })
            .collect()
    }

    #[test]
    fn every_crossed_beat_is_drawn_once_with_the_arm_above_unbroken() {
        let svg = strip(&act(3, WEAVE));
        let document = Document::parse(&svg).unwrap();
        let signs = signs(&document);
        let beats: Vec<_> = signs.iter().filter(|(title, _)| title.ends_with("of weave")).collect();
        assert_eq!(beats.len(), 60, "18 s wrap into two rows, and no beat is drawn in both");
        for (title, broken) in beats {
            let over = if title.starts_with("right arm over") { [1, 2] } else { [2, 1] };
            assert_eq!(*broken, over, "{title}");
        }
        assert!(signs.contains(&("right arm over".to_owned(), [1, 2])), "the legend: {signs:?}");
        assert!(signs.contains(&("left arm over".to_owned(), [2, 1])), "the legend: {signs:?}");
    }

    #[test]
    fn open_arms_are_two_lines_side_by_side_and_a_transition_has_none() {
        let act = act(
            3,
            "Juggle(name: \"a\", set: \"s\", pattern: \"3\", lasts: Beats(6)),
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(4), transition: Throws(\"3\"), \
             arms: [Open, RightOver])",
        );
        let marks = marks(&act);
        let times: Vec<_> = marks.iter().map(|mark| (mark.at / 0.3).round() as i32).collect();
        assert_eq!(times, [0, 1, 2, 3, 4, 5, 7, 8, 9, 10], "beat 6 is the transition's");
        let svg = strip(&act);
        let document = Document::parse(&svg).unwrap();
        let open = signs(&document).into_iter().filter(|(title, _)| title == "arms open");
        let open: Vec<_> = open.map(|(_, lines)| lines).collect();
        assert_eq!(open, vec![[1, 1]; 4], "the legend, six beats as one, and one beat twice");
    }

    #[test]
    fn the_lane_lies_below_the_hands_and_only_where_there_are_arms() {
        let with = scene(&act(3, WEAVE));
        for row in &with.layout.rows {
            let bands = &row.bands;
            let arms = bands.arms.expect("every row is juggled");
            assert!(bands.values[0] < arms && arms < bands.bottom, "{bands:?}");
        }
        for pair in with.layout.rows.windows(2) {
            assert!(pair[0].bands.bottom < pair[1].bands.top);
        }
        let without = act(3, &WEAVE.replace(", arms: [RightOver, LeftOver]", ""));
        assert!(scene(&without).layout.rows.iter().all(|row| row.bands.arms.is_none()));
        assert!(!strip(&without).contains(">arms<"));
        let paused = act(3, &format!("Pause(name: \"p\", lasts: For(\"0:30\")), {WEAVE}"));
        let first = &scene(&paused).layout.rows[0].bands;
        assert_eq!(first.arms, None, "nobody juggles in the first row");
    }

    #[test]
    fn a_way_is_written_at_its_throw_and_said_of_its_flight() {
        let act = act(
            5,
            "Juggle(name: \"a\", set: \"s\", pattern: \"[54]24\", lasts: Cycles(2), \
             made: { 2: UnderLeg, 4: BehindBack })",
        );
        let hows: Vec<_> =
            scene(&act).threads.releases.iter().map(super::super::thread::Release::how).collect();
        let cycle = [Some("–/leg".to_owned()), None, Some("bk".to_owned())];
        assert_eq!(hows, [cycle.clone(), cycle].concat());
        let svg = strip(&act);
        let document = Document::parse(&svg).unwrap();
        let texts = document.descendants().filter(|node| node.has_tag_name("text"));
        let texts: Vec<_> = texts.filter_map(|node| node.text()).map(str::trim).collect();
        let times = |word: &str| texts.iter().filter(|&&text| text == word).count();
        let first = &scene(&act).layout.rows[0].bands;
        assert!(first.ways.is_some(), "[54] leaves no room beside it: {first:?}");
        assert_eq!((times("–/leg"), times("bk")), (2, 3), "bk in the legend too: {texts:?}");
        assert_eq!((times("under the leg"), times("behind the back")), (1, 1));
        assert_eq!(times("over the top"), 0, "only what is used is explained");
        let titles = document.descendants().filter(|node| node.has_tag_name("title"));
        let told = titles.filter_map(|node| node.text());
        assert_eq!(told.filter(|title| title.starts_with("4 a, behind the back, ")).count(), 2);
    }
}
