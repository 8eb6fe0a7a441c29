//! A juggler that follows labelled props, by the rule of which leaves first.

/// A throw: its value, and its number as written.
pub(crate) type Throw = (u8, u32);

/// What happens on each beat, hands alternating: the throws of the hand that acts next.
pub(crate) type Steps = Vec<Vec<Throw>>;

/// A prop that comes due: beat, when it came there, when it was thrown, and its order then.
#[derive(Clone, Copy, Debug)]
struct Due {
    prop: usize,
    hand: usize,
    due: i64,
    came: i64,
    thrown: i64,
    order: i64,
}

/// One throw that was made.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Made {
    pub(crate) number: u32,
    pub(crate) prop: usize,
    /// Which time round, from 0.
    pub(crate) cycle: usize,
}

/// The juggler in the middle of a run. Hands: 0 left, 1 right.
#[derive(Clone, Debug)]
pub(crate) struct Juggler {
    beat: i64,
    hand: usize,
    due: Vec<Due>,
    /// At rest, in the order in which they leave; `None`: as many new props as are called for.
    rest: Option<[Vec<usize>; 2]>,
    /// How many props were called for in each hand, and in all.
    pub(crate) called: [usize; 2],
    props: usize,
    caught: Vec<(usize, f64)>,
    /// The old order of the props, for those that are never caught.
    old: Vec<usize>,
}

impl Juggler {
    /// Props at rest that are numbered as they are called for.
    pub(crate) fn anew(lead: usize) -> Juggler {
        Juggler {
            beat: 0,
            hand: lead,
            due: Vec::new(),
            rest: None,
            called: [0; 2],
            props: 0,
            caught: Vec::new(),
            old: Vec::new(),
        }
    }

    /// Props that the hands hold.
    pub(crate) fn holding(hands: &[Vec<usize>; 2], lead: usize) -> Juggler {
        let old = hands.concat();
        Juggler { rest: Some(hands.clone()), old, ..Juggler::anew(lead) }
    }

    /// How many props are due in the hand that acts next.
    pub(crate) fn due_here(&self) -> usize {
        self.due.iter().filter(|due| due.due == self.beat && due.hand == self.hand).count()
    }

    /// One beat; `None` when the props due are not those that are thrown.
    pub(crate) fn step(&mut self, throws: &[Throw], cold: bool) -> Option<Vec<(u32, usize)>> {
        let mut here: Vec<Due> = Vec::new();
        self.due.retain(|due| {
            let now = due.due == self.beat && due.hand == self.hand;
            if now {
                here.push(*due);
            }
            !now
        });
        let wanted = throws.iter().filter(|(value, _)| *value > 0).count();
        if here.len() > wanted || (here.len() < wanted && !cold) {
            return None;
        }
        for place in 0..wanted - here.len() {
            let prop = match &mut self.rest {
                Some(rest) if rest[self.hand].is_empty() => return None,
                Some(rest) => rest[self.hand].remove(0),
                None => self.props,
            };
            self.props += 1;
            self.called[self.hand] += 1;
            if self.rest.is_none() {
                self.old.push(prop);
            }
            let order = i64::try_from(self.called[self.hand] * 100 + place).unwrap();
            let far = i64::MIN;
            here.push(Due { prop, hand: self.hand, due: self.beat, came: far, thrown: far, order });
        }
        here.sort_by_key(|due| (due.came, due.thrown, due.order));
        let mut made = Vec::new();
        let mut here = here.into_iter();
        for (order, &(value, number)) in throws.iter().enumerate().filter(|(_, t)| t.0 > 0) {
            let due = here.next()?;
            let lands = self.beat + i64::from(value);
            let to = if value % 2 == 0 { self.hand } else { 1 - self.hand };
            made.push((number, due.prop));
            if value == 2 {
                self.due.push(Due { due: lands, ..due });
                continue;
            }
            let flight = if value == 1 { 0.5 } else { f64::from(value) - 4.0 / 3.0 };
            #[allow(clippy::cast_precision_loss)]
            self.caught.push((due.prop, self.beat as f64 + flight));
            let order = i64::try_from(order).unwrap();
            self.due.push(Due {
                prop: due.prop,
                hand: to,
                due: lands,
                came: lands,
                thrown: self.beat,
                order,
            });
        }
        self.beat += 1;
        self.hand = 1 - self.hand;
        Some(made)
    }

    /// Juggles a pattern for some beats; `None` when it does not fit.
    pub(crate) fn juggle(&mut self, steps: &Steps, beats: usize, cold: bool) -> Option<Vec<Made>> {
        let mut made = Vec::new();
        for (beat, throws) in steps.iter().cycle().take(beats).enumerate() {
            let cycle = beat / steps.len();
            let props = self.step(throws, cold)?;
            made.extend(props.into_iter().map(|(number, prop)| Made { number, prop, cycle }));
        }
        Some(made)
    }

    /// Whether the pattern can be juggled on from here.
    pub(crate) fn goes_on(&self, steps: &Steps) -> bool {
        let mut ahead = self.clone();
        ahead.juggle(steps, 24 + steps.len(), false).is_some()
    }

    /// What each hand holds once all is caught, in the order in which it would leave.
    pub(crate) fn gathered(&self) -> [Vec<usize>; 2] {
        let caught = |prop: usize| {
            let last = self.caught.iter().rev().find(|(other, _)| *other == prop);
            last.map(|(_, at)| *at)
        };
        let old = |prop: usize| self.old.iter().position(|&other| other == prop);
        let mut hands: [Vec<Due>; 2] = Default::default();
        for due in &self.due {
            hands[due.hand].push(*due);
        }
        hands.map(|mut hand| {
            hand.sort_by(|a, b| match (caught(a.prop), caught(b.prop)) {
                (Some(a_at), Some(b_at)) if (a_at - b_at).abs() > 1e-9 => b_at.total_cmp(&a_at),
                (Some(_), None) => std::cmp::Ordering::Less,
                (None, Some(_)) => std::cmp::Ordering::Greater,
                (None, None) => old(a.prop).cmp(&old(b.prop)),
                (Some(_), Some(_)) => (a.came, a.thrown, a.order).cmp(&(b.came, b.thrown, b.order)),
            });
            hand.into_iter().map(|due| due.prop).collect()
        })
    }
}
