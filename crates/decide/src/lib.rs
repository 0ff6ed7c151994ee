//! The part of the page that helps to choose: loaded when it is first opened, so that the first answer
//! does not wait for it.
//!
//! It knows the set-up through [`Page`], and hands a changed one back the same way.

mod page;

pub use page::Page;
use wasm_bindgen::prelude::*;

/// Starts it; called once, when its wasm is there. `page` holds the hooks of the page's own wasm.
#[wasm_bindgen]
pub fn start_decide(page: Page) {
    page::install(page);
}
