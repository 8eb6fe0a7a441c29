//! Limits of random acts, worked out again in whole thousandths of a second, night by night.
//!
//! Nothing of the program is used: a cascade at 200 a minute throws every 0.3 s and catches its last
//! prop 0.2 s after its last beat, so every time is a multiple of 0.1 s. Where lengths are open, all
//! nights in steps of 0.05 s are gone through: an edge lies on a tenth, what lies between two has a
//! night of its own.

use crate::said::chance::Chance;

/// Lengths of time in thousandths of a second.
type Ms = i64;

/// A random act: its pauses' least and most, its cascades' beats.
#[derive(Clone, Debug)]
pub(crate) struct Act {
    walk: Ms,
    clap: (Ms, Ms),
    talk: (Ms, Ms),
    again: (Ms, Ms),
    beats: [Ms; 3],
    track: (Ms, Ms),
    set_up: Ms,
    strike: Ms,
    pub(crate) has_encore: bool,
}

/// Moments as the file writes them.
const MOMENTS: [&str; 15] = [
    "TrackStart",
    "TrackEnd",
    "FirstThrow",
    "LastCatch",
    "Start(\"walk\")",
    "End(\"walk\")",
    "LastCatch(\"tide\")",
    "Start(\"talk\")",
    "End(\"talk\")",
    "SetUpStart",
    "SetUpEnd",
    "StrikeStart",
    "StrikeEnd",
    "EncoreStart",
    "EncoreEnd",
];

/// Where a limit starts or stops: one moment, or the first or the last of some, so much later.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    is_last: Option<bool>,
    of: Vec<usize>,
    later: Ms,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum AddsUp {
    Everything,
    Juggling,
    SetUpAndStrike,
}

#[derive(Clone, Debug)]
enum Penalty {
    None,
    Flat,
    /// Step, whether a part counts, from the grace, the most points.
    Steps(Ms, bool, bool, Option<i64>),
    /// Beyond, from there on, points.
    Graded(Vec<(Ms, bool, i64)>),
}

#[derive(Clone, Debug)]
pub(crate) struct Limit {
    starts: Edge,
    stops: Edge,
    adds_up: AddsUp,
    encore: Option<bool>,
    at_least: Option<Ms>,
    at_most: Option<Ms>,
    grace: Ms,
    grace_under: Ms,
    margin: Ms,
    inside: bool,
    penalty: Penalty,
}

/// What a limit says on one night.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Said {
    pub(crate) counted: Ms,
    pub(crate) verdict: &'static str,
    pub(crate) under: bool,
    pub(crate) by: Ms,
    pub(crate) points: i64,
    pub(crate) is_close: bool,
}

/// The lengths of one night: clap, talk, the encore's pause.
type Night = [Ms; 3];

fn clock(ms: Ms) -> String {
    format!("\"{}:{:02}.{:03}\"", ms / 60_000, ms % 60_000 / 1000, ms % 1000)
}

fn seconds(ms: Ms) -> String {
    let sign = if ms < 0 { "-" } else { "" };
    format!("{sign}{}.{:03}", ms.abs() / 1000, ms.abs() % 1000)
}

fn tenths(chance: &mut Chance, least: i64, most: i64) -> Ms {
    chance.within(least, most) * 100
}

impl Act {
    pub(crate) fn random(chance: &mut Chance) -> Act {
        let open = |chance: &mut Chance, percent: i64| {
            let least = tenths(chance, 10, 40);
            let most = if chance.often(percent) { tenths(chance, 1, 12) } else { 0 };
            (least, least + most)
        };
        let has_encore = chance.often(50);
        Act {
            walk: tenths(chance, 10, 60),
            clap: open(chance, 70),
            talk: open(chance, 50),
            again: open(chance, if has_encore { 40 } else { 0 }),
            beats: [0; 3].map(|_| chance.within(6, 24)),
            track: (tenths(chance, -20, 80), tenths(chance, 100, 400)),
            set_up: tenths(chance, 50, 100),
            strike: tenths(chance, 30, 60),
            has_encore,
        }
    }

    /// Every night that is gone through.
    pub(crate) fn nights(&self) -> Vec<Night> {
        let steps = |(least, most): (Ms, Ms)| (least..=most).step_by(50).collect::<Vec<_>>();
        let mut nights = Vec::new();
        for &clap in &steps(self.clap) {
            for &talk in &steps(self.talk) {
                nights.extend(steps(self.again).into_iter().map(|again| [clap, talk, again]));
            }
        }
        nights
    }

    pub(crate) fn text(&self, limits: &[String]) -> String {
        let pause = |name: &str, (least, most): (Ms, Ms)| match least == most {
            true => format!("Pause(name: \"{name}\", lasts: For({}))", clock(least)),
            false => {
                let (least, most) = (clock(least), clock(most));
                format!("Pause(name: \"{name}\", lasts: Between({least}, {most}))")
            }
        };
        let [tide, crane, last] = self.beats;
        let encore = format!(
            "encore: Encore(score: [{}, Juggle(name: \"last\", set: \"three\", pattern: \"3\", \
             lasts: Beats({last}))]),",
            pause("again", self.again)
        );
        format!(
            "Routine(title: \"Random\", tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"coral\", \"coral\"]) }},
    music: Track(file: \"none.wav\", length: {}, starts: Shift(Start(\"walk\"), {})),
    set_up: {}, strike: {}, {}
    score: [
        {},
        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats({tide})),
        {},
        Juggle(name: \"crane\", pattern: \"3\", lasts: Beats({crane})),
        {},
    ],
    limits: [
        {}
    ],
)
",
            clock(self.track.1),
            seconds(self.track.0),
            clock(self.set_up),
            clock(self.strike),
            if self.has_encore { &encore } else { "" },
            pause("walk", (self.walk, self.walk)),
            pause("clap", self.clap),
            pause("talk", self.talk),
            limits.join(",\n        "),
        )
    }

    /// From its first beat to its last catch.
    fn run(&self, number: usize) -> Ms {
        self.beats[number] * 300 + 200
    }

    fn ends(&self, [clap, talk, _]: Night) -> Ms {
        self.walk + self.run(0) + clap + self.run(1) + talk
    }

    fn encore_ends(&self, night: Night) -> Ms {
        self.ends(night) + if self.has_encore { night[2] + self.run(2) } else { 0 }
    }

    /// A moment, from the walk's start.
    fn moment(&self, name: &str, night: Night) -> Ms {
        let tide = self.walk + self.run(0);
        let crane = tide + night[0] + self.run(1);
        match name {
            "TrackStart" => self.track.0,
            "TrackEnd" => self.track.0 + self.track.1,
            "FirstThrow" | "End(\"walk\")" => self.walk,
            "LastCatch" | "Start(\"talk\")" => crane,
            "Start(\"walk\")" | "SetUpEnd" => 0,
            "LastCatch(\"tide\")" => tide,
            "End(\"talk\")" | "EncoreStart" => self.ends(night),
            "SetUpStart" => -self.set_up,
            "StrikeStart" | "EncoreEnd" => self.encore_ends(night),
            "StrikeEnd" => self.encore_ends(night) + self.strike,
            other => unreachable!("{other}"),
        }
    }

    fn edge(&self, edge: &Edge, night: Night) -> Ms {
        let mut times: Vec<Ms> =
            edge.of.iter().map(|&of| self.moment(MOMENTS[of], night)).collect();
        times.sort_unstable();
        let chosen = if edge.is_last == Some(true) { times[times.len() - 1] } else { times[0] };
        chosen + edge.later
    }
}

impl Edge {
    fn random(chance: &mut Chance, has_encore: bool) -> Edge {
        let known = if has_encore { MOMENTS.len() } else { MOMENTS.len() - 2 };
        let several = chance.often(50);
        let is_last = several.then(|| chance.often(50));
        let count = if several { chance.within(2, 3) } else { 1 };
        let of = (0..count).map(|_| chance.below(known)).collect();
        let later = if chance.often(30) { tenths(chance, -15, 15) } else { 0 };
        Edge { is_last, of, later }
    }

    fn text(&self) -> String {
        let of: Vec<&str> = self.of.iter().map(|&of| MOMENTS[of]).collect();
        let moment = match self.is_last {
            None => of[0].to_owned(),
            Some(false) => format!("First([{}])", of.join(", ")),
            Some(true) => format!("Last([{}])", of.join(", ")),
        };
        match self.later {
            0 => moment,
            later => format!("Shift({moment}, {})", seconds(later)),
        }
    }
}

impl Limit {
    /// A limit whose edges lie where the act may be just inside or just outside.
    pub(crate) fn random(chance: &mut Chance, act: &Act) -> Limit {
        let (starts, stops) =
            (Edge::random(chance, act.has_encore), Edge::random(chance, act.has_encore));
        let adds_up = *chance.pick(&[
            AddsUp::Everything,
            AddsUp::Everything,
            AddsUp::Juggling,
            AddsUp::SetUpAndStrike,
        ]);
        let encore = (act.has_encore && adds_up != AddsUp::SetUpAndStrike && chance.often(50))
            .then(|| chance.often(50));
        let mut limit = Limit {
            starts,
            stops,
            adds_up,
            encore,
            at_least: None,
            at_most: None,
            grace: 0,
            grace_under: 0,
            margin: if chance.often(40) { tenths(chance, 1, 15) } else { 0 },
            inside: chance.often(50),
            penalty: Penalty::None,
        };
        let counted = act.nights().iter().map(|&night| limit.counted(act, night)).max();
        let near = |chance: &mut Chance| (counted.unwrap_or(0) + tenths(chance, -15, 8)).max(100);
        let (one, other) = (near(chance), near(chance));
        let edges = chance.below(3);
        limit.at_least = (edges != 0).then(|| one.min(other));
        limit.at_most = (edges != 1).then(|| one.max(other));
        if limit.at_most.is_some() && chance.often(50) {
            limit.grace = tenths(chance, 1, 6);
        }
        if limit.at_least.is_some() && chance.often(50) {
            limit.grace_under = tenths(chance, 1, 6);
        }
        limit.penalty = match chance.below(4) {
            0 => Penalty::None,
            1 => Penalty::Flat,
            2 => {
                let most = chance.often(30).then(|| chance.within(1, 9));
                Penalty::Steps(tenths(chance, 1, 9), chance.often(50), chance.often(50), most)
            }
            _ => {
                let (mut beyond, mut rows) = (tenths(chance, 0, 3), Vec::new());
                for _ in 0..chance.within(1, 3) {
                    rows.push((beyond, chance.often(50), chance.within(0, 9)));
                    beyond += tenths(chance, 1, 6);
                }
                Penalty::Graded(rows)
            }
        };
        limit
    }

    pub(crate) fn text(&self, rule: &str) -> String {
        let mut text = format!(
            "Limit(rule: \"{rule}\", starts: {}, stops: {}, passes_over: [TrackStart, FirstThrow]",
            self.starts.text(),
            self.stops.text()
        );
        let mut add = |field: String| text += &format!(", {field}");
        add(format!("adds_up: {:?}", self.adds_up));
        self.encore.iter().for_each(|encore| add(format!("encore: {encore}")));
        self.at_least.iter().for_each(|&least| add(format!("at_least: {}", clock(least))));
        self.at_most.iter().for_each(|&most| add(format!("at_most: {}", clock(most))));
        if self.grace > 0 {
            add(format!("grace: {}", seconds(self.grace)));
        }
        if self.grace_under > 0 {
            add(format!("grace_under: {}", seconds(self.grace_under)));
        }
        add(format!("margin: {}", seconds(self.margin)));
        add(format!("on_the_line: {}", if self.inside { "Inside" } else { "Outside" }));
        match &self.penalty {
            Penalty::None => {}
            Penalty::Flat => add("penalty: Flat(2.0)".to_owned()),
            Penalty::Steps(every, or_part, from_grace, most) => {
                let most =
                    most.map_or_else(String::new, |most| format!(", at_most_points: {most}"));
                add(format!(
                    "penalty: Steps(every: {}, or_part: {or_part}, from: {}, points: 1{most})",
                    seconds(*every),
                    if *from_grace { "Grace" } else { "Limit" },
                ));
            }
            Penalty::Graded(rows) => {
                let row = |&(beyond, from_there, points): &(Ms, bool, i64)| {
                    let word = if from_there { "from" } else { "over" };
                    format!("({word}: {}, points: {points})", seconds(beyond))
                };
                let rows: Vec<String> = rows.iter().map(row).collect();
                add(format!("penalty: Graded([{}])", rows.join(", ")));
            }
        }
        text + ")"
    }

    /// Whether the stop comes before the start on some night.
    pub(crate) fn stops_first(&self, act: &Act) -> bool {
        let early = |&night: &Night| act.edge(&self.stops, night) < act.edge(&self.starts, night);
        act.nights().iter().any(early)
    }

    /// Whether nothing of what it adds up, or of the encore that it asks for, ever lies between.
    pub(crate) fn counts_nothing(&self, act: &Act) -> bool {
        let nights = act.nights();
        let nothing = self.adds_up != AddsUp::Everything
            && nights.iter().all(|&night| self.counted(act, night) == 0);
        let encore = |night: Night| self.overlap(act, night, self.encore(act, night));
        nothing || self.encore == Some(true) && nights.iter().all(|&night| encore(night) == 0)
    }

    fn encore(&self, act: &Act, night: Night) -> (Ms, Ms) {
        (act.ends(night), act.encore_ends(night))
    }

    fn overlap(&self, act: &Act, night: Night, (from, to): (Ms, Ms)) -> Ms {
        let (starts, stops) = (act.edge(&self.starts, night), act.edge(&self.stops, night));
        (to.min(stops) - from.max(starts)).max(0)
    }

    fn counted(&self, act: &Act, night: Night) -> Ms {
        let of = |part| self.overlap(act, night, part);
        let encore = self.encore(act, night);
        match self.adds_up {
            AddsUp::Everything => {
                let all = act.edge(&self.stops, night) - act.edge(&self.starts, night);
                all - if self.encore == Some(false) { of(encore) } else { 0 }
            }
            AddsUp::Juggling => {
                let tide = act.walk + act.run(0);
                let crane = tide + night[0];
                let mut sum = of((act.walk, tide)) + of((crane, crane + act.run(1)));
                if self.encore == Some(true) {
                    sum += of((encore.0 + night[2], encore.1));
                }
                sum
            }
            AddsUp::SetUpAndStrike => of((-act.set_up, 0)) + of((encore.1, encore.1 + act.strike)),
        }
    }

    /// What it says on a night. Counts in millionths, so that the smallest excess is one of them.
    pub(crate) fn says(&self, act: &Act, night: Night) -> Said {
        let counted = self.counted(act, night);
        let inside = Said {
            counted,
            verdict: "inside",
            under: false,
            by: self
                .at_most
                .map_or_else(|| counted - self.at_least.unwrap_or(0), |most| most - counted),
            points: 0,
            is_close: false,
        };
        let outside = |excess: Ms| excess > 0 || excess == 0 && !self.inside;
        let sides = [
            (true, self.at_least.map(|least| least - counted), self.grace_under),
            (false, self.at_most.map(|most| counted - most), self.grace),
        ];
        for (under, excess, grace) in sides {
            let Some(excess) = excess.filter(|&excess| outside(excess)) else { continue };
            if !outside(excess - grace) {
                return Said { verdict: "grace", under, by: excess, ..inside };
            }
            let smallest = i64::from(excess == grace);
            let points = self.points(excess * 1000 + smallest, grace * 1000);
            let verdict = if under { "under" } else { "over" };
            return Said { verdict, under, by: excess, points, ..inside };
        }
        let room =
            [self.at_most.map(|most| most - counted), self.at_least.map(|one| counted - one)];
        Said { is_close: room.into_iter().flatten().any(|room| room < self.margin), ..inside }
    }

    fn points(&self, excess: i64, grace: i64) -> i64 {
        match &self.penalty {
            Penalty::None => 0,
            Penalty::Flat => 2,
            Penalty::Steps(every, or_part, from_grace, most) => {
                let excess = excess - if *from_grace { grace } else { 0 };
                let every = every * 1000;
                let whole = excess / every;
                let steps = whole + i64::from(*or_part && excess % every > 0);
                most.map_or(steps, |most| steps.min(most))
            }
            Penalty::Graded(rows) => {
                let reached = |&&(beyond, from_there, _): &&(Ms, bool, i64)| {
                    excess > beyond * 1000 || from_there && excess == beyond * 1000
                };
                rows.iter().rfind(reached).map_or(0, |row| row.2)
            }
        }
    }
}
