//! The rows of the sheet: one for each arrow.

use crate::production::batch::{self, Piece, pieces};
use crate::production::sort::Use;
use crate::production::words::fine;
use clothyard_core::Evaluation;
use clothyard_core::format::{self, fixed};
use clothyard_core::schema::{Field, List};
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

/// Headings of the rows of arrows.
#[must_use]
pub fn headings(units: &Units) -> Vec<String> {
    let weight = format::heading("Shaft weight", Quantity::Mass, units);
    vec!["No.".to_owned(), weight, "Spine".to_owned(), "Stiff side".to_owned()]
}

/// A row for each arrow: those of the matched set of the batch, then blank ones to write in.
pub(super) fn rows(setup: &Setup, all: &Evaluation, units: &Units) -> Vec<[String; 4]> {
    let batch = pieces(setup.lists.rows(List::Batch));
    let (_, sorted) = batch::sorted(&batch, all);
    let set = batch.iter().zip(&sorted.uses).filter(|(_, use_)| **use_ == Use::Set).map(|(piece, _)| {
        [
            piece.number.to_string(),
            fine(Quantity::Mass, piece.weight_gr, units),
            piece.spine.map_or_else(String::new, |spine| fixed(spine, 0)),
            stiff_angle(piece),
        ]
    });
    let count = all.resolved.number(Field::ArrowsToMake) as usize;
    let blank = || [const { String::new() }; 4];
    let mut rows: Vec<_> = set.take(count).collect();
    rows.resize_with(count, blank);
    rows
}

/// Where the mark for the nock goes, from the first spine reading.
fn stiff_angle(piece: &Piece) -> String {
    let angle = piece.stiff_side().and_then(|side| side.stiff_plane_rad);
    angle.map_or_else(String::new, |angle| format!("{}°", fixed(angle.to_degrees(), 0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::production::words::example;
    use clothyard_core::setup::samples;

    #[test]
    fn the_set_of_the_batch_comes_first_and_the_rest_is_blank() {
        let mut setup = samples::all().remove(0).setup;
        let made = |setup: &Setup| rows(setup, &Evaluation::of(setup), &Units::ARCHERY);
        assert!(made(&setup).iter().flatten().all(String::is_empty));
        setup.lists.set(List::Batch, example()).unwrap();
        let rows = made(&setup);
        assert_eq!(rows.len(), 12);
        // Of the invented dozen two are left out, so the set is half of it.
        let filled: Vec<_> = rows.iter().take_while(|row| !row[0].is_empty()).collect();
        assert_eq!((filled.len(), filled[0][..3].to_vec()), (6, ["1", "352.1", "401"].map(str::to_owned).to_vec()));
        assert!(rows[6..].iter().flatten().all(String::is_empty));
    }
}
