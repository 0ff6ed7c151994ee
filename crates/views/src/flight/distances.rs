//! The trajectory table: the user's distances, the table, the file.

use super::Shots;
use super::shots::{Legs, Now};
use crate::context::{Context, Reading};
use crate::save;
use clothyard_core::Quantity;
use clothyard_core::schema::List;
use clothyard_studies::flight::table::{self, Cells};
use clothyard_studies::flight::{legs, listing};
use clothyard_web::widgets::or_why;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::text_rows::TextRows;
use clothyard_web::{self as dom, Dom, View};
use std::rc::Rc;

const ID: &str = "distances";
const LIST: &str = "distances-list";

pub(crate) struct Distances {
    shots: Rc<Shots>,
    list: TextRows,
    table: Table,
}

impl Distances {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        let list = TextRows::new(
            LIST,
            List::Distances,
            |text, _, units| Ok(listing::read(text, units)?),
            |rows, _, units| listing::write(rows, units),
        );
        Self { shots: shots.clone(), list, table: Table::new("distances-table") }
    }

    fn show_list(&mut self, now: &Reading) {
        dom::write_id("distances-unit", now.units.of(Quantity::Distance).symbol);
        dom::write_id("distances-note", &listing::sentence(&now.setup, &now.units));
        let _ = self.list.follow(now.setup.lists.rows(List::Distances), &now.units);
    }

    /// Reads the list; a text that cannot be read is kept, with what is wrong with it.
    fn take(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let Some(rows) = self.list.take(&now.units) else { return };
        let mut setup = now.setup.clone();
        if setup.lists.rows(List::Distances) != rows && setup.lists.set(List::Distances, rows).is_ok() {
            context.load(&setup);
        }
    }

    fn save(&self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let Ok((_, page)) = now.legs() else { return };
        let sets = match held_legs(&now) {
            Some(held) => vec![("A", held), ("B", page.clone())],
            None => vec![("", page.clone())],
        };
        let said = match save::file("clothyard-distances.csv", "text/csv", &table::to_csv(&sets, &now.units)) {
            Some(()) => "",
            None => "The browser blocked saving the file.",
        };
        dom::write_id("distances-saved", said);
    }
}

impl View<Context> for Distances {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        self.show_list(&now.reading);
        let Some((shot, legs)) = or_why(ID, now.legs()) else { return };
        let units = &now.units;
        dom::write_id("distances-words", &table::takeaway(shot, legs, units));
        dom::write_id("distances-wind", &table::wind(&now.reading.all().resolved, units));
        let page = table::rows(&now.distances_m, legs, units);
        let held = held_legs(&now).map(|legs| table::rows(&now.distances_m, &legs, units));
        dom::hide("distances-held", held.is_none());
        self.table.show(&table::headings(units), rows(held, page));
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if dom.button_id() == "distances-csv" {
            self.save(context);
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == LIST {
            self.take(context);
        }
    }
}

/// The setup held at the same distances; none where none is held or it does not fly.
fn held_legs(now: &Now) -> Option<Legs> {
    legs::legs(now.held_shot()?, &now.distances_m).ok()
}

/// The rows of the page alone, or each as B after that of the setup held as A.
fn rows(held: Option<Vec<Cells>>, page: Vec<Cells>) -> Vec<Row> {
    let Some(held) = held else { return page.into_iter().map(|cells| row("", cells)).collect() };
    held.into_iter().zip(page).flat_map(|(a, b)| [row(" A", a), row(" B", b)]).collect()
}

fn row(letter: &str, (distance, cells): Cells) -> Row {
    let heading = format!("{distance}{letter}");
    match cells {
        Ok(cells) => Row { class: if letter == " A" { "held" } else { "" }, ..Row::headed(heading, cells) },
        Err(why) => Row { across: true, ..Row::headed(heading, [why.to_owned()]) },
    }
}
