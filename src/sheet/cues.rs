//! The cue sheet: one line for each cue, in order of GO, written for a stranger at a desk in the
//! dark, with the sections of the score between them so that a place is found again.
//!
//! Every line has a time and a trigger. Times are exact seconds on the show clock.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::issue::Told;
use crate::routine::{Crew, Cue, CueOnPaper};

use super::caution::{Caution, cautions};
use super::cue_line::{CueLine, written};
use super::flames::{FlamesLine, flames};
use super::heading::{Heading, zero};
use super::music_list::{MusicList, music_list};
use super::on;
pub use super::paper::papers;
use super::paper::since;
use super::section_row::{SectionRow, section_rows};
use super::stamp::{StampClocks, TimecodeClock};
use super::time_signals::with_time_signals;

/// The contents of the cue sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CueSheet {
    /// Its head.
    pub heading: Heading,
    /// The one crew whose sheet it is; `None` for all.
    pub crew: Option<Crew>,
    /// The act.
    pub act: CuePart,
    /// The encore; `None` where none of its cues are on this sheet.
    pub encore: Option<CuePart>,
    /// What whoever runs the room should know.
    pub cautions: Vec<Caution>,
    /// The issue that the cues are held against; `None` where nothing was handed out before.
    pub since: Option<u32>,
    /// The cues of that issue that are gone, as they stood there, those of its encore too.
    pub cut: Vec<CueOnPaper>,
}

/// The cues of the act, or of its encore, whose times have a zero of their own.
#[derive(Clone, Debug, PartialEq)]
pub struct CuePart {
    /// Where its clock reads zero, in words.
    pub zero: String,
    /// In order of GO; in a draft those last that cannot be called, without a time.
    pub lines: Vec<CueLine>,
    /// The entries of the score, in order.
    pub sections: Vec<SectionRow>,
    /// When fire is lit and put out, in order.
    pub flames: Vec<FlamesLine>,
    /// The tracks, for all crews and for Sound.
    pub music: MusicList,
    /// The clock of its time codes, if it has any.
    pub timecode: Option<TimecodeClock>,
    /// Whether its music has bars.
    pub has_bars: bool,
}

impl CuePart {
    fn of(act: &Act, lines: Vec<CueLine>, music: MusicList) -> CuePart {
        CuePart {
            zero: zero(&act.routine),
            lines,
            sections: section_rows(act),
            flames: flames(act),
            music,
            timecode: None,
            has_bars: StampClocks::of(act).have_bars(),
        }
    }

    fn mark(&mut self, clock: &TimecodeClock) {
        let gos = self.lines.iter_mut().map(|line| &mut line.go);
        let sections = self.sections.iter_mut().map(|section| &mut section.starts);
        let flames = self.flames.iter_mut().map(|line| &mut line.at);
        gos.chain(sections).chain(flames).for_each(|at| clock.mark(at));
        self.timecode = Some(clock.clone());
    }

    fn of_crew(&self, crew: Crew) -> CuePart {
        let own = self.lines.iter().filter(|line| line.crew == crew);
        let music = if crew == Crew::Sound { self.music.clone() } else { MusicList::default() };
        CuePart { lines: own.cloned().collect(), music, ..self.clone() }
    }

    /// Whether neither cue nor flames nor music stand on it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.flames.is_empty() && self.music.is_empty()
    }
}

impl CueSheet {
    /// Whether any music on it has bars, the act's or the encore's.
    #[must_use]
    pub fn any_bars(&self) -> bool {
        self.parts().any(|(part, _)| part.has_bars)
    }

    /// The act and its encore, each with whether it is the encore.
    pub fn parts(&self) -> impl Iterator<Item = (&CuePart, bool)> {
        let encore = self.encore.iter().map(|encore| (encore, true));
        std::iter::once((&self.act, false)).chain(encore)
    }

    /// All lines, those of the encore last.
    pub fn all_lines(&self) -> impl Iterator<Item = &CueLine> {
        self.parts().flat_map(|(part, _)| &part.lines)
    }

    /// The cues of the act, or of its encore, that were cut.
    pub fn cut_of(&self, encore: bool) -> impl Iterator<Item = &CueOnPaper> {
        self.cut.iter().filter(move |cue| cue.encore == encore)
    }

    /// The sheet with the time code of every GO, in the encore too where that has a clock for it.
    #[must_use]
    pub fn with_timecode(mut self, clock: &TimecodeClock) -> CueSheet {
        self.act.mark(clock);
        if let (Some(encore), Some(clock)) = (&mut self.encore, &clock.encore) {
            encore.mark(clock);
        }
        self
    }

    /// The sheet of one crew.
    #[must_use]
    pub fn of_crew(&self, crew: Crew) -> CueSheet {
        let cut: Vec<CueOnPaper> =
            self.cut.iter().filter(|cue| cue.crew == crew).cloned().collect();
        let encore = self.encore.as_ref().map(|encore| encore.of_crew(crew));
        let cut_there = cut.iter().any(|cue| cue.encore);
        CueSheet {
            crew: Some(crew),
            act: self.act.of_crew(crew),
            encore: encore.filter(|encore| cut_there || !encore.is_empty()),
            cut,
            ..self.clone()
        }
    }

    /// The crews that have cues on it, or had some that were cut.
    #[must_use]
    pub fn crews(&self) -> BTreeSet<Crew> {
        let cut = self.cut.iter().map(|cue| cue.crew);
        self.all_lines().map(|line| line.crew).chain(cut).collect()
    }

    /// Whether the crew whose sheet it is had cues, and every one of them was cut.
    #[must_use]
    pub fn all_cut(&self) -> bool {
        !self.cut.is_empty() && self.all_lines().next().is_none()
    }
}

/// What a drop does to a dark, however it is taken.
pub const DARK_WHEN_A_PROP_DROPS: &str =
    "wait until every prop is in the hands or on the floor; then take it as it is written.";

/// What happens to the cues when a prop drops: how they are taken, and what that means.
pub const WHEN_A_PROP_DROPS: [(&str, &str); 3] = [
    ("SEE, HEAR", "take it by eye or ear when it happens, not by the clock."),
    ("CALLED", "wait for the call and ignore the time."),
    ("FOLLOW", "goes with the cue that it follows."),
];

/// Composes the cue sheet of all crews, or of one.
#[must_use]
pub fn compose(act: &Act, crew: Option<Crew>) -> CueSheet {
    let sheet = of_all(act);
    match crew {
        Some(crew) => sheet.of_crew(crew),
        None => sheet,
    }
}

fn of_all(act: &Act) -> CueSheet {
    let Act { routine, encore, .. } = act;
    let mut all = written(act);
    let act_lines = all.len();
    all.extend(encore.iter().flat_map(|encore| written(encore)));
    // A draft is held against nothing: what an error hides would look changed.
    let changes = if act.errors > 0 { None } else { since(routine, &all, act_lines) };
    let mut told = changes.as_ref().map_or(&[][..], |changes| &changes.compared.told).iter();
    let mut on = on::after_each(act, None);
    on.resize(act_lines, None);
    on.extend(encore.iter().flat_map(|encore| on::after_each(encore, Some(act))));
    for ((_, line), on) in all.iter_mut().zip(on) {
        line.told = told.next().cloned().unwrap_or(Told::Same);
        line.on = on;
    }
    let of_encore = all.split_off(act_lines);
    let music = music_list(act, &all, None);
    let lines = |all: Vec<(&Cue, CueLine)>| all.into_iter().map(|(_, line)| line).collect();
    let act_part = CuePart::of(act, with_time_signals(act, lines(all)), music);
    let mut pointed: Vec<Caution> = act.with_encore().flat_map(cautions).collect();
    pointed.sort();
    pointed.dedup();
    let (since, cut) =
        changes.map_or((None, Vec::new()), |changes| (Some(changes.since), changes.compared.cut));
    let encore = encore.as_deref().map(|encore| {
        let music = music_list(encore, &of_encore, Some(act));
        CuePart::of(encore, lines(of_encore), music)
    });
    let cut_there = cut.iter().any(|cue| cue.encore);
    CueSheet {
        heading: Heading::of(act),
        crew: None,
        act: act_part,
        encore: encore.filter(|encore| cut_there || !encore.is_empty()),
        cautions: pointed,
        since,
        cut,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn a_crews_own_sheet_keeps_the_numbers_and_the_ends_of_darks() {
        let quay = lantern_quay();
        let sheet = compose(&compiled(&quay), Some(Crew::Light));
        let labels: Vec<_> = sheet.act.lines.iter().map(|line| line.label.as_str()).collect();
        assert_eq!(labels, ["LX 15", "LX 20", "LX 25"]);
        assert_eq!(sheet.act.lines[1].notes, ["DARK until LX 25 at 0:34.6"]);
        assert_eq!(sheet.cautions, [Caution::Dark]);
    }
}
