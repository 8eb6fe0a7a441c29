//! How pages are asked for: the paper, and the sheets of a booklet.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::CrewName;

/// What pages are printed on.
#[derive(Args, Debug)]
pub(crate) struct PaperChoice {
    /// The paper that pages are made for.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) paper: PaperName,
    /// Print this date at the foot of every page, such as 2026-12-04.
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<String>,
    /// Look here too for characters that the program's own typefaces lack: a TrueType or OpenType
    /// file. Give it again for more.
    #[arg(long, value_name = "FILE")]
    pub(crate) font: Vec<PathBuf>,
}

/// Paper, as it is named on the command line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperName {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

/// Arguments of `print`.
#[derive(Args, Debug)]
pub(crate) struct Print {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// The sheets, in the order in which they are printed.
    #[arg(long, value_enum, value_delimiter = ',', default_values_t = SheetName::BOOKLET)]
    pub(crate) what: Vec<SheetName>,
    /// The cue sheet of one crew only.
    #[arg(long, value_enum, ignore_case = true)]
    pub(crate) crew: Option<CrewName>,
    /// What they are printed on.
    #[command(flatten)]
    pub(crate) paper: PaperChoice,
    /// The file to write: a PDF, or where its name ends in .html a page for a browser.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
}

/// A sheet to print, as it is named on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetName {
    /// The cue sheet.
    Cues,
    /// The timing strip.
    Strip,
    /// The timing strip for a wall, on A3.
    Wall,
    /// The practice cards.
    Cards,
    /// What a venue asks before the act comes.
    Venue,
    /// The list of moves.
    Moves,
    /// The slip for the running order.
    Slip,
}

impl SheetName {
    /// What a booklet holds unless something else is asked for.
    const BOOKLET: [SheetName; 4] =
        [SheetName::Cues, SheetName::Strip, SheetName::Cards, SheetName::Venue];
}
