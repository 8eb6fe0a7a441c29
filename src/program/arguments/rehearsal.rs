//! How files to rehearse by are asked for.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// Arguments of `click`.
#[derive(Args, Debug)]
#[command(
    after_help = "Accents stand where a section begins, or on each bar; pauses are quiet. Each click begins on \
                  the sample nearest to its time. An audio editor shows a marker where each section \
                  starts and each cue goes. What comes before --from is left out and listed. Where \
                  lengths are left open the times are the earliest, and the program names the \
                  lengths."
)]
pub(crate) struct Click {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// The WAV file to write: 48 kHz, 16 bits, one channel. Start it at a low volume.
    #[arg(short, long, value_name = "WAV")]
    pub(crate) output: PathBuf,
    /// What is clicked.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) per: PerName,
    /// Count in so many beats, and make room for them in front where there is none; unless you
    /// say so, 4 beats or a bar are counted in if there is room.
    #[arg(long, value_name = "BEATS", value_parser = clap::value_parser!(u32).range(0..=64))]
    pub(crate) count_in: Option<u32>,
    /// Let music beats click in pauses too.
    #[arg(long)]
    pub(crate) through_pauses: bool,
    /// Begin at this moment, written as in the routine file, such as 'Start("tide")'; else at the
    /// track's start, or without music at the show clock's zero or the act's start, whichever is
    /// earlier.
    #[arg(long, value_name = "MOMENT")]
    pub(crate) from: Option<String>,
}

/// What is clicked, as it is named on the command line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum PerName {
    /// Every throw, the right hand higher than the left.
    #[default]
    Throw,
    /// Every music beat, from the music's bars.
    MusicBeat,
}

/// Arguments of `midi`.
#[derive(Args, Debug)]
#[command(
    after_help = "A Standard MIDI File: tempo and bars of the music, a marker at every section, a cue point at \
                  every cue. A music beat is a quarter note of whole microseconds, and an event stands at \
                  the tick nearest to its time, never off by more than half a tick. What comes before \
                  the first bar is a bar of its own; without bars a tick is a thousandth of a second. \
                  Show control sends a GO for every cue that has a number, to lighting (light, house), \
                  sound, or machinery (fly, deck). A person works a followspot, so it gets none, nor \
                  does a cue whose time is open; both are listed. Where lengths are left open the times \
                  are the earliest, and a text in the file says so.\n\n\
                  Show control does not wait for a late catch: keep an operator at every desk. Local \
                  codes, the venue's rules and licensed practice decide."
)]
pub(crate) struct Midi {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// The MIDI file to write.
    #[arg(short, long, value_name = "MID")]
    pub(crate) output: PathBuf,
    /// Add a track of MIDI Show Control: a GO for every cue that has a number. It starts
    /// equipment by itself; keep an operator at every desk.
    #[arg(long)]
    pub(crate) show_control: bool,
    /// Which equipment listens: 0 to 111 one device, 112 to 126 a group, 127 all, which it is
    /// unless you say so.
    #[arg(long, requires = "show_control", value_name = "ID",
        value_parser = clap::value_parser!(u8).range(0..=127))]
    pub(crate) device_id: Option<u8>,
    /// Begin at this moment, written as in the routine file, such as 'Start("tide")'; else at the
    /// track's start, or without music at the show clock's zero or the act's start, whichever is
    /// earlier.
    #[arg(long, value_name = "MOMENT")]
    pub(crate) from: Option<String>,
}

/// Arguments of `captions`.
#[derive(Args, Debug)]
#[command(
    after_help = "The section that runs stands on one line, and under it each cue from its GO on. Nothing is \
                  named early; what is over within a second stays until the second is full. Where \
                  lengths are left open the times are the earliest, and a note in WebVTT says so."
)]
pub(crate) struct Captions {
    /// The routine file.
    pub(crate) file: PathBuf,
    /// The file to write: WebVTT where it ends in .vtt, SubRip where it ends in .srt.
    #[arg(short, long, value_name = "VTT|SRT")]
    pub(crate) output: PathBuf,
    /// Begin at this moment, written as in the routine file, such as 'Start("tide")'; else at the
    /// track's start, or without music at the show clock's zero or the act's start, whichever is
    /// earlier.
    #[arg(long, value_name = "MOMENT")]
    pub(crate) from: Option<String>,
}
