//! The checks in `tests/published.json`: computes this program's value for each and compares.
//!
//! To add a check: add it to the file with its source, and compute it in [`Check::run`]'s `compute`.

mod flex;
mod flight;
mod launch;

use clothyard_core::{Evaluation, Field, Output, Setup};
use clothyard_mechanics::beam::{Beam, Node, Section, Support};
use clothyard_mechanics::flight::FinSet;
use clothyard_mechanics::peak_push;
use clothyard_mechanics::units::{
    KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS, KILOGRAM_PER_GRAIN, KILOGRAM_PER_METER_PER_GRAIN_PER_INCH,
    KILOGRAM_PER_POUND, METER_PER_INCH, METER_PER_SECOND_PER_FPS, NEWTON_PER_POUND_FORCE, STANDARD_GRAVITY,
};
use clothyard_mechanics::{
    Arrow, BowKind, DrawCurve, Error, Part, Rating, SpineRig, column_load, critical_acceleration, kinetic_energy_j,
    momentum,
};
use serde::Deserialize;

/// What a value is checked against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Printed in a standard, a paper or a book.
    Published,
    /// Derived from a published definition by arithmetic, or from another library's solution.
    Derived,
    /// An earlier calculation by the authors with other tools.
    Prior,
    /// Common practice among archers, no source.
    Practice,
}

/// One check.
#[derive(Debug, Deserialize)]
pub struct Check {
    /// Its id, which [`Check::run`] computes.
    pub id: String,
    /// What is checked.
    pub what: String,
    /// The value as printed; half a unit of its last digit is the tolerance.
    pub value: Option<String>,
    /// Tolerance as a share of `value` instead, for a measured value that a model approximates.
    pub within: Option<f64>,
    /// The range that the result must be in, where there is no `value`.
    pub range: Option<(f64, f64)>,
    /// Kind of value.
    pub kind: Kind,
    /// Source of the value.
    pub source: String,
}

/// The result of a check.
#[derive(Debug)]
pub struct CheckResult {
    /// This program's value.
    pub ours: f64,
    /// Allowed difference; none for a range.
    pub tolerance: Option<f64>,
    /// Whether it is within the tolerance or range.
    pub agrees: bool,
}

/// All checks of the file.
///
/// # Errors
/// A message where the file cannot be parsed.
pub fn all() -> Result<Vec<Check>, String> {
    serde_json::from_str(include_str!("../../../tests/published.json")).map_err(|error| error.to_string())
}

impl Check {
    /// Computes this program's value and compares it.
    ///
    /// # Errors
    /// A message where the check has neither a value nor a range, or an id that is not computed here.
    pub fn run(&self) -> Result<CheckResult, String> {
        let ours = compute(&self.id)?;
        let (tolerance, agrees) = match (&self.value, self.range) {
            (Some(printed), None) => {
                let value: f64 = printed.parse().map_err(|_| format!("{}: {printed} is not a number", self.id))?;
                let decimals = printed.split_once('.').map_or(0, |(_, part)| part.len());
                let half_a_unit = 0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap_or(0)) * (1.0 + 1e-9);
                let tolerance = self.within.map_or(half_a_unit, |share| share * value);
                (Some(tolerance), (ours - value).abs() <= tolerance)
            }
            (None, Some((low, high))) => (None, (low..=high).contains(&ours)),
            _ => return Err(format!("{}: give a value or a range", self.id)),
        };
        Ok(CheckResult { ours, tolerance, agrees })
    }
}

fn compute(id: &str) -> Result<f64, String> {
    let words: Vec<_> = id.split('-').collect();
    let number = |text: &&str| text.parse::<f64>().map_err(|_| format!("{id}: {text} is not a number"));
    let fail = |error: Error| format!("{id}: {error}");
    match words.as_slice() {
        ["grain"] => Ok(KILOGRAM_PER_GRAIN * 1e6),
        ["pound", "force"] => Ok(NEWTON_PER_POUND_FORCE),
        ["energy", "divisor"] => {
            let foot_pound = NEWTON_PER_POUND_FORCE * 12.0 * METER_PER_INCH;
            Ok(foot_pound / kinetic_energy_j(KILOGRAM_PER_GRAIN, METER_PER_SECOND_PER_FPS))
        }
        ["momentum", "divisor"] => {
            Ok(KILOGRAM_METER_PER_SECOND_PER_SLUG_FPS / momentum(KILOGRAM_PER_GRAIN, METER_PER_SECOND_PER_FPS))
        }
        ["ei", spine] => {
            let rig =
                SpineRig::new(28.0 * METER_PER_INCH, 1.94 * KILOGRAM_PER_POUND * STANDARD_GRAVITY).map_err(fail)?;
            rig.bending_stiffness_nm2(number(spine)? / 1000.0 * METER_PER_INCH).map_err(fail)
        }
        ["amo", "over", "astm"] => amo_over_astm().map_err(fail),
        ["column", rear @ ("pinned" | "clamped"), front @ .., load] => column(rear, front, load).map_err(fail),
        ["rating", "arrow"] => Ok(Rating::ASTM_F1544.arrow_mass_kg / KILOGRAM_PER_GRAIN),
        ["recurve", "energy"] => Ok(DrawCurve::RECURVE.energy_fraction()),
        ["fins", what] => fins(what).ok_or_else(|| format!("{id}: no code computes it")),
        ["load", pull, length, spine] => study(number(pull)?, number(length)?, number(spine)? / 1000.0).map_err(fail),
        ["air", what @ ("1000" | "2000" | "dry" | "damp")] => flight::air(what).map_err(fail),
        ["drag", setup @ ("short" | "large" | "laminar" | "turbulent" | "flight")] => flight::drag(setup).map_err(fail),
        ["launch", speed, efficiency, string] => {
            launch::predicted_fps(number(speed)?, number(efficiency)?, number(string)?).map_err(fail)
        }
        ["beam", held @ ("free" | "pivoted"), mode] => flex::beta_length(held, 0.0, mode),
        ["beam", "tip", share] => flex::beta_length("free", number(share)?, "1"),
        ["bend", which @ ("least" | "greatest")] => flex::bend(which).map_err(fail),
        ["fingers", what @ ("leaves" | "swings" | "aside")] => flex::off_fingers(what).map_err(fail),
        _ => practice(id),
    }
}

fn amo_over_astm() -> Result<f64, Error> {
    let pounds = |pounds: f64| pounds * KILOGRAM_PER_POUND * STANDARD_GRAVITY;
    let astm = SpineRig::new(28.0 * METER_PER_INCH, pounds(1.94))?;
    SpineRig::AMO.deflection_m(astm.bending_stiffness_nm2(0.01)?).map(|deflection| deflection / 0.01)
}

/// Critical load of a column of unit length and stiffness, with 64 elements.
fn column(rear: &str, front: &[&str], load: &str) -> Result<f64, Error> {
    let held = |name: &str| if name == "clamped" { Support::Clamped } else { Support::Pinned };
    let at_front = if front == ["free"] { Support::Free } else { held(rear) };
    let node = |place: u32| Node {
        place_m: f64::from(place) / 64.0,
        support: match place {
            0 => held(rear),
            64 => at_front,
            _ => Support::Free,
        },
    };
    let nodes: Vec<_> = (0..=64).map(node).collect();
    let load_to_n = if load == "uniform" { 1.0 } else { 0.0 };
    let section = Section { from_m: 0.0, to_m: 1.0, stiffness_nm2: 1.0, load_from_n: 1.0, load_to_n };
    Beam::new(&nodes, &[section])?.critical_load_factor()
}

/// Three fins; normal force slopes are relative to the shaft's cross section.
fn fins(what: &str) -> Option<f64> {
    let body_radius_m = 0.0031;
    let fins = FinSet {
        count: 3,
        root_chord_m: 0.0508,
        tip_chord_m: 0.0254,
        span_m: 0.0127,
        sweep_m: 0.0254,
        body_radius_m,
        front_m: 0.08,
    };
    let cross_section_m2 = std::f64::consts::PI * body_radius_m * body_radius_m;
    match what {
        "slope" => Some(fins.fin_normal_force_area_m2() / cross_section_m2),
        "interference" => Some(fins.interference()),
        "set" => Some(fins.normal_force_area_m2() / cross_section_m2),
        "centre" => Some(fins.center_behind_front_m()),
        _ => None,
    }
}

/// Column load in the setup of the prior calculation: nock 10 gr at the nock groove, vanes 24 gr at 2 in,
/// insert 20 gr 0.4 in behind the front end, a 100 gr point 0.6 in ahead of it, rest 1.25 in behind it, on a compound
/// as fast as its kind.
fn study(pull_lb: f64, length_in: f64, spine_in: f64) -> Result<f64, Error> {
    let parts = study_parts(length_in);
    let arrow = study_arrow(length_in, spine_in, &parts)?;
    let push = peak_push(BowKind::Compound, pull_lb * NEWTON_PER_POUND_FORCE, arrow.mass_kg(), 80.0, 80.0)?;
    column_load(push, critical_acceleration(&arrow, (length_in - 1.25) * METER_PER_INCH)?)
}

fn study_parts(length_in: f64) -> [Part; 4] {
    let lump = |grains: f64, inches: f64| Part::point_mass(grains * KILOGRAM_PER_GRAIN, inches * METER_PER_INCH);
    [lump(10.0, 0.0), lump(24.0, 2.0), lump(20.0, length_in - 0.4), lump(100.0, length_in + 0.6)]
}

fn study_arrow(length_in: f64, spine_in: f64, parts: &[Part]) -> Result<Arrow<'_>, Error> {
    let per_length = (10.2 - 11.0 * (spine_in - 0.3)) * KILOGRAM_PER_METER_PER_GRAIN_PER_INCH;
    let stiffness = SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_in * METER_PER_INCH)?;
    Arrow::new(length_in * METER_PER_INCH, 0.0, per_length, stiffness, parts)
}

/// How far one change of an input moves a result, for a 60 lb bow or a 70 lb, 30 in rating.
fn practice(id: &str) -> Result<f64, String> {
    use Field::{CutLength, DrawLength, LetOff, PeakDrawWeight, PointMass, ShaftLinearMass, StaticSpine, StringAtNock};
    let sixty =
        [(PeakDrawWeight, 60.0), (DrawLength, 28.0), (StaticSpine, 400.0), (ShaftLinearMass, 9.0), (CutLength, 27.5)];
    let rated = [
        (PeakDrawWeight, 70.0),
        (DrawLength, 30.0),
        (StaticSpine, 300.0),
        (ShaftLinearMass, 7.5),
        (CutLength, 29.0),
        (PointMass, 75.0),
    ];
    let (base, change, output): (&[_], &[_], _) = match id {
        "inch-of-arrow" => (&sixty, &[(CutLength, 28.5), (DrawLength, 29.0)], Output::IdealDrawWeight),
        "point-25-gr" => (&sixty, &[(PointMass, 125.0)], Output::IdealDrawWeight),
        "let-off" => (&sixty, &[(LetOff, 65.0)], Output::IdealDrawWeight),
        "inch-of-draw" => (&rated, &[(DrawLength, 29.0)], Output::LaunchSpeed),
        "five-grains-of-arrow" => (&rated, &[(PointMass, 80.0)], Output::LaunchSpeed),
        "five-grains-on-string" => (&rated, &[(StringAtNock, 5.0)], Output::LaunchSpeed),
        _ => return Err(format!("{id}: no code computes it")),
    };
    let answer = |changes: &[&[(Field, f64)]]| {
        let mut setup = Setup::default();
        for &(field, value) in changes.iter().copied().flatten() {
            setup = setup.with(field, value).map_err(|error| format!("{id}: {error:?}"))?;
        }
        Evaluation::of(&setup).outputs.get(output).ok_or_else(|| format!("{id}: no answer"))
    };
    Ok(answer(&[base])? - answer(&[base, change])?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_agrees() {
        let checks = all().unwrap();
        assert!(checks.len() >= 29);
        for check in &checks {
            let made = check.run().unwrap();
            assert!(
                made.agrees,
                "{} ({}): {} against {:?} {:?}",
                check.id, check.source, made.ours, check.value, check.range
            );
        }
    }

    #[test]
    fn a_check_can_fail() {
        let off = |value: Option<&str>, range| Check {
            id: "grain".into(),
            what: String::new(),
            value: value.map(str::to_owned),
            within: None,
            range,
            kind: Kind::Published,
            source: String::new(),
        };
        assert!(!off(Some("64.79892"), None).run().unwrap().agrees);
        assert!(!off(None, Some((65.0, 66.0))).run().unwrap().agrees);
        let near = |value| Check { within: Some(0.15), ..off(Some(value), None) }.run().unwrap().agrees;
        assert!(near("57") && near("76") && !near("56") && !near("77"));
        assert!(off(None, None).run().is_err());
    }

    #[test]
    fn practice_says_so_and_names_a_range() {
        for check in all().unwrap() {
            let practice = check.kind == Kind::Practice;
            assert_eq!(practice, check.source.starts_with("common practice, no source"), "{}", check.id);
            assert!(!practice || check.range.is_some(), "{}", check.id);
        }
    }
}
