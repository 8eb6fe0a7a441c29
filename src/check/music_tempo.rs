//! Tempos that follow the music: the bars that they need, and whether they fall on the beat.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{Accent, Juggle, Tempo};
use crate::time::seconds_text;
use crate::timeline::{Trouble, WhyNoBars, off_grid};

use super::{Case, Check, Finds};

macro_rules! with_music {
    ($bars:literal, $score:literal) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    zero: TrackStart,\n",
            "    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"three\": Set(kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"coral\", \"coral\"]) },\n",
            "    music: Track(file: \"lantern.wav\", length: \"1:00\", starts: Start(\"listen\")",
            $bars,
            "),\n    score: [\n",
            $score,
            "    ],\n)\n"
        )
    };
}

pub(super) const WITHOUT_BARS: Check = Check {
    code: "tempo-without-bars",
    what: "A tempo of throws a music beat stands where the music has bars.",
    why: "The bars say how fast the music goes; without them no throw can be timed to it.",
    raises: with_music!(
        "",
        r#"        Pause(name: "listen", lasts: For("0:04")),
        Juggle(
            name: "tide", set: "three", pattern: "3", lasts: Beats(16),
            tempo: PerMusicBeat(throws: 2, accent: Throw),
        ),
"#
    ),
    mended: with_music!(
        ", bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]",
        r#"        Pause(name: "listen", lasts: For("0:04")),
        Juggle(
            name: "tide", set: "three", pattern: "3", lasts: Beats(16),
            tempo: PerMusicBeat(throws: 2, accent: Throw),
        ),
"#
    ),
    finds: Finds::Compiled(without_bars),
};

pub(super) const OFF_THE_MUSIC: Check = Check {
    code: "off-the-music",
    what: "A section at a tempo of throws a music beat begins where its accents, the throws or the \
           catches, fall on the music within 1 ms.",
    why: "Otherwise it is as fast as the music but off it, from the first throw to the last.",
    raises: with_music!(
        ", bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]",
        r#"        Pause(name: "listen", lasts: For("0:04.1")),
        Juggle(
            name: "tide", set: "three", pattern: "3", lasts: Beats(16),
            tempo: PerMusicBeat(throws: 2, accent: Throw),
        ),
"#
    ),
    mended: with_music!(
        ", bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]",
        r#"        Pause(name: "listen", lasts: Until(Bar(3))),
        Juggle(
            name: "tide", set: "three", pattern: "3", lasts: Beats(16),
            tempo: PerMusicBeat(throws: 2, accent: Throw),
        ),
"#
    ),
    finds: Finds::Timed(off_the_music),
};

/// The tempo that has a section follow the music, its own or the one in force.
pub(super) fn followed<'a>(case: &Case<'a>, index: usize) -> Option<&'a Placed<Tempo>> {
    let written = case.juggles().take_while(|(at, ..)| *at <= index);
    let last = written.filter_map(|(_, _, juggle)| juggle.tempo.as_ref()).last();
    let in_force = last.or(case.routine().tempo.as_ref())?;
    matches!(in_force.value, Tempo::PerMusicBeat { .. }).then_some(in_force)
}

fn without_bars(case: &Case<'_>) -> Vec<Diagnostic> {
    // Said once: what follows goes on from there.
    let first = case.troubles().find_map(|trouble| match trouble {
        Trouble::OffBars { section, why } => Some((*section, why)),
        _ => None,
    });
    first
        .map(|(section, why)| {
            let name = &case.section(section).name;
            let at = tempo_place(case, case.juggle(section)).unwrap_or(&name.at);
            let (why, help) = match why {
                WhyNoBars::Unknown(why) => (
                    why.to_string(),
                    "write where the bars lie, in `music: Track(bars: [Bars(…)])`, or a tempo in \
                     throws a minute, such as `PerMinute(180)`",
                ),
                WhyNoBars::Before(by) => (
                    format!("it starts {} before the first bar", seconds_text(by)),
                    "begin it later, such as after a pause `Until(Bar(1))`, or write a tempo in \
                     throws a minute",
                ),
                WhyNoBars::After(by) => (
                    format!("it goes on {} after the end of the track", seconds_text(by)),
                    "end it earlier, or write a tempo in throws a minute for what is thrown after \
                     the music",
                ),
                WhyNoBars::Held(hold) => (
                    format!(
                        "the music stands still in the hold {:?} while it is thrown",
                        held(case, *hold)
                    ),
                    "end it where the hold begins, or write a tempo in throws a minute for what is \
                     thrown through the hold",
                ),
            };
            let message = format!("\"{}\" cannot follow the music: {why}", name.value);
            Diagnostic::error(WITHOUT_BARS.code, at.clone(), message).label("how fast?").help(help)
        })
        .into_iter()
        .collect()
}

/// What a hold of the first track is called.
fn held<'a>(case: &Case<'a>, hold: usize) -> &'a str {
    let hold = case.routine().first_track().and_then(|track| track.holds.get(hold));
    hold.map_or("", |hold| hold.name.value.as_str())
}

fn off_the_music(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = off_grid(case.routine(), case.timeline()).into_iter().map(|off| {
        let name = &case.section(off.section).name;
        let at = tempo_place(case, case.juggle(off.section)).unwrap_or(&name.at);
        let what = match off.accent {
            Accent::Throw => "throws",
            Accent::Catch => "catches",
        };
        let [before, after] = &off.nearest;
        let message = format!(
            "the {what} of \"{}\" do not fall on the music: its own first throw comes at {}, {:.3} s \
             after a moment that would do and {:.3} s before the next",
            name.value,
            off.at.range().clock(),
            (&off.at - before).shortest().to_f64(),
            (after - &off.at).shortest().to_f64(),
        );
        let help = match off.accent {
            Accent::Throw => "let what is before it last `Until(Bar(…))`",
            Accent::Catch => {
                "let what is before it last `Until(Bar(…))`: the first throw then comes so much \
                 later that the catches fall on the music"
            }
        };
        Diagnostic::warning(OFF_THE_MUSIC.code, at.clone(), message).label("beside it").help(help)
    });
    found.collect()
}

/// Where a section's tempo is written: with it, or for the whole routine.
fn tempo_place<'a>(case: &Case<'a>, juggle: &'a Juggle) -> Option<&'a crate::diagnostic::Place> {
    juggle
        .tempo
        .as_ref()
        .map(|tempo| &tempo.at)
        .or_else(|| case.routine().tempo.as_ref().map(|tempo| &tempo.at))
}
