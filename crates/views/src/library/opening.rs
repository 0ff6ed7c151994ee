//! Opens the setup of a link, beside the user's own.

use crate::context::Context;
use crate::sharing::{CODEC, take_link};
use clothyard_studies::sharing::link;
use clothyard_web as dom;
use clothyard_web::protocol::event;

/// Opens the setup that the page's address holds, if it holds one.
pub(super) fn open_link(context: &Context) {
    let Some(fragment) = take_link(link::is_link) else { return };
    match link::decode(&fragment, &CODEC) {
        Ok(setup) => {
            dom::announce(event::VISIT);
            context.load(&setup);
            dom::announce(event::SAVE);
        }
        Err(error) => {
            let why = format!("The link could not be opened, and nothing was changed: {}", error.message());
            dom::write_id("link-said", &why);
            dom::hide("link", false);
        }
    }
}
