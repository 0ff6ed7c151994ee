//! Keep and share: set-ups by name, a drawer of parts, backups, and the set-up as a link.

// What stays in this browser, and how it is read.
mod store;

// What the view shows.
mod backup;
mod lists;
mod opening;
mod recovery;
mod share;

use crate::ask::focus;
use crate::kept::fresh_id;
use crate::{ask, page, share as links};
use clothyard_core::Setup;
use clothyard_core::setup::MOST_NAME_CHARS;
use clothyard_studies::sharing::drawer::{DrawerPart, PartKind};
use clothyard_studies::sharing::shelf::{KeptBuild, MOST_ENTRIES};
use clothyard_web as dom;
use core::cell::{Cell, RefCell};
use js_sys::Promise;
use wasm_bindgen::prelude::*;
use web_sys::{Element, Event, HtmlInputElement, HtmlSelectElement};

/// Changes within this time are shown at once.
const SHOWN_AFTER_MS: i32 = 200;

/// What was taken away last, with its place, so that it can come back.
enum Removed {
    Kept((usize, KeptBuild)),
    Part((usize, DrawerPart)),
}

thread_local! {
    static REMOVED: RefCell<Option<Removed>> = const { RefCell::new(None) };
    /// The name that the set-up on the page had when the field of its name was filled.
    static NAME_SHOWN: RefCell<Option<String>> = const { RefCell::new(None) };
    static SHOWN_SOON: Cell<bool> = const { Cell::new(false) };
}

/// Starts the view; called once.
pub(super) fn start() {
    let (Some(view), Some(window)) = (dom::by_id("keeping"), dom::window()) else { return };
    dom::listen(&view, "click", on_click);
    dom::listen(&view, "submit", on_submit);
    dom::listen(&view, "change", on_choice);
    dom::listen(&view, "input", |_| show_soon());
    dom::listen(&view, "focusin", ask::own_undo);
    dom::listen(&view, "toggle", |_| show());
    // Another page of this browser has changed what is kept.
    dom::listen(&window, "storage", |_| show());
    dom::listen(&window, "hashchange", |_| opening::open_link());
    page::on_change(|_| show_soon());
    opening::open_link();
    show();
}

fn show_soon() {
    if !SHOWN_SOON.replace(true) {
        dom::later(SHOWN_AFTER_MS, || {
            SHOWN_SOON.set(false);
            show();
        });
    }
}

fn show() {
    if dom::by_id("keeping").is_none_or(|view| !view.has_attribute("open")) {
        return;
    }
    show_name();
    dom::hide("keeping-before", store::before().is_none());
    lists::show();
    recovery::look();
    share::show();
}

/// Fills the field of the name when the set-up on the page has another one.
fn show_name() {
    let Some(now) = page::read() else { return };
    let name = &now.setup.name;
    let shown = NAME_SHOWN.replace(Some(name.clone()));
    if shown.as_ref() != Some(name)
        && let Some(field) = ask::input("keep-name").filter(|field| !has_focus(field))
    {
        field.set_value(name);
    }
}

/// What is being typed is left alone.
fn has_focus(field: &HtmlInputElement) -> bool {
    dom::document().and_then(|document| document.active_element()).is_some_and(|element| element.id() == field.id())
}

/// Says what has been done, or could not be.
fn say(words: &str) {
    dom::write_id("keeping-said", words);
}

fn typed(id: &str) -> String {
    ask::input(id).map_or_else(String::new, |field| field.value().trim().to_owned())
}

/// The set-up on the page, under the name in the view's field.
fn named_build() -> Option<Setup> {
    let mut setup = page::setup()?;
    setup.name = typed("keep-name").chars().take(MOST_NAME_CHARS).collect();
    Some(setup)
}

fn on_click(event: Event) {
    let Some(button) = dom::pressed(&event) else { return };
    if let Some(act) = button.get_attribute("data-act") {
        let entry = button.closest("[data-id]").ok().flatten();
        return act_on(&act, &entry.and_then(|entry| entry.get_attribute("data-id")).unwrap_or_default());
    }
    match button.id().as_str() {
        "keeping-put-back" => put_back(),
        "keeping-load-before" => load_before(),
        "backup-all" => backup::write_all(),
        "backup-one" => backup::write_one(),
        "import-it" => backup::read_pasted(),
        "share-copy" => links::copy("share-link", say),
        "recovery-copy" => links::copy("recovery-text", say),
        "recovery-save" => recovery::save(),
        "recovery-drop" => recovery::let_go(),
        "recovery-close" => recovery::close(),
        _ => {}
    }
}

fn on_submit(event: Event) {
    let Some(form) = dom::target::<Element>(&event) else { return };
    event.prevent_default();
    match form.id().as_str() {
        "keep-form" => keep(),
        "drawer-form" => put_in_drawer(),
        "rename-form" => rename(&form.get_attribute("data-id").unwrap_or_default()),
        _ => {}
    }
}

fn on_choice(event: Event) {
    let target = dom::target::<HtmlInputElement>(&event);
    if let Some(field) = target.filter(|field| field.id() == "import-file") {
        backup::read_file(&field);
    }
}

fn keep() {
    let Some(setup) = named_build() else { return };
    if setup.name.is_empty() {
        say("Give the set-up a name first.");
        return focus("#keep-name");
    }
    let wanted = setup.name.clone();
    let kept = KeptBuild { id: fresh_id(), kept_on: store::today(), setup: setup.to_saved() };
    let done = store::change(|shelf| {
        let first = shelf.kept.is_empty();
        shelf.keep(kept).map(|name| (name, first)).ok_or_else(|| no_room("set-ups"))
    });
    let Some((name, first)) = done else { return };
    if name == wanted {
        say(&format!("Kept as \u{201c}{name}\u{201d}."));
    } else {
        say(&format!("Kept as \u{201c}{name}\u{201d}: there is a \u{201c}{wanted}\u{201d} already."));
    }
    if first {
        ask_to_last();
    }
    show();
}

fn no_room(what: &str) -> String {
    format!("Not kept: there are {MOST_ENTRIES} {what} already, which is the most.")
}

/// Asks the browser not to clear what is kept when it runs out of room, and says what it answers.
fn ask_to_last() {
    let storage = dom::window().map(|window| window.navigator().storage());
    let Some(promise) = storage.and_then(|storage| storage.persist().ok()) else {
        return say_lasting(None);
    };
    let answered = Closure::<dyn FnMut(JsValue)>::new(|answer: JsValue| say_lasting(answer.as_bool()));
    let refused = Closure::<dyn FnMut(JsValue)>::new(|_| say_lasting(None));
    let promise: &Promise = promise.unchecked_ref();
    let _ = promise.then2(&answered, &refused);
    answered.forget();
    refused.forget();
}

fn say_lasting(lasting: Option<bool>) {
    let words = match lasting {
        Some(true) => "Asked to hold on to it, this browser agreed: it stays until you clear it yourself.",
        Some(false) => {
            "Asked to hold on to it, this browser promised nothing: it may clear it when it runs short of room. \
             A backup file is safe from that."
        }
        None => "This browser cannot be asked to hold on to it, and may clear it. A backup file is safe from that.",
    };
    dom::write_id("keeping-lasting", words);
}

fn act_on(act: &str, id: &str) {
    match act {
        "load" => load(id),
        "rename" => lists::rename(Some(id)),
        "leave" => {
            lists::rename(None);
            focus(&format!("[data-id=\"{id}\"] [data-act=rename]"));
        }
        "delete" => remove(id),
        "put-on" => put_on(id),
        "take-out" => take_out(id),
        _ => {}
    }
}

fn load(id: &str) {
    let Some(shelf) = store::open() else { return };
    let setup = shelf.kept(id).and_then(|kept| Setup::from_saved(&kept.setup).ok());
    let Some(setup) = setup else { return gone() };
    page::load(&setup);
    say(&format!("\u{201c}{}\u{201d} is on the page. Undo brings back what was there.", setup.name));
}

fn load_before() {
    if let Some(setup) = store::before() {
        page::load(&setup);
        say("What was on the page before the last link is there again. Undo brings back the other.");
    }
}

fn gone() {
    say("It is not kept any more: another page may have deleted it.");
    show();
}

fn rename(id: &str) {
    let wanted = typed("rename-name");
    if wanted.is_empty() {
        say("Give the set-up a name first.");
        return focus("#rename-name");
    }
    let done = store::change(|shelf| shelf.rename(id, &wanted).ok_or_else(String::new));
    lists::rename(None);
    match done {
        Some(name) => say(&format!("It is called \u{201c}{name}\u{201d} now.")),
        None => show(),
    }
    focus(&format!("[data-id=\"{id}\"] [data-act=rename]"));
}

fn remove(id: &str) {
    let Some(removed) = store::change(|shelf| shelf.remove(id).ok_or_else(String::new)) else { return show() };
    offer_back(&removed.1.setup.name.clone(), Removed::Kept(removed));
}

fn take_out(id: &str) {
    let Some(removed) = store::change(|shelf| shelf.remove_part(id).ok_or_else(String::new)) else { return show() };
    offer_back(&removed.1.name.clone(), Removed::Part(removed));
}

fn offer_back(name: &str, removed: Removed) {
    REMOVED.replace(Some(removed));
    show();
    say(&format!("\u{201c}{name}\u{201d} is deleted."));
    dom::write_id("keeping-put-back", &format!("Bring \u{201c}{name}\u{201d} back"));
    dom::hide("keeping-put-back", false);
    focus("#keeping-put-back");
}

fn put_back() {
    let Some(removed) = REMOVED.take() else { return };
    let id = match &removed {
        Removed::Kept((_, kept)) => kept.id.clone(),
        Removed::Part((_, part)) => part.id.clone(),
    };
    let done = store::change(|shelf| {
        match &removed {
            Removed::Kept(kept) => shelf.put_back(kept.clone()),
            Removed::Part(part) => shelf.put_part_back(part.clone()),
        }
        Ok(())
    });
    if done.is_none() {
        REMOVED.replace(Some(removed));
        return;
    }
    dom::hide("keeping-put-back", true);
    show();
    say("It is back.");
    focus(&format!("[data-id=\"{id}\"] button"));
}

fn put_in_drawer() {
    let chosen = dom::by_id("drawer-kind").and_then(|choice| choice.dyn_into::<HtmlSelectElement>().ok());
    let key = chosen.map_or_else(String::new, |choice| choice.value());
    let kind = PartKind::ALL.into_iter().find(|kind| kind.key() == key);
    let (Some(kind), Some(now)) = (kind, page::read()) else { return };
    let part = DrawerPart::on_arrow(kind, &now.setup, fresh_id(), &typed("drawer-name"), &now.units);
    let name = part.name.clone();
    let done = store::change(|shelf| {
        if shelf.drawer.len() >= MOST_ENTRIES {
            return Err(no_room("parts"));
        }
        shelf.drawer.insert(0, part);
        Ok(())
    });
    if done.is_some() {
        if let Some(field) = ask::input("drawer-name") {
            field.set_value("");
        }
        say(&format!("\u{201c}{name}\u{201d} is in the drawer."));
        show();
    }
}

fn put_on(id: &str) {
    let (Some(shelf), Some(now)) = (store::open(), page::read()) else { return };
    let Some(part) = shelf.part(id) else { return gone() };
    if let Ok(setup) = part.put_on(&now.setup) {
        page::load(&setup);
        say(&format!("\u{201c}{}\u{201d} is on the arrow. Undo brings back what was there.", part.name));
    }
}
