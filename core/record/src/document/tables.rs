//! Every kind of thing with its fields.

use survey::{
    Aim, Answer, Bonding, Datum, Device, DriverPlace, EndState, Exposure, Feature, FeatureKind, FeedWish, Id,
    InsideOrOut, LampKind, Light, Locks, MainsKind, MainsPoint, Mark, Material, Measurement, Origin, Passage, Photo,
    PhotoPosition, Profile, Rail, RailBrief, Route, RouteEnd, RouteKind, Shows, Site, SitePoint, Sketch, Sun, Target,
    Tube, WalkedSide, Zone, ZoneControl,
};
use units::{Amps, Celsius, Degrees, Length};

use super::table::{Field, Tabled, tabled};
use super::{Kind, Stage, team};
use crate::stored::{OwnedBy, Shape};

tabled!(Site {
    id: Id = "id", "id";
    label: String = "label", "label";
    address: String = "address", "address";
    invented: bool = "invented", "invented";
    surveyed_on: Option<String> = "surveyed_on", "day of the survey";
    surveyor: Option<String> = "surveyor", "surveyor";
    origin: Option<Origin> = "origin", "position";
    exposure: Exposure = "exposure", "exposure";
    note: String = "note", "note";
});

/// What the brief says of the whole site.
#[derive(Clone, Debug)]
pub(crate) struct WholeBrief {
    pub reserve_percent: u8,
    pub drop_permille: u16,
    pub loop_per_hole: Length,
    pub spare_percent: u8,
}
tabled!(WholeBrief {
    reserve_percent: u8 = "reserve_percent", "driver reserve in per cent";
    drop_permille: u16 = "drop_permille", "greatest voltage drop in tenths of a per cent";
    loop_per_hole: Length = "loop_per_hole_um", "loop per hole";
    spare_percent: u8 = "spare_percent", "spares in per cent";
});

/// A rail's own fields without its pieces and features: each with where it stands in a rail, its type, its name in the
/// document and what people call it.
macro_rules! of_rail {
    ($rail:ident { $($field:ident: $t:ty = $at:expr, $name:literal, $words:literal);+ $(;)? }) => {
        /// A rail's own fields without its pieces and features.
        pub(crate) struct RailFields {
            pub id: Id,
            $(pub $field: $t),+
        }

        tabled!(RailFields, id id { $($field: $t = $name, $words);+ });

        impl RailFields {
            pub(crate) fn of($rail: &Rail) -> Self {
                let $rail = $rail.clone();
                Self { id: $rail.id, $($field: $at),+ }
            }
        }
    };
}

of_rail!(rail {
    label: String = rail.label, "label", "label";
    datum_end: String = rail.datum.end, "datum_end", "datum";
    datum_mark: String = rail.datum.mark, "datum_mark", "mark of the datum";
    overall: Option<Measurement> = rail.overall, "overall", "overall check";
    profile: Profile = rail.tube.profile, "tube_profile", "tube profile";
    outside_diameter: Measurement = rail.tube.outside_diameter, "tube_outside_diameter", "outside diameter";
    wall: Option<Measurement> = rail.tube.wall, "tube_wall", "wall";
    material: Material = rail.tube.material, "tube_material", "material";
    grade: Option<String> = rail.tube.grade, "tube_grade", "grade";
    finish: Option<String> = rail.tube.finish, "tube_finish", "finish";
    height: Option<Measurement> = rail.height, "height", "height";
    walking_width: Option<Measurement> = rail.walking_width, "walking_width", "walking width";
    walked_side: WalkedSide = rail.walked_side, "walked_side", "walked side";
    start_end: EndState = rail.start_end, "start_end", "end at the datum";
    far_end: EndState = rail.far_end, "far_end", "far end";
    sketch: Option<Sketch> = rail.sketch, "sketch", "place in the sketch";
    ownership: OwnedBy = OwnedBy(rail.ownership), "ownership", "ownership";
    bonded: Answer = rail.bonding.bonded, "bonded", "bonded to earth";
    lightning: Answer = rail.bonding.lightning, "lightning", "part of lightning protection";
    near_traction: Answer = rail.bonding.near_traction, "near_traction", "near electric traction";
    guard: Answer = rail.guard, "guard", "part of a guard";
    sealed: Answer = rail.sealed, "sealed", "sealed tube";
    drains: Answer = rail.drains, "drains", "drained";
    exposure: Option<Exposure> = rail.exposure, "exposure", "exposure";
    note: String = rail.note, "note", "note";
});

impl RailFields {
    pub(crate) fn with(self, pieces: Vec<survey::Piece>, features: Vec<Feature>) -> Rail {
        Rail {
            id: self.id,
            label: self.label,
            datum: Datum { end: self.datum_end, mark: self.datum_mark },
            pieces,
            overall: self.overall,
            tube: Tube {
                profile: self.profile,
                outside_diameter: self.outside_diameter,
                wall: self.wall,
                material: self.material,
                grade: self.grade,
                finish: self.finish,
            },
            height: self.height,
            walking_width: self.walking_width,
            walked_side: self.walked_side,
            start_end: self.start_end,
            far_end: self.far_end,
            features,
            sketch: self.sketch,
            ownership: self.ownership.0,
            bonding: Bonding { bonded: self.bonded, lightning: self.lightning, near_traction: self.near_traction },
            guard: self.guard,
            sealed: self.sealed,
            drains: self.drains,
            exposure: self.exposure,
            note: self.note,
        }
    }
}

/// A piece: its kind and details are one value.
pub(crate) struct PieceFields {
    pub shape: Shape,
}
tabled!(PieceFields { shape: Shape = "shape", "shape" });

tabled!(Feature, id id {
    label: String = "label", "label";
    chainage: Measurement = "chainage", "chainage";
    kind: FeatureKind = "kind", "kind";
    keep_clear: Option<Length> = "keep_clear_um", "clear length";
    bore: Passage = "bore", "passage along the bore";
    note: String = "note", "note";
});

tabled!(MainsPoint, id id {
    label: String = "label", "label";
    kind: MainsKind = "kind", "kind";
    device: Option<Device> = "device", "protective device";
    rcd: Answer = "rcd", "residual current device";
    existing_load: Option<Amps> = "existing_load_a", "existing load in amperes";
    place: InsideOrOut = "place", "place";
    exposure: Option<Exposure> = "exposure", "exposure";
    position: Option<SitePoint> = "position", "position";
    photo: Option<Id> = "photo", "photo";
    note: String = "note", "note";
});

tabled!(DriverPlace, id id {
    label: String = "label", "label";
    width: Length = "width_um", "width";
    height: Length = "height_um", "height";
    depth: Length = "depth_um", "depth";
    fixing: String = "fixing", "fixing";
    sun: Sun = "sun", "sun";
    ambient: Celsius = "ambient_c", "ambient temperature in °C";
    above_flood: Option<Length> = "above_flood_um", "height above flood";
    exposure: Option<Exposure> = "exposure", "exposure";
    reachable: Answer = "reachable", "reachable";
    lockable: Answer = "lockable", "lockable";
    position: Option<SitePoint> = "position", "position";
    note: String = "note", "note";
});

tabled!(Route, id id {
    label: String = "label", "label";
    from: RouteEnd = "from", "start";
    to: RouteEnd = "to", "end";
    length: Measurement = "length", "length";
    kind: RouteKind = "kind", "kind";
    clear: Option<Length> = "clear_um", "clear width";
    passage: Passage = "passage", "passage";
    corners: Vec<SitePoint> = "corners", "corners";
    obstacles: Vec<String> = "obstacles", "obstacles";
    note: String = "note", "note";
});

tabled!(Photo, id id {
    file: String = "file", "file";
    content: Option<String> = "content", "content of the file";
    shows: Shows = "shows", "what it shows";
    taken: Option<String> = "taken", "time";
    position: Option<PhotoPosition> = "position", "position";
    heading: Option<Degrees> = "heading_deg", "heading in degrees";
    camera: Option<String> = "camera", "camera";
    note: String = "note", "note";
    marks: Vec<Mark> = "marks", "mark-up";
});

tabled!(RailBrief, id rail {
    lamps: LampKind = "lamps", "kind of lighting";
    light: Light = "light", "light";
    part: Option<String> = "part", "part";
    target: Target = "target", "target";
    end_margin_least: Length = "end_margin_least_um", "least end margin";
    end_margin_greatest: Length = "end_margin_greatest_um", "greatest end margin";
    posts_clear_of_holes: bool = "posts_clear_of_holes", "posts clear of holes";
    aim: Aim = "aim", "aim";
    match_rail: Option<Id> = "match_rail", "rail to match";
    concerns: String = "concerns", "concerns";
    zone: Option<Id> = "zone", "zone";
    feed: FeedWish = "feed", "feed position";
    locks: Locks = "locks", "locks";
});

tabled!(Zone, id id {
    label: String = "label", "label";
    control: ZoneControl = "control", "control";
    stairs: Answer = "stairs", "lights stairs";
});

/// The fields of a kind of thing, without `order` and `removed`.
#[must_use]
pub const fn fields(kind: Kind) -> &'static [Field] {
    match kind {
        Kind::Site => Site::FIELDS,
        Kind::Brief => WholeBrief::FIELDS,
        Kind::Rail => RailFields::FIELDS,
        Kind::Piece => PieceFields::FIELDS,
        Kind::Feature => Feature::FIELDS,
        Kind::MainsPoint => MainsPoint::FIELDS,
        Kind::DriverPlace => DriverPlace::FIELDS,
        Kind::Route => Route::FIELDS,
        Kind::Photo => Photo::FIELDS,
        Kind::Wish => RailBrief::FIELDS,
        Kind::Zone => Zone::FIELDS,
        Kind::Firm => team::FIRM,
        Kind::Setting => team::SETTING,
        Kind::Member => team::MEMBER,
        Kind::Catalogue => team::CATALOGUE,
        Kind::Series => team::SERIES,
    }
}

/// What the record itself keeps of a site, beside its survey.
const OF_THE_JOB: &[Field] = &[Field::new::<Stage>(STAGE, "stage")];

/// The field that says how far the job has come.
pub(crate) const STAGE: &str = "stage";

/// The field of a kind with this name.
#[must_use]
pub fn field(kind: Kind, name: &str) -> Option<&'static Field> {
    let own = if kind == Kind::Site { OF_THE_JOB } else { &[] };
    fields(kind).iter().chain(own).find(|field| field.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn safety_answers_and_lengths_are_told_by_their_types() {
        let named = |kind: Kind, flag: fn(&Field) -> bool| -> Vec<&str> {
            fields(kind).iter().filter(|field| flag(field)).map(|field| field.name).collect()
        };
        let safety = ["ownership", "bonded", "lightning", "near_traction", "guard", "sealed", "drains", "exposure"];
        assert_eq!(named(Kind::Rail, |field| field.safety), safety);
        assert_eq!(named(Kind::Feature, |field| field.safety), ["kind", "bore"]);
        assert_eq!(named(Kind::Feature, |field| field.length), ["keep_clear_um"]);
        assert_eq!(named(Kind::MainsPoint, |field| field.safety), ["rcd", "exposure"]);
        assert_eq!(named(Kind::Site, |field| field.safety), ["exposure"]);
    }
}
