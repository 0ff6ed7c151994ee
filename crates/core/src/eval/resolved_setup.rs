//! The way from a setup to what follows from it directly, the same for all who go it: candidates, default shaft,
//! resolved inputs, physical model, outputs.

use crate::eval::{Outputs, ShaftChoice, outputs};
use crate::schema::OwnPart;
use crate::setup::{ModelError, PhysicalModel, Resolved, Setup};

/// A setup with every field resolved, its physical model, and every output but the answers to inverse questions.
#[derive(Clone, Debug)]
pub struct ResolvedSetup {
    /// Every field's value.
    pub resolved: Resolved,
    /// Bow and arrow in SI; none where the fields make none.
    pub model: Option<PhysicalModel>,
    /// Every output that could be computed.
    pub outputs: Outputs,
    /// Why there is no model, or no arrow; none where all that is missing is a column load behind the rest.
    pub error: Option<ModelError>,
}

impl ResolvedSetup {
    /// Resolves a setup with the default shaft of its list.
    #[must_use]
    pub fn new(setup: &Setup) -> Self {
        Self::of(ShaftChoice::new(setup).resolve(), &setup.own_parts)
    }

    /// Goes on from inputs that are resolved already: those of a "what if".
    #[must_use]
    pub fn of(resolved: Resolved, own_parts: &[OwnPart]) -> Self {
        let mut outputs = Outputs::NONE;
        outputs::compute_lengths(&mut outputs, &resolved);
        let (model, error) = match PhysicalModel::new(&resolved, own_parts) {
            Ok(model) => {
                let error = outputs::compute_arrow(&mut outputs, &resolved, &model).err();
                (Some(model), error)
            }
            Err(error) => (None, Some(error)),
        };
        Self { resolved, model, outputs, error }
    }
}
