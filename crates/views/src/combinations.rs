//! Combinations: every combination of the values of a few inputs in tables, limits on what comes of them, and the best
//! few.

mod executor;
mod form;
mod tables;

use crate::context::Context;
use crate::save;
use clothyard_core::Units;
use clothyard_core::schema::StockShaft;
use clothyard_studies::analysis::combinations::axes_form::AxesForm;
use clothyard_studies::analysis::combinations::cell_text::CellFormat;
use clothyard_studies::analysis::combinations::grid::{Grid, hold_shaft};
use clothyard_studies::analysis::combinations::limits::LimitForm;
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_studies::analysis::combinations::shortlist::{EntryWords, Shortlist};
use clothyard_web::bus::{Debounce, Reply, Tick};
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, Kind, View};
use executor::Executor;
use web_sys::HtmlInputElement;

pub use executor::combine_piece;

const ID: &str = "combine";

/// Changes within this time are evaluated once, in milliseconds.
const TOGETHER_MS: i32 = 30;
/// After this long without a key, in milliseconds, a field that cannot be read is remarked on.
const REMARK_AFTER_MS: i32 = 1000;
/// Tables are filled at most so often, in milliseconds.
const SHOW_EVERY_MS: f64 = 250.0;
/// A grid with fewer combinations shows no progress: it is done before anybody could read it.
const WORTH_A_BAR: usize = executor::WORTH_A_WORKER;

/// The timers: changes are to be evaluated, the next piece is due, the hand has rested.
const UPDATE: Tick = Tick { view: ID, timer: "update", count: 0 };
const PIECE: Tick = Tick { view: ID, timer: "piece", count: 0 };
const REMARK: Tick = Tick { view: ID, timer: "remark", count: 0 };

pub(crate) struct Combinations {
    /// The units that the fields are written in.
    units: Units,
    axes: AxesForm,
    /// The shafts that are listed to choose from.
    shafts: Vec<StockShaft>,
    limits: LimitForm,
    run: Option<GridRun>,
    executor: Executor,
    tables: tables::Tables,
    /// The combination that is on the form now.
    on_form: Option<usize>,
    shortlist: Vec<EntryWords>,
    update_is_due: bool,
    remark: Debounce,
    shown_at: f64,
}

impl Combinations {
    pub(crate) fn new() -> Self {
        Self {
            units: Units::ARCHERY,
            axes: AxesForm::default(),
            shafts: Vec::new(),
            limits: LimitForm::default(),
            run: None,
            executor: Executor::default(),
            tables: tables::Tables::default(),
            on_form: None,
            shortlist: Vec::new(),
            update_is_due: false,
            remark: Debounce::new(REMARK, REMARK_AFTER_MS),
            shown_at: 0.0,
        }
    }

    /// Fresh values around the setup on the page.
    fn write_values_around(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.axes = AxesForm::around(&now.setup, &now.all().resolved, form::is_taken);
        self.shafts = Vec::new();
        form::write_axes(&self.axes, &self.units);
    }

    /// Shows what there is, once what is under way is done.
    fn show_soon(&mut self, context: &Context) {
        if !core::mem::replace(&mut self.update_is_due, true) {
            context.later(TOGETHER_MS, UPDATE);
        }
    }

    /// Follows the list of shafts of the setup.
    fn follow_shafts(&mut self, shafts: &[StockShaft]) {
        self.axes.limit_shafts(shafts.len());
        if self.shafts != shafts {
            self.shafts = shafts.to_vec();
            form::list_shafts(&self.axes, shafts);
        }
        form::count_shafts(&self.axes);
    }

    /// Begins with another grid.
    fn begin(&mut self, run: Option<GridRun>) {
        let same_axes = |(old, new): (&GridRun, &GridRun)| old.grid == new.grid && old.setup.shafts == new.setup.shafts;
        if !self.run.as_ref().zip(run.as_ref()).is_some_and(same_axes) {
            self.tables.forget();
        }
        self.run = run;
        self.executor.begin();
        self.shown_at = 0.0;
    }

    /// The next piece, unless there is none.
    fn go_on(&mut self, context: &Context) {
        let Some(run) = &mut self.run else { return };
        if self.executor.advance(run, context) {
            context.later(0, Tick { count: self.executor.job(), ..PIECE });
        }
        show_progress(run);
        if run.is_at_rest() || dom::now() - self.shown_at >= SHOW_EVERY_MS {
            self.shown_at = dom::now();
            self.show_run();
        }
    }

    /// Shows the tables and, once there is all there will be, the shortlist.
    fn show_run(&mut self) {
        let Some(run) = &self.run else { return };
        let format = CellFormat::new(&select::chosen("combine-shown"), self.limits.in_force(), &self.units);
        self.tables.show(run, &format, self.on_form);
        dom::write_id("combine-key", format.explanation());
        if let Some(save) = dom::by_id("combine-save") {
            dom::flag(&save, "disabled", !run.is_at_rest());
        }
        let list = Shortlist::new(run, &format);
        dom::write_id("combine-ranked-said", &list.sentence);
        if self.shortlist != list.entries {
            show_shortlist(&list.entries);
            self.shortlist = list.entries;
        }
    }

    fn stop_or_go_on(&mut self, context: &Context) {
        if let Some(run) = &mut self.run {
            run.stopped = !run.stopped;
            self.go_on(context);
        }
    }

    /// Puts a combination on the form; undo takes it back.
    fn put_on_form(&self, index: usize, context: &Context) {
        let Some(run) = &self.run else { return };
        let Some(setup) = run.grid.setup_at(&run.setup, index) else { return };
        context.load(&setup);
        let words = run.words(index, &self.units);
        dom::write_id("combine-status", &format!("Applied: {words}. Undo restores your setup."));
    }

    fn save(&self) {
        let Some(run) = &self.run else { return };
        let text = run.to_csv(self.limits.in_force(), &self.units);
        let words = match save::file("combinations.csv", "text/csv", &text) {
            Some(()) => "Saved as combinations.csv.",
            None => "The browser blocked saving the file.",
        };
        dom::write_id("combine-status", words);
    }

    fn remark(&self) {
        form::remark_on_axes(&self.axes, true);
        form::remark_on_limits(&self.limits);
    }
}

impl View<Context> for Combinations {
    fn id(&self) -> &'static str {
        ID
    }

    fn open(&mut self, context: &Context) {
        if self.axes.entries().is_empty() {
            self.units = context.units();
            form::write_limits(&self.limits, &self.units);
            self.write_values_around(context);
        }
    }

    /// Reads the fields and, where they ask for another grid, begins it.
    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        if self.units != now.units {
            self.units = now.units;
            form::write_axes(&self.axes, &self.units);
            form::write_limits(&self.limits, &self.units);
            self.tables.forget();
        }
        self.follow_shafts(&now.setup.shafts);
        let resolved = &now.all().resolved;
        let held = hold_shaft(&now.setup, resolved);
        let grid = self.axes.axes().and_then(|axes| Grid::new(axes, &held).map_err(|error| error.message()));
        let stale = grid.as_ref().map_or_else(|why| format!("Not updated. {why}"), |_| String::new());
        dom::write_id("combine-stale", &stale);
        let other = grid.ok().filter(|grid| !self.run.as_ref().is_some_and(|run| run.is_of(grid, &held)));
        let begins = other.is_some();
        if let Some(grid) = other {
            self.begin(GridRun::new(grid, held.clone(), resolved));
        }
        let of_page = self.run.as_ref().filter(|run| run.is_of(&run.grid, &held));
        self.on_form = of_page.and_then(|run| run.grid.index_of(resolved, &held.shafts));
        if begins { self.go_on(context) } else { self.show_run() }
    }

    /// What is typed is read at once, and remarked on in a while.
    fn input(&mut self, dom: &Dom, context: &Context) {
        if dom.target.get_attribute("type").as_deref() != Some("text") {
            return;
        }
        let (id, typed) = (dom.id(), field::text(&dom.id()));
        if let Some(kind) = form::axis_of(&dom.target) {
            self.axes.type_values(kind, &typed, &self.units);
        } else if let Some((end, metric)) = form::limit_of(&id) {
            self.limits.type_end(end, metric, &typed, &self.units);
            form::count_limits(&self.limits);
        }
        form::remark_on_axes(&self.axes, false);
        self.show_soon(context);
        self.remark.restart(crate::post);
    }

    /// A field that is left, or a choice that is made.
    fn change(&mut self, dom: &Dom, context: &Context) {
        if let Some(tick) = dom.target_as::<HtmlInputElement>().filter(|input| input.type_() == "checkbox") {
            let place = number(dom, form::SHAFT);
            match (form::axis_of(tick), place) {
                (Some(kind), _) => self.axes.take(kind, tick.checked()),
                (None, Some(place)) => self.axes.take_shaft(place as f64, tick.checked()),
                (None, None) => self.limits.want_well_matched(tick.checked()),
            }
            form::count_limits(&self.limits);
        }
        self.remark();
        self.show_soon(context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some(index) = number(dom, tables::CELL) {
            return self.put_on_form(index, context);
        }
        match dom.button_id().as_str() {
            "combine-around" => {
                self.write_values_around(context);
                form::remark_on_axes(&self.axes, true);
                self.show_soon(context);
            }
            "combine-stop" => self.stop_or_go_on(context),
            "combine-more" => {
                self.tables.offer_more();
                self.show_run();
            }
            "combine-save" => self.save(),
            _ => {}
        }
    }

    /// Arrow keys go from cell to cell.
    fn key(&mut self, dom: &Dom, _: &Context) {
        let (Some(key), Some(index)) = (dom.key(), number(dom, tables::CELL)) else { return };
        let (down, across) = match key.key().as_str() {
            "ArrowDown" => (1, 0),
            "ArrowUp" => (-1, 0),
            "ArrowRight" => (0, 1),
            "ArrowLeft" => (0, -1),
            _ => return,
        };
        if let Some(cell) = self.tables.beside(index, down, across) {
            dom.prevent();
            field::focus_on(&cell);
        }
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        match (dom.kind, number(dom, tables::TABLE)) {
            (Kind::Focus, _) => field::own_undo(dom),
            (Kind::Toggle, Some(table)) => {
                self.tables.toggled(table, dom.target.has_attribute("open"));
                self.show_run();
            }
            _ => {}
        }
    }

    fn tick(&mut self, tick: Tick, context: &Context) {
        if tick == UPDATE {
            self.update_is_due = false;
            if self.is_open() {
                self.show(context);
            }
        } else if tick.timer == PIECE.timer && tick.count == self.executor.job() {
            self.go_on(context);
        } else if self.remark.is_over(tick) {
            self.remark();
        }
    }

    fn reply(&mut self, reply: Reply, context: &Context) {
        if let Some(run) = &mut self.run
            && self.executor.take(run, reply)
        {
            self.go_on(context);
        }
    }
}

/// The number that the innermost element with an attribute carries in it.
fn number(dom: &Dom, attribute: &str) -> Option<usize> {
    dom.closest(&format!("[{attribute}]"))?.get_attribute(attribute)?.parse().ok()
}

/// Shows how far a grid is, and says when it is done.
fn show_progress(run: &GridRun) {
    let count = run.grid.count();
    dom::hide("combine-working", run.is_done() || count < WORTH_A_BAR);
    if let Some(bar) = dom::by_id("combine-bar") {
        dom::set(&bar, "max", &count.to_string());
        dom::set(&bar, "value", &run.points().len().to_string());
    }
    dom::write_id("combine-done", &run.progress());
    dom::write_id("combine-stop", if run.stopped { "Go on" } else { "Stop" });
    dom::write_id("combine-status", &run.status());
}

fn show_shortlist(entries: &[EntryWords]) {
    let Some(list) = dom::by_id("combine-ranked") else { return };
    dom::empty(&list);
    for entry in entries {
        let Some(item) = dom::add(&list, "li", "", "") else { continue };
        if let Some(button) = dom::add(&item, "button", "", &entry.combination) {
            dom::set(&button, "type", "button");
            dom::set(&button, tables::CELL, &entry.index.to_string());
        }
        dom::add(&item, "p", "", &entry.numbers);
        dom::add(&item, "p", "quiet", &entry.reason);
    }
}
