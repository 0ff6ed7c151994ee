//! A batch of shafts: typed or pasted, sorted into the set, bare shafts, practice and what is left out.

use super::{file, lines, on_focus, pressed, say, table};
use crate::{ask, page};
use clothyard_core::parse::columns;
use clothyard_core::schema::{List, Row};
use clothyard_core::{Quantity, Units};
use clothyard_studies::production::batch::{Piece, pieces, set_size, worth};
use clothyard_studies::production::sort::{Sorted, Use, sort};
use clothyard_studies::production::{dots, words};
use clothyard_web::{self as dom, shapes, store};
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlTextAreaElement};

/// After so long without a key, what was typed is read.
const READ_AFTER_MS: i32 = 700;

/// Under this name a text is kept that cannot be read yet.
const DRAFT: &str = "clothyard-batch-text";

thread_local! {
    /// The rows and units that the text stands for.
    static SHOWN: RefCell<Option<(Vec<Row>, Units)>> = const { RefCell::new(None) };
    /// How many keys have been pressed.
    static KEYS: Cell<u32> = const { Cell::new(0) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("batch") else { return };
    dom::listen(&view, "toggle", |_| show());
    dom::listen(&view, "focusin", on_focus);
    dom::listen(&view, "input", on_input);
    dom::listen(&view, "change", |event| {
        if is_text(&event) {
            read();
        }
    });
    dom::listen(&view, "click", on_click);
    page::on_change(|_| show());
    show();
}

fn is_text(event: &Event) -> bool {
    dom::target::<Element>(event).is_some_and(|element| element.id() == "batch-text")
}

fn on_input(event: Event) {
    if is_text(&event) {
        let key = KEYS.get().wrapping_add(1);
        KEYS.set(key);
        dom::later(READ_AFTER_MS, move || {
            if KEYS.get() == key {
                read();
            }
        });
    }
}

fn area() -> Option<HtmlTextAreaElement> {
    dom::by_id("batch-text")?.dyn_into().ok()
}

/// Reads what is typed. What cannot be read changes nothing, is kept, and is remarked on.
fn read() {
    let (Some(area), Some(now)) = (area(), page::read()) else { return };
    let text = area.value();
    match columns::read(&text, List::Batch.of(), &now.units) {
        Err(error) => {
            say("batch-text", "batch-said", &error.message());
            // Where the browser keeps nothing, the text stands in its field all the same.
            let _ = store::put(DRAFT, &text);
        }
        Ok(rows) => {
            say("batch-text", "batch-said", "");
            store::forget(DRAFT);
            SHOWN.set(Some((rows.clone(), now.units)));
            let mut setup = now.setup.clone();
            if setup.lists.rows(List::Batch) != rows && setup.lists.set(List::Batch, rows).is_ok() {
                page::load(&setup);
            }
        }
    }
}

/// Writes the batch into its field where it has become another, or the units have.
fn fill(now: &page::Reading) {
    let rows = now.setup.lists.rows(List::Batch);
    let fresh = Some((rows.to_vec(), now.units));
    let before = SHOWN.replace(fresh.clone());
    let Some(area) = area().filter(|_| before != fresh) else { return };
    let draft = match &before {
        // What was typed before this was there, else what could not be read last time.
        None => Some(area.value()).filter(|text| !text.is_empty()).or_else(|| store::get(DRAFT)),
        // Rows that cannot be read yet stay as they were typed, whatever the units.
        Some((old, _)) if old == rows && area.get_attribute("aria-invalid").as_deref() == Some("true") => {
            Some(area.value())
        }
        Some(_) => None,
    };
    if let Some(text) = draft {
        area.set_value(&text);
        return read();
    }
    area.set_value(&columns::write(rows, List::Batch.of(), &now.units));
    say("batch-text", "batch-said", "");
}

fn show() {
    if !ask::is_open("batch") {
        return;
    }
    if let Some(now) = page::read() {
        fill(&now);
    }
    // A text kept from before may have become the batch.
    let Some(now) = page::read() else { return };
    let units = &now.units;
    let named = |quantity: Quantity| units.of(quantity).name;
    let [mass, small, length] = [Quantity::Mass, Quantity::SmallLength, Quantity::Length].map(named);
    dom::write_id(
        "batch-units",
        &format!("{mass}, thousandths of an inch of spine, {small} off straight and {length} to the balance point"),
    );
    let batch = pieces(now.setup.lists.rows(List::Batch));
    dom::hide("batch-example", !batch.is_empty());
    dom::hide("batch-none", batch.len() > 1);
    dom::hide("batch-shown", batch.len() < 2);
    if batch.len() > 1 {
        show_sorted(&batch, &sorted(&batch, &now), &now);
    }
}

fn sorted(batch: &[Piece], now: &page::Reading) -> Sorted {
    sort(batch, set_size(now.all()), worth(now.all()))
}

fn show_sorted(batch: &[Piece], sorted: &Sorted, now: &page::Reading) {
    let (units, worth) = (&now.units, worth(now.all()));
    dom::write_id("batch-set", &words::set_sentence(batch, sorted, set_size(now.all()), worth, units));
    lines("batch-uses", &words::use_sentences(batch, sorted, worth, units));
    dom::write_id("batch-height", &words::heights(batch, sorted, now.all(), units));
    dom::write_id("batch-words", &dots::in_words(batch, units));
    dom::write_id(
        "batch-stiff",
        if batch.iter().any(|piece| piece.readings.len() == 4) { words::STIFF_NOTE } else { "" },
    );
    draw(batch, sorted, units);
    let rows = batch.iter().zip(&sorted.uses).map(|(piece, &use_)| words::piece_row(piece, use_, units));
    table("batch-table", &words::piece_headings(units), rows);
    let alike: Vec<_> = in_set(batch, sorted).collect();
    dom::hide("batch-alike", alike.is_empty());
    let headings = words::SPREAD_HEADINGS.map(str::to_owned);
    let spreads = |pieces: &[&Piece]| words::spread_rows(pieces, units).into_iter().map(Vec::from);
    table("batch-all", &headings, spreads(&batch.iter().collect::<Vec<_>>()));
    table("batch-alike", &headings, spreads(&alike));
}

fn in_set<'a>(batch: &'a [Piece], sorted: &'a Sorted) -> impl Iterator<Item = &'a Piece> {
    batch.iter().zip(&sorted.uses).filter(|(_, use_)| **use_ == Use::Set).map(|(piece, _)| piece)
}

fn draw(batch: &[Piece], sorted: &Sorted, units: &Units) {
    let Some(marks) = dom::by_id("batch-marks") else { return };
    dom::empty(&marks);
    for (style, shape) in dots::draw(batch, &sorted.uses, units, clothyard_web::widgets::chart::fit("batch")) {
        let _ = shapes::add(&marks, &shape, style);
    }
}

fn on_click(event: Event) {
    match pressed(&event).as_str() {
        "batch-example" => fill_example(),
        "batch-csv" => write_file(),
        _ => {}
    }
}

fn fill_example() {
    let (Some(now), Some(area)) = (page::read(), area()) else { return };
    area.set_value(&columns::write(&words::example(), List::Batch.of(), &now.units));
    read();
    // The button is gone; what it filled takes the focus, at its first row.
    let _ = area.set_selection_range(0, 0);
    let _ = area.focus();
}

fn write_file() {
    let Some(now) = page::read() else { return };
    let batch = pieces(now.setup.lists.rows(List::Batch));
    file("clothyard-batch.csv", &words::to_csv(&batch, &sorted(&batch, &now), &now.units), "batch-said");
}
