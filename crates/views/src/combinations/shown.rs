//! What is shown of the combinations: ranking, matrix, why nothing is found, and the tray.

use super::{Combinations, form};
use crate::context::Context;
use clothyard_core::format;
use clothyard_studies::analysis::combinations::cell_text::CellFormat;
use clothyard_studies::analysis::combinations::loosen::explain;
use clothyard_studies::analysis::combinations::matrix::Matrix;
use clothyard_studies::analysis::combinations::ranking::Ranking;
use clothyard_web as dom;
use clothyard_web::widgets::{field, select};

impl Combinations {
    /// Shows what there is of the ranking and the matrix.
    pub(super) fn show_run(&mut self) {
        let Some(run) = &self.run else { return };
        let limits = self.limits.in_force();
        let format = CellFormat::new(&select::chosen("combine-shown"), limits, &self.units);
        let ranking = Ranking::new(run, limits, &self.filters, self.sort, self.rows);
        dom::write_id("combine-found", &ranking.sentence(run, self.sort));
        let is_starred = |index| run.grid.setup_at(&run.setup, index).is_some_and(|setup| self.tray.has(&setup));
        self.ranking.show(run, &format, (&ranking, self.sort), self.on_form, is_starred);
        dom::hide("combine-scroll", ranking.found == 0);
        dom::hide("combine-more", ranking.rows.len() >= ranking.found);
        let matrix = Matrix::new(run, &select::chosen(form::DOWN), &select::chosen(form::ACROSS));
        if let Some((down, across)) = matrix.axes(run) {
            select::choose(form::DOWN, down.kind.key());
            select::choose(form::ACROSS, across.kind.key());
        }
        self.matrix.show(run, &format, (matrix, &self.filters), self.on_form);
        dom::write_id("combine-key", format.explanation());
        if let Some(save) = dom::by_id("combine-save") {
            dom::flag(&save, "disabled", !run.is_at_rest());
        }
        self.explain(ranking.found == 0);
    }

    /// Says which limit is in the way where nothing is found, and offers to move it.
    fn explain(&mut self, nothing_found: bool) {
        let run = self.run.as_ref().filter(|run| nothing_found && run.is_at_rest());
        let explained = run.map(|run| {
            let admitted = run.points().iter().filter(|point| self.filters.admit(run, point.index));
            explain(run, &admitted.collect::<Vec<_>>(), self.limits.in_force(), &self.units)
        });
        let (words, loosening) = explained.unwrap_or_default();
        dom::write_id("combine-why", &words);
        dom::hide("combine-loosen", loosening.is_none());
        self.loosening = loosening;
    }

    /// Moves the limit that is in the way.
    pub(super) fn loosen(&mut self) {
        let Some(loosening) = self.loosening.take() else { return };
        let end = if loosening.least { "least" } else { "most" };
        field::overwrite(&format!("combine-{end}-{}", loosening.metric.key()), &loosening.entered);
        self.limits.type_end(end, loosening.metric, &loosening.entered, &self.units);
        self.say_limits();
        self.show_run();
    }

    /// Puts a combination into the tray, or takes it out.
    pub(super) fn star(&mut self, index: usize, context: &Context) {
        let Some(run) = &self.run else { return };
        let Some(setup) = run.grid.setup_at(&run.setup, index) else { return };
        let done = self.tray.toggle(setup, format::upper_first(&run.words(index, &self.units)));
        dom::write_id("combine-status", done.err().as_deref().unwrap_or_default());
        self.show_run();
        self.show_tray(context);
    }

    pub(super) fn show_tray(&mut self, context: &Context) {
        if let Some(now) = context.read() {
            self.tray.show(now.all(), &now.units);
        }
    }
}
