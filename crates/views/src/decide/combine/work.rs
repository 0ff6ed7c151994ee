//! The combinations of a grid worked out piece by piece, by a worker where there can be one, and the newest
//! grid first.
//!
//! The page asks for each piece when it has the one before, so that to stop, or to turn to another grid, is
//! merely to ask for no more.

use super::axes::{label, many, value_words};
use super::face::Spans;
use super::{State, go_on, with};
use crate::page;
use clothyard_core::{Resolved, Setup, Units};
use clothyard_studies::analysis::combine::{Cell, INTEREST_COUNT, Interest, danger_words, evaluate_piece};
use clothyard_studies::analysis::grid::{Axis, AxisKind, Grid, hold_shaft};
use clothyard_studies::analysis::shortlist::{Limit, failed};
use clothyard_web::{self as dom, plain};
use js_sys::{Float64Array, Object, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::{Event, MessageEvent, Worker};

/// A piece on the page takes about this long, in milliseconds: it stays out of the way of hands and eyes.
const PAGE_PIECE_MS: (f64, f64) = (3.0, 7.0);
/// A piece by the worker takes about this long, in milliseconds, so that the bar moves.
const WORKER_PIECE_MS: (f64, f64) = (25.0, 60.0);
/// Fewer left than this are done on the page before a worker could begin.
const WORTH_A_WORKER: usize = 600;
/// Tables are filled at most so often, in milliseconds.
const SHOW_EVERY_MS: f64 = 250.0;

/// Who works: not asked for yet, a worker, or the page alone.
pub(super) enum Hand {
    Unasked,
    Worker(Worker),
    Page,
}

/// One grid being worked out.
pub(super) struct Job {
    /// Later jobs have higher numbers.
    pub(super) number: u32,
    pub(super) grid: Grid,
    /// What is combined, its shaft held.
    pub(super) setup: Setup,
    /// The first combination, by which another set-up with the same combinations is known.
    first: Setup,
    /// What stands in every field before anything is combined.
    resolved: Resolved,
    pub(super) cells: Vec<Cell>,
    pub(super) spans: Spans,
    pub(super) stopped: bool,
    /// How many to do next on the page and by the worker.
    sizes: [usize; 2],
    asked_at: f64,
    shown_at: f64,
}

/// The next size of a piece: larger if it was quick, smaller if it was slow.
fn fit(size: &mut usize, took: f64, (quick, slow): (f64, f64)) {
    if took < quick {
        *size = (*size * 2).min(4096);
    } else if took > slow {
        *size = (*size / 2).max(8);
    }
}

impl Job {
    /// A job after another, whose pieces it begins with.
    pub(super) fn new(before: Option<&Self>, grid: Grid, setup: Setup, resolved: &Resolved) -> Option<Self> {
        let (number, sizes) = before.map_or((1, [16, 256]), |job| (job.number + 1, job.sizes));
        let first = grid.cell(&setup, 0)?;
        let cells = Vec::with_capacity(grid.count());
        Some(Self {
            number,
            grid,
            setup,
            first,
            resolved: *resolved,
            cells,
            spans: [None; INTEREST_COUNT],
            stopped: false,
            sizes,
            asked_at: 0.0,
            shown_at: 0.0,
        })
    }

    /// Whether this grid over this set-up, its shaft held, is the one worked out here.
    pub(super) fn is_of(&self, grid: &Grid, setup: &Setup) -> bool {
        self.grid == *grid && grid.cell(setup, 0).is_some_and(|first| first == self.first)
    }

    pub(super) fn done(&self) -> bool {
        self.cells.len() >= self.grid.count()
    }

    /// Whether there is nothing more to come.
    pub(super) fn at_rest(&self) -> bool {
        self.done() || self.stopped
    }

    /// The next piece; whether the page is to go on by itself.
    pub(super) fn advance(&mut self, hand: &mut Hand) -> bool {
        if self.at_rest() {
            return false;
        }
        // The first piece is done here, so that it is there at once.
        if !self.cells.is_empty() && self.grid.count() - self.cells.len() >= WORTH_A_WORKER {
            if matches!(hand, Hand::Unasked) {
                *hand = start_worker().map_or(Hand::Page, Hand::Worker);
            }
            if let Hand::Worker(worker) = hand {
                self.asked_at = dom::now();
                if self.ask(worker).is_ok() {
                    return false;
                }
                *hand = Hand::Page;
            }
        }
        let [size, _] = &mut self.sizes;
        let began = dom::now();
        let cells = evaluate_piece(&self.grid, &self.setup, self.cells.len(), *size);
        fit(size, dom::now() - began, PAGE_PIECE_MS);
        self.put(&cells);
        true
    }

    fn put(&mut self, cells: &[Cell]) {
        for cell in cells {
            for (what, span) in Interest::ALL.into_iter().zip(&mut self.spans) {
                if let Some(number) = cell.get(what) {
                    let (least, most) = span.unwrap_or((number, number));
                    *span = Some((least.min(number), most.max(number)));
                }
            }
        }
        self.cells.extend_from_slice(cells);
    }

    /// Asks the worker for the next piece.
    fn ask(&self, worker: &Worker) -> Result<(), JsValue> {
        let [_, size] = self.sizes;
        let message = Object::new();
        let axes = Float64Array::from(flat(self.grid.axes()).as_slice());
        for (key, value) in [
            ("job", self.number.into()),
            ("build", plain::write(&self.setup)),
            ("axes", axes.into()),
            ("start", (self.cells.len() as f64).into()),
            ("count", (size as f64).into()),
        ] {
            Reflect::set(&message, &key.into(), &value)?;
        }
        worker.post_message(&message)
    }

    /// Whether a piece of a job, from a place on, is the one that is next: not one that was on its way when
    /// the work was stopped, nor one that was asked for twice.
    fn is_awaited(&self, number: u32, start: usize) -> bool {
        self.number == number && self.cells.len() == start && !self.at_rest()
    }

    /// Takes what the worker found; whether it found anything.
    fn take(&mut self, numbers: &[f64]) -> bool {
        let [_, size] = &mut self.sizes;
        fit(size, dom::now() - self.asked_at, WORKER_PIECE_MS);
        let start = self.cells.len();
        let (chunks, _) = numbers.as_chunks();
        let cells: Vec<_> =
            chunks.iter().enumerate().map(|(place, chunk)| Cell::from_numbers(start + place, chunk)).collect();
        self.put(&cells);
        !cells.is_empty()
    }

    /// Whether enough is new, or all is done, since it was last asked.
    pub(super) fn worth_showing(&mut self) -> bool {
        let now = dom::now();
        let worth = self.at_rest() || now - self.shown_at >= SHOW_EVERY_MS;
        if worth {
            self.shown_at = now;
        }
        worth
    }

    /// Shows how far it is, and says when it is done.
    pub(super) fn show_progress(&self) {
        let (done, count) = (self.cells.len(), self.grid.count());
        dom::hide("combine-working", self.done() || count < WORTH_A_WORKER);
        if let Some(bar) = dom::by_id("combine-bar") {
            dom::set(&bar, "max", &format!("{count}"));
            dom::set(&bar, "value", &format!("{done}"));
        }
        dom::write_id("combine-done", &format!("{} of {}", many(done), many(count)));
        dom::write_id("combine-stop", if self.stopped { "Go on" } else { "Stop" });
        if self.done() {
            dom::write_id("combine-status", &format!("{} combinations worked out.", many(count)));
        } else if self.stopped {
            dom::write_id("combine-status", &format!("Stopped at {} of {}.", many(done), many(count)));
        } else {
            dom::write_id("combine-status", "");
        }
    }

    /// The axes in the order of the page: down, across, and the others.
    pub(super) fn axes_in_order(&self) -> impl Iterator<Item = (usize, &Axis)> {
        let axes = self.grid.axes();
        let others = axes.len().saturating_sub(2);
        (others..axes.len()).chain(0..others).filter_map(move |place| axes.get(place).map(|axis| (place, axis)))
    }

    /// A combination in words.
    pub(super) fn words(&self, index: usize, units: &Units) -> String {
        let values = self.grid.values(index).unwrap_or_default();
        let one = |(place, axis): (usize, &Axis)| {
            let value = value_words(axis.what, *values.get(place)?, &self.setup.shafts, units);
            Some(format!("{} {value}", label(axis.what).to_ascii_lowercase()))
        };
        self.axes_in_order().filter_map(one).collect::<Vec<_>>().join(", ")
    }

    /// What makes a combination unsafe: in two words, and as a sentence; none where nothing is known to.
    pub(super) fn danger(&self, cell: &Cell, units: &Units) -> Option<(&'static str, String)> {
        cell.danger.map(|danger| danger_words(danger, cell, &self.resolved, units))
    }

    /// Whether a combination is safe, as far as is known, and keeps every limit.
    pub(super) fn keeps(&self, cell: &Cell, limits: &[Limit]) -> bool {
        failed(cell, limits).is_none() && cell.danger.is_none()
    }

    /// The combination that stands on the form now, if one of these does.
    pub(super) fn on_form(&self) -> Option<usize> {
        let now = page::read()?;
        let (setup, resolved) = (&now.setup, &now.all().resolved);
        if !self.is_of(&self.grid, &hold_shaft(setup, resolved)) {
            return None;
        }
        let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
        let mut index = 0;
        for axis in self.grid.axes() {
            let same = |&value: &f64| match axis.what {
                AxisKind::Shaft => setup
                    .shafts
                    .get(value as usize)
                    .is_some_and(|shaft| shaft.inputs().all(|(field, number)| close(resolved.number(field), number))),
                what => what.field().is_some_and(|field| close(resolved.number(field), value)),
            };
            index = index * axis.values.len() + axis.values.iter().position(same)?;
        }
        Some(index)
    }
}

/// Axes as numbers alone: for each its kind, how many values, and the values.
fn flat(axes: &[Axis]) -> Vec<f64> {
    let mut numbers = Vec::new();
    for axis in axes {
        numbers.push(f64::from(axis.what as u8));
        numbers.push(axis.values.len() as f64);
        numbers.extend_from_slice(&axis.values);
    }
    numbers
}

/// The axes that [`flat`] wrote.
fn unflat(mut numbers: &[f64]) -> Option<Vec<Axis>> {
    let mut axes = Vec::new();
    while let [kind, count, rest @ ..] = numbers {
        let (values, others) = rest.split_at_checked(*count as usize)?;
        axes.push(Axis { what: *AxisKind::ALL.get(*kind as usize)?, values: values.to_vec() });
        numbers = others;
    }
    Some(axes)
}

/// Works out one piece inside a worker: the numbers of each combination in turn, none as not a number, and
/// nothing at all where build or axes cannot be read.
#[wasm_bindgen]
#[must_use]
pub fn combine_piece(setup: &JsValue, axes: &[f64], start: usize, count: usize) -> Vec<f64> {
    let piece = || {
        let setup: Setup = plain::read(setup).ok()?;
        let grid = Grid::new(unflat(axes)?, &setup).ok()?;
        Some(evaluate_piece(&grid, &setup, start, count))
    };
    let cells = piece().unwrap_or_default();
    cells.iter().flat_map(Cell::to_numbers).collect()
}

/// A worker with this very wasm in it.
fn start_worker() -> Option<Worker> {
    let worker = page::worker()?;
    let message = Object::new();
    Reflect::set(&message, &"module".into(), &wasm_bindgen::module()).ok()?;
    worker.post_message(&message).ok()?;
    dom::listen(&worker, "message", on_message);
    dom::listen(&worker, "error", on_error);
    Some(worker)
}

fn on_message(event: Event) {
    let Some(message) = event.dyn_ref::<MessageEvent>() else { return };
    let get = |key: &str| Reflect::get(&message.data(), &key.into()).unwrap_or(JsValue::UNDEFINED);
    let whole = |key: &str| get(key).as_f64().unwrap_or(0.0) as usize;
    let (number, start, numbers) = (whole("job") as u32, whole("start"), get("numbers"));
    let Some(numbers) = numbers.dyn_ref::<Float64Array>().map(Float64Array::to_vec) else { return };
    let mut next = None;
    with(|state| {
        let job = state.job.as_mut().filter(|job| job.is_awaited(number, start));
        if let Some(job) = job {
            next = Some(job.number);
            if !job.take(&numbers) {
                state.hand = Hand::Page;
            }
        }
    });
    if let Some(number) = next {
        go_on(number);
    }
}

/// The worker could not start: the page does what is left.
fn on_error(_: Event) {
    let mut number = None;
    with(|state: &mut State| {
        state.hand = Hand::Page;
        number = state.job.as_ref().map(|job| job.number);
    });
    if let Some(number) = number {
        go_on(number);
    }
}
