//! Measurements: entered, explained and compared with the calculation.

mod draw_force;
mod finished_arrow;
mod fit;
mod reference_arrow;
mod speeds;

pub(crate) use draw_force::DrawForce;
pub(crate) use finished_arrow::FinishedArrow;
pub(crate) use fit::Fits;
pub(crate) use reference_arrow::ReferenceArrow;
pub(crate) use speeds::Speeds;

use crate::context::{Context, Reading};
use clothyard_core::{Field, Value};
use clothyard_studies::measurements;
use clothyard_web as dom;
use std::rc::Rc;

/// What is on the page; what drives its speed and energy is said above the views.
fn read(context: &Context) -> Option<Rc<Reading>> {
    let now = context.read()?;
    dom::write_id("bench-drives", &measurements::drives_sentence(now.all()));
    Some(now)
}

/// Gives a field a value, or resets it; whether the field allows it.
fn give(context: &Context, now: &Reading, field: Field, value: Option<f64>) -> bool {
    let mut setup = now.setup.clone();
    let given = setup.set(field, value.map(Value::Number)).is_ok();
    if given {
        context.load(&setup);
    }
    given
}
