//! Any number of kept set-ups in one table.

use super::grid::Grid;
use super::store;
use clothyard_core::{Evaluation, Units};
use clothyard_studies::analysis::compare::MAIN_LINES;
use clothyard_studies::sharing::reading::{KeptSetup, ReadableSetups};
use clothyard_web as dom;
use web_sys::Element;

/// So many are chosen at first; each costs a full evaluation.
const CHOSEN_AT_FIRST: usize = 6;

/// The key of the set-up on the page among the kept ones; no kept one has it.
const ON_PAGE: &str = "";

/// A kept set-up that may stand in the table, answered when it first does.
struct Column {
    kept: KeptSetup,
    chosen: bool,
    answered: Option<Evaluation>,
}

/// The kept set-ups, and which of them stand in the table.
pub(super) struct Table {
    text: String,
    columns: Vec<Column>,
    page_chosen: bool,
    choices_stale: bool,
    grid: Grid,
}

impl Default for Table {
    fn default() -> Self {
        Self { text: String::new(), columns: Vec::new(), page_chosen: true, choices_stale: true, grid: Grid::default() }
    }
}

impl Table {
    /// Reads the list anew if it has been written; choices and answers that still hold are kept.
    pub(super) fn read(&mut self) {
        let text = store::kept_text();
        if text == self.text {
            return;
        }
        let found = store::kept(&text);
        let remark = match &found {
            Ok(ReadableSetups { unread: 0, .. }) => String::new(),
            Ok(ReadableSetups { unread: 1, .. }) => "One kept set-up cannot be read here and is left out.".to_owned(),
            Ok(list) => format!("{} kept set-ups cannot be read here and are left out.", list.unread),
            Err(error) if error.is_newer() => {
                "The list of kept set-ups cannot be read: a newer version of this page wrote it.".to_owned()
            }
            Err(error) => format!("The list of kept set-ups cannot be read: {}", error.message),
        };
        let list = found.map(|list| list.setups).unwrap_or_default();
        dom::write_id("beside-kept-said", &remark);
        let mut before = core::mem::take(&mut self.columns);
        for kept in list {
            let same =
                before.iter().position(|column| column.kept.id == kept.id).map(|place| before.swap_remove(place));
            let first = self.columns.len() < CHOSEN_AT_FIRST;
            let (chosen, answered) = match same {
                Some(old) if old.kept.setup == kept.setup => (old.chosen, old.answered),
                Some(old) => (old.chosen, None),
                None => (first, None),
            };
            self.columns.push(Column { kept, chosen, answered });
        }
        self.text = text;
        self.choices_stale = true;
    }

    /// Takes a set-up into the table, or out of it.
    pub(super) fn choose(&mut self, id: &str, on: bool) {
        if id == ON_PAGE {
            self.page_chosen = on;
        }
        for column in self.columns.iter_mut().filter(|column| column.kept.id == id) {
            column.chosen = on;
        }
    }

    /// Shows the choices and the table.
    pub(super) fn show(&mut self, on_page: &Evaluation, units: &Units) {
        let none = self.columns.is_empty();
        dom::hide("beside-none-kept", !none);
        dom::hide("beside-choose", none);
        if core::mem::take(&mut self.choices_stale) {
            self.show_choices();
        }
        for column in &mut self.columns {
            if column.chosen && column.answered.is_none() {
                column.answered = Some(Evaluation::of(&column.kept.setup));
            }
        }
        let page = self.page_chosen.then_some(("On the page", on_page));
        let kept = self.columns.iter().filter(|column| column.chosen);
        let kept = kept.filter_map(|column| Some((name(&column.kept), column.answered.as_ref()?)));
        let chosen: Vec<_> = page.into_iter().filter(|_| !none).chain(kept).collect();
        dom::hide("beside-kept-scroll", chosen.is_empty());
        dom::hide("beside-none-chosen", none || !chosen.is_empty());
        show_heads(&chosen);
        let rows =
            MAIN_LINES.map(|line| (line.label(), chosen.iter().map(|(_, all)| line.words(all, units)).collect()));
        self.grid.show("beside-kept", rows.into());
    }

    fn show_choices(&self) {
        let Some(list) = dom::by_id("beside-choices") else { return };
        dom::empty(&list);
        choice(&list, ON_PAGE, "On the page", self.page_chosen);
        for column in &self.columns {
            choice(&list, &column.kept.id, name(&column.kept), column.chosen);
        }
    }
}

fn name(kept: &KeptSetup) -> &str {
    if kept.setup.name.is_empty() { "without a name" } else { &kept.setup.name }
}

fn choice(list: &Element, id: &str, name: &str, on: bool) {
    let Some(label) = dom::add(list, "label", "tick", "") else { return };
    let Some(input) = dom::add(&label, "input", "", "") else { return };
    dom::set(&input, "type", "checkbox");
    dom::set(&input, "data-kept", id);
    dom::flag(&input, "checked", on);
    dom::add(&label, "span", "", name);
}

/// The names over the columns.
fn show_heads(chosen: &[(&str, &Evaluation)]) {
    let head = dom::by_id("beside-kept").and_then(|table| table.query_selector("thead tr").ok()?);
    let Some(head) = head else { return };
    let names: Vec<_> = core::iter::once("Result").chain(chosen.iter().map(|&(name, _)| name)).collect();
    if head.text_content().as_deref() == Some(&names.concat()) && head.child_element_count() as usize == names.len() {
        return;
    }
    dom::empty(&head);
    for name in names {
        if let Some(heading) = dom::add(&head, "th", "", name) {
            dom::set(&heading, "scope", "col");
        }
    }
}
