//! What holds of the offers of any act when they are taken.

use throwbook::Opened;
use throwbook::diagnostic::Severity;
use throwbook::difference::{Comparison, Difference, Fault, Side};
use throwbook::offer::{Mended, Offer, mend, mend_safely, offers};
use throwbook::sound::Tracks;
use throwbook::{open, open_to_compare};

use super::failures::Failure;

fn reopened(text: &str) -> Opened {
    open_to_compare(text, None, |_| Tracks::new())
}

/// What is not so of the offers of an act, and how many there are.
pub(crate) fn judge(text: &str) -> (Vec<Failure>, usize) {
    let before = open(text);
    let all = offers(&before);
    let mut failures: Vec<Failure> = Vec::new();
    for offer in &all {
        let alone = mend(text, &before, &[offer], reopened);
        failures.extend(faults_of(&before, &[offer], &alone));
    }
    let safe = mend_safely(text, &before, reopened);
    if let Mended::Done { taken, text: mended, .. } = &safe {
        let chosen: Vec<&Offer<'_>> =
            all.iter().filter(|offer| taken.contains(&offer.number)).collect();
        failures.extend(faults_of(&before, &chosen, &safe));
        let (plain, after) = (reopened(text), reopened(mended));
        let sides = [Side { text, opened: &plain }, Side { text: mended, opened: &after }];
        let compared = Comparison::between(sides[0], sides[1], reopened).difference;
        let moved = compared.acts().any(|act| {
            act.sections.iter().any(|section| section.is_changed())
                || act.cues_that_move().next().is_some()
                || !act.limits.is_empty()
        });
        if moved {
            failures.push(Failure::new("a safe change moves something", format!("{compared:#?}")));
        }
    }
    for pair in all.windows(2).filter(|pair| pair[0].diagnostic == pair[1].diagnostic) {
        let both = mend(text, &before, &[&pair[0], &pair[1]], reopened);
        if !matches!(both, Mended::Clash(..)) {
            failures
                .push(Failure::new("two ways out of one fault are both made", format!("{both:?}")));
        }
    }
    (failures, all.len())
}

/// That exactly the faults of the chosen are gone, and what comes was announced.
fn faults_of(before: &Opened, chosen: &[&Offer<'_>], mended: &Mended) -> Vec<Failure> {
    let Mended::Done { opened, brings, .. } = mended else {
        let said = format!("{chosen:?}\n{mended:?}");
        return vec![Failure::new("an offer that was tried cannot be made", said)];
    };
    let mut failures = Vec::new();
    let difference = Difference::between(before, opened);
    for offer in chosen {
        let fault = Fault::of(before, &before.diagnostics[offer.diagnostic]);
        if !difference.faults.gone.contains(&fault) {
            failures.push(Failure::new("a fault is still there", format!("{offer:?}")));
        }
    }
    for fault in &difference.faults.come {
        let announced = chosen.iter().any(|offer| offer.help.text.contains(fault.code));
        if !brings.contains(&fault.code) || !announced {
            let severity = if fault.severity == Severity::Error { "error" } else { "warning" };
            let kind = format!("a fault ({severity}) comes that was not announced: {}", fault.code);
            failures.push(Failure::new(kind, format!("{chosen:?}")));
        }
    }
    failures
}
