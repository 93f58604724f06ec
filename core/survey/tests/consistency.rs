//! A survey that does not add up says so while the surveyor still stands there.

use survey::*;
use units::{Celsius, Degrees, Length};

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

fn straight(name: &str, mm: i64) -> Piece {
    Piece::Straight(Straight {
        id: id(name),
        length: Measurement::taped(Length::mm(mm)),
        slope: Degrees::ZERO,
        mark: None,
    })
}

fn post(name: &str, mm: i64) -> Feature {
    Feature {
        id: id(name),
        label: String::new(),
        chainage: Measurement::taped(Length::mm(mm)),
        kind: FeatureKind::Post { width: Length::mm(40), kind: PostKind::WeldedBelow, into_post: Passage::Unknown },
        keep_clear: None,
        bore: Passage::Unknown,
        note: String::new(),
    }
}

fn survey_of(pieces: Vec<Piece>, overall_mm: Option<i64>, features: Vec<Feature>) -> Survey {
    let tape = |mm| Measurement::taped(Length::mm(mm));
    let exposure = Exposure {
        setting: Setting::OutdoorOpen,
        salt: Salt::default(),
        cleaning: String::new(),
        public_reach: PublicReach::PublicAlways,
        least_temperature: Celsius::new(-10.0),
        greatest_temperature: Celsius::new(35.0),
        in_sun: true,
        special: None,
    };
    let rail = Rail {
        id: id("a"),
        label: "A".into(),
        datum: Datum { end: "foot".into(), mark: "pen".into() },
        pieces,
        overall: overall_mm.map(tape),
        tube: Tube {
            profile: Profile::Round,
            outside_diameter: tape(48),
            wall: Some(tape(3)),
            material: Material::StainlessSteel,
            grade: None,
            finish: None,
        },
        height: None,
        walking_width: None,
        walked_side: WalkedSide::Left,
        start_end: EndState::Open,
        far_end: EndState::Open,
        features,
        sketch: None,
        ownership: None,
        bonding: Bonding::default(),
        guard: Answer::Unknown,
        sealed: Answer::Unknown,
        drains: Answer::Unknown,
        exposure: None,
        note: String::new(),
    };
    Survey {
        site: Site {
            id: id("s"),
            label: "S".into(),
            address: String::new(),
            invented: true,
            surveyed_on: None,
            surveyor: None,
            origin: None,
            exposure,
            note: String::new(),
        },
        rails: vec![rail],
        mains_points: vec![],
        driver_places: vec![],
        routes: vec![],
        photos: vec![],
        brief: Brief {
            rails: vec![],
            zones: vec![],
            reserve_percent: 20,
            drop_permille: 50,
            loop_per_hole: Length::mm(150),
            spare_percent: 5,
        },
    }
}

fn verdict_of(survey: &Survey, rule: &str) -> Option<Verdict> {
    consistency::findings(survey).into_iter().find(|f| f.rule == rule).map(|f| f.verdict)
}

/// Two 10 m pieces and a 20 m check with a class II tape: 3.3 mm each and, past 20 m, 5.5 mm (2014/32/EU annex X from
/// memory, plus 1 mm reading), so the root of the summed squares is 7.2 mm and the plain sum 12.1 mm.
#[test]
fn pieces_close_on_the_overall_within_the_combined_tolerance() {
    let of = |overall| {
        verdict_of(&survey_of(vec![straight("1", 10_000), straight("2", 10_000)], Some(overall), vec![]), "closure")
    };
    assert_eq!(of(20_007), Some(Verdict::Pass));
    assert_eq!(of(20_008), Some(Verdict::Caution));
    assert_eq!(of(20_012), Some(Verdict::Caution));
    assert_eq!(of(20_013), Some(Verdict::Stop));
}

#[test]
fn a_missing_overall_is_not_evaluated_and_a_rail_without_pieces_stops() {
    assert_eq!(verdict_of(&survey_of(vec![straight("1", 1000)], None, vec![]), "closure"), Some(Verdict::NotEvaluated));
    assert_eq!(verdict_of(&survey_of(vec![], None, vec![]), "closure"), Some(Verdict::Stop));
}

#[test]
fn a_post_beyond_the_end_stops_and_two_in_one_place_are_a_caution() {
    let beyond = survey_of(vec![straight("1", 1000)], Some(1000), vec![post("p", 1100)]);
    assert_eq!(verdict_of(&beyond, "feature-on-rail"), Some(Verdict::Stop));
    let at_end = survey_of(vec![straight("1", 1000)], Some(1000), vec![post("p", 1000)]);
    assert_eq!(verdict_of(&at_end, "feature-on-rail"), None);
    let twice = survey_of(vec![straight("1", 1000)], Some(1000), vec![post("p", 500), post("q", 510)]);
    assert_eq!(verdict_of(&twice, "features-overlap"), Some(Verdict::Caution));
}

#[test]
fn what_changes_no_figure_is_not_in_the_planning_part() {
    let a = survey_of(vec![straight("1", 1000)], Some(1000), vec![post("p", 500), post("q", 700)]);
    let mut b = a.clone();
    b.rails[0].note = "wet".into();
    b.site.address = "elsewhere".into();
    b.rails[0].features.reverse();
    assert_eq!(a.planning_part(), b.planning_part());
    b.rails[0].features[0].chainage.value = Length::mm(501);
    assert_ne!(a.planning_part(), b.planning_part());
}
