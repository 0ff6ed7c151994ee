//! Saving and reading files.

use crate::context::Context;
use clothyard_web as dom;
use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, HtmlElement, HtmlInputElement, Url};

/// How long a download may take to begin before its address is given up.
const ADDRESS_KEPT_MS: i32 = 60_000;

/// Offers a text as a download; nothing where the browser refuses.
pub(crate) fn file(name: &str, kind: &str, text: &str) -> Option<()> {
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    blob(name, &Blob::new_with_str_sequence_and_options(&Array::of1(&JsValue::from_str(text)), &options).ok()?)
}

/// Offers what is ready to be saved as a download; nothing where the browser refuses.
pub(crate) fn blob(name: &str, blob: &Blob) -> Option<()> {
    let address = Url::create_object_url_with_blob(blob).ok()?;
    let link = dom::document()?.create_element("a").ok()?;
    dom::set(&link, "href", &address);
    dom::set(&link, "download", name);
    link.dyn_ref::<HtmlElement>()?.click();
    dom::later(ADDRESS_KEPT_MS, move || drop(Url::revoke_object_url(&address)));
    Some(())
}

/// The same for JSON, and says how that went.
pub(crate) fn json(name: &str, text: &str) -> String {
    said(name, file(name, "application/json", text))
}

/// The same for comma-separated values.
pub(crate) fn csv(name: &str, text: &str) -> String {
    said(name, file(name, "text/csv", text))
}

fn said(name: &str, done: Option<()>) -> String {
    match done {
        Some(()) => format!("Saved as {name} in your downloads."),
        None => "The browser blocked saving the file.".to_owned(),
    }
}

/// Asks for the text of the file chosen in a field, as a reply to a view; false where it has more bytes than that.
pub(crate) fn read(
    field: &HtmlInputElement,
    most_bytes: usize,
    reply: (&'static str, &'static str),
    context: &Context,
) -> bool {
    let file = field.files().and_then(|files| files.get(0));
    let fits = file.as_ref().is_none_or(|file| file.size() <= most_bytes as f64);
    if let Some(file) = file.filter(|_| fits) {
        context.reply_when(&file.text(), reply.0, reply.1);
    }
    // So that the same file can be chosen again.
    field.set_value("");
    fits
}
