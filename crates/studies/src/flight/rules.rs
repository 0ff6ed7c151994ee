//! Limits of a rule book compared with this setup.
//!
//! The limits are the user's, or come from an example that names its source; this year's book decides.

use clothyard_core::eval::Evaluation;
use clothyard_core::format::measured;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::Output;
use clothyard_core::schema::{Field, Value};
use clothyard_core::setup::{MAX_NAME_CHARS, Setup};
use clothyard_core::units::{Quantity, Units};

/// A limit and the value compared with it, in the saved unit of the quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The field that holds the limit.
    pub field: Field,
    /// What is limited, in words.
    pub what: &'static str,
    /// What the setup is.
    pub ours: f64,
    /// The limit, its tolerance taken in.
    pub limit: f64,
    /// Whether it is the least allowed; else it is the most.
    pub least: bool,
    /// How far off the setup's own number may be, either way; none where that is not computed.
    pub spread: Option<f64>,
}

impl Limit {
    /// Whether the setup is within it; none where that cannot be told, as the limit is within the spread.
    #[must_use]
    pub fn is_kept(&self) -> Option<bool> {
        let near = self.spread.is_some_and(|spread| (self.ours - self.limit).abs() < spread);
        (!near).then_some(if self.least { self.ours >= self.limit } else { self.ours <= self.limit })
    }

    /// The quantity compared.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.field.input().quantity().unwrap_or(Quantity::Ratio)
    }

    /// In a sentence.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let said = |value: f64| measured(self.quantity(), value, units);
        let bound = if self.least { "at least" } else { "at most" };
        let verdict = match self.is_kept() {
            Some(true) => "within the limit",
            Some(false) => "outside the limit",
            None => "cannot tell: measure the speed with a chronograph",
        };
        let spread = self.spread.map_or_else(String::new, |spread| format!(" ± {}", said(spread)));
        format!("{}: {}{spread}, allowed {bound} {}: {verdict}.", self.what, said(self.ours), said(self.limit))
    }
}

/// Every limit the user set, against this setup.
#[must_use]
pub fn limits(all: &Evaluation) -> Vec<Limit> {
    let resolved = &all.resolved;
    let tolerance = 1.0 + resolved.number(Field::RuleSpeedTolerance) / 100.0;
    let rows = [
        (Field::RuleSpeed, "Arrow speed", all.outputs.get(Output::LaunchSpeed), tolerance, false),
        (Field::RuleDrawWeight, "Draw weight", resolved.given(Field::PeakDrawWeight), 1.0, false),
        (Field::RuleDiameter, "Shaft diameter", resolved.given(Field::OuterDiameter), 1.0, false),
        (Field::RuleGrainsPerPound, "Arrow weight", all.outputs.get(Output::GrainsPerPound), 1.0, true),
    ];
    let limit = |(field, what, ours, tolerance, least): (Field, _, Option<f64>, f64, _)| {
        let spread = all.outputs.get(Output::SpeedSpread).filter(|_| field == Field::RuleSpeed);
        Some(Limit { field, what, ours: ours?, limit: resolved.given(field)? * tolerance, least, spread })
    };
    rows.into_iter().filter_map(limit).collect()
}

/// A rule book to start from.
#[derive(Debug)]
pub struct RuleBook {
    /// Its key on the page.
    pub key: &'static str,
    /// What the page calls it.
    pub label: &'static str,
    /// Where its limits are from.
    pub source: &'static str,
    /// Its limits, in the saved units.
    pub limits: &'static [(Field, f64)],
}

/// Examples. All from memory: no book was opened for them.
pub static RULE_BOOKS: [RuleBook; 2] = [
    RuleBook {
        key: "worldArcheryCompound",
        label: "World Archery, compound",
        source: "World Archery Rules, Book 3 (from memory; check this year's book)",
        limits: &[(Field::RuleDrawWeight, 60.0), (Field::RuleDiameter, 9.3 / 25.4)],
    },
    RuleBook {
        key: "speedCap",
        label: "3-D round with a speed limit",
        source: "a speed limit some 3-D rounds set (from memory; check this year's book)",
        limits: &[(Field::RuleSpeed, 280.0), (Field::RuleSpeedTolerance, 3.0), (Field::RuleGrainsPerPound, 5.0)],
    },
];

/// The fields a rule book fills.
const LIMITS: [Field; 5] = [
    Field::RuleSpeed,
    Field::RuleSpeedTolerance,
    Field::RuleDrawWeight,
    Field::RuleDiameter,
    Field::RuleGrainsPerPound,
];

impl RuleBook {
    /// The example with this key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<&'static Self> {
        RULE_BOOKS.iter().find(|book| book.key == key)
    }

    /// A setup with this book's limits, and no others.
    ///
    /// # Errors
    /// As [`Setup::set`].
    pub fn put_on(&self, setup: &Setup) -> Result<Setup, EntryError> {
        let mut setup = setup.clone();
        LIMITS.into_iter().try_for_each(|field| setup.set(field, None))?;
        self.limits.iter().try_for_each(|&(field, value)| setup.set(field, Some(Value::Number(value))))?;
        self.source.clone_into(&mut setup.rule_source);
        Ok(setup)
    }
}

/// A setup with what was typed as its rule book and year.
///
/// # Errors
/// What is allowed.
pub fn with_source(setup: &Setup, typed: &str) -> Result<Setup, String> {
    let source = typed.trim();
    if source.chars().count() > MAX_NAME_CHARS {
        return Err(format!("Rule book and year: at most {MAX_NAME_CHARS} characters."));
    }
    let mut setup = setup.clone();
    source.clone_into(&mut setup.rule_source);
    Ok(setup)
}

/// The sentence above the verdicts.
#[must_use]
pub fn sentence(limits: &[Limit]) -> String {
    let count = |kept| limits.iter().filter(|limit| limit.is_kept() == kept).count();
    let (outside, open) = (count(Some(false)), count(None));
    let open_words = match open {
        0 => String::new(),
        open => format!(" Cannot tell for {open}."),
    };
    match (limits.len(), outside) {
        (0, _) => "Enter a limit to check.".to_owned(),
        (1, 0) if open == 0 => "Within the limit.".to_owned(),
        (all, 0) if open == 0 => format!("Within all {all} limits."),
        (all, 0) => format!("Within {} of {all} limits.{open_words}", all - open),
        (all, outside) => format!("Outside {outside} of {all} limits.{open_words}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_is_kept_up_to_its_tolerance_and_no_further() {
        let setup = Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap();
        let outputs = Evaluation::of(&setup).outputs;
        let [speed, spread] = [Output::LaunchSpeed, Output::SpeedSpread].map(|output| outputs.get(output).unwrap());
        let with = |limit: f64, tolerance: f64| {
            let setup = setup.clone().with(Field::RuleSpeed, limit).unwrap();
            let list = limits(&Evaluation::of(&setup.with(Field::RuleSpeedTolerance, tolerance).unwrap()));
            assert_eq!(list.len(), 1);
            (list[0].is_kept(), sentence(&list))
        };
        let limit = (speed + spread) / 1.02;
        assert_eq!(with(limit, 2.001), (Some(true), "Within the limit.".to_owned()));
        // The speed is not known well enough.
        assert_eq!(with(limit, 1.9), (None, "Within 0 of 1 limits. Cannot tell for 1.".to_owned()));
        assert_eq!(with(speed, 0.0).0, None);
        assert_eq!(with(speed - spread - 0.1, 0.0), (Some(false), "Outside 1 of 1 limits.".to_owned()));
        let exact =
            |ours| Limit { field: Field::RuleDrawWeight, what: "", ours, limit: 60.0, least: false, spread: None };
        assert_eq!([60.0, 60.01].map(|ours| exact(ours).is_kept()), [Some(true), Some(false)]);
    }

    #[test]
    fn without_limits_nothing_is_compared() {
        assert!(limits(&Evaluation::of(&Setup::default())).is_empty());
    }

    #[test]
    fn the_examples_can_be_put_on_the_page_and_name_their_source() {
        let before = Setup::default().with(Field::RuleSpeed, 300.0).unwrap();
        for book in &RULE_BOOKS {
            assert!(book.source.contains("this year's book") && book.source.chars().count() <= MAX_NAME_CHARS);
            let setup = RuleBook::by_key(book.key).unwrap().put_on(&before).unwrap();
            assert_eq!(setup.rule_source, book.source);
            let set = LIMITS.iter().filter(|&&field| setup.get(field).is_some()).count();
            assert_eq!(set, book.limits.len(), "no limit of another book is left");
            assert!(Setup::from_saved(&setup.to_saved()).is_ok());
        }
    }

    #[test]
    fn the_source_is_kept_and_too_long_a_one_refused() {
        let setup = with_source(&Setup::default(), " Club rules 2026 ").unwrap();
        assert_eq!(setup.rule_source, "Club rules 2026");
        assert_eq!(with_source(&setup, &"x".repeat(81)).unwrap_err(), "Rule book and year: at most 80 characters.");
        assert_eq!(sentence(&[]), "Enter a limit to check.");
    }
}
