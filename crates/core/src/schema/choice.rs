//! Choices: inputs with a few answers, each an enum of its own.

use crate::schema::{Field, Value};

/// One answer of a choice.
#[derive(Debug)]
pub struct ChoiceSpec {
    /// Key in a saved build.
    pub key: &'static str,
    /// What the page says.
    pub label: &'static str,
}

/// The answers of a choice. The table of inputs implements it for each of its choices.
pub trait Choice: Copy + Eq + 'static {
    /// The field that holds it.
    const FIELD: Field;

    /// Every answer, in the order of the page.
    const ALL: &'static [Self];

    /// The first of them.
    const FIRST: Self;

    /// Its place in [`Choice::ALL`].
    fn place(self) -> u8;
}

impl<C: Choice> From<C> for Value {
    fn from(choice: C) -> Self {
        Self::Choice(choice.place())
    }
}
