//! Everything that happens on the page, as events in one queue.
//!
//! Each wasm module holds one [`Bus`] with one root, which receives the events one at a time. What is posted while the
//! root receives another waits in the queue, so that nothing is dropped and nothing is borrowed twice.

use crate::dom_event::{Dom, Kind};
use clothyard_core::Setup;
use core::cell::RefCell;
use js_sys::Promise;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;
use web_sys::StorageEvent;

/// Something that has happened.
#[derive(Debug)]
pub enum Event {
    /// A hand on the page: for the view whose element contains the target.
    Dom(Dom),
    /// The setup on the page is another.
    Setup,
    /// The units on the page are others.
    Units,
    /// The setup held beside the one on the page is another, or none any more.
    Comparison,
    /// Something else than this event's receiver has written what the browser stores under a key; under any, where it
    /// is none.
    Stored(Option<String>),
    /// The page has another width.
    Resized,
    /// The page is about to be printed.
    BeforePrint,
    /// The page has been printed, or not.
    AfterPrint,
    /// The page has come into sight or gone out of it.
    Visibility,
    /// The address of the page holds another fragment.
    Link,
    /// What changed is to be stored now.
    Save,
    /// A setup is about to come by link.
    Visit,
    /// More of the markup has come to the page.
    Markup,
    /// A setup is to be put on the page.
    Load(Box<Setup>),
    /// A time that a view waited for has come.
    Tick(Tick),
    /// What a view asked for outside has come.
    Reply(Reply),
}

/// A time that has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The view that waited.
    pub view: &'static str,
    /// Which of its timers.
    pub timer: &'static str,
    /// A number of the view's own, by which it tells an earlier wait from a later one.
    pub count: u32,
}

/// What has come from outside: a worker's message, the text of a file, the answer of the browser.
#[derive(Debug)]
pub struct Reply {
    /// The view that asked.
    pub view: &'static str,
    /// What it asked for.
    pub what: &'static str,
    /// The answer; none where there is none to be had.
    pub value: Option<JsValue>,
}

impl Event {
    /// Whether what the browser stores under a key may have been written.
    #[must_use]
    pub fn wrote(&self, key: &str) -> bool {
        matches!(self, Self::Stored(written) if written.as_deref().is_none_or(|written| written == key))
    }

    /// Whether answers, or how they are written and drawn, may be others now.
    #[must_use]
    pub fn moves_answers(&self) -> bool {
        matches!(self, Self::Setup | Self::Units | Self::Comparison | Self::Resized)
    }
}

/// Puts an event in the queue of a module.
pub type Post = fn(Event);

/// Receives events.
pub trait Receive {
    /// Does what an event asks for.
    fn receive(&mut self, event: Event);
}

/// The root that receives events, and those that wait.
#[derive(Debug)]
pub struct Bus<R> {
    root: RefCell<Option<R>>,
    queue: RefCell<Vec<Event>>,
}

impl<R> Bus<R> {
    /// A bus without a root: what is posted waits for it.
    #[must_use]
    pub const fn new() -> Self {
        Self { root: RefCell::new(None), queue: RefCell::new(Vec::new()) }
    }
}

impl<R> Default for Bus<R> {
    fn default() -> Self {
        Self::new()
    }
}

impl<R: Receive> Bus<R> {
    /// Gives it its root, which receives what has waited.
    pub fn install(&self, root: R) {
        if let Ok(mut slot) = self.root.try_borrow_mut() {
            *slot = Some(root);
        }
        self.deliver();
    }

    /// Delivers an event: now, or after the one that is being received.
    pub fn post(&self, event: Event) {
        self.queue.borrow_mut().push(event);
        self.deliver();
    }

    fn deliver(&self) {
        // While the root is borrowed, whoever borrowed it delivers what waits when it is done.
        let Ok(mut root) = self.root.try_borrow_mut() else { return };
        let Some(root) = root.as_mut() else { return };
        while let Some(event) = self.next() {
            root.receive(event);
        }
    }

    fn next(&self) -> Option<Event> {
        let mut queue = self.queue.borrow_mut();
        (!queue.is_empty()).then(|| queue.remove(0))
    }

    /// Asks the root at once, for functions that the module exports: none while it receives an event or there is none.
    pub fn ask<T>(&self, question: impl FnOnce(&mut R) -> T) -> Option<T> {
        let answer = self.root.try_borrow_mut().ok()?.as_mut().map(question);
        self.deliver();
        answer
    }
}

/// Posts the events of these kinds from everywhere on the page.
pub fn listen(post: Post, kinds: &[Kind]) {
    let Some(document) = crate::document() else { return };
    for kind in kinds {
        crate::listen(
            &document,
            kind.name(),
            Box::new(move |event| Dom::of(event).into_iter().for_each(|dom| post(Event::Dom(dom)))),
        );
    }
}

/// What happens to the window, by the browser's name or one of [`event`](crate::protocol::event), and the event that
/// it is.
pub type OfWindow = (&'static str, fn() -> Event);

/// Posts what happens to the window as a whole.
pub fn listen_window(post: Post, events: &'static [OfWindow]) {
    let Some(window) = crate::window() else { return };
    for &(name, event) in events {
        crate::listen(&window, name, Box::new(move |_| post(event())));
    }
}

/// Posts [`Event::Stored`] when another tab has written what the browser stores.
pub fn listen_storage(post: Post) {
    let Some(window) = crate::window() else { return };
    let key = |event: web_sys::Event| {
        let key = event.dyn_into::<StorageEvent>().ok()?.key()?;
        Some(key.strip_suffix(&crate::store::folder()).map(str::to_owned).unwrap_or(key))
    };
    crate::listen(&window, "storage", Box::new(move |event| post(Event::Stored(key(event)))));
}

/// Posts a tick after so many milliseconds.
pub fn later(post: Post, milliseconds: i32, tick: Tick) {
    crate::later(milliseconds, move || post(Event::Tick(tick)));
}

/// Posts a tick when the browser is about to paint.
pub fn next_frame(post: Post, tick: Tick) {
    let call = Closure::once_into_js(move || post(Event::Tick(tick)));
    if let Some(window) = crate::window() {
        let _ = window.request_animation_frame(call.unchecked_ref());
    }
}

/// Posts a reply when a promise is kept, with what it brings, or broken, with none.
pub fn reply_when(post: Post, promise: &Promise, view: &'static str, what: &'static str) {
    let reply = move |value| post(Event::Reply(Reply { view, what, value }));
    let kept = Closure::<dyn FnMut(JsValue)>::new(move |value| reply(Some(value)));
    let broken = Closure::<dyn FnMut(JsValue)>::new(move |_| reply(None));
    let _ = promise.then2(&kept, &broken);
    kept.forget();
    broken.forget();
}

/// Tells when nothing has happened for a while.
#[derive(Debug)]
pub struct Debounce {
    tick: Tick,
    milliseconds: i32,
}

impl Debounce {
    /// Waits so many milliseconds under a timer.
    #[must_use]
    pub fn new(tick: Tick, milliseconds: i32) -> Self {
        Self { tick, milliseconds }
    }

    /// Something has happened: the wait begins again.
    pub fn restart(&mut self, post: Post) {
        self.tick.count = self.tick.count.wrapping_add(1);
        later(post, self.milliseconds, self.tick);
    }

    /// Whether a tick ends the wait that was begun last.
    #[must_use]
    pub fn is_over(&self, tick: Tick) -> bool {
        self.tick == tick
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    thread_local! {
        static BUS: Bus<Log> = const { Bus::new() };
    }

    #[derive(Default)]
    struct Log {
        received: Vec<String>,
        depth: u32,
    }

    fn post(event: Event) {
        BUS.with(|bus| bus.post(event));
    }

    impl Receive for Log {
        fn receive(&mut self, event: Event) {
            self.depth += 1;
            assert_eq!(self.depth, 1, "one event at a time");
            self.received.push(format!("{event:?}"));
            if matches!(event, Event::Setup) {
                post(Event::Units);
                post(Event::Link);
            }
            self.depth -= 1;
        }
    }

    fn received() -> Vec<String> {
        BUS.with(|bus| bus.ask(|log| core::mem::take(&mut log.received))).unwrap()
    }

    #[test]
    fn what_is_posted_while_the_root_is_busy_is_delivered_afterwards_in_order() {
        post(Event::Resized);
        BUS.with(|bus| bus.install(Log::default()));
        assert_eq!(received(), ["Resized"], "what was posted before there was a root");
        post(Event::Setup);
        post(Event::Save);
        assert_eq!(received(), ["Setup", "Units", "Link", "Save"]);
    }

    #[test]
    fn what_is_posted_during_a_question_is_delivered_after_its_answer() {
        BUS.with(|bus| bus.install(Log::default()));
        let answer = BUS.with(|bus| {
            bus.ask(|log| {
                post(Event::Visibility);
                assert!(BUS.with(|bus| bus.ask(|_| ())).is_none(), "the root is asked once at a time");
                log.received.len()
            })
        });
        assert_eq!(answer, Some(0));
        assert_eq!(received(), ["Visibility"]);
    }

    #[test]
    fn a_key_that_is_not_named_may_be_any() {
        assert!(Event::Stored(None).wrote("a") && Event::Stored(Some("a".into())).wrote("a"));
        assert!(!Event::Stored(Some("b".into())).wrote("a") && !Event::Setup.wrote("a"));
    }
}
