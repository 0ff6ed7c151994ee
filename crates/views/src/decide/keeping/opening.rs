//! A link that is opened: its set-up comes onto the page as a copy, and the one there is kept aside.

use super::store;
use crate::digits::DIGITS;
use crate::page;
use clothyard_studies::sharing::link;
use clothyard_web as dom;
use wasm_bindgen::JsValue;
use web_sys::Event;

/// Opens the set-up that the page's address holds, if it holds one.
pub(super) fn open_link() {
    let Some(fragment) = take_link() else { return };
    let words = match link::decode(&fragment, &DIGITS) {
        Ok(setup) => {
            keep_now();
            let aside = store::set_aside();
            page::load(&setup);
            keep_now();
            store::mark_as_linked();
            match aside {
                Ok(()) => "Opened from the link, as a copy. Undo brings back what was here.".to_owned(),
                Err(why) => format!("Opened from the link. Undo brings back what was here, but only now. {why}"),
            }
        }
        Err(error) => format!("The link could not be opened, and nothing was changed: {}", error.message()),
    };
    dom::write_id("save-state", &words);
}

/// The fragment that means to be a set-up; it is taken out of the address, so that to load the page again does
/// not open it again.
fn take_link() -> Option<String> {
    let window = dom::window()?;
    let address = window.location().href().ok()?;
    let (page, fragment) = address.split_once('#').filter(|(_, fragment)| link::is_link(fragment))?;
    // Where the browser refuses, the link stays and is opened again, as a copy again.
    let _ = window.history().ok()?.replace_state_with_url(&JsValue::NULL, "", Some(page));
    Some(fragment.to_owned())
}

/// Has the page keep its set-up now rather than soon.
fn keep_now() {
    if let (Some(window), Ok(event)) = (dom::window(), Event::new(clothyard_web::protocol::event::SAVE)) {
        let _ = window.dispatch_event(&event);
    }
}
