//! Sets of vanes on the same arrow: which steer enough for the point, and what they cost in drag and weight.

use super::shot::{Answer, Shot, drag_shape};
use clothyard_core::eval::Baseline;
use clothyard_core::format::{self, change, fixed, heading, lower_first, measured, trimmed};
use clothyard_core::schema::{Field, VaneOutline};
use clothyard_core::setup::{PhysicalModel, flying};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::Drag;

/// A set of equal vanes: how many, length and height in inches, weight of each in grains, outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vanes {
    count: f64,
    length_in: f64,
    height_in: f64,
    mass_gr: f64,
    outline: VaneOutline,
}

/// Low, high and long vanes as they are sold (sizes and weights from memory, no source).
const USUAL: [Vanes; 3] = [
    Vanes { count: 3.0, length_in: 3.0, height_in: 0.35, mass_gr: 6.0, outline: VaneOutline::LowProfile },
    Vanes { count: 3.0, length_in: 2.0, height_in: 0.55, mass_gr: 6.5, outline: VaneOutline::Shield },
    Vanes { count: 3.0, length_in: 4.0, height_in: 0.5, mass_gr: 10.0, outline: VaneOutline::Parabola },
];

/// A set of vanes on the arrow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VaneSet {
    /// The vanes.
    pub vanes: Vanes,
    /// Whether they are those of the setup.
    pub present: bool,
    /// Static margin over the arrow's length.
    pub margin: f64,
    /// Whether that is the margin wanted.
    pub enough: bool,
    /// Drag coefficient of the arrow at launch.
    pub drag: f64,
    /// Weight of the arrow in grains.
    pub arrow_gr: f64,
}

/// The vanes of the setup, the same in another number, and the usual ones: those that steer enough by their drag, the
/// least first, then the others by their margin.
///
/// # Errors
/// [`super::FlightError`] where the arrow of the setup has no answer; another set without one is left out.
pub fn ranked(held: &Baseline<'_>, shot: &Shot) -> Answer<Vec<VaneSet>> {
    let present = present(held);
    let mut list = vec![on_arrow(held, shot, present, true)?];
    for vanes in core::iter::once(&present).chain(&USUAL).flat_map(|&vanes| three_and_four(vanes)) {
        let known = list.iter().any(|set| set.vanes == vanes);
        if let (false, Ok(set)) = (known, on_arrow(held, shot, vanes, false)) {
            list.push(set);
        }
    }
    list.sort_by(|one, other| order(one).total_cmp(&order(other)));
    Ok(list)
}

/// Sets that are enough come first, by drag; the others after every drag coefficient there is, by margin.
fn order(set: &VaneSet) -> f64 {
    if set.enough { set.drag } else { 1e6 - set.margin }
}

fn three_and_four(vanes: Vanes) -> [Vanes; 2] {
    [3.0, 4.0].map(|count| Vanes { count, ..vanes })
}

fn present(held: &Baseline<'_>) -> Vanes {
    let number = |field| held.resolved.number(field);
    Vanes {
        count: number(Field::VaneCount),
        length_in: number(Field::VaneLength),
        height_in: number(Field::VaneHeight),
        mass_gr: number(Field::VaneMass),
        outline: held.resolved.choice(),
    }
}

fn on_arrow(held: &Baseline<'_>, shot: &Shot, vanes: Vanes, present: bool) -> Answer<VaneSet> {
    let resolved = held
        .resolved
        .with(Field::VaneCount, vanes.count)
        .with(Field::VaneLength, vanes.length_in)
        .with(Field::VaneHeight, vanes.height_in)
        .with(Field::VaneMass, vanes.mass_gr);
    let model = PhysicalModel::new(&resolved, &held.setup().own_parts)?;
    let mut arrow = flying(&resolved, &model)?;
    if let Some(fitted) = &mut arrow.shape.vanes {
        fitted.outline = vanes.outline;
    }
    let margin = arrow.stability()?.margin_of_length;
    let drag = Drag::built_up(&drag_shape(&resolved, &model, arrow.shape.vanes))?;
    Ok(VaneSet {
        vanes,
        present,
        margin,
        enough: margin >= resolved.si(Field::MarginWanted),
        drag: drag.coefficient(shot.speed_m_per_s, &shot.air),
        arrow_gr: Quantity::Mass.from_si(arrow.mass_kg),
    })
}

impl Vanes {
    /// `3 x 2 in, 0.55 in high, shield cut, 6.5 gr each`.
    #[must_use]
    pub fn words(&self, units: &Units) -> String {
        let small = |inches: f64| format::entered_with_unit(Quantity::SmallLength, inches, units);
        let outline = format::value(Field::VaneOutline.input(), self.outline.into(), units);
        format!(
            "{} x {}, {} high, {}, {} each",
            trimmed(self.count, 0),
            small(self.length_in),
            small(self.height_in),
            lower_first(&outline),
            format::entered_with_unit(Quantity::Mass, self.mass_gr, units)
        )
    }
}

/// Headings of the table.
#[must_use]
pub fn headings(units: &Units) -> [String; 5] {
    [
        "Vanes".to_owned(),
        "Margin, % of length".to_owned(),
        "Steering".to_owned(),
        "Drag".to_owned(),
        heading("Arrow", Quantity::Mass, units),
    ]
}

/// The rows of the table; drag against that of the vanes of the setup.
#[must_use]
pub fn rows(list: &[VaneSet], units: &Units) -> Vec<[String; 5]> {
    let present = list.iter().find(|set| set.present).map_or(1.0, |set| set.drag);
    let row = |set: &VaneSet| {
        let now = if set.present { ", current" } else { "" };
        let steering = match set {
            VaneSet { enough: true, .. } => "enough",
            VaneSet { margin, .. } if *margin > 0.0 => "too small",
            _ => "not stable",
        };
        [
            set.vanes.words(units) + now,
            fixed(100.0 * set.margin, 1),
            steering.to_owned(),
            change(Quantity::Percent, 100.0 * (set.drag / present - 1.0), units),
            format::bare(Quantity::Mass, set.arrow_gr, units),
        ]
    };
    list.iter().map(row).collect()
}

/// Whether the vanes of the setup are enough for the point, and which set is with the least drag.
#[must_use]
pub fn sentence(list: &[VaneSet], held: &Baseline<'_>, units: &Units) -> String {
    let Some(present) = list.iter().find(|set| set.present) else { return String::new() };
    let wanted = measured(Quantity::Percent, held.resolved.number(Field::MarginWanted), units);
    let enough = if present.enough { "enough" } else { "too small" };
    let least = match list.first().filter(|set| set.enough) {
        Some(set) if set.present => "None of the sets below steers enough with less drag.".to_owned(),
        Some(set) => format!("Least drag that is enough: {}.", set.vanes.words(units)),
        None => "No set below is enough: use a smaller head, or a heavier point.".to_owned(),
    };
    format!("Your vanes are {enough} for this point (target margin {wanted}). {least}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::schema::PointKind;
    use clothyard_core::setup::samples;

    fn sets(kind: PointKind, wanted: f64) -> (Vec<VaneSet>, String) {
        let mut setup: Setup = samples::all().remove(0).setup.with(Field::MarginWanted, wanted).unwrap();
        setup.choose(kind);
        let all = Evaluation::of(&setup);
        let held = Baseline::new(&setup);
        let list = ranked(&held, &Shot::of(&all).unwrap()).unwrap();
        let words = sentence(&list, &held, &Units::ARCHERY);
        (list, words)
    }

    #[test]
    fn the_sets_that_steer_enough_come_first_by_their_drag() {
        let (list, words) = sets(PointKind::FixedBlade, 15.0);
        assert_eq!(list.iter().filter(|set| set.present).count(), 1);
        assert_eq!(list.len(), 8, "own and three usual ones, each by three and four");
        let enough = list.iter().take_while(|set| set.enough).count();
        assert!(enough > 0 && enough < list.len(), "{list:?}");
        let (good, bad) = list.split_at(enough);
        assert!(good.is_sorted_by(|one, other| one.drag <= other.drag && other.margin >= 0.15));
        assert!(bad.is_sorted_by(|one, other| one.margin >= other.margin && other.margin < 0.15));
        assert!(words.contains("enough: ") || words.contains("None of the sets"), "{words}");
    }

    #[test]
    fn a_fourth_vane_steers_drags_and_weighs_more() {
        let (list, _) = sets(PointKind::FixedBlade, 15.0);
        for three in list.iter().filter(|set| set.vanes.count == 3.0) {
            let four = list.iter().find(|set| set.vanes == Vanes { count: 4.0, ..three.vanes }).unwrap();
            assert!(four.margin > three.margin && four.drag > three.drag, "{three:?} {four:?}");
            assert!((four.arrow_gr - three.arrow_gr - three.vanes.mass_gr).abs() < 1e-9);
        }
    }

    #[test]
    fn a_head_wants_more_vane_than_a_field_point() {
        let margin = |kind| sets(kind, 15.0).0.into_iter().find(|set| set.present).unwrap().margin;
        assert!(margin(PointKind::Field) > margin(PointKind::FoldingBlade));
        assert!(margin(PointKind::FoldingBlade) > margin(PointKind::FixedBlade));
        let (_, words) = sets(PointKind::FixedBlade, 60.0);
        assert!(words.starts_with("Your vanes are too small for this point (target margin 60.0%)."), "{words}");
        assert!(words.ends_with("use a smaller head, or a heavier point."), "{words}");
    }

    #[test]
    fn a_row_says_what_a_set_costs() {
        let (list, _) = sets(PointKind::Field, 15.0);
        let rows = rows(&list, &Units::ARCHERY);
        let own = rows.iter().find(|row| row[0].ends_with("current")).unwrap();
        assert_eq!(own[0], "3 x 2\u{a0}in, 0.5\u{a0}in high, shield cut, 7\u{a0}gr each, current");
        assert_eq!((own[2].as_str(), own[3].as_str()), ("enough", "0.0%"));
        assert!(rows.iter().any(|row| row[3].starts_with('−')) && rows.iter().any(|row| row[3].starts_with('+')));
    }
}
