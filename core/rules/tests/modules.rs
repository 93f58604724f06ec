//! The rules about chains of modules pass a good job and stop or question a bad one: the check fixture of modules with one
//! thing changed at a time, in the survey, the catalogue or the finished plan.

use catalogue::{Catalogue, ControlKind, LuminaireKind};
use plan::Plan;
use survey::{Finding, Survey, Verdict};
use units::Length;

const SITE: &[u8] = include_bytes!("../../../fixtures/check/modules.json");
const PARTS: &[u8] = include_bytes!("../../../fixtures/check/modules.toml");

fn job() -> (Survey, Catalogue, Plan) {
    let survey = desk::read_survey(SITE, "modules.json").unwrap_or_else(|f| panic!("{f}"));
    let catalogue = desk::read_catalogue(PARTS, "modules.toml").unwrap_or_else(|f| panic!("{f}"));
    let plan = plan::plan(&survey, &catalogue);
    (survey, catalogue, plan)
}

fn worst(findings: &[Finding], rule: &str) -> Option<Verdict> {
    findings.iter().filter(|f| f.rule == rule).map(|f| f.verdict).min()
}

/// The worst verdict of a rule on the good plan, judged with something changed.
fn after(rule: &str, change: impl Fn(&mut Survey, &mut Catalogue, &mut Plan)) -> Option<Verdict> {
    let (mut survey, mut catalogue, mut plan) = job();
    change(&mut survey, &mut catalogue, &mut plan);
    worst(&rules::findings(&survey, &catalogue, &plan), rule)
}

#[test]
fn a_good_job_of_modules_has_nothing_but_passes() {
    let (survey, catalogue, plan) = job();
    let findings = rules::findings(&survey, &catalogue, &plan);
    let bad: Vec<&Finding> = findings.iter().filter(|f| f.verdict != Verdict::Pass).collect();
    assert!(bad.is_empty(), "{bad:#?}");
    for rule in
        ["pole-counts", "end-caps", "longest-chain", "ingress", "space-factor", "body-clearance", "connector-current"]
    {
        assert_eq!(worst(&findings, rule), Some(Verdict::Pass), "{rule}");
    }
}

#[test]
fn poles_that_do_not_match_stop() {
    let poles = |part: &'static str, poles: u8| {
        after("pole-counts", move |_, catalogue, _| {
            let lead = catalogue.leads.iter_mut().find(|lead| lead.item.part == part).unwrap();
            lead.connector.as_mut().unwrap().poles = poles;
        })
    };
    assert_eq!(poles("CHECK-LUMINAIRE-4", 4), Some(Verdict::Pass));
    assert_eq!(poles("CHECK-LUMINAIRE-4", 2), Some(Verdict::Stop));
    assert_eq!(poles("CHECK-LUMINAIRE-2", 4), Some(Verdict::Stop));
    let outlet = after("pole-counts", |_, catalogue, _| {
        if let ControlKind::Decoder { outlet_poles, .. } = &mut catalogue.controls[0].kind {
            *outlet_poles = 5;
        }
    });
    assert_eq!(outlet, Some(Verdict::Stop));
    let no_caps = after("end-caps", |_, _, plan| plan.parts.retain(|line| line.part != "CHECK-CAP-4"));
    assert_eq!(no_caps, Some(Verdict::Stop));
}

#[test]
fn a_chain_longer_than_its_maker_allows_stops() {
    let limit = |mm: i64| {
        after("longest-chain", move |_, catalogue, _| {
            for luminaire in &mut catalogue.luminaires {
                if let LuminaireKind::Linear(module) = &mut luminaire.kind {
                    module.longest_chain = Length::mm(mm);
                }
            }
        })
    };
    assert_eq!(limit(3_000), Some(Verdict::Pass));
    assert_eq!(limit(2_999), Some(Verdict::Stop));
}

#[test]
fn a_joint_that_moves_wants_slack_in_the_link_and_no_module_across_it() {
    use survey::{FeatureKind, JointKind};
    let moving = |range: i64| {
        after("movement-joint", move |survey, _, _| {
            let rail = survey.rails.iter_mut().find(|rail| rail.id.as_str() == "mixed").unwrap();
            let joint = rail.features.iter_mut().find(|feature| feature.id.as_str() == "j1").unwrap();
            assert!(matches!(joint.kind, FeatureKind::Joint { kind: JointKind::Flush, .. }));
            joint.kind = FeatureKind::MovementJoint { range: Length::mm(range), width: Length::mm(4) };
        })
    };
    // The link over the joint is 300 mm for 98 mm.
    assert_eq!(moving(200), Some(Verdict::Pass));
    assert_eq!(moving(210), Some(Verdict::Caution));
    let across = after("movement-joint", |survey, _, _| {
        let rail = survey.rails.iter_mut().find(|rail| rail.id.as_str() == "mixed").unwrap();
        let joint = rail.features.iter_mut().find(|feature| feature.id.as_str() == "j1").unwrap();
        joint.chainage.value = Length::mm(700);
        joint.kind = FeatureKind::MovementJoint { range: Length::mm(10), width: Length::mm(4) };
    });
    assert_eq!(across, Some(Verdict::Stop));
}

#[test]
fn the_planner_leaves_the_whole_range_in_a_link_past_a_joint_that_moves() {
    use survey::FeatureKind;
    let (mut survey, catalogue, _) = job();
    let rail = survey.rails.iter_mut().find(|rail| rail.id.as_str() == "mixed").unwrap();
    let joint = rail.features.iter_mut().find(|feature| feature.id.as_str() == "j1").unwrap();
    joint.kind = FeatureKind::MovementJoint { range: Length::mm(40), width: Length::mm(4) };
    let plan = plan::plan(&survey, &catalogue);
    let findings = rules::findings(&survey, &catalogue, &plan);
    assert_eq!(worst(&findings, "movement-joint"), Some(Verdict::Pass));
}

#[test]
fn a_code_for_immersion_alone_covers_no_splash() {
    use survey::Setting;
    let code = |second: &'static [u8], setting: Setting| {
        after("ingress", move |survey, catalogue, _| {
            survey.site.exposure.setting = setting;
            for luminaire in &mut catalogue.luminaires {
                luminaire.ingress.second = second.to_vec();
            }
        })
    };
    assert_eq!(code(&[7], Setting::OutdoorOpen), Some(Verdict::Stop));
    // Drivers and decoders stand in enclosures there, which is a caution.
    assert_eq!(code(&[6, 7], Setting::OutdoorOpen), Some(Verdict::Caution));
    assert_eq!(code(&[7], Setting::IndoorDry), Some(Verdict::Pass));
}
