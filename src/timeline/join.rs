//! How one section is joined to what is before it: the course that is taken, or what stands in
//! its way.

use crate::hand::Hand;
use crate::notation::{Kind, Sequence};
use crate::patterns::Schedule;
use crate::routine::{Juggle, Transition};
use crate::transition::{Bounds, Goal, Origin, Way, ways};

use super::course::{Course, lay, open_choices};
use super::trouble::Trouble;

/// More open choices of hand than this are not tried out (a written transition would have to
/// change the notation as often).
const MOST_CHOICES: u32 = 6;

/// What a join must know of the place where it stands.
pub(super) struct Junction<'a> {
    /// Index of the section in the score.
    pub(super) section: usize,
    /// What is left, or at rest.
    pub(super) origin: Origin,
    /// At rest: whether the numbers in the hands are given (props kept, or a written loading).
    pub(super) hands_given: bool,
    /// Whether the hand that fits may lead; otherwise only the preferred one, or the demanded.
    pub(super) any_hand: bool,
    /// The hand that goes on where nothing decides: the last alternating section's, or the
    /// routine's.
    pub(super) preferred: Hand,
    /// Bounds of what `Auto` finds.
    pub(super) bounds: Bounds,
    /// The section.
    pub(super) juggle: &'a Juggle,
}

/// A planned join.
#[derive(Clone)]
pub(super) struct Join {
    /// The throws between; empty for a direct join.
    pub(super) throws: Sequence,
    /// How they are laid out.
    pub(super) course: Course,
    /// What stands in the way, if anything does.
    pub(super) trouble: Option<Trouble>,
}

impl Junction<'_> {
    /// Plans the join.
    pub(super) fn plan(&self) -> Join {
        let nothing = Sequence { steps: Vec::new(), starred: false };
        let loose = matches!(self.origin, Origin::AtRest { .. }) && !self.hands_given;
        match &self.juggle.transition.value {
            Transition::Throws(written) => self.take(written.throws.clone()),
            Transition::Auto if !loose => self.find(nothing),
            Transition::Direct | Transition::Auto => self.take(nothing),
        }
    }

    /// The join without any throws between.
    pub(super) fn direct(&self) -> Join {
        self.take(Sequence { steps: Vec::new(), starred: false })
    }

    /// The demanded lead; pairs have none.
    fn demanded(&self) -> Option<Hand> {
        self.juggle.lead.as_ref().map(|lead| lead.value)
    }

    /// Whether a cold start may begin with that hand: a new loading is made for the routine's
    /// lead, or for the demanded one; kept props choose the hand that fits them.
    pub(super) fn may_begin(&self, hand: Option<Hand>) -> bool {
        !self.begins_against_preference(hand) || self.any_hand || self.demanded().is_some()
    }

    /// A run's lead is the hand of its first throw, a transition's included; after pairs it is the
    /// section's own first throw that the preferred hand makes.
    fn begins_against_preference(&self, hand: Option<Hand>) -> bool {
        matches!(self.origin, Origin::AtRest { .. })
            && hand.is_some_and(|hand| hand != self.preferred)
    }

    /// The shortest transition there is.
    fn find(&self, nothing: Sequence) -> Join {
        let pattern = &self.juggle.pattern.pattern;
        let leads = match (pattern.kind(), self.demanded(), &self.origin) {
            (Kind::Async, Some(lead), _) => vec![Some(lead)],
            (Kind::Sync, ..) | (Kind::Async, None, Origin::Alternating { .. }) => vec![None],
            (Kind::Async, None, _) => vec![Some(self.preferred), Some(self.preferred.other())],
        };
        let best = leads
            .into_iter()
            .filter_map(|lead| {
                let goal = Goal { pattern, lead, preferred: self.preferred };
                ways(&self.origin, goal, self.bounds, 1).into_iter().next()
            })
            .filter(|way| self.may_begin(way.begins))
            // The first of equals, after pairs: the preferred hand leads.
            .min_by_key(|way| (way.beats, self.begins_against_preference(way.begins)));
        match best {
            Some(way) => self.taken(way),
            None => {
                let trouble =
                    Trouble::NoTransition { section: self.section, origin: self.origin.clone() };
                Join { trouble: Some(trouble), ..self.take(nothing) }
            }
        }
    }

    /// A way that was found, laid out.
    pub(super) fn taken(&self, way: Way) -> Join {
        // After pairs the hand that does not wait goes on alone.
        let alone = match self.origin {
            Origin::Pairs { .. } => way.waits.map(Hand::other),
            Origin::Alternating { .. } | Origin::AtRest { .. } => way.begins,
        };
        let choices: Vec<Hand> = alone.into_iter().collect();
        let course = lay(&self.origin, &way.throws, &self.juggle.pattern.pattern, &choices);
        debug_assert!(course.fits(), "the search finds valid transitions only");
        Join { throws: way.throws, course, trouble: None }
    }

    /// These throws, with the hands that make them fit.
    fn take(&self, throws: Sequence) -> Join {
        let pattern = &self.juggle.pattern.pattern;
        let choices = open_choices(&self.origin, &throws, pattern.kind());
        let mut courses = Vec::new();
        for combination in 0..1_u32 << choices.min(MOST_CHOICES) {
            let hands: Vec<Hand> = (0..choices)
                .map(|choice| {
                    let other = combination >> choice.min(MOST_CHOICES) & 1 == 1;
                    if other { self.preferred.other() } else { self.preferred }
                })
                .collect();
            courses.push(lay(&self.origin, &throws, pattern, &hands));
        }
        courses.retain(|course| self.may_begin(course.begins));
        courses.sort_by_key(|course| {
            let against = course.lead.is_some_and(|lead| lead != self.preferred);
            (self.begins_against_preference(course.begins), against)
        });
        let met = |course: &Course| {
            self.demanded().is_none_or(|lead| course.lead.is_none_or(|got| got == lead))
        };
        let whole = |course: &&Course| met(course) && course.fits() && self.hands_fit(course);
        if let Some(course) = courses.iter().find(whole) {
            return Join { throws, course: course.clone(), trouble: None };
        }
        let course = courses
            .iter()
            .find(|course| met(course) && course.fits())
            .or_else(|| courses.iter().find(|course| met(course)))
            .or_else(|| courses.first())
            .unwrap_or_else(|| unreachable!("there is always one combination of hands"))
            .clone();
        let trouble = self.trouble_of(&course, met(&course));
        Join { throws, course, trouble: Some(trouble) }
    }

    /// At rest with given numbers: whether each hand holds what is called from it.
    fn hands_fit(&self, course: &Course) -> bool {
        let Origin::AtRest { right, left } = self.origin else { return true };
        !self.hands_given || in_hands(&course.called) == (right, left)
    }

    fn trouble_of(&self, course: &Course, met: bool) -> Trouble {
        let section = self.section;
        if !met {
            let got = course.lead.unwrap_or(self.preferred);
            let fits = course.fits() && self.hands_fit(course);
            return Trouble::Lead { section, got, fits, origin: self.origin.clone() };
        }
        if let (Origin::AtRest { right, left }, true) = (&self.origin, course.fits()) {
            let (needs_right, needs_left) = in_hands(&course.called);
            return Trouble::HandCount {
                section,
                right: *right,
                left: *left,
                needs_right,
                needs_left,
                lead: course.lead,
            };
        }
        Trouble::Junction {
            section,
            origin: self.origin.clone(),
            misfits: course.misfits.clone(),
            left: course.left.clone(),
            needed: course.needed.clone(),
            beats: course.beats,
            lead: course.lead,
            in_flight: Vec::new(),
        }
    }
}

/// Props called from the right and from the left hand.
fn in_hands(called: &Schedule) -> (u32, u32) {
    (called.in_hand(Hand::Right), called.in_hand(Hand::Left))
}
