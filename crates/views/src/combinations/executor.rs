//! Evaluates the combinations piece by piece: in a worker if there is one, else on the page.
//!
//! The page asks for each piece when it has the one before, so that to stop, or to turn to another grid, is
//! merely to ask for no more.

use super::ID;
use crate::context::Context;
use clothyard_core::Setup;
use clothyard_studies::analysis::combinations::grid::Grid;
use clothyard_studies::analysis::combinations::points::{GridPoint, evaluate_piece};
use clothyard_studies::analysis::combinations::run::{GridRun, PieceSize};
use clothyard_web::bus::Reply;
use clothyard_web::{self as dom, plain};
use js_sys::{Float64Array, Object, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::Worker;

/// Fewer left than this are done on the page before a worker could begin.
pub(super) const WORTH_A_WORKER: usize = 600;

/// Who evaluates.
enum Hands {
    /// The page, until a worker is worth it.
    NotAsked,
    Worker(Worker),
    /// The page alone: it can have no worker.
    Page,
}

pub(super) struct Executor {
    hands: Hands,
    /// Later grids have higher numbers.
    job: u32,
    /// A piece on the page stays out of the way of hands and eyes.
    on_page: PieceSize,
    /// A piece by the worker takes about as long as the bar may take to move.
    by_worker: PieceSize,
    asked_at: f64,
}

impl Default for Executor {
    fn default() -> Self {
        Self {
            hands: Hands::NotAsked,
            job: 0,
            on_page: PieceSize { count: 16, between_ms: (3.0, 7.0) },
            by_worker: PieceSize { count: 256, between_ms: (25.0, 60.0) },
            asked_at: 0.0,
        }
    }
}

impl Executor {
    /// Turns to another grid.
    pub(super) fn begin(&mut self) {
        self.job = self.job.wrapping_add(1);
    }

    /// The number of the grid that is evaluated.
    pub(super) fn job(&self) -> u32 {
        self.job
    }

    /// Evaluates the next piece here, or asks the worker for it; whether the page is to go on by itself.
    pub(super) fn advance(&mut self, run: &mut GridRun, context: &Context) -> bool {
        if run.is_at_rest() {
            return false;
        }
        // The first piece is done here, so that it is there at once.
        if !run.points().is_empty() && run.left() >= WORTH_A_WORKER {
            if matches!(self.hands, Hands::NotAsked) {
                self.hands = start_worker(context).map_or(Hands::Page, Hands::Worker);
            }
            if let Hands::Worker(worker) = &self.hands {
                self.asked_at = dom::now();
                if self.ask(worker, run).is_ok() {
                    return false;
                }
                self.hands = Hands::Page;
            }
        }
        let began = dom::now();
        run.evaluate(self.on_page.count);
        self.on_page.fit(dom::now() - began);
        true
    }

    /// Asks the worker for the next piece.
    fn ask(&self, worker: &Worker, run: &GridRun) -> Result<(), JsValue> {
        let message = Object::new();
        for (key, value) in [
            ("job", self.job.into()),
            ("build", plain::write(&run.setup)),
            ("axes", Float64Array::from(run.grid.to_numbers().as_slice()).into()),
            ("start", (run.points().len() as f64).into()),
            ("count", (self.by_worker.count as f64).into()),
        ] {
            Reflect::set(&message, &key.into(), &value)?;
        }
        worker.post_message(&message)
    }

    /// Takes what the worker found; whether to go on. Where it could not start or found nothing, the page does what is
    /// left.
    pub(super) fn take(&mut self, run: &mut GridRun, reply: Reply) -> bool {
        let Some(message) = reply.value else {
            self.hands = Hands::Page;
            return true;
        };
        let get = |key: &str| Reflect::get(&message, &key.into()).unwrap_or(JsValue::UNDEFINED);
        let is = |key: &str, wanted: f64| get(key).as_f64() == Some(wanted);
        let start = run.points().len();
        // Not a piece that was on its way when the grid was stopped, nor one that was asked for twice.
        if !is("job", self.job.into()) || !is("start", start as f64) || run.is_at_rest() {
            return false;
        }
        self.by_worker.fit(dom::now() - self.asked_at);
        let numbers = get("numbers").dyn_into().map(|array: Float64Array| array.to_vec()).unwrap_or_default();
        let (chunks, _) = numbers.as_chunks();
        let points = chunks.iter().enumerate().map(|(place, chunk)| GridPoint::from_numbers(start + place, chunk));
        let points: Vec<_> = points.collect();
        if points.is_empty() {
            self.hands = Hands::Page;
        }
        run.put(&points);
        true
    }
}

/// A worker with this very wasm in it.
fn start_worker(context: &Context) -> Option<Worker> {
    let worker = context.start_worker(ID, "piece")?;
    let message = Object::new();
    Reflect::set(&message, &"module".into(), &wasm_bindgen::module()).ok()?;
    worker.post_message(&message).ok()?;
    Some(worker)
}

/// Evaluates one piece inside a worker: the numbers of each combination in turn, none as not a number, and nothing at
/// all where setup or axes cannot be read.
#[wasm_bindgen]
#[must_use]
pub fn combine_piece(setup: &JsValue, axes: &[f64], start: usize, count: usize) -> Vec<f64> {
    let piece = || {
        let setup: Setup = plain::read(setup).ok()?;
        Some(evaluate_piece(&Grid::from_numbers(axes, &setup)?, &setup, start, count))
    };
    piece().unwrap_or_default().iter().flat_map(GridPoint::to_numbers).collect()
}
