//! Side by side: a set-up held as A against the one on the page as B, and any number of kept ones in a
//! table.

mod grid;
mod kept;
mod show;
mod store;

use crate::page;
use clothyard_studies::analysis::compare::EvaluatedSetup;
use clothyard_web as dom;
use clothyard_web::protocol::event;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlInputElement};

/// Changes within this time are shown once.
const TOGETHER_MS: i32 = 50;

/// What the view holds.
#[derive(Default)]
struct State {
    pair: show::Pair,
    table: kept::Table,
    all_results: bool,
    waiting: bool,
}

thread_local! {
    static STATE: RefCell<State> = RefCell::default();
}

fn with(action: impl FnOnce(&mut State)) {
    STATE.with(|cell| {
        if let Ok(mut state) = cell.try_borrow_mut() {
            action(&mut state);
        }
    });
}

/// Every kept set-up that can be read, by its id.
pub(crate) fn kept() -> Vec<(String, clothyard_core::Setup)> {
    let list = store::kept(&store::kept_text()).unwrap_or_default().setups;
    list.into_iter().map(|kept| (kept.id, kept.setup)).collect()
}

/// Starts the view; called once.
pub(super) fn start() {
    let (Some(view), Some(window)) = (dom::by_id("beside"), dom::window()) else { return };
    find_held();
    page::on_change(on_change);
    dom::listen(&view, "toggle", on_change);
    dom::listen(&view, "click", on_click);
    dom::listen(&view, "change", on_choice);
    // Another tab has written, or the view that keeps set-ups may have.
    dom::listen(&window, "storage", on_storage);
    dom::listen(&window, event::LIBRARY, on_change);
    if let Some(keeping) = dom::by_id("keeping") {
        dom::listen(&keeping, "click", on_change);
        dom::listen(&keeping, "submit", on_change);
    }
    if let Some(button) = dom::by_id("beside-hold") {
        dom::flag(&button, "disabled", false);
    }
    dom::listen(&window, "resize", on_change);
    show_soon();
}

fn on_change(_: Event) {
    show_soon();
}

fn on_storage(_: Event) {
    find_held();
    show_soon();
}

/// Reads the held set-up; one that cannot be read is shown as it stands.
fn find_held() {
    let found = store::HELD.read_or_put_aside();
    dom::hide("beside-unread", found.is_ok());
    if let Err(unread) = &found {
        let why = unread.error.message.trim_end_matches('.');
        dom::write_id(
            "beside-unread-why",
            &format!("The set-up held last time could not be read ({why}). It is kept aside; its text is:"),
        );
        dom::write_id("beside-unread-text", &unread.text);
    }
    page::hold(found.ok().flatten().map(|setup| Rc::new(EvaluatedSetup::new(setup))));
}

/// Shows what there is, once what is under way is done; nothing while the view is closed.
fn show_soon() {
    with(|state| {
        if !core::mem::replace(&mut state.waiting, true) {
            dom::later(TOGETHER_MS, || with(show_now));
        }
    });
}

fn show_now(state: &mut State) {
    state.waiting = false;
    if !dom::by_id("beside").is_some_and(|view| view.has_attribute("open")) {
        return;
    }
    let Some(now) = page::read() else { return };
    state.pair.show(page::held().as_deref(), now.evaluated(), state.all_results, &now.units);
    state.table.read();
    state.table.show(now.all(), &now.units);
}

fn on_click(event: Event) {
    match dom::pressed(&event).map(|button| button.id()).as_deref() {
        Some("beside-hold") => hold("Held as A. Change the form, and the differences stand here."),
        Some("beside-swap") => swap(),
        Some("beside-let-go") => let_go(),
        _ => return,
    }
    show_soon();
}

fn say(words: &str) {
    dom::write_id("beside-said", words);
}

/// Holds the set-up on the page, and says so.
fn hold(done: &str) {
    let Some(now) = page::read() else { return };
    match store::HELD.write(&now.setup) {
        Ok(()) => say(done),
        Err(why) => say(&format!("Held as A until this page is closed, no longer: {why}.")),
    }
    page::hold(Some(now.evaluated().clone()));
}

/// The held set-up comes onto the page, and the page's own is held.
fn swap() {
    if let Some(held) = page::held() {
        hold("Swapped: what was A is on the page, and what was there is held. Undo brings the page back as it was.");
        page::load(&held.setup);
    }
}

fn let_go() {
    page::hold(None);
    match store::HELD.clear() {
        Ok(()) => say("Let go."),
        Err(why) => say(&format!("Let go until this page is opened again, no longer: {why}.")),
    }
    // The button that had the focus is gone.
    if let Some(button) = dom::by_id("beside-hold").and_then(|hold| hold.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = button.focus();
    }
}

fn on_choice(event: Event) {
    let Some(input) = dom::target::<HtmlInputElement>(&event) else { return };
    let on = input.checked();
    if input.id() == "beside-all" {
        with(|state| state.all_results = on);
    } else if let Some(id) = input.get_attribute("data-kept") {
        with(|state| state.table.choose(&id, on));
    }
    show_soon();
}
