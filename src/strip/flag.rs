//! Cue flags: what is written on them, and the lanes they fly in so that none covers another.
//!
//! A flag flies to the right of its staff, to the left where the row ends. Staffs run down, so a
//! flag may never lie across the staff of one that flies above it.

use crate::act::Act;

use super::certainty::Certainty;
use super::millimetres::Mm;
use super::paper::RIGHT;
use super::text;

/// More lanes than these push the flights out of sight.
const MOST_LANES: usize = 8;
/// Between two flags of a lane.
const APART: Mm = Mm(1.0);
/// How far a flag may reach beyond the end of a row.
const BEYOND: Mm = Mm(6.0);
/// From the end of the writing to the flag's tip.
pub(super) const TIP: Mm = Mm(1.7);

/// A cue as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flag {
    /// GO, on the show clock.
    pub(super) go: f64,
    /// Crew and number: `LX 15`.
    pub(super) label: String,
    /// What the crew does.
    pub(super) does: String,
    /// Everything about it, for its title.
    pub(super) title: String,
    /// The stage is dark from its GO on.
    pub(super) dark: bool,
}

impl Flag {
    /// How wide the words beside it are, with the gaps around them.
    pub(super) fn words_width(&self) -> Mm {
        text::width(&self.does, text::SMALL, false) + Mm(1.1)
    }

    /// How wide the flag itself is.
    pub(super) fn width(&self) -> Mm {
        text::width(&self.label, text::SMALL, true) + Mm(1.6) + TIP
    }
}

/// The cues in the order of GO; and in words those of a draft that have no place in the drawing.
pub(super) fn flags(act: &Act, certainty: &Certainty) -> (Vec<Flag>, Vec<String>) {
    let Act { routine, .. } = act;
    let without_go = act.calls.without_go(routine);
    let (mut flags, mut unplaced) = (Vec::new(), Vec::new());
    for call in act.calls.calls.iter().chain(&without_go) {
        let Some(cue) = routine.cues.get(call.cue) else { continue };
        let does = text::clean(&cue.does.value.words());
        let go = call.go.range().clock();
        let (label, title) = match go.is_empty() {
            false => (cue.label(), format!("{} GO {go}: {does}", cue.label())),
            true => (format!("{} ?", cue.label()), format!("{}: {does}", cue.label())),
        };
        if certainty.places(&call.go) {
            let go = call.go.shortest().to_f64();
            flags.push(Flag { go, label, does, title, dark: cue.dark });
        } else {
            unplaced.push(title);
        }
    }
    flags.sort_by(|a, b| a.go.total_cmp(&b.go));
    (flags, unplaced)
}

/// A flag in its lane.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flown {
    /// Its index.
    pub(super) flag: usize,
    /// The place of its staff.
    pub(super) staff: Mm,
    /// Its ends on paper.
    pub(super) from: Mm,
    /// See `from`.
    pub(super) to: Mm,
    /// Its lane, 0 the lowest.
    pub(super) lane: usize,
    /// Up to where words may follow it.
    pub(super) room_to: Mm,
}

impl Flown {
    /// Whether it flies to the left of its staff.
    pub(super) fn flies_left(&self) -> bool {
        self.from < self.staff
    }
}

/// The flags of one row.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Lanes {
    /// In order of GO.
    pub(super) flags: Vec<Flown>,
    /// How many lanes they take.
    pub(super) count: usize,
    /// How many flags found no lane.
    pub(super) left_out: usize,
}

impl Lanes {
    /// Gives each flag (index, staff, width, width of the words beside it; in order of GO) the
    /// lowest lane in which it covers nothing, one with room for its words if there is one.
    pub(super) fn assign(flags: Vec<(usize, Mm, Mm, Mm)>) -> Lanes {
        let mut lanes = Lanes::default();
        for (flag, staff, width, words) in flags.into_iter().rev() {
            let left = staff + width > RIGHT + BEYOND;
            let (from, body) = if left { (staff - width, staff) } else { (staff, staff + width) };
            let free = |lane: usize, to: Mm| {
                lanes.flags.iter().all(|other: &Flown| {
                    let crosses_body = other.lane < lane && other.from < staff && staff < other.to;
                    let under_staff = other.lane > lane && from < other.staff && other.staff < body;
                    let beside = to + APART <= other.from || other.to + APART <= from;
                    !crosses_body && !under_staff && (other.lane != lane || beside)
                })
            };
            let with_words = if left { body } else { body + words };
            let lane_for = |to: Mm| (0..MOST_LANES).find(|&lane| free(lane, to));
            match lane_for(with_words).or_else(|| lane_for(body)) {
                Some(lane) => {
                    let to = body;
                    lanes.flags.push(Flown { flag, staff, from, to, lane, room_to: to });
                    lanes.count = lanes.count.max(lane + 1);
                }
                None => lanes.left_out += 1,
            }
        }
        lanes.flags.reverse();
        for index in 0..lanes.flags.len() {
            let flown = &lanes.flags[index];
            // Words may cross the staff of a flag that flies above them, but no other flag's words.
            let in_the_way = lanes.flags.iter().filter(|other| other.lane == flown.lane);
            let next = in_the_way
                .map(|other| other.from)
                .filter(|&from| from >= flown.to)
                .fold(RIGHT + BEYOND, Mm::min);
            lanes.flags[index].room_to = next - APART;
        }
        lanes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lanes(staffs: &[f64]) -> Vec<usize> {
        let flags = staffs.iter().enumerate().map(|(index, &x)| (index, Mm(x), Mm(12.0), Mm(0.0)));
        Lanes::assign(flags.collect()).flags.iter().map(|flown| flown.lane).collect()
    }

    #[test]
    fn flags_that_would_collide_go_up_so_that_no_staff_crosses_a_flag() {
        for (staffs, expected) in [
            (vec![30.0, 60.0], vec![0, 0]),
            (vec![30.0, 36.0], vec![1, 0]),
            (vec![30.0, 36.0, 42.0], vec![2, 1, 0]),
            (vec![30.0, 30.0], vec![1, 0]),
            (vec![30.0, 36.0, 50.0], vec![1, 0, 0]),
        ] {
            assert_eq!(lanes(&staffs), expected, "{staffs:?}");
        }
    }

    #[test]
    fn a_flag_goes_up_for_its_words_and_without_a_lane_for_them_stands_alone() {
        let lanes = |words: f64, count: usize| {
            let flags = (0..count).map(|at| (at, Mm(30.0 + 20.0 * at as f64), Mm(12.0), Mm(words)));
            let lanes = Lanes::assign(flags.collect());
            lanes.flags.iter().map(|flown| flown.lane).collect::<Vec<_>>()
        };
        assert_eq!(lanes(5.0, 3), [0, 0, 0], "they have room");
        assert_eq!(lanes(25.0, 3), [0, 1, 0], "every other one goes up");
        let many = lanes(300.0, 12);
        assert_eq!((many.len(), many.iter().max()), (12, Some(&(MOST_LANES - 1))));
    }

    #[test]
    fn a_flag_at_the_end_of_a_row_flies_to_the_left() {
        let lanes = Lanes::assign(vec![(0, RIGHT, Mm(12.0), Mm(0.0))]);
        assert!(lanes.flags[0].flies_left());
        assert_eq!(lanes.flags[0].to, RIGHT);
    }

    #[test]
    fn a_thousand_cues_at_one_moment_are_counted_where_they_cannot_be_drawn() {
        let lanes =
            Lanes::assign((0..1000).map(|flag| (flag, Mm(50.0), Mm(12.0), Mm(0.0))).collect());
        assert_eq!(lanes.flags.len() + lanes.left_out, 1000);
        assert_eq!(lanes.count, MOST_LANES);
    }
}
