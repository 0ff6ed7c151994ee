//! How the string is released.

use crate::error::Result;
use crate::parameter::Parameter;

/// How the string is released. Example: see [`super::Shot`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// In its plane, as from a release aid.
    Straight,
    /// Off the fingers, which push the nock aside.
    ///
    /// Over the first `travel_m` of the string's travel the nock moves aside by `offset_m` (a smooth
    /// step); from there the string runs straight to its position at brace.
    Fingers {
        /// Displacement of the nock, m, to either side.
        offset_m: f64,
        /// String travel over which it happens, m.
        travel_m: f64,
    },
}

impl Release {
    /// Fingers that push the nock aside by 2 mm in the first 3 mm of its travel.
    ///
    /// The two lengths are those of a simulation by Kooi as quoted by J. Tapley, "The Loose"; the path is
    /// a simple model of this project.
    pub const FINGERS: Self = Self::Fingers { offset_m: 0.002, travel_m: 0.003 };

    pub(super) fn check(self, stroke_m: f64) -> Result<()> {
        if let Self::Fingers { offset_m, travel_m } = self {
            Parameter::ReleaseOffset.check(offset_m)?;
            let (minimum, _) = Parameter::ReleaseTravel.range();
            Parameter::ReleaseTravel.check_within(travel_m, minimum, stroke_m)?;
        }
        Ok(())
    }

    /// Displacement of the nock to the side (m), and its derivative with travel, after the string has
    /// traveled `come_m`.
    pub(super) fn aside(self, come_m: f64, stroke_m: f64) -> (f64, f64) {
        let Self::Fingers { offset_m, travel_m } = self else { return (0.0, 0.0) };
        let pushed = (come_m / travel_m).min(1.0);
        let push = pushed * pushed * (3.0 - 2.0 * pushed);
        let growth = 6.0 * pushed * (1.0 - pushed) / travel_m;
        let left = 1.0 - come_m / stroke_m;
        (offset_m * push * left, offset_m * (growth * left - push / stroke_m))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fingers_push_aside_by_a_smooth_step_and_the_string_runs_home() {
        let release = Release::Fingers { offset_m: 0.002, travel_m: 0.05 };
        // Half of the step, times the share of the stroke that is left; all of it; then the straight line.
        let expected = [(0.0, 0.0), (0.025, 0.95 * 0.001), (0.05, 0.9 * 0.002), (0.25, 0.5 * 0.002), (0.5, 0.0)];
        for (come_m, place_m) in expected {
            assert!((release.aside(come_m, 0.5).0 - place_m).abs() < 1e-17, "{come_m}");
        }
        for come_m in [0.01, 0.03, 0.049, 0.2, 0.49] {
            let at = |come_m| release.aside(come_m, 0.5).0;
            let slope = (at(come_m + 1e-6) - at(come_m - 1e-6)) / 2e-6;
            assert!((release.aside(come_m, 0.5).1 - slope).abs() < 1e-9, "{come_m}: {slope}");
        }
        assert_eq!(Release::Straight.aside(0.2, 0.5), (0.0, 0.0));
    }
}
