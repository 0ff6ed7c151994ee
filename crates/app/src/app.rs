//! What the page holds: the build, the units, what was typed and could not be read, and the way back.

use crate::{answers, drawing, fields, keep, lists, tape};
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Field, Group, Kind, Value};
use clothyard_core::setup::{Drafts, PageState, samples};
use clothyard_core::units::clamp;
use clothyard_core::{Evaluation, Setup, Units, format};
use clothyard_web as dom;
use clothyard_web::protocol::event;
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;

/// Changes to the same thing within this time are one step back.
const ONE_CHANGE_MS: f64 = 1200.0;
const MOST_STEPS_BACK: usize = 200;

thread_local! {
    static APP: RefCell<Option<App>> = const { RefCell::new(None) };
    static CHANGES: Cell<u32> = const { Cell::new(0) };
}

/// Does something with the page, unless the page is busy with itself.
pub(crate) fn with(action: impl FnOnce(&mut App)) {
    let mut action = Some(action);
    borrow(&mut |app| {
        if let Some(action) = action.take() {
            action(app);
        }
    });
}

/// The part of [`with`] that is the same for every action, kept apart so that it stands in the wasm once.
fn borrow(action: &mut dyn FnMut(&mut App)) {
    APP.with(|cell| {
        if let Ok(mut held) = cell.try_borrow_mut()
            && let Some(app) = held.as_mut()
        {
            action(app);
        }
    });
}

/// Widths in pixels, measured when the page is laid out anew. To ask between two changes would make the
/// browser lay out the page twice.
#[derive(Clone, Copy, Default)]
pub(crate) struct Rooms {
    pub(crate) arrow: f64,
    pub(crate) tape: f64,
}

impl Rooms {
    fn measure() -> Self {
        let width = |id: &str| dom::by_id(id).map_or(0.0, |element| element.get_bounding_client_rect().width());
        Self { arrow: width("arrow"), tape: width("tape") }
    }
}

/// The page's state.
pub(crate) struct App {
    pub(crate) setup: Setup,
    pub(crate) units: Units,
    pub(crate) evaluation: Evaluation,
    pub(crate) fields: fields::Fields,
    pub(crate) answers: answers::Answers,
    /// What stands in a field and cannot be read, by the field's key.
    pub(crate) drafts: Drafts,
    /// The group whose field has the focus.
    pub(crate) touched: Option<Group>,
    /// Names of the invented set-ups.
    invented: Vec<String>,
    pub(crate) drawn: drawing::Drawn,
    pub(crate) rooms: Rooms,
    /// What a slider's field held before the gesture on it.
    pub(crate) slid_from: Option<(Field, Option<Value>)>,
    back: Vec<Setup>,
    forth: Vec<Setup>,
    last_change: Option<(String, f64)>,
    unsaved: bool,
    unmeasured: bool,
}

impl App {
    /// Reads what was kept and fills the page; none where the page lacks its markup.
    pub(crate) fn open() -> Option<Self> {
        let found = keep::find();
        let start = || Some(PageState { setup: samples::all().into_iter().next()?.setup, drafts: Drafts::default() });
        let PageState { setup, drafts } = found.as_ref().ok().cloned().flatten().or_else(start)?;
        let evaluation = Evaluation::of(&setup);
        let app = Self {
            setup,
            units: keep::units(),
            evaluation,
            fields: fields::Fields::find()?,
            answers: answers::Answers::find()?,
            drafts,
            touched: None,
            invented: samples::all().into_iter().map(|start| start.setup.name).collect(),
            drawn: drawing::Drawn::default(),
            rooms: Rooms::measure(),
            slid_from: None,
            back: Vec::new(),
            forth: Vec::new(),
            last_change: None,
            unsaved: false,
            unmeasured: false,
        };
        if let Err(unread) = found {
            dom::hide("unread", false);
            dom::write_id("unread-why", &unread.error.message);
            dom::write_id("unread-text", &unread.text);
        }
        Some(app)
    }

    /// Hands the state over to the page's events.
    pub(crate) fn install(self) {
        APP.with(|cell| *cell.borrow_mut() = Some(self));
        with(|app| {
            app.restore_drafts();
            app.show_all();
        });
    }

    /// Reads a field's text. What cannot be read changes nothing but is kept and, in a while, remarked on.
    pub(crate) fn typed(&mut self, field: Field, text: &str) {
        match field.input().read(text, &self.units) {
            Ok(value) => self.give(field, value),
            Err(_) => {
                self.drafts.remove(field.input().key);
                self.drafts.0.push((field.input().key.to_owned(), text.to_owned()));
                self.save_soon();
            }
        }
    }

    /// Gives a field a value, or hands it back to the page.
    pub(crate) fn give(&mut self, field: Field, value: Option<Value>) {
        self.drafts.remove(field.input().key);
        if self.setup.get(field) == value {
            self.show_all();
            return;
        }
        self.remember(field.input().key);
        // The value was read against the field's own range.
        let _ = self.setup.set(field, value);
        self.changed();
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

    /// Replaces the whole set-up, undoably.
    pub(crate) fn replace(&mut self, setup: Setup) {
        self.remember("");
        self.drafts.0.clear();
        self.setup = setup;
        self.changed();
        lists::show(self);
    }

    /// Changes the build by hand, undoably; `what` names the thing changed.
    pub(crate) fn alter(&mut self, what: &str, change: impl FnOnce(&mut Setup)) {
        self.remember(what);
        change(&mut self.setup);
        self.changed();
    }

    fn remember(&mut self, what: &str) {
        let now = dom::now();
        let same = self
            .last_change
            .as_ref()
            .is_some_and(|(last, at)| last == what && !what.is_empty() && now - at < ONE_CHANGE_MS);
        if !same {
            self.back.push(self.setup.clone());
            if self.back.len() > MOST_STEPS_BACK {
                self.back.remove(0);
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

    fn changed(&mut self) {
        self.evaluation = Evaluation::of(&self.setup);
        self.answers.moved();
        self.show_all();
        self.measure_soon();
        self.save_soon();
        announce_change(event::SETUP);
    }

    /// Another choice of units: every field, answer and drawing follows.
    pub(crate) fn measure_in(&mut self, units: Units) {
        self.units = units;
        keep::save_units(&units);
        self.answers.rest(&self.evaluation);
        self.show_all();
        lists::show(self);
        announce_change(event::UNITS);
    }

    pub(crate) fn show_all(&mut self) {
        fields::show(self);
        answers::show(self);
        tape::show(self);
        drawing::show(self);
        self.show_name();
        for (id, list) in [("undo", &self.back), ("redo", &self.forth)] {
            if let Some(button) = dom::by_id(id) {
                dom::flag(&button, "disabled", list.is_empty());
            }
        }
    }

    /// Draws anew in the room there is now.
    pub(crate) fn redraw(&mut self) {
        self.redraw_in(Rooms::measure());
    }

    /// Draws for paper, whose width the browser does not tell.
    pub(crate) fn redraw_for_paper(&mut self) {
        self.redraw_in(Rooms { arrow: 700.0, tape: 330.0 });
    }

    fn redraw_in(&mut self, rooms: Rooms) {
        self.rooms = rooms;
        drawing::show(self);
        tape::show(self);
        keep_in_sight();
    }

    /// What is always in sight may have grown or shrunk; asked once for many changes, when they are done.
    fn measure_soon(&mut self) {
        if !core::mem::replace(&mut self.unmeasured, true) {
            dom::later(300, || {
                with(|app| {
                    app.unmeasured = false;
                    keep_in_sight();
                })
            });
        }
    }

    /// The name of the set-up, and whether it is one of the invented ones.
    fn show_name(&self) {
        let name = &self.setup.name;
        let invented = self.invented.contains(name);
        dom::hide("example", !invented);
        dom::write_id("example-name", name);
        dom::write_id("setup-name", &if name.is_empty() || invented { String::new() } else { format!("{name}.") });
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

    /// Says beside a field what is wrong with what stands in it, if anything is.
    pub(crate) fn remark(&mut self, field: Field) {
        let error = self.error_in(field);
        self.fields.say(field, error.as_ref(), &self.units);
        answers::show_stale(self);
        if let Some(error) = error {
            self.answers.announce(format::entry_message(field.input(), &error, &self.units));
        }
        self.measure_soon();
    }

    /// What is wrong with what stands in a field.
    pub(crate) fn error_in(&self, field: Field) -> Option<EntryError> {
        let text = self.drafts.get(field.input().key)?;
        field.input().read(text, &self.units).err()
    }

    fn save_soon(&mut self) {
        if !core::mem::replace(&mut self.unsaved, true) {
            dom::later(400, || with(Self::save));
        }
    }

    /// Keeps the set-up now, if it has changed: another tab may have kept its own since.
    pub(crate) fn save(&mut self) {
        if !core::mem::take(&mut self.unsaved) {
            return;
        }
        let words = match keep::save(&self.setup, &self.drafts) {
            Ok(()) => "Kept in this browser.".to_owned(),
            Err(why) => format!("Not kept: {why}."),
        };
        dom::write_id("save-state", &words);
    }
}

/// Tells the style sheet how high the drawing and the headline are, so that nothing that has the focus
/// lies under them.
fn keep_in_sight() {
    let root =
        dom::document().and_then(|document| document.document_element()?.dyn_into::<web_sys::HtmlElement>().ok());
    let Some(root) = root else { return };
    for id in ["drawing", "headline"] {
        let height = dom::by_id(id).map_or(0.0, |element| element.get_bounding_client_rect().height());
        let _ = root.style().set_property(&format!("--{id}-height"), &(format::fixed(height, 1) + "px"));
    }
}

/// How often set-up or units have changed since the page was opened.
pub(crate) fn changes() -> u32 {
    CHANGES.get()
}

/// Tells whoever listens that set-up or units have changed, once this change is done with.
fn announce_change(kind: &'static str) {
    CHANGES.set(changes().wrapping_add(1));
    dom::later(0, move || dom::announce(kind));
}

/// Without the last bits that steps of a tenth leave.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
