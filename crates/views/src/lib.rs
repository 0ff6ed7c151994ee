//! The views of the page that are loaded when one of them is first opened, so that the first answer does not
//! wait for them.
//!
//! They know the set-up through [`Page`], and hand a changed one back the same way.

// The set-up, as the page holds it.
mod page;

// What several views share.
mod ask;
mod chart;
mod digits;
mod kept;
mod save;
mod share;

// The views, section by section.
mod decide;
mod diagram;
mod flight;
mod lesson;
mod measurements;
mod production;

pub use decide::combine_piece;
pub use page::Page;
use wasm_bindgen::prelude::*;

/// Starts them; called once, when their wasm is there. `page` holds the hooks of the page's own wasm.
#[wasm_bindgen]
pub fn start_views(page: Page) {
    page::install(page);
    decide::start();
    flight::start();
    diagram::start();
    measurements::start();
    production::start();
    lesson::start();
}
