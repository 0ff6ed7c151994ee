//! What the two wasm modules of the page and its scripts say to each other, each name spelled once.
//!
//! Rust takes the names from here. The scripts in `www` cannot; a test below compares them.

use wasm_bindgen::prelude::*;

/// Events on the window.
pub mod event {
    /// The setup on the page has changed.
    pub const SETUP: &str = "clothyard-setup";
    /// The units on the page have changed.
    pub const UNITS: &str = "clothyard-units";
    /// The setup on the page is to be stored now.
    pub const SAVE: &str = "clothyard-save";
    /// More of the markup is on the page.
    pub const MARKUP: &str = "clothyard-markup";
    /// The setup on the page has been stored, if not on disk yet.
    pub const SAVED: &str = "clothyard-saved";
    /// A setup is about to come by link.
    pub const VISIT: &str = "clothyard-visit";
    /// Every one, as the test below wants them.
    pub const ALL: [&str; 6] = [SETUP, UNITS, SAVE, SAVED, MARKUP, VISIT];
}

/// Keys under which the browser stores texts. A text that cannot be read is put aside under its key and [`UNREAD`].
///
/// [`UNREAD`]: storage::UNREAD
pub mod storage {
    /// What is added to a key whose text could not be read.
    pub const UNREAD: &str = ".unread";
    /// The setup on the page, with what was typed and could not be read.
    pub const SETUP: &str = "clothyard.setup";
    /// When the setup was stored: `keep.js` compares it with the database.
    pub const SETUP_TIME: &str = "clothyard.setup.time";
    /// The user's own setup from before one that came by link took its place.
    pub const BEFORE_LINK: &str = "clothyard.setup.before";
    /// What the last link brought, with what was changed in it; this tab's, and the last tab's.
    pub const FROM_LINK: &str = "clothyard.setup.link";
    /// The units shown.
    pub const UNITS: &str = "clothyard.units";
    /// Light, dark or as the system.
    pub const LOOKS: &str = "clothyard.looks";
    /// The setup held as A.
    pub const HELD: &str = "clothyard.held";
    /// The setups and parts kept by name.
    pub const LIBRARY: &str = "clothyard.kept";
    /// The weights in grains of the points among them, for the first screen.
    pub const POINTS: &str = "clothyard.points";
    /// Draw-force readings that cannot be read yet.
    pub const DRAW_FORCE_DRAFT: &str = "clothyard.bench-force";
    /// Chronograph readings that cannot be read yet.
    pub const SPEEDS_DRAFT: &str = "clothyard.bench-speeds";
    /// A batch of shafts that cannot be read yet.
    pub const BATCH_DRAFT: &str = "clothyard-batch-text";
    /// The lessons.
    pub const LESSONS: &str = "clothyard.lessons";
    /// A lesson that came by link into this tab.
    pub const LINKED_LESSON: &str = "clothyard.lesson.link";
}

/// Attributes that both modules, the markup or the style sheet share.
pub mod attribute {
    /// On a text being typed: the page leaves it alone, and undo belongs to it.
    pub const TYPING: &str = "data-typing";
    /// On a mark of a drawing and on a set of fields: the group they belong to.
    pub const GROUP: &str = "data-group";
    /// On the root: what the names of stored texts end in, where the page is not in the top folder of its host.
    pub const FOLDER: &str = "data-folder";
    /// On one row of a list: its place.
    pub const PLACE: &str = "data-place";
    /// On a button of a row: what it does.
    pub const ACT: &str = "data-act";
    /// On the text that says what is saved: a change is not yet; `keep.js` reads it.
    pub const UNSAVED: &str = "data-unsaved";
    /// On a button of a pad: the key it types.
    pub const KEY: &str = "data-key";
}

#[wasm_bindgen]
extern "C" {
    /// The functions that the page's own wasm exports for the views; `boot.js` hands them over, with a way to start a
    /// worker.
    pub type PageFunctions;

    /// How often the setup or the units have changed since the page was opened.
    #[wasm_bindgen(method)]
    pub fn count_changes(this: &PageFunctions) -> u32;

    /// The setup on the page, as saved, in plain objects.
    #[wasm_bindgen(method)]
    pub fn current_build(this: &PageFunctions) -> JsValue;

    /// The evaluation of the setup on the page, as numbers that core rebuilds it from.
    #[wasm_bindgen(method)]
    pub fn current_evaluation(this: &PageFunctions) -> Vec<f64>;

    /// Puts a saved setup on the page, undoably.
    #[wasm_bindgen(method)]
    pub fn load_build(this: &PageFunctions, setup: &JsValue);

    /// The units chosen on the page, as one line of text.
    #[wasm_bindgen(method)]
    pub fn current_units(this: &PageFunctions) -> String;

    /// A new worker; undefined where the page cannot have one.
    #[wasm_bindgen(method, catch)]
    pub fn start_worker(this: &PageFunctions) -> Result<JsValue, JsValue>;
}

#[cfg(test)]
mod tests {
    use super::event;

    const HERE: &str = include_str!("protocol.rs");
    const BOOT: &str = include_str!("../../../www/boot.js");
    const OFFLINE: &str = include_str!("../../../www/offline.js");
    const KEEP: &str = include_str!("../../../www/keep.js");
    const APP: &str = include_str!("../../app/src/lib.rs");
    const DEVELOPERS: &str = include_str!("../../../DEVELOPERS.md");

    /// Every text between a start and an end.
    fn between<'a>(text: &'a str, start: &'a str, end: char) -> impl Iterator<Item = &'a str> {
        text.split(start).skip(1).filter_map(move |rest| rest.split(end).next())
    }

    #[test]
    fn the_scripts_use_no_event_of_their_own() {
        let used: Vec<_> =
            [BOOT, OFFLINE, KEEP].into_iter().flat_map(|script| between(script, "\"clothyard-", '"')).collect();
        assert!(used.len() > 1);
        for name in used {
            assert!(event::ALL.contains(&format!("clothyard-{name}").as_str()), "{name}");
        }
    }

    #[test]
    fn the_page_exports_what_the_views_call_and_the_script_hands_it_over() {
        let handed = between(BOOT, "start_views({", '}').next().unwrap();
        let handed: Vec<_> = handed.split(',').map(str::trim).collect();
        let declared = between(HERE, "extern \"C\" {", '}').next().unwrap();
        let called: Vec<_> = between(declared, "pub fn ", '(').collect();
        assert!(called.len() > 4, "{called:?}");
        assert_eq!(handed, called);
        for name in called {
            let exported = APP.contains(&format!("\npub fn {name}("));
            assert!(exported || BOOT.contains(&format!("\nfunction {name}(")), "{name}");
        }
    }

    #[test]
    fn the_developers_chapters_list_every_event_and_storage_key() {
        let listed: Vec<_> = between(HERE, ": &str = \"clothyard", '"').collect();
        assert!(listed.len() > 12, "{listed:?}");
        let named: Vec<_> = between(DEVELOPERS, "`clothyard", '`').collect();
        for name in &listed {
            assert!(named.contains(name), "clothyard{name} is not in DEVELOPERS.md");
        }
        for name in named {
            assert!(listed.contains(&name), "clothyard{name} does not exist");
        }
    }
}
