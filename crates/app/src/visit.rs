//! A setup that came by link: it is beside the user's own, and stored apart from it, until it is taken over.

use crate::keep;
use crate::state::App;
use clothyard_core::setup::PageState;
use clothyard_web as dom;

const SAID: &str = "Setup from a link. Your own setup is unchanged.";

impl App {
    /// A setup is about to come by link: the user's own is stored as it is now.
    pub(crate) fn begin_visit(&mut self) {
        self.save();
        if !self.is_visiting() {
            self.visit = Some(self.back.len() + 1);
        }
    }

    /// Whether the page shows a setup that came by link. Undo past its arrival leads back to the user's own.
    pub(crate) fn is_visiting(&self) -> bool {
        self.visit.is_some_and(|steps| self.back.len() >= steps)
    }

    /// Says what the page shows, and offers both ways on.
    pub(crate) fn show_visit(&self) {
        let visiting = self.is_visiting();
        if visiting {
            dom::write_id("link-said", SAID);
        }
        dom::hide("visit", !visiting);
        dom::hide("link", !visiting);
    }

    /// Makes the setup from the link the user's own; the one before is kept aside.
    pub(crate) fn take_over(&mut self) {
        keep::put_own_aside();
        self.visit = None;
        self.unsaved = true;
        self.save();
        self.show_visit();
    }

    /// Back to the user's own setup, as at the start of a visit without a link.
    pub(crate) fn leave_visit(&mut self) {
        let before = self.visit.take().and_then(|steps| self.back.get(steps.checked_sub(1)?).cloned());
        let own = keep::find_own().ok().flatten();
        let PageState { setup, drafts } = own.unwrap_or_else(|| PageState::new(before.unwrap_or_default()));
        (self.back, self.forth) = (Vec::new(), Vec::new());
        self.replace_all(setup, drafts);
    }
}
