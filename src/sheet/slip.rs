//! The running order slip: one line for the host.

use crate::act::Act;
use crate::time::TimeRange;

use super::heading::Heading;
use super::words::{plain, quoted};

/// What the host has of an act.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// Its head.
    pub heading: Heading,
    /// How long the act is; unknown after an error.
    pub lasts: TimeRange,
    /// How long its encore is, where it has one; unknown after an error.
    pub encore_lasts: Option<TimeRange>,
    /// What the host says before it; `None`: a blank to fill in.
    pub intro: Option<String>,
    /// Its music, track by track; empty for none, `None` where an error hides some.
    pub music: Option<Vec<String>>,
}

/// Composes the slip.
#[must_use]
pub fn compose(act: &Act) -> Slip {
    let lasts = |act: &Act| act.timeline.lasts().range();
    let venue = act.routine.venue.as_deref();
    let hidden = act.with_encore().any(|act| act.routine.hidden.music || act.routine.hidden.encore);
    let tracks = act.with_encore().flat_map(|act| {
        act.routine.all_tracks().map(|(name, track)| {
            let length = TimeRange::from(track.length.value.clone()).clock();
            let what = match (name, track.file_name()) {
                (_, Some(file)) => plain(file),
                (Some(name), None) => format!("live, {}", quoted(&name.value)),
                (None, None) => "live".to_owned(),
            };
            let encore = if act.routine.is_encore { "encore: " } else { "" };
            format!("{encore}{what} ({length})")
        })
    });
    Slip {
        heading: Heading::of(act),
        lasts: lasts(act),
        encore_lasts: match act.encore.as_deref() {
            None => act.routine.hidden.encore.then(TimeRange::unknown),
            Some(encore) => Some(lasts(encore)),
        },
        intro: venue.and_then(|venue| venue.intro.as_deref()).map(plain),
        music: (!hidden).then(|| tracks.collect()),
    }
}

impl Slip {
    /// How long, as in `4:18.3`, `0:54.4–0:59.4, encore 0:11.2`; empty where it is not known.
    #[must_use]
    pub fn length_words(&self) -> String {
        let encore = self.encore_lasts.as_ref().map(|encore| match encore.is_known() {
            true => format!(", encore {}", encore.clock()),
            false => ", encore not known".to_owned(),
        });
        let encore = encore.unwrap_or_default();
        match self.lasts.is_known() {
            true => self.lasts.clock() + &encore,
            false => String::new(),
        }
    }

    /// The music in one line; `None` where an error hides some.
    #[must_use]
    pub fn music_words(&self) -> Option<String> {
        let music = self.music.as_ref()?;
        Some(if music.is_empty() { "no music".to_owned() } else { music.join(", ") })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slip(score: &str, rest: &str) -> Slip {
        let text = format!(
            "Routine(title: \"Tide\\u{{7}} <1>\", tempo: PerMinute(200), zero: Start(\"in\"), colours: \
             {{ \"a\": \"red\" }}, sets: {{ \"3\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \
             \"a\"]) }}, score: [Pause(name: \"in\", lasts: For(\"0:10\")), {score}], {rest})"
        );
        let opened = crate::open(&text);
        compose(&opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics)))
    }

    #[test]
    fn a_slip_has_title_length_intro_and_music() {
        let plain = slip("", "");
        assert_eq!(plain.heading.title, "Tide <1>");
        assert_eq!((plain.length_words().as_str(), plain.intro), ("0:10.0", None));
        assert_eq!(slip("", "").music_words().as_deref(), Some("no music"));
        let all = slip(
            "Pause(name: \"wait\", lasts: Between(\"0:02\", \"0:09\")),",
            "venue: Venue(intro: \"Now\\nthe tide\"), music: Track(file: \"quay.ogg\", length: \"1:00\", \
             starts: Start(\"in\")), encore: Encore(score: [Pause(name: \"again\", lasts: \
             For(\"0:05\"))], tracks: { \"band\": Track(length: \"0:05\", starts: Start(\"again\")) })",
        );
        assert_eq!(all.length_words(), "0:12.0–0:19.0, encore 0:05.0");
        assert_eq!(all.intro.as_deref(), Some("Now the tide"));
        assert_eq!(
            all.music_words().as_deref(),
            Some("quay.ogg (1:00.0), encore: live, \"band\" (0:05.0)")
        );
    }

    #[test]
    fn a_draft_leaves_out_what_an_error_hides() {
        let draft = slip("Juggle(name: \"b\", pattern: \"(\", lasts: Beats(9)),", "music: Track()");
        assert!(draft.heading.draft().is_some());
        assert_eq!((draft.length_words().as_str(), draft.music_words()), ("", None));
    }
}
