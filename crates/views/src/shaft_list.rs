//! The shafts to choose from: samples at first, then the user's own.

use crate::context::{Context, Reading};
use clothyard_core::parse::named;
use clothyard_core::schema::shafts::invented_shafts;
use clothyard_core::schema::{NamedRow, StockShaft};
use clothyard_core::{Units, format};
use clothyard_studies::shaft_list as shafts;
use clothyard_web::bus::Event;
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom, Kind, View};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

const ID: &str = "shaft-list";
const TEXT: &str = "shafts-text";
/// On what belongs to a row: its place in the list; on a cell its column, on a heading the column that it sorts by.
const PLACE: &str = "data-shaft-place";
const COLUMN: &str = "data-shaft-column";
const USE: &str = "data-shaft-use";

#[derive(Default)]
pub(crate) struct ShaftList {
    /// Of each row the row itself, its two buttons, and its cells.
    rows: Vec<Vec<Element>>,
    /// The column sorted by last, and whether its greatest came first.
    sorted: Option<(usize, bool)>,
    /// The places in the list of the rows, once they were sorted.
    order: Vec<usize>,
    /// The samples were removed, and no shaft has taken their place yet.
    is_cleared: bool,
}

impl ShaftList {
    /// Changes the list, undoably.
    fn alter(&mut self, context: &Context, change: impl FnOnce(&mut Vec<StockShaft>)) {
        let Some(mut setup) = context.setup() else { return };
        if core::mem::take(&mut self.is_cleared) && !setup.has_own_shafts() {
            setup.shafts.clear();
        }
        change(&mut setup.shafts);
        if setup.shafts.is_empty() {
            // The list of a setup is never empty: the samples are there until there is another.
            self.is_cleared = true;
            setup.shafts = invented_shafts();
        }
        let most = StockShaft::TABLE.max_rows;
        if setup.shafts.len() > most {
            return say(&format!("At most {most} shafts."));
        }
        say("");
        context.load(&setup);
        self.show(context);
    }

    fn show_rows(&mut self, now: &Reading) {
        let list: &[StockShaft] = if self.is_cleared { &[] } else { &now.setup.shafts };
        let Some(body) = dom::by_id("shafts").and_then(|table| table.query_selector("tbody").ok()?) else { return };
        if self.rows.len() != list.len() {
            dom::empty(&body);
            self.rows = (0..list.len()).filter_map(|_| add_row(&body)).collect();
        }
        if self.order.len() != list.len() {
            (self.order, self.sorted) = ((0..list.len()).collect(), None);
        }
        let resolved = &now.all().resolved;
        let in_hand = dom::document().and_then(|document| document.active_element());
        for (cells, &place) in self.rows.iter().zip(&self.order) {
            let Some(shaft) = list.get(place) else { continue };
            name_row(cells, place, &shaft.name);
            let is_used = shaft.inputs().all(|(field, number)| (resolved.number(field) - number).abs() < 1e-9);
            cells.first().iter().for_each(|row| dom::class(row, "current", is_used));
            for (cell, words) in cells.iter().skip(3).zip(words(shaft, &now.units)) {
                // What is being typed is left alone.
                if in_hand.as_ref() == Some(cell) {
                    continue;
                }
                let input = cell.dyn_ref::<HtmlInputElement>();
                input.filter(|input| input.value() != words).into_iter().for_each(|input| input.set_value(&words));
                dom::set(cell, "aria-invalid", "false");
            }
        }
    }

    /// Takes a cell that was typed and left.
    fn take(&mut self, dom: &Dom, context: &Context) {
        let number = |name: &str| dom.target.get_attribute(name)?.parse::<usize>().ok();
        let (Some(place), Some(column), Some(now)) = (number(PLACE), number(COLUMN), context.read()) else { return };
        let Some(input) = dom.target_as::<HtmlInputElement>() else { return };
        let Some(shaft) = now.setup.shafts.get(place) else { return };
        match named::with_cell(shaft, column, &input.value(), &now.units) {
            Ok(shaft) => self.alter(context, |list| {
                if let Some(slot) = list.get_mut(place) {
                    *slot = shaft;
                }
            }),
            Err(why) => {
                dom::set(&dom.target, "aria-invalid", "true");
                say(&why);
            }
        }
    }

    /// Sorts the rows; the list itself stays as it is.
    fn sort(&mut self, column: usize, context: &Context) {
        let Some(now) = context.read() else { return };
        let descending = self.sorted == Some((column, false));
        self.sorted = Some((column, descending));
        self.order = shafts::sorted(&now.setup.shafts, column, descending);
        self.show(context);
    }

    /// Adds the rows pasted.
    fn paste(&mut self, context: &Context) {
        let read = shafts::read(&field::text(TEXT), &context.units());
        field::say(TEXT, "shafts-text-said", read.as_ref().err().map_or("", String::as_str));
        if let Ok(rows) = read
            && !rows.is_empty()
        {
            let count = rows.len();
            self.alter(context, |list| list.extend(rows));
            field::overwrite(TEXT, "");
            say(&format!("Added {count}."));
        }
    }

    /// Adds a shaft like the last one, to be changed.
    fn add(&mut self, context: &Context) {
        let like = context.setup().and_then(|setup| setup.shafts.last().cloned());
        let fresh = like.map(|like| StockShaft { name: "New shaft".to_owned(), on_rack: 0.0, ..like });
        self.alter(context, |list| list.extend(fresh));
        field::focus("#shafts tbody tr:last-child input");
    }
}

impl View<Context> for ShaftList {
    fn id(&self) -> &'static str {
        ID
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        matches!(event, Event::Setup | Event::Units)
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.is_cleared &= !now.setup.has_own_shafts();
        let own = shafts::without_samples(&now.setup.shafts).len();
        let words = match (self.is_cleared, own) {
            (true, _) => "Samples removed. Add or paste your shafts; until then the sample list is used.".to_owned(),
            (false, 0) => "These are samples. Replace them with the shafts you can buy.".to_owned(),
            (false, own) if own == now.setup.shafts.len() => format!("Your list: {own}."),
            (false, own) => format!("{own} of your own, {} samples.", now.setup.shafts.len() - own),
        };
        dom::write_id("shafts-are", &words);
        dom::hide("shafts-clear", self.is_cleared || own == now.setup.shafts.len());
        dom::hide("shafts-reset", own == 0 && !self.is_cleared);
        self.show_rows(&now);
        for column in 0..=StockShaft::TABLE.columns.len() {
            let selector = format!("#shafts th:nth-child({})", column + 1);
            let heading = dom::document().and_then(|document| document.query_selector(&selector).ok()?);
            let order = match self.sorted {
                Some((by, true)) if by == column => "descending",
                Some((by, false)) if by == column => "ascending",
                _ => "none",
            };
            heading.iter().for_each(|heading| dom::set(heading, "aria-sort", order));
        }
        for (place, column) in StockShaft::TABLE.columns.iter().enumerate() {
            let symbol = now.units.of(column.quantity).symbol;
            dom::write_id(&format!("shafts-unit-{place}"), symbol);
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        self.take(dom, context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        let Some(button) = dom.button() else { return };
        let number = |name: &str| button.get_attribute(name)?.parse::<usize>().ok();
        match (number(COLUMN), number(PLACE), number(USE)) {
            (Some(column), ..) => return self.sort(column, context),
            (_, Some(place), _) => {
                self.alter(context, |list| drop((place < list.len()).then(|| list.remove(place))));
                return field::focus("#shaft-add");
            }
            (.., Some(place)) => return use_one(place, context),
            _ => {}
        }
        match button.id().as_str() {
            "shafts-clear" => self.alter(context, |list| *list = shafts::without_samples(list)),
            "shafts-reset" => {
                self.is_cleared = false;
                self.alter(context, |list| *list = invented_shafts());
            }
            "shaft-add" => self.add(context),
            "shafts-take" => self.paste(context),
            _ => {}
        }
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        if dom.kind == Kind::Focus {
            field::own_undo(dom);
        }
    }
}

fn say(words: &str) {
    dom::write_id("shafts-said", words);
}

/// Puts a shaft on the arrow.
fn use_one(place: usize, context: &Context) {
    let Some(mut setup) = context.setup() else { return };
    if shafts::use_shaft(&mut setup, place) {
        let name = setup.shafts.get(place).map_or("", |shaft| shaft.name.as_str());
        say(&format!("Applied {name}. Undo restores your setup."));
        context.load(&setup);
    }
}

/// What the cells of a shaft hold; an unknown number is left empty.
fn words(shaft: &StockShaft, units: &Units) -> Vec<String> {
    let numbers = StockShaft::TABLE.columns.iter().zip(shaft.numbers());
    let numbers = numbers.map(|(column, number)| match number {
        0.0 if column.optional => String::new(),
        number => format::entered(column.quantity, number, units),
    });
    core::iter::once(shaft.name.clone()).chain(numbers).collect()
}

/// A row, its buttons and its cells, still empty.
fn add_row(body: &Element) -> Option<Vec<Element>> {
    let row = dom::add(body, "tr", "", "")?;
    let mut cells = Vec::new();
    for column in 0..=StockShaft::TABLE.columns.len() {
        let input = dom::add(&dom::add(&row, "td", "", "")?, "input", "", "")?;
        for (name, value) in [
            ("type", "text"),
            ("inputmode", if column == 0 { "text" } else { "decimal" }),
            ("autocomplete", "off"),
            ("aria-describedby", "shafts-said"),
            (COLUMN, &column.to_string()),
        ] {
            dom::set(&input, name, value);
        }
        cells.push(input);
    }
    let button = |words: &str| {
        let button = dom::add(&dom::add(&row, "td", "", "")?, "button", "", words)?;
        dom::set(&button, "type", "button");
        Some(button)
    };
    let buttons = [button("Use")?, button("×")?];
    Some([row.clone()].into_iter().chain(buttons).chain(cells).collect())
}

/// Says in a row which shaft of the list it is.
fn name_row(cells: &[Element], place: usize, shaft: &str) {
    let [_, use_it, remove, inputs @ ..] = cells else { return };
    for (button, act, attribute) in [(use_it, "Use", USE), (remove, "Remove", PLACE)] {
        dom::set(button, attribute, &place.to_string());
        dom::set(button, "aria-label", &format!("{act} {shaft}"));
    }
    let labels = core::iter::once("name").chain(StockShaft::TABLE.columns.iter().map(|column| column.label));
    for (input, label) in inputs.iter().zip(labels) {
        dom::set(input, PLACE, &place.to_string());
        dom::set(input, "aria-label", &format!("{shaft}: {label}"));
    }
}
