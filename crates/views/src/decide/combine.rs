//! Combinations: every combination of the values of a few inputs in tables, limits on what comes of them,
//! and the best few.

mod axes;
mod face;
mod limits;
mod ranked;
mod tables;
mod work;

use crate::{ask, page};
use clothyard_core::Units;
use clothyard_studies::analysis::grid::{Grid, hold_shaft};
use clothyard_web as dom;
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent};
pub use work::combine_piece;

/// Changes within this time are worked out once.
const TOGETHER_MS: i32 = 30;
/// After this long without a key, a field that cannot be read is remarked on.
const REMARK_AFTER_MS: i32 = 1000;

/// What the view holds.
struct State {
    units: Units,
    axes: axes::Axes,
    limits: limits::Limits,
    job: Option<work::Job>,
    hand: work::Hand,
    tables: tables::Tables,
    waiting: bool,
}

thread_local! {
    static STATE: RefCell<Option<State>> = const { RefCell::new(None) };
}

fn with(action: impl FnOnce(&mut State)) {
    let mut action = Some(action);
    borrow(&mut |state| {
        if let Some(action) = action.take() {
            action(state);
        }
    });
}

/// The part of [`with`] that is the same for every action, kept apart so that it stands in the wasm once.
fn borrow(action: &mut dyn FnMut(&mut State)) {
    STATE.with(|cell| {
        if let Ok(mut held) = cell.try_borrow_mut()
            && let Some(state) = held.as_mut()
        {
            action(state);
        }
    });
}

/// Starts the view; called once.
pub(super) fn start() {
    let Some(view) = dom::by_id("combine") else { return };
    page::on_change(on_change);
    dom::listen(&view, "toggle", on_toggle);
    dom::listen(&view, "input", on_input);
    dom::listen(&view, "change", on_leave);
    dom::listen(&view, "click", on_click);
    dom::listen(&view, "keydown", on_key);
    opened();
}

/// Begins with the set-up on the page, the first time the view is open.
fn opened() {
    if !ask::is_open("combine") {
        return;
    }
    let Some(now) = page::read() else { return };
    STATE.with(|cell| {
        let mut held = cell.borrow_mut();
        if held.is_none() {
            *held = Some(State {
                units: now.units,
                axes: axes::Axes::around(&now.setup, &now.units),
                limits: limits::Limits::default(),
                job: None,
                hand: work::Hand::Unasked,
                tables: tables::Tables::default(),
                waiting: false,
            });
        }
    });
    update_soon();
}

/// Works everything out anew, once what is under way is done.
fn update_soon() {
    with(|state| {
        if !core::mem::replace(&mut state.waiting, true) {
            dom::later(TOGETHER_MS, update_now);
        }
    });
}

fn update_now() {
    let mut begun = None;
    with(|state| {
        state.waiting = false;
        if ask::is_open("combine") {
            begun = state.update();
        }
    });
    if let Some(number) = begun {
        go_on(number);
    }
}

/// The next piece of a job, unless it is done, stopped or no longer wanted.
fn go_on(number: u32) {
    with(|state| {
        if let Some(job) = state.job.as_mut().filter(|job| job.number == number)
            && job.advance(&mut state.hand)
        {
            dom::later(0, move || go_on(number));
        }
        state.show_progress();
    });
}

impl State {
    /// Reads the fields and, where another grid is asked for, begins it; the number of the job begun.
    fn update(&mut self) -> Option<u32> {
        let now = page::read()?;
        let (setup, units) = (&now.setup, now.units);
        let measured_anew = units != self.units;
        if measured_anew {
            self.units = units;
            self.axes.write(&units);
            self.limits.write(&units);
        }
        self.axes.show_shafts(setup);
        let grid = self.axes.read().and_then(|axes| Grid::new(axes, setup).map_err(|error| axes::message(&error)));
        let grid = match grid {
            Ok(grid) => grid,
            Err(why) => {
                dom::write_id("combine-stale", &format!("Not updated. {why}"));
                self.show(measured_anew);
                return None;
            }
        };
        dom::write_id("combine-stale", "");
        let resolved = &now.all().resolved;
        let held = hold_shaft(setup, resolved);
        if self.job.as_ref().is_some_and(|job| job.is_of(&grid, &held)) {
            self.show(measured_anew);
            return None;
        }
        let other_axes = self.job.as_ref().is_none_or(|job| job.grid != grid || job.setup.shafts != setup.shafts);
        self.job = work::Job::new(self.job.as_ref(), grid, held, resolved);
        if other_axes || measured_anew {
            self.tables.forget();
        }
        self.job.as_ref().map(|job| job.number)
    }

    /// Shows how far the work is, and what there is of it when enough is new.
    fn show_progress(&mut self) {
        let Some(job) = self.job.as_mut() else { return };
        job.show_progress();
        if job.worth_showing() {
            self.show(false);
        }
    }

    /// Shows the tables and, once there is all there will be, the shortlist.
    fn show(&mut self, anew: bool) {
        let Some(job) = self.job.as_ref() else { return };
        if anew {
            self.tables.forget();
        }
        let shown = face::Shown { what: ask::chosen("combine-shown"), limits: self.limits.list(), units: &self.units };
        self.tables.show(job, &shown);
        if let Some(save) = dom::by_id("combine-save") {
            dom::flag(&save, "disabled", !job.at_rest());
        }
        ranked::show(job, &shown);
    }
}

fn on_change(_: Event) {
    update_soon();
}

fn on_toggle(event: Event) {
    let Some(details) = dom::target::<Element>(&event) else { return };
    if details.id() == "combine" {
        return opened();
    }
    if let Some(part) = number_of(&details, "data-part") {
        with(|state| {
            state.tables.toggled(part, details.has_attribute("open"));
            state.show(false);
        });
    }
}

fn number_of(element: &Element, attribute: &str) -> Option<usize> {
    element.get_attribute(attribute)?.parse().ok()
}

/// What is typed is read at once, and remarked on in a while.
fn on_input(event: Event) {
    let Some(field) =
        dom::target::<Element>(&event).filter(|field| field.get_attribute("type").as_deref() == Some("text"))
    else {
        return;
    };
    // While it stands there, undo is the field's own.
    dom::flag(&field, "data-typing", true);
    let typed = ask::text(&field.id());
    with(|state| {
        state.axes.typed(&field, &typed, &state.units);
        state.limits.typed(&field, &typed, &state.units);
        state.axes.clear_good();
    });
    update_soon();
    dom::later(REMARK_AFTER_MS, move || {
        if ask::text(&field.id()) == typed {
            remark();
        }
    });
}

/// A field that is left, or a choice that is made.
fn on_leave(event: Event) {
    let Some(field) = dom::target::<Element>(&event) else { return };
    with(|state| match field.id().as_str() {
        "combine-matched" => state.limits.read_matched(),
        _ => state.axes.chosen(&field),
    });
    remark();
    update_soon();
}

fn remark() {
    with(|state| {
        state.axes.remark();
        state.limits.remark();
    });
}

fn on_click(event: Event) {
    let Some(button) = dom::pressed(&event) else { return };
    if let Some(index) = number_of(&button, "data-cell") {
        return pick(index);
    }
    match button.id().as_str() {
        "combine-around" => around(),
        "combine-stop" => stop(),
        "combine-more" => with(|state| {
            state.tables.more();
            state.show(false);
        }),
        "combine-save" => with(|state| {
            if let Some(job) = state.job.as_ref() {
                ranked::save(job, state.limits.list(), &state.units);
            }
        }),
        _ => {}
    }
}

/// Fresh values around the set-up on the page.
fn around() {
    let Some(now) = page::read() else { return };
    with(|state| {
        state.axes = axes::Axes::around(&now.setup, &state.units);
        state.axes.remark();
    });
    update_soon();
}

/// Stops the work, or goes on with what was stopped.
fn stop() {
    let mut number = None;
    with(|state| {
        if let Some(job) = state.job.as_mut() {
            job.stopped = !job.stopped;
            number = Some(job.number);
        }
    });
    if let Some(number) = number {
        go_on(number);
    }
}

/// Puts a combination on the form; undo takes it back.
fn pick(index: usize) {
    let mut picked = None;
    with(|state| {
        if let Some(job) = state.job.as_ref() {
            picked = job.grid.cell(&job.setup, index).map(|setup| (setup, job.words(index, &state.units)));
        }
    });
    if let Some((setup, words)) = picked {
        page::load(&setup);
        dom::write_id("combine-status", &format!("On the form now: {words}. Undo brings back what was there."));
    }
}

/// Arrow keys go from cell to cell.
fn on_key(event: Event) {
    let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
    let Some(index) = dom::target::<Element>(&event).and_then(|cell| number_of(&cell, "data-cell")) else { return };
    let (down, across) = match key.key().as_str() {
        "ArrowDown" => (1, 0),
        "ArrowUp" => (-1, 0),
        "ArrowRight" => (0, 1),
        "ArrowLeft" => (0, -1),
        _ => return,
    };
    let mut to = None;
    with(|state| to = state.tables.beside(index, down, across));
    if let Some(to) = to {
        event.prevent_default();
        let _ = to.focus();
    }
}
