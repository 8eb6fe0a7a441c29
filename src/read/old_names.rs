//! Names that routine files had before, and what stands in their place.

use crate::diagnostic::{Diagnostic, Edit, Help, Place, Placed};

use super::raw::Raw;

/// Fields: their record, the old name, the new one.
const FIELDS: [(&str, &str, &str); 7] = [
    ("Cue", "by", "trigger"),
    ("Cue", "taken", "trigger"),
    ("Cue", "desk", "crew"),
    ("Routine", "desks", "crews"),
    ("Bars", "pick_up", "upbeat"),
    ("Juggle", "give", "may_bend"),
    ("Juggle", "flip", "other_face"),
];

/// Words: the old one, the new one.
const WORDS: [(&str, &str); 3] =
    [("Desk", "Crew"), ("Phase", "StartingThrow"), ("Routing", "MultiplexOrder")];

/// What a field of that record is called now.
pub(super) fn new_field(record: &str, old: &str) -> Option<&'static str> {
    let found = FIELDS.iter().find(|&&(of, was, _)| (of, was) == (record, old));
    found.map(|&(_, _, is)| is)
}

/// What a word is called now.
pub(super) fn new_word(old: &str) -> Option<&'static str> {
    WORDS.iter().find(|&&(was, _)| was == old).map(|&(_, is)| is)
}

/// The fault of a `shift` beside the moment `at`: it is written in the moment. `cut` is the whole
/// field.
pub(super) fn shift_beside(
    at: Place,
    moment: Option<Raw<'_>>,
    shift: Raw<'_>,
    cut: Option<Place>,
) -> Diagnostic {
    let message = "A shift is written in its moment, as in `at: Shift(LastCatch, 2.0)`.";
    let fault = Diagnostic::error("unknown-field", at, message).label("no field of its own");
    let (Some(moment), Some(cut)) = (moment, cut) else {
        return fault.help("Write `Shift` with the moment and the seconds.");
    };
    let new = format!("Shift({}, {})", moment.text, shift.text);
    let mut edits = vec![
        Edit { at: moment.place(), insert: new.clone() },
        Edit { at: cut, insert: String::new() },
    ];
    edits.sort_by_key(|edit| edit.at.start);
    let mut fault = fault;
    fault.helps.push(Help::new(format!("Write `{new}`."), edits));
    fault
}

/// The fault of a field by its old name.
pub(super) fn renamed_field(
    record: &str,
    field: &Placed<&str>,
    new: &str,
    is_free: bool,
) -> Diagnostic {
    let message = format!("The field `{}` of `{record}` is called `{new}`.", field.value);
    let fault = Diagnostic::error("unknown-field", field.at.clone(), message).label("an old name");
    match is_free {
        true => fault.help_edit(format!("Write `{new}`."), field.at.clone(), new),
        false => fault.help(format!("Leave it out: `{new}` is written already.")),
    }
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::Diagnostic;
    use crate::read::read;

    const LANTERN: &str = include_str!("../../tests/routines/lantern.ron");

    /// What is said of a text, and the text with the first way out of each fault taken.
    fn mended(mut text: String) -> (Vec<Diagnostic>, String) {
        let said = read(&text).diagnostics;
        let helps = said.iter().filter_map(|fault| fault.helps.first());
        let mut edits: Vec<_> = helps.flat_map(|help| help.edits.clone()).collect();
        edits.sort_by_key(|edit| std::cmp::Reverse(edit.at.start));
        for edit in edits {
            text.replace_range(edit.at.start..edit.at.end, &edit.insert);
        }
        (said, text)
    }

    fn codes(said: &[Diagnostic]) -> Vec<&'static str> {
        said.iter().map(|fault| fault.code).collect()
    }

    #[test]
    fn an_old_name_is_told_the_new_one_and_mended() {
        let (from, to) = ("issue: 3,", "issue: 3, crews: { Light: Crew(numbers: Odd) },");
        let new = LANTERN
            .replace(from, to)
            .replace("number: 1)", "number: 1, upbeat: 1)")
            .replace("lasts: Cycles(8)", "lasts: Cycles(8), free: [StartingThrow, MultiplexOrder]")
            .replace("lasts: Beats(6)", "lasts: For(\"0:02\"), may_bend: 0.1, other_face: true");
        assert_eq!(read(&new).diagnostics, []);
        for (is, was, code) in [
            ("trigger: Hear", "by: Hear", "unknown-field"),
            ("crew: House", "desk: House", "unknown-field"),
            ("crews: {", "desks: {", "unknown-field"),
            ("Crew(numbers", "Desk(numbers", "unknown-word"),
            ("upbeat: 1", "pick_up: 1", "unknown-field"),
            ("may_bend: 0.1", "give: 0.1", "unknown-field"),
            ("other_face: true", "flip: true", "unknown-field"),
            ("[StartingThrow", "[Phase", "unknown-word"),
            (", MultiplexOrder", ", Routing", "unknown-word"),
        ] {
            let old = new.replace(is, was);
            assert_ne!(old, new, "{was}");
            let (said, text) = mended(old);
            assert_eq!(codes(&said), [code], "{was}: {said:?}");
            assert!(said[0].message.contains(" is called `"), "{}", said[0].message);
            assert_eq!(text, new, "{was}");
        }
        // Where the new name is there already, the old one is too much.
        let both = LANTERN.replace("crew: House", "crew: House, desk: House");
        let (said, _) = mended(both);
        assert_eq!(codes(&said), ["unknown-field"]);
        assert!(said[0].helps[0].text.starts_with("Leave it out"), "{said:?}");
        // Elsewhere it is a name like any other: a pause has a `pick_up`, a set has no `desk`.
        let set = LANTERN.replace(
            "kind: Ball, length: 0.072, colours: [\"coral\"",
            "kind: Ball, desk: 1, length: 0.072, colours: [\"coral\"",
        );
        let (said, _) = mended(set);
        assert!(said[0].message.contains("has no field `desk`"), "{said:?}");
    }

    #[test]
    fn a_shift_beside_its_moment_is_put_into_it() {
        let new = "at: Shift(TrackStart, -20.0), trigger: Called";
        for old in [
            "at: TrackStart, shift: -20.0, trigger: Called",
            "shift: -20.0, at: TrackStart, trigger: Called",
            "at: TrackStart, trigger: Called, shift: -20.0",
        ] {
            let (said, text) = mended(LANTERN.replace(new, old));
            assert_eq!(codes(&said), ["unknown-field"], "{old}: {said:?}");
            assert!(said[0].message.contains("Shift(LastCatch, 2.0)"), "{}", said[0].message);
            assert_eq!(text, LANTERN, "{old}");
        }
        let (said, _) = mended(LANTERN.replace(new, "shift: -20.0, trigger: Called"));
        assert_eq!(codes(&said), ["missing-field", "unknown-field"]);
    }
}
