//! Keeps the screen awake and fills it.
//!
//! A browser that lacks one of these goes without it.

use super::ID;
use crate::context::Context;
use clothyard_web as dom;
use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};

#[derive(Default)]
pub(super) struct Screen {
    /// What keeps the screen awake, while it does.
    lock: Option<JsValue>,
}

fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &JsValue::from_str(name)).ok().filter(|found| !found.is_undefined() && !found.is_null())
}

fn call(of: &JsValue, name: &str, argument: &str) -> Option<JsValue> {
    let function = property(of, name)?.dyn_into::<Function>().ok()?;
    function.call1(of, &JsValue::from_str(argument)).ok()
}

/// Asks that the screen does not go dark during the lesson (W3C Screen Wake Lock); the lock comes as a reply.
pub(super) fn stay_awake(context: &Context) {
    let locks = dom::window().and_then(|window| property(&window.navigator(), "wakeLock"));
    let asked = locks.and_then(|locks| call(&locks, "request", "screen"));
    if let Some(promise) = asked.filter(|asked| asked.is_instance_of::<Promise>()) {
        context.reply_when(&promise, ID, "lock");
    }
}

fn release(lock: Option<JsValue>) {
    lock.iter().for_each(|lock| drop(call(lock, "release", "")));
}

impl Screen {
    /// Keeps a lock in place of the one before; what is granted after the lesson is given back.
    pub(super) fn keep(&mut self, lock: JsValue, presenting: bool) {
        release(if presenting { self.lock.replace(lock) } else { Some(lock) });
    }

    /// Lets the screen go dark and leaves it to others.
    pub(super) fn leave(&mut self) {
        release(self.lock.take());
        if let Some(document) = dom::document().filter(|document| document.fullscreen_element().is_some()) {
            document.exit_fullscreen();
        }
    }
}

/// Fills the whole screen, or leaves that again.
pub(super) fn fill_or_not() {
    let Some(document) = dom::document() else { return };
    if document.fullscreen_element().is_some() {
        document.exit_fullscreen();
    } else if let Some(room) = dom::by_id("projector-room") {
        // A dialog itself cannot; what is in it can.
        let _ = room.request_fullscreen();
    }
}

/// Shows the button for that where it can be.
pub(super) fn show_button() {
    dom::hide("projector-full", !dom::document().is_some_and(|document| document.fullscreen_enabled()));
}

/// Whether motion is unwelcome.
pub(super) fn is_still() -> bool {
    let asked = dom::window().and_then(|window| window.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
    asked.is_some_and(|asked| asked.matches())
}
