//! The typefaces that pages are set in, and text shaped in them: which glyphs stand for it, in the
//! order in which they are read on paper, and how wide they run.
//!
//! A character stands in the first typeface that has it; one that none has becomes a box with its
//! code point. Right-to-left text is ordered by the Unicode bidirectional algorithm (UAX #9) on a
//! line that runs from left to right.

use std::collections::{BTreeSet, HashMap};
use std::ops::Range;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

use rustybuzz::{Direction, Script, ShapePlan, UnicodeBuffer};
use unicode_bidi::{BidiInfo, Level};

/// A typeface, parsed.
pub(crate) struct Face {
    pub(crate) data: &'static [u8],
    parsed: rustybuzz::Face<'static>,
    /// How text of a direction and a script is shaped: to find that out takes longer than to do it.
    plans: Mutex<Vec<(Direction, Script, Arc<ShapePlan>)>>,
}

impl Face {
    fn parse(data: &'static [u8]) -> Option<Face> {
        rustybuzz::Face::from_slice(data, 0).map(|parsed| Face {
            data,
            parsed,
            plans: Mutex::default(),
        })
    }

    fn plan(&self, direction: Direction, script: Script) -> Arc<ShapePlan> {
        // What another thread left half done in a list of plans is no harm.
        let mut plans = self.plans.lock().unwrap_or_else(PoisonError::into_inner);
        let is_it = |plan: &&(Direction, Script, _)| plan.0 == direction && plan.1 == script;
        if let Some((_, _, plan)) = plans.iter().find(is_it) {
            return Arc::clone(plan);
        }
        let plan = Arc::new(ShapePlan::new(&self.parsed, direction, Some(script), None, &[]));
        plans.push((direction, script, Arc::clone(&plan)));
        plan
    }

    fn has(&self, character: char) -> bool {
        self.parsed.glyph_index(character).is_some()
    }
}

/// The typefaces that come with the program; the regular one first, then the bold one.
static BUILT_IN: LazyLock<Arc<[Arc<Face>]>> = LazyLock::new(|| {
    let files: [&'static [u8]; 6] = [
        include_bytes!("fonts/Inter-Regular.otf"),
        include_bytes!("fonts/Inter-Bold.otf"),
        include_bytes!("fonts/NotoSansHebrew-Regular.ttf"),
        include_bytes!("fonts/NotoSansArabic-Regular.ttf"),
        include_bytes!("fonts/NotoSansDevanagari-Regular.ttf"),
        include_bytes!("fonts/DejaVuSansMono.ttf"),
    ];
    files.into_iter().filter_map(Face::parse).map(Arc::new).collect()
});

/// Where the regular and the bold typeface stand.
const REGULAR: usize = 0;
const BOLD: usize = 1;
/// The size of the code point in its box, in parts of the text's size.
const CODE: f64 = 0.55;
/// White at both sides of it, in parts of the text's size.
const CODE_PAD: f64 = 0.08;

/// The typefaces of a document: those that come with the program, and more from files.
#[derive(Clone)]
pub struct Fonts {
    faces: Arc<[Arc<Face>]>,
    /// How wide lines run that were measured: wrapping asks for the same ones again and again.
    measured: Arc<Mutex<[HashMap<String, f64>; 2]>>,
}

impl Default for Fonts {
    fn default() -> Fonts {
        Fonts { faces: Arc::clone(&BUILT_IN), measured: Arc::default() }
    }
}

impl PartialEq for Fonts {
    fn eq(&self, other: &Fonts) -> bool {
        self.faces.iter().map(|face| face.data).eq(other.faces.iter().map(|face| face.data))
    }
}

impl std::fmt::Debug for Fonts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Fonts({})", self.faces.len())
    }
}

/// A glyph, its measures in parts of the text's size.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Glyph {
    pub(crate) id: u16,
    /// The bytes of the run's text that it stands for.
    pub(crate) of: Range<usize>,
    pub(crate) advance: f64,
    pub(crate) right: f64,
    pub(crate) up: f64,
}

/// Glyphs of one typeface that stand beside each other.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Run {
    pub(crate) face: usize,
    pub(crate) text: String,
    pub(crate) glyphs: Vec<Glyph>,
    /// How wide it runs, in parts of the text's size.
    pub(crate) ems: f64,
    /// The code point of a character that no typeface has, to stand in a box.
    pub(crate) is_code: bool,
}

#[cfg(feature = "paper")]
impl Run {
    /// Where its first glyph stands and the size of its type, in parts of the text's size.
    pub(crate) fn set(&self) -> (f64, f64) {
        if self.is_code { (CODE_PAD, CODE) } else { (0.0, 1.0) }
    }
}

impl Fonts {
    /// These and one more, which is asked after all others; `None` where the bytes are no typeface.
    #[must_use]
    pub fn with(self, bytes: Vec<u8>) -> Option<Fonts> {
        // A typeface is read while anything is set in it: for as long as the program runs.
        let face = Face::parse(Box::leak(bytes.into_boxed_slice()))?;
        let more = [Arc::new(face)];
        let faces = self.faces.iter().cloned().chain(more).collect();
        Some(Fonts { faces, measured: Arc::default() })
    }

    /// All of them; a [`Run`] names one by its place.
    #[cfg(feature = "paper")]
    pub(crate) fn faces(&self) -> &[Arc<Face>] {
        &self.faces
    }

    /// How wide a line of text runs, in parts of its size.
    pub(crate) fn ems(&self, text: &str, bold: bool) -> f64 {
        let mut measured = self.measured.lock().unwrap_or_else(PoisonError::into_inner);
        let known = &mut measured[usize::from(bold)];
        if let Some(ems) = known.get(text) {
            return *ems;
        }
        let ems = self.shape(text, bold).iter().map(|run| run.ems).sum();
        known.insert(text.to_owned(), ems);
        ems
    }

    /// Those of some characters that no typeface has.
    pub(crate) fn missing(&self, characters: impl Iterator<Item = char>) -> BTreeSet<char> {
        // The regular typeface has all of ASCII that is seen, and drawings are full of it.
        let mut missing: BTreeSet<char> =
            characters.filter(|one| !one.is_ascii() && !is_unseen(*one)).collect();
        missing.retain(|&one| !one.is_control() && self.face_of(one, REGULAR).is_none());
        missing
    }

    /// A line of text as runs from left to right.
    pub(crate) fn shape(&self, text: &str, bold: bool) -> Vec<Run> {
        let first = if bold { BOLD } else { REGULAR };
        let order = BidiInfo::new(text, Some(Level::ltr()));
        let mut runs = Vec::new();
        for paragraph in &order.paragraphs {
            let (levels, ranges) = order.visual_runs(paragraph, paragraph.range.clone());
            for range in ranges {
                let is_rtl = levels.get(range.start).is_some_and(Level::is_rtl);
                let mut parts = self.parts(&text[range], first);
                if is_rtl {
                    parts.reverse();
                }
                runs.extend(parts.into_iter().map(|part| self.run(part, is_rtl)));
            }
        }
        runs
    }

    /// The typeface that a character stands in; `first` is asked before all others.
    fn face_of(&self, character: char, first: usize) -> Option<usize> {
        let has = |&index: &usize| self.faces.get(index).is_some_and(|face| face.has(character));
        std::iter::once(first).chain(0..self.faces.len()).find(has)
    }

    /// A text in parts that stand in one typeface each, in the order of reading.
    fn parts<'t>(&self, text: &'t str, first: usize) -> Vec<(Option<usize>, &'t str)> {
        let mut parts: Vec<(Option<usize>, Range<usize>)> = Vec::new();
        for (at, character) in text.char_indices() {
            let end = at + character.len_utf8();
            if let Some((Some(face), range)) = parts.last_mut()
                && (is_unseen(character) || (joins(character) && self.faces[*face].has(character)))
            {
                range.end = end;
                continue;
            }
            let face =
                if is_unseen(character) { Some(first) } else { self.face_of(character, first) };
            match parts.last_mut() {
                Some((last, range)) if *last == face && face.is_some() => range.end = end,
                _ => parts.push((face, at..end)),
            }
        }
        parts.into_iter().map(|(face, range)| (face, &text[range])).collect()
    }

    fn run(&self, (face, text): (Option<usize>, &str), is_rtl: bool) -> Run {
        let is_code = face.is_none();
        let (face, text, is_rtl) = match face {
            Some(face) => (face, text.to_owned(), is_rtl),
            None => (REGULAR, code_point(text), false),
        };
        let parsed = &self.faces[face].parsed;
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(&text);
        buffer.guess_segment_properties();
        buffer.set_direction(if is_rtl { Direction::RightToLeft } else { Direction::LeftToRight });
        let plan = self.faces[face].plan(buffer.direction(), buffer.script());
        let shaped = rustybuzz::shape_with_plan(parsed, &plan, buffer);
        let of_em = 1.0 / f64::from(parsed.units_per_em());
        let starts: BTreeSet<usize> =
            shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
        let glyph = |(info, at): (&rustybuzz::GlyphInfo, &rustybuzz::GlyphPosition)| {
            let start = info.cluster as usize;
            let end = starts.range(start + 1..).next().copied().unwrap_or(text.len());
            Glyph {
                id: u16::try_from(info.glyph_id).unwrap_or(0),
                of: start..end,
                advance: f64::from(at.x_advance) * of_em,
                right: f64::from(at.x_offset) * of_em,
                up: f64::from(at.y_offset) * of_em,
            }
        };
        let glyphs: Vec<Glyph> =
            shaped.glyph_infos().iter().zip(shaped.glyph_positions()).map(glyph).collect();
        let ems: f64 = glyphs.iter().map(|glyph| glyph.advance).sum();
        let ems = if is_code { ems * CODE + CODE_PAD * 2.0 } else { ems };
        Run { face, text, glyphs, ems, is_code }
    }
}

/// What is written in the box of a character that no typeface has.
fn code_point(text: &str) -> String {
    text.chars().map(|one| format!("{:04X}", u32::from(one))).collect::<Vec<_>>().join(" ")
}

/// Whether a character has no picture of its own: it steers how others are set.
fn is_unseen(character: char) -> bool {
    matches!(character,
        '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        | '\u{e0100}'..='\u{e01ef}')
}

/// Whether a character stands in the typeface of what is before it where that has it: spaces, and
/// marks on a letter.
fn joins(character: char) -> bool {
    use unicode_width::UnicodeWidthChar;
    character == ' ' || character.width() == Some(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn glyphs(text: &str) -> Vec<Run> {
        Fonts::default().shape(text, false)
    }

    #[test]
    fn a_line_is_as_wide_as_its_glyphs() {
        // Inter Regular: 2,816 units an em; "H" is 2,096 wide [read from its table of widths].
        let one = glyphs("H");
        assert_eq!(one.len(), 1);
        let wide = Fonts::default().ems("HH", false);
        assert!((wide - 2.0 * one[0].ems).abs() < 1e-9, "{wide}");
        assert!(Fonts::default().ems("H", true) > one[0].ems);
        assert_eq!(Fonts::default().ems("", false), 0.0);
    }

    #[test]
    fn each_script_stands_in_a_typeface_that_has_it() {
        for text in ["tide", "גאות", "مد", "ज्वार", "прилив", "→ ≈ ½ × …"]
        {
            let runs = glyphs(text);
            assert!(runs.iter().all(|run| !run.is_code), "{text}");
            assert!(runs.iter().flat_map(|run| &run.glyphs).all(|one| one.id != 0), "{text}");
            assert_eq!(Fonts::default().missing(text.chars()), BTreeSet::new());
        }
        // One glyph stands for three characters where a script joins them.
        let devanagari = glyphs("ज्वा");
        assert!(devanagari[0].glyphs.len() < 4, "{devanagari:?}");
    }

    #[test]
    fn right_to_left_text_is_read_from_its_right_end() {
        let runs = glyphs("LX 20 גאות ok");
        let texts: Vec<&str> = runs.iter().map(|run| run.text.as_str()).collect();
        assert_eq!(texts.concat().trim(), "LX 20 גאות ok");
        let hebrew = runs.iter().find(|run| run.text.contains('ג')).unwrap();
        let first = hebrew.glyphs.first().unwrap();
        let last = hebrew.glyphs.last().unwrap();
        assert!(first.of.start > last.of.start, "the last letter stands at the left: {hebrew:?}");
    }

    #[test]
    fn a_name_read_from_right_to_left_leaves_what_stands_beside_it_alone() {
        let told = crate::sheet::words::quoted("גשר") + " 531";
        let shaped = glyphs(&told);
        let texts: Vec<&str> = shaped.iter().map(|run| run.text.as_str()).collect();
        let place = |what: &str| texts.iter().position(|text| text.contains(what)).unwrap();
        assert!(place("ג") < place("531"), "{texts:?}");
        assert!(texts[place("531")].trim_start_matches('\u{2069}').starts_with('"'), "{texts:?}");
        assert!(shaped.iter().all(|run| !run.is_code));
    }

    #[test]
    fn the_regular_typeface_has_all_of_ascii_that_is_seen() {
        let seen: String = (' '..='~').collect();
        assert!(glyphs(&seen).iter().all(|run| run.face == REGULAR && !run.is_code), "{seen}");
    }

    #[test]
    fn what_no_typeface_has_is_a_box_with_its_code_point() {
        let runs = glyphs("a\u{1f600}b");
        let code = runs.iter().find(|run| run.is_code).unwrap();
        assert_eq!(code.text, "1F600");
        assert_eq!(Fonts::default().missing("a\u{1f600}b".chars()), BTreeSet::from(['\u{1f600}']));
        // What only steers is no character to miss.
        assert!(glyphs("a\u{200d}\u{fe0f}b").iter().all(|run| !run.is_code));
        assert!(Fonts::default().with(b"no typeface".to_vec()).is_none());
    }
}
