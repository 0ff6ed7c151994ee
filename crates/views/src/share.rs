//! Links and QR codes of them (ISO/IEC 18004), for every view that shares something.

use clothyard_web as dom;
use js_sys::Promise;
use qrcodegen::{QrCode, QrCodeEcc};
use wasm_bindgen::prelude::*;
use web_sys::{Element, HtmlElement, HtmlInputElement, HtmlTextAreaElement};

/// Light cells that the standard wants around a code.
const MARGIN: i32 = 4;

/// The address of the page itself.
pub(crate) fn page_address() -> String {
    let address = dom::window().and_then(|window| window.location().href().ok()).unwrap_or_default();
    address.split('#').next().unwrap_or_default().to_owned()
}

/// What is to be said of links while the page was opened from the disk; else empty.
pub(crate) fn note() -> &'static str {
    if page_address().starts_with("file:") {
        "This page was opened from the disk, so the link leads to that file and works on this machine alone."
    } else {
        ""
    }
}

/// Draws a code of an address into the drawing with an id; where there is none, the drawing is hidden.
pub(crate) fn draw(id: &str, address: &str) {
    let Some(drawing) = dom::by_id(id) else { return };
    dom::empty(&drawing);
    let code = QrCode::encode_binary(address.as_bytes(), QrCodeEcc::Low).ok().filter(|_| !address.is_empty());
    dom::flag(&drawing, "hidden", code.is_none());
    if let Some(code) = code {
        draw_code(&drawing, &code);
    }
}

/// Light paper and dark cells, whatever the page's looks: readers expect it so.
fn draw_code(drawing: &Element, code: &QrCode) {
    let side = code.size() + 2 * MARGIN;
    dom::set(drawing, "viewBox", &format!("0 0 {side} {side}"));
    let (paper, cells) = (format!("M0 0h{side}v{side}h-{side}z"), outline(code));
    for (class, path) in [("paper", paper), ("cells", cells)] {
        if let Some(shape) = dom::add_shape(drawing, "path") {
            dom::set(&shape, "class", class);
            dom::set(&shape, "d", &path);
        }
    }
}

/// Every dark run of a row as a bar one cell high.
fn outline(code: &QrCode) -> String {
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            // Beyond its edge every cell is light.
            let run = (x..).take_while(|&x| code.get_module(x, y)).count() as i32;
            if run > 0 {
                path += &format!("M{} {}h{run}v1h-{run}z", x + MARGIN, y + MARGIN);
            }
            x += run + 1;
        }
    }
    path
}

/// Copies a field's text, or selects it where the browser does not let a page copy.
pub(crate) fn copy(id: &'static str, say: fn(&str)) {
    let Some(text) = text_of(id) else { return };
    let clipboard = dom::window().map(|window| window.navigator().clipboard());
    // Outside secure contexts there is no clipboard, whatever its type says.
    let Some(clipboard) = clipboard.filter(|clipboard| !clipboard.is_undefined()) else { return select(id, say) };
    let promise = clipboard.write_text(&text);
    let promise: &Promise = promise.unchecked_ref();
    let done = Closure::<dyn FnMut(JsValue)>::new(move |_| say("Copied."));
    let refused = Closure::<dyn FnMut(JsValue)>::new(move |_| select(id, say));
    let _ = promise.then2(&done, &refused);
    done.forget();
    refused.forget();
}

fn text_of(id: &str) -> Option<String> {
    let field = dom::by_id(id)?;
    let line = field.dyn_ref::<HtmlInputElement>().map(HtmlInputElement::value);
    line.or_else(|| field.dyn_ref::<HtmlTextAreaElement>().map(HtmlTextAreaElement::value))
}

fn select(id: &str, say: fn(&str)) {
    let Some(field) = dom::by_id(id) else { return };
    if let Some(field) = field.dyn_ref::<HtmlElement>() {
        let _ = field.focus();
    }
    if let Some(line) = field.dyn_ref::<HtmlInputElement>() {
        line.select();
    } else if let Some(text) = field.dyn_ref::<HtmlTextAreaElement>() {
        text.select();
    }
    say("This browser does not let the page copy; the text is selected for you to copy.");
}
