//! The shortlist, and the whole grid as a file.

use super::axes::{label, many};
use super::face::{Shown, over, signed};
use super::limits::quantity;
use super::work::Job;
use crate::save as saving;
use clothyard_core::csv::Csv;
use clothyard_core::eval::BAND;
use clothyard_core::schema::Kind;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::analysis::combine::{Cell, Interest};
use clothyard_studies::analysis::shortlist::{Limit, Ranked, Reason, shortlist};
use clothyard_web as dom;
use web_sys::Element;

/// How long the shortlist is.
const MOST: usize = 10;

/// Shows the best combinations that keep every limit.
pub(super) fn show(job: &Job, shown: &Shown) {
    let mut cells = Vec::new();
    if job.at_rest() {
        cells.extend(job.cells.iter().filter(|cell| job.keeps(cell, shown.limits)).copied());
    }
    let list = shortlist(&cells, shown.limits, MOST);
    dom::write_id("combine-ranked-said", &said(job, shown, cells.len(), &list));
    let Some(holder) = dom::by_id("combine-ranked") else { return };
    let (mut lines, mut before) = (Vec::new(), None);
    for ranked in &list {
        lines.push((ranked.cell.index, entry(job, shown, ranked, before)));
        before = Some(ranked);
    }
    // Written over where it stands, so that a hand on it stays there.
    let items = holder.children();
    for place in (lines.len() as u32..items.length()).rev() {
        if let Some(item) = items.item(place) {
            item.remove();
        }
    }
    for (place, (index, lines)) in (0..).zip(&lines) {
        let item = items.item(place).or_else(|| make(&holder));
        if let Some(item) = item {
            write(&item, *index, lines);
        }
    }
}

fn make(holder: &Element) -> Option<Element> {
    let item = dom::add(holder, "li", "", "")?;
    let button = dom::add(&item, "button", "", "")?;
    dom::set(&button, "type", "button");
    dom::add(&item, "p", "", "");
    dom::add(&item, "p", "quiet", "");
    Some(item)
}

fn write(item: &Element, index: usize, lines: &[String; 3]) {
    let parts = item.children();
    if let Some(button) = parts.item(0) {
        dom::set(&button, "data-cell", &format!("{index}"));
    }
    for (place, line) in (0..).zip(lines) {
        if let Some(part) = parts.item(place) {
            dom::write(&part, line);
        }
    }
}

/// What the list is, in a sentence or two.
fn said(job: &Job, shown: &Shown, keep: usize, list: &[Ranked]) -> String {
    if !job.at_rest() {
        return "The best matched within the limits stand here, once all are worked out.".to_owned();
    }
    let among = if job.done() { "" } else { " of those worked out" };
    let Some(best) = list.first() else {
        return format!("No combination{among} is safe, keeps every limit and has a match.");
    };
    let kept =
        if shown.limits.is_empty() { String::new() } else { format!("{} keep every limit{among}. ", many(keep)) };
    let close = (best.cell.get(Interest::Match).unwrap_or(0.0) - 1.0).abs() <= BAND;
    let what = if close { "The best matched come first" } else { "None is well matched; these come nearest" };
    format!("{kept}{what}{among}; press one to put it on the form.")
}

/// What it is, what comes of it, and why it stands where it does.
fn entry(job: &Job, shown: &Shown, ranked: &Ranked, before: Option<&Ranked>) -> [String; 3] {
    let cell = &ranked.cell;
    let what = format::upper_first(&job.words(cell.index, shown.units));
    let numbers = [
        over(cell)
            .map_or_else(String::new, |pounds| format!("{} from its best draw weight", signed(-pounds, shown.units))),
        shown.said(cell, Interest::TotalWeight),
        shown.said(cell, Interest::FrontOfCentre),
        shown.said(cell, Interest::LaunchSpeed),
        shown.said(cell, Interest::KineticEnergy),
    ];
    [what, format!("{}.", numbers.join(", ")), why(ranked, before)]
}

fn why(ranked: &Ranked, before: Option<&Ranked>) -> String {
    let percent = |ranked: &Ranked| format!("{}\u{a0}%", format::fixed(ranked.off_match * 100.0, 1));
    match ranked.reason {
        Reason::First => format!("First: {} off an ideal match.", percent(ranked)),
        Reason::LessMatched => {
            let other = before.map_or_else(String::new, |before| format!(", the one above {}", percent(before)));
            format!("Less well matched: {} off{other}.", percent(ranked))
        }
        Reason::NearerALimit => "As well matched as the one above, but nearer the end of a limit.".to_owned(),
        Reason::LessClose => {
            format!("About as well matched as the one above: {} off, too close to tell apart.", percent(ranked))
        }
        Reason::Later => "Alike in all to the one above.".to_owned(),
    }
}

/// Saves every combination worked out as a table.
pub(super) fn save(job: &Job, limits: &[Limit], units: &Units) {
    let mut csv = Csv::default();
    for (_, axis) in job.axes_in_order() {
        let quantity = axis.what.field().and_then(|field| field.input().quantity());
        csv.text(&quantity.map_or_else(
            || label(axis.what).to_owned(),
            |quantity| format::heading(label(axis.what), quantity, units),
        ));
    }
    for what in Interest::ALL {
        match what.output() {
            Some(output) => csv.text(&format::heading(output.row().label, quantity(what), units)),
            None => csv.text("Column load over its target"),
        }
    }
    csv.text("Safe and within the limits");
    csv.end_row();
    for cell in &job.cells {
        row(&mut csv, job, cell, limits, units);
    }
    let words = match saving::file("combinations.csv", "text/csv", &csv.finish()) {
        Some(()) => "Saved as combinations.csv.",
        None => "This browser does not let the page save a file.",
    };
    dom::write_id("combine-status", words);
}

fn row(csv: &mut Csv, job: &Job, cell: &Cell, limits: &[Limit], units: &Units) {
    let values = job.grid.values(cell.index).unwrap_or_default();
    for (place, axis) in job.axes_in_order() {
        let value = values.get(place).copied();
        match axis.what.field().map(|field| &field.input().kind) {
            Some(&Kind::Number { quantity, .. }) => {
                number(csv, quantity, value, units.of(quantity).entry_decimals, units)
            }
            _ => {
                let shaft = value.and_then(|value| job.setup.shafts.get(value as usize));
                csv.text(shaft.map_or("", |shaft| &shaft.name));
            }
        }
    }
    for what in Interest::ALL {
        let quantity = quantity(what);
        number(csv, quantity, cell.get(what), units.of(quantity).decimals, units);
    }
    csv.text(if job.keeps(cell, limits) { "yes" } else { "no" });
    csv.end_row();
}

fn number(csv: &mut Csv, quantity: Quantity, saved: Option<f64>, decimals: usize, units: &Units) {
    csv.number(saved.map(|saved| units.show(quantity, saved)), decimals);
}
