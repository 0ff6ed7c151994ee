//! Choices: inputs with a fixed set of answers, each an enum.

use crate::schema::{Field, Value};

/// An answer of a choice.
#[derive(Debug)]
pub struct ChoiceSpec {
    /// Key in a saved setup.
    pub key: &'static str,
    /// Label on the page.
    pub label: &'static str,
}

/// The answers of a choice. The table of inputs implements this for each of its choices.
pub trait Choice: Copy + Eq + 'static {
    /// The input.
    const FIELD: Field;

    /// All answers, in the order of the page.
    const ALL: &'static [Self];

    /// The first answer.
    const FIRST: Self;

    /// Index in [`Choice::ALL`].
    fn place(self) -> u8;
}

impl<C: Choice> From<C> for Value {
    fn from(choice: C) -> Self {
        Self::Choice(choice.place())
    }
}
