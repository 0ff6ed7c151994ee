//! Copies the arrow as text to order or cut by.

use crate::render::Known;
use crate::state::App;
use clothyard_core::format;
use clothyard_web as dom;
use clothyard_web::save;
use clothyard_web::widgets::list;

/// The lines of the text: a danger first.
fn lines(app: &App) -> Vec<String> {
    let day = js_sys::Date::new_0().to_iso_string();
    let day = String::from(day).split('T').next().unwrap_or_default().to_owned();
    let shaft = app.evaluation.own_list_shaft(&app.setup);
    format::order(&app.evaluation, &app.setup.own_parts, shaft, &day, &app.units)
}

/// Writes the text where the printed page has it.
pub(crate) fn write(app: &App) {
    let lines = if Known::of(app).answers() { lines(app) } else { Vec::new() };
    list::lines("order-lines", &lines);
}

/// Saves the text as a table.
pub(crate) fn save(app: &mut App) {
    let said = match save::csv("arrow.csv", &format::order_table(&lines(app))) {
        Some(()) => "Saved as arrow.csv in your downloads.",
        None => "The browser blocked saving the file.",
    };
    app.announcer.announce(said.to_owned());
}

/// Copies the text.
pub(crate) fn copy(app: &mut App) {
    let clipboard = dom::window().map(|window| window.navigator().clipboard());
    // Outside secure contexts there is no clipboard, whatever its type says.
    let done = match clipboard.filter(|clipboard| !clipboard.is_undefined()) {
        Some(clipboard) => {
            let _ = clipboard.write_text(&lines(app).join("\n"));
            "Copied"
        }
        None => "Not copied: use Print",
    };
    dom::write_id("copy", done);
    app.announcer.announce(done.to_owned());
    clothyard_web::bus::later(crate::post, 2000, crate::update::COPIED);
}
