//! The drag in words: which is used, its parts and its effect.

use super::says::{distance, percent, said};
use super::shot::{Shot, is_feathered};
use clothyard_core::format::{fixed, value};
use clothyard_core::schema::Field;
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::{Archer, BoundaryLayer, Drag, DragShape};
use clothyard_mechanics::units::STANDARD_GRAVITY;

/// A row of the working: what it is, and its number in words.
pub type Term = (&'static str, String);

/// Which drag is used, in sentences.
#[must_use]
pub fn which(shot: &Shot, resolved: &Resolved, units: &Units) -> String {
    let (flow, coefficient) = (flow(resolved, units), fixed(shot.coefficient(), 2));
    if shot.drag_measured {
        let speed = said(Quantity::Speed, resolved.si(Field::FarSpeed), units);
        let at = distance(resolved.si(Field::FarDistance), units);
        let built = shot.drag_parts().map_or_else(|_| String::new(), |parts| fixed(parts.total(), 2));
        return format!(
            "Measured drag: {speed} at {at} replaces the drag calculated from the shape ({built}). Drag coefficient {coefficient} at launch."
        );
    }
    let unused = if resolved.given(Field::FarSpeed).is_some() {
        " Enter the downrange distance to use the downrange speed."
    } else {
        ""
    };
    let feathers = if is_feathered(resolved) && resolved.number(Field::VaneCount) > 0.0 {
        " Feathers count with twice the drag of smooth vanes (estimate: 1.5 to 3 times)."
    } else {
        ""
    };
    format!(
        "Drag calculated from the shape of the arrow, flow: {flow}. Drag coefficient {coefficient} at launch, on the shaft’s cross-section.{feathers}{unused}"
    )
}

fn flow(resolved: &Resolved, units: &Units) -> String {
    let words = resolved.value(Field::ShaftFlow).map(|answer| value(Field::ShaftFlow.input(), answer, units));
    words.unwrap_or_default().to_ascii_lowercase()
}

/// What the drag does to the speed, and what an error of the speed does, in a sentence each.
#[must_use]
pub fn effect(shot: &Shot, units: &Units) -> String {
    let ten_m = 10.0 * units.of(Quantity::Distance).si;
    let lost = |shot: &Shot| fixed(100.0 * shot.slowing_per_m(shot.speed_m_per_s) * ten_m, 1);
    let range =
        flow_range(shot).map(|[least, most]| format!(" (laminar {}%, turbulent {}%)", lost(&least), lost(&most)));
    let high_or_low = height_spread_m(shot).map(|height_m| {
        let height = said(Quantity::Length, height_m, units);
        format!(" The speed uncertainty means {height} high or low at {}.", distance(shot.sighted_m, units))
    });
    format!(
        "In the first {} it loses {}% of its speed{}.{}",
        distance(ten_m, units),
        lost(shot),
        range.unwrap_or_default(),
        high_or_low.unwrap_or_default()
    )
}

/// The same shot with a laminar and with a turbulent flow; none where the flow is known, or its drag.
fn flow_range(shot: &Shot) -> Option<[Shot; 2]> {
    let with = |boundary_layer| {
        let shape = DragShape { boundary_layer, ..shot.shape };
        Some(Shot { drag: Drag::built_up(&shape).ok()?, shape, ..*shot })
    };
    if shot.drag_measured || shot.shape.boundary_layer != BoundaryLayer::Changing {
        return None;
    }
    Some([with(BoundaryLayer::LAMINAR)?, with(BoundaryLayer::TURBULENT)?])
}

/// How much higher the arrow strikes, at the distance the sight is set for, when it is faster by as much as its speed
/// may be off; none where it does not come so far.
#[must_use]
pub fn height_spread_m(shot: &Shot) -> Option<f64> {
    let elevation = shot.archer(|archer| archer.aim(shot.sighted_m)).ok()?.elevation_rad;
    let height = |by: f64| {
        let other = Shot { speed_m_per_s: shot.speed_m_per_s + by, ..*shot };
        let at = |archer: &Archer<'_>| archer.flight().at_distance(&archer.launch(elevation, 0.0)?, shot.sighted_m);
        Some(other.archer(at).ok()?.height_m)
    };
    let spread = shot.speed_spread_m_per_s;
    Some(0.5 * (height(spread)? - height(-spread)?))
}

/// The launch speed, with how far off it may be.
#[must_use]
pub fn speed_words(shot: &Shot, units: &Units) -> String {
    let say = |m_per_s: f64| said(Quantity::Speed, m_per_s, units);
    format!("{} ± {}", say(shot.speed_m_per_s), say(shot.speed_spread_m_per_s))
}

/// The working: the numbers put in, and the parts of the coefficient.
#[must_use]
pub fn working(shot: &Shot, units: &Units) -> Vec<Term> {
    let diameter = said(Quantity::SmallLength, shot.shape.diameter_m, units);
    let v = shot.speed_m_per_s;
    let drag_n = 0.5 * shot.air.density_kg_per_m3 * v * v * shot.drag_area_m2();
    let mut rows = vec![
        ("Air density, ρ", format!("{}\u{a0}kg/m³", fixed(shot.air.density_kg_per_m3, 3))),
        ("Launch speed, v", speed_words(shot, units)),
        ("Shaft diameter, d", diameter),
        ("Coefficient, C", fixed(shot.coefficient(), 2)),
    ];
    if let Ok(parts) = shot.drag_parts() {
        let of = |part: f64| format!("{}, {}%", fixed(part, 2), percent(part / parts.total()));
        rows.extend([
            ("calculated: shaft friction", of(parts.shaft)),
            ("calculated: vanes", of(parts.vanes)),
            ("calculated: point and blades", of(parts.point)),
            ("calculated: base drag behind the nock", of(parts.base)),
        ]);
    }
    let weight = drag_n / (shot.mass_kg * STANDARD_GRAVITY);
    rows.push((
        "Drag at launch, D",
        format!("{}\u{a0}N, {}% of the arrow’s weight", fixed(drag_n, 3), percent(weight)),
    ));
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::schema::VaneMaterial;
    use clothyard_core::setup::Setup;
    use clothyard_core::setup::samples;

    fn said_of(setup: &Setup) -> (Shot, String, Vec<Term>) {
        let all = Evaluation::of(setup);
        let shot = Shot::of(&all).unwrap();
        let words = which(&shot, &all.resolved, &Units::ARCHERY);
        (shot, words, working(&shot, &Units::ARCHERY))
    }

    #[test]
    fn built_up_or_measured_is_said_and_the_parts_add_up() {
        let setup = samples::all().remove(0).setup;
        let (shot, words, rows) = said_of(&setup);
        assert!(words.starts_with("Drag calculated from the shape") && words.contains("by speed and point"), "{words}");
        let number = |row: &Term| row.1.split(',').next().unwrap().parse::<f64>().unwrap();
        let parts: f64 = rows[4..8].iter().map(number).sum();
        assert!((parts - number(&rows[3])).abs() < 0.021, "{parts}");
        let half = setup.clone().with(Field::FarSpeed, 200.0).unwrap();
        assert!(said_of(&half).1.ends_with("Enter the downrange distance to use the downrange speed."));
        let launch = shot.speed_m_per_s / 0.3048;
        let measured = setup.with(Field::FarSpeed, 0.9 * launch).unwrap().with(Field::FarDistance, 40.0).unwrap();
        let (shot, words, _) = said_of(&measured);
        assert!(words.starts_with("Measured drag: "), "{words}");
        // v = v0 exp(-k x) for a constant coefficient: 10 % over 40 yards.
        let expected = -(0.9_f64.ln()) / 40.0 * 10.0 * 100.0;
        let words = effect(&shot, &Units::ARCHERY);
        let lost: f64 = words.split(' ').nth(6).unwrap().split('%').next().unwrap().parse().unwrap();
        assert!((lost - expected).abs() < 0.15, "{words} {expected}");
    }

    #[test]
    fn a_feather_counts_as_two_smooth_vanes() {
        let sized = |material| {
            // Alike in weight, too, so that the same shaft is chosen.
            let mut setup = samples::all().remove(0).setup.with(Field::VaneLength, 4.0).unwrap();
            setup = setup.with(Field::VaneMass, 3.0).unwrap();
            setup.choose(material);
            let (shot, words, _) = said_of(&setup);
            (shot.shape.parts(60.0, &shot.air).unwrap(), words)
        };
        let [(vanes, plain), (feathers, said)] = [VaneMaterial::Plastic, VaneMaterial::Feather].map(sized);
        assert!((feathers.vanes / vanes.vanes - 2.0).abs() < 1e-12);
        assert!((feathers.total() - feathers.vanes - vanes.total() + vanes.vanes).abs() < 1e-12, "nothing else moves");
        assert!(said.contains("twice the drag of smooth vanes") && !plain.contains("eathers"), "{said} {plain}");
    }

    #[test]
    fn a_speed_that_cannot_be_is_refused_in_words() {
        let setup = samples::all()
            .remove(0)
            .setup
            .with(Field::FarSpeed, 440.0)
            .unwrap()
            .with(Field::FarDistance, 40.0)
            .unwrap();
        let error = Shot::of(&Evaluation::of(&setup)).unwrap_err();
        assert!(error.sentence().starts_with("The downrange speed does not fit"));
    }

    #[test]
    fn an_error_of_the_speed_counts_as_a_flat_path_says() {
        let shot = said_of(&samples::all().remove(0).setup).0;
        // g x^2 / v^3 for each m/s, a little gravity and drag aside.
        let x = shot.sighted_m - shot.sight.sight_radius_m - shot.sight.launch_ahead_m;
        let flat = 9.806_65 * x * x / shot.speed_m_per_s.powi(3) * shot.speed_spread_m_per_s;
        let found = height_spread_m(&shot).unwrap();
        assert!((found / flat - 1.0).abs() < 0.15, "{found} {flat}");
        let words = effect(&shot, &Units::ARCHERY);
        assert!(
            words.contains("high or low at") && words.contains("laminar") && words.contains("turbulent"),
            "{words}"
        );
    }
}
