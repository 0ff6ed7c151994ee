//! User events: what was done, on which element.

use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent, MouseEvent};

macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident = $name:literal,)*) => {
        /// What was done, by the browser's own names.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Kind {
            $($(#[$doc])* $kind,)*
        }

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$kind,)*];

            /// The browser's name.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self {
                    $(Self::$kind => $name,)*
                }
            }
        }
    };
}

kinds! {
    /// Pressed and released, by pointer or key.
    Click = "click",
    /// Typed or slid.
    Input = "input",
    /// Chosen, or typed and left.
    Change = "change",
    /// A key goes down.
    Key = "keydown",
    /// Something takes the focus.
    Focus = "focusin",
    /// Something loses the focus.
    Leave = "focusout",
    /// A form is sent.
    Submit = "submit",
    /// Something is unfolded or folded.
    Toggle = "toggle",
    /// A pointer goes down.
    PointerDown = "pointerdown",
    /// A pointer moves.
    PointerMove = "pointermove",
    /// The browser takes a gesture for itself.
    PointerCancel = "pointercancel",
    /// A dialog is closed.
    Close = "close",
}

/// A hand on the page.
#[derive(Clone, Debug)]
pub struct Dom {
    /// What it did.
    pub kind: Kind,
    /// On what.
    pub target: Element,
    event: Event,
}

impl Dom {
    /// An event of the browser; none where it is of no kind looked at or has no element.
    #[must_use]
    pub fn of(event: Event) -> Option<Self> {
        let name = event.type_();
        let kind = Kind::ALL.iter().copied().find(|kind| kind.name() == name)?;
        Some(Self { kind, target: event.target()?.dyn_into().ok()?, event })
    }

    /// The target's id.
    #[must_use]
    pub fn id(&self) -> String {
        self.target.id()
    }

    /// The target as an element of some type.
    #[must_use]
    pub fn target_as<T: JsCast>(&self) -> Option<&T> {
        self.target.dyn_ref()
    }

    /// The target, or the nearest element around it, that a selector finds.
    #[must_use]
    pub fn closest(&self, selector: &str) -> Option<Element> {
        self.target.closest(selector).ok()?
    }

    /// The button that was pressed, wherever on it.
    #[must_use]
    pub fn button(&self) -> Option<Element> {
        self.closest("button")
    }

    /// The id of the button that was pressed; empty where none was.
    #[must_use]
    pub fn button_id(&self) -> String {
        self.button().map_or_else(String::new, |button| button.id())
    }

    /// The key that went down.
    #[must_use]
    pub fn key(&self) -> Option<&KeyboardEvent> {
        self.event.dyn_ref()
    }

    /// Pixels from the left of the window to the pointer.
    #[must_use]
    pub fn pointer_x(&self) -> Option<f64> {
        self.event.dyn_ref::<MouseEvent>().map(|pointer| f64::from(pointer.client_x()))
    }

    /// Pixels from the top of the window to the pointer.
    #[must_use]
    pub fn pointer_y(&self) -> Option<f64> {
        self.event.dyn_ref::<MouseEvent>().map(|pointer| f64::from(pointer.client_y()))
    }

    /// Keeps the browser from doing what it would do with it. It does nothing once the event has waited in the queue.
    pub fn prevent(&self) {
        self.event.prevent_default();
    }
}
