//! The picture's shapes in the page; one that has not changed is left alone.

use clothyard_core::drawing::Mark;
use clothyard_core::format;
use clothyard_studies::lesson::pictures::Drawing;
use clothyard_web::{self as dom, shapes};
use web_sys::Element;

/// The shapes drawn last.
#[derive(Default)]
pub(super) struct Canvas(Vec<(Element, Mark)>);

impl Canvas {
    /// Draws.
    pub(super) fn draw(&mut self, drawing: &Drawing) {
        let (Some(svg), Some(marks)) = (dom::by_id("projector-picture"), dom::by_id("projector-marks")) else { return };
        let (width, height) = drawing.size;
        dom::set(&svg, "viewBox", &format!("0 0 {} {}", format::fixed(width, 1), format::fixed(height, 1)));
        let same_kind = |new: &Mark, old: &Mark| {
            core::mem::discriminant(&new.shape) == core::mem::discriminant(&old.shape) && new.style == old.style
        };
        let alike = self.0.len() == drawing.marks.len()
            && drawing.marks.iter().zip(&self.0).all(|(new, (_, old))| same_kind(new, old));
        if !alike {
            dom::empty(&marks);
            let add = |mark: &Mark| Some((shapes::add(&marks, &mark.shape, mark.style)?, mark.clone()));
            self.0 = drawing.marks.iter().filter_map(add).collect();
            return;
        }
        for ((element, old), new) in self.0.iter_mut().zip(&drawing.marks) {
            if old.shape != new.shape {
                shapes::outline(element, &new.shape);
                old.shape.clone_from(&new.shape);
            }
        }
    }
}
