//! What the page holds: the build, the units, what was typed and could not be read, and the way back.

use crate::render::{self, Drawings, Rooms, announcer, fields, lists, parts};
use crate::{keep, points, post};
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{DrawLengthFrom, Field, Group, Kind, Value};
use clothyard_core::setup::{Drafts, PageState, samples};
use clothyard_core::units::clamp;
use clothyard_core::{Evaluation, Setup, Units};
use clothyard_web as dom;
use clothyard_web::bus::{self, Debounce, Tick};
use clothyard_web::protocol::{attribute, event};

/// Changes to the same thing within this time are one step back.
const ONE_CHANGE_MS: f64 = 1200.0;
const MOST_STEPS_BACK: usize = 200;
/// After this long without a key, a field that cannot be read is remarked on.
const REMARK_AFTER_MS: i32 = 1000;

/// So long a number that seems to be only the beginning of one waits for its next figure.
const HOLD_MS: i32 = 250;

/// Changes within this time are stored once.
const SAVE_AFTER_MS: i32 = 400;
pub(crate) const SAVE: Tick = timer("save");
/// What is always in sight is measured once for many changes.
const MEASURE_AFTER_MS: i32 = 300;
pub(crate) const MEASURE: Tick = timer("measure");

/// A timer of the page.
pub(crate) const fn timer(name: &'static str) -> Tick {
    Tick { view: "", timer: name, count: 0 }
}

/// The page's state.
pub(crate) struct App {
    pub(crate) setup: Setup,
    pub(crate) units: Units,
    pub(crate) evaluation: Evaluation,
    pub(crate) fields: fields::Fields,
    pub(crate) announcer: announcer::Announcer,
    /// Text of a field that cannot be read, by the field's key.
    pub(crate) drafts: Drafts,
    /// The field last typed in, and the wait since.
    pub(crate) typed: (Option<Field>, Debounce),
    /// The beginning of a number that waits for the rest, and the wait.
    pub(crate) held: (Option<(Field, String)>, Debounce),
    /// The group whose field has the focus.
    pub(crate) touched: Option<Group>,
    pub(crate) drawings: Drawings,
    pub(crate) rooms: Rooms,
    /// What a slider's field held before the gesture on it.
    pub(crate) slid_from: Option<(Field, Option<Value>)>,
    /// How far the drawing reaches while the cut is dragged.
    pub(crate) dragged_reach: Option<f64>,
    /// The field that is being typed in, and what it held before.
    pub(crate) edited_from: Option<(Field, Setup)>,
    /// The part whose fields are open; empty where none is.
    pub(crate) part: String,
    /// Weights of the user's own points, and those to choose from beside the point's field.
    pub(crate) own_points: Vec<f64>,
    pub(crate) points_shown: Vec<f64>,
    /// How often setup or units have changed since the page was opened.
    pub(crate) changes: u32,
    /// Names of the invented setups.
    invented: Vec<String>,
    pub(crate) back: Vec<Setup>,
    pub(crate) forth: Vec<Setup>,
    /// With how many steps back the page shows a setup that came by link; none where none came.
    pub(crate) visit: Option<usize>,
    last_change: Option<(String, f64)>,
    pub(crate) unsaved: bool,
    unmeasured: bool,
}

impl App {
    /// Reads what was kept; none where the page lacks its markup.
    pub(crate) fn open() -> Option<Self> {
        let (found, visiting, unread) = match keep::find() {
            Ok((found, visiting)) => (found, visiting, None),
            Err(unread) => (None, false, Some(unread)),
        };
        let PageState { setup, drafts } = found.unwrap_or_else(|| PageState::new(Setup::default()));
        let evaluation = Evaluation::of(&setup);
        let app = Self {
            setup,
            units: keep::units(),
            evaluation,
            fields: fields::Fields::find(),
            announcer: announcer::Announcer::default(),
            drafts,
            typed: (None, Debounce::new(timer("remark"), REMARK_AFTER_MS)),
            held: (None, Debounce::new(timer("held"), HOLD_MS)),
            touched: None,
            drawings: Drawings::default(),
            rooms: Rooms::measure(),
            slid_from: None,
            dragged_reach: None,
            edited_from: None,
            part: String::new(),
            own_points: points::saved(),
            points_shown: Vec::new(),
            changes: 0,
            invented: samples::all().into_iter().map(|start| start.setup.name).collect(),
            back: Vec::new(),
            forth: Vec::new(),
            visit: visiting.then_some(0),
            last_change: None,
            unsaved: false,
            unmeasured: false,
        };
        if let Some(unread) = unread {
            dom::hide("unread", false);
            dom::write_id("unread-why", &unread.error.message);
            dom::write_id("unread-text", &unread.text);
        }
        Some(app)
    }

    /// Fills the page.
    pub(crate) fn start(&mut self) {
        self.fill();
        render::show_version();
        self.show_visit();
        self.redraw_in(Rooms::measure());
    }

    /// Fills what has come to the page.
    pub(crate) fn take_in(&mut self) {
        self.fields = fields::Fields::find();
        self.fill();
        let part = core::mem::take(&mut self.part);
        parts::open(self, &part);
    }

    /// Offers the points that are saved now.
    pub(crate) fn take_in_points(&mut self) {
        let own = points::saved();
        if own != self.own_points {
            self.own_points = own;
            self.points_shown.clear();
            points::show(self);
        }
    }

    fn fill(&mut self) {
        self.restore_drafts();
        render::show_looks(&keep::looks());
        render::show(self);
        render::show_units(&self.units);
    }

    /// Gives the field being typed in the value it had before; that is no step to undo.
    pub(crate) fn restore_edited(&mut self) {
        let Some((_, before)) = self.edited_from.clone() else { return };
        if self.setup != before {
            if self.back.last() == Some(&before) {
                self.back.pop();
            }
            self.setup = before;
            self.last_change = None;
            self.changed();
        }
    }

    /// Gives a field a value, or its default.
    pub(crate) fn give(&mut self, field: Field, value: Option<Value>) {
        // The value was read against the field's own range.
        self.alter_field(field, |setup| setup.give(field, value));
    }

    pub(crate) fn alter_field(&mut self, field: Field, change: impl FnOnce(&mut Setup) -> Result<(), EntryError>) {
        self.drafts.remove(field.input().key);
        let mut setup = self.setup.clone();
        let _ = change(&mut setup);
        if setup == self.setup {
            render::show(self);
            return;
        }
        self.remember(field.input().key);
        self.setup = setup;
        self.drop_sample_name();
        self.changed();
    }

    /// Whether the arm span is asked for in the place of the draw length.
    fn asks_span(&self) -> bool {
        self.setup.get(Field::DrawLengthFrom) == Some(DrawLengthFrom::ArmSpan.into())
    }

    /// Whether a field gives its place to another.
    pub(crate) fn hides(&self, field: Field) -> bool {
        match field {
            Field::PeakDrawWeight => self.asks_marked_weight(),
            Field::MarkedWeight => !self.asks_marked_weight(),
            Field::DrawLength => self.asks_span(),
            Field::ArmSpan => !self.asks_span(),
            _ => false,
        }
    }

    /// Whether the draw weight asked for is the one on the label of the limbs.
    fn asks_marked_weight(&self) -> bool {
        self.evaluation.resolved.applies(Field::MarkedWeight) && self.setup.get(Field::PeakDrawWeight).is_none()
    }

    /// A changed sample is the user's own.
    fn drop_sample_name(&mut self) {
        if self.is_invented() {
            self.setup.name.clear();
        }
    }

    /// Moves a number by so many steps of the unit it is shown in, along round numbers, staying in range.
    pub(crate) fn step(&mut self, field: Field, steps: f64) {
        let Kind::Number { quantity, minimum, maximum, step, .. } = field.input().kind else { return };
        let step = self.units.round_step(quantity, step);
        let places = self.units.show(quantity, self.evaluation.resolved.number(field)) / step;
        let whole = if steps > 0.0 { (places + 1e-6).floor() } else { (places - 1e-6).ceil() };
        let value = tidy(self.units.save(quantity, (whole + steps) * step));
        self.fields.typing_done(field);
        self.give(field, Some(Value::Number(clamp(value, minimum, maximum))));
    }

    /// Changes the sign of a number, where that is allowed.
    pub(crate) fn change_sign(&mut self, field: Field) {
        let value = Value::Number(-self.evaluation.resolved.number(field));
        if field.input().check(value).is_ok() {
            self.fields.typing_done(field);
            self.give(field, Some(value));
        }
    }

    /// Hands a field back to the page.
    pub(crate) fn hand_back(&mut self, field: Field) {
        self.fields.typing_done(field);
        self.give(field, None);
    }

    /// Replaces the whole setup, undoably.
    pub(crate) fn replace(&mut self, setup: Setup) {
        self.remember("");
        self.replace_all(setup, Drafts::default());
    }

    /// The same without a way back, with what was typed and could not be read.
    pub(crate) fn replace_all(&mut self, setup: Setup, drafts: Drafts) {
        (self.setup, self.drafts) = (setup, drafts);
        self.changed();
        self.restore_drafts();
    }

    /// Changes the build by hand, undoably; `what` names the thing changed.
    pub(crate) fn alter(&mut self, what: &str, change: impl FnOnce(&mut Setup)) {
        self.remember(what);
        change(&mut self.setup);
        self.drop_sample_name();
        self.changed();
    }

    fn remember(&mut self, what: &str) {
        let now = dom::now();
        let same = self
            .last_change
            .as_ref()
            .is_some_and(|(last, at)| last == what && !what.is_empty() && (0.0..ONE_CHANGE_MS).contains(&(now - at)));
        if !same {
            self.back.push(self.setup.clone());
            if self.back.len() > MOST_STEPS_BACK {
                self.back.remove(0);
                self.visit = self.visit.map(|steps| steps.saturating_sub(1));
            }
        }
        self.forth.clear();
        self.last_change = Some((what.to_owned(), now));
    }

    /// One change back, or forth again.
    pub(crate) fn undo(&mut self, forth: bool) {
        let (from, to) = if forth { (&mut self.forth, &mut self.back) } else { (&mut self.back, &mut self.forth) };
        if let Some(setup) = from.pop() {
            to.push(core::mem::replace(&mut self.setup, setup));
            self.last_change = None;
            self.drafts.0.clear();
            self.changed();
            lists::show(self);
        }
    }

    pub(crate) fn can_undo(&self) -> bool {
        !self.back.is_empty()
    }

    pub(crate) fn can_redo(&self) -> bool {
        !self.forth.is_empty()
    }

    /// Whether the setup bears the name of an invented one.
    pub(crate) fn is_invented(&self) -> bool {
        self.invented.contains(&self.setup.name)
    }

    fn changed(&mut self) {
        self.evaluation = Evaluation::of(&self.setup);
        render::show(self);
        self.show_visit();
        self.measure_soon();
        self.save_soon();
        self.announce(event::SETUP);
    }

    /// Another choice of units: every field, answer and drawing follows.
    pub(crate) fn measure_in(&mut self, units: Units) {
        self.units = units;
        keep::save_units(&units);
        render::show(self);
        render::show_units(&units);
        lists::show(self);
        self.announce(event::UNITS);
    }

    /// Tells whoever listens that setup or units have changed, once this change is done with.
    fn announce(&mut self, kind: &'static str) {
        self.changes = self.changes.wrapping_add(1);
        dom::later(0, move || dom::announce(kind));
    }

    /// Draws in another room.
    pub(crate) fn redraw_in(&mut self, rooms: Rooms) {
        self.rooms = rooms;
        render::show_drawings(self);
    }

    /// The names of the parts may have moved; asked once for many changes, when they are done.
    pub(crate) fn measure_soon(&mut self) {
        if !core::mem::replace(&mut self.unmeasured, true) {
            bus::later(post, MEASURE_AFTER_MS, MEASURE);
        }
    }

    pub(crate) fn measure(&mut self) {
        self.unmeasured = false;
        let rooms = Rooms::measure();
        if rooms != self.rooms {
            self.redraw_in(rooms);
        }
    }

    fn restore_drafts(&mut self) {
        let drafts: Vec<_> =
            self.drafts.0.iter().filter_map(|(key, text)| Some((Field::by_key(key)?, text.clone()))).collect();
        for (field, text) in drafts {
            self.fields.restore(field, &text);
            self.remark(field);
        }
        lists::show(self);
    }

    pub(crate) fn save_soon(&mut self) {
        if !core::mem::replace(&mut self.unsaved, true) {
            // Whatever was said to be saved, this change is not yet.
            dom::write_id(SAVE_STATE, "Saving…");
            mark_unsaved(true);
            bus::later(post, SAVE_AFTER_MS, SAVE);
        }
    }

    /// Keeps the setup now, if it has changed: another tab may have kept its own since.
    pub(crate) fn save(&mut self) {
        if !core::mem::take(&mut self.unsaved) {
            return;
        }
        mark_unsaved(false);
        let words = match keep::save(&self.setup, &self.drafts, self.is_visiting()) {
            Ok(()) if self.is_visiting() => "Saved in this tab, beside your own setup.".to_owned(),
            // keep.js says so when the disk has it.
            Ok(()) => return dom::announce(event::SAVED),
            Err(why) => format!("Not saved: {why}."),
        };
        dom::write_id(SAVE_STATE, &words);
    }
}

const SAVE_STATE: &str = "save-state";

/// Marks where it is said what is saved, so that the end of an earlier save says nothing of a later change.
fn mark_unsaved(unsaved: bool) {
    dom::by_id(SAVE_STATE).iter().for_each(|state| dom::flag(state, attribute::UNSAVED, unsaved));
}

/// Without the last bits that steps of a tenth leave.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
