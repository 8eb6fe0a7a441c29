//! What was heard of a music file, and the proposal that comes of it: a `Track` as a routine file
//! has it. Nothing of it is certain until a juggler has listened.

use crate::sound::{Listening, LoudnessChange, Tempo};
use crate::time::{Seconds, written};

use super::words::plain;

/// What was heard, with the name of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct ListeningSheet {
    /// The file's name without its folder.
    pub file: String,
    /// What was heard.
    pub heard: Listening,
    /// Bars that follow from the steady beat, if there is one.
    pub bars: Option<BarsLine>,
    /// Marks to begin with: a name, and seconds from the first sample in thousandths.
    pub marks: Vec<(String, Seconds)>,
}

/// Bars from the first strong beat on.
#[derive(Clone, Debug, PartialEq)]
pub struct BarsLine {
    /// The first strong beat, in thousandths.
    pub from: Seconds,
    /// Music beats a minute, in hundredths.
    pub bpm: f64,
    /// Music beats to the bar.
    pub music_beats: u32,
}

/// Composes the sheet of a file.
#[must_use]
pub fn compose(file: &str, heard: Listening) -> ListeningSheet {
    let bars = heard.tempo.as_ref().and_then(bars);
    let mut marks = Vec::new();
    if let Some(bars) = &bars {
        marks.push(("first strong beat".to_owned(), bars.from.clone()));
    } else if heard.silence < heard.length {
        marks.push(("first sound".to_owned(), heard.silence.clone()));
    }
    let mut counts = (0, 0);
    for &LoudnessChange { at, by_db } in &heard.loudness_changes {
        let (word, count) =
            if by_db > 0.0 { ("louder", &mut counts.0) } else { ("quieter", &mut counts.1) };
        *count += 1;
        marks.push((format!("{word} {count}"), thousandths(at)));
    }
    ListeningSheet { file: plain(file), heard, bars, marks }
}

fn bars(tempo: &Tempo) -> Option<BarsLine> {
    Some(BarsLine {
        from: thousandths(*tempo.strong_beats.first()?),
        bpm: (tempo.bpm * 100.0).round() / 100.0,
        music_beats: tempo.music_beats,
    })
}

/// A time in whole thousandths.
#[must_use]
pub fn thousandths(seconds: f64) -> Seconds {
    Seconds::fraction((seconds * 1000.0).round() as i64, 1000)
}

impl ListeningSheet {
    /// The track as it would stand in a routine file. When it starts only the juggler knows: the
    /// first throw stands there until another moment is written.
    #[must_use]
    pub fn track(&self) -> String {
        let mut text = format!(
            "Track(\n    file: {}, length: \"{}\",\n    starts: FirstThrow,\n",
            quoted(&self.file),
            written(&self.heard.length)
        );
        if let Some(BarsLine { from, bpm, music_beats }) = &self.bars {
            text += &format!(
                "    bars: [Bars(from: \"{}\", bpm: {bpm}, music_beats: {music_beats}, number: 1)],\n",
                written(from)
            );
        }
        if !self.marks.is_empty() {
            text += "    marks: {\n";
            for (name, at) in &self.marks {
                text += &format!("        {}: \"{}\",\n", quoted(name), written(at));
            }
            text += "    },\n";
        }
        text + ")"
    }
}

/// A text as a routine file has it, in quotation marks.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
