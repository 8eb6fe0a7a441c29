//! An act in lines, some of which leave a length open, and its text with those lengths open or
//! fixed. Lengths are in thousandths of a second.

use crate::said::names::clock;

/// A length that is left open.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Open {
    /// As a message calls it: `"applause"`, `the hold "freeze"`.
    pub(crate) called: String,
    pub(crate) least: i64,
    pub(crate) most: i64,
    /// Whether it is a pause; else a hold.
    pub(crate) is_pause: bool,
}

/// An entry of the act: its text, with `@` where an open length is written.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    pub(crate) text: String,
    pub(crate) open: Option<Open>,
}

impl Line {
    pub(crate) fn sure(text: impl Into<String>) -> Line {
        Line { text: text.into(), open: None }
    }
}

/// A track and its holds.
#[derive(Clone, Debug)]
pub(crate) struct Track {
    pub(crate) name: String,
    /// File, length, start, marks and bars.
    pub(crate) fields: String,
    pub(crate) holds: Vec<Line>,
}

/// An encore.
#[derive(Clone, Debug, Default)]
pub(crate) struct Encore {
    pub(crate) score: Vec<Line>,
    pub(crate) cues: Vec<String>,
}

/// An act.
#[derive(Clone, Debug, Default)]
pub(crate) struct Act {
    /// Fields of the routine: tempo, zero, set-up.
    pub(crate) head: Vec<String>,
    /// Tested seconds alight of the torches, if any.
    pub(crate) burn: Option<i64>,
    pub(crate) tracks: Vec<Track>,
    /// Whether the tracks have names.
    pub(crate) named_tracks: bool,
    pub(crate) score: Vec<Line>,
    pub(crate) limits: Vec<String>,
    pub(crate) cues: Vec<String>,
    pub(crate) encore: Option<Encore>,
}

impl Act {
    /// Its entries that may leave a length open, in the order in which they are written.
    fn lines(&self) -> impl Iterator<Item = &Line> {
        let encore = self.encore.iter().flat_map(|encore| &encore.score);
        self.tracks.iter().flat_map(|track| &track.holds).chain(&self.score).chain(encore)
    }

    fn lines_mut(&mut self) -> impl Iterator<Item = &mut Line> {
        let encore = self.encore.iter_mut().flat_map(|encore| &mut encore.score);
        let holds = self.tracks.iter_mut().flat_map(|track| &mut track.holds);
        holds.chain(&mut self.score).chain(encore)
    }

    /// What is left open, in the order in which it is written.
    pub(crate) fn opens(&self) -> Vec<&Open> {
        self.lines().filter_map(|line| line.open.as_ref()).collect()
    }

    /// The act with one of its lengths fixed.
    pub(crate) fn fixing(&self, open: usize, length: i64) -> Act {
        let mut fixed = self.clone();
        if let Some(line) = fixed.lines_mut().filter(|line| line.open.is_some()).nth(open) {
            let lasts = line.open.take().map(|open| written(&open, Some(length)));
            line.text = line.text.replace('@', &lasts.unwrap());
        }
        fixed
    }

    /// The text of the act with all its lengths open.
    pub(crate) fn text(&self) -> String {
        self.with(&mut |_| None)
    }

    /// The text of the act with its lengths fixed, in the order of [`Act::opens`].
    pub(crate) fn fixed(&self, lengths: &[i64]) -> String {
        let mut lengths = lengths.iter().copied();
        self.with(&mut |_| lengths.next())
    }

    fn with(&self, length: &mut dyn FnMut(&Open) -> Option<i64>) -> String {
        let mut text = String::from("Routine(\n    title: \"Act\",\n");
        let mut put = |line: &str| {
            text += line;
            text.push('\n');
        };
        for line in &self.head {
            put(&format!("    {line},"));
        }
        put(concat!(
            "    colours: { \"coral\": \"#ec6a5c\", \"teal\": \"#0f8b8d\", \"pearl\": \"#f4f1e6\", ",
            "\"ink\": \"#202030\" },"
        ));
        put("    sets: {");
        put(
            "        \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]),",
        );
        put(
            "        \"four\": Set(kind: Ring, length: 0.3, colours: [\"coral\", \"teal\", \"pearl\", \"ink\"]),",
        );
        let burn = self.burn.map_or(String::new(), |burn| {
            format!("burn: [{}], ", crate::said::names::seconds(burn))
        });
        put(&format!(
            "        \"torches\": Set(kind: Torch, length: 0.6, {burn}colours: [\"coral\", \"coral\", \"coral\"]),"
        ));
        put("    },");
        if !self.tracks.is_empty() {
            put(if self.named_tracks { "    tracks: {" } else { "    music:" });
        }
        for track in &self.tracks {
            let name =
                if self.named_tracks { format!("\"{}\": ", track.name) } else { String::new() };
            put(&format!("        {name}Track({}, holds: {{", track.fields));
            for hold in &track.holds {
                put(&format!("            {},", of_line(hold, length)));
            }
            put("        }),");
        }
        if self.named_tracks && !self.tracks.is_empty() {
            put("    },");
        }
        put("    score: [");
        for line in &self.score {
            put(&format!("        {},", of_line(line, length)));
        }
        put("    ],");
        put("    limits: [");
        for limit in &self.limits {
            put(&format!("        {limit},"));
        }
        put("    ],");
        put("    cues: [");
        for cue in &self.cues {
            put(&format!("        {cue},"));
        }
        put("    ],");
        if let Some(encore) = &self.encore {
            put("    encore: Encore(score: [");
            for line in &encore.score {
                put(&format!("        {},", of_line(line, length)));
            }
            put("    ], cues: [");
            for cue in &encore.cues {
                put(&format!("        {cue},"));
            }
            put("    ]),");
        }
        put(")");
        text
    }
}

fn of_line(line: &Line, length: &mut dyn FnMut(&Open) -> Option<i64>) -> String {
    match &line.open {
        Some(open) => line.text.replace('@', &written(open, length(open))),
        None => line.text.clone(),
    }
}

/// An open length, or what it is fixed at.
fn written(open: &Open, length: Option<i64>) -> String {
    match (length, open.is_pause) {
        (None, _) => format!("Between({}, {})", clock(open.least), clock(open.most)),
        (Some(length), true) => format!("For({})", clock(length)),
        (Some(length), false) => format!("Between({}, {})", clock(length), clock(length)),
    }
}
