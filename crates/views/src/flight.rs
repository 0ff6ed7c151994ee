//! The flight tools.

mod air;
mod distances;
mod judging;
mod marks;
mod reach;
mod rules;
mod shots;
mod side;
mod steady;

pub(crate) use air::Air;
pub(crate) use distances::Distances;
pub(crate) use judging::Judging;
pub(crate) use marks::SightMarks;
pub(crate) use reach::Reach;
pub(crate) use rules::Rules;
pub(crate) use shots::Shots;
pub(crate) use side::PathFromTheSide;
pub(crate) use steady::SteadyFlight;

use clothyard_core::drawing::Shape;
use clothyard_web::widgets::drawing::Item;
use clothyard_web::widgets::table::Row;

/// Names and numbers as rows.
fn terms(terms: Vec<(&'static str, String)>) -> Vec<Row> {
    terms.into_iter().map(|(name, number)| Row::headed(name, [number])).collect()
}

/// Rows whose first cell is the heading.
fn rows(rows: Vec<impl IntoIterator<Item = String>>) -> Vec<Row> {
    rows.into_iter().map(Row::of).collect()
}

/// Shapes with their styles, for a drawing.
fn items(shapes: Vec<(&'static str, Shape)>) -> impl Iterator<Item = Item> {
    shapes.into_iter().map(|(style, shape)| Item::new(style, shape))
}
