//! What could not be read: why, and its text, to copy or to save. Nothing is lost unless it is discarded.

use super::store;
use clothyard_web as dom;
use clothyard_web::store::Unread;
use clothyard_web::widgets::field;

/// The field of the text.
pub(super) const TEXT: &str = "recovery-text";

/// Where the text comes from.
#[derive(Clone, Copy, PartialEq)]
enum Source {
    /// It was to be read in.
    Import,
    /// The list that an earlier version stored in this browser.
    Library,
    /// The setup of an earlier visit.
    Setup,
}

#[derive(Default)]
pub(super) struct Recovery {
    shown: Option<Source>,
    /// Closed by hand; it comes again with the next visit.
    closed: bool,
}

impl Recovery {
    /// Shows what in this browser cannot be read, if there is any.
    pub(super) fn look(&mut self) {
        if self.shown.is_some() || self.closed {
            return;
        }
        if let Err(unread) = store::LIBRARY.read() {
            self.show_library(&unread);
        } else if let Some((text, error)) = store::unread_setup() {
            let found = "The setup saved at an earlier visit could not be read";
            let why = match error {
                Some(error) => format!("{found}: {}", error.message),
                None => format!("{found} by the version used then; this version can read it."),
            };
            self.show_text(Source::Setup, &why, &text, "Delete this text");
        }
    }

    /// Shows the list that cannot be read.
    fn show_library(&mut self, unread: &Unread) {
        let why = format!("Saved setups: {}", unread.error.message);
        // What a newer page wrote is sound, and stays for it.
        let discard = if unread.error.is_newer() { "" } else { "Set aside, start new list" };
        self.show_text(Source::Library, &why, &unread.text, discard);
    }

    /// Shows what was to be read in.
    pub(super) fn show_import(&mut self, why: &str, text: &str) {
        self.show_text(Source::Import, why, text, "");
    }

    fn show_text(&mut self, source: Source, why: &str, text: &str, discard: &str) {
        self.shown = Some(source);
        dom::write_id("recovery-why", why);
        field::overwrite(TEXT, text);
        dom::write_id("recovery-drop", discard);
        dom::hide("recovery-drop", discard.is_empty());
        dom::hide("recovery", false);
    }

    /// Discards the text where it was in the way, and says so.
    ///
    /// # Errors
    /// Why it is still there, in a sentence.
    pub(super) fn discard(&mut self) -> Result<&'static str, String> {
        let said = match self.shown {
            Some(Source::Library) => {
                store::LIBRARY.clear().map_err(|why| format!("Not set aside: {why}."))?;
                "New list started; the old text is set aside in this browser."
            }
            Some(Source::Setup) => {
                store::forget_unread_setup();
                ""
            }
            _ => "",
        };
        self.hide();
        Ok(said)
    }

    /// Hides the text until the next visit.
    pub(super) fn close(&mut self) {
        self.closed = self.shown != Some(Source::Import);
        self.hide();
        field::focus("#keep-name");
    }

    fn hide(&mut self) {
        self.shown = None;
        dom::hide("recovery", true);
    }
}
