//! A length in time that is no whole number of beats.

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Help, Placed};
use crate::routine::{Length, Tempo};
use crate::time::Seconds;
use crate::timeline::Trouble;

use super::music_tempo::followed;
use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "length-not-whole",
    what: "A juggled section whose length is given in time lasts a whole number of beats.",
    why: "The last throw would come before or after the moment that was asked for.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: For("0:08")),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(27)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::NotWhole { section, below, above } = trouble else { return None };
            let lasts = &case.juggle(*section).lasts;
            let name = &case.section(*section).name.value;
            let what = match &lasts.value {
                Length::Until(_) => "the moment at which it ends is not on one of its beats",
                Length::Bars(_) => "the end of its last bar is not on one of its beats",
                Length::For(_) | Length::Between(..) | Length::Beats(_) | Length::Cycles(_) => {
                    "that is not a whole number of beats"
                }
            };
            let mut diagnostic = Diagnostic::error(
                CHECK.code,
                lasts.at.clone(),
                format!("\"{name}\" cannot last exactly that long: {what}"),
            )
            .label("between two beats");
            let choices = below.iter().chain([above]);
            diagnostic.helps.extend(choices.map(|(beats, off)| choice(*beats, off, lasts)));
            let steady = !matches!(
                case.juggle(*section).tempo.as_ref().map(|tempo| &tempo.value),
                Some(Tempo::Ramp { .. })
            );
            if steady && followed(case, *section).is_none() {
                diagnostic = diagnostic.note(
                    "With `may_bend: 0.03` its tempo may bend 3 % to land whole cycles there",
                );
            }
            Some(diagnostic)
        })
        .collect()
}

fn choice(beats: u32, off: &Seconds, lasts: &Placed<Length>) -> Help {
    let how = if off.is_negative() { "shorter" } else { "longer" };
    let text = format!(
        "{} {} {:.3} s {how}",
        counted(beats, "beat"),
        if beats == 1 { "is" } else { "are" },
        off.abs().to_f64()
    );
    Help::edit(text, lasts.at.clone(), format!("Beats({beats})"))
}
