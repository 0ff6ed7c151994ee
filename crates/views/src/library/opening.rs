//! Opens a link as a copy and stores the previous setup.

use super::store;
use crate::context::Context;
use crate::sharing::{CODEC, take_link};
use clothyard_studies::sharing::link;
use clothyard_web as dom;
use clothyard_web::protocol::event;

/// Opens the setup that the page's address holds, if it holds one.
pub(super) fn open_link(context: &Context) {
    let Some(fragment) = take_link(link::is_link) else { return };
    let words = match link::decode(&fragment, &CODEC) {
        Ok(setup) => {
            // The page stores its setup now rather than soon.
            dom::announce(event::SAVE);
            let aside = store::set_aside(context);
            context.load(&setup);
            dom::announce(event::SAVE);
            store::mark_as_linked();
            match aside {
                Ok(()) => "Opened from the link as a copy. Undo restores your setup.".to_owned(),
                Err(why) => format!("Opened from the link. Undo restores your setup, but only now. {why}"),
            }
        }
        Err(error) => format!("The link could not be opened, and nothing was changed: {}", error.message()),
    };
    dom::write_id("save-state", &words);
}
