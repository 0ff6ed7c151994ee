//! The groups of inputs: one for each part of the page.

/// A group of inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// The bow.
    Bow,
    /// Nock, lighted nock, or pin and bushing.
    Nock,
    /// Vanes, wrap and their glue.
    Vanes,
    /// The shaft.
    Shaft,
    /// Insert, half-out, outsert, collar, front sleeve and their glue.
    Front,
    /// The point.
    Point,
    /// Purpose of the arrow.
    Purpose,
    /// Air and wind.
    Air,
    /// Eye, sight and target.
    Aim,
    /// Limits of a rule book.
    Rules,
    /// Number of arrows to make, and how closely matched.
    Make,
    /// Resolution of the instruments.
    Instruments,
    /// Weight and balance point of the finished arrow.
    Finished,
    /// A home spine rig and its reading.
    Rig,
    /// Dimensions that must fit.
    Fit,
}

impl Group {
    /// All groups, in the order of the page.
    pub const ALL: [Self; 15] = [
        Self::Bow,
        Self::Nock,
        Self::Vanes,
        Self::Shaft,
        Self::Front,
        Self::Point,
        Self::Purpose,
        Self::Air,
        Self::Aim,
        Self::Rules,
        Self::Make,
        Self::Instruments,
        Self::Finished,
        Self::Rig,
        Self::Fit,
    ];

    /// Key used in the page's markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bow => "bow",
            Self::Nock => "nock",
            Self::Vanes => "vanes",
            Self::Shaft => "shaft",
            Self::Front => "front",
            Self::Point => "point",
            Self::Purpose => "purpose",
            Self::Air => "air",
            Self::Aim => "aim",
            Self::Rules => "rules",
            Self::Make => "make",
            Self::Instruments => "instruments",
            Self::Finished => "finished",
            Self::Rig => "rig",
            Self::Fit => "fit",
        }
    }

    /// Heading on the page.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Bow => "Bow",
            Self::Nock => "Nock",
            Self::Vanes => "Vanes and wrap",
            Self::Shaft => "Shaft",
            Self::Front => "Insert and front end",
            Self::Point => "Point",
            Self::Purpose => "Purpose",
            Self::Air => "Air and wind",
            Self::Aim => "Sight and target",
            Self::Rules => "Rule book",
            Self::Make => "Making them",
            Self::Instruments => "Instruments",
            Self::Finished => "Finished arrow",
            Self::Rig => "Spine rig",
            Self::Fit => "Fit",
        }
    }
}
