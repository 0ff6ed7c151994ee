//! A batch of shafts: typed or pasted, sorted into the set, bare shafts, practice and what is left out.

use super::save_table;
use crate::context::{Context, Reading};
use crate::readings::Readings;
use clothyard_core::Quantity;
use clothyard_core::schema::List;
use clothyard_studies::production::batch::{Piece, numbers_clash, pieces, sorted, worth};
use clothyard_studies::production::dots::{self, Dots};
use clothyard_studies::production::sort::{Sorted, Use};
use clothyard_studies::production::words;
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
    dots: Dots,
    /// The place of the piece read out.
    at: usize,
}

impl Default for Batch {
    fn default() -> Self {
        Self {
            readings: Readings::new(ID, TEXT, List::Batch, storage::BATCH_DRAFT),
            shafts: Table::new("batch-table"),
            spread_of_all: Table::new("batch-all"),
            spread_of_set: Table::new("batch-alike"),
            dots: Dots::default(),
            at: 0,
        }
    }
}

impl Batch {
    fn show_sorted(&mut self, batch: &[Piece], now: &Reading) {
        let (units, all) = (&now.units, now.all());
        let ((wanted, sorted), worth) = (sorted(batch, all), worth(all));
        dom::write_id("batch-set", &words::set_sentence(batch, &sorted, wanted, worth, units));
        list::lines("batch-uses", &words::use_sentences(batch, &sorted, worth, units));
        dom::write_id("batch-height", &words::heights(batch, &sorted, all, units));
        dom::write_id("batch-words", &dots::in_words(batch, units));
        let indexed = batch.iter().any(|piece| piece.readings.len() == 4);
        dom::write_id("batch-stiff", if indexed { words::STIFF_NOTE } else { "" });
        self.dots = dots::draw(batch, &sorted.uses, units, chart::fit(ID));
        if let Some(marks) = dom::by_id("batch-marks") {
            dom::empty(&marks);
            for (style, shape) in &self.dots.shapes {
                let _ = shapes::add(&marks, shape, style);
            }
        }
        self.read_out(now);
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

impl Batch {
    /// Says what the piece at the cursor is, and rings its mark.
    fn read_out(&self, now: &Reading) {
        let batch = pieces(now.setup.lists.rows(List::Batch));
        let (_, sorted) = sorted(&batch, now.all());
        let piece = batch.iter().zip(&sorted.uses).nth(self.at);
        let words = piece.map(|(piece, &use_)| words::piece_words(piece, use_, &now.units));
        dom::write_id("batch-at", &words.unwrap_or_default());
        if let Some(cursor) = dom::by_id("batch-cursor") {
            dom::empty(&cursor);
            self.dots.ring(self.at).iter().for_each(|ring| drop(shapes::add(&cursor, ring, "ring")));
        }
    }

    fn point_at(&mut self, dom: &Dom, context: &Context) {
        let Some(chart) = dom.closest("#batch-chart") else { return };
        let area = chart.get_bounding_client_rect();
        let point = dom.pointer_x().zip(dom.pointer_y()).map(|(x, y)| (x - area.left(), y - area.top()));
        self.go_to(point.and_then(|point| self.dots.nearest(point)), context);
    }

    fn go_to(&mut self, place: Option<usize>, context: &Context) {
        if let (Some(place), Some(now)) = (place.filter(|&place| place != self.at), context.read()) {
            self.at = place;
            self.read_out(&now);
        }
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
        let clash = numbers_clash(now.setup.lists.rows(List::Batch));
        let why = if clash { "Two shafts have the same number: numbered by row instead." } else { "" };
        dom::write_id("batch-numbers", why);
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
                let text = words::to_csv(&batch, &sorted(&batch, now.all()).1, &now.units);
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

    /// Along the list, from shaft to shaft.
    fn key(&mut self, dom: &Dom, context: &Context) {
        if dom.id() != "batch-chart" {
            return;
        }
        let key = dom.key().map(web_sys::KeyboardEvent::key).unwrap_or_default();
        let at = self.dots.marks.iter().position(|mark| mark.0 == self.at).unwrap_or(0);
        let to = match key.as_str() {
            "ArrowRight" => at + 1,
            "ArrowLeft" => at.saturating_sub(1),
            _ => return,
        };
        let place = self.dots.marks.get(to).map(|mark| mark.0);
        self.go_to(place, context);
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::Focus => field::own_undo(dom),
            Kind::PointerDown | Kind::PointerMove => self.point_at(dom, context),
            _ => {}
        }
    }
}

fn in_set<'a>(batch: &'a [Piece], sorted: &'a Sorted) -> impl Iterator<Item = &'a Piece> {
    batch.iter().zip(&sorted.uses).filter(|(_, use_)| **use_ == Use::Set).map(|(piece, _)| piece)
}
