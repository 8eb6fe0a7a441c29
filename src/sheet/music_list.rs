//! The music list: for each track its file and length, and where it stands on the show clock and on
//! its own at its start, its holds, its end and every Sound cue while it may play.
//!
//! The operator finds the place in a file by it. What an error hides is told in words or left out.

use crate::act::Act;
use crate::diagnostic::words::either;
use crate::measure::sound_cues::{Meant, fades, meant};
use crate::routine::{Crew, Cue, Does, Track};
use crate::time::{Seconds, Time, TimeRange, seconds_text};
use crate::timeline::TrackSpan;

use super::cue_line::CueLine;
use super::on::Stands;
use super::words::{self, plain, quoted};

/// The music of an act, or of its encore.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MusicList {
    /// The tracks in the file's order.
    pub tracks: Vec<TrackLine>,
    /// What is to be known beside them.
    pub notes: Vec<String>,
}

/// A track.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackLine {
    /// Its name, if it has one.
    pub name: Option<String>,
    /// Its sound file; `None` for live music.
    pub file: Option<String>,
    /// Its length on its own clock.
    pub length: Seconds,
    /// Its points in order of time.
    pub points: Vec<TrackPoint>,
}

/// A point of a track.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackPoint {
    /// What happens.
    pub what: PointOf,
    /// When, on the show clock.
    pub at: TimeRange,
    /// What the track's own clock reads, in seconds from its first sample; unknown where it is not
    /// certain that it plays.
    pub on_track: TimeRange,
    /// The Sound cues that go then.
    pub cues: Vec<PointCue>,
    /// What else is to be known.
    pub notes: Vec<String>,
}

/// What happens at a point of a track.
#[derive(Clone, Debug, PartialEq)]
pub enum PointOf {
    /// Its first sample sounds.
    Start,
    /// It is held, for so long.
    Hold(String, TimeRange),
    /// It goes on after that hold.
    Resume(String),
    /// A cue fades it.
    Fade,
    /// Another cue goes.
    Cue,
    /// Its last sample sounds.
    End,
}

impl PointOf {
    /// As documents write it.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            PointOf::Start => "start",
            PointOf::Hold(..) => "hold",
            PointOf::Resume(_) => "resume",
            PointOf::Fade => "fade",
            PointOf::Cue => "cue",
            PointOf::End => "end",
        }
    }

    /// The hold that begins or ends.
    #[must_use]
    pub fn hold(&self) -> Option<&str> {
        match self {
            PointOf::Hold(name, _) | PointOf::Resume(name) => Some(name),
            _ => None,
        }
    }
}

/// A Sound cue at a point of a track.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointCue {
    /// Crew and number, as in `SND 20`.
    pub label: String,
    /// Its number.
    pub number: Option<String>,
    /// What it does; `None` where it holds the track or lets it go on, as the point says.
    pub does: Option<String>,
}

impl MusicList {
    /// Whether there is nothing to tell.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.tracks.is_empty() && self.notes.is_empty()
    }
}

impl TrackLine {
    /// Its name, its file and its length, as in `"day": surf.wav, 0:52.0 long`.
    #[must_use]
    pub fn words(&self) -> String {
        let name = self.name.as_deref().map(|name| format!("{}: ", quoted(name)));
        let file = self.file.as_deref().unwrap_or("live");
        let length = TimeRange::from(self.length.clone()).clock();
        format!("{}{file}, {length} long", name.unwrap_or_default())
    }
}

impl TrackPoint {
    /// What happens and on which cues, as in `start; SND 10 play day`.
    #[must_use]
    pub fn words(&self) -> String {
        let hold = self.what.hold().map(quoted).unwrap_or_default();
        let mut parts: Vec<String> = match &self.what {
            PointOf::Hold(_, lasts) if lasts.is_known() => {
                vec![format!("hold {hold} for {}", lasts.seconds_text())]
            }
            PointOf::Hold(..) | PointOf::Resume(_) => vec![format!("{} {hold}", self.what.word())],
            PointOf::Cue => Vec::new(),
            what => vec![what.word().to_owned()],
        };
        parts.extend(self.cues.iter().map(|cue| match &cue.does {
            Some(does) => format!("{} {does}", cue.label),
            None => cue.label.clone(),
        }));
        parts.extend(self.notes.iter().cloned());
        parts.join("; ")
    }
}

/// The music of an act with its cues in order of GO; `before` is the act of an encore.
pub(super) fn music_list(act: &Act, cues: &[(&Cue, CueLine)], before: Option<&Act>) -> MusicList {
    let spans = act.routine.all_tracks().zip(&act.timeline.tracks).enumerate();
    let sound = cues.iter().filter(|(cue, _)| cue.crew.value == Crew::Sound);
    let sound: Vec<SoundCue<'_>> =
        sound.map(|(cue, line)| SoundCue { cue, line, meant: meant(act, cue) }).collect();
    let tracks = spans.map(|(index, ((name, track), span))| {
        let name = name.map(|name| plain(&name.value));
        let mut points = OneTrack { act, index, name: name.as_deref(), track, span }.points(&sound);
        points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
        TrackLine {
            file: track.file_name().map(plain),
            length: track.length.value.clone(),
            points: points.into_iter().map(|(.., point)| point).collect(),
            name,
        }
    });
    let mut notes: Vec<String> = before.into_iter().flat_map(carried).collect();
    if act.routine.hidden.music {
        notes.push("Music that could not be read may be missing here.".to_owned());
    }
    MusicList { tracks: tracks.collect(), notes }
}

/// The tracks of an act that may still play where its encore begins.
fn carried(act: &Act) -> Vec<String> {
    let tracks = act.routine.all_tracks().zip(&act.timeline.tracks);
    let still = tracks.filter_map(|((name, _), span)| {
        // When a track ends or the act does may be hidden by an error: then it is said, too.
        let both = span.ends().zip(act.timeline.ends());
        let unknown = Time::zero().unknown(usize::MAX);
        let past = both.map_or(unknown, |(ends, score_ends)| &ends - score_ends);
        let name = name.map_or_else(
            || "The music".to_owned(),
            |name| format!("Track {}", quoted(&name.value)),
        );
        past_end(act, &past).map(|past| {
            format!("{name} of the act goes on {past} and may still play here, unless it is faded.")
        })
    });
    still.collect()
}

/// What ends with its score.
fn whole(act: &Act) -> &'static str {
    if act.routine.is_encore { "encore" } else { "act" }
}

/// How long something goes on after the act's end, in words; `None` where it never does.
fn past_end(act: &Act, past: &Time) -> Option<String> {
    let (range, whole) = (past.range(), whole(act));
    let Some((least, most)) = range.earliest().zip(range.latest()) else {
        return Some(format!("perhaps past the end of the {whole}"));
    };
    if *most <= Seconds::zero() {
        return None;
    }
    Some(match *least > Seconds::zero() {
        true => format!("{} past the end of the {whole}", range.seconds_text()),
        false => format!("up to {} past the end of the {whole}", seconds_text(most)),
    })
}

/// A Sound cue, its line, and what its words mean.
struct SoundCue<'a> {
    cue: &'a Cue,
    line: &'a CueLine,
    meant: Meant,
}

struct OneTrack<'a> {
    act: &'a Act,
    index: usize,
    name: Option<&'a str>,
    track: &'a Track,
    span: &'a TrackSpan,
}

/// A point with what it is sorted by: its earliest and its latest time, and its rank at one time.
type Sorted = (f64, f64, u8, TrackPoint);

impl OneTrack<'_> {
    fn points(&self, sound: &[SoundCue<'_>]) -> Vec<Sorted> {
        let OneTrack { span, track, .. } = self;
        let starts = span.starts.clone().unwrap_or_else(|| Time::zero().unknown(usize::MAX));
        let since_start = |on_track: &Seconds| &starts + &span.after_start(on_track);
        let mut own = vec![(PointOf::Start, starts.clone(), Seconds::zero())];
        for (written, hold) in track.holds.iter().zip(&span.holds) {
            let name = plain(&written.name.value);
            let from = since_start(&hold.from);
            let on = &from + &hold.lasts;
            own.push((PointOf::Hold(name.clone(), hold.lasts.range()), from, hold.from.clone()));
            own.push((PointOf::Resume(name), on, hold.from.clone()));
        }
        let ends = since_start(&span.length);
        own.push((PointOf::End, ends.clone(), span.length.clone()));
        let mut points: Vec<(Time, TrackPoint)> = own
            .into_iter()
            .map(|(what, time, on_track)| {
                let (at, on_track) = (time.range(), on_track.into());
                (time, TrackPoint { what, at, on_track, cues: Vec::new(), notes: Vec::new() })
            })
            .collect();
        let mut faded_by = Vec::new();
        for SoundCue { cue, line, meant } in sound {
            let go = &line.go.time;
            let means = meant.tracks.contains(&self.index);
            let fades = means && fades(cue);
            let point_cue = point_cue(cue, line);
            if fades && (span.may_play(go) || go.is_unknown()) {
                faded_by.push(line.label.clone());
            }
            let is_then = |time: &Time| (time - go).certain() == Some(&Seconds::zero());
            if let Some((_, point)) = points.iter_mut().find(|(time, _)| is_then(time)) {
                point.cues.push(point_cue);
                continue;
            }
            let is_known = !go.is_unknown() && !starts.is_unknown();
            let stands = self.stands(line);
            let is_over = stands.iter().all(|one| matches!(one, Stands::Faded | Stands::Ended));
            let concerns = if is_known { span.may_play(go) } else { means && !meant.or_else };
            if !concerns {
                continue;
            }
            if !fades && is_over && !stands.is_empty() {
                continue;
            }
            let on_track = span.reads(go).filter(|_| is_known).unwrap_or_else(TimeRange::unknown);
            let what = if fades { PointOf::Fade } else { PointOf::Cue };
            let mut notes = Vec::new();
            match stands.as_slice() {
                [] | [Stands::Playing] => {}
                [Stands::Faded] if fades => {}
                stands => {
                    let stands: Vec<&str> = stands.iter().map(|one| one.words()).collect();
                    notes.push(stands.join(" or "));
                }
            }
            let at = line.go.range();
            points.push((
                go.clone(),
                TrackPoint { what, at, on_track, cues: vec![point_cue], notes },
            ));
        }
        let written = words::moment(&track.starts.value);
        let past = self.act.timeline.ends().map(|score_ends| {
            let is_after = (&starts - score_ends).least() > Seconds::zero() && !starts.is_unknown();
            (past_end(self.act, &(&ends - score_ends)), is_after)
        });
        for (_, point) in &mut points {
            match point.what {
                PointOf::Start => {
                    if point.cues.is_empty() {
                        point.notes.push(format!("at {written}, on no cue"));
                    }
                    if !point.at.is_known() {
                        point.notes.push("when is not known".to_owned());
                    }
                    if let Some((_, true)) = past {
                        point.notes.push(format!("after the end of the {}", whole(self.act)));
                    }
                }
                PointOf::End => {
                    if let Some(past) = past.as_ref().and_then(|(past, _)| past.clone()) {
                        point.notes.push(past);
                    }
                    if !faded_by.is_empty() {
                        let by = either(&faded_by);
                        point.notes.push(format!("unless {by} has faded it"));
                    }
                }
                _ => {}
            }
        }
        points.into_iter().map(sorted).collect()
    }

    /// How it stands after a cue; empty where that is not known or it has not begun.
    fn stands(&self, line: &CueLine) -> Vec<Stands> {
        let tracks = line.on.as_ref().map_or(&[][..], |on| &on.tracks);
        // On the sheet of an encore the act's stand before its own.
        let own = tracks.iter().rfind(|track| track.name.as_deref() == self.name);
        own.map(|track| track.stands.clone()).unwrap_or_default()
    }
}

fn point_cue(cue: &Cue, line: &CueLine) -> PointCue {
    let of_hold = matches!(cue.does.value, Does::HoldTrack(_) | Does::ResumeTrack(_));
    PointCue {
        label: line.label.clone(),
        number: line.number.clone(),
        does: (!of_hold).then(|| line.does.plain()),
    }
}

fn sorted((time, point): (Time, TrackPoint)) -> Sorted {
    let rank = match point.what {
        PointOf::Start => 0,
        PointOf::End => 2,
        _ => 1,
    };
    if time.is_unknown() {
        // Where nothing is known of when, a track still begins before all else and ends last.
        let at = if rank == 0 { f64::NEG_INFINITY } else { f64::INFINITY };
        return (at, at, rank, point);
    }
    (time.least().to_f64(), time.most().to_f64(), rank, point)
}
