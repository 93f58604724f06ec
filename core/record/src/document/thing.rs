//! What a document is made of: one map per thing, keyed by id.

use std::fmt;

/// Kinds of things in a site document, and in the team document.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// The site itself; there is one.
    Site,
    /// What the brief says of the whole site; there is one.
    Brief,
    /// A rail.
    Rail,
    /// A piece of a rail.
    Piece,
    /// A feature of a rail.
    Feature,
    /// A mains point.
    MainsPoint,
    /// A driver place.
    DriverPlace,
    /// A route.
    Route,
    /// A photo.
    Photo,
    /// What the brief says of one rail, under the rail's id.
    Wish,
    /// A zone.
    Zone,
    /// What the team document says of the firm as a whole; there is one.
    Firm,
    /// A setting of the firm, under its name.
    Setting,
    /// A device of a member of the team, under the device's id.
    Member,
    /// A catalogue, under the SHA-256 of its bytes.
    Catalogue,
    /// A series of numbers as one device issues it.
    Series,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 16] = [
        Self::Site,
        Self::Brief,
        Self::Rail,
        Self::Piece,
        Self::Feature,
        Self::MainsPoint,
        Self::DriverPlace,
        Self::Route,
        Self::Photo,
        Self::Wish,
        Self::Zone,
        Self::Firm,
        Self::Setting,
        Self::Member,
        Self::Catalogue,
        Self::Series,
    ];

    /// The name of its map in the document.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Brief => "brief",
            Self::Rail => "rails",
            Self::Piece => "pieces",
            Self::Feature => "features",
            Self::MainsPoint => "mains_points",
            Self::DriverPlace => "driver_places",
            Self::Route => "routes",
            Self::Photo => "photos",
            Self::Wish => "wishes",
            Self::Zone => "zones",
            Self::Firm => "firm",
            Self::Setting => "settings",
            Self::Member => "members",
            Self::Catalogue => "catalogues",
            Self::Series => "series",
        }
    }

    /// The kind whose map has this name.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// What people call it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Brief => "brief",
            Self::Rail => "rail",
            Self::Piece => "piece",
            Self::Feature => "feature",
            Self::MainsPoint => "mains point",
            Self::DriverPlace => "driver place",
            Self::Route => "route",
            Self::Photo => "photo",
            Self::Wish => "brief for rail",
            Self::Zone => "zone",
            Self::Firm => "firm",
            Self::Setting => "setting",
            Self::Member => "member",
            Self::Catalogue => "catalogue",
            Self::Series => "number series",
        }
    }

    /// Whether it lies within a rail.
    #[must_use]
    pub const fn of_rail(self) -> bool {
        matches!(self, Self::Piece | Self::Feature)
    }

    /// Whether there is exactly one, which can be neither added nor removed.
    #[must_use]
    pub const fn is_single(self) -> bool {
        matches!(self, Self::Site | Self::Brief | Self::Firm)
    }
}

/// One thing of a document.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Thing {
    /// What it is.
    pub kind: Kind,
    /// The rail within which it lies; empty for what lies in none.
    pub rail: String,
    /// Its id; empty for the site, the brief and the firm.
    pub id: String,
}

impl Thing {
    /// The site.
    #[must_use]
    pub const fn site() -> Self {
        Self { kind: Kind::Site, rail: String::new(), id: String::new() }
    }

    /// The brief for the whole site.
    #[must_use]
    pub const fn brief() -> Self {
        Self { kind: Kind::Brief, rail: String::new(), id: String::new() }
    }

    /// The firm.
    #[must_use]
    pub const fn firm() -> Self {
        Self { kind: Kind::Firm, rail: String::new(), id: String::new() }
    }

    /// A thing directly in the document.
    #[must_use]
    pub fn new(kind: Kind, id: &str) -> Self {
        Self { kind, rail: String::new(), id: id.to_owned() }
    }

    /// A rail.
    #[must_use]
    pub fn rail(id: &str) -> Self {
        Self::new(Kind::Rail, id)
    }

    /// A feature of a rail.
    #[must_use]
    pub fn feature(rail: &str, id: &str) -> Self {
        Self { kind: Kind::Feature, rail: rail.to_owned(), id: id.to_owned() }
    }

    /// A piece of a rail.
    #[must_use]
    pub fn piece(rail: &str, id: &str) -> Self {
        Self { kind: Kind::Piece, rail: rail.to_owned(), id: id.to_owned() }
    }

    /// The maps on the way to it, from the root.
    #[must_use]
    pub fn path(&self) -> Vec<&str> {
        if self.kind.is_single() {
            vec![self.kind.key()]
        } else if self.kind.of_rail() {
            vec![Kind::Rail.key(), &self.rail, self.kind.key(), &self.id]
        } else {
            vec![self.kind.key(), &self.id]
        }
    }
}

impl fmt::Display for Thing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.kind {
            Kind::Site | Kind::Brief | Kind::Firm => write!(f, "the {}", self.kind.word()),
            Kind::Piece | Kind::Feature => write!(f, "{} {} of rail {}", self.kind.word(), self.id, self.rail),
            _ => write!(f, "{} {}", self.kind.word(), self.id),
        }
    }
}
