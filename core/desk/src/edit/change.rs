//! One field of a thing with its new value, whole.

use record::document::Thing;

use crate::wire::Mirror;
use crate::wire::scalar::{AOrNone, Day, Deg, DegC, Id, Mm, MmAbove, MmSigned, Moment, Part, Percent, Sha256};
use crate::wire::survey::{
    Aim, Answer, Device, EndState, Exposure, FeatureKind, FeedWish, InsideOrOut, LampKind, Light, Locks, MainsKind,
    Mark, Material, Measurement, Origin, Passage, PhotoPosition, Profile, RouteEnd, RouteKind, Shows, SitePoint,
    Sketch, Sun, Target, WalkedSide, ZoneControl,
};

/// A field and its value: `Variant: WireType = "name in the document"`.
macro_rules! changes {
    ($(#[$meta:meta])* $name:ident { $($(#[$variant_meta:meta])* $variant:ident: $kind:ty = $field:literal),* $(,)? }) => {
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
        $(#[$meta])*
        #[serde(tag = "kind", rename_all = "snake_case")]
        pub enum $name {
            $($(#[$variant_meta])* $variant {
                /// The new value.
                value: $kind,
            }),*
        }

        impl $name {
            /// The edit of the document.
            pub(super) fn of(self, thing: Thing) -> record::edit::Edit {
                match self {
                    $(Self::$variant { value } => record::edit::Edit::set(thing, $field, &Mirror::into_plain(value))),*
                }
            }
        }
    };
}

changes!(
    /// A field of the site.
    SiteChange {
        /// What people call it.
        Label: String = "label",
        /// Where it is, in words.
        Address: String = "address",
        /// Whether it is made up.
        Invented: bool = "invented",
        /// The day of the survey.
        SurveyedOn: Option<Day> = "surveyed_on",
        /// Who surveyed.
        Surveyor: Option<String> = "surveyor",
        /// The origin of the site frame.
        Origin: Option<Origin> = "origin",
        /// Exposure of everything that states none of its own.
        Exposure: Exposure = "exposure",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// What the brief says of the whole site.
    BriefChange {
        /// Share of a driver's rated power to keep free.
        ReservePercent: u8 = "reserve_percent",
        /// Greatest voltage drop as a share of the nominal voltage.
        DropPercent: Percent = "drop_permille",
        /// Extra conductor left at each hole.
        LoopPerHoleMm: Mm = "loop_per_hole_um",
        /// Spare luminaires to order.
        SparePercent: u8 = "spare_percent",
    }
);

changes!(
    /// A field of a rail; its ownership has an edit of its own.
    RailChange {
        /// What people call it.
        Label: String = "label",
        /// Which end chainage starts at, in words.
        DatumEnd: String = "datum_end",
        /// How the datum is marked.
        DatumMark: String = "datum_mark",
        /// The whole length measured once more.
        OverallMm: Option<Measurement> = "overall",
        /// The tube's shape.
        TubeProfile: Profile = "tube_profile",
        /// The tube's outside diameter.
        TubeOutsideDiameterMm: Measurement = "tube_outside_diameter",
        /// The tube's wall.
        TubeWallMm: Option<Measurement> = "tube_wall",
        /// What the tube is made of.
        TubeMaterial: Material = "tube_material",
        /// Grade as marked or tested.
        TubeGrade: Option<String> = "tube_grade",
        /// Surface.
        TubeFinish: Option<String> = "tube_finish",
        /// Height of the top above the walking surface.
        HeightMm: Option<Measurement> = "height",
        /// Clear walking width beside it.
        WalkingWidthMm: Option<Measurement> = "walking_width",
        /// Which side people walk, seen from the datum.
        WalkedSide: WalkedSide = "walked_side",
        /// The end at the datum.
        StartEnd: EndState = "start_end",
        /// The far end.
        FarEnd: EndState = "far_end",
        /// Start and bearing in the site frame.
        Sketch: Option<Sketch> = "sketch",
        /// Bonded to earth.
        Bonded: Answer = "bonded",
        /// Part of a lightning protection system.
        Lightning: Answer = "lightning",
        /// Near electric traction.
        NearTraction: Answer = "near_traction",
        /// Part of a guard that carries people's weight.
        Guard: Answer = "guard",
        /// Sealed against water.
        Sealed: Answer = "sealed",
        /// Drained at its low points.
        Drains: Answer = "drains",
        /// Its own exposure.
        Exposure: Option<Exposure> = "exposure",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// A field of a feature; moving it is an edit of its own.
    FeatureChange {
        /// What people call it.
        Label: String = "label",
        /// What it is, with its details.
        What: FeatureKind = "kind",
        /// Clear length to keep to each side.
        KeepClearMm: Option<Mm> = "keep_clear_um",
        /// Whether a cable passes along the bore.
        Bore: Passage = "bore",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// A field of a mains point.
    MainsPointChange {
        /// What people call it.
        Label: String = "label",
        /// What it is.
        What: MainsKind = "kind",
        /// Device that protects it.
        Device: Option<Device> = "device",
        /// Whether a residual current device protects it.
        Rcd: Answer = "rcd",
        /// Load already on it.
        ExistingLoadA: Option<AOrNone> = "existing_load_a",
        /// Inside or outside.
        Place: InsideOrOut = "place",
        /// Its own exposure.
        Exposure: Option<Exposure> = "exposure",
        /// Where it is.
        Position: Option<SitePoint> = "position",
        /// A photograph of it.
        Photo: Option<Id> = "photo",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// A field of a driver place.
    DriverPlaceChange {
        /// What people call it.
        Label: String = "label",
        /// Clear width.
        WidthMm: MmAbove = "width_um",
        /// Clear height.
        HeightMm: MmAbove = "height_um",
        /// Clear depth.
        DepthMm: MmAbove = "depth_um",
        /// What it can be fixed to.
        Fixing: String = "fixing",
        /// Sun on it.
        Sun: Sun = "sun",
        /// Highest air temperature around the driver.
        AmbientC: DegC = "ambient_c",
        /// Height above the highest water expected.
        AboveFloodMm: Option<MmSigned> = "above_flood_um",
        /// Its own exposure.
        Exposure: Option<Exposure> = "exposure",
        /// Whether it can be reached without dismantling.
        Reachable: Answer = "reachable",
        /// Whether it can be locked.
        Lockable: Answer = "lockable",
        /// Where it is.
        Position: Option<SitePoint> = "position",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// A field of a route.
    RouteChange {
        /// What people call it.
        Label: String = "label",
        /// One end.
        From: RouteEnd = "from",
        /// The other end.
        To: RouteEnd = "to",
        /// Length along it.
        LengthMm: Measurement = "length",
        /// What it runs in or on.
        What: RouteKind = "kind",
        /// Clear width for cables.
        ClearMm: Option<MmAbove> = "clear_um",
        /// Whether a cable passes.
        Passage: Passage = "passage",
        /// Corners and ends in the site frame.
        Corners: Vec<SitePoint> = "corners",
        /// Obstacles, in words.
        Obstacles: Vec<String> = "obstacles",
        /// Notes.
        Note: String = "note",
    }
);

changes!(
    /// A field of a photo.
    PhotoChange {
        /// File name as taken.
        File: String = "file",
        /// SHA-256 of the file's bytes.
        ContentSha256: Option<Sha256> = "content",
        /// What it shows.
        Shows: Shows = "shows",
        /// When it was taken.
        Taken: Option<Moment> = "taken",
        /// Where it was taken.
        Position: Option<PhotoPosition> = "position",
        /// Which way the camera pointed.
        HeadingDeg: Option<Deg> = "heading_deg",
        /// The camera.
        Camera: Option<String> = "camera",
        /// Notes.
        Note: String = "note",
        /// Mark-up.
        Marks: Vec<Mark> = "marks",
    }
);

changes!(
    /// A field of the brief for one rail.
    RailBriefChange {
        /// Points, modules, or both.
        Lamps: LampKind = "lamps",
        /// Kind of light.
        Light: Light = "light",
        /// Part to use.
        Part: Option<Part> = "part",
        /// What to aim for.
        Target: Target = "target",
        /// Least distance from the end of a straight to the first hole.
        EndMarginLeastMm: Mm = "end_margin_least_um",
        /// Greatest distance from the end of a straight to the first hole.
        EndMarginGreatestMm: Mm = "end_margin_greatest_um",
        /// Whether posts stand clear of the holes.
        PostsClearOfHoles: bool = "posts_clear_of_holes",
        /// Which way the holes look.
        Aim: Aim = "aim",
        /// A rail whose pattern this one should match.
        MatchRail: Option<Id> = "match_rail",
        /// Concerns, in words.
        Concerns: String = "concerns",
        /// The zone it switches with.
        Zone: Option<Id> = "zone",
        /// Where feeds are wished.
        Feed: FeedWish = "feed",
        /// Holes and drivers that a person has fixed.
        Locks: Locks = "locks",
    }
);

changes!(
    /// A field of a zone.
    ZoneChange {
        /// What people call it.
        Label: String = "label",
        /// How it is controlled.
        Control: ZoneControl = "control",
        /// Whether it lights stairs.
        Stairs: Answer = "stairs",
    }
);
