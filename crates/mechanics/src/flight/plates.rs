//! Vanes and broadhead blades as the drag sees them: thin plates along the flow.

use super::friction::{laminar_plate, mixed, turbulent_plate};
use crate::error::Result;
use crate::parameter::Parameter;

/// Pressure on a square leading edge over the dynamic pressure (Barrowman; memory).
///
/// On a swept edge, times the squared cosine of the sweep (Hoerner p. 3-11, after Niskanen).
const SQUARE_LEADING_EDGE: f64 = 0.85;
/// Suction behind a square trailing edge, over the dynamic pressure (Fleeman, after Niskanen).
const SQUARE_TRAILING_EDGE: f64 = 0.12;

/// The front edge of a vane or blade. Example: see [`super::DragShape`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Cut square, like molded or folded parts.
    Square,
    /// Ground to an edge, without pressure drag.
    Sharp,
}

/// Vanes or blades: equal thin plates around the shaft, parallel to the flow.
///
/// Counts 0 to 12, sizes 0 to 0.3 m.
///
/// # Examples
/// ```
/// use clothyard_mechanics::flight::{Edge, Plates};
/// // Fixed blades are ground triangles, folded ones square strips.
/// let fixed = Plates::blades(3, 0.030, 0.012, 0.0007);
/// assert_eq!((fixed.tip_chord_m, fixed.sweep_m, fixed.leading_edge), (0.0, 0.030, Edge::Sharp));
/// let folded = Plates::folded_blades(2, 0.030, 0.0015, 0.0007);
/// assert_eq!((folded.tip_chord_m, folded.sweep_m, folded.leading_edge), (0.030, 0.0, Edge::Square));
/// assert_eq!(Plates::NONE.count, 0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plates {
    /// How many.
    pub count: u32,
    /// Chord at the shaft, m.
    pub root_chord_m: f64,
    /// Chord at the tip, m.
    pub tip_chord_m: f64,
    /// Height above the shaft, m.
    pub height_m: f64,
    /// Distance of the front of the tip behind the front of the root, m.
    pub sweep_m: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Their front edge; the rear edge is square.
    pub leading_edge: Edge,
}

impl Plates {
    /// No vanes, no blades.
    pub const NONE: Self = Self {
        count: 0,
        root_chord_m: 0.0,
        tip_chord_m: 0.0,
        height_m: 0.0,
        sweep_m: 0.0,
        thickness_m: 0.0,
        leading_edge: Edge::Sharp,
    };

    /// Fixed blades of a broadhead: ground triangles of a length, width (one side) and thickness, m.
    #[must_use]
    pub const fn blades(count: u32, length_m: f64, width_m: f64, thickness_m: f64) -> Self {
        Self {
            count,
            root_chord_m: length_m,
            tip_chord_m: 0.0,
            height_m: width_m,
            sweep_m: length_m,
            thickness_m,
            leading_edge: Edge::Sharp,
        }
    }

    /// Folded blades: strips of a length and thickness, `width_m` above the shaft, with square front edges, m.
    #[must_use]
    pub const fn folded_blades(count: u32, length_m: f64, width_m: f64, thickness_m: f64) -> Self {
        Self {
            count,
            root_chord_m: length_m,
            tip_chord_m: length_m,
            height_m: width_m,
            sweep_m: 0.0,
            thickness_m,
            leading_edge: Edge::Square,
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        Parameter::PlateCount.check(f64::from(self.count))?;
        for size_m in [self.root_chord_m, self.tip_chord_m, self.height_m, self.sweep_m, self.thickness_m] {
            Parameter::PlateSize.check(size_m)?;
        }
        Ok(())
    }

    /// Drag over dynamic pressure, m^2, at a Reynolds number per meter of `per_length_per_m`.
    pub(super) fn drag_area_m2(&self, per_length_per_m: f64, turbulent_share: f64) -> f64 {
        let &Self { height_m: h, sweep_m, thickness_m: t, .. } = self;
        let chord_m = 0.5 * (self.root_chord_m + self.tip_chord_m);
        if self.count == 0 || chord_m <= 0.0 || h <= 0.0 {
            return 0.0;
        }
        let reynolds = chord_m * per_length_per_m;
        let friction = mixed(turbulent_share, || laminar_plate(reynolds), || turbulent_plate(reynolds));
        let front = match self.leading_edge {
            Edge::Square => SQUARE_LEADING_EDGE * h * h / (h * h + sweep_m * sweep_m),
            Edge::Sharp => 0.0,
        };
        let one = friction * (1.0 + 2.0 * t / chord_m) * 2.0 * chord_m * h + (front + SQUARE_TRAILING_EDGE) * t * h;
        f64::from(self.count) * one
    }
}
