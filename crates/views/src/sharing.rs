//! Sharing: links, the QR codes of them (ISO/IEC 18004), and numbers as links hold them.

use crate::context::Context;
use clothyard_studies::sharing::link::NumberCodec;
use clothyard_web::bus::{Event, Reply};
use clothyard_web::widgets::field;
use clothyard_web::{self as dom};
use js_sys::Number;
use qrcodegen::{QrCode, QrCodeEcc};
use wasm_bindgen::JsValue;
use web_sys::Element;

/// Light cells that the standard wants around a code.
const MARGIN: i32 = 4;

/// The browser's own way with numbers: to the last bit, and at no cost to the wasm.
pub(crate) const CODEC: NumberCodec = NumberCodec {
    write: |number| {
        let text = Number::from(number).to_string_with_radix(10).ok();
        text.and_then(|text| text.as_string()).unwrap_or_default()
    },
    read: |text| Some(JsValue::from_str(text).unchecked_into_f64()),
};

/// The fragment of the page's address, where a test says that it is a link. It is taken out of the address, so that to
/// load the page again does not open it again.
pub(crate) fn take_link(is_link: fn(&str) -> bool) -> Option<String> {
    let window = dom::window()?;
    let address = window.location().href().ok()?;
    let (page, fragment) = address.split_once('#').filter(|(_, fragment)| is_link(fragment))?;
    // Where the browser refuses, the link stays and is opened again, as a copy again.
    let _ = window.history().ok()?.replace_state_with_url(&JsValue::NULL, "", Some(page));
    Some(fragment.to_owned())
}

/// The address of the page itself.
fn page_address() -> String {
    let address = dom::window().and_then(|window| window.location().href().ok()).unwrap_or_default();
    address.split('#').next().unwrap_or_default().to_owned()
}

/// The address of the page with a fragment.
pub(crate) fn address_of(fragment: &str) -> String {
    page_address() + "#" + fragment
}

/// A link to what a view shows: in a field, beside it what is to be said of it, and as a code.
pub(crate) struct SharedLink {
    view: &'static str,
    field: &'static str,
    note: &'static str,
    code: &'static str,
    /// The address whose code is drawn.
    drawn: Option<String>,
}

impl SharedLink {
    /// The link of a view, by the ids of its field, its note and its code.
    pub(crate) fn new(view: &'static str, [field, note, code]: [&'static str; 3]) -> Self {
        Self { view, field, note, code, drawn: None }
    }

    /// Shows the address with a fragment and a note, or why there is none; whether there is one.
    pub(crate) fn show_fragment(&mut self, link: Result<(String, &str), String>) -> bool {
        let (address, note) = match link {
            Ok((fragment, note)) => {
                let address = address_of(&fragment);
                let from_disk = if address.starts_with("file:") { FROM_DISK } else { "" };
                (address, note.to_owned() + from_disk)
            }
            Err(why) => (String::new(), why),
        };
        dom::write_id(self.note, &note);
        field::overwrite(self.field, &address);
        let there = !address.is_empty();
        if self.drawn.as_ref() != Some(&address) {
            draw(self.code, &address);
            self.drawn = Some(address);
        }
        there
    }

    /// Copies the address.
    pub(crate) fn copy(&self, context: &Context) {
        copy(self.view, self.field, context);
    }
}

const FROM_DISK: &str = "This page was opened from disk: the link works on this computer only.";

/// Copies a field's text; how that went comes to the view as a reply, for [`copied`].
pub(crate) fn copy(view: &'static str, field: &'static str, context: &Context) {
    let clipboard = dom::window().map(|window| window.navigator().clipboard());
    // Outside secure contexts there is no clipboard, whatever its type says.
    match clipboard.filter(|clipboard| !clipboard.is_undefined()) {
        Some(clipboard) => context.reply_when(&clipboard.write_text(&field::text(field)), view, field),
        None => context.post(Event::Reply(Reply { view, what: field, value: None })),
    }
}

/// What is to be said of a copy; where the browser does not let a page copy, the text is selected.
pub(crate) fn copied(reply: &Reply) -> &'static str {
    if reply.value.is_some() {
        return "Copied.";
    }
    field::select_all(reply.what);
    "The browser blocked copying. The text is selected; copy it yourself."
}

/// Draws a code of an address into the drawing with an id; where there is none, the drawing is hidden.
fn draw(id: &str, address: &str) {
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
