//! Views: parts of the page that fill one element each and are kept up to date while it is open.
//!
//! A view is a struct that owns what it shows; the [`Registry`] owns the views, hands them what happens and shows them
//! one at a time, so that a hand on the page is never kept waiting for more than one.

use crate::bus::{self, Event, Post, Receive, Reply, Tick};
use crate::dom_event::{Dom, Kind};
use std::rc::Rc;
use web_sys::Element;

/// Changes within this time are shown once, in milliseconds: the page paints its own answers first.
const TOGETHER_MS: i32 = 40;

/// The registry's own timer.
const NEXT: Tick = Tick { view: "", timer: "next", count: 0 };

/// A part of the page. `C` is what views may ask for: what they share.
pub trait View<C> {
    /// The id of the element it fills.
    fn id(&self) -> &'static str;

    /// Whether it is to be kept up to date: while its element is open.
    fn is_open(&self) -> bool {
        crate::by_id(self.id()).is_some_and(|element| element.has_attribute("open"))
    }

    /// Called once, when the views are there, open or not.
    fn start(&mut self, _context: &C) {}

    /// Called whenever it has been opened, before it is shown.
    fn open(&mut self, _context: &C) {}

    /// Fills its element; called after it has been opened, and when what it shows is out of date.
    fn show(&mut self, _context: &C) {}

    /// Called whenever it has been closed.
    fn closed(&mut self, _context: &C) {}

    /// Takes note of what concerns every view, open or not, and says whether what it shows is out of date.
    fn changed(&mut self, event: &Event, _context: &C) -> bool {
        event.moves_answers()
    }

    /// Something in it was pressed.
    fn click(&mut self, _dom: &Dom, _context: &C) {}

    /// Something in it was typed or slid.
    fn input(&mut self, _dom: &Dom, _context: &C) {}

    /// Something in it was chosen, or typed and left.
    fn change(&mut self, _dom: &Dom, _context: &C) {}

    /// A key went down in it.
    fn key(&mut self, _dom: &Dom, _context: &C) {}

    /// Anything else was done in it: focus, submit, pointers, parts of it unfolded.
    fn other(&mut self, _dom: &Dom, _context: &C) {}

    /// Something was done outside it, of any kind.
    fn elsewhere(&mut self, _dom: &Dom, _context: &C) {}

    /// A time that it waited for has come.
    fn tick(&mut self, _tick: Tick, _context: &C) {}

    /// What it asked for outside has come.
    fn reply(&mut self, _reply: Reply, _context: &C) {}
}

/// Every view, in the order of the page.
pub struct Registry<C> {
    views: Vec<Entry<C>>,
    context: Rc<C>,
    post: Post,
    waiting: bool,
}

/// A view, and whether what it shows is out of date.
struct Entry<C> {
    view: Box<dyn View<C>>,
    stale: bool,
}

impl<C> core::fmt::Debug for Registry<C> {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        formatter.debug_list().entries(self.views.iter().map(|entry| entry.view.id())).finish()
    }
}

impl<C> Registry<C> {
    /// Starts views.
    #[must_use]
    pub fn start(views: Vec<Box<dyn View<C>>>, context: Rc<C>, post: Post) -> Self {
        let views = views.into_iter().map(|view| Entry { view, stale: false }).collect();
        let mut registry = Self { views, context, post, waiting: false };
        for Entry { view, stale } in &mut registry.views {
            view.start(&registry.context);
            if view.is_open() {
                view.open(&registry.context);
                *stale = true;
            }
        }
        registry.wait(0);
        registry
    }

    /// Comes back to show what is out of date, unless that is to happen already.
    fn wait(&mut self, milliseconds: i32) {
        let due = self.views.iter().any(|entry| entry.stale && entry.view.is_open());
        if due && !self.waiting {
            self.waiting = true;
            bus::later(self.post, milliseconds, NEXT);
        }
    }

    /// Shows the first view that is open and out of date, and comes back for the others.
    fn show_next(&mut self) {
        self.waiting = false;
        if let Some(entry) = self.views.iter_mut().find(|entry| entry.stale && entry.view.is_open()) {
            entry.stale = false;
            entry.view.show(&self.context);
        }
        self.wait(0);
    }

    /// Tells every view.
    fn tell(&mut self, event: &Event) {
        for entry in &mut self.views {
            entry.stale |= entry.view.changed(event, &self.context);
        }
        self.wait(TOGETHER_MS);
    }

    fn find(&mut self, id: &str) -> Option<&mut Entry<C>> {
        self.views.iter_mut().find(|entry| entry.view.id() == id)
    }

    /// The place of the innermost view around an element.
    fn around(&self, target: &Element) -> Option<usize> {
        let mut inside = Some(target.clone());
        while let Some(element) = inside.and_then(|element| element.closest("[id]").ok()?) {
            let id = element.id();
            let place = self.views.iter().position(|entry| entry.view.id() == id);
            if place.is_some() {
                return place;
            }
            inside = element.parent_element();
        }
        None
    }

    /// To the view that contains the target; the others learn of it as something elsewhere.
    fn route(&mut self, dom: &Dom) {
        let around = self.around(&dom.target);
        for (place, Entry { view, stale }) in self.views.iter_mut().enumerate() {
            if Some(place) != around {
                view.elsewhere(dom, &self.context);
                continue;
            }
            match dom.kind {
                Kind::Toggle if dom.id() == view.id() => {
                    *stale = view.is_open();
                    if *stale { view.open(&self.context) } else { view.closed(&self.context) }
                }
                Kind::Click => view.click(dom, &self.context),
                Kind::Input => view.input(dom, &self.context),
                Kind::Change => view.change(dom, &self.context),
                Kind::Key => view.key(dom, &self.context),
                _ => view.other(dom, &self.context),
            }
        }
        self.wait(0);
    }
}

impl<C> Receive for Registry<C> {
    fn receive(&mut self, event: Event) {
        let context = self.context.clone();
        match event {
            Event::Dom(dom) => self.route(&dom),
            Event::Tick(NEXT) => self.show_next(),
            Event::Tick(tick) => self.find(tick.view).into_iter().for_each(|entry| entry.view.tick(tick, &context)),
            Event::Reply(reply) => {
                if let Some(entry) = self.find(reply.view) {
                    entry.view.reply(reply, &context);
                }
            }
            event => self.tell(&event),
        }
    }
}
