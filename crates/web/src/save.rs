//! Offers what the page has made as downloads.

use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, HtmlElement, Url};

/// How long a download may take to begin before its address is given up.
const ADDRESS_KEPT_MS: i32 = 60_000;

/// Offers a text as a download; nothing where the browser refuses.
#[must_use]
pub fn file(name: &str, kind: &str, text: &str) -> Option<()> {
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    blob(name, &Blob::new_with_str_sequence_and_options(&Array::of1(&JsValue::from_str(text)), &options).ok()?)
}

/// Offers what is ready to be saved as a download; nothing where the browser refuses.
#[must_use]
pub fn blob(name: &str, blob: &Blob) -> Option<()> {
    let address = Url::create_object_url_with_blob(blob).ok()?;
    let link = crate::document()?.create_element("a").ok()?;
    crate::set(&link, "href", &address);
    crate::set(&link, "download", name);
    link.dyn_ref::<HtmlElement>()?.click();
    crate::later(ADDRESS_KEPT_MS, move || drop(Url::revoke_object_url(&address)));
    Some(())
}

/// Offers a table. Spreadsheets take it for UTF-8 by its byte order mark.
#[must_use]
pub fn csv(name: &str, table: &str) -> Option<()> {
    file(name, "text/csv", &format!("\u{feff}{table}"))
}
