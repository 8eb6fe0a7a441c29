//! Two acts held against each other, for a terminal and for print: what matters most first, then
//! which edit moves what.

use crate::check::CHECKS;
use crate::diagnostic::Topic;
use crate::diagnostic::words::all_of;
use crate::difference::{Comparison, CueDifference, Difference, Fault};
use crate::notation::Severity;
use crate::sheet::words::{plain, quoted};

use super::difference_words::{
    Told, counts, cues, encore_only_in, fault, hands, heights, later, limits, moved_by, sections,
    times,
};
use super::table::{NARROWEST, paragraph};

/// What is compared, as it is named on paper.
#[derive(Clone, Copy, Debug)]
pub struct Names<'a> {
    /// The old act.
    pub old: &'a str,
    /// The new act.
    pub new: &'a str,
}

/// Two files held against each other, `width` columns wide.
#[must_use]
pub fn of_comparison(comparison: &Comparison, names: Names<'_>, width: u16) -> String {
    let width = width.max(NARROWEST);
    let mut text = head(names, width);
    let Comparison { difference, causes, is_same, .. } = comparison;
    if *is_same {
        return text + &paragraph(width, 0, "Nothing is different.");
    }
    text += &paragraph(width, 0, &in_one_sentence(difference));
    let unsure = unsure(difference);
    if !unsure.is_empty() {
        let what = all_of(&unsure);
        let said = format!(
            "Errors leave something unknown of {what}: where nothing is said of it, it may have moved."
        );
        text += &paragraph(width, 0, &said);
    }
    for (title, lines) in blocks(difference) {
        text += &block(title, &lines, width);
    }
    match causes {
        None => {
            let said = "Which edit moves what is not known: one of the files is broken off.";
            text += &format!("\n{}", paragraph(width, 0, said));
        }
        Some(causes) if causes.is_empty() => {
            let said =
                "The files say the same; what is different comes from what lies beside them.";
            text += &format!("\n{}", paragraph(width, 0, said));
        }
        Some(causes) => {
            text += "\nWHY\n";
            for cause in causes {
                text += &item(&plain(&cause.edit), 2, width);
                for clause in moved_by(&cause.moves) {
                    text += &item(&clause, 4, width);
                }
            }
        }
    }
    text
}

/// The cues of now against those of an issue whose routine was not kept.
#[must_use]
pub fn of_cues(differences: &[CueDifference], names: Names<'_>, width: u16) -> String {
    let width = width.max(NARROWEST);
    let said = "Only the cues of that issue were kept, as printed: sections, hands, colours and limits \
                are not compared.";
    let text = head(names, width) + &paragraph(width, 0, said);
    if differences.is_empty() {
        return text + &paragraph(width, 0, "No cue is different.");
    }
    text + &block("CUES", &cues(differences, Told::All), width)
}

fn head(names: Names<'_>, width: u16) -> String {
    paragraph(width, 0, &format!("{} → {}", plain(names.old), plain(names.new)))
}

fn in_one_sentence(difference: &Difference) -> String {
    let Some(act) = &difference.act else {
        return "One of the files gives no act.".to_owned();
    };
    match (&act.ends, act.ends.as_ref().and_then(later)) {
        (None, _) => "When the act ends is not known in both.".to_owned(),
        (Some(_), Some(later)) => format!("The act ends {later}."),
        (Some(_), None) => "The act ends when it did.".to_owned(),
    }
}

/// The sections that an error hides in part.
fn unsure(difference: &Difference) -> Vec<String> {
    let sections = difference.acts().flat_map(|act| &act.sections);
    sections.filter(|one| one.is_unsure()).map(|one| quoted(&one.name)).collect()
}

/// The blocks that have something to say, in the order in which they matter.
fn blocks(difference: &Difference) -> Vec<(&'static str, Vec<String>)> {
    let of_acts = |lines: fn(&crate::difference::ActDifference) -> Vec<String>| {
        let act = difference.act.iter().flat_map(lines);
        let encore = difference.encore.iter().flat_map(lines).map(|line| format!("encore: {line}"));
        act.chain(encore).collect::<Vec<String>>()
    };
    let mut verdicts = of_acts(limits);
    let told = |how: &str, faults: &[Fault]| {
        let mut faults: Vec<&Fault> = faults.iter().collect();
        faults.sort_by_key(|one| (one.severity != Severity::Error, rank(one.code)));
        faults.into_iter().map(|one| format!("{how} {}", fault(one))).collect::<Vec<_>>()
    };
    verdicts.extend(told("new", &difference.faults.come));
    verdicts.extend(told("gone", &difference.faults.gone));
    let mut score = of_acts(sections);
    score.extend(difference.encore_only_in.map(encore_only_in));
    let all = [
        ("VERDICTS", verdicts),
        ("SECTIONS", score),
        ("TIMES", of_acts(|act| times(act, Told::All))),
        ("HANDS AND COLOURS", of_acts(hands)),
        ("COUNTS", of_acts(counts)),
        ("HEIGHTS AND TEMPOS", of_acts(heights)),
        ("CUES", of_acts(|act| cues(&act.cues, Told::All))),
    ];
    all.into_iter().filter(|(_, lines)| !lines.is_empty()).collect()
}

/// In which order faults are told: by what they are about.
fn rank(code: &str) -> usize {
    const ORDER: [Topic; 5] =
        [Topic::Limits, Topic::Junctions, Topic::Colours, Topic::Danger, Topic::Reach];
    let topic = CHECKS.iter().find(|(_, check)| check.code == code).map(|(topic, _)| *topic);
    let place = topic.and_then(|topic| ORDER.iter().position(|other| *other == topic));
    place.unwrap_or(ORDER.len())
}

fn block(title: &str, lines: &[String], width: u16) -> String {
    lines.iter().fold(format!("\n{title}\n"), |text, line| text + &item(line, 2, width))
}

/// A line of a block; what does not fit goes on below it, further in.
fn item(line: &str, indent: u16, width: u16) -> String {
    let wrapped = paragraph(width - indent - 2, 0, line);
    let indented = |(index, line): (usize, &str)| {
        let hang = if index == 0 { 0 } else { 2 };
        format!("{}{line}\n", " ".repeat(usize::from(indent + hang)))
    };
    wrapped.lines().enumerate().map(indented).collect()
}
