//! What must fit what: nock and string, insert and bore, shaft and rest, blades and hand, vanes and cable.
//!
//! The limits between a good and a bad fit are from memory, and said so; what hangs on lengths alone is geometry.

use crate::inputs::Field;
use crate::quantity::{Quantity, Units};
use crate::settle::Settled;
use crate::wording::{measured, trimmed};

/// Throat less served string, in inches, at which a nock begins to click on and to hang loose (memory, no source).
const NOCK_PINCHES_BELOW: f64 = -0.002;
const NOCK_LOOSE_ABOVE: f64 = 0.004;

/// Bore less part, in inches: room for glue, and more than glue should bridge (memory, no source).
const GLUE_AT_LEAST: f64 = 0.001;
const GLUE_AT_MOST: f64 = 0.006;

/// How far blades should stand ahead of the rest at full draw, in inches (common practice, no source).
const BLADES_AHEAD: f64 = 1.0;

/// One fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fit {
    /// Key in a report.
    pub key: &'static str,
    /// What is held against what.
    pub label: &'static str,
    /// Whether it is to be looked at before shooting.
    pub caution: bool,
    /// What is found.
    pub words: String,
}

/// Every fit that can be judged, or what it still wants.
#[must_use]
pub fn all(settled: &Settled, units: &Units) -> Vec<Fit> {
    let mut list =
        vec![nock(settled, units), insert(settled, units), bushing(settled, units), shaft_end(settled, units)];
    list.extend(blades(settled, units));
    list.extend(vanes(settled, units));
    list
}

fn small(inches: f64, units: &Units) -> String {
    measured(Quantity::SmallLength, inches, units)
}

fn length(inches: f64, units: &Units) -> String {
    measured(Quantity::Length, inches, units)
}

/// Thousandths of an inch, which a few decide; in millimetres where those are shown.
fn thousandths(inches: f64, units: &Units) -> String {
    if units.index(Quantity::SmallLength) == 0 {
        format!("{} thousandths of an inch", trimmed((inches * 1000.0).abs(), 1))
    } else {
        small(inches.abs(), units)
    }
}

fn fit(key: &'static str, label: &'static str, caution: bool, words: String) -> Fit {
    Fit { key, label, caution, words }
}

fn nock(settled: &Settled, units: &Units) -> Fit {
    let (key, label) = ("nockOnString", "Nock on the string");
    let (Some(throat), Some(string)) = (settled.given(Field::NockThroat), settled.given(Field::ServedString)) else {
        return fit(key, label, false, "Measure the nock's throat and the served string, or hang and tap.".to_owned());
    };
    let room = throat - string;
    let by = thousandths(room, units);
    let (caution, words) = if room < NOCK_PINCHES_BELOW {
        (
            true,
            format!(
                "Pinches: the throat is narrower by {by}. The string will not let go alike each time; serve thinner, or take a wider nock."
            ),
        )
    } else if room > NOCK_LOOSE_ABOVE {
        (
            true,
            format!(
                "Loose: the throat is wider by {by}. It can fall off the string, and a bow loosed without its arrow can break; serve thicker, or take a narrower nock."
            ),
        )
    } else {
        (false, format!("Clicks on: the two are within {by}."))
    };
    fit(key, label, caution, format!("{words} The limits are from memory, no source: hang and tap decides."))
}

fn insert(settled: &Settled, units: &Units) -> Fit {
    let (key, label) = ("insertInBore", "Insert in the bore");
    if settled.answer(Field::InsertKind) == 2 {
        return fit(key, label, false, "An outsert goes over the shaft: try it on dry before glue.".to_owned());
    }
    in_bore(key, label, settled, Field::InsertOuter, units)
}

fn bushing(settled: &Settled, units: &Units) -> Fit {
    in_bore("bushingInBore", "Nock or bushing in the bore", settled, Field::BushingOuter, units)
}

fn in_bore(key: &'static str, label: &'static str, settled: &Settled, part: Field, units: &Units) -> Fit {
    let Some(outer) = settled.given(part) else {
        return fit(key, label, false, "Measure its outer diameter.".to_owned());
    };
    let room = settled.number(Field::Bore) - outer;
    let by = thousandths(room, units);
    let (caution, words) = if room < 0.0 {
        (true, format!("Too thick by {by}: never force it, a carbon shaft splits."))
    } else if room < GLUE_AT_LEAST {
        (false, format!("Snug: {by} of room, hardly any for glue."))
    } else if room <= GLUE_AT_MOST {
        (false, format!("Fits: {by} of room for glue."))
    } else {
        (true, format!("Loose: {by} of room. Glue alone will not hold it straight."))
    };
    let whose = if settled.is_mine(Field::Bore) { "" } else { " The bore is the page's own guess: measure it." };
    fit(key, label, caution, format!("{words}{whose} The limits are from memory, no source."))
}

fn arrow_length(settled: &Settled) -> f64 {
    settled.number(Field::CutLength) + settled.number(Field::ThroatToShaft)
}

fn shaft_end(settled: &Settled, units: &Units) -> Fit {
    let (gap, reach) = (arrow_length(settled) - settled.rest_in(), settled.number(Field::ShortestReach));
    let words = if gap <= 0.0 {
        format!("The shaft ends {} behind the rest at full draw: do not draw it.", length(-gap, units))
    } else if gap < reach {
        format!(
            "The shaft ends only {} past the rest at full draw; at least {} is asked.",
            length(gap, units),
            length(reach, units)
        )
    } else {
        format!(
            "The shaft reaches {} past the rest at full draw, and {} past the grip's pivot.",
            length(gap, units),
            length(gap + settled.number(Field::RestOffset), units)
        )
    };
    fit("shaftPastRest", "Shaft and rest at full draw", gap < reach, words)
}

/// Where the blades begin at full draw; none where the point has none.
fn blades(settled: &Settled, units: &Units) -> Option<Fit> {
    if settled.answer(Field::PointKind) == 0 {
        return None;
    }
    let ahead = settled.number(Field::InsertAhead) + settled.number(Field::CollarLength);
    let begin = arrow_length(settled) + ahead + settled.number(Field::PointLength) - settled.number(Field::BladeLength);
    let (gap, half) = (begin - settled.rest_in(), settled.number(Field::CuttingWidth) / 2.0);
    let words = if gap <= 0.0 {
        format!(
            "The blades begin {} behind the rest at full draw, where your hand is: do not draw it.",
            length(-gap, units)
        )
    } else if gap < BLADES_AHEAD {
        format!(
            "The blades begin only {} ahead of the rest at full draw: too near your hand. Keep them {} or more ahead (common practice, no source).",
            length(gap, units),
            length(BLADES_AHEAD, units)
        )
    } else {
        format!(
            "The blades begin {} ahead of the rest at full draw and stand out {} from the arrow's centre: look that they clear riser and hand all the way.",
            length(gap, units),
            length(half, units)
        )
    };
    Some(fit("bladesAheadOfRest", "Blades, rest and hand", gap < BLADES_AHEAD, words))
}

/// Vanes on the rest before the draw, and past the cable; none without vanes.
fn vanes(settled: &Settled, units: &Units) -> Vec<Fit> {
    if settled.number(Field::VaneCount) < 1.0 {
        return Vec::new();
    }
    let front = settled.number(Field::VaneSetBack) + settled.number(Field::VaneLength);
    let gap = settled.number(Field::BraceHeight) + settled.number(Field::RestOffset) - front;
    let words = if gap <= 0.0 {
        format!("Nocked and not yet drawn, the vanes lie on the rest by {}.", length(-gap, units))
    } else {
        format!("Nocked and not yet drawn, the vanes end {} behind the rest.", length(gap, units))
    };
    vec![fit("vanesBehindRest", "Vanes and rest, undrawn", gap <= 0.0, words), past_cable(settled, units)]
}

fn past_cable(settled: &Settled, units: &Units) -> Fit {
    let (key, label) = ("vanesPastCable", "Vanes past rest and cable");
    let stands = settled.number(Field::OuterDiameter) / 2.0 + settled.number(Field::VaneHeight);
    let stands_words = small(stands, units);
    let Some(room) = settled.given(Field::Clearance) else {
        return fit(
            key,
            label,
            false,
            format!("The vanes stand out {stands_words} from the arrow's centre: measure the room beside the arrow."),
        );
    };
    let turned =
        "How the nock is turned, the spin and the shaft's bend are not in it: powder on the vanes shows a touch.";
    let words = if stands > room {
        format!(
            "The vanes stand out {stands_words}, more than the {} there is: they touch unless they are turned clear. {turned}",
            small(room, units)
        )
    } else {
        format!("The vanes clear the nearest part by {}. {turned}", small(room - stands, units))
    };
    fit(key, label, stands > room, words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cautions::Caution;
    use crate::inputs::Value;
    use crate::{Build, Evaluation};

    fn found(given: &[(Field, f64)], choices: &[(Field, u8)], key: &str) -> Fit {
        let mut build = Build::default();
        for &(field, value) in given {
            build.set(field, Some(Value::Number(value))).unwrap();
        }
        for &(field, answer) in choices {
            build.set(field, Some(Value::Answer(answer))).unwrap();
        }
        let all = Evaluation::of(&build);
        self::all(&all.settled, &Units::ARCHERY).into_iter().find(|fit| fit.key == key).unwrap()
    }

    #[test]
    fn a_few_thousandths_decide_the_nock() {
        let nock =
            |throat: f64| found(&[(Field::NockThroat, throat), (Field::ServedString, 0.112)], &[], "nockOnString");
        for (throat, begins, caution) in
            [(0.107, "Pinches", true), (0.112, "Clicks on", false), (0.115, "Clicks on", false), (0.119, "Loose", true)]
        {
            let fit = nock(throat);
            assert!(fit.words.starts_with(begins) && fit.caution == caution, "{throat}: {fit:?}");
            assert!(fit.words.contains("from memory"), "{fit:?}");
        }
        assert!(nock(0.107).words.contains("by 5 thousandths of an inch"));
    }

    #[test]
    fn an_insert_is_never_forced() {
        let insert = |outer: f64| found(&[(Field::Bore, 0.204), (Field::InsertOuter, outer)], &[], "insertInBore");
        assert!(insert(0.206).caution && insert(0.206).words.contains("never force"));
        assert!(!insert(0.201).caution && insert(0.195).caution);
        assert!(found(&[], &[(Field::InsertKind, 2)], "insertInBore").words.contains("outsert"));
    }

    #[test]
    fn blades_behind_the_rest_are_a_caution_here_and_on_the_page() {
        let given = [(Field::BladeLength, 3.0), (Field::DrawLength, 28.0), (Field::CutLength, 27.0)];
        let fit = found(&given, &[(Field::PointKind, 1)], "bladesAheadOfRest");
        assert!(fit.caution && fit.words.contains("behind the rest"), "{fit:?}");
        let mut build = Build::default();
        for (field, value) in given {
            build.set(field, Some(Value::Number(value))).unwrap();
        }
        build.set(Field::PointKind, Some(Value::Answer(1))).unwrap();
        let told = Evaluation::of(&build).cautions;
        assert!(told.iter().any(|each| matches!(each, Caution::BladesNearRest { gap, .. } if *gap < 0.0)), "{told:?}");
        let far = found(
            &[(Field::DrawLength, 28.0), (Field::CutLength, 29.0)],
            &[(Field::PointKind, 1)],
            "bladesAheadOfRest",
        );
        assert!(!far.caution, "{far:?}");
    }

    #[test]
    fn vanes_lie_on_a_rest_that_stands_too_near() {
        let near = found(
            &[(Field::BraceHeight, 6.0), (Field::RestOffset, -3.0), (Field::VaneLength, 3.0)],
            &[],
            "vanesBehindRest",
        );
        assert!(near.caution && near.words.contains("by 1.25"), "{near:?}");
        let touch = found(&[(Field::Clearance, 0.5), (Field::VaneHeight, 0.6)], &[], "vanesPastCable");
        assert!(touch.caution);
    }
}
