//! Stored shapes of a rail's values.

use serde_json::Value;
use survey::{
    Answer, Bend, Consent, EndState, Id, Instrument, Material, Measurement, Ownership, Piece, Plane, Profile,
    SitePoint, Sketch, Straight, TapeClass, Taped, TapedLine, WalkedSide,
};

use super::{Stored, kind, kind_of, kinds, member, part, record};

kinds!(Answer { Yes = "yes", No = "no", Unknown = "unknown" } absent Unknown);
kinds!(TapeClass { I = "i", II = "ii", III = "iii" });
kinds!(Instrument {
    Tape(class) = "tape",
    Laser = "laser",
    Calliper = "calliper",
    ThicknessGauge = "thickness_gauge",
    Wheel = "wheel",
    Drawing = "drawing",
    Estimate = "estimate",
    Other(words) = "other",
});
record!(Measurement { value = "value_um", instrument = "instrument", stated_tolerance = "tolerance_um" });
kinds!(Plane { Left = "left", Right = "right", Up = "up", Down = "down" });
kinds!(TapedLine { Centreline = "centreline", Top = "top", Outside = "outside" });
record!(Taped { line = "line", length = "length" });
kinds!(Profile {
    Round = "round",
    RoundSlotted { slot_width: "slot_width_um" } = "round_slotted",
    Flat { thickness: "thickness_um" } = "flat",
    Other(words) = "other",
});
kinds!(Material {
    StainlessSteel = "stainless_steel",
    CarbonSteel = "carbon_steel",
    GalvanisedSteel = "galvanised_steel",
    Aluminium = "aluminium",
    Brass = "brass",
    Other(words) = "other",
});
kinds!(WalkedSide { Left = "left", Right = "right", Both = "both" });
kinds!(EndState {
    Open = "open",
    RemovableCap = "removable_cap",
    WeldedCap = "welded_cap",
    ReturnsToWall = "returns_to_wall",
    Continues = "continues",
});
record!(SitePoint { x = "x_um", y = "y_um", z = "z_um", measured = "measured" });
record!(Sketch { start = "start", bearing = "bearing_deg" });
kinds!(Consent {
    InWriting(reference) = "in_writing",
    Spoken = "spoken",
    NotAsked = "not_asked",
    Refused = "refused",
});

/// Whose rail it is; its own type, since disputed ownership counts as no consent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct OwnedBy(pub Option<Ownership>);

impl Stored for OwnedBy {
    fn to_json(&self) -> Value {
        let Some(owned) = &self.0 else { return Value::Null };
        let mut map = serde_json::Map::new();
        member(&mut map, "owner", &owned.owner);
        member(&mut map, "bridge_or_highway", &owned.bridge_or_highway);
        member(&mut map, "consent", &owned.consent);
        Value::Object(map)
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        if json.is_null() {
            return Ok(Self(None));
        }
        Ok(Self(Some(Ownership {
            owner: part(json, "owner")?,
            bridge_or_highway: part(json, "bridge_or_highway")?,
            consent: part(json, "consent")?,
        })))
    }
    fn absent() -> Option<Self> {
        Some(Self(None))
    }
    fn cautious(disputed: &[Self]) -> Option<Self> {
        let mut owned = disputed.iter().find_map(|d| d.0.clone())?;
        let refused = disputed.iter().any(|d| d.0.as_ref().is_some_and(|o| o.consent == Consent::Refused));
        owned.bridge_or_highway = disputed.iter().any(|d| d.0.as_ref().is_some_and(|o| o.bridge_or_highway));
        owned.consent = if refused { Consent::Refused } else { Consent::NotAsked };
        Some(Self(Some(owned)))
    }
}

/// A piece without its id, which is its key in the document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Shape(pub Piece);

impl Shape {
    /// The piece under its id.
    pub(crate) fn with_id(self, own: Id) -> Piece {
        match self.0 {
            Piece::Straight(s) => Piece::Straight(Straight { id: own, ..s }),
            Piece::Bend(b) => Piece::Bend(Bend { id: own, ..b }),
        }
    }
}

impl Stored for Shape {
    fn to_json(&self) -> Value {
        let mut map = serde_json::Map::new();
        match &self.0 {
            Piece::Straight(s) => {
                member(&mut map, "length", &s.length);
                member(&mut map, "slope_deg", &s.slope);
                member(&mut map, "mark", &s.mark);
                kind("straight", map)
            }
            Piece::Bend(b) => {
                member(&mut map, "angle_deg", &b.angle);
                member(&mut map, "plane", &b.plane);
                member(&mut map, "centreline_radius_um", &b.centreline_radius);
                member(&mut map, "taped", &b.taped);
                member(&mut map, "bore", &b.bore);
                member(&mut map, "keep_clear_um", &b.keep_clear);
                kind("bend", map)
            }
        }
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        // The key of the document gives the true id; this one never leaves this file unreplaced.
        let id = Id::new("piece").ok_or("no id")?;
        match kind_of(json)? {
            "straight" => Ok(Self(Piece::Straight(Straight {
                id,
                length: part(json, "length")?,
                slope: part(json, "slope_deg")?,
                mark: part(json, "mark")?,
            }))),
            "bend" => Ok(Self(Piece::Bend(Bend {
                id,
                angle: part(json, "angle_deg")?,
                plane: part(json, "plane")?,
                centreline_radius: part(json, "centreline_radius_um")?,
                taped: part(json, "taped")?,
                bore: part(json, "bore")?,
                keep_clear: part(json, "keep_clear_um")?,
            }))),
            other => Err(format!("{other:?} is not known here; known are straight, bend")),
        }
    }
}
