//! A sequence as a Standard MIDI File, format 1 (MIDI Manufacturers Association, RP-001).
//!
//! The first track has the title, a text where times are open, tempo, time signatures and the
//! sections' markers, the second the
//! cues as cue points, the third, if there is one, MIDI Show Control's GO messages (RP-002). Texts
//! are UTF-8; the standard recommends ASCII and allows more.

use midly::num::{u15, u24, u28};
use midly::{Format, Header, MetaMessage, Smf, Timing, TrackEvent, TrackEventKind};

use crate::sheet::rehearsal::sequence::{Equipment, Sequence, Start};

/// Universal real-time message, MIDI Show Control (RP-002 §2.1).
const REAL_TIME: u8 = 0x7f;
const SHOW_CONTROL: u8 = 0x02;
/// GO (RP-002 §4.3).
const GO: u8 = 0x01;
/// The end of a system exclusive message.
const END: u8 = 0xf7;

/// MIDI clocks of a quarter note, and thirty-second notes of one.
const CLOCKS: u8 = 24;
const THIRTY_SECONDS: u8 = 8;
/// A bar's beats are quarter notes: 2².
const QUARTER: u8 = 2;

/// The sequence as the bytes of a MIDI file.
#[must_use]
pub fn midi(sequence: &Sequence) -> Vec<u8> {
    let messages: Vec<(u32, Vec<u8>)> = sequence
        .show_control
        .iter()
        .flat_map(|control| control.starts.iter().map(|start| (control.device, start)))
        .map(|(device, start)| (start.tick, go(device, start)))
        .collect();
    let earliest = sequence.media.earliest_words();
    let mut tracks = vec![conductor(sequence, earliest.as_deref()), cue_points(sequence)];
    if sequence.show_control.is_some() {
        let mut events = vec![(0, meta(MetaMessage::TrackName(b"show control")))];
        events.extend(messages.iter().map(|(tick, bytes)| (*tick, TrackEventKind::SysEx(bytes))));
        tracks.push(events);
    }
    let division = u15::try_from(sequence.grid.ticks_a_quarter)
        .unwrap_or_else(|| unreachable!("`Grid` counts 960 or 1,000 ticks a quarter note"));
    let header = Header::new(Format::Parallel, Timing::Metrical(division));
    let tracks = tracks.into_iter().map(|events| track(events, sequence.ends)).collect();
    let mut bytes = Vec::new();
    Smf { header, tracks }
        .write_std(&mut bytes)
        .unwrap_or_else(|_| unreachable!("memory takes every write, and tracks are short"));
    bytes
}

type Event<'a> = (u32, TrackEventKind<'a>);

/// Title, what is said of open times, tempo, time signatures and markers.
fn conductor<'a>(sequence: &'a Sequence, earliest: Option<&'a str>) -> Vec<Event<'a>> {
    let mut events = vec![(0, meta(MetaMessage::TrackName(sequence.media.title.as_bytes())))];
    events.extend(earliest.map(|words| (0, meta(MetaMessage::Text(words.as_bytes())))));
    for signature in &sequence.grid.signatures {
        let message = MetaMessage::TimeSignature(signature.beats, QUARTER, CLOCKS, THIRTY_SECONDS);
        events.push((signature.tick, meta(message)));
    }
    for pace in &sequence.grid.paces {
        let us = u24::try_from(pace.quarter_us)
            .unwrap_or_else(|| unreachable!("`Grid` keeps a quarter note within 24 bits"));
        events.push((pace.tick, meta(MetaMessage::Tempo(us))));
    }
    for mark in &sequence.markers {
        events.push((mark.tick, meta(MetaMessage::Marker(mark.words.as_bytes()))));
    }
    // Stable: at one tick the order above holds.
    events.sort_by_key(|(tick, _)| *tick);
    events
}

fn cue_points(sequence: &Sequence) -> Vec<Event<'_>> {
    let mut events = vec![(0, meta(MetaMessage::TrackName(b"cues")))];
    for mark in &sequence.cue_points {
        events.push((mark.tick, meta(MetaMessage::CuePoint(mark.words.as_bytes()))));
    }
    events
}

/// The bytes of a GO after its F0, as a file holds them: device, format, command, cue number.
fn go(device: u8, start: &Start) -> Vec<u8> {
    let format = match start.equipment {
        Equipment::Lighting => 0x01,
        Equipment::Sound => 0x10,
        Equipment::Machinery => 0x20,
    };
    let mut bytes = vec![REAL_TIME, device, SHOW_CONTROL, format, GO];
    bytes.extend(start.number.to_string().as_bytes());
    bytes.push(END);
    bytes
}

fn meta(message: MetaMessage<'_>) -> TrackEventKind<'_> {
    TrackEventKind::Meta(message)
}

/// A track of events at their ticks, in order, that is over at a tick.
fn track(events: Vec<Event<'_>>, ends: u32) -> Vec<TrackEvent<'_>> {
    let mut now = 0;
    let last = events.last().map_or(0, |(tick, _)| *tick);
    let end = (ends.max(last), meta(MetaMessage::EndOfTrack));
    events
        .into_iter()
        .chain([end])
        .map(|(tick, kind)| {
            let delta = u28::try_from(tick.saturating_sub(now))
                .unwrap_or_else(|| unreachable!("`Grid` refuses ticks past 28 bits"));
            now = tick;
            TrackEvent { delta, kind }
        })
        .collect()
}
