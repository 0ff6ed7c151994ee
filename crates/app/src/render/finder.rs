//! A search over every field and tool.

use clothyard_core::parse::cut_at;
use clothyard_core::schema::Field;
use clothyard_web as dom;
use clothyard_web::widgets::field;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlDialogElement, HtmlElement};

/// At most so many are listed.
const MOST: usize = 12;

fn dialog() -> Option<HtmlDialogElement> {
    dom::by_id("finder")?.dyn_into().ok()
}

/// Opens the search.
pub(crate) fn open() {
    let Some(dialog) = dialog().filter(|dialog| !dialog.open()) else { return };
    field::overwrite("finder-text", "");
    show();
    let _ = dialog.show_modal();
}

/// Closes the search, when something in it was followed.
pub(crate) fn close() {
    dialog().iter().for_each(HtmlDialogElement::close);
}

/// Goes to the first that was found.
pub(crate) fn take_first() {
    let first = dom::by_id("finder-list").and_then(|list| list.query_selector("a").ok()?);
    first.and_then(|link| link.dyn_into::<HtmlElement>().ok()).iter().for_each(HtmlElement::click);
}

/// Lists what has the words typed in its name.
pub(crate) fn show() {
    let Some(list) = dom::by_id("finder-list") else { return };
    let wanted = field::text("finder-text").trim().to_ascii_lowercase();
    dom::empty(&list);
    let fits = |name: &str| !wanted.is_empty() && cut_at(&name.to_ascii_lowercase(), &wanted).is_some();
    let tools = tools().into_iter().filter(|(name, _)| fits(name));
    let fields = Field::ALL.into_iter().map(Field::input).filter(|input| fits(input.label));
    let fields = fields.map(|input| (input.label.to_owned(), format!("#{}", input.key)));
    for (name, href) in tools.chain(fields).take(MOST) {
        add(&list, &name, &href);
    }
    let none = list.child_element_count() == 0 && !wanted.is_empty();
    dom::write_id("finder-none", if none { "Nothing found." } else { "" });
}

fn add(list: &Element, name: &str, href: &str) {
    let link = dom::add(list, "li", "", "").and_then(|row| dom::add(&row, "a", "", name));
    link.iter().for_each(|link| dom::set(link, "href", href));
}

/// The links to the tools: their names and where they go.
fn tools() -> Vec<(String, String)> {
    let all = dom::document().and_then(|document| document.query_selector_all("#all-tools a, #tasks b").ok());
    let Some(all) = all else { return Vec::new() };
    let tool = |place| {
        let element = all.get(place)?.dyn_into::<Element>().ok()?;
        let link = element.closest("a").ok()??;
        Some((element.text_content()?, link.get_attribute("href")?))
    };
    (0..all.length()).filter_map(tool).collect()
}
