//! The fields of the axes and of the limits.

use clothyard_core::Units;
use clothyard_core::format;
use clothyard_core::schema::StockShaft;
use clothyard_studies::analysis::combinations::axes_form::{AxesForm, own_first};
use clothyard_studies::analysis::combinations::axis::{AxisKind, shaft_words};
use clothyard_studies::analysis::combinations::limits::LimitForm;
use clothyard_studies::analysis::combinations::points::Metric;
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_web as dom;
use clothyard_web::widgets::{field, list, select};
use web_sys::Element;

/// Nobody looks for a value in a longer list: limits are better there.
const MOST_LISTED: usize = 60;

/// The lists of the axes of the matrix.
pub(super) const DOWN: &str = "combine-down";
pub(super) const ACROSS: &str = "combine-across";
/// On the list of the values of an axis: the place of the axis in the grid.
pub(super) const FILTER: &str = "data-filter";
/// On the tick of a shaft: its place in the list.
pub(super) const SHAFT: &str = "data-shaft";

fn axis_id(kind: AxisKind) -> String {
    format!("combine-{}", kind.key())
}

/// The axis that a field or a tick belongs to.
pub(super) fn axis_of(element: &Element) -> Option<AxisKind> {
    AxisKind::by_key(&element.get_attribute("data-axis")?)
}

/// The end of a limit that a field with an id is for, by the key of the end and the metric.
pub(super) fn limit_of(id: &str) -> Option<(&str, Metric)> {
    let (end, metric) = id.strip_prefix("combine-")?.split_once('-')?;
    Some((end, Metric::by_key(metric)?))
}

/// Whether an axis is ticked in the markup.
pub(super) fn is_taken(kind: AxisKind) -> bool {
    field::input(&format!("combine-use-{}", kind.key())).is_some_and(|tick| tick.checked())
}

/// Writes every axis that could be read, and its unit.
pub(super) fn write_axes(axes: &AxesForm, units: &Units) {
    for entry in axes.entries() {
        let Some(quantity) = entry.kind.field().and_then(|field| field.input().quantity()) else { continue };
        let id = axis_id(entry.kind);
        dom::write_id(&format!("{id}-unit"), units.of(quantity).symbol);
        if let Some(text) = entry.text(units) {
            field::overwrite(&id, &text);
        }
    }
}

/// Says beside each axis what is wrong with it; else only takes back what was said of those that are right now.
pub(super) fn remark_on_axes(axes: &AxesForm, on_faults: bool) {
    for entry in axes.entries() {
        let fault = entry.fault().unwrap_or_default();
        if fault.is_empty() || on_faults {
            let id = axis_id(entry.kind);
            field::say(&id, &format!("{id}-said"), fault);
        }
    }
}

/// Lists the shafts to choose from, the user's own before samples.
pub(super) fn list_shafts(axes: &AxesForm, shafts: &[StockShaft]) {
    let of = |place: usize| Some((place.to_string(), shaft_words(shafts.get(place)?), place as f64));
    let ticks: Vec<_> = own_first(shafts).into_iter().filter_map(of).collect();
    let ticks =
        ticks.iter().map(|(value, words, place)| (value.as_str(), words.as_str(), axes.shafts().contains(place)));
    list::ticks("combine-shaft-list", SHAFT, ticks);
}

/// Says how many shafts are chosen.
pub(super) fn count_shafts(axes: &AxesForm) {
    let count = axes.shafts().len();
    let words = if count == 0 { "none".to_owned() } else { format::grouped(count) };
    dom::write_id("combine-shafts-chosen", &format!("From your list: {words}"));
}

/// Makes a list for each axis of a grid, to choose one of its values, and offers its axes for the matrix.
pub(super) fn list_filters(run: &GridRun, units: &Units) {
    let axes = run.grid.axes();
    let kinds = || axes.iter().map(|axis| (axis.kind.key(), axis.kind.label()));
    select::fill(DOWN, kinds());
    select::fill(ACROSS, kinds());
    let Some(holder) = dom::by_id("combine-filters") else { return };
    dom::empty(&holder);
    for (place, axis) in axes.iter().enumerate().filter(|(_, axis)| (2..=MOST_LISTED).contains(&axis.values.len())) {
        let id = format!("combine-filter-{}", axis.kind.key());
        let Some(row) = dom::add(&holder, "p", "", "") else { continue };
        dom::add(&row, "label", "", axis.kind.label()).iter().for_each(|label| dom::set(label, "for", &id));
        if let Some(list) = dom::add(&row, "select", "", "") {
            dom::set(&list, "id", &id);
            dom::set(&list, FILTER, &place.to_string());
        }
        let values = axis.values.iter().enumerate();
        let values: Vec<_> =
            values.map(|(at, &value)| (at.to_string(), axis.kind.words(value, &run.setup.shafts, units))).collect();
        let all = core::iter::once(("", "all"));
        select::fill(&id, all.chain(values.iter().map(|(at, words)| (at.as_str(), words.as_str()))));
    }
}

/// Says what is combined.
pub(super) fn say_axes(run: &GridRun) {
    let labels: Vec<_> = run.grid.axes().iter().map(|axis| format::lower_first(axis.kind.label())).collect();
    dom::write_id("combine-inputs-set", &labels.join(", "));
}

/// Says how many limits are in force.
pub(super) fn count_limits(limits: &LimitForm) {
    dom::write_id("combine-limits-set", &limits.count_words());
}

/// Says what is wrong with the limits, if anything is, and marks the fields that cannot be read.
pub(super) fn remark_on_limits(limits: &LimitForm) {
    dom::write_id("combine-limits-said", &limits.remark());
    for (metric, end, typed) in limits.ends() {
        if let Some(field) = dom::by_id(&format!("combine-{end}-{}", metric.key())) {
            dom::set(&field, "aria-invalid", if typed.is_err() { "true" } else { "false" });
        }
    }
}

/// Writes every limit that could be read, and its unit.
pub(super) fn write_limits(limits: &LimitForm, units: &Units) {
    for (metric, end, typed) in limits.ends() {
        let quantity = metric.quantity();
        dom::write_id(&format!("combine-unit-{}", metric.key()), units.of(quantity).symbol);
        if let &Ok(Some(saved)) = typed {
            field::overwrite(&format!("combine-{end}-{}", metric.key()), &format::entered(quantity, saved, units));
        }
    }
}
