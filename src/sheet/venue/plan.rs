//! The stage plan: what stands on which of the nine places, and what stands beside them.

use crate::act::Act;
use crate::routine::{OnPlan, Part, PlanPlace, StagePlace, Venue};

use super::super::words::{plain, quoted};

/// The stage, seen from above.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StagePlan {
    /// The nine places, from the back to the audience, each row from the performer's right to the
    /// left: as the audience sees them.
    pub boxes: Vec<PlanBox>,
    /// What stands elsewhere: where, and what.
    pub beside: Vec<(String, String)>,
    /// Where the sections are: the place as it is written, and their names.
    pub sections: Vec<(String, Vec<String>)>,
}

/// One of the nine places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanBox {
    /// Which.
    pub place: StagePlace,
    /// What stands there.
    pub what: Vec<String>,
}

impl StagePlan {
    pub(super) fn of(act: &Act, venue: &Venue) -> StagePlan {
        let at = |place: StagePlace| {
            let here = |on: &&OnPlan| on.place == PlanPlace::OnStage(place);
            venue.plan.iter().filter(here).map(|on| plain(&on.what)).collect()
        };
        let beside = venue.plan.iter().filter_map(|on| match &on.place {
            PlanPlace::Beside(place) => Some((plain(place), plain(&on.what))),
            PlanPlace::OnStage(_) => None,
        });
        StagePlan {
            boxes: StagePlace::all().map(|place| PlanBox { place, what: at(place) }).collect(),
            beside: beside.collect(),
            sections: sections(act),
        }
    }
}

/// Where the sections of an act and its encore are, each place once, in order.
fn sections(act: &Act) -> Vec<(String, Vec<String>)> {
    let mut places: Vec<(String, Vec<String>)> = Vec::new();
    for section in act.with_encore().flat_map(|act| &act.routine.score) {
        let place = match &section.part {
            Part::Juggle(juggle) => juggle.place.as_deref(),
            Part::Pause(pause) => pause.place.as_deref(),
            Part::Unread(_) => None,
        };
        let Some(place) = place.map(plain) else { continue };
        let name = quoted(&section.name.value);
        match places.iter_mut().find(|(known, _)| *known == place) {
            Some((_, names)) => names.push(name),
            None => places.push((place, vec![name])),
        }
    }
    places
}
