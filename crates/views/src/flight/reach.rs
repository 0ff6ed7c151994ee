//! Maximum range.

use super::Shots;
use crate::context::Context;
use clothyard_studies::flight::reach::{LAYOUT, farthest};
use clothyard_web::widgets::or_why;
use clothyard_web::{self as dom, View};
use std::rc::Rc;

const ID: &str = "reach";

pub(crate) struct Reach(Rc<Shots>);

impl Reach {
    pub(crate) fn new(shots: &Rc<Shots>) -> Self {
        Self(shots.clone())
    }
}

impl View<Context> for Reach {
    fn id(&self) -> &'static str {
        ID
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = self.0.now(context) else { return };
        let answer = now.shot().and_then(|shot| farthest(shot).map_err(|error| error.sentence().to_owned()));
        let Some(reach) = or_why(ID, answer) else { return };
        dom::write_id("reach-words", &reach.sentence(&now.units));
        dom::write_id("reach-layout", LAYOUT);
    }
}
