//! Acts made up at random: their score and their music.
//!
//! All names are made up in turn, so that a fault can be told by the names in its message.

use crate::act::{Act, Encore, Line, Open, Track};
use crate::around;
use crate::estimate::Estimate;
use crate::said::chance::Chance;
use crate::said::names::{MAY_BEND, clock, seconds};

/// Patterns of three props, and the number of beats in a cycle.
const THREE: [(&str, i64); 9] = [
    ("3", 1),
    ("441", 3),
    ("531", 3),
    ("423", 3),
    ("51", 2),
    ("522", 3),
    ("5520", 4),
    ("(4,2x)(2x,4)", 4),
    ("[23]1", 2),
];
const FOUR: [(&str, i64); 4] = [("4", 1), ("53", 2), ("552", 3), ("(4,4)", 2)];

/// A moment of the act, and roughly when it comes.
#[derive(Clone, Debug)]
pub(crate) struct Known {
    pub(crate) moment: String,
    pub(crate) comes: Estimate,
}

struct Playing {
    name: String,
    starts: Estimate,
    start: String,
    /// On its own clock, so far.
    last: i64,
    held: Estimate,
    marks: Vec<(String, i64)>,
    holds: Vec<Line>,
    bars: bool,
    length: Option<i64>,
}

/// An act in the making.
pub(crate) struct Making {
    pub(crate) chance: Chance,
    pub(crate) act: Act,
    /// The extents of its open lengths, in the order in which they are made up.
    pub(crate) opens: Vec<(i64, i64)>,
    pub(crate) now: Estimate,
    pub(crate) known: Vec<Known>,
    zero: Option<Estimate>,
    zero_at: usize,
    playing: Vec<Playing>,
    wanted: usize,
    set: &'static str,
    beat: i64,
    juggled: bool,
    /// Whether the tempo in force is known: it is not behind a ramp.
    even: bool,
    /// The moments of the encore, and roughly how long that lasts.
    pub(crate) encore: (Vec<Known>, Estimate),
}

/// The act of a seed.
pub(crate) fn act(seed: u64) -> Act {
    let mut chance = Chance::new(seed);
    let wanted = [1, 1, 1, 2, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 5][chance.below(15)];
    let mut making = Making {
        chance,
        act: Act::default(),
        opens: Vec::new(),
        now: Estimate::default(),
        known: Vec::new(),
        zero: None,
        zero_at: 0,
        playing: Vec::new(),
        wanted,
        set: "",
        beat: 300,
        juggled: false,
        even: true,
        encore: (Vec::new(), Estimate::default()),
    };
    making.make();
    making.act
}

impl Making {
    fn make(&mut self) {
        let size = 4 + self.wanted + self.chance.below(5);
        self.zero_at = [0, 0, 0, 1, 2, size][self.chance.below(6)].min(size);
        let tracks = [0, 1, 1, 1, 2][self.chance.below(5)];
        let mut starts: Vec<usize> = (0..tracks).map(|_| self.chance.below(size / 2 + 1)).collect();
        starts.sort_unstable();
        self.act.named_tracks = tracks == 2;
        for index in 0..size {
            let name = format!("s{index}");
            if index == self.zero_at {
                self.zero = Some(self.now.clone());
            }
            self.know(&format!("Start(\"{name}\")"));
            while starts.first() == Some(&index) {
                starts.remove(0);
                self.start_track(format!("Start(\"{name}\")"));
            }
            let left = size - index;
            let must_open =
                self.opens.len() < self.wanted && left <= 2 * (self.wanted - self.opens.len());
            let opens = must_open || (self.opens.len() < self.wanted && self.chance.often(35));
            let is_pause = index == 0 || (self.juggled && (opens || self.chance.often(45)));
            if is_pause && opens && !(index == 0 && self.chance.often(70)) {
                self.open(&name);
            } else if is_pause {
                self.pause(&name);
            } else {
                self.juggle(&name);
            }
            self.know(&format!("End(\"{name}\")"));
        }
        self.head();
        let encore = self.chance.often(30);
        if encore {
            self.encore();
        }
        self.tracks();
        around::limits(self);
        around::cues(self);
        if let Some(mut encore) = self.act.encore.take() {
            encore.cues = around::encore_cues(self);
            self.act.encore = Some(encore);
        }
    }

    pub(crate) fn know(&mut self, moment: &str) {
        let comes = self.now.clone();
        self.known.push(Known { moment: moment.to_owned(), comes });
    }

    fn start_track(&mut self, start: String) {
        let name = ["day", "night"][self.playing.len()].to_owned();
        let starts = self.now.clone();
        let bars = self.chance.often(40);
        self.playing.push(Playing {
            name,
            starts,
            start,
            last: 0,
            held: Estimate::default(),
            marks: Vec::new(),
            holds: Vec::new(),
            bars,
            length: None,
        });
    }

    fn new_open(&mut self, called: &str, is_pause: bool) -> (usize, Open) {
        let least = *self.chance.pick(&[0, 500, 1000, 1200, 2000, 3000, 4000]);
        let more = self.chance.within(1, 16) * 500 + self.chance.below(2) as i64 * 137;
        let open = Open { called: called.to_owned(), least, most: least + more, is_pause };
        self.opens.push((least, least + more));
        (self.opens.len() - 1, open)
    }

    /// An open length: a pause, or a hold that is waited for or juggled through.
    fn open(&mut self, name: &str) {
        let track = self.playing.iter().rposition(|track| track.length.is_none());
        match track.filter(|_| self.chance.often(45)) {
            Some(track) => self.hold(name, track),
            None => {
                let (open, written) = self.new_open(&format!("\"{name}\""), true);
                self.now = self.now.plus(written.least).plus_open(open);
                let extra = self.logged();
                let text = format!("Pause(name: \"{name}\", lasts: @{extra})");
                self.act.score.push(Line { text, open: Some(written) });
                self.set_down();
            }
        }
    }

    fn hold(&mut self, name: &str, track: usize) {
        let from = self.beyond(track);
        let hold = format!("h{}", self.opens.len());
        let called = match self.act.named_tracks {
            true => format!("the hold \"{hold}\" of \"{}\"", self.playing[track].name),
            false => format!("the hold \"{hold}\""),
        };
        let (open, written) = self.new_open(&called, false);
        let starts = self.reads(track, from);
        let ends = starts.plus(written.least).plus_open(open);
        let text = format!(
            "\"{hold}\": Hold(at: {}, lasts: @, resumes: See(\"arms down\"), numbers: [{}, {}])",
            clock(from),
            2 * open + 500,
            2 * open + 501
        );
        let of = self.of(track, &format!("\"{hold}\""));
        let playing = &mut self.playing[track];
        playing.held = playing.held.plus(written.least).plus_open(open);
        playing.holds.push(Line { text, open: Some(written) });
        for (edge, comes) in [("HoldStart", starts), ("HoldEnd", ends.clone())] {
            self.known.push(Known { moment: format!("{edge}({of})"), comes });
        }
        if self.chance.often(75) {
            let text = format!("Pause(name: \"{name}\", lasts: Until(HoldEnd({of})))");
            self.act.score.push(Line::sure(text));
            self.now = ends;
            self.set_down();
        } else {
            self.juggle(name);
        }
    }

    /// What stands in a moment of a track, with the track's name where that has one.
    fn of(&self, track: usize, rest: &str) -> String {
        match self.act.named_tracks {
            true => format!("\"{}\", {rest}", self.playing[track].name),
            false => rest.to_owned(),
        }
    }

    /// A point of a track that certainly comes after now.
    fn beyond(&mut self, track: usize) -> i64 {
        let playing = &self.playing[track];
        let reads = self.now.after(&playing.starts).after(&playing.held);
        let latest = reads.range(&self.opens).1.max(playing.last);
        let point = (latest / 250 + 2) * 250 + self.chance.within(0, 12) * 250;
        self.playing[track].last = point;
        point
    }

    /// When a point of a track comes that lies behind all of its holds.
    fn reads(&self, track: usize, point: i64) -> Estimate {
        let playing = &self.playing[track];
        let held = Estimate::default().after(&playing.held);
        playing.starts.plus(point).after(&Estimate { slack: 0, ..held })
    }

    fn mark(&mut self, track: usize) -> (String, Estimate) {
        let point = self.beyond(track);
        let name = format!("m{}", self.playing[track].marks.len());
        let comes = self.reads(track, point);
        self.playing[track].marks.push((name.clone(), point));
        let moment = format!("Mark({})", self.of(track, &format!("\"{name}\"")));
        self.known.push(Known { moment: moment.clone(), comes: comes.clone() });
        (moment, comes)
    }

    /// A pause that leaves nothing open of its own; it may take up what is open before it.
    fn pause(&mut self, name: &str) {
        let absorbs = self.chance.often(if self.opens.is_empty() { 15 } else { 45 });
        let track = self.playing.iter().rposition(|track| track.length.is_none());
        let on_track = track.filter(|_| self.chance.often(50));
        let lasts = match (absorbs, on_track, self.zero.clone()) {
            (true, Some(track), _) => {
                let (moment, comes) = self.mark(track);
                self.now = comes;
                format!("Until({moment})")
            }
            (true, None, Some(zero)) => {
                let latest = self.now.after(&zero).range(&self.opens).1;
                let at = (latest / 200 + 1) * 200 + self.chance.within(0, 20) * 200;
                self.now = Estimate { slack: 0, ..zero }.plus(at);
                format!("Until(At({}))", clock(at))
            }
            _ => {
                let lasts = self.chance.within(2, 24) * 250;
                self.now = self.now.plus(lasts);
                format!("For({})", clock(lasts))
            }
        };
        let extra = self.logged();
        self.act.score.push(Line::sure(format!("Pause(name: \"{name}\", lasts: {lasts}{extra})")));
        self.set_down();
    }

    /// Logged pick-ups, sometimes.
    fn logged(&mut self) -> String {
        match self.chance.often(30) {
            true => format!(", pick_up: [{}]", seconds(self.chance.within(8, 40) * 100)),
            false => String::new(),
        }
    }

    /// After a pause other props may be taken up.
    fn set_down(&mut self) {
        self.juggled = false;
    }

    fn juggle(&mut self, name: &str) {
        let cold = !self.juggled;
        let mut fields = String::new();
        if cold && (self.set.is_empty() || self.chance.often(35)) {
            self.set = *self.chance.pick(&["three", "three", "three", "four", "torches"]);
            fields += &format!(", set: \"{}\"", self.set);
        }
        let patterns = if self.set == "four" { &FOUR[..] } else { &THREE };
        let (pattern, cycle) =
            if self.chance.often(40) { patterns[0] } else { *self.chance.pick(patterns) };
        let is_music = self.playing.len() == 1 && self.playing[0].bars && self.opens.is_empty();
        let ramps = self.chance.often(4);
        // As the music goes, wherever the track is then.
        let plays = self.playing.len() == 1 && self.playing[0].bars;
        let follows = plays && !ramps && self.chance.often(8);
        if follows {
            self.beat = 250;
            fields += ", tempo: PerMusicBeat(throws: 2, accent: Throw)";
        } else if !self.even && !ramps {
            self.beat = 300;
            fields += ", tempo: PerMinute(200)";
        } else if ramps {
            fields += &format!(", tempo: Ramp(to: {})", self.chance.within(15, 24) * 10);
        } else if self.chance.often(25) {
            self.beat = *self.chance.pick(&[300, 300, 250, 400, 375]);
            fields += &format!(", tempo: PerMinute({})", 60_000 / self.beat);
        }
        let beats = cycle * self.chance.within(1, 28 / cycle);
        let own = beats * self.beat;
        let lasts = match self.chance.below(8) {
            0 | 1 => format!("Cycles({})", beats / cycle),
            2 if !ramps && !follows => format!("For({})", clock(own)),
            3 if !ramps && !follows && !pattern.contains('(') => {
                fields += &format!(", {MAY_BEND}: 0.2");
                format!("For({})", clock(own + self.chance.within(-3, 3) * 40))
            }
            4 if is_music && cold && !follows && [250, 400].contains(&self.beat) => {
                format!("Bars({})", 1 + self.chance.below(4))
            }
            _ => format!("Beats({beats})"),
        };
        let bars =
            lasts.strip_prefix("Bars(").map(|rest| rest.trim_end_matches(')').parse::<i64>());
        let own = bars.map_or(own, |bars| bars.unwrap() * 2000);
        self.now = self.now.plus(own).plus_slack(if ramps { own } else { 900 });
        self.now = self.now.plus_slack(if cold { 0 } else { 1600 });
        let text = format!(
            "Juggle(name: \"{name}\", pattern: \"{pattern}\", lasts: {lasts}, transition: Auto{fields})"
        );
        self.act.score.push(Line::sure(text));
        let thrown = format!("{}(\"{name}\", 1)", self.chance.pick(&["Throw", "Catch", "Cycle"]));
        let comes = self.now.plus(-own);
        self.known.push(Known { moment: thrown, comes });
        self.juggled = true;
        self.even = !ramps && !follows;
    }

    fn head(&mut self) {
        self.act.head.push("lead: Right".to_owned());
        self.act.head.push("tempo: PerMinute(200)".to_owned());
        self.act.head.push("transitions: Within(highest: 9, at_once: 2, beats: 6)".to_owned());
        let size = self.act.score.len();
        let zero = if self.zero_at >= size {
            "FirstThrow".to_owned()
        } else {
            format!("Start(\"s{}\")", self.zero_at)
        };
        self.act.head.push(format!("zero: {zero}"));
        for part in ["set_up", "strike"] {
            if self.chance.often(30) {
                let lasts = clock(self.chance.within(10, 90) * 1000);
                self.act.head.push(format!("{part}: {lasts}"));
            }
        }
        self.known.push(Known { moment: "LastCatch".to_owned(), comes: self.now.plus(-500) });
        if self.chance.often(60) {
            let lasts = self.now.range(&self.opens);
            self.act.burn = Some(self.chance.within(lasts.0 / 2, lasts.1.max(4000)));
        }
    }

    fn encore(&mut self) {
        let mut encore = Encore::default();
        let kept = std::mem::take(&mut self.act.score);
        let (known, now) = (std::mem::take(&mut self.known), self.now.clone());
        let (zero, playing) = (self.zero.take(), std::mem::take(&mut self.playing));
        self.juggled = false;
        self.set = "";
        self.now = Estimate::default();
        self.zero = Some(Estimate::default());
        for index in 0..2 + self.chance.below(4) {
            let name = format!("e{index}");
            self.know(&format!("Start(\"{name}\")"));
            if index % 2 == 1 || (index > 0 && !self.juggled) {
                self.juggle(&name);
            } else if self.opens.len() < 5 && self.chance.often(60) {
                let (open, written) = self.new_open(&format!("\"{name}\" in the encore"), true);
                self.now = self.now.plus(written.least).plus_open(open);
                let text = format!("Pause(name: \"{name}\", lasts: @)");
                encore.score.push(Line { text, open: Some(written) });
                self.set_down();
                self.know(&format!("End(\"{name}\")"));
                continue;
            } else {
                self.pause(&name);
            }
            encore.score.append(&mut self.act.score);
            self.know(&format!("End(\"{name}\")"));
        }
        encore.score.append(&mut self.act.score);
        let lasts = std::mem::replace(&mut self.now, now);
        self.encore = (std::mem::replace(&mut self.known, known), lasts);
        self.act.score = kept;
        self.zero = zero;
        self.playing = playing;
        self.act.encore = Some(encore);
    }

    /// How long the tracks are, now that the act is known.
    fn tracks(&mut self) {
        for index in 0..self.playing.len() {
            let playing = &self.playing[index];
            let reads = self.now.after(&playing.starts).after(&playing.held).range(&self.opens);
            let (least, most) = (playing.last + 250, reads.1.max(playing.last + 250) + 4000);
            let length = self.chance.within(least, most) / 50 * 50 + 50;
            let ends = self.reads(index, length);
            let playing = &self.playing[index];
            let marks: Vec<String> = playing
                .marks
                .iter()
                .map(|(name, point)| format!("\"{name}\": {}", clock(*point)))
                .collect();
            let bars = match playing.bars {
                true => ", bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]",
                false => "",
            };
            let fields = format!(
                "file: \"{}.wav\", length: {}, starts: {}, marks: {{ {} }}{bars}",
                playing.name,
                clock(length),
                playing.start,
                marks.join(", ")
            );
            let holds = playing.holds.clone();
            self.act.tracks.push(Track { name: playing.name.clone(), fields, holds });
            let starts = playing.starts.clone();
            let of = if self.act.named_tracks {
                format!("(\"{}\")", playing.name)
            } else {
                String::new()
            };
            self.known.push(Known { moment: format!("TrackStart{of}"), comes: starts });
            self.known.push(Known { moment: format!("TrackEnd{of}"), comes: ends });
        }
    }
}
