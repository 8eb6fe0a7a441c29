//! What a code means, told to somebody who has just met it.

/// What is looked for under one code and why, with an example that raises it and the same example
/// mended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explanation {
    /// The code.
    pub code: &'static str,
    /// What is looked for: how it should be, one sentence.
    pub what: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// What the two examples are.
    pub form: Form,
    /// How many times over `raises` stands; more than once where only length is wrong.
    pub times: usize,
    /// What lies beside the examples, where that decides.
    pub beside: &'static [Beside],
    /// An example that raises the code.
    pub raises: &'static str,
    /// The same example, mended.
    pub mended: &'static str,
}

/// What an example is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A routine file.
    Routine,
    /// A routine file that was saved as Latin-1; mended, as UTF-8.
    Latin1,
    /// The record of what was handed out of a routine.
    Record,
    /// A pattern, as `throwbook pattern` takes it.
    Pattern,
    /// What stands behind `throwbook transition`.
    Transition,
}

/// A file that lies beside an example.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beside {
    /// Its name.
    pub file: &'static str,
    /// What it is, in a few words.
    pub what: &'static str,
    /// Its text, if it has one.
    pub text: Option<&'static str>,
}

impl Explanation {
    /// Of routine files with nothing beside them; what is not said here is still empty.
    pub(crate) const OF_ROUTINES: Explanation = Explanation {
        code: "",
        what: "",
        why: "",
        form: Form::Routine,
        times: 1,
        beside: &[],
        raises: "",
        mended: "",
    };
    /// The same of patterns.
    pub(crate) const OF_PATTERNS: Explanation =
        Explanation { form: Form::Pattern, ..Explanation::OF_ROUTINES };

    /// The example that raises the code, as often as it stands.
    #[must_use]
    pub fn raises_in_full(&self) -> String {
        self.raises.repeat(self.times)
    }
}
