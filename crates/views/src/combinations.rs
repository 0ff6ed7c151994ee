//! Combinations: every combination of the values of a few inputs in one table, limits on what comes of them, a matrix of
//! two of the inputs, and a tray of the few that are compared.

mod executor;
mod form;
mod matrix_table;
mod ranking_table;
mod shown;
mod tray;

use crate::context::{Context, Reading};
use crate::records::STORED;
use crate::{save, sharing};
use clothyard_core::Units;
use clothyard_core::schema::StockShaft;
use clothyard_studies::analysis::combinations::axes_form::AxesForm;
use clothyard_studies::analysis::combinations::grid::{Grid, hold_shaft};
use clothyard_studies::analysis::combinations::limits::LimitForm;
use clothyard_studies::analysis::combinations::loosen::Loosening;
use clothyard_studies::analysis::combinations::ranking::{Filters, Sort};
use clothyard_studies::analysis::combinations::run::GridRun;
use clothyard_web::bus::{Debounce, Reply, Tick};
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, Kind, View};
use executor::Executor;
use matrix_table::MatrixTable;
use ranking_table::RankingTable;
use tray::Tray;
use web_sys::{HtmlInputElement, HtmlSelectElement};

pub use executor::combine_piece;

const ID: &str = "combine";

/// On a cell of the matrix and on a row's button: the place of the combination in the grid.
const CELL: &str = "data-cell";
/// So many rows are shown, and so many more each time they are asked for.
const ROWS: usize = 20;

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
    filters: Filters,
    sort: Sort,
    rows: usize,
    run: Option<GridRun>,
    executor: Executor,
    ranking: RankingTable,
    matrix: MatrixTable,
    tray: Tray,
    /// What would let something through where nothing is found.
    loosening: Option<Loosening>,
    /// The combination that is on the form now.
    on_form: Option<usize>,
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
            filters: Filters::default(),
            sort: Sort::default(),
            rows: ROWS,
            run: None,
            executor: Executor::default(),
            ranking: RankingTable::new(),
            matrix: MatrixTable::default(),
            tray: Tray::new(),
            loosening: None,
            on_form: None,
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
            self.list_filters(run.as_ref());
        }
        self.run = run;
        self.executor.begin();
        self.shown_at = 0.0;
    }

    /// Offers the axes of another grid and their values; nothing is chosen of them.
    fn list_filters(&mut self, run: Option<&GridRun>) {
        let Some(run) = run else { return };
        form::list_filters(run, &self.units);
        form::say_axes(run);
        self.filters = Filters(vec![None; run.grid.axes().len()]);
        self.rows = ROWS;
        self.matrix.forget();
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

    fn say_limits(&self) {
        form::count_limits(&self.limits);
        form::remark_on_limits(&self.limits);
    }

    fn stop_or_go_on(&mut self, context: &Context) {
        if let Some(run) = &mut self.run {
            run.stopped = !run.stopped;
            run.drop_early();
            self.executor.begin();
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
        dom::write_id("combine-status", &save::csv("combinations.csv", &text));
    }

    /// Reads the fields and, where they ask for another grid, begins it.
    fn follow(&mut self, now: &Reading, context: &Context) {
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

    fn remark(&self) {
        form::remark_on_axes(&self.axes, true);
        self.say_limits();
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

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        if self.units != now.units {
            self.units = now.units;
            form::write_axes(&self.axes, &self.units);
            form::write_limits(&self.limits, &self.units);
            let run = self.run.take();
            self.list_filters(run.as_ref());
            self.run = run;
        }
        self.follow_shafts(&now.setup.shafts);
        self.follow(&now, context);
        self.tray.show(now.all(), &now.units);
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
        if let Some(axis) = number(dom, form::FILTER)
            && let Some(filter) = self.filters.0.get_mut(axis)
        {
            *filter = select::chosen(&dom.id()).parse().ok();
        }
        if dom.target_as::<HtmlSelectElement>().is_some() {
            return self.show_run();
        }
        if let Some(tick) = dom.target_as::<HtmlInputElement>().filter(|input| input.type_() == "checkbox") {
            let place = number(dom, form::SHAFT);
            match (form::axis_of(tick), place) {
                (Some(kind), _) => self.axes.take(kind, tick.checked()),
                (None, Some(place)) => self.axes.take_shaft(place as f64, tick.checked()),
                (None, None) => self.limits.want_well_matched(tick.checked()),
            }
        }
        self.remark();
        self.show_soon(context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some(index) = number(dom, CELL) {
            return self.put_on_form(index, context);
        }
        if let Some(index) = number(dom, ranking_table::STAR) {
            return self.star(index, context);
        }
        let pressed = dom.button().and_then(|button| button.get_attribute(ranking_table::SORT));
        if let Some(column) = pressed.and_then(|key| self.ranking.column(&key)) {
            self.sort = self.sort.pressed(column);
            return self.show_run();
        }
        let say = |words: &str| dom::write_id("combine-tray-said", words);
        match dom.button_id().as_str() {
            "combine-around" => {
                self.write_values_around(context);
                form::remark_on_axes(&self.axes, true);
                self.show_soon(context);
            }
            "combine-stop" => self.stop_or_go_on(context),
            "combine-more" => {
                self.rows += ROWS;
                self.show_run();
            }
            "combine-more-rows" => {
                self.matrix.ask_for_more();
                self.show_run();
            }
            "combine-loosen" => self.loosen(),
            "combine-save" => self.save(),
            "combine-tray-save" => say(&self.tray.save(context)),
            "combine-tray-csv" => say(&self.tray.export()),
            "combine-tray-send" => Tray::copy(context),
            "combine-tray-clear" => {
                self.tray.clear();
                self.show_run();
                self.show_tray(context);
            }
            _ => {}
        }
    }

    /// Arrow keys go from cell to cell of the matrix.
    fn key(&mut self, dom: &Dom, _: &Context) {
        let Some(key) = dom.key() else { return };
        let (down, across) = match key.key().as_str() {
            "ArrowDown" => (1, 0),
            "ArrowUp" => (-1, 0),
            "ArrowRight" => (0, 1),
            "ArrowLeft" => (0, -1),
            _ => return,
        };
        if let Some(cell) = self.matrix.beside(&dom.target, down, across) {
            dom.prevent();
            field::focus_on(&cell);
        }
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        if dom.kind == Kind::Focus {
            field::own_undo(dom);
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
        if reply.what == tray::LINKS {
            return dom::write_id("combine-tray-said", sharing::copied(&reply));
        }
        if reply.what == STORED {
            let words = self.tray.when_stored.end(reply.value.is_some());
            return words.iter().for_each(|words| dom::write_id("combine-tray-said", words));
        }
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
