//! A tempo that follows the music: so many throws a music beat.

use num_bigint::BigInt;
use num_rational::BigRational;

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Accent, Tempo};

use super::number::{Between, exact};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;

/// How it is written.
pub(super) const PER_MUSIC_BEAT: &str = "PerMusicBeat(throws: 2, accent: Throw)";

const ACCENTS: [(&str, Accent); 2] = [("Throw", Accent::Throw), ("Catch", Accent::Catch)];
const MOST: u32 = 100;

/// What stands in the brackets of `PerMusicBeat`.
pub(super) fn per_music_beat<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    word: &Placed<&str>,
    rest: Raw<'a>,
) -> Option<Tempo> {
    if rest.is_blank() || rest.fields().is_none() {
        let message = "`PerMusicBeat` says how many throws there are to a music beat, and whether \
                       the throws or the catches fall on the music.";
        let fault = Diagnostic::error("wrong-shape", raw.place(), message)
            .label("not so")
            .help(format!("Write it as in `{PER_MUSIC_BEAT}`, or with `accent: Catch`."));
        reader.report(fault);
        return None;
    }
    let before = reader.errors();
    let mut record = Record::after(reader, "PerMusicBeat", word.at.clone(), rest)?;
    let throws = record.need(reader, "throws", throws_a_music_beat);
    let accent =
        record.need(reader, "accent", |reader, raw| reader.choice(raw, "accent", &ACCENTS));
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    Some(Tempo::PerMusicBeat { throws: throws?, accent: accent? })
}

/// A number, or a fraction such as `"3/2"`.
fn throws_a_music_beat<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<BigRational> {
    let Some(text) = raw.plain::<String>() else {
        let bounds = Between::above("the throws to a music beat", 0.0, f64::from(MOST), "");
        return exact(reader, raw, bounds).map(|throws| throws.value);
    };
    let parts = text.split_once('/').map(|(above, below)| (above.trim(), below.trim()));
    let number = |text: &str| text.parse::<u32>().ok().filter(|part| (1..=10_000).contains(part));
    if let Some((above, below)) = parts
        && let (Some(above), Some(below)) = (number(above), number(below))
        && above <= below.saturating_mul(MOST)
    {
        return Some(BigRational::new(BigInt::from(above), BigInt::from(below)));
    }
    let at: Place = raw.place();
    let message = format!("The throws to a music beat cannot be \"{text}\".");
    let fault = Diagnostic::error("out-of-range", at, message).label("no fraction").help(format!(
        "Write a number such as 1.5, or a fraction such as \"3/2\", above 0 and at most {MOST}."
    ));
    reader.report(fault);
    None
}
