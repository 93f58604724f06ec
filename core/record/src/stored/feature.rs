//! Stored shapes of a feature's values.

use survey::{FeatureKind, HoleUse, JointKind, Passage, PostKind, Proof};

use super::kinds;

kinds!(Proof { DrawWire = "draw_wire", Camera = "camera", Seen = "seen" });
kinds!(Passage {
    Unknown = "unknown",
    Assumed = "assumed",
    Proved { how: "how", widest: "widest_um" } = "proved",
    Blocked { how: "how" } = "blocked",
} absent Unknown);
kinds!(PostKind {
    WeldedBelow = "welded_below",
    Saddle = "saddle",
    SideBracket = "side_bracket",
    Through = "through",
    Other(words) = "other",
});
kinds!(JointKind { Welded = "welded", Sleeved = "sleeved", Bolted = "bolted", Flush = "flush" });
kinds!(HoleUse { Luminaire = "luminaire", Other = "other" });
kinds!(FeatureKind {
    Post { width: "width_um", kind: "meets", into_post: "into_post" } = "post",
    Joint { kind: "made", width: "width_um" } = "joint",
    MovementJoint { range: "range_um", width: "width_um" } = "movement_joint",
    InfillClamp { width: "width_um" } = "infill_clamp",
    ExistingHole { diameter: "diameter_um", angle: "angle_deg", used_for: "used_for" } = "existing_hole",
    LowPoint = "low_point",
    Damage { width: "width_um" } = "damage",
    WayIn { opening: "opening_um", post: "post" } = "way_in",
});
