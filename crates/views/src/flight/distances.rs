//! Distance by distance: the user's list, the table, the file.

use super::now::{Legs, Now};
use super::shown;
use crate::{ask, page, save};
use clothyard_core::schema::List;
use clothyard_core::{Setup, Units};
use clothyard_studies::flight::table;
use clothyard_studies::flight::table::Cells;
use clothyard_studies::flight::{legs, listing};
use clothyard_web as dom;
use std::cell::RefCell;
use web_sys::{Element, Event};

const LIST: &str = "distances-list";
const LIST_SAID: &str = "distances-list-said";

thread_local! {
    /// The list that was last written into the field, in the saved unit.
    static WRITTEN: RefCell<Option<String>> = const { RefCell::new(None) };
}

pub(super) fn start() {
    if let Some(list) = dom::by_id(LIST) {
        dom::listen(&list, "change", |_: Event| typed());
    }
    if let Some(button) = dom::by_id("distances-csv") {
        dom::listen(&button, "click", |_: Event| to_file());
    }
}

pub(super) fn show(now: &Now) {
    follow(&now.reading.setup, &now.units);
    let Some((shot, legs)) = shown::or_why("distances", now.legs()) else { return };
    let units = &now.units;
    dom::write_id("distances-words", &table::takeaway(shot, legs, units));
    dom::write_id("distances-wind", &table::wind(&now.reading.all().resolved, units));
    ask::headings("distances-table", &table::headings(units));
    let Some(body) = ask::fresh_body("distances-table") else { return };
    let page = table::rows(&now.distances_m, legs, units);
    let held = held_legs(now).map(|legs| table::rows(&now.distances_m, &legs, units));
    dom::hide("distances-held", held.is_none());
    let mut held = held.map(Vec::into_iter);
    for cells in page {
        match held.as_mut().and_then(Iterator::next) {
            Some(of_a) => {
                row(&body, " A", &of_a);
                row(&body, " B", &cells);
            }
            None => row(&body, "", &cells),
        }
    }
}

/// The set-up held at the same distances; none where none is held or it does not fly.
fn held_legs(now: &Now) -> Option<Legs> {
    legs::legs(now.held_shot()?, &now.distances_m).ok()
}

fn row(body: &Element, letter: &str, (distance, cells): &Cells) {
    let heading = format!("{distance}{letter}");
    match cells {
        Ok(cells) => {
            let row = shown::row(body, &heading, cells);
            row.iter().filter(|_| letter == " A").for_each(|row| dom::class(row, "held", true));
        }
        Err(why) => {
            let Some(row) = shown::row(body, &heading, []) else { return };
            let width = table::headings(&Units::ARCHERY).len() - 1;
            dom::add(&row, "td", "why", why).iter().for_each(|cell| dom::set(cell, "colspan", &width.to_string()));
        }
    }
}

/// Writes the list into its field, unless what is typed there means the same or cannot be read and is still to be
/// mended.
fn follow(setup: &Setup, units: &Units) {
    dom::write_id("distances-unit", units.of(clothyard_core::Quantity::Distance).symbol);
    dom::write_id("distances-note", &listing::sentence(setup, units));
    let saved = listing::text(setup, &Units::ARCHERY);
    let changed = WRITTEN.with_borrow_mut(|written| written.replace(saved.clone()) != Some(saved));
    let typed = listing::read(&ask::text(LIST), units);
    if typed.as_deref() == Ok(setup.lists.rows(List::Distances)) || typed.is_err() && !changed {
        return;
    }
    ask::write(LIST, &listing::text(setup, units));
    say("");
}

fn say(words: &str) {
    dom::write_id(LIST_SAID, words);
    if let Some(list) = dom::by_id(LIST) {
        dom::set(&list, "aria-invalid", if words.is_empty() { "false" } else { "true" });
    }
}

/// Reads the list; a text that cannot be read is kept, with what is wrong with it.
fn typed() {
    let Some(now) = page::read() else { return };
    match listing::read(&ask::text(LIST), &now.units) {
        Ok(rows) => {
            say("");
            let mut setup = now.setup.clone();
            if setup.lists.rows(List::Distances) != rows && setup.lists.set(List::Distances, rows).is_ok() {
                page::load(&setup);
            }
        }
        Err(why) => say(&why),
    }
}

fn to_file() {
    let Some(now) = Now::read() else { return };
    let Ok((_, page)) = now.legs() else { return };
    let sets = match held_legs(&now) {
        Some(held) => vec![("A", held), ("B", page.clone())],
        None => vec![("", page.clone())],
    };
    let said = match save::file("clothyard-distances.csv", "text/csv", &table::to_csv(&sets, &now.units)) {
        Some(()) => "",
        None => "This browser would not write a file.",
    };
    dom::write_id("distances-saved", said);
}
