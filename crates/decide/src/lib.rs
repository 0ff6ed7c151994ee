//! The part of the page that helps to choose: loaded when it is first opened, so that the first answer
//! does not wait for it.
//!
//! It knows the set-up through [`Page`], and hands a changed one back the same way.

// The set-up, as the page holds it.
mod page;

// What several views share.
mod ask;
mod save;

// The views, in the order of the page.
mod beside;
mod combine;
mod effects;
mod keeping;
mod solve;
mod sweep;

pub use combine::combine_piece;
pub use page::Page;
use wasm_bindgen::prelude::*;

/// Starts it; called once, when its wasm is there. `page` holds the hooks of the page's own wasm.
#[wasm_bindgen]
pub fn start_decide(page: Page) {
    page::install(page);
    solve::start();
    effects::start();
    sweep::start();
    combine::start();
    beside::start();
    keeping::start();
}
