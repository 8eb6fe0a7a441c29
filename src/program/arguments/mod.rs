//! How the commands are called. The help texts are the user's first manual.

mod cues;
mod pages;
mod rehearsal;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use throwbook::hand::Hand;
use throwbook::routine::Crew;

pub(crate) use cues::{CueFormat, Cues, TimecodeChoice};
pub(crate) use pages::{PaperChoice, PaperName, Print, SheetName};
pub(crate) use rehearsal::{Captions, Click, Midi, PerName};

/// From a routine file to a checked timing sheet, a cue sheet and a timing strip.
#[derive(Debug, Parser)]
#[command(
    name = "throwbook",
    version,
    propagate_version = true,
    disable_help_subcommand = true,
    after_help = "Exit status: 0 fine, 1 the routine has errors, 2 the command could not run.\n\
                  Begin with: throwbook new act.ron && throwbook check act.ron"
)]
pub(crate) struct Arguments {
    /// When to write in colour.
    #[arg(long, global = true, value_enum, default_value_t = Color::Auto, value_name = "WHEN")]
    pub(crate) color: Color,
    /// Hear every music file again, and keep nothing of it in the user's cache folder.
    #[arg(long, global = true)]
    #[cfg_attr(not(feature = "audio"), allow(dead_code, reason = "nothing is heard then"))]
    pub(crate) no_cache: bool,
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// When to write in colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Color {
    /// On a terminal, unless NO_COLOR is set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Write a commented routine file to start from.
    New(New),
    /// Show everything that is wrong with routine files.
    Check(Check),
    /// Show what messages offer as changes of the file, and make those that are chosen.
    Mend(Mend),
    /// Print the timing sheet: sections, clocks, limits and throw counts.
    Time(Time),
    /// Print what fits: cycles and tempos that land sections on their ends, and to the music.
    Fit(Fit),
    /// Print the colour sheet: loadings, what every throw shows, and repairs.
    Colours(Colours),
    /// Print the cue sheet: every cue with its time and its trigger.
    Cues(Cues),
    /// Keep the cues of this issue, so that later sheets can tell what has changed.
    Issue(Issue),
    /// Hold two acts against each other: what has moved, and which edit moves it.
    Compare(Compare),
    /// Draw the timing strip: every throw over time, with cues and sections.
    Strip(Strip),
    /// Write a click track: a click for every throw or music beat.
    Click(Click),
    /// Write a MIDI file: tempo, markers at sections, cue points at cues.
    Midi(Midi),
    /// Write captions for a rehearsal's video: sections and cues.
    Captions(Captions),
    /// Write all documents of a routine into a folder.
    Build(Build),
    /// Make one booklet to print: cue sheets, strip, practice cards, and what the venue asks for.
    Print(Print),
    /// Explain one pattern: props, schedule, orbits and colours by every multiplex order, and each hand.
    Pattern(Pattern),
    /// Listen to a music file: its length, and a proposal for its tempo, bars and marks.
    Listen(Listen),
    /// Find the shortest ways from one pattern to another.
    Transition(Transition),
    /// Explain the code of a message, or a field, record or word of the routine file.
    Explain(Explain),
    /// Print the completions for a shell.
    Completions(Completions),
    /// Print the manual page.
    Man(Man),
}

/// How a report is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// Tables for people.
    #[default]
    Text,
    /// For programs; its field names are documented and kept.
    Json,
}

/// Arguments of `new`.
#[derive(Args, Debug)]
pub(crate) struct New {
    /// The file to write; one that is there is never overwritten.
    pub(crate) file: PathBuf,
}

/// Arguments of `check`.
#[derive(Args, Debug)]
pub(crate) struct Check {
    /// Routine files, or folders: every *.ron file in them is checked.
    #[arg(required = true, value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    /// Let warnings count as errors: the exit status is 1 for them too.
    #[arg(long)]
    pub(crate) strict: bool,
    /// Also say whether the documents in this folder are whole and unchanged, and whether the routine
    /// file has changed since they were built.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) built: Option<PathBuf>,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `mend`.
#[derive(Args, Debug)]
#[command(
    after_help = "Every offer was tried before it is shown. Comments and layout stay. The changed text is \
                  opened before anything is written: where a fault would still be there, nothing is. \
                  Exit status: 1 where errors are left."
)]
pub(crate) struct Mend {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// Make the changes of these numbers, such as 1,3, and write the file.
    #[arg(long, value_name = "N,N", value_delimiter = ',', conflicts_with = "all_safe")]
    pub(crate) apply: Vec<usize>,
    /// Make every change that moves nothing else, and write the file: no time, hand, colour, height,
    /// verdict or other cue, and no other fault.
    #[arg(long)]
    pub(crate) all_safe: bool,
}

/// Arguments of `time`.
#[derive(Args, Debug)]
pub(crate) struct Time {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// Print the list of moves that an entry form asks for instead: each with its declared
    /// catches, and those of a flash and of a qualify.
    #[arg(long, conflicts_with = "timecode")]
    pub(crate) moves: bool,
    /// Time codes beside the clock.
    #[command(flatten)]
    pub(crate) timecode: TimecodeChoice,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `fit`.
#[derive(Args, Debug)]
#[command(
    after_help = "A choice fits if it bends no further than the section says (3 % where it says \
                  nothing), stays within the room's height, and stays below the most catches a \
                  minute ever seen. A section without an end in time lands on the next mark or \
                  end of a pause, if that is near."
)]
pub(crate) struct Fit {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// Only this section, and not the music.
    #[arg(long, value_name = "NAME")]
    pub(crate) section: Option<String>,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `colours`.
#[derive(Args, Debug)]
#[command(after_help = "Exit status: 1 also where a colour request cannot be met.")]
pub(crate) struct Colours {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// List other loadings than the found one that meet every request, up to 20.
    #[arg(long)]
    pub(crate) all: bool,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `issue`.
#[derive(Args, Debug)]
pub(crate) struct Issue {
    /// The routine file. The record is written beside it: act.issued.ron for act.ron.
    pub(crate) file: PathBuf,
}

/// Arguments of `compare`.
#[derive(Args, Debug)]
#[command(
    after_help = "Sections are known by their names, then by what is juggled in them; cues by crew and \
                  number, then by what they do. The edits are made in turn, and what each moves is its \
                  doing. Exit status: 0 nothing is different, 1 something is, 2 the command could not \
                  run or there is no act in one of the files."
)]
pub(crate) struct Compare {
    /// The old routine file; with --issue or --git the routine file of now.
    #[arg(value_name = "OLD")]
    pub(crate) file: PathBuf,
    /// The new routine file.
    #[arg(value_name = "NEW", required_unless_present_any = ["issue", "git"])]
    pub(crate) new: Option<PathBuf>,
    /// Hold the file against what was handed out as that issue.
    #[arg(long, value_name = "N", conflicts_with_all = ["new", "git"])]
    pub(crate) issue: Option<u32>,
    /// Hold the file against what it was at that revision, where it lies in a git checkout.
    #[arg(long, value_name = "REV", conflicts_with = "new")]
    pub(crate) git: Option<String>,
    /// Also draw the new act at a glance into this SVG file, with the old one pale under it.
    #[arg(long, value_name = "SVG")]
    pub(crate) strip: Option<PathBuf>,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `strip`.
#[derive(Args, Debug)]
pub(crate) struct Strip {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// Draw the whole routine at a glance, in one row, instead.
    #[arg(long)]
    pub(crate) overview: bool,
    /// Whole seconds in a row, from 2 to 600; otherwise the fastest tempo decides.
    #[arg(long, value_name = "SECONDS", conflicts_with = "overview",
        value_parser = seconds_of_a_row)]
    pub(crate) seconds_per_row: Option<u16>,
    /// The SVG file to write.
    #[arg(short, long, value_name = "SVG")]
    pub(crate) output: PathBuf,
}

/// How many seconds a row of the strip holds.
fn seconds_of_a_row(written: &str) -> Result<u16, String> {
    let seconds = written.parse().ok().filter(|seconds| (2..=600).contains(seconds));
    seconds.ok_or_else(|| "a row holds whole seconds, from 2 to 600, such as 10".to_owned())
}

/// Arguments of `build`.
#[derive(Args, Debug)]
pub(crate) struct Build {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// The folder to write into; made if it is not there.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: PathBuf,
    /// Of a routine with errors write what is known: each file with `-draft` before its ending,
    /// as in act-time-draft.txt, every page marked DRAFT; no file to rehearse by. A routine
    /// without errors is written as always.
    #[arg(long)]
    pub(crate) draft: bool,
    /// Put a byte-order mark before the CSV, so that a spreadsheet that guesses reads its letters
    /// right.
    #[arg(long)]
    pub(crate) for_spreadsheet: bool,
    /// What pages are printed on.
    #[command(flatten)]
    pub(crate) paper: PaperChoice,
}

/// Arguments of `listen`.
#[derive(Args, Debug)]
pub(crate) struct Listen {
    /// The music file: WAV, FLAC, MP3, Ogg Vorbis or M4A.
    #[arg(value_name = "TRACK")]
    pub(crate) track: PathBuf,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `pattern`.
#[derive(Args, Debug)]
pub(crate) struct Pattern {
    /// The pattern, such as 531, '[54]24' or '(4,2x)*'.
    pub(crate) pattern: String,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `transition`.
#[derive(Args, Debug)]
pub(crate) struct Transition {
    /// The pattern that is left, begun with the right hand and run for whole cycles.
    #[arg(value_name = "FROM")]
    pub(crate) from: String,
    /// The pattern that is entered at its first throw.
    #[arg(value_name = "TO")]
    pub(crate) to: String,
    /// The highest throw that may be used; never below what the patterns use.
    #[arg(long, value_name = "VALUE", value_parser = clap::value_parser!(u8).range(1..=35))]
    pub(crate) highest: Option<u8>,
    /// How many props one hand may throw at once; never below what the patterns use.
    #[arg(long, value_name = "PROPS", value_parser = clap::value_parser!(u8).range(1..=12))]
    pub(crate) at_once: Option<u8>,
    /// How many beats the transition may take.
    #[arg(long, value_name = "BEATS", value_parser = clap::value_parser!(u32).range(1..=40))]
    pub(crate) beats: Option<u32>,
    /// The hand that must make the first throw of TO.
    #[arg(long, value_enum, value_name = "HAND")]
    pub(crate) lead: Option<HandName>,
    /// How the report is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `explain`.
#[derive(Args, Debug)]
pub(crate) struct Explain {
    /// A code from a message, or a field, record or word of the routine file, such as `cue.trigger`,
    /// `lasts` or `moment`; without one, all codes and records.
    pub(crate) name: Option<String>,
    /// Print the whole reference of the routine file as a page of Markdown.
    #[arg(long, conflicts_with_all = ["name", "format"])]
    pub(crate) page: bool,
    /// How the explanation is written.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// Arguments of `completions`.
#[derive(Args, Debug)]
pub(crate) struct Completions {
    /// The shell.
    pub(crate) shell: clap_complete::Shell,
}

/// Arguments of `man`.
#[derive(Args, Debug)]
pub(crate) struct Man {
    /// Write a page for the program and one for each command into this folder instead.
    #[arg(long, value_name = "DIR")]
    pub(crate) dir: Option<PathBuf>,
}

/// A crew, as it is named on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum CrewName {
    /// The house lights.
    House,
    /// Lighting (LX).
    #[value(alias = "lx")]
    Light,
    /// Sound (SND).
    #[value(alias = "snd")]
    Sound,
    /// Followspot (FS).
    #[value(alias = "fs")]
    Spot,
    /// Flown pieces.
    Fly,
    /// The deck crew.
    Deck,
    /// A contest's timekeeper.
    #[value(alias = "time")]
    Timekeeper,
}

impl From<CrewName> for Crew {
    fn from(name: CrewName) -> Crew {
        match name {
            CrewName::House => Crew::House,
            CrewName::Light => Crew::Light,
            CrewName::Sound => Crew::Sound,
            CrewName::Spot => Crew::Spot,
            CrewName::Fly => Crew::Fly,
            CrewName::Deck => Crew::Deck,
            CrewName::Timekeeper => Crew::Timekeeper,
        }
    }
}

/// A hand, as it is named on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum HandName {
    /// The right hand.
    Right,
    /// The left hand.
    Left,
}

impl From<HandName> for Hand {
    fn from(name: HandName) -> Hand {
        match name {
            HandName::Right => Hand::Right,
            HandName::Left => Hand::Left,
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_arguments_fit_together() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn no_line_of_a_help_text_is_longer_than_80_columns() {
        let mut command = Arguments::command().term_width(80);
        command.build();
        let commands: Vec<_> = command.get_subcommands().cloned().collect();
        for mut command in commands.into_iter().chain([command]) {
            let help = command.render_long_help().to_string();
            for line in help.lines() {
                assert!(line.chars().count() <= 80, "{}: {line}", command.get_name());
            }
        }
    }
}
