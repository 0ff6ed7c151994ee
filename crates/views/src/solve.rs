//! Solve for one value: pick a result and the input to change.

use crate::context::{Context, Reading};
use clothyard_core::{Field, Output};
use clothyard_studies::analysis::choices;
use clothyard_studies::analysis::solve::{Found, Wanted};
use clothyard_web::bus::Event;
use clothyard_web::widgets::{field, select};
use clothyard_web::{self as dom, Dom, View};

const RESULT: &str = "solve-result";
const FIELD: &str = "solve-field";

#[derive(Default)]
pub(crate) struct Solve {
    /// The answer shown, for the button that puts it on the arrow.
    found: Option<Found>,
}

impl View<Context> for Solve {
    fn id(&self) -> &'static str {
        "solve"
    }

    fn open(&mut self, _: &Context) {
        select::complete(RESULT, choices::results());
        select::complete(FIELD, choices::inputs());
    }

    fn changed(&mut self, event: &Event, _: &Context) -> bool {
        matches!(event, Event::Setup | Event::Units)
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        let output = Output::by_key(&select::chosen(RESULT));
        dom::hide("solve-target-row", output.is_none());
        if let Some(output) = output {
            dom::write_id("solve-unit", now.units.of(output.row().quantity).symbol);
        }
        let found = find(&now, output);
        dom::write_id("solve-said", found.as_ref().err().map_or("", String::as_str));
        self.found = found.ok();
        dom::write_id("solve-answer", self.found.as_ref().map_or("", |found| &found.sentence));
        dom::hide("solve-load", self.found.is_none());
    }

    fn input(&mut self, _: &Dom, context: &Context) {
        self.show(context);
    }

    fn change(&mut self, _: &Dom, context: &Context) {
        self.show(context);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if dom.button_id() == "solve-load"
            && let (Some(found), Some(now)) = (&self.found, context.read())
            && let Some(setup) = found.put_on(now.evaluated())
        {
            context.load(&setup);
        }
    }
}

fn find(now: &Reading, output: Option<Output>) -> Result<Found, String> {
    let field = Field::by_key(&select::chosen(FIELD)).ok_or("Choose an input to change.")?;
    let wanted = Wanted::read(output, &field::text("solve-target"), &now.units)?;
    Found::new(now.evaluated(), wanted, field, &now.units)
}
