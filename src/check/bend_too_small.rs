//! A section whose tempo may not bend far enough to land.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Edit, Help, Place};
use crate::measure::bend::{bend_text, may_bend_for, may_bend_text, tempo_text};
use crate::notation::{Kind, Throw};
use crate::routine::{Juggle, MOST_BEND, MayBend};
use crate::time::Seconds;
use crate::timeline::{Bend, Trouble};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "bend-too-small",
    what: "A section that may bend its tempo lands whole cycles on its end within what it \
          `may_bend`.",
    why: "The last cycle would be cut, or would run past the moment that was asked for.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "531", lasts: For("0:08"), may_bend: 0.01),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "531", lasts: For("0:08"), may_bend: 0.02),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::BendTooSmall { section, nearest } = trouble else { return None };
        let juggle = case.juggle(*section);
        let may_bend = juggle.may_bend.as_ref()?;
        let least = nearest.first().map(|(_, bend)| bend_text(&bend.bend())).unwrap_or_default();
        let message = format!(
            "\"{}\" cannot land whole cycles on its end: the nearest need its tempo bent by {least}",
            case.section(*section).name.value
        );
        let most = may_bend_text(&may_bend.most.value);
        let mut diagnostic = Diagnostic::error(CHECK.code, juggle.lasts.at.clone(), message)
            .label("between two cycles")
            .note_at(may_bend.most.at.clone(), format!("the tempo may bend by {most} either way"));
        let larger = nearest.iter().filter_map(|(_, bend)| bend_further(bend, may_bend));
        diagnostic.helps.extend(larger);
        let written = nearest.iter().map(|(off, bend)| as_written(off, bend, juggle, may_bend));
        diagnostic.helps.extend(written);
        diagnostic.helps.extend(nearest.iter().filter_map(|near| filled(case, *section, near)));
        Some(diagnostic)
    });
    found.collect()
}

/// A larger `may_bend` for these cycles.
fn bend_further(bend: &Bend, may_bend: &MayBend) -> Option<Help> {
    let larger = may_bend_for(&bend.bend());
    larger.parse::<f64>().ok().filter(|&larger| larger <= MOST_BEND)?;
    let text = format!(
        "bend it to {} a minute ({}), which lands {}",
        tempo_text(&bend.per_minute),
        bend_text(&bend.bend()),
        counted(bend.cycles, "cycle")
    );
    Some(Help::edit(text, may_bend.most.at.clone(), larger))
}

/// Beats of the plainest pattern of as many props before it, for what these cycles leave over: all
/// throws alike, which joins whatever has no prop due twice.
fn filled(case: &Case<'_>, section: usize, (off, bend): &(Seconds, Bend)) -> Option<Help> {
    let juggle = case.juggle(section);
    // A section that brings its set or its tempo would take both from what stands before it.
    if juggle.set.is_some() || juggle.tempo.is_some() || !off.is_negative() {
        return None;
    }
    let props = juggle.pattern.pattern.props();
    let plain = Throw::digit(u8::try_from(props).ok()?);
    let (pattern, unit) = match juggle.pattern.pattern.kind() {
        Kind::Async => (plain.to_string(), 1),
        Kind::Sync if props.is_multiple_of(2) => (format!("({plain},{plain})"), 2),
        Kind::Sync => return None,
    };
    let left = (&off.abs() * &(&bend.written / BigRational::from_integer(60.into()))).to_f64();
    let units = left / f64::from(unit);
    let beats = unit * if units.round() >= 1.0 { units.round().to_u32()? } else { 1 };
    let name = format!("before {}", case.section(section).name.value);
    if case.routine().section(&name).is_some() {
        return None;
    }
    let text = format!(
        "put {} of `{pattern}` before it, for what {} leave{} over",
        counted(beats, "beat"),
        counted(bend.cycles, "cycle"),
        if bend.cycles == 1 { "s" } else { "" },
    );
    let entry = &case.section(section).at;
    let insert = format!(
        "Juggle(name: {}, pattern: \"{pattern}\", lasts: Beats({beats})),\n        ",
        ron::ser::to_string(&name).ok()?
    );
    let at = Place { start: entry.start, end: entry.start };
    Some(Help::edit(text, at, insert))
}

/// As many cycles at the written tempo, which end a little off.
fn as_written(off: &Seconds, bend: &Bend, juggle: &Juggle, may_bend: &MayBend) -> Help {
    let how = if off.is_negative() { "earlier" } else { "later" };
    let text = format!(
        "{} at the written {} a minute {} {:.3} s {how}",
        counted(bend.cycles, "cycle"),
        tempo_text(&bend.written),
        if bend.cycles == 1 { "ends" } else { "end" },
        off.abs().to_f64()
    );
    let mut edits = vec![
        Edit { at: juggle.lasts.at.clone(), insert: format!("Cycles({})", bend.cycles) },
        Edit { at: may_bend.field.clone(), insert: String::new() },
    ];
    edits.sort_by_key(|edit| edit.at.start);
    Help::new(text, edits)
}
