//! How the cue sheet is asked for, and time codes beside the clock of any sheet.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use throwbook::time::FrameRate;

use super::{CrewName, PaperChoice};

/// How the cue sheet is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum CueFormat {
    /// A table for people.
    #[default]
    Text,
    /// For programs; its field names are documented and kept.
    Json,
    /// For spreadsheets.
    Csv,
    /// Pages for a browser to print, A4 on its side, to read at arm's length.
    Page,
}

/// Arguments of `cues`.
#[derive(Args, Debug)]
pub(crate) struct Cues {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// Print the cues of one crew only.
    #[arg(long, value_enum, ignore_case = true)]
    pub(crate) crew: Option<CrewName>,
    /// Time codes beside the clock.
    #[command(flatten)]
    pub(crate) timecode: TimecodeChoice,
    /// Print the cue that every crew is in after each GO instead, as a table.
    #[arg(long, conflicts_with_all = ["crew", "format"])]
    pub(crate) state: bool,
    /// How the sheet is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: CueFormat,
    /// Put a byte-order mark before CSV, so that a spreadsheet that guesses reads its letters right.
    #[arg(long)]
    pub(crate) for_spreadsheet: bool,
    /// The paper of --format page.
    #[command(flatten)]
    pub(crate) paper: PaperChoice,
}

/// Time codes beside the clock of a sheet.
#[derive(Args, Debug)]
pub(crate) struct TimecodeChoice {
    /// Give every time its time code too, at so many frames a second: on the track's clock where
    /// there is music, else on the show clock; 29.97 is drop-frame.
    #[arg(long, value_enum, value_name = "RATE")]
    pub(crate) timecode: Option<RateName>,
    /// What the time code reads where that clock begins; 00:00:00:00 unless you say so.
    #[arg(long, requires = "timecode", value_name = "HH:MM:SS:FF")]
    pub(crate) timecode_start: Option<String>,
}

/// A rate of time codes, as it is named on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum RateName {
    /// Film.
    #[value(name = "24")]
    F24,
    /// Video where the mains has 50 Hz.
    #[value(name = "25")]
    F25,
    /// 30000/1001, drop-frame.
    #[value(name = "29.97")]
    Drop2997,
    /// 30 exactly, no number left out.
    #[value(name = "30")]
    F30,
}

impl From<RateName> for FrameRate {
    fn from(name: RateName) -> FrameRate {
        match name {
            RateName::F24 => FrameRate::F24,
            RateName::F25 => FrameRate::F25,
            RateName::Drop2997 => FrameRate::Drop2997,
            RateName::F30 => FrameRate::F30,
        }
    }
}
