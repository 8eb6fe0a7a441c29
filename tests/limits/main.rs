//! Limits as contests write them: where the time starts and stops, what is added up, edges and
//! penalties; by hand, and worked out again night by night.
#![allow(missing_docs)]
#![allow(clippy::print_stdout, reason = "a test tells how much it has gone through")]

mod costs;
mod moves;
mod oracle;
#[path = "../said/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod said;
mod signals;
mod worked;

use std::collections::BTreeSet;

use oracle::{Act, Limit, Said};
use said::chance::{Chance, acts, first_seed};
use serde_json::Value;

/// Codes of what is wrong with the limit of a rule.
fn codes(opened: &throwbook::Opened, rule: &str) -> BTreeSet<&'static str> {
    let quoted = format!("\"{rule}\"");
    let of_rule = opened.diagnostics.iter().filter(|one| one.message.contains(&quoted));
    of_rule.map(|one| one.code).collect()
}

#[test]
fn random_limits_say_what_is_worked_out_night_by_night() {
    let (seed, mut judged, mut open) = (first_seed(), 0, 0);
    for number in 0..acts(150) {
        let mut chance = Chance::new(seed.wrapping_mul(1_000_003) + number as u64);
        let act = Act::random(&mut chance);
        let limits: Vec<Limit> = (0..3).map(|_| Limit::random(&mut chance, &act)).collect();
        let texts = limits.iter().enumerate().map(|(at, limit)| limit.text(&format!("r{at}")));
        let texts: Vec<String> = texts.collect();
        for (at, limit) in limits.iter().enumerate() {
            let text = act.text(&texts[at..=at]);
            let opened = throwbook::open(&text);
            let told = codes(&opened, &format!("r{at}"));
            let mut expected = BTreeSet::new();
            if limit.stops_first(&act) {
                assert_eq!(told, ["limit-stops-first"].into(), "{text}");
                continue;
            }
            if limit.counts_nothing(&act) {
                assert!(told.contains("limit-counts-nothing"), "{told:?} {text}");
                continue;
            }
            let nights = act.nights();
            let all: Vec<Said> = nights.iter().map(|&night| limit.says(&act, night)).collect();
            for said in &all {
                expected.extend(match said.verdict {
                    "over" => Some("limit-over"),
                    "under" => Some("limit-under"),
                    "grace" => Some("limit-in-grace"),
                    _ => said.is_close.then_some("limit-close"),
                });
            }
            assert_eq!(told, expected, "{text}");
            let act = opened.act.as_ref().unwrap();
            let sheet: Value =
                serde_json::from_str(&throwbook::export::timing_json::json(act)).unwrap();
            held_against(&sheet["limits"][0], &all, &text);
            judged += 1;
            open += usize::from(nights.len() > 1);
        }
    }
    println!("{judged} limits held against every night, {open} of them open");
    assert!(judged > acts(150), "{judged}");
}

fn rank(verdict: &str) -> i32 {
    match verdict {
        "inside" => 0,
        "grace" => 1,
        _ => 2,
    }
}

/// The sheet's worst and best against every night.
fn held_against(limit: &Value, all: &[Said], text: &str) {
    let ms = |name: &str| limit[name].as_f64().map(|s| (s * 1000.0).round() as i64);
    let counted = all.iter().map(|said| said.counted);
    let (least, most) = (counted.clone().min(), counted.max());
    assert_eq!(ms("counted_s"), least, "{limit} {text}");
    assert_eq!(ms("counted_latest_s").or(least), most, "{limit} {text}");
    let ranks = all.iter().map(|said| rank(said.verdict));
    let of = |name: &str| limit[name].as_str().map(rank);
    assert_eq!(of("verdict"), ranks.clone().max(), "{limit} {text}");
    assert_eq!(of("best_verdict"), ranks.min(), "{limit} {text}");
    let points = all.iter().map(|said| said.points as f64);
    let (cheapest, dearest) = (points.clone().reduce(f64::min), points.reduce(f64::max));
    assert_eq!(limit["penalty_points"].as_f64(), dearest, "{limit} {text}");
    assert_eq!(limit["best_penalty_points"].as_f64(), cheapest, "{limit} {text}");
    // How far, on the side that is told; between two nights there is less than a tenth.
    for (verdict, by) in [("verdict", "by_s"), ("also_verdict", "also_by_s")] {
        let Some(side) = limit[verdict].as_str().filter(|side| rank(side) > 0) else { continue };
        let of_side = all.iter().filter(|said| said.verdict == side).map(|said| said.by);
        let (Some(by), Some(furthest)) = (ms(by), of_side.max()) else { continue };
        assert!(furthest <= by && by <= furthest + 50, "{furthest} {limit} {text}");
    }
}
