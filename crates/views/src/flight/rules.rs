//! The rules check: limits compared with the setup, and examples to start from.

use crate::context::Context;
use clothyard_studies::flight::rules;
use clothyard_studies::flight::rules::{RULE_BOOKS, RuleBook};
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, View};

const ID: &str = "rules";
const BOOK: &str = "rules-book";
const SOURCE: &str = "rules-source";

#[derive(Default)]
pub(crate) struct Rules {
    /// What was last written as the rule book.
    written: Option<String>,
}

impl Rules {
    /// Writes the rule book of the setup where it has become another and a hand is not in its field.
    fn follow(&mut self, source: &str) {
        let changed = self.written.replace(source.to_owned()).as_deref() != Some(source);
        if changed && field::text(SOURCE).trim() != source {
            field::write(SOURCE, source);
            say("");
        }
    }
}

impl View<Context> for Rules {
    fn id(&self) -> &'static str {
        ID
    }

    fn open(&mut self, _: &Context) {
        select::complete(BOOK, RULE_BOOKS.iter().map(|book| (book.key, book.label)));
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.follow(&now.setup.rule_source);
        let limits = rules::limits(now.all());
        dom::write_id("rules-words", &rules::sentence(&limits));
        let Some(list) = dom::by_id("rules-verdicts") else { return };
        dom::empty(&list);
        for limit in &limits {
            dom::add(
                &list,
                "li",
                if limit.is_kept() == Some(false) { "outside" } else { "" },
                &limit.sentence(&now.units),
            );
        }
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if dom.button_id() == "rules-put-on" {
            put_on(context);
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        if dom.id() == SOURCE {
            typed(context);
        }
    }
}

fn say(words: &str) {
    field::say(SOURCE, "rules-source-said", words);
}

/// Keeps what was typed as the rule book; one too long stays in the field with what is allowed.
fn typed(context: &Context) {
    let Some(setup) = context.setup() else { return };
    match rules::with_source(&setup, &field::text(SOURCE)) {
        Ok(changed) => {
            say("");
            if changed != setup {
                context.load(&changed);
            }
        }
        Err(why) => say(&why),
    }
}

fn put_on(context: &Context) {
    let (Some(setup), Some(book)) = (context.setup(), RuleBook::by_key(&select::chosen(BOOK))) else { return };
    if let Ok(setup) = book.put_on(&setup) {
        context.load(&setup);
        dom::write_id("rules-put-on-said", &format!("Limits in use: {}. Undo removes them.", book.source));
    }
}
