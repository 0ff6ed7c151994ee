//! The warnings in sentences.

use crate::state::App;
use clothyard_core::eval::Warning;
use clothyard_web as dom;
use clothyard_web::widgets::list;

pub(crate) fn show(app: &App) {
    let sentence = |warning: &Warning| format!("{}: {}", warning.severity().word(), warning.sentence(&app.units));
    let warnings = &app.evaluation.warnings;
    list::lines("caution-list", &warnings.iter().map(sentence).collect::<Vec<_>>());
    dom::hide("cautions", warnings.is_empty());
}
