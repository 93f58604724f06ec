//! Source: common practice, no source. What fitters of linear modules take for granted, on a fixture of its own
//! (`fixtures/check/README.md` lists the facts).

use std::collections::BTreeSet;

use newel_tests::tree;
use serde_json::Value;

fn plan() -> Value {
    let (site, parts) = ("fixtures/check/modules.json", "fixtures/check/modules.toml");
    let planned = desk::plan_files((&tree::bytes(site), site), (&tree::bytes(parts), parts))
        .unwrap_or_else(|faults| panic!("{faults}"));
    serde_json::to_value(planned.document()).expect("the plan document is JSON")
}

fn list<'a>(value: &'a Value, name: &str) -> &'a Vec<Value> {
    value[name].as_array().unwrap_or_else(|| panic!("{name} is a list"))
}

fn text<'a>(value: &'a Value, name: &str) -> &'a str {
    value[name].as_str().unwrap_or_else(|| panic!("{name} is a text in {value}"))
}

fn quantity(plan: &Value, part: &str) -> f64 {
    list(plan, "parts").iter().filter(|p| p["part"] == part).map(|p| p["quantity"].as_f64().expect("a quantity")).sum()
}

fn rail<'a>(plan: &'a Value, id: &str) -> &'a Value {
    list(plan, "rails").iter().find(|rail| rail["id"] == id).expect("the rail is planned")
}

fn circuits<'a>(plan: &'a Value, id: &str) -> Vec<&'a Value> {
    list(plan, "circuits").iter().filter(|circuit| circuit["rail"] == id).collect()
}

fn modules(circuit: &Value) -> BTreeSet<&str> {
    list(circuit, "loads").iter().map(|load| text(load, "luminaire")).collect()
}

/// Long modules count one, short ones half.
fn long_equivalents(plan: &Value, rail_id: &str, circuit: &Value) -> f64 {
    let served = modules(circuit);
    list(rail(plan, rail_id), "luminaires")
        .iter()
        .filter(|module| served.contains(text(module, "id")))
        .map(|module| (module["end_mm"].as_f64().expect("end") - module["start_mm"].as_f64().expect("start")) / 1000.0)
        .sum()
}

#[test]
fn a_run_of_24_short_modules_asks_for_two_drivers_each_near_the_middle_of_its_half() {
    let plan = plan();
    assert_eq!(list(rail(&plan, "short-run"), "luminaires").len(), 24);
    let circuits = circuits(&plan, "short-run");
    let drivers: BTreeSet<&str> = circuits.iter().map(|circuit| text(circuit, "driver")).collect();
    assert_eq!(drivers.len(), 2, "two drivers for twelve long-module equivalents");
    let places: BTreeSet<&str> = list(&plan, "drivers")
        .iter()
        .filter(|driver| drivers.contains(text(driver, "id")))
        .map(|driver| text(driver, "place"))
        .collect();
    assert_eq!(places, BTreeSet::from(["p2", "p4"]), "a quarter and three quarters along");
    // Each feeds one chain towards either end, since a chain runs one way from its feed.
    assert_eq!(circuits.len(), 4);
    for circuit in circuits {
        assert_eq!(modules(circuit).len(), 6, "{}", circuit["id"]);
    }
}

#[test]
fn two_outputs_together_are_good_for_six_long_modules_and_one_long_counts_as_two_short() {
    let plan = plan();
    for (id, drivers) in [("short-run", 2), ("mixed", 1)] {
        let mut by_driver: std::collections::BTreeMap<&str, f64> = std::collections::BTreeMap::new();
        for circuit in circuits(&plan, id) {
            *by_driver.entry(text(circuit, "driver")).or_default() += long_equivalents(&plan, id, circuit);
        }
        assert_eq!(by_driver.len(), drivers, "{id}");
        for (driver, equivalents) in by_driver {
            assert!((equivalents - 6.0).abs() < 1e-9, "{driver} feeds {equivalents} long-module equivalents");
        }
    }
    // Rail M: four lengths of one long and one short module each, in mixed chains.
    let lengths: Vec<f64> = list(rail(&plan, "mixed"), "luminaires")
        .iter()
        .map(|module| module["end_mm"].as_f64().expect("end") - module["start_mm"].as_f64().expect("start"))
        .collect();
    assert_eq!(lengths.len(), 8);
    assert_eq!(lengths.iter().filter(|length| **length == 1000.0).count(), 4);
    for circuit in circuits(&plan, "mixed") {
        assert_eq!(modules(circuit).len(), 4, "two long and two short in each chain");
    }
}

#[test]
fn a_driver_never_plugs_straight_into_a_luminaire() {
    let plan = plan();
    for circuit in list(&plan, "circuits") {
        let own = |kind: &str| {
            let cables = list(&plan, "cables").iter();
            cables.filter(|cable| cable["circuit"] == circuit["id"] && cable["kind"] == kind).count()
        };
        assert!(own("extension") >= 1 && own("luminaire") >= 1, "{}", circuit["id"]);
        assert_eq!(own("run"), 0, "modules are in series through their own conductors");
    }
}

#[test]
fn end_caps_have_two_poles_on_fixed_and_four_on_variable_colour_one_for_each_chain() {
    let plan = plan();
    let fixed = circuits(&plan, "short-run").len() + circuits(&plan, "mixed").len();
    let variable = circuits(&plan, "colour").len();
    assert!(variable >= 2, "six metres of variable colour pass the maker's four");
    assert_eq!(quantity(&plan, "CHECK-CAP-2"), fixed as f64);
    assert_eq!(quantity(&plan, "CHECK-CAP-4"), variable as f64);
}

#[test]
fn luminaire_leads_of_variable_colour_come_in_5_10_and_20_m() {
    let plan = plan();
    let of_colour: BTreeSet<&str> = circuits(&plan, "colour").iter().map(|circuit| text(circuit, "id")).collect();
    let leads: Vec<&Value> = list(&plan, "cables")
        .iter()
        .filter(|cable| {
            cable["kind"] == "luminaire" && cable["circuit"].as_str().is_some_and(|c| of_colour.contains(c))
        })
        .collect();
    assert!(leads.len() >= of_colour.len());
    for lead in leads {
        let made_up = lead["made_up_mm"].as_f64().expect("made up");
        assert!([5_000.0, 10_000.0, 20_000.0].contains(&made_up), "{lead}");
        assert_eq!(lead["cores"], 4, "a common and three channels");
    }
}

#[test]
fn a_decoder_with_a_two_pole_inlet_and_a_four_pole_outlet_stands_between_driver_and_chain() {
    let plan = plan();
    let chains = circuits(&plan, "colour");
    let decoders: Vec<&Value> =
        list(&plan, "controls").iter().filter(|control| control["part"] == "CHECK-DECODER").collect();
    assert_eq!(decoders.len(), chains.len());
    assert_eq!(quantity(&plan, "CHECK-DECODER"), chains.len() as f64);
    for decoder in decoders {
        let settings = serde_json::to_string(&decoder["settings"]).expect("settings");
        assert!(settings.contains("2 poles") && settings.contains("4 poles"), "{settings}");
        assert!(settings.contains("2 of 3 poles"), "{settings}");
    }
    for circuit in chains {
        // Two conductors come to the decoder, four leave it.
        let to = |name: &str| {
            let branches = list(circuit, "branches").iter();
            branches.filter(|branch| text(branch, "to").starts_with(name)).count()
        };
        assert_eq!(to("lead1"), 2, "{}", circuit["id"]);
        assert_eq!(to("decoder_"), 4, "{}", circuit["id"]);
    }
    let white: Vec<&Value> = [circuits(&plan, "short-run"), circuits(&plan, "mixed")].concat().into_iter().collect();
    assert!(white.iter().all(|circuit| list(circuit, "branches").iter().all(|b| !text(b, "to").contains("decoder"))));
}

#[test]
fn a_tube_without_a_slot_takes_no_modules_and_the_alternatives_are_priced() {
    let plan = plan();
    assert!(list(rail(&plan, "no-slot"), "luminaires").is_empty());
    let refusal = list(&plan, "findings")
        .iter()
        .find(|finding| finding["rule"] == "modules-need-slot")
        .expect("the refusal is a finding");
    assert_eq!(refusal["verdict"], "stop");
    let advice = text(refusal, "advice");
    // By hand: 5.00 m at 80 and at 120.
    for words in ["points", "slotted in a workshop", "400.00 EUR", "replaced by a slotted one", "600.00 EUR"] {
        assert!(advice.contains(words), "{advice}");
    }
}

#[test]
fn modules_hold_by_clips_no_farther_apart_than_the_maker_says() {
    // By hand: 1000 mm at 400 mm takes three clips, 500 mm two: rail M 4 × 3 + 4 × 2, rail S 24 × 2, rail C 12 × 2.
    assert_eq!(quantity(&plan(), "CHECK-CLIP"), (4 * 3 + 4 * 2 + 24 * 2 + 12 * 2) as f64);
}

/// Worked by hand for a chain of rail S, see `fixtures/check/README.md`: the far-end volts.
#[test]
fn the_volts_at_the_last_module_are_those_worked_by_hand() {
    let plan = plan();
    let factor = 1.0 + 0.00393 * 5.0;
    // Source less 2 %, lead of 1 m (class 5 copper: 1.5 mm² 13.3 Ω/km, 1 mm² 19.5 Ω/km), luminaire lead of 0.3 m, six
    // modules of 0.2 A with 6 mΩ in each conductor and a plug of 5 mΩ between neighbours; both conductors carry it all.
    let lead = 13.3e-3 * 1.0 * factor + 2.0 * 4e-3;
    let luminaire = 19.5e-3 * 0.3 * factor + 5e-3;
    let half = 3e-3 * factor;
    let mut volts = 24.0 * 0.98 - 2.0 * (lead + luminaire) * 1.2;
    for served in (1..=6).rev() {
        let amps = 0.2 * f64::from(served);
        let before = if served == 6 { 0.0 } else { half + 5e-3 };
        volts -= 2.0 * (before + half) * amps;
    }
    for circuit in circuits(&plan, "short-run") {
        let least =
            list(circuit, "loads").iter().map(|load| load["volts"].as_f64().expect("volts")).fold(99.0, f64::min);
        assert!((least - volts).abs() < 0.001, "{}: {least} V, by hand {volts} V", circuit["id"]);
    }
}
