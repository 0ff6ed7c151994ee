//! Usual values for the answers of choices: common practice or from memory, no source.

use crate::schema::{
    BowKind, InsertKind, Launch, NockKind, PointKind, RatedUnder, ShaftFlow, ShaftMaterial, VaneMaterial,
};
use clothyard_mechanics::Rating;
use clothyard_mechanics::flight::BoundaryLayer;

/// Usual brace height in inches.
pub(super) const fn brace_in(kind: BowKind) -> f64 {
    match kind {
        BowKind::Compound => 6.5,
        BowKind::Recurve => 8.75,
        BowKind::Longbow => 7.25,
    }
}

/// Least weight of an arrow, in gr/lb (common practice, no source; the bow's manual comes first).
pub(super) const fn least_gr_per_lb(kind: BowKind) -> f64 {
    match kind {
        BowKind::Compound | BowKind::Recurve => 5.0,
        BowKind::Longbow => 7.0,
    }
}

/// Under this draw weight in lb, or this draw length in inches, a bow is light (common practice, no source).
pub(crate) const LIGHT_BOW_LB: f64 = 30.0;
pub(super) const LIGHT_BOW_IN: f64 = 25.0;

/// How such a bow is usually shot.
pub(super) const fn launch(kind: BowKind) -> Launch {
    match kind {
        BowKind::Compound => Launch::ReleaseAid,
        BowKind::Recurve => Launch::FingersCenterCut,
        BowKind::Longbow => Launch::FingersShelf,
    }
}

/// Usual distance of plunger or shelf from center, in inches.
pub(super) const fn rest_aside_in(launch: Launch) -> f64 {
    match launch {
        Launch::ReleaseAid => 0.0,
        Launch::FingersCenterCut => 0.08,
        Launch::FingersShelf => 0.31,
    }
}

impl RatedUnder {
    /// The standard's conditions; none where the user gives them.
    pub(super) const fn rating(self) -> Option<Rating> {
        match self {
            Self::FiveGrainsPerPound => Some(Rating::ASTM_F1544),
            Self::OlderAmo => Some(Rating::AMO),
            Self::Own => None,
        }
    }
}

impl NockKind {
    /// Usual weight of the nock in grains, with its light or pin.
    pub(super) const fn usual_mass_gr(self) -> f64 {
        match self {
            Self::Plain => 10.0,
            Self::Lighted => 25.0,
            Self::Pin => 7.0,
        }
    }

    /// Usual weight of the bushing in grains.
    pub(super) const fn usual_bushing_gr(self) -> f64 {
        match self {
            Self::Plain | Self::Lighted => 0.0,
            Self::Pin => 8.0,
        }
    }
}

impl InsertKind {
    /// Usual weight in grains.
    pub(super) const fn usual_mass_gr(self) -> f64 {
        match self {
            Self::Insert => 20.0,
            Self::HalfOut => 40.0,
            Self::Outsert => 45.0,
            Self::GlueIn | Self::GlueOn => 0.0,
        }
    }

    /// Usual length in or over the shaft, in inches.
    pub(super) const fn usual_inside_in(self) -> f64 {
        match self {
            Self::Insert | Self::HalfOut | Self::GlueIn => 0.8,
            Self::Outsert => 0.6,
            Self::GlueOn => 0.0,
        }
    }

    /// Usual length ahead of the shaft, in inches.
    pub(super) const fn usual_ahead_in(self) -> f64 {
        match self {
            Self::Insert | Self::GlueIn | Self::GlueOn => 0.0,
            Self::HalfOut | Self::Outsert => 0.6,
        }
    }
}

impl ShaftMaterial {
    /// What usually holds the point.
    pub(super) const fn usual_insert(self) -> InsertKind {
        match self {
            Self::Carbon | Self::Aluminum => InsertKind::Insert,
            Self::Wood => InsertKind::GlueOn,
        }
    }

    /// What it is usually fletched with.
    pub(super) const fn usual_vanes(self) -> VaneMaterial {
        match self {
            Self::Carbon | Self::Aluminum => VaneMaterial::Plastic,
            Self::Wood => VaneMaterial::Feather,
        }
    }
}

impl VaneMaterial {
    /// Usual length in inches.
    pub(super) const fn usual_length_in(self) -> f64 {
        match self {
            Self::Plastic => 2.0,
            Self::Feather => 4.0,
        }
    }

    /// Usual weight of one in grains, of its length in inches; the feather's from memory.
    pub(super) const fn usual_mass_gr(self, length_in: f64) -> f64 {
        match self {
            Self::Plastic => 7.0,
            Self::Feather => 0.65 * length_in,
        }
    }
}

impl PointKind {
    /// Whether it has blades.
    #[must_use]
    pub const fn is_broadhead(self) -> bool {
        !matches!(self, Self::Field)
    }

    /// Usual width across the blades as they fly, in inches.
    pub(super) const fn usual_cutting_width_in(self) -> f64 {
        match self {
            Self::Field | Self::FixedBlade => 1.125,
            Self::FoldingBlade => 0.75,
        }
    }
}

impl ShaftFlow {
    /// The boundary layer along the shaft.
    #[must_use]
    pub const fn boundary_layer(self) -> BoundaryLayer {
        match self {
            Self::Laminar => BoundaryLayer::LAMINAR,
            Self::Between => BoundaryLayer::Changing,
            Self::Turbulent => BoundaryLayer::TURBULENT,
        }
    }
}
