//! A reader of Standard MIDI Files, written from the standard (RP-001) and checked by its examples.

use std::collections::BTreeMap;

/// What a file holds.
pub(crate) struct Smf {
    pub(crate) format: u16,
    pub(crate) division: u16,
    /// Events of each track, each with its tick.
    pub(crate) tracks: Vec<Vec<(u64, Event)>>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Event {
    Meta(u8, Vec<u8>),
    /// After its F0.
    Exclusive(Vec<u8>),
    Channel,
}

/// Bytes written as `4D 54 68`.
pub(crate) fn bytes_of(hex: &str) -> Vec<u8> {
    hex.split_whitespace().map(|byte| u8::from_str_radix(byte, 16).unwrap()).collect()
}

struct Reader<'a>(&'a [u8]);

impl Reader<'_> {
    fn take(&mut self, count: usize) -> Vec<u8> {
        let (taken, rest) = self.0.split_at(count);
        self.0 = rest;
        taken.to_vec()
    }

    fn byte(&mut self) -> u8 {
        self.take(1)[0]
    }

    fn number(&mut self, bytes: usize) -> u64 {
        self.take(bytes).iter().fold(0, |number, &byte| number << 8 | u64::from(byte))
    }

    /// A variable-length quantity: seven bits a byte, the high bit on all but the last.
    fn quantity(&mut self) -> u64 {
        let mut quantity = 0;
        for place in 0.. {
            assert!(place < 4, "at most four bytes");
            let byte = self.byte();
            quantity = quantity << 7 | u64::from(byte & 0x7f);
            if byte & 0x80 == 0 {
                break;
            }
        }
        quantity
    }
}

pub(crate) fn read(bytes: &[u8]) -> Smf {
    let mut reader = Reader(bytes);
    assert_eq!(reader.take(4), b"MThd");
    assert_eq!(reader.number(4), 6);
    let format = u16::try_from(reader.number(2)).unwrap();
    let count = reader.number(2);
    let division = u16::try_from(reader.number(2)).unwrap();
    assert!(division & 0x8000 == 0, "ticks of a quarter note");
    let tracks = (0..count).map(|_| {
        assert_eq!(reader.take(4), b"MTrk");
        let length = usize::try_from(reader.number(4)).unwrap();
        track(&reader.take(length))
    });
    let tracks = tracks.collect();
    assert!(reader.0.is_empty(), "nothing after the last track");
    Smf { format, division, tracks }
}

fn track(bytes: &[u8]) -> Vec<(u64, Event)> {
    let mut reader = Reader(bytes);
    let (mut events, mut tick, mut running) = (Vec::new(), 0, 0);
    while !reader.0.is_empty() {
        tick += reader.quantity();
        let mut status = reader.byte();
        let event = match status {
            0xff => {
                let kind = reader.byte();
                let length = usize::try_from(reader.quantity()).unwrap();
                Event::Meta(kind, reader.take(length))
            }
            0xf0 => {
                let length = usize::try_from(reader.quantity()).unwrap();
                Event::Exclusive(reader.take(length))
            }
            _ => {
                let mut left = 1;
                if status & 0x80 == 0 {
                    (status, left) = (running, 0);
                }
                running = status;
                let data = if matches!(status >> 4, 0xc | 0xd) { 1 } else { 2 };
                reader.take(data - 1 + left);
                Event::Channel
            }
        };
        events.push((tick, event));
    }
    let last = events.last().map(|(_, event)| event.clone());
    assert_eq!(last, Some(Event::Meta(0x2f, Vec::new())), "a track ends with its end");
    events
}

impl Smf {
    /// Seconds at a tick, by the tempo events of all tracks: 120 quarter notes a minute at first.
    pub(crate) fn seconds(&self, tick: u64) -> f64 {
        let mut tempos = BTreeMap::new();
        for (at, event) in self.tracks.iter().flatten() {
            if let Event::Meta(0x51, data) = event {
                let us = data.iter().fold(0_u32, |us, &byte| us << 8 | u32::from(byte));
                tempos.insert(*at, f64::from(us));
            }
        }
        let (mut now, mut us, mut seconds) = (0, 500_000.0, 0.0);
        for (at, next) in tempos.into_iter().filter(|(at, _)| *at < tick) {
            seconds += (at - now) as f64 * us / 1e6 / f64::from(self.division);
            (now, us) = (at, next);
        }
        seconds + (tick - now) as f64 * us / 1e6 / f64::from(self.division)
    }

    /// The last tick.
    pub(crate) fn ends(&self) -> u64 {
        self.tracks.iter().flatten().map(|(tick, _)| *tick).max().unwrap()
    }

    /// Ticks and texts of the meta events of a kind, in order of track and time.
    pub(crate) fn texts(&self, kind: u8) -> Vec<(u64, String)> {
        let text = |(tick, event): &(u64, Event)| match event {
            Event::Meta(of, data) if *of == kind => {
                Some((*tick, String::from_utf8(data.clone()).unwrap()))
            }
            _ => None,
        };
        self.tracks.iter().flatten().filter_map(text).collect()
    }
}

#[test]
fn the_examples_of_the_standard_are_read_as_it_says() {
    // Source: MIDI Manufacturers Association, Standard MIDI Files 1.0 (RP-001), examples.
    let mut files = 0;
    for row in csv::Reader::from_path("tests/data/smf_example.csv").unwrap().records() {
        let row = row.unwrap();
        let bytes = bytes_of(&row[4]);
        assert_eq!(bytes.len(), row[1].parse::<usize>().unwrap());
        let smf = read(&bytes);
        assert_eq!(format!("format{}", smf.format), &row[0]);
        assert_eq!((smf.division, smf.ends()), (96, row[2].parse().unwrap()));
        assert!((smf.seconds(smf.ends()) - row[3].parse::<f64>().unwrap()).abs() < 1e-12);
        files += 1;
    }
    assert_eq!(files, 2);
    for row in csv::Reader::from_path("tests/data/vlq.csv").unwrap().records() {
        let row = row.unwrap();
        let value = u64::from_str_radix(&row[0], 16).unwrap();
        assert_eq!(Reader(&bytes_of(&row[1])).quantity(), value);
    }
}
