//! The sheet as a picture: drawn by the browser from its own text, so that nothing is fetched.

use crate::save;
use clothyard_studies::diagram::sheet::Sheet;
use clothyard_web as dom;
use wasm_bindgen::prelude::*;
use web_sys::{Blob, CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement};

/// Pixels of the picture for each of the drawing.
const FINE: u32 = 2;
const NAME: &str = "clothyard-arrow.png";

/// Saves a sheet as PNG, and says so or what stood in the way.
pub(super) fn save(sheet: Sheet) {
    let Ok(image) = HtmlImageElement::new() else { return refused("draw the image") };
    let drawn = image.clone();
    let address = format!("data:image/svg+xml;charset=utf-8,{}", js_sys::encode_uri_component(&sheet.svg));
    let ready = Closure::once_into_js(move || {
        if paint(&drawn, &sheet).is_err() {
            refused("draw the image");
        }
    });
    let failed = Closure::once_into_js(|| refused("read the drawing"));
    image.set_onload(Some(ready.unchecked_ref()));
    image.set_onerror(Some(failed.unchecked_ref()));
    image.set_src(&address);
}

fn paint(image: &HtmlImageElement, sheet: &Sheet) -> Result<(), JsValue> {
    let (width, height) = (sheet.width * FINE, sheet.height * FINE);
    let document = dom::document().ok_or(JsValue::NULL)?;
    let canvas: HtmlCanvasElement = document.create_element("canvas")?.dyn_into()?;
    canvas.set_width(width);
    canvas.set_height(height);
    let pen: CanvasRenderingContext2d = canvas.get_context("2d")?.ok_or(JsValue::NULL)?.dyn_into()?;
    pen.draw_image_with_html_image_element_and_dw_and_dh(image, 0.0, 0.0, f64::from(width), f64::from(height))?;
    let done = Closure::once_into_js(move |blob: JsValue| match blob.dyn_into::<Blob>() {
        Ok(blob) if save::blob(NAME, &blob).is_some() => {
            dom::write_id("plan-said", &format!("Saved as {NAME}, {width} by {height} pixels."));
        }
        _ => refused("save the image"),
    });
    canvas.to_blob(done.unchecked_ref())
}

fn refused(what: &str) {
    dom::write_id("plan-said", &format!("This browser could not {what}. Use Save as SVG instead."));
}
