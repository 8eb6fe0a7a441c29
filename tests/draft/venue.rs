//! What a venue, a host and a practice card are told by a draft is so once its mistake is mended, or
//! is left out.

use throwbook::act::Act;
use throwbook::sheet::{cards, slip, venue};

use super::known::{ACTS, Draft, drafts};

/// Every figure with what it is of, each paragraph one by one; nothing where it is left out.
fn told(act: &Act) -> Vec<(String, String)> {
    let mut told = Vec::new();
    let mut add = |of: String, says: Option<String>| {
        told.extend(says.filter(|says| !says.is_empty()).map(|says| (of, says)));
    };
    let parts = venue::compose(act).parts;
    for fact in parts.into_iter().flat_map(|part| part.facts) {
        for says in fact.says {
            add(fact.label.clone(), Some(says));
        }
    }
    let slip = slip::compose(act);
    add("slip, length".to_owned(), Some(slip.length_words()));
    add("slip, music".to_owned(), slip.music_words());
    for card in cards::compose(act).sections {
        let of = |what: &str| format!("card {} of {:?}, {what}", card.number, card.name);
        add(of("how often"), card.how_often.clone());
        add(of("tempo"), card.tempo.clone());
        add(of("height"), card.height.clone());
        add(of("loading"), card.loading.as_ref().map(|rest| rest.in_words()));
        add(of("counts"), Some(card.counts.join("; ")));
        let colours = card.chart.as_ref().filter(|chart| chart.is_known);
        add(of("colours"), colours.map(|chart| format!("{:?}", chart.cycles)));
    }
    told
}

/// Whether the mended act is told the same, or more of the same: a time that is not known is left out.
fn is_so(mended: &[(String, String)], (of, says): &(String, String)) -> bool {
    let without_times = |says: &str| {
        let words = says.split(' ').filter(|word| *word != "at" && !word.contains(':'));
        words.map(|word| format!("{word} ")).collect::<String>()
    };
    let is_music = of.starts_with("music");
    let begins = |says: &str| says.split(';').next().unwrap_or_default().to_owned();
    mended.iter().filter(|one| one.0 == *of).any(|(_, whole)| {
        whole.starts_with(says.as_str())
            || of == "dark" && without_times(whole) == without_times(says)
            || is_music && begins(whole) == begins(says)
    }) || says == "Music that could not be read may be missing here."
        || says == "An error hides a part of the act: there may be more."
}

#[test]
fn what_is_told_of_a_draft_is_told_of_the_act_without_its_mistake() {
    let (mut count, mut wrong) = (0, Vec::new());
    for text in ACTS.into_iter().chain([include_str!("../../routines/kiln-yard.ron")]) {
        let good = throwbook::open(text);
        let mended = told(good.finished().expect("an act without errors"));
        for Draft { mistake, line, act } in drafts(text) {
            count += 1;
            let mut told = told(&act).into_iter();
            let differs = told.find(|one| !one.1.contains("not known") && !is_so(&mended, one));
            wrong.extend(
                differs.map(|(of, says)| format!("{mistake} in line {line}: {of}: {says}")),
            );
        }
    }
    assert!(count > 150, "{count}");
    assert!(wrong.is_empty(), "{} of {count}:\n{}", wrong.len(), wrong.join("\n"));
}
