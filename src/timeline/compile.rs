//! From a routine to its timeline, section by section.
//!
//! Times are laid out on the *routine clock*, whose zero is the first section's start, and moved
//! to the show clock at the end. A trouble does not stop the work: the section is laid out as well
//! as may be, so that what is wrong behind it is found too.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Signed;

use crate::notation::Kind;
use crate::routine::{Juggle, Lands, Length, Moment, Part, Pause, Routine, Section, Tempo, Until};
use crate::time::{Pace, Piece, Seconds, Time, Within};

use super::join::{Join, Junction};
use super::known::{Known, Sure};
use super::label::{Belongs, Label};
use super::lasting::{Lasts, Own};
use super::left_open::{LeftOpen, OpenPlaces};
use super::length::{InForce, MusicTempo, Wanted, wanted};
use super::moments::{Asked, OpenRun, Progress, View};
use super::run::{Action, Face, HandLoading, Run};
use super::section::{JuggleSpan, SectionSpan, TakenTransition};
use super::{MovedByOpen, Timeline, Trouble, Unresolved, WhyNoBars};
use super::{lands, track};

/// Throws a minute assumed to go on with where none are in force, which is reported.
const ASSUMED_TEMPO: u32 = 200;

/// What came of compiling.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// The timeline, as far as it could be laid out. Sheets are made from it only when there is no
    /// trouble.
    pub timeline: Timeline,
    /// Whether its times can be relied on: what a check says of times is true only then.
    pub times_known: bool,
    /// Everything that could not be done, in the order of the score.
    pub troubles: Vec<Trouble>,
    /// What came of compiling the encore, which the timeline holds too.
    pub encore: Option<Box<Compiled>>,
}

/// Compiles a routine.
#[must_use]
pub fn compile(routine: &Routine) -> Compiled {
    compile_from(Compiler::begin(routine))
}

/// Compiles a routine to see what fits: every section has its fixed end beside it, and one that
/// lands on none of its beats, or bends too far, is laid out with the least bend there is.
#[must_use]
pub fn compile_to_fit(routine: &Routine) -> Compiled {
    let mut compiler = Compiler::begin(routine);
    compiler.fitting = true;
    compile_from(compiler)
}

/// Compiles a routine whose colours are not chosen yet: its found loadings stand in the natural
/// order, and what hangs on colours is not judged.
pub(crate) fn compile_uncoloured(routine: &Routine) -> Compiled {
    let mut compiler = Compiler::begin(routine);
    compiler.colours_open = true;
    compile_from(compiler)
}

fn compile_from(mut compiler: Compiler<'_>) -> Compiled {
    let routine = compiler.routine;
    let encore = routine.encore.as_ref().map(|encore| {
        let first = compiler.open.end();
        let Compiler { fitting, colours_open, .. } = compiler;
        let begun = Compiler::begin_at(&encore.routine, first);
        Box::new(compile_from(Compiler { fitting, colours_open, ..begun }))
    });
    compiler.timeline.encore_lasts = encore.as_ref().map(|encore| match encore.times_known {
        true => encore.timeline.lasts(),
        false => encore.timeline.lasts().unknown(routine.score.len() + 1),
    });
    for (index, section) in routine.score.iter().enumerate() {
        match &section.part {
            Part::Juggle(juggle) => compiler.juggle(index, juggle),
            Part::Pause(pause) => compiler.pause(index, pause, None),
            Part::Unread(unread) => compiler.unread(index, unread),
        }
    }
    Compiled { encore, ..compiler.finish() }
}

/// A section whose transition is thrown and whose own first throw comes next.
#[derive(Clone)]
pub(super) struct Entered {
    /// How it was joined.
    pub(super) join: Join,
    /// The run so far.
    pub(super) label: Label,
    /// Its time so far: the transition's.
    pub(super) piece: Piece,
    /// Its first action in the run.
    first_action: usize,
    /// Whether the entry before it puts its own first throw on a moment.
    awaited: bool,
    /// What of it an error leaves open.
    sure: Sure,
}

impl Entered {
    /// What was thrown on the way.
    pub(super) fn thrown(&self) -> &[Action] {
        self.label.actions.get(self.first_action..).unwrap_or_default()
    }

    /// The section in hand.
    pub(super) fn own<'e>(&'e self, index: usize, juggle: &'e Juggle) -> Own<'e> {
        let unit = if juggle.pattern.pattern.kind() == Kind::Sync { 2 } else { 1 };
        let Entered { join, label, piece, .. } = self;
        let awaited = self.awaited;
        Own { index, juggle, course: &join.course, pace: &piece.pace, label, unit, awaited }
    }
}

/// The compiler half-way.
#[derive(Clone)]
pub(super) struct Compiler<'a> {
    pub(super) routine: &'a Routine,
    pub(super) timeline: Timeline,
    pub(super) troubles: Vec<Trouble>,
    pub(super) times_known: bool,
    /// Where the next section starts, on the routine clock.
    pub(super) clock: Time,
    /// The tempo in force.
    pub(super) tempo: Option<InForce>,
    /// What of all this is known, not assumed.
    pub(super) known: Known,
    /// The set in use, as an index into the routine's.
    pub(super) set: Option<usize>,
    /// What the hands hold since the last gather, with that set.
    pub(super) hands: Option<HandLoading>,
    /// Whether a pause has loaded the hands anew since that gather.
    pub(super) regripped: bool,
    /// The face that the props show.
    pub(super) face: Face,
    /// The run in the making; the timeline holds its frame as the last run.
    pub(super) label: Option<Label>,
    /// Beats laid out in all.
    pub(super) laid_out: u32,
    /// Whether the run in the making starts from a natural loading.
    pub(super) natural: bool,
    /// Whether the colours are still to be chosen: a written loading of kept props is taken by its
    /// numbers then.
    pub(super) colours_open: bool,
    /// Whether it is compiled to see what fits.
    pub(super) fitting: bool,
    /// What the routine leaves open.
    open: OpenPlaces,
    /// Whether an error leaves open how long the section in hand lasts.
    pub(super) lost: bool,
}

impl<'a> Compiler<'a> {
    /// Before the first section.
    pub(super) fn begin(routine: &'a Routine) -> Compiler<'a> {
        Compiler::begin_at(routine, 0)
    }

    /// The same of a routine whose open lengths come after so many others.
    fn begin_at(routine: &'a Routine, first_open: usize) -> Compiler<'a> {
        let open = OpenPlaces::of(routine, first_open);
        let mut compiler = Compiler {
            routine,
            timeline: Timeline {
                runs: Vec::new(),
                sections: Vec::with_capacity(routine.score.len()),
                tracks: track::spans(routine, &open),
                dwell: routine.dwell,
                encore_lasts: None,
            },
            troubles: Vec::new(),
            times_known: true,
            clock: Time::zero(),
            tempo: None,
            known: Known::ALL,
            set: None,
            hands: None,
            label: None,
            laid_out: 0,
            natural: false,
            regripped: false,
            face: Face::Front,
            colours_open: false,
            fitting: false,
            open,
            lost: false,
        };
        // The reader takes a steady tempo only for the whole routine.
        compiler.tempo = match routine.tempo.as_ref().map(|tempo| &tempo.value) {
            Some(Tempo::PerMinute(tempo)) => Some(InForce::PerMinute(Some(tempo.clone()))),
            Some(Tempo::PerMusicBeat { throws, accent }) => Some(InForce::Music(MusicTempo {
                throws: throws.clone(),
                accent: *accent,
                reached: None,
            })),
            Some(Tempo::Ramp { .. }) | None => None,
        };
        compiler
    }
}

impl Compiler<'_> {
    /// Lays out a pause; `lead_in` is the number of beats of the next section's transition, where
    /// that is decided already.
    pub(super) fn pause(&mut self, index: usize, pause: &Pause, lead_in: Option<u32>) {
        let starts = self.clock.clone();
        let regrip = self.regrip(index, pause);
        self.timeline.sections.push(SectionSpan { regrip, ..SectionSpan::from(starts.clone()) });
        self.lost = false;
        let ends = match &pause.lasts.value {
            Length::For(length) => Ok(&starts + length),
            Length::Between(lasts) => Ok(&starts + &self.open.time(LeftOpen::Pause(index), lasts)),
            Length::Bars(bars) => self.after_bars(&starts, *bars, None),
            Length::Until(until) => self.pause_until(index, until, lead_in),
            Length::Beats(_) | Length::Cycles(_) => {
                unreachable!("the reader gives a pause a length in time")
            }
        };
        let ends = match ends {
            Ok(ends) if self.is_there(index, &(&ends - &starts)) => ends,
            Ok(_) => Compiler::assumed(&starts),
            Err(why) => {
                let moved = match &pause.lasts.value {
                    Length::Until(until) if until.on.is_one_of_several() => MovedByOpen::Which,
                    _ => MovedByOpen::Pace,
                };
                self.unresolved(index, why, moved);
                Compiler::assumed(&starts)
            }
        };
        self.end_section(ends);
    }

    /// Where a pause ends that lasts until a moment.
    fn pause_until(
        &self,
        index: usize,
        until: &Until,
        lead_in: Option<u32>,
    ) -> Result<Time, Unresolved> {
        let on = self.moment(&until.on, None)?;
        let end = match until.lands {
            Lands::Next => self.accented(index + 1, on)?,
            _ => on,
        };
        let lands = self.cold_landing(index, until, lead_in, &end)?;
        Ok(&end - &lands.ok_or(Unresolved::NotYet)?)
    }

    /// Whether a pause of that length ends after it starts; reports one that does not, on whatever
    /// night.
    fn is_there(&mut self, section: usize, lasts: &Time) -> bool {
        let least = lasts.least();
        if lasts.is_unknown() || !least.is_negative() {
            return true;
        }
        let shortens = lasts.owes().iter().find(|(_, share)| share.is_negative());
        match shortens {
            Some(&(by, _)) if !lasts.shortest().is_negative() => {
                let moved = MovedByOpen::Negative(lasts.clone());
                self.trouble(Trouble::Range { section, by, moved });
            }
            _ if self.times_known => {
                self.trouble(Trouble::NegativePause { section, lasts: least });
            }
            _ => {}
        }
        self.lose();
        false
    }

    /// An error leaves open how long the section in hand lasts.
    pub(super) fn lose(&mut self) {
        (self.times_known, self.lost) = (false, true);
    }

    /// Reports that how long an entry lasts is not known; what hangs on an entry that an error
    /// leaves unknown is no fault of its own.
    pub(super) fn unresolved(&mut self, section: usize, why: Unresolved, moved: MovedByOpen) {
        match why {
            Unresolved::HangsOn(by) if by.is_unknown() => {}
            Unresolved::HangsOn(by) => self.trouble(Trouble::Range { section, by, moved }),
            why => self.trouble(Trouble::UntilUnknown { section, why }),
        }
        self.lose();
    }

    /// A length of time that nothing open may change.
    pub(super) fn certain(time: &Time) -> Result<Seconds, Unresolved> {
        match time.hangs_on() {
            None => Ok(time.shortest().clone()),
            Some(open) => Err(Unresolved::HangsOn(open)),
        }
    }

    fn juggle(&mut self, index: usize, juggle: &Juggle) {
        self.take_set(index, juggle);
        let junction = self.junction(index, juggle);
        let join = if self.sure(juggle).way { junction.plan() } else { junction.direct() };
        let entered = self.enter(index, juggle, join);
        let lasts = self.lasting(&entered.own(index, juggle), None);
        self.run_on(index, juggle, entered, lasts);
    }

    /// Where a section is joined to what is before it, or starts cold.
    pub(super) fn junction<'j>(&self, index: usize, juggle: &'j Juggle) -> Junction<'j> {
        match &self.label {
            Some(label) => self.joined(index, juggle, label, self.last_lead(index)),
            None => self.cold(index, juggle),
        }
    }

    /// Throws the transition of a section, up to its own first throw.
    pub(super) fn enter(&mut self, index: usize, juggle: &Juggle, join: Join) -> Entered {
        self.lost = false;
        let sure = self.sure(juggle);
        let cold = self.label.is_none();
        let starts = self.clock.clone();
        // The music may start with it, and its pace may follow the music.
        self.timeline.sections.push(SectionSpan::from(starts.clone()));
        let pace = self.pace(index, juggle);
        let mut label = match self.label.take() {
            Some(label) => label,
            None => self.start_run(index, juggle, &join),
        };
        let (first_beat, first_action) = (label.beat, label.actions.len());
        let course = &join.course;
        label.follow(course, &join.throws, Belongs::to(index, juggle));
        if self.report(index, &join, &label, sure) {
            label.reseat(&course.needed, &self.open_run().loading);
        }
        let sure = Sure { pace: !self.lost, ..sure };
        if !sure.way {
            self.lose();
        }
        // At a pace that is assumed, or after a way that is, nobody knows when anything is thrown.
        let starts = if sure.pace && sure.way {
            starts
        } else {
            starts.hidden_within(index, Within::Starts)
        };
        self.go_on(cold, sure);
        let piece = Piece { first_beat, beats: course.beats, starts, pace };
        // Where the section ends may hang on its own first beats: their time is known already.
        self.open_run().tempo.pieces.push(piece.clone());
        let awaited = self.is_awaited(index);
        Entered { join, label, piece, first_action, awaited, sure }
    }

    /// Juggles a section for as long as it lasts.
    pub(super) fn run_on(&mut self, index: usize, juggle: &Juggle, entered: Entered, lasts: Lasts) {
        let Entered { join, mut label, piece, first_action, awaited, sure } = entered;
        let Lasts { beats, beats_known, bend, fixed_end } = lasts;
        let joining = self.joining(index, &join, sure);
        // Where its beats are not known, neither is how far its tempo bends to land them, nor how a
        // ramp gets on that spans them.
        let is_ramp = matches!(piece.pace, Pace::Ramp { .. });
        let bend_hidden = !beats_known && (is_ramp || juggle.may_bend.is_some());
        let bend_hidden = bend_hidden || is_ramp && !sure.way;
        let piece = match bend_hidden {
            true => Piece { starts: piece.starts.hidden_within(index, Within::Starts), ..piece },
            false => piece,
        };
        self.known.beats = beats_known;
        self.known.run &= beats_known;
        let Join { throws, course, .. } = join;
        let pattern = &juggle.pattern.pattern;
        let belongs = Belongs::to(index, juggle);
        label.juggle(pattern.sequence(), course.lead, beats, belongs);
        // What comes after goes on at the written tempo, never at the bent one.
        let (_, reached) = Piece { beats: piece.beats + beats, ..piece.clone() }.tempos();
        self.tempo = Some(match (wanted(juggle, self.tempo.as_ref()), &piece.pace) {
            (Some(Wanted::Music(music)), Pace::Music { .. }) => {
                InForce::Music(MusicTempo { reached: Some(reached), ..music })
            }
            _ => InForce::PerMinute(Some(reached)),
        });
        let follows_the_music = matches!(piece.pace, Pace::Music { .. });
        let first_beat = piece.first_beat;
        let piece_starts = piece.starts.clone();
        let pieces = piece.lasting(beats, bend.as_ref().map(|bend| &bend.per_minute), awaited);
        let ends_run = !self.joins_on(index);
        let own_first_beat = first_beat + course.beats;
        let taken = course.beats > 0 || course.waits.is_some();
        let (face, other_face) = self.show_faces(juggle, own_first_beat);
        let span = JuggleSpan {
            run: self.timeline.runs.len().saturating_sub(1),
            first_beat,
            own_first_beat,
            beats,
            beats_known,
            way_known: sure.way,
            hands_known: sure.hands,
            pace_known: sure.pace && !bend_hidden,
            cycles: (beats / pattern.period(), beats % pattern.period()),
            lead: course.lead,
            joining,
            transition: taken.then_some(TakenTransition {
                throws,
                beats: course.beats,
                waits: course.waits,
            }),
            actions: first_action..label.actions.len(),
            face,
            other_face,
            face_known: self.known.face && self.set.is_some(),
            ends_run,
            bend,
            fixed_end,
        };
        if let Some(section) = self.timeline.sections.last_mut() {
            section.juggle = Some(span);
        }
        let ends = pieces.last().map_or_else(|| self.clock.clone(), Piece::ends);
        if follows_the_music {
            self.within_the_music(index, &piece_starts, &ends);
        }
        let run = self.open_run();
        run.beats = own_first_beat + beats;
        run.tempo.pieces.pop();
        run.tempo.pieces.extend(pieces);
        if self.unread_after(index).is_some_and(|unread| unread.is_juggled.is_none()) {
            // Whether its props are caught before the next entry is not known.
            self.lose();
        }
        self.end_section(ends);
        if ends_run {
            self.gather(index, label);
        } else {
            self.label = Some(label);
        }
    }

    /// Whether the entry after this one is juggled on without a gather.
    pub(super) fn joins_on(&self, index: usize) -> bool {
        self.routine.score.get(index + 1).is_some_and(Section::is_juggled)
    }

    /// Ends the section in hand; where an error leaves its length open, nothing after it is known.
    pub(super) fn end_section(&mut self, ends: Time) {
        let ends = match self.lost {
            true => ends.unknown(self.timeline.sections.len().saturating_sub(1)),
            false => ends,
        };
        self.clock = ends.clone();
        if let Some(section) = self.timeline.sections.last_mut() {
            section.ends = ends;
        }
    }

    pub(super) fn trouble(&mut self, trouble: Trouble) {
        self.troubles.push(trouble);
    }

    /// The run in the making.
    pub(super) fn open_run(&mut self) -> &mut Run {
        self.timeline.runs.last_mut().unwrap_or_else(|| unreachable!("`start_run` pushed one"))
    }

    /// Says what stands in the way of a join, with the throws that are in the air there, and
    /// whether anything did.
    fn report(&mut self, index: usize, join: &Join, label: &Label, sure: Sure) -> bool {
        let Some(mut trouble) = join.trouble.clone() else { return !sure.props };
        // From where nobody knows where the props are, a junction is no fault of its own.
        let hangs_on_hands = matches!(trouble, Trouble::Lead { .. });
        if !sure.props || hangs_on_hands && !self.known.hands {
            return true;
        }
        // Where the props do not match, the junction cannot either: one fault, not two.
        let miscounted = self.troubles.iter().any(|trouble| match trouble {
            Trouble::PropCount { section, .. }
            | Trouble::SetInRun { section }
            | Trouble::Regrip { section, .. }
            | Trouble::Loading { section, .. } => *section == index || section + 1 == index,
            _ => false,
        });
        if let Trouble::Junction { in_flight, .. } = &mut trouble {
            *in_flight = label.in_flight();
        }
        if !miscounted {
            self.troubles.push(trouble);
        }
        true
    }

    /// The pace of a section: its own tempo, or the one in force.
    fn pace(&mut self, index: usize, juggle: &Juggle) -> Pace {
        let inherits = matches!(
            juggle.tempo.as_ref().map(|tempo| &tempo.value),
            None | Some(Tempo::Ramp { from: None, .. })
        );
        let assumed = !self.known.tempo && inherits;
        self.known.tempo = !assumed || juggle.tempo.is_some();
        match wanted(juggle, self.tempo.as_ref()) {
            Some(Wanted::Pace(pace)) => {
                if assumed {
                    self.lose();
                }
                return pace;
            }
            Some(Wanted::Music(music)) => match self.followed(&music.throws, &self.clock) {
                Ok(pace) => return pace,
                Err(WhyNoBars::Unknown(Unresolved::HangsOn(by))) if by.is_unknown() => {}
                Err(WhyNoBars::Unknown(Unresolved::HangsOn(by))) => {
                    let moved = MovedByOpen::Pace;
                    self.troubles.push(Trouble::Range { section: index, by, moved });
                }
                Err(why) => self.troubles.push(Trouble::OffBars { section: index, why }),
            },
            // The compiler knows what it has laid out.
            Some(Wanted::NotYet) | None => self.troubles.push(Trouble::NoTempo { section: index }),
        }
        self.known.tempo = false;
        self.lose();
        Pace::Steady(BigRational::from_integer(BigInt::from(ASSUMED_TEMPO)))
    }

    /// When a moment comes, on the routine clock, as far as the routine is laid out and one cycle
    /// into the section in hand, if it is juggled.
    pub(super) fn moment(
        &self,
        moment: &Moment,
        in_hand: Option<&Own<'_>>,
    ) -> Result<Time, Unresolved> {
        let ahead = in_hand.map(Own::one_cycle_ahead);
        let run = match (&ahead, &self.label) {
            (Some((label, settled)), _) => {
                Some(OpenRun { actions: &label.actions, settled: *settled })
            }
            // Between two sections of a run all its throws so far are laid out.
            (None, Some(label)) => Some(OpenRun { actions: &label.actions, settled: label.beat }),
            (None, None) => None,
        };
        // The section in hand is the last one pushed, and has not ended.
        let ended = self.timeline.sections.len().saturating_sub(1);
        let open = Some(Progress { ended, run, all: false });
        View { routine: self.routine, timeline: &self.timeline, open }
            .when(moment, Asked::default())
    }

    /// Finds the zero of the show clock and moves every time onto it.
    fn finish(mut self) -> Compiled {
        let routine = self.routine;
        // All is laid out now; only the clock is still the routine's.
        let ended = self.timeline.sections.len();
        let open = Some(Progress { ended, run: None, all: true });
        let view = View { routine, timeline: &self.timeline, open };
        let zero = view.zero_of_show(Asked::zero());
        let missing: Vec<Trouble> = lands::missing(&view, self.times_known);
        let starts: Vec<_> =
            (0..self.timeline.tracks.len()).map(|track| view.starts_of(track)).collect();
        // What hangs on a section that could not be read is no trouble of its own.
        let all_read = routine.score.iter().all(|section| section.unread().is_none());
        let zero = zero.unwrap_or_else(|why| {
            self.times_known = false;
            self.troubles.extend(all_read.then_some(Trouble::ZeroUnknown { why }));
            Time::zero().unknown(routine.score.len())
        });
        for (track, starts) in starts.into_iter().enumerate() {
            match starts {
                Ok(starts) => self.timeline.tracks[track].starts = Some(starts),
                Err(why) => {
                    self.times_known = false;
                    let trouble = Trouble::TrackStartUnknown { track, why };
                    self.troubles.extend(all_read.then_some(trouble));
                }
            }
        }
        self.times_known &= !routine.hidden.zero && missing.is_empty();
        self.troubles.extend(missing);
        self.timeline.shift(&zero);
        let Compiler { timeline, times_known, troubles, .. } = self;
        Compiled { timeline, times_known, troubles, encore: None }
    }
}
