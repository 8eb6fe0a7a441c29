//! Random choices that come out the same for the same seed (SplitMix64, Steele and others 2014).

/// A row of random choices.
#[derive(Clone, Debug)]
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From the least to the most, both included.
    pub(crate) fn within(&mut self, least: i64, most: i64) -> i64 {
        assert!(least <= most, "{least} to {most}");
        least + (self.next() % (most - least + 1) as u64) as i64
    }

    /// An index below this.
    pub(crate) fn below(&mut self, size: usize) -> usize {
        self.within(0, size as i64 - 1) as usize
    }

    /// True so many times in a hundred.
    pub(crate) fn often(&mut self, percent: i64) -> bool {
        self.within(1, 100) <= percent
    }

    /// One of these.
    pub(crate) fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

/// How many acts a run goes through: the environment's `THROWBOOK_ACTS`, or else `usually`.
pub(crate) fn acts(usually: usize) -> usize {
    let wanted = std::env::var("THROWBOOK_ACTS").ok();
    wanted.map_or(usually, |wanted| wanted.parse().expect("THROWBOOK_ACTS is a number of acts"))
}

/// With which seed the first act is made: the environment's `THROWBOOK_SEED`, or else 1.
pub(crate) fn first_seed() -> u64 {
    let wanted = std::env::var("THROWBOOK_SEED").ok();
    wanted.map_or(1, |wanted| wanted.parse().expect("THROWBOOK_SEED is a whole number"))
}

/// What `judge` makes of each, on all processors, in their order.
pub(crate) fn of_each<O: Sync, T: Send>(all: &[O], judge: impl Fn(&O) -> T + Sync) -> Vec<T> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let judge = &judge;
    let mut found: Vec<(usize, T)> = std::thread::scope(|scope| {
        let share = |thread: usize| {
            scope.spawn(move || {
                let own = all.iter().enumerate().skip(thread).step_by(threads);
                own.map(|(index, one)| (index, judge(one))).collect::<Vec<_>>()
            })
        };
        let shares: Vec<_> = (0..threads).map(share).collect();
        shares.into_iter().flat_map(|share| share.join().unwrap()).collect()
    });
    found.sort_by_key(|(index, _)| *index);
    found.into_iter().map(|(_, found)| found).collect()
}
