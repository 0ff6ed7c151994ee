//! The shaft of a setup where the user does not give its numbers: from a list, from a weighed shaft, from its wood, or
//! from the walls of an aluminum tube.

use crate::schema::shafts::{WOOD_DIAMETER_IN, wood_gr_per_in};
use crate::schema::{Field, ShaftMaterial, StockShaft};
use crate::setup::Resolved;
use crate::units::Quantity;
use clothyard_mechanics::{Result, SpineRig, tube_stiffness_nm2};
use core::f64::consts::FRAC_PI_4;

/// 7075 aluminum, of which shafts are drawn: Young's modulus in Pa and density in kg/m³ (memory: no data sheet was
/// read).
const TUBE_MODULUS_PA: f64 = 71.7e9;
const TUBE_DENSITY: f64 = 2_810.0;

/// An aluminum tube: outer diameter and wall, in meters.
#[derive(Clone, Copy, Debug)]
struct Tube {
    outer_m: f64,
    wall_m: f64,
}

impl Tube {
    fn inner_m(self) -> f64 {
        (self.outer_m - 2.0 * self.wall_m).max(0.0)
    }

    /// Static spine in thousandths of an inch (ASTM F2031).
    fn spine(self) -> Result<f64> {
        let stiffness = tube_stiffness_nm2(TUBE_MODULUS_PA, self.outer_m, self.inner_m())?;
        Ok(Quantity::StaticSpine.from_si(SpineRig::ASTM_F2031.deflection_m(stiffness)?))
    }

    /// Weight in grains per inch.
    fn gr_per_in(self) -> f64 {
        let ring = self.outer_m * self.outer_m - self.inner_m() * self.inner_m();
        Quantity::LinearMass.from_si(TUBE_DENSITY * FRAC_PI_4 * ring)
    }
}

impl Resolved {
    /// A number of the shaft that the user does not give; `shaft` is the one chosen from the list.
    pub(super) fn follow_shaft(&self, field: Field, shaft: &StockShaft) -> f64 {
        let (tube, wood) = (self.tube(shaft), self.is_wood());
        match (field, tube) {
            (Field::StaticSpine, Some(tube)) => tube.spine().unwrap_or(shaft.static_spine_thousandths),
            (Field::StaticSpine, None) => shaft.static_spine_thousandths,
            (Field::ShaftLinearMass, tube) => match (self.given(Field::BareShaft), tube) {
                (Some(weighed), _) => weighed / self.number(Field::CutLength),
                (None, Some(tube)) => tube.gr_per_in(),
                _ if wood && !shaft.is_solid() => wood_gr_per_in(self.outer_in(shaft)),
                _ => shaft.shaft_gr_per_in,
            },
            (Field::OuterDiameter, _) => self.outer_in(shaft),
            (_, Some(tube)) => Quantity::SmallLength.from_si(tube.inner_m()),
            _ if wood => 0.0,
            _ => self.bore_in(shaft),
        }
    }

    /// Whether the shaft is solid wood.
    #[must_use]
    pub fn is_wood(&self) -> bool {
        self.choice::<ShaftMaterial>() == ShaftMaterial::Wood
    }

    /// Whether a number of the shaft is computed from an aluminum tube's diameter and wall.
    #[must_use]
    pub fn is_computed(&self, field: Field) -> bool {
        let of_the_tube = match field {
            Field::StaticSpine | Field::Bore => true,
            Field::ShaftLinearMass => self.given(Field::BareShaft).is_none(),
            _ => false,
        };
        of_the_tube && !self.is_user_given(field) && self.wall_m().is_some()
    }

    fn wall_m(&self) -> Option<f64> {
        self.given(Field::Wall).filter(|_| self.applies(Field::Wall)).map(|wall| Quantity::SmallLength.to_si(wall))
    }

    fn tube(&self, shaft: &StockShaft) -> Option<Tube> {
        Some(Tube { outer_m: Quantity::SmallLength.to_si(self.outer_in(shaft)), wall_m: self.wall_m()? })
    }

    /// Outer diameter in inches; the wall stays that of the shaft chosen where the user gives the bore.
    fn outer_in(&self, shaft: &StockShaft) -> f64 {
        let wood = self.is_wood();
        match (self.given(Field::OuterDiameter), self.given(Field::Bore)) {
            (Some(outer), _) => outer,
            _ if wood && !shaft.is_solid() => WOOD_DIAMETER_IN,
            (None, Some(bore)) if !wood => shaft.outer_diameter_in + (bore - shaft.bore_in),
            _ => shaft.outer_diameter_in,
        }
    }

    /// Bore in inches, inside an outer diameter that the user gives.
    fn bore_in(&self, shaft: &StockShaft) -> f64 {
        match self.given(Field::OuterDiameter) {
            Some(outer) if outer <= shaft.bore_in => shaft.bore_in + (outer - shaft.outer_diameter_in),
            _ => shaft.bore_in,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eval::Evaluation;
    use crate::schema::{BowKind, InsertKind, Output};
    use crate::setup::Setup;

    fn evaluated(material: ShaftMaterial, given: &[(Field, f64)]) -> Evaluation {
        let mut setup = Setup::default();
        setup.choose(material);
        setup.choose(BowKind::Recurve);
        for &(field, value) in given {
            setup = setup.with(field, value).unwrap();
        }
        Evaluation::of(&setup)
    }

    #[test]
    fn a_tube_has_spine_and_weight_from_its_walls() {
        // Marked 2117 (21/64 in, 0.017 in): sold as spine 400, 12.0 gr/in (memory).
        let all = evaluated(ShaftMaterial::Aluminum, &[(Field::OuterDiameter, 21.0 / 64.0), (Field::Wall, 0.017)]);
        let number = |field| all.resolved.number(field);
        assert!((number(Field::StaticSpine) / 400.0 - 1.0).abs() < 0.06, "{}", number(Field::StaticSpine));
        assert!((number(Field::ShaftLinearMass) / 12.0 - 1.0).abs() < 0.03, "{}", number(Field::ShaftLinearMass));
        assert!((number(Field::Bore) - (21.0 / 64.0 - 0.034)).abs() < 1e-12);
        // I = pi (D^4 - d^4) / 64 and d = W s^3 / (48 E I), by hand.
        let (outer, inner) = (21.0 / 64.0 * 0.0254_f64, (21.0 / 64.0 - 0.034) * 0.0254_f64);
        let second_moment = core::f64::consts::PI * (outer.powi(4) - inner.powi(4)) / 64.0;
        let sag = 0.88 * 9.80665 * 0.7112_f64.powi(3) / (48.0 * 71.7e9 * second_moment);
        assert!((number(Field::StaticSpine) * 2.54e-5 / sag - 1.0).abs() < 1e-12);
        for field in [Field::StaticSpine, Field::ShaftLinearMass, Field::Bore] {
            assert!(all.resolved.is_computed(field) && !all.resolved.is_computed(Field::OuterDiameter), "{field:?}");
        }
        let given = evaluated(ShaftMaterial::Aluminum, &[(Field::Wall, 0.017), (Field::StaticSpine, 390.0)]);
        assert!(given.resolved.number(Field::StaticSpine) == 390.0 && !given.resolved.is_computed(Field::StaticSpine));
    }

    #[test]
    fn wood_is_solid_and_has_its_point_glued_on() {
        let all = evaluated(ShaftMaterial::Wood, &[(Field::PeakDrawWeight, 45.0)]);
        let number = |field| all.resolved.number(field);
        assert_eq!((number(Field::Bore), number(Field::InsertMass)), (0.0, 0.0));
        assert_eq!(all.resolved.choice::<InsertKind>(), InsertKind::GlueOn);
        assert_eq!((number(Field::VaneLength), number(Field::VaneMass)), (4.0, 2.6), "feathers");
        let long = evaluated(ShaftMaterial::Wood, &[(Field::VaneLength, 5.0)]);
        assert_eq!(long.resolved.number(Field::VaneMass), 3.25);
        assert!(all.recommendation.as_ref().unwrap().shaft.is_solid(), "a wood shaft of the list is proposed");
        assert!(all.outputs.get(Output::ColumnLoad).is_some());
        let mut bored = Setup::default().with(Field::Bore, 0.204).unwrap();
        bored.choose(ShaftMaterial::Wood);
        assert_eq!(Evaluation::of(&bored).resolved.number(Field::Bore), 0.0, "wood has no bore");
        let bored = bored.with(Field::Bore, 0.246).unwrap();
        let resolved = Evaluation::of(&bored).resolved;
        assert_eq!((resolved.number(Field::Bore), resolved.choice()), (0.246, ShaftMaterial::Carbon), "given last");
    }

    #[test]
    fn no_bore_is_wood_as_well() {
        let mut setup = Setup::default().with(Field::Bore, 0.0).unwrap();
        for solids_in_list in [true, false] {
            setup.shafts.retain(|shaft| solids_in_list || !shaft.is_solid());
            let resolved = Evaluation::of(&setup).resolved;
            assert_eq!((resolved.choice(), resolved.number(Field::Bore)), (ShaftMaterial::Wood, 0.0));
            assert!(resolved.number(Field::OuterDiameter) >= 5.0 / 16.0);
        }
    }

    #[test]
    fn wood_weighs_what_its_thickness_says() {
        let mut setup = Setup::default().with(Field::OuterDiameter, 23.0 / 64.0).unwrap();
        setup.choose(ShaftMaterial::Wood);
        setup.shafts.retain(|shaft| !shaft.is_solid());
        let all = Evaluation::of(&setup);
        // 0.5 g/cm³ over a circle of 23/64 in: 12.8 gr/in.
        assert!((all.resolved.number(Field::ShaftLinearMass) - 12.83).abs() < 0.01);
        setup.set(Field::OuterDiameter, None).unwrap();
        assert_eq!(Evaluation::of(&setup).resolved.number(Field::OuterDiameter), 11.0 / 32.0);
    }
}
