//! What a step can show large or ask about: a result, how the arrow comes to the farthest distance, or how firmly it
//! flies point first.

use crate::flight::shot::{Answer, Shot};
use clothyard_core::format;
use clothyard_core::schema::{OUTPUTS, Output};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::TrajectoryPoint;

/// Something to show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readout {
    /// A result.
    Output(Output),
    /// Something at the farthest distance of the setup.
    Far(Far),
    /// How far the center of pressure is behind the balance point, in percent of the arrow's length.
    StabilityMargin,
}

/// What the arrow is like at the farthest distance, with the sight as it is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Far {
    /// How far below the line of sight it is.
    Drop,
    /// How fast it still is.
    Speed,
    /// The energy it still has.
    Energy,
}

impl Far {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Drop, Self::Speed, Self::Energy];
}

impl Readout {
    /// What archers ask for first.
    pub const FOC: Self = Self::Output(Output::FrontOfCentre);

    /// Everything that can be shown.
    pub fn all() -> impl Iterator<Item = Self> {
        OUTPUTS.iter().map(|row| Self::Output(row.output)).chain(Far::ALL.map(Self::Far)).chain([Self::StabilityMargin])
    }

    /// Its key, with its unit.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Output(output) => output.row().key,
            Self::Far(Far::Drop) => "farDropIn",
            Self::Far(Far::Speed) => "farSpeedFps",
            Self::Far(Far::Energy) => "farEnergyFtLb",
            Self::StabilityMargin => "stabilityMarginPercent",
        }
    }

    /// The one with a key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        Self::all().find(|shown| shown.key() == key)
    }

    /// Its label, without the unit.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Output(output) => output.row().label,
            Self::Far(Far::Drop) => "Drop at the farthest distance",
            Self::Far(Far::Speed) => "Speed at the farthest distance",
            Self::Far(Far::Energy) => "Energy at the farthest distance",
            Self::StabilityMargin => "Stability margin",
        }
    }

    /// Its label where the farthest distance is known, in meters.
    #[must_use]
    pub fn label_at(self, far_m: f64, units: &Units) -> String {
        let Self::Far(far) = self else { return self.label().to_owned() };
        let what = match far {
            Far::Drop => "Drop",
            Far::Speed => "Speed",
            Far::Energy => "Energy",
        };
        let quantity = Quantity::Distance;
        format!("{what} at {}", format::measured(quantity, quantity.from_si(far_m), units))
    }

    /// How it is said that it grows, and that it falls.
    #[must_use]
    pub fn ways(self) -> [&'static str; 2] {
        match (self, self.quantity()) {
            (Self::Output(Output::BalancePoint), _) => ["farther forward", "farther back"],
            (Self::Output(Output::TotalWeight | Output::ShaftWeight), _) => ["heavier", "lighter"],
            (Self::Output(Output::ArrowLength), _) => ["longer", "shorter"],
            (_, Quantity::Speed) => ["faster", "slower"],
            (_, Quantity::DrawWeight) => ["higher", "lower"],
            _ => ["more", "less"],
        }
    }

    /// What it measures.
    #[must_use]
    pub fn quantity(self) -> Quantity {
        match self {
            Self::Output(output) => output.row().quantity,
            Self::Far(Far::Drop) => Quantity::Length,
            Self::Far(Far::Speed) => Quantity::Speed,
            Self::Far(Far::Energy) => Quantity::Energy,
            Self::StabilityMargin => Quantity::Percent,
        }
    }
}

/// The arrow at a distance in meters, with the sight as it is set.
///
/// # Errors
/// [`crate::flight::FlightError`].
pub fn far(shot: &Shot, far_m: f64) -> Answer<TrajectoryPoint> {
    Ok(shot.archer(|archer| {
        let launch = archer.aim(shot.sighted_m)?.launch;
        archer.flight().at_distance(&launch, far_m)
    })?)
}

/// One number of an arrow at the farthest distance, in its saved unit.
#[must_use]
pub fn number_at(far: Far, there: &TrajectoryPoint, mass_kg: f64) -> f64 {
    let si = match far {
        Far::Drop => -there.height_m,
        Far::Speed => there.speed_m_per_s(),
        Far::Energy => there.kinetic_energy_j(mass_kg),
    };
    Readout::Far(far).quantity().from_si(si)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::legs::legs;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::samples;

    #[test]
    fn each_has_its_key() {
        for shown in Readout::all() {
            assert_eq!(Readout::by_key(shown.key()), Some(shown));
            assert!(!shown.label().is_empty());
        }
        assert_eq!(Readout::by_key("wonder"), None);
    }

    #[test]
    fn far_out_is_as_the_list_of_distances_says() {
        let shot = Shot::of(&Evaluation::of(&samples::all()[0].setup)).unwrap();
        let there = far(&shot, 40.0).unwrap();
        let leg = legs(&shot, &[40.0]).unwrap()[0].unwrap();
        assert_eq!(there.height_m, leg.height_m);
        let drop = number_at(Far::Drop, &there, shot.mass_kg);
        assert!((drop * 0.0254 + leg.height_m).abs() < 1e-12);
        // A foot-pound is that of NIST SP 811.
        let (energy, speed) =
            (number_at(Far::Energy, &there, shot.mass_kg), number_at(Far::Speed, &there, shot.mass_kg));
        let joule = shot.mass_kg * (speed * 0.3048).powi(2) / 2.0;
        assert!((energy * 1.355_817_948_331_4 / joule - 1.0).abs() < 1e-12, "{energy}");
    }
}
