//! Saving a text as a file.

use clothyard_dom as dom;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// Offers a text as a download.
pub(crate) fn file(name: &str, kind: &str, text: &str) {
    let body = dom::document().and_then(|document| document.document_element());
    let Some(link) = body.and_then(|body| dom::add(&body, "a", "", "")) else { return };
    dom::set(&link, "download", name);
    dom::set(&link, "href", &format!("data:{kind};charset=utf-8,{}", String::from(js_sys::encode_uri_component(text))));
    if let Some(link) = link.dyn_ref::<HtmlElement>() {
        link.click();
    }
    link.remove();
}
