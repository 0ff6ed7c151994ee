//! Comparison of setups: which inputs and results differ, and by how much.
//!
//! What counts is what is shown: two numbers that read the same are the same, and a difference is that of
//! the two numbers as they are beside it, so that the table adds up.

use clothyard_core::eval::{Baseline, Evaluation};
use clothyard_core::format;
use clothyard_core::schema::Field;
use clothyard_core::schema::{List, NamedRow, OUTPUTS, Output, OwnPart, Row, StockShaft};
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

/// A setup and its evaluation.
#[derive(Clone, Debug)]
pub struct EvaluatedSetup {
    /// What the user gave.
    pub setup: Setup,
    /// What follows.
    pub all: Evaluation,
}

impl EvaluatedSetup {
    /// Answers a setup.
    #[must_use]
    pub fn new(setup: Setup) -> Self {
        Self { all: Evaluation::of(&setup), setup }
    }

    /// The setup held as it was resolved, to ask "what if" of.
    #[must_use]
    pub fn baseline(&self) -> Baseline<'_> {
        Baseline::as_resolved(&self.setup, self.all.resolved)
    }
}

/// An input that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputRow {
    /// Its label.
    pub label: &'static str,
    /// In the first setup, in words.
    pub a: String,
    /// In the second, in words.
    pub b: String,
}

/// A result of both setups.
#[derive(Clone, Debug, PartialEq)]
pub struct ResultRow {
    /// Its label.
    pub label: &'static str,
    /// Of the first setup, in words.
    pub a: String,
    /// Of the second, in words.
    pub b: String,
    /// The second less the first, in the unit shown; none where one of them has no number.
    pub by: Option<f64>,
    /// The same with sign and unit.
    pub by_words: String,
}

impl ResultRow {
    /// Whether the two read differently.
    #[must_use]
    pub fn differs(&self) -> bool {
        self.a != self.b
    }
}

/// The inputs that differ, in the order of the page; a field that plays no part in either is left out.
#[must_use]
pub fn inputs(a: &EvaluatedSetup, b: &EvaluatedSetup, units: &Units) -> Vec<InputRow> {
    let mut rows: Vec<_> = Field::ALL
        .into_iter()
        .filter(|&field| value_words(a, field, units) != value_words(b, field, units))
        .map(|field| InputRow {
            label: field.input().label,
            a: with_owner(a, field, units),
            b: with_owner(b, field, units),
        })
        .collect();
    if a.setup.own_parts != b.setup.own_parts {
        let words = |evaluated: &EvaluatedSetup| parts_words(&evaluated.setup.own_parts, units);
        rows.push(InputRow { label: OwnPart::TABLE.label, a: words(a), b: words(b) });
    }
    let (mine, theirs) = (&a.setup.shafts, &b.setup.shafts);
    if mine != theirs {
        let (a, b) = (shafts_words(mine, theirs), shafts_words(theirs, mine));
        rows.push(InputRow { label: StockShaft::TABLE.label, a, b });
    }
    for list in List::ALL {
        let [a, b] = [a, b].map(|evaluated| evaluated.setup.lists.rows(list));
        if a != b {
            rows.push(InputRow { label: list.spec().label, a: rows_words(a), b: rows_words(b) });
        }
    }
    rows
}

fn value_words(evaluated: &EvaluatedSetup, field: Field, units: &Units) -> Option<String> {
    let resolved = &evaluated.all.resolved;
    let value = resolved.value(field).filter(|_| resolved.applies(field))?;
    Some(format::value(field.input(), value, units))
}

fn with_owner(evaluated: &EvaluatedSetup, field: Field, units: &Units) -> String {
    match value_words(evaluated, field, units) {
        None => "not used".to_owned(),
        Some(words) if evaluated.all.resolved.is_user_given(field) => words,
        Some(words) => format!("{words} ({})", format::provenance(&evaluated.all.resolved, field)),
    }
}

fn parts_words(parts: &[OwnPart], units: &Units) -> String {
    let say = |part: &OwnPart| {
        let name = if part.name.is_empty() { "a part" } else { &part.name };
        let mass = format::entered_with_unit(Quantity::Mass, part.mass_gr, units);
        let center = format::entered_with_unit(Quantity::Length, part.center_in, units);
        let length = format::entered_with_unit(Quantity::Length, part.length_in, units);
        format!("{name}, {mass} at {center}, {length} long")
    };
    let list: Vec<_> = parts.iter().map(say).collect();
    if list.is_empty() { "none".to_owned() } else { list.join("; ") }
}

fn rows_words(rows: &[Row]) -> String {
    match rows.len() {
        0 => "none".to_owned(),
        1 => "one row".to_owned(),
        count => format!("{count} rows"),
    }
}

/// How many shafts a list has, and which of them the other has not.
fn shafts_words(mine: &[StockShaft], theirs: &[StockShaft]) -> String {
    const MOST_NAMED: usize = 3;
    let own: Vec<_> = mine.iter().filter(|shaft| !theirs.contains(shaft)).map(|shaft| shaft.name.as_str()).collect();
    let count = mine.len();
    let named = own.iter().take(MOST_NAMED).copied().collect::<Vec<_>>().join(", ");
    match own.len() {
        0 => format!("{count} shafts"),
        some if some <= MOST_NAMED => format!("{count} shafts, {named} only here"),
        some => format!("{count} shafts, {named} and {} more only here", some - MOST_NAMED),
    }
}

/// Every result of both setups, the match first.
#[must_use]
pub fn results(a: &EvaluatedSetup, b: &EvaluatedSetup, units: &Units) -> Vec<ResultRow> {
    let [of_a, of_b] = [a, b].map(|evaluated| evaluated.all.answer_words().to_owned());
    let by_words = if of_a == of_b { SAME } else { "differs" }.to_owned();
    let verdict = ResultRow { label: "Match", a: of_a, b: of_b, by: None, by_words };
    core::iter::once(verdict).chain(OUTPUTS.iter().map(|row| result(a, b, row.output, units))).collect()
}

/// Said where there is no difference.
const SAME: &str = "same";

fn result(a: &EvaluatedSetup, b: &EvaluatedSetup, output: Output, units: &Units) -> ResultRow {
    let row = output.row();
    let by = difference(a, b, output, units);
    let [a, b] = [a, b].map(|evaluated| evaluated.all.said(output, units));
    let by_words = match by {
        _ if a == b => SAME.to_owned(),
        Some(by) => format::change(row.quantity, units.save(row.quantity, by), units),
        None => "–".to_owned(),
    };
    ResultRow { label: row.label, a, b, by, by_words }
}

/// The second result less the first, both as they are shown, in the unit shown.
fn difference(a: &EvaluatedSetup, b: &EvaluatedSetup, output: Output, units: &Units) -> Option<f64> {
    let quantity = output.row().quantity;
    let shown = |evaluated: &EvaluatedSetup| {
        let number = evaluated.all.outputs.get(output)?;
        Some(as_shown(units.show(quantity, number), units.of(quantity).decimals))
    };
    let (a, b) = (shown(a)?, shown(b)?);
    Some(b - a)
}

/// A number as [`format::fixed`] rounds it.
fn as_shown(value: f64, decimals: usize) -> f64 {
    let scale = (0..decimals).fold(1.0, |scale, _| scale * 10.0);
    let size = (value.abs() * scale + 0.5) as u64 as f64 / scale;
    if value < 0.0 { -size } else { size }
}

/// What the second setup has more or less of, in one sentence.
#[must_use]
pub fn in_words(a: &EvaluatedSetup, b: &EvaluatedSetup, units: &Units) -> String {
    const SAID: [(Output, &str, &str, &str); 3] = [
        (Output::TotalWeight, "weighs", "more", "less"),
        (Output::BalancePoint, "balances", "farther forward", "farther back"),
        (Output::LaunchSpeed, "leaves", "faster", "slower"),
    ];
    let clause = |(output, verb, more, less): (Output, &str, &str, &str)| {
        let by = difference(a, b, output, units).filter(|by| by.abs() > 0.0)?;
        let quantity = output.row().quantity;
        let size = format::measured(quantity, units.save(quantity, by.abs()), units);
        Some(format!("{verb} {size} {}", if by > 0.0 { more } else { less }))
    };
    let clauses: Vec<_> = SAID.into_iter().filter_map(clause).collect();
    let verdicts = match (a.all.answer_words(), b.all.answer_words()) {
        (a, b) if a == b => format!("Both: {a}."),
        (a, b) => format!("A: {a}; B: {b}."),
    };
    match clauses.as_slice() {
        [] => format!("A and B have the same weight, balance and speed. {verdicts}"),
        [one] => format!("B {one} than A. {verdicts}"),
        [first @ .., last] => format!("B {} and {last} than A. {verdicts}", first.join(", ")),
    }
}

/// Whose setup is A and whose is B, in a sentence; empty where they have the same name.
#[must_use]
pub fn names_sentence(held: &EvaluatedSetup, on_page: &EvaluatedSetup) -> String {
    let [a, b] = [held, on_page].map(|evaluated| evaluated.setup.name.as_str());
    let name = |name: &str| if name.is_empty() { String::new() } else { format!(" (\u{201c}{name}\u{201d})") };
    if a == b { String::new() } else { format!("A = saved for comparison{}, B = current{}.", name(a), name(b)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::BowKind;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    fn with_point(mass: f64) -> EvaluatedSetup {
        let setup = Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap();
        let setup = setup.with(Field::StaticSpine, 400.0).unwrap().with(Field::CutLength, 27.0).unwrap();
        EvaluatedSetup::new(setup.with(Field::PointMass, mass).unwrap())
    }

    fn row(rows: &[ResultRow], label: &str) -> ResultRow {
        rows.iter().find(|row| row.label == label).unwrap().clone()
    }

    #[test]
    fn twenty_five_grains_more_in_the_point() {
        let (a, b) = (with_point(100.0), with_point(125.0));
        let inputs = inputs(&a, &b, &Units::ARCHERY);
        assert_eq!(inputs, [InputRow { label: "Point weight", a: "100\u{a0}gr".into(), b: "125\u{a0}gr".into() }]);
        let results = results(&a, &b, &Units::ARCHERY);
        assert_eq!(row(&results, "Total weight").by_words, "+25\u{a0}gr");
        assert!(row(&results, "Launch speed").by_words.starts_with('−'));
        assert_eq!(row(&results, "True draw").by_words, "same");
        assert!(!row(&results, "True draw").differs());
        let words = in_words(&a, &b, &Units::ARCHERY);
        assert!(words.starts_with("B weighs 25\u{a0}gr more, balances "), "{words}");
        assert!(words.contains("slower than A."), "{words}");
    }

    #[test]
    fn whose_value_it_is_is_said_and_an_unused_field_is_not_compared() {
        let mut recurve = with_point(100.0);
        let mut setup = recurve.setup.clone();
        setup.choose(BowKind::Recurve);
        recurve = EvaluatedSetup::new(setup);
        let rows = inputs(&with_point(100.0), &recurve, &Units::ARCHERY);
        let find = |label: &str| rows.iter().find(|row| row.label == label);
        assert_eq!(find("Bow type").unwrap().b, "Recurve");
        assert_eq!(find("Let-off").unwrap().a, "80% (default)");
        assert_eq!(find("Let-off").unwrap().b, "not used");
        assert_eq!(find("Rating"), None);
    }

    #[test]
    fn parts_and_shafts_of_one_s_own_are_inputs_too() {
        let a = with_point(100.0);
        let mut setup = a.setup.clone();
        setup.own_parts.push(OwnPart { name: "Light".into(), mass_gr: 15.0, center_in: 3.0, length_in: 1.0 });
        setup.shafts.remove(0);
        let rows = inputs(&a, &EvaluatedSetup::new(setup), &Units::ARCHERY);
        let find = |label: &str| rows.iter().find(|row| row.label == label).unwrap();
        let (parts, shafts) = (find("Other parts"), find("Shafts to choose from"));
        assert_eq!((parts.a.as_str(), parts.b.as_str()), ("none", "Light, 15\u{a0}gr at 3\u{a0}in, 1\u{a0}in long"));
        let all = Setup::default().shafts;
        let (count, first) = (all.len(), &all[0].name);
        let words = [format!("{count} shafts, {first} only here"), format!("{} shafts", count - 1)];
        assert_eq!([&shafts.a, &shafts.b], [&words[0], &words[1]]);
    }

    #[test]
    fn a_setup_without_a_match_still_has_its_row() {
        let broken = EvaluatedSetup::new(Setup::default().with(Field::CutLength, 24.0).unwrap());
        let rows = results(&with_point(100.0), &broken, &Units::ARCHERY);
        assert_eq!(row(&rows, "Match").b, "arrow too short");
        assert_eq!(row(&rows, "Column load").b, "–");
        assert_eq!((row(&rows, "Column load").by, row(&rows, "Column load").by_words.as_str()), (None, "–"));
    }

    #[test]
    fn a_and_b_are_named_where_their_names_differ() {
        let named = |name: &str| {
            let mut setup = Setup::default();
            setup.name = name.to_owned();
            EvaluatedSetup::new(setup)
        };
        assert_eq!(names_sentence(&named("Elm"), &named("Elm")), "");
        let sentence = names_sentence(&named(""), &named("Elm"));
        assert_eq!(sentence, "A = saved for comparison, B = current (\u{201c}Elm\u{201d}).");
    }

    proptest! {
        #[test]
        fn nothing_differs_from_itself(setup in any_setup()) {
            let evaluated = EvaluatedSetup::new(setup);
            prop_assert_eq!(inputs(&evaluated, &evaluated, &Units::ARCHERY), []);
            for row in results(&evaluated, &evaluated, &Units::metric()) {
                prop_assert!(!row.differs() && row.by_words == "same", "{:?}", row);
            }
        }

        #[test]
        fn the_other_way_about_the_sign_turns(one in any_setup(), other in any_setup()) {
            let (a, b) = (EvaluatedSetup::new(one), EvaluatedSetup::new(other));
            let (forth, back) = (results(&a, &b, &Units::metric()), results(&b, &a, &Units::metric()));
            for (forth, back) in forth.iter().zip(&back) {
                prop_assert_eq!((&forth.a, &forth.b), (&back.b, &back.a));
                prop_assert_eq!(forth.by, back.by.map(|by| 0.0 - by));
                let turned = |words: &str| match words.strip_prefix('+') {
                    Some(rest) => format!("−{rest}"),
                    None => words.replacen('−', "+", 1),
                };
                prop_assert_eq!(&forth.by_words, &turned(&back.by_words));
            }
            prop_assert_eq!(inputs(&a, &b, &Units::ARCHERY).len(), inputs(&b, &a, &Units::ARCHERY).len());
        }

        #[test]
        fn the_table_adds_up(one in any_setup(), other in any_setup()) {
            let (a, b) = (EvaluatedSetup::new(one), EvaluatedSetup::new(other));
            for row in results(&a, &b, &Units::ARCHERY) {
                let number = |words: &str| words.replace('−', "-").split('\u{a0}').next().unwrap().parse::<f64>();
                if let (Ok(from), Ok(to), Ok(by)) = (number(&row.a), number(&row.b), number(&row.by_words)) {
                    prop_assert!((from + by - to).abs() <= 1e-9 * to.abs().max(1.0), "{:?}", row);
                }
            }
        }
    }
}
