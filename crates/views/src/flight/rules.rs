//! Within the rules: the limits on the page against the set-up, and examples to start from.

use super::now::Now;
use crate::{ask, page};
use clothyard_studies::flight::rules;
use clothyard_studies::flight::rules::{RULE_BOOKS, RuleBook};
use clothyard_web as dom;
use std::cell::RefCell;
use web_sys::Event;

const SOURCE: &str = "rules-source";
const SOURCE_SAID: &str = "rules-source-said";

thread_local! {
    /// What was last written as the rule book.
    static WRITTEN: RefCell<Option<String>> = const { RefCell::new(None) };
}

pub(super) fn start() {
    ask::complete("rules-book", RULE_BOOKS.iter().map(|book| (book.key, book.label)));
    if let Some(button) = dom::by_id("rules-put-on") {
        dom::listen(&button, "click", |_: Event| put_on());
    }
    if let Some(source) = dom::by_id(SOURCE) {
        dom::listen(&source, "change", |_: Event| typed());
    }
}

pub(super) fn show(now: &Now) {
    let (setup, all) = (&now.reading.setup, now.reading.all());
    let changed = WRITTEN.with_borrow_mut(|written| {
        written.replace(setup.rule_source.clone()).as_deref() != Some(setup.rule_source.as_str())
    });
    if changed && ask::text(SOURCE).trim() != setup.rule_source {
        ask::write(SOURCE, &setup.rule_source);
        say("");
    }
    let limits = rules::limits(all);
    dom::write_id("rules-words", &rules::sentence(&limits));
    let Some(list) = dom::by_id("rules-verdicts") else { return };
    dom::empty(&list);
    for limit in &limits {
        dom::add(&list, "li", if limit.is_kept() { "" } else { "outside" }, &limit.sentence(&now.units));
    }
}

fn say(words: &str) {
    dom::write_id(SOURCE_SAID, words);
    if let Some(source) = dom::by_id(SOURCE) {
        dom::set(&source, "aria-invalid", if words.is_empty() { "false" } else { "true" });
    }
}

/// Keeps what was typed as the rule book; one too long stays in the field with what is allowed.
fn typed() {
    let Some(setup) = page::setup() else { return };
    match rules::with_source(&setup, &ask::text(SOURCE)) {
        Ok(changed) => {
            say("");
            if changed != setup {
                page::load(&changed);
            }
        }
        Err(why) => say(&why),
    }
}

fn put_on() {
    let (Some(setup), Some(book)) = (page::setup(), RuleBook::by_key(&ask::chosen("rules-book"))) else { return };
    if let Ok(setup) = book.put_on(&setup) {
        page::load(&setup);
        dom::write_id("rules-put-on-said", &format!("On the page now: {}. Undo takes them off.", book.source));
    }
}
