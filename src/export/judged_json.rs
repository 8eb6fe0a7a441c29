//! What a limit says in JSON: the worst case, the best and the other side alike.

use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::measure::limits::Judgement;
use crate::time::Seconds;

/// A judgement, each of its fields after this beginning; null where it is not known, and where
/// there is none.
pub(super) struct Judged<'a>(pub(super) &'static str, pub(super) Option<&'a Judgement>);

impl Serialize for Judged<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Judged(begins, judged) = self;
        let price = judged.map(|one| &one.price);
        let name = |name: &str| format!("{begins}{name}");
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry(&name("verdict"), &judged.map(|one| one.verdict.word()))?;
        let by = judged.and_then(|one| one.by.as_ref()).map(Seconds::to_f64);
        map.serialize_entry(&name("by_s"), &by)?;
        map.serialize_entry(&name("penalty_points"), &price.map(|price| price.points))?;
        map.serialize_entry(&name("penalty_percent"), &price.map(|price| price.percent))?;
        let rating = price.and_then(|price| price.rating.as_ref());
        map.serialize_entry(&name("penalty_rating"), &rating)?;
        map.serialize_entry(&name("disqualified"), &price.map(|price| price.out))?;
        map.end()
    }
}
