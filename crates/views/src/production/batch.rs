//! A batch of shafts: typed or pasted, sorted into the set, bare shafts, practice and what is left out.

use super::save_table;
use crate::context::{Context, Reading};
use crate::readings::Readings;
use clothyard_core::Quantity;
use clothyard_core::schema::List;
use clothyard_studies::production::batch::{Piece, pieces, set_size, worth};
use clothyard_studies::production::sort::{Sorted, Use, sort};
use clothyard_studies::production::{dots, words};
use clothyard_web::bus::Tick;
use clothyard_web::protocol::storage;
use clothyard_web::widgets::table::{Row, Table};
use clothyard_web::widgets::{chart, field, list};
use clothyard_web::{self as dom, Dom, Kind, View, shapes};

const ID: &str = "batch";
const TEXT: &str = "batch-text";

pub(crate) struct Batch {
    readings: Readings,
    shafts: Table,
    spread_of_all: Table,
    spread_of_set: Table,
}

impl Default for Batch {
    fn default() -> Self {
        Self {
            readings: Readings::new(ID, TEXT, List::Batch, storage::BATCH_DRAFT),
            shafts: Table::new("batch-table"),
            spread_of_all: Table::new("batch-all"),
            spread_of_set: Table::new("batch-alike"),
        }
    }
}

impl Batch {
    fn show_sorted(&mut self, batch: &[Piece], now: &Reading) {
        let (units, all) = (&now.units, now.all());
        let (sorted, worth) = (sorted(batch, now), worth(all));
        dom::write_id("batch-set", &words::set_sentence(batch, &sorted, set_size(all), worth, units));
        list::lines("batch-uses", &words::use_sentences(batch, &sorted, worth, units));
        dom::write_id("batch-height", &words::heights(batch, &sorted, all, units));
        dom::write_id("batch-words", &dots::in_words(batch, units));
        let indexed = batch.iter().any(|piece| piece.readings.len() == 4);
        dom::write_id("batch-stiff", if indexed { words::STIFF_NOTE } else { "" });
        if let Some(marks) = dom::by_id("batch-marks") {
            dom::empty(&marks);
            for (style, shape) in dots::draw(batch, &sorted.uses, units, chart::fit(ID)) {
                let _ = shapes::add(&marks, &shape, style);
            }
        }
        let rows = batch.iter().zip(&sorted.uses).map(|(piece, &use_)| Row::of(words::piece_row(piece, use_, units)));
        self.shafts.show(&words::piece_headings(units), rows.collect());
        let set: Vec<_> = in_set(batch, &sorted).collect();
        dom::hide("batch-alike", set.is_empty());
        let headings = words::SPREAD_HEADINGS.map(str::to_owned);
        let spread = |pieces: &[&Piece]| words::spread_rows(pieces, units).into_iter().map(Row::of).collect();
        self.spread_of_all.show(&headings, spread(&batch.iter().collect::<Vec<_>>()));
        self.spread_of_set.show(&headings, spread(&set));
    }
}

impl View<Context> for Batch {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        if let Some(now) = context.read() {
            self.readings.follow(&now, context);
        }
        // A text stored before may have become the batch.
        let Some(now) = context.read() else { return };
        let named = |quantity: Quantity| now.units.of(quantity).name;
        let [mass, small, length] = [Quantity::Mass, Quantity::SmallLength, Quantity::Length].map(named);
        dom::write_id(
            "batch-units",
            &format!("{mass}, spine in thousandths of an inch, straightness in {small}, balance point in {length}"),
        );
        let batch = pieces(now.setup.lists.rows(List::Batch));
        dom::hide("batch-example", !batch.is_empty());
        dom::hide("batch-none", batch.len() > 1);
        dom::hide("batch-shown", batch.len() < 2);
        if batch.len() > 1 {
            self.show_sorted(&batch, &now);
        }
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        match dom.button_id().as_str() {
            "batch-example" => {
                self.readings.fill(&words::example(), context);
                // The button goes; what it filled takes the focus, at its first row.
                if let Some(area) = field::area(TEXT) {
                    let _ = area.set_selection_range(0, 0);
                    let _ = area.focus();
                }
            }
            "batch-csv" => {
                let Some(now) = context.read() else { return };
                let batch = pieces(now.setup.lists.rows(List::Batch));
                let text = words::to_csv(&batch, &sorted(&batch, &now), &now.units);
                save_table("clothyard-batch.csv", &text, "batch-text-said");
            }
            _ => {}
        }
    }

    fn input(&mut self, dom: &Dom, _: &Context) {
        self.readings.input(dom);
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        self.readings.change(dom, context);
    }

    fn tick(&mut self, tick: Tick, context: &Context) {
        self.readings.tick(tick, context);
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        if dom.kind == Kind::Focus {
            field::own_undo(dom);
        }
    }
}

fn sorted(batch: &[Piece], now: &Reading) -> Sorted {
    sort(batch, set_size(now.all()), worth(now.all()))
}

fn in_set<'a>(batch: &'a [Piece], sorted: &'a Sorted) -> impl Iterator<Item = &'a Piece> {
    batch.iter().zip(&sorted.uses).filter(|(_, use_)| **use_ == Use::Set).map(|(piece, _)| piece)
}
