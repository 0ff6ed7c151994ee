//! The pictures a step can show.

/// Which picture a step shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Picture {
    /// The arrow to scale with its fulcrum.
    Arrow,
    /// The match on a tape of draw weights.
    Match,
    /// The path from the side.
    Path,
    /// The shaft where the string bends it most.
    Flex,
}

impl Picture {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Arrow, Self::Match, Self::Path, Self::Flex];

    /// Its key.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Arrow => "arrow",
            Self::Match => "match",
            Self::Path => "path",
            Self::Flex => "flex",
        }
    }

    /// What the page calls it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Arrow => "arrow on its balance point",
            Self::Match => "match bar",
            Self::Path => "trajectory",
            Self::Flex => "bend in the shot",
        }
    }

    /// The one with a key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|picture| picture.key() == key)
    }
}
