//! Air and drag.

use super::{Shots, terms};
use crate::context::Context;
use clothyard_studies::flight::slowing;
use clothyard_web::widgets::or_why;
use clothyard_web::widgets::table::Table;
use clothyard_web::{self as dom, View};
use std::rc::Rc;

const ID: &str = "conditions";

pub(crate) struct Air {
    shots: Rc<Shots>,
    terms: Table,
}

impl Air {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        Self { shots: shots.clone(), terms: Table::new("conditions-terms") }
    }
}

impl View<Context> for Air {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.shots.now(context) else { return };
        let Some(shot) = or_why(ID, now.shot()) else { return };
        let (resolved, units) = (&now.reading.all().resolved, &now.units);
        dom::write_id("conditions-drag", &slowing::which(shot, resolved, units));
        dom::write_id("conditions-slows", &slowing::effect(shot, units));
        self.terms.show_rows(terms(slowing::working(shot, units)));
    }
}
