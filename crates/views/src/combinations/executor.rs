//! Evaluates the combinations piece by piece: in as many workers as the machine has room for, else on the page.
//!
//! The page asks each worker for a piece when it has the one before, so that to stop, or to turn to another grid, is
//! merely to ask for no more.

use super::ID;
use crate::context::Context;
use clothyard_core::Setup;
use clothyard_core::units::clamp;
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

/// More workers than this share memory and heat rather than work.
const MOST_WORKERS: f64 = 4.0;

/// A worker, and when it was asked for the piece that it is at.
struct Hand {
    worker: Worker,
    asked_at: Option<f64>,
}

/// Who evaluates.
enum Hands {
    /// The page, until a worker is worth it.
    NotAsked,
    Workers(Vec<Hand>),
    /// The page alone: it can have no worker.
    Page,
}

pub(super) struct Executor {
    hands: Hands,
    /// Later grids have higher numbers.
    job: u32,
    /// Where the next piece begins that no worker was asked for.
    next: usize,
    /// A piece on the page stays out of the way of hands and eyes.
    on_page: PieceSize,
    /// A piece by a worker takes about as long as the bar may take to move.
    by_worker: PieceSize,
}

impl Default for Executor {
    fn default() -> Self {
        Self {
            hands: Hands::NotAsked,
            job: 0,
            next: 0,
            on_page: PieceSize { count: 16, between_ms: (3.0, 7.0) },
            by_worker: PieceSize { count: 256, between_ms: (25.0, 60.0) },
        }
    }
}

impl Executor {
    /// Turns to another grid, or to what is left of one that was stopped.
    pub(super) fn begin(&mut self) {
        self.job = self.job.wrapping_add(1);
        self.next = 0;
        if let Hands::Workers(hands) = &mut self.hands {
            hands.iter_mut().for_each(|hand| hand.asked_at = None);
        }
    }

    /// The number of the grid that is evaluated.
    pub(super) fn job(&self) -> u32 {
        self.job
    }

    /// Evaluates the next piece here, or asks the workers for more; whether the page is to go on by itself.
    pub(super) fn advance(&mut self, run: &mut GridRun, context: &Context) -> bool {
        if run.is_at_rest() {
            return false;
        }
        // The first piece is done here, so that it is there at once.
        if !run.points().is_empty() && (run.left() >= WORTH_A_WORKER || self.is_waiting()) {
            if matches!(self.hands, Hands::NotAsked) {
                self.hands = start_workers(context);
            }
            if matches!(self.hands, Hands::Workers(_)) {
                if self.ask(run).is_ok() {
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

    /// Whether a worker is at a piece.
    fn is_waiting(&self) -> bool {
        matches!(&self.hands, Hands::Workers(hands) if hands.iter().any(|hand| hand.asked_at.is_some()))
    }

    /// Asks every worker that has nothing to do for the next piece.
    fn ask(&mut self, run: &GridRun) -> Result<(), JsValue> {
        let Hands::Workers(hands) = &mut self.hands else { return Ok(()) };
        self.next = self.next.max(run.points().len());
        for (place, hand) in hands.iter_mut().enumerate().filter(|(_, hand)| hand.asked_at.is_none()) {
            if self.next >= run.grid.count() {
                break;
            }
            let message = Object::new();
            for (key, value) in [
                ("job", self.job.into()),
                ("hand", (place as f64).into()),
                ("build", plain::write(&run.setup)),
                ("axes", Float64Array::from(run.grid.to_numbers().as_slice()).into()),
                ("start", (self.next as f64).into()),
                ("count", (self.by_worker.count as f64).into()),
            ] {
                Reflect::set(&message, &key.into(), &value)?;
            }
            hand.worker.post_message(&message)?;
            hand.asked_at = Some(dom::now());
            self.next += self.by_worker.count;
        }
        Ok(())
    }

    /// Takes what a worker found; whether to go on. Where one could not start or found nothing, the page does what is
    /// left.
    pub(super) fn take(&mut self, run: &mut GridRun, reply: Reply) -> bool {
        let Some(message) = reply.value else {
            self.hands = Hands::Page;
            return true;
        };
        let get = |key: &str| Reflect::get(&message, &key.into()).unwrap_or(JsValue::UNDEFINED);
        let number = |key: &str| get(key).as_f64();
        // Not a piece that was on its way when the grid was stopped or made way for another.
        if number("job") != Some(self.job.into()) || run.is_at_rest() {
            return false;
        }
        let (Hands::Workers(hands), Some(place), Some(start)) = (&mut self.hands, number("hand"), number("start"))
        else {
            return false;
        };
        let asked_at = hands.get_mut(place as usize).and_then(|hand| hand.asked_at.take());
        asked_at.into_iter().for_each(|asked_at| self.by_worker.fit(dom::now() - asked_at));
        let numbers = get("numbers").dyn_into().map(|array: Float64Array| array.to_vec()).unwrap_or_default();
        let (chunks, _) = numbers.as_chunks();
        let start = start as usize;
        let points = chunks.iter().enumerate().map(|(place, chunk)| GridPoint::from_numbers(start + place, chunk));
        let points: Vec<_> = points.collect();
        if points.is_empty() {
            self.hands = Hands::Page;
        }
        run.put(start, points);
        true
    }
}

/// Workers with this very wasm in them, one for each of the machine's processors; the page alone where it can have none.
fn start_workers(context: &Context) -> Hands {
    let processors = dom::window().map_or(1.0, |window| window.navigator().hardware_concurrency());
    // A browser that does not say how many there are gives no number.
    let count = clamp(processors, 1.0, MOST_WORKERS) as usize;
    let hands: Vec<_> = (0..count).filter_map(|_| start_worker(context)).collect();
    if hands.is_empty() { Hands::Page } else { Hands::Workers(hands) }
}

fn start_worker(context: &Context) -> Option<Hand> {
    let worker = context.start_worker(ID, "piece")?;
    let message = Object::new();
    Reflect::set(&message, &"module".into(), &wasm_bindgen::module()).ok()?;
    worker.post_message(&message).ok()?;
    Some(Hand { worker, asked_at: None })
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
