//! Any number of saved setups and the current one, side by side in one table.

use crate::sharing::reading::KeptSetup;
use clothyard_core::eval::Evaluation;
use clothyard_core::format;
use clothyard_core::schema::{Field, Output};
use clothyard_core::setup::Setup;
use clothyard_core::units::Units;

/// So many are chosen at first; each costs a full evaluation.
const CHOSEN_AT_FIRST: usize = 6;

/// The id of the setup on the page among the kept ones; no kept one has it.
pub const ON_PAGE: &str = "";

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Line {
    /// How the spine suits.
    Match,
    /// A result.
    Of(Output),
    /// What is in a field.
    In(Field),
}

/// The main results of a setup, then what it is made of.
const LINES: [Line; 15] = [
    Line::Match,
    Line::Of(Output::TotalWeight),
    Line::Of(Output::GrainsPerPound),
    Line::Of(Output::FrontOfCentre),
    Line::Of(Output::BalancePoint),
    Line::Of(Output::LaunchSpeed),
    Line::Of(Output::KineticEnergy),
    Line::Of(Output::Momentum),
    Line::Of(Output::IdealDrawWeight),
    Line::Of(Output::SuitsFrom),
    Line::Of(Output::SuitsTo),
    Line::In(Field::CutLength),
    Line::In(Field::StaticSpine),
    Line::In(Field::PointMass),
    Line::In(Field::InsertMass),
];

impl Line {
    fn label(self) -> &'static str {
        match self {
            Self::Match => "Match",
            Self::Of(output) => output.row().label,
            Self::In(field) => field.input().label,
        }
    }

    fn words(self, all: &Evaluation, units: &Units) -> String {
        match self {
            Self::Match => all.answer_words().to_owned(),
            Self::Of(output) => all.said(output, units),
            Self::In(field) => {
                let value = all.resolved.value(field);
                value.map_or_else(|| "–".to_owned(), |value| format::value(field.input(), value, units))
            }
        }
    }
}

/// A kept setup, evaluated when it is first in the table.
#[derive(Debug)]
struct Column {
    kept: KeptSetup,
    chosen: bool,
    evaluation: Option<Evaluation>,
}

/// The kept setups, and which of them are in the table.
#[derive(Debug)]
pub struct KeptTable {
    columns: Vec<Column>,
    page_chosen: bool,
}

impl Default for KeptTable {
    fn default() -> Self {
        Self { columns: Vec::new(), page_chosen: true }
    }
}

impl KeptTable {
    /// Takes another list; choices are kept, and so are evaluations of setups that have not changed.
    pub fn update(&mut self, list: Vec<KeptSetup>) {
        let mut before = core::mem::take(&mut self.columns);
        for kept in list {
            let known = before.iter().position(|column| column.kept.id == kept.id);
            let known = known.map(|place| before.swap_remove(place));
            let chosen = known.as_ref().map_or(self.columns.len() < CHOSEN_AT_FIRST, |column| column.chosen);
            let same = known.filter(|column| column.kept.setup == kept.setup);
            self.columns.push(Column { kept, chosen, evaluation: same.and_then(|column| column.evaluation) });
        }
    }

    /// Whether no setup is kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.columns.is_empty()
    }

    /// Takes a setup into the table, or out of it.
    pub fn choose(&mut self, id: &str, on: bool) {
        if id == ON_PAGE {
            self.page_chosen = on;
        }
        for column in self.columns.iter_mut().filter(|column| column.kept.id == id) {
            column.chosen = on;
        }
    }

    /// What there is to choose: ids and names, and whether each is chosen.
    pub fn choices(&self) -> impl Iterator<Item = (&str, &str, bool)> {
        let kept = self.columns.iter().map(|column| (column.kept.id.as_str(), name(&column.kept.setup), column.chosen));
        core::iter::once((ON_PAGE, "Current setup", self.page_chosen)).chain(kept)
    }

    /// Headings and rows of the table; no headings where nothing is chosen or kept. The first cell of a row is its label.
    #[must_use]
    pub fn show(&mut self, on_page: &Evaluation, units: &Units) -> (Vec<String>, Vec<Vec<String>>) {
        let mut chosen = Vec::new();
        if self.page_chosen && !self.is_empty() {
            chosen.push(("Current setup", on_page));
        }
        for column in self.columns.iter_mut().filter(|column| column.chosen) {
            let evaluation = column.evaluation.get_or_insert_with(|| Evaluation::of(&column.kept.setup));
            chosen.push((name(&column.kept.setup), &*evaluation));
        }
        if chosen.is_empty() {
            return (Vec::new(), Vec::new());
        }
        let headings = core::iter::once("Result").chain(chosen.iter().map(|(name, _)| *name));
        let row = |line: Line| {
            let cells = chosen.iter().map(|(_, all)| line.words(all, units));
            core::iter::once(line.label().to_owned()).chain(cells).collect()
        };
        (headings.map(str::to_owned).collect(), LINES.map(row).into())
    }
}

fn name(setup: &Setup) -> &str {
    if setup.name.is_empty() { "unnamed" } else { &setup.name }
}

/// What could not be read of the kept setups, in a sentence; empty where all could.
#[must_use]
pub fn unread_sentence(unread: usize) -> String {
    match unread {
        0 => String::new(),
        1 => "One saved setup cannot be read and is left out.".to_owned(),
        count => format!("{count} saved setups cannot be read and are left out."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(id: &str, name: &str, point_gr: f64) -> KeptSetup {
        let mut setup = Setup::default().with(Field::PointMass, point_gr).unwrap();
        setup.name = name.to_owned();
        KeptSetup { id: id.to_owned(), setup }
    }

    fn chosen(table: &KeptTable) -> Vec<(&str, bool)> {
        table.choices().map(|(id, _, chosen)| (id, chosen)).collect()
    }

    fn show(table: &mut KeptTable) -> (Vec<String>, Vec<Vec<String>>) {
        table.show(&Evaluation::of(&Setup::default()), &Units::metric())
    }

    #[test]
    fn a_column_for_each_setup_chosen_and_words_in_every_row() {
        let mut table = KeptTable::default();
        assert_eq!(show(&mut table), (vec![], vec![]), "the page alone is beside nothing");
        table.update(vec![kept("a", "Elm", 100.0), kept("b", "", 150.0)]);
        let (headings, rows) = show(&mut table);
        assert_eq!(headings, ["Result", "Current setup", "Elm", "unnamed"]);
        assert_eq!(rows.len(), 15);
        assert!(rows.iter().flatten().all(|words| !words.is_empty() && words != "–"), "{rows:?}");
        let points = rows.iter().find(|row| row[0] == "Point weight").unwrap();
        assert_eq!(points[2..], ["6.48\u{a0}g", "9.72\u{a0}g"]);
        for id in [ON_PAGE, "a", "b"] {
            table.choose(id, false);
        }
        assert_eq!(show(&mut table), (vec![], vec![]));
    }

    #[test]
    fn choices_outlive_another_list_and_only_a_changed_setup_is_evaluated_again() {
        let mut table = KeptTable::default();
        table.update((0..8).map(|place| kept(&place.to_string(), "", 100.0)).collect());
        assert_eq!(chosen(&table).iter().filter(|(_, chosen)| *chosen).count(), 1 + CHOSEN_AT_FIRST);
        table.choose("0", false);
        table.choose("7", true);
        let _ = show(&mut table);
        table.update(vec![kept("7", "", 100.0), kept("1", "", 125.0), kept("0", "", 100.0), kept("new", "", 80.0)]);
        assert_eq!(chosen(&table), [(ON_PAGE, true), ("7", true), ("1", true), ("0", false), ("new", true)]);
        let evaluated: Vec<_> = table.columns.iter().map(|column| column.evaluation.is_some()).collect();
        assert_eq!(evaluated, [true, false, false, false]);
    }

    #[test]
    fn what_cannot_be_read_is_said() {
        assert_eq!(unread_sentence(0), "");
        assert!(unread_sentence(1).starts_with("One saved setup cannot"));
        assert!(unread_sentence(2).starts_with("2 saved setups cannot"));
    }
}
