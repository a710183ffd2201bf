//! What names of the journal are the names of.

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A plant.
    Plant,
    /// One soak.
    Soak,
    /// The whole sequence of soaks of a round, or of a piece.
    Sequence,
    /// A fibre.
    Fibre,
    /// A weave.
    Weave,
    /// The code of a piece.
    Piece,
    /// A pot.
    Pot,
    /// A bundle.
    Bundle,
    /// A status.
    Status,
}

impl Kind {
    /// What it is, with its article.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plant => "a plant",
            Self::Soak | Self::Sequence => "a mordant",
            Self::Fibre | Self::Weave => "a cloth",
            Self::Piece => "a piece",
            Self::Pot => "a pot",
            Self::Bundle => "a bundle",
            Self::Status => "a status",
        }
    }

    /// Whether it may follow `with`.
    pub fn is_used(self) -> bool {
        matches!(self, Self::Plant | Self::Soak | Self::Sequence)
    }

    /// Whether it is a mordant.
    pub fn is_mordant(self) -> bool {
        matches!(self, Self::Soak | Self::Sequence)
    }

    /// Whether it may follow `on`.
    pub fn is_cloth(self) -> bool {
        matches!(self, Self::Fibre | Self::Weave)
    }
}
