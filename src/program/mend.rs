//! `throwbook mend`: what messages offer, shown and taken.

use throwbook::diagnostic::words::{all_of, counted, counted_as};
use throwbook::diagnostic::{Diagnostic, tally};
use throwbook::export::mend_text::of_offers;
use throwbook::offer::{Mended, Offer, mend, mend_safely, offers};

use super::arguments::Mend;
use super::output::{Output, shown, width_of_results, write_whole};
use super::routine_file::{RoutineFile, alone};
use super::{Failure, Outcome};

/// Shows every offer, or takes those that are chosen.
pub(crate) fn run(arguments: &Mend, output: &mut Output) -> Result<Outcome, Failure> {
    let path = &arguments.file;
    let takes = arguments.all_safe || !arguments.apply.is_empty();
    // Two runs at once would each lose what the other one mends.
    let _alone = if takes { Some(alone(path)?) } else { None };
    let file = RoutineFile::read(path)?;
    let opened = file.open(true);
    let text = &file.file.text;
    let name = shown(path);
    let all = offers(&opened);
    let outcome = |errors: usize| if errors == 0 { Outcome::Fine } else { Outcome::Faulty };
    let list =
        |offers: &[&Offer<'_>]| of_offers(offers, &opened.diagnostics, text, width_of_results());
    if !takes {
        let offered = counted(all.len(), "offer");
        let mut counts = format!("{name}: {}, {offered}", tally(&opened.diagnostics));
        let offers_none = |one: &&Diagnostic| one.helps.iter().all(|help| help.edits.is_empty());
        let without = opened.diagnostics.iter().filter(offers_none).count();
        let without = without + opened.in_record.len();
        if without > 0 {
            let messages = counted_as(without, "message offers", "messages offer");
            let shows = if without == 1 { "it" } else { "them" };
            counts += &format!("; {messages} no change: `throwbook check` shows {shows}");
        }
        counts.push('\n');
        let every: Vec<&Offer<'_>> = all.iter().collect();
        let gap = if every.is_empty() { "" } else { "\n" };
        output.results(&(counts + gap + &list(&every)))?;
        return Ok(outcome(opened.errors()));
    }
    let mended = match arguments.all_safe {
        true => mend_safely(text, &opened, |text| file.reopen(text)),
        false => {
            let chosen = chosen(&all, &arguments.apply)?;
            mend(text, &opened, &chosen, |text| file.reopen(text))
        }
    };
    let (new, taken, after, brings) = match mended {
        Mended::Done { text, taken, opened, brings } => (text, taken, opened, brings),
        Mended::Clash(one, other) => {
            return Err(Failure::new(format!(
                "{one} and {other} mend the same fault or change the same place, so only one of them \
                 can be applied; nothing was written"
            )));
        }
        Mended::Stays(one) => {
            return Err(Failure::new(format!(
                "together with the others {one} does not mend its fault; nothing was written, so apply \
                 it alone and look again"
            )));
        }
    };
    if taken.is_empty() {
        output
            .results(&format!("{name}: no offer that moves nothing else; nothing was written\n"))?;
        return Ok(outcome(opened.errors()));
    }
    if !file.is_as_read(path)? {
        return Err(Failure::new(format!(
            "{name} has changed in the meantime; nothing was written, so run it again"
        )));
    }
    write_whole(path, new.as_bytes())?;
    let applied: Vec<&Offer<'_>> =
        all.iter().filter(|offer| taken.contains(&offer.number)).collect();
    let numbers: Vec<String> = taken.iter().map(ToString::to_string).collect();
    let mut said = list(&applied);
    said += &format!(
        "\nwrote {name}  ({} applied; {} now)\n",
        all_of(&numbers),
        tally(&after.diagnostics)
    );
    output.results(&said)?;
    if !brings.is_empty() {
        let codes: Vec<String> = brings.iter().map(|&code| code.to_owned()).collect();
        output.complaint(&format!("new, or not looked for before: {}\n", all_of(&codes)));
    }
    Ok(outcome(after.errors()))
}

/// The offers of these numbers.
fn chosen<'l, 'o>(all: &'l [Offer<'o>], numbers: &[usize]) -> Result<Vec<&'l Offer<'o>>, Failure> {
    let mut numbers = numbers.to_vec();
    numbers.sort_unstable();
    numbers.dedup();
    let of_number = |number: &usize| {
        all.iter().find(|offer| offer.number == *number).ok_or_else(|| {
            let last = all.len();
            Failure::new(match last {
                0 => format!("there is no offer {number}: nothing is offered"),
                _ => format!("there is no offer {number}: they go from 1 to {last}"),
            })
        })
    };
    numbers.iter().map(of_number).collect()
}
