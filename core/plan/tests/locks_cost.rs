//! What locks cost: by hand on a small site, and against plans of the same site without them. Invented site and parts.

mod whole_support;

use plan::{Lock, Plan, plan};
use proptest::prelude::*;
use survey::{DriverLock, Locks, RouteEnd, Survey};
use units::{Length, Money};
use whole_support::*;

fn driver(place: &str, part: Option<&str>) -> DriverLock {
    DriverLock { place: id(place), part: part.map(str::to_owned) }
}

/// A rail of 6 m with a driver place 2 m off (`dp`) and another 5 m off (`far`), 6 m and 9 m from mains.
fn site(locks: Locks) -> Survey {
    let mut survey = ramp_survey();
    survey.rails[0] = straight_rail("ramp", "Ramp", 6_000, 1_100);
    survey.rails[0].features.push(way_in("in", 1_000));
    survey.driver_places.push(driver_place("far"));
    survey.routes.truncate(1);
    for (place, way, mains) in [("dp", 2_000, None), ("far", 5_000, Some(9_000))] {
        let here = || RouteEnd::DriverPlace(id(place));
        survey.routes.push(route(&format!("r-{place}"), here(), to_way_in("ramp", "in"), way));
        if let Some(length) = mains {
            survey.routes.push(route(&format!("m-{place}"), RouteEnd::MainsPoint(id("mp")), here(), length));
        }
    }
    survey.brief.rails[0].locks = locks;
    survey
}

/// The small catalogue with one extension lead, cut from a reel.
fn parts() -> catalogue::Catalogue {
    let mut parts = catalogue();
    parts.leads.retain(|lead| lead.item.part != "EL-15");
    parts
}

fn ten_thousandths(amount: i64) -> Option<Money> {
    Some(Money::ten_thousandths(amount))
}

#[test]
fn a_driver_farther_off_costs_its_longer_leads() {
    let locks = Locks { drivers: vec![driver("far", None)], holes: vec![] };
    let plan = plan(&site(locks), &parts());
    let rail = &plan.rails[0];
    assert_eq!(rail.locks.len(), 1);
    assert_eq!(rail.locks[0].lock, Lock::Driver { place: id("far"), part: None });
    // 3 m more of mains lead at 2.40 and of extension lead at 2.70, each laid at 2.50 (25 minutes for 10 m at 60 an hour).
    assert_eq!(rail.locks[0].effect.cost, ten_thousandths(3 * (24_000 + 25_000) + 3 * (27_000 + 25_000)));
    assert!(rail.locks[0].effect.exact);
    assert_eq!(rail.locks[0].effect.spacing, None);
    assert_eq!(rail.locks_together, Some(rail.locks[0].effect));
}

#[test]
fn a_dearer_part_costs_the_difference_in_price() {
    let locks = Locks { drivers: vec![driver("dp", Some("DR-100"))], holes: vec![] };
    let plan = plan(&site(locks), &parts());
    // DR-100 is 110 and DR-30, which would do, 45.
    assert_eq!(plan.rails[0].locks[0].effect.cost, ten_thousandths(650_000));
}

#[test]
fn a_lock_on_what_is_cheapest_anyway_costs_nothing() {
    let locks = Locks { drivers: vec![driver("dp", Some("DR-30"))], holes: vec![] };
    let plan = plan(&site(locks), &parts());
    assert_eq!(plan.rails[0].locks[0].effect.cost, Some(Money::ZERO));
    assert!(plan.rails[0].locks[0].effect.exact);
}

#[test]
fn two_locks_together_cost_what_neither_does_alone() {
    // Each lock asks for a driver of its own, so that without either of them one driver goes.
    let locks = Locks { drivers: vec![driver("dp", None), driver("far", None)], holes: vec![] };
    let survey = site(locks);
    let with = plan(&survey, &parts());
    let rail = &with.rails[0];
    assert_eq!(with.drivers.len(), 2);
    let cost = |plan: &Plan| plan.objective.cost;
    let only = |drivers: Vec<DriverLock>| plan(&site(Locks { drivers, holes: vec![] }), &parts());
    let (near, far) = (only(vec![driver("dp", None)]), only(vec![driver("far", None)]));
    let none = only(vec![]);
    assert_eq!(rail.locks[0].effect.cost, Some(cost(&with) - cost(&far)));
    assert_eq!(rail.locks[1].effect.cost, Some(cost(&with) - cost(&near)));
    assert_eq!(rail.locks_together.unwrap().cost, Some(cost(&with) - cost(&none)));
    assert_ne!(rail.locks_together.unwrap().cost, Some(rail.locks.iter().filter_map(|lock| lock.effect.cost).sum()));
}

#[test]
fn a_lock_that_cannot_be_kept_has_no_cost() {
    let locks = Locks { drivers: vec![driver("dp", Some("none of these"))], holes: vec![] };
    let plan = plan(&site(locks), &parts());
    assert_eq!(plan.rails[0].locks[0].effect.cost, None);
    assert!(!plan.rails[0].locks[0].effect.exact);
}

#[test]
fn a_hole_off_the_pattern_costs_evenness() {
    // A bare rail of 1.5 m takes five holes at 300 mm, 150 mm from its ends; see the example of `plan::layout`. A hole kept at
    // 700 mm leaves 700 mm before it and 800 mm behind.
    let mut survey = site(Locks { holes: vec![mm(700)], drivers: vec![] });
    survey.rails[0].pieces = straight_rail("ramp", "Ramp", 1_500, 0).pieces;
    survey.rails[0].features.retain(|feature| feature.id == id("in"));
    // A way in keeps holes away, so it stands at the very end.
    survey.rails[0].features[0].chainage.value = Length::ZERO;
    let with = plan(&survey, &parts());
    let rail = &with.rails[0];
    assert_eq!(rail.locks[0].lock, Lock::Hole { chainage: mm(700) });
    let spacing = rail.locks[0].effect.spacing.unwrap();
    assert_eq!((spacing.departure_without, spacing.luminaires_without), (Length::ZERO, 5));
    assert_eq!(spacing.departure, rail.pattern.as_ref().unwrap().worst_departure);
    assert_eq!(spacing.luminaires as usize, rail.luminaires.len());
    survey.brief.rails[0].locks.holes.clear();
    let without = plan(&survey, &parts());
    assert_eq!(rail.locks[0].effect.cost, Some(with.objective.cost - without.objective.cost));
    assert_eq!(without.rails[0].pattern.as_ref().unwrap().worst_departure, Length::ZERO);
}

#[test]
fn rails_that_match_are_laid_out_again_together() {
    let mut survey = site(Locks { holes: vec![mm(4_800)], drivers: vec![] });
    let mut other = straight_rail("twin", "Twin", 6_000, 1_100);
    other.features.push(way_in("in", 1_000));
    survey.rails.push(other);
    let mut brief = rail_brief("twin");
    brief.match_rail = Some(id("ramp"));
    survey.brief.rails.push(brief);
    survey.routes.push(route("r-twin", RouteEnd::DriverPlace(id("dp")), to_way_in("twin", "in"), 2_500));
    let with = plan(&survey, &parts());
    survey.brief.rails[0].locks.holes.clear();
    let without = plan(&survey, &parts());
    assert_eq!(with.rails[0].locks[0].effect.cost, Some(with.objective.cost - without.objective.cost));
    assert!(with.rails[1].locks.is_empty() && with.rails[1].locks_together.is_none());
    assert!(without.rails.iter().all(|rail| rail.locks.is_empty() && rail.locks_together.is_none()));
}

#[test]
fn very_many_locks_are_weighed_together_only() {
    let holes: Vec<Length> = (0..25).map(|k| mm(400 + 200 * k)).collect();
    let with = plan(&site(Locks { holes: holes.clone(), drivers: vec![] }), &parts());
    let rail = &with.rails[0];
    assert_eq!(rail.locks.len(), 25);
    assert!(rail.locks.iter().all(|lock| !lock.effect.weighed && lock.effect.cost.is_none()));
    let without = plan(&site(Locks::default()), &parts());
    assert_eq!(rail.locks_together.unwrap().cost, Some(with.objective.cost - without.objective.cost));
    let few = plan(&site(Locks { holes: holes[..24].to_vec(), drivers: vec![] }), &parts());
    assert!(few.rails[0].locks.iter().all(|lock| lock.effect.weighed));
}

/// A lock of some kind on the site of two rails.
fn some_lock() -> impl Strategy<Value = (usize, Lock)> {
    let place = prop::sample::select(vec!["dp", "far"]);
    let part = prop::sample::select(vec![None, Some("DR-30"), Some("DR-60"), Some("DR-100")]);
    let driver =
        (place, part).prop_map(|(place, part)| Lock::Driver { place: id(place), part: part.map(str::to_owned) });
    let hole = (0_i64..6_000).prop_map(|at| Lock::Hole { chainage: mm(at) });
    (0_usize..2, prop_oneof![driver, hole])
}

/// Two rails that share both places.
fn two_rails(locks: &[(usize, Lock)]) -> Survey {
    let mut survey = site(Locks::default());
    let mut other = straight_rail("second", "Second", 6_000, 1_300);
    other.features.push(way_in("in", 2_000));
    survey.rails.push(other);
    survey.brief.rails.push(rail_brief("second"));
    for (place, length) in [("dp", 3_500), ("far", 2_500)] {
        let from = RouteEnd::DriverPlace(id(place));
        survey.routes.push(route(&format!("s-{place}"), from, to_way_in("second", "in"), length));
    }
    for (rail, lock) in locks {
        let kept = &mut survey.brief.rails[*rail].locks;
        match lock {
            Lock::Hole { chainage } => kept.holes.push(*chainage),
            Lock::Driver { place, part } => {
                kept.drivers.push(DriverLock { place: place.clone(), part: part.clone() });
            }
        }
    }
    survey
}

fn solved(plan: &Plan) -> bool {
    !plan.findings.iter().any(|finding| finding.rule == "feed-possible")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The cost of each lock, and of all of a rail, is what planning the site anew without it saves; a driver's lock never
    /// saves anything.
    #[test]
    fn a_lock_costs_what_planning_without_it_saves(locks in prop::collection::vec(some_lock(), 1..8)) {
        let parts = catalogue();
        let with = plan(&two_rails(&locks), &parts);
        // The site's rails in order of id.
        for (rail, name) in ["ramp", "second"].into_iter().enumerate() {
            let planned = with.rails.iter().find(|planned| planned.id == id(name)).unwrap();
            let own: Vec<&(usize, Lock)> = locks.iter().filter(|lock| lock.0 == rail).collect();
            prop_assert_eq!(planned.locks.len(), own.len());
            let saved = |left: Vec<(usize, Lock)>| {
                let without = plan(&two_rails(&left), &parts);
                let proved = |plan: &Plan| plan.objective.lower_bound == plan.objective.cost;
                let proved = proved(&with) && proved(&without);
                (solved(&with) && solved(&without)).then(|| (with.objective.cost - without.objective.cost, proved))
            };
            for lock in &planned.locks {
                let mut left = locks.clone();
                let here = left.iter().position(|known| known.0 == rail && known.1 == lock.lock).unwrap();
                left.remove(here);
                if let Some((saved, proved)) = saved(left) {
                    prop_assert_eq!(lock.effect.cost, Some(saved));
                    prop_assert_eq!(lock.effect.exact, proved);
                    // So few rails are always proved.
                    prop_assert!(lock.effect.exact, "{:?}", with.objective);
                }
                if let (Lock::Driver { .. }, Some(cost)) = (&lock.lock, lock.effect.cost) {
                    prop_assert!(cost >= Money::ZERO, "{lock:?}");
                }
            }
            if own.is_empty() {
                prop_assert!(planned.locks_together.is_none());
            } else if let Some((saved, _)) = saved(locks.iter().filter(|lock| lock.0 != rail).cloned().collect()) {
                prop_assert_eq!(planned.locks_together.unwrap().cost, Some(saved));
            }
        }
    }
}
