//! How throws are made as JSON: for each hand a map from the way to the times.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::hand::Hand;
use crate::measure::made::MadeCounts;
use crate::routine::Made;

/// `{"right":{"under-leg":3},"left":{}}`; ways that are not used are left out.
#[derive(Serialize, Default)]
pub(super) struct MadeHands {
    right: BTreeMap<&'static str, u32>,
    left: BTreeMap<&'static str, u32>,
}

/// The counts of both hands.
pub(super) fn hands(counts: &MadeCounts) -> MadeHands {
    let of = |hand: Hand| {
        counts[hand.index()].iter().map(|(&made, &times)| (name(made), times)).collect()
    };
    MadeHands { right: of(Hand::Right), left: of(Hand::Left) }
}

fn name(made: Made) -> &'static str {
    match made {
        Made::Inside => "inside",
        Made::Outside => "outside",
        Made::UnderWrist => "under-wrist",
        Made::UnderLeg => "under-leg",
        Made::BehindBack => "behind-back",
        Made::OverTop => "over-top",
    }
}
