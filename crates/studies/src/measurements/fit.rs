//! Fit and clearance: nock and string, insert and shaft, shaft and rest, blades and hand, vanes and cable.
//!
//! The limits between a good and a bad fit are from memory, and said so; what hangs on lengths alone is geometry.

use clothyard_core::eval::safety;
use clothyard_core::format::{measured, nock_fit, thousandths};
use clothyard_core::schema::{Field, InsertKind};
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units};

/// Bore less part, in inches: room for glue, and more than glue should bridge (memory, no source).
const GLUE_AT_LEAST: f64 = 0.001;
const GLUE_AT_MOST: f64 = 0.006;

/// How far blades should be ahead of the rest at full draw, in inches (common practice, no source).
const BLADES_AHEAD: f64 = 1.0;

/// One fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fit {
    /// Key in a report.
    pub key: &'static str,
    /// What is held against what.
    pub label: &'static str,
    /// Whether it is to be looked at before shooting.
    pub warning: bool,
    /// What is found.
    pub words: String,
}

/// Every fit that can be judged, or what it still wants.
#[must_use]
pub fn all(resolved: &Resolved, units: &Units) -> Vec<Fit> {
    let mut list =
        vec![nock(resolved, units), insert(resolved, units), bushing(resolved, units), shaft_end(resolved, units)];
    list.extend(blades(resolved, units));
    list.extend(vanes(resolved, units));
    list
}

fn small(inches: f64, units: &Units) -> String {
    measured(Quantity::SmallLength, inches, units)
}

fn length(inches: f64, units: &Units) -> String {
    measured(Quantity::Length, inches, units)
}

fn fit(key: &'static str, label: &'static str, warning: bool, words: String) -> Fit {
    Fit { key, label, warning, words }
}

fn nock(resolved: &Resolved, units: &Units) -> Fit {
    let (key, label) = ("nockOnString", "Nock on string");
    match nock_fit(resolved, units) {
        Some(found) => fit(key, label, found.warning, found.words),
        None => fit(
            key,
            label,
            false,
            "Measure the nock groove width or the serving diameter, or use the tap test.".to_owned(),
        ),
    }
}

fn insert(resolved: &Resolved, units: &Units) -> Fit {
    let (key, label) = ("insertInBore", "Insert in shaft");
    if resolved.choice::<InsertKind>() == InsertKind::Outsert {
        return fit(key, label, false, "An outsert goes over the shaft. Dry-fit before gluing.".to_owned());
    }
    in_bore(key, label, resolved, Field::InsertOuter, units)
}

fn bushing(resolved: &Resolved, units: &Units) -> Fit {
    in_bore("bushingInBore", "Nock or bushing in shaft", resolved, Field::BushingOuter, units)
}

fn in_bore(key: &'static str, label: &'static str, resolved: &Resolved, part: Field, units: &Units) -> Fit {
    let Some(outer) = resolved.given(part).filter(|_| resolved.number(Field::Bore) > 0.0) else {
        return fit(key, label, false, "Measure its outside diameter.".to_owned());
    };
    let room = resolved.number(Field::Bore) - outer;
    let by = thousandths(room, units);
    let (warning, words) = if room < 0.0 {
        (true, format!("Too large by {by}: never force it, a carbon shaft splits."))
    } else if room < GLUE_AT_LEAST {
        (false, format!("Snug: {by} of clearance, little room for glue."))
    } else if room <= GLUE_AT_MOST {
        (false, format!("Fits: {by} of clearance for glue."))
    } else {
        (true, format!("Loose: {by} of clearance. Glue alone will not keep it straight."))
    };
    let provenance =
        if resolved.is_user_given(Field::Bore) { "" } else { " The inside diameter is a default: measure it." };
    fit(key, label, warning, format!("{words}{provenance} Rule of thumb."))
}

fn shaft_end(resolved: &Resolved, units: &Units) -> Fit {
    let (gap, reach) = (resolved.arrow_length_in() - resolved.rest_in(), resolved.number(Field::ShortestReach));
    let short = safety::shaft_short(resolved);
    let words = if safety::shaft_behind_rest(resolved) {
        format!("Do not draw: the shaft ends {} behind the rest at full draw.", length(-gap, units))
    } else if short {
        format!(
            "Arrow too short: the shaft ends {} past the rest at full draw, minimum {}.",
            length(gap, units),
            length(reach, units)
        )
    } else {
        format!(
            "The shaft ends {} past the rest at full draw, {} past the pivot point.",
            length(gap, units),
            length(gap + resolved.number(Field::RestOffset), units)
        )
    };
    fit("shaftPastRest", "Shaft and rest at full draw", short, words)
}

/// Where the blades begin at full draw; none where the point has none.
fn blades(resolved: &Resolved, units: &Units) -> Option<Fit> {
    let (gap, half) = (safety::blades_past_rest_in(resolved)?, resolved.number(Field::CuttingWidth) / 2.0);
    // Where the user asks for more than is common of a shaft, blades over the shaft are held to it too.
    let unsafe_here = safety::blades_near_rest(resolved);
    let wanted = if unsafe_here { resolved.number(Field::ShortestReach).max(BLADES_AHEAD) } else { BLADES_AHEAD };
    let words = if gap <= 0.0 {
        format!("Do not draw: the blades are {} behind the rest at full draw, at your hand.", length(-gap, units))
    } else if gap < wanted {
        format!(
            "Blades only {} ahead of the rest at full draw: too close to your hand. Keep at least {} (rule of thumb).",
            length(gap, units),
            length(wanted, units)
        )
    } else {
        format!(
            "Blades {} ahead of the rest at full draw, {} from the center of the arrow. Check that they clear riser and hand.",
            length(gap, units),
            length(half, units)
        )
    };
    Some(fit("bladesAheadOfRest", "Blades, rest and hand", gap < wanted, words))
}

/// Vanes on the rest before the draw, and past the cable; none without vanes.
fn vanes(resolved: &Resolved, units: &Units) -> Vec<Fit> {
    if resolved.number(Field::VaneCount) < 1.0 {
        return Vec::new();
    }
    let front = resolved.number(Field::VaneSetBack) + resolved.number(Field::VaneLength);
    let gap = resolved.number(Field::BraceHeight) + resolved.number(Field::RestOffset) - front;
    let words = if gap <= 0.0 {
        format!("Undrawn, the vanes overlap the rest by {}.", length(-gap, units))
    } else {
        format!("Undrawn, the vanes end {} behind the rest.", length(gap, units))
    };
    vec![fit("vanesBehindRest", "Vanes and rest, undrawn", gap <= 0.0, words), past_cable(resolved, units)]
}

fn past_cable(resolved: &Resolved, units: &Units) -> Fit {
    let (key, label) = ("vanesPastCable", "Vanes past rest and cable");
    let reach = resolved.number(Field::OuterDiameter) / 2.0 + resolved.number(Field::VaneHeight);
    let reach_words = small(reach, units);
    let Some(room) = resolved.given(Field::Clearance) else {
        return fit(
            key,
            label,
            false,
            format!("The vanes reach {reach_words} from the center of the arrow. Measure the vane clearance."),
        );
    };
    let turned = "Nock rotation, spin and shaft bend are not included: check contact with spray powder.";
    let words = if reach > room {
        format!(
            "The vanes reach {reach_words}, more than the clearance of {}: they touch unless the nock is turned. {turned}",
            small(room, units)
        )
    } else {
        format!("The vanes clear the nearest part by {}. {turned}", small(room - reach, units))
    };
    fit(key, label, reach > room, words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::Warning;
    use clothyard_core::schema::{PointKind, Value};
    use clothyard_core::{Evaluation, Setup};

    fn found(given: &[(Field, f64)], choices: &[(Field, Value)], key: &str) -> Fit {
        let mut setup = Setup::default();
        for &(field, value) in given {
            setup.set(field, Some(Value::Number(value))).unwrap();
        }
        for &(field, value) in choices {
            setup.set(field, Some(value)).unwrap();
        }
        let all = Evaluation::of(&setup);
        self::all(&all.resolved, &Units::ARCHERY).into_iter().find(|fit| fit.key == key).unwrap()
    }

    #[test]
    fn an_insert_is_never_forced() {
        let insert = |outer: f64| found(&[(Field::Bore, 0.204), (Field::InsertOuter, outer)], &[], "insertInBore");
        assert!(insert(0.206).warning && insert(0.206).words.contains("never force"));
        assert!(!insert(0.201).warning && insert(0.195).warning);
        assert!(
            found(&[], &[(Field::InsertKind, InsertKind::Outsert.into())], "insertInBore").words.contains("outsert")
        );
    }

    #[test]
    fn blades_behind_the_rest_are_a_caution_here_and_on_the_page() {
        let given = [(Field::BladeLength, 3.0), (Field::DrawLength, 28.0), (Field::CutLength, 27.0)];
        let fit = found(&given, &[(Field::PointKind, PointKind::FixedBlade.into())], "bladesAheadOfRest");
        assert!(fit.warning && fit.words.contains("behind the rest"), "{fit:?}");
        let mut setup = Setup::default();
        for (field, value) in given {
            setup.set(field, Some(Value::Number(value))).unwrap();
        }
        setup.choose(PointKind::FixedBlade);
        let told = Evaluation::of(&setup).warnings;
        assert!(told.iter().any(|each| matches!(each, Warning::BladesNearRest { gap, .. } if *gap < 0.0)), "{told:?}");
        let far = found(
            &[(Field::DrawLength, 28.0), (Field::CutLength, 29.0)],
            &[(Field::PointKind, PointKind::FixedBlade.into())],
            "bladesAheadOfRest",
        );
        assert!(!far.warning, "{far:?}");
    }

    #[test]
    fn vanes_lie_on_a_rest_that_is_too_near() {
        let near = found(
            &[(Field::BraceHeight, 6.0), (Field::RestOffset, -3.0), (Field::VaneLength, 3.0)],
            &[],
            "vanesBehindRest",
        );
        assert!(near.warning && near.words.contains("by 1.25"), "{near:?}");
        let touch = found(&[(Field::Clearance, 0.5), (Field::VaneHeight, 0.6)], &[], "vanesPastCable");
        assert!(touch.warning);
    }
}
