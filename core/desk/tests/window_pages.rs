//! The pages of the window against the plan that they show: nothing lost, nothing made up, every number explained.

use desk::view::{Asked, First, Scheme, SitePage, StepRole, Window};
use desk::{Planned, demo, plan_files};

fn planned() -> Planned {
    plan_files((demo::SITE, demo::SITE_NAME), (demo::CATALOGUE, demo::CATALOGUE_NAME)).expect("the demo site is sound")
}

#[test]
fn the_steps_to_a_voltage_add_up_to_the_difference_of_the_plans_nodes() {
    let site = planned();
    let scheme = Scheme::of(&site);
    let mut seen = 0;
    for circuit in &site.plan.circuits {
        let node =
            |id: &str| circuit.nodes.iter().find(|node| node.id == id).and_then(|node| node.volts).unwrap().get();
        for load in circuit.loads.iter().filter(|load| load.channel.is_none()) {
            let across = node(&load.from) - node(&load.to);
            let asked = Asked::LuminaireVolts { luminaire: load.luminaire.clone() };
            let explanation = scheme.explain(&asked).unwrap();
            let last = explanation.steps.last().unwrap();
            assert_eq!(last.role, StepRole::Result);
            assert!((last.figure.as_ref().unwrap().value - across).abs() < 1e-6, "{} at {across} V", load.luminaire);
            let sum: f64 = explanation.steps[..explanation.steps.len() - 1]
                .iter()
                .map(|step| step.figure.as_ref().map_or(0.0, |figure| figure.value))
                .sum();
            // The solver's own tolerance is a nanovolt a station; a hundred stations stay far below this.
            assert!((sum - across).abs() < 1e-6, "{}: steps lead to {sum} V, nodes to {across} V", load.luminaire);
            assert!(explanation.steps.len() >= 4, "source, lead, run, tap, result");
            seen += 1;
        }
    }
    assert!(seen > 100, "only {seen} luminaires were looked at");
}

/// Every number that a page offers to be asked about.
fn questions(page: &SitePage) -> Vec<Asked> {
    let mut asked = Vec::new();
    for rail in &page.rails {
        asked.push(Asked::RailLength { rail: rail.id.clone() });
        if !rail.cost.is_empty() {
            asked.push(Asked::RailCost { rail: rail.id.clone() });
        }
        let locks = 0..u32::try_from(rail.locks.len()).unwrap();
        asked.extend(locks.map(|index| Asked::Lock { rail: rail.id.clone(), index }));
        for luminaire in &rail.luminaires {
            asked.push(Asked::LuminaireVolts { luminaire: luminaire.id.clone() });
            asked.push(Asked::Position { luminaire: luminaire.id.clone() });
        }
        let features = rail.features.iter();
        asked.extend(features.map(|f| Asked::Feature { rail: rail.id.clone(), feature: f.id.clone() }));
        asked.extend(rail.feeds.iter().map(|feed| Asked::DriverLoad { driver: feed.driver.clone() }));
        asked.extend(rail.end_caps.iter().map(|cap| Asked::EndCap { circuit: cap.circuit.clone() }));
        asked.extend(rail.controls.iter().map(|mark| Asked::Control { device: mark.device.clone() }));
        asked.extend(rail.cables.iter().map(|cable| Asked::Cable { reference: cable.reference.clone() }));
    }
    asked.extend(page.mains_points.iter().map(|point| Asked::Mains { id: point.id.clone() }));
    asked.extend(page.findings.iter().map(|finding| Asked::Finding { index: finding.index }));
    asked
}

#[test]
fn every_number_that_can_be_asked_about_is_explained_with_what_it_is() {
    let site = planned();
    let scheme = Scheme::of(&site);
    let page = scheme.site_page("demo");
    let questions = questions(&page);
    assert!(questions.len() > 1000);
    for asked in questions {
        let explanation = scheme.explain(&asked).unwrap_or_else(|| panic!("{asked:?} is not explained"));
        assert!(!explanation.title.is_empty(), "{asked:?}");
        assert!(!explanation.steps.is_empty() || !explanation.notes.is_empty(), "{asked:?} is not explained");
    }
    assert!(scheme.explain(&Asked::DriverLoad { driver: "none".into() }).is_none());
}

/// The demo site has a hole and a driver that are locked; what it would cost without them leads to what it costs.
#[test]
fn the_cost_of_a_lock_adds_up_to_that_of_the_plan() {
    let site = planned();
    let scheme = Scheme::of(&site);
    let mut seen = 0;
    for rail in &scheme.site_page("demo").rails {
        for index in 0..rail.locks.len() {
            let asked = Asked::Lock { rail: rail.id.clone(), index: u32::try_from(index).unwrap() };
            let explanation = scheme.explain(&asked).unwrap();
            let figure = |role: StepRole| {
                explanation
                    .steps
                    .iter()
                    .find(|step| step.role == role)
                    .and_then(|step| step.figure.as_ref())
                    .unwrap()
                    .value
            };
            let whole = site.plan.objective.cost.to_ten_thousandths() as f64 / 1e4;
            assert!((figure(StepRole::Start) + figure(StepRole::Change) - whole).abs() < 1e-9);
            assert_eq!(figure(StepRole::Result), whole);
            seen += 1;
        }
        let past = Asked::Lock { rail: rail.id.clone(), index: u32::try_from(rail.locks.len()).unwrap() + 1 };
        assert!(scheme.explain(&past).is_none());
    }
    assert!(seen >= 2, "only {seen} locks were looked at");
}

/// Two rails of the demo site are given one driver; each page names the other.
#[test]
fn a_shared_driver_is_told_on_every_rail_that_it_serves() {
    let mut site = planned();
    let driver = site.plan.drivers.iter().position(|own| own.rails.len() == 1).unwrap();
    let own = site.plan.drivers[driver].rails[0].clone();
    let other = site.plan.rails.iter().find(|rail| rail.id != own).unwrap().id.clone();
    let name = site.plan.drivers[driver].id.clone();
    site.plan.drivers[driver].rails.push(other.clone());
    let circuit = site.plan.circuits.iter_mut().find(|circuit| circuit.rail == other).unwrap();
    circuit.driver.clone_from(&name);
    let scheme = Scheme::of(&site);
    let label = |id: &survey::Id| site.plan.rails.iter().find(|rail| &rail.id == id).unwrap().label.clone();
    for (here, there, stands) in
        [(&own, &other, "its cost is counted here"), (&other, &own, "its cost is counted with")]
    {
        let page = scheme.site_page("demo").rails.into_iter().find(|rail| rail.id == here.as_str()).unwrap();
        let feed = page.feeds.iter().find(|feed| feed.driver == name).expect("the driver is on both pages");
        assert_eq!(feed.also_serves, [label(there)]);
        let cost = scheme.explain(&Asked::RailCost { rail: here.to_string() }).unwrap();
        let said = cost.steps.iter().find(|step| step.what.contains(&name)).expect("the driver is named");
        assert!(said.what.contains(&label(there)) && said.note.starts_with(stands), "{said:?}");
    }
}

#[test]
fn lengths_and_positions_add_up() {
    let site = planned();
    let scheme = Scheme::of(&site);
    let page = scheme.site_page("demo");
    for rail in &page.rails {
        for asked in
            rail.luminaires.iter().filter(|l| l.hole_mm.is_some()).map(|l| Asked::Position { luminaire: l.id.clone() })
        {
            let explanation = scheme.explain(&asked).unwrap();
            let of = |wanted: StepRole| explanation.steps.iter().filter(move |step| step.role == wanted);
            let value = |step: &desk::view::Step| step.figure.as_ref().unwrap().value;
            let sum: f64 = of(StepRole::Start).chain(of(StepRole::Change)).map(value).sum();
            let result = value(of(StepRole::Result).next().unwrap());
            assert!((sum - result).abs() < 1e-6, "{asked:?}: {sum} against {result}");
        }
        let pieces: f64 = rail.pieces.iter().map(|piece| piece.end_mm - piece.start_mm).sum();
        assert!((pieces - rail.length_mm).abs() < 1e-6, "{}", rail.label);
    }
}

#[test]
fn the_pages_hold_every_luminaire_and_every_finding() {
    let site = planned();
    let page = Scheme::of(&site).site_page("demo");
    let drawn: usize = page.rails.iter().map(|rail| rail.luminaires.len()).sum();
    assert_eq!(drawn, site.plan.rails.iter().map(|rail| rail.luminaires.len()).sum::<usize>());
    assert_eq!(page.findings.len(), site.findings.len());
    let tally = page.tally;
    assert_eq!((tally.pass + tally.caution + tally.stop + tally.not_evaluated) as usize, site.findings.len());
    let drawn_holes = page.rails.iter().flat_map(|rail| &rail.luminaires).filter(|l| l.hole_mm.is_some()).count();
    assert_eq!(drawn_holes, site.plan.drilling.len());
}

#[test]
fn a_window_refuses_what_it_cannot_read_and_goes_on() {
    let First::Refused { refusal } = Window::new(Some("no/such/site.json".into()), None).start().first else {
        panic!("a missing file was opened")
    };
    assert!(refusal.message.contains("no/such/site.json"), "{}", refusal.message);
    let window = Window::new(None, None);
    let asked = Asked::RailLength { rail: "ramp".into() };
    assert!(window.explain(&asked).is_err(), "nothing is open yet");
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures/demo/site.json");
    let opened = window.open_file(demo).expect("the demo site is sound");
    let asked = Asked::RailLength { rail: opened.page.rails[0].id.clone() };
    assert!(window.explain(&asked).is_ok());
}

#[test]
fn every_zone_shows_its_devices_and_settings_as_the_plan_has_them() {
    let site = planned();
    let page = Scheme::of(&site).site_page(demo::SITE_NAME);
    assert_eq!(page.zones.len(), site.plan.zones.len());
    let shown: Vec<(&str, &str, usize)> = (page.zones.iter())
        .flat_map(|zone| zone.devices.iter().map(|row| (zone.id.as_str(), row.device.as_str(), row.settings.len())))
        .collect();
    let planned: Vec<(&str, &str, usize)> =
        site.plan.controls.iter().map(|own| (own.zone.as_str(), own.device.as_str(), own.settings.len())).collect();
    assert_eq!(shown, planned);
    let stair = page.zones.iter().find(|zone| zone.id == "stair").expect("the demo's stair");
    assert_eq!(stair.control, "on at presence after dusk; lights stairs");
    let settings: Vec<&str> =
        stair.devices.iter().flat_map(|row| &row.settings).map(|own| own.value.as_str()).collect();
    assert!(settings.contains(&"20 lx") && settings.contains(&"300 s"), "{settings:?}");
}

/// A link lead, an end cap and a sensor stand on the page where the plan has them, each explained with its numbers.
#[test]
fn what_joins_closes_and_watches_is_on_the_page_and_explained() {
    let site = planned();
    let scheme = Scheme::of(&site);
    let page = scheme.site_page("demo");
    let links: usize = page.rails.iter().map(|rail| rail.links.len()).sum();
    assert_eq!(links, site.plan.cables.iter().filter(|cable| cable.kind == plan::CableKind::Link).count());
    let caps: usize = page.rails.iter().map(|rail| rail.end_caps.len()).sum();
    assert_eq!(caps, site.plan.end_caps.len());
    assert!(links > 0 && caps > 0, "the demo site has chains of modules");
    for rail in &page.rails {
        for link in &rail.links {
            // A link lead starts where a module ends and ends where the next one starts.
            let touches = |at: f64| rail.luminaires.iter().any(|l| [l.start_mm, l.end_mm].contains(&at));
            assert!(touches(link.from_mm) && touches(link.to_mm), "{link:?}");
            let told = scheme.explain(&Asked::Cable { reference: link.reference.clone() }).unwrap();
            let given: Vec<f64> = told.steps[..2].iter().map(|step| step.figure.as_ref().unwrap().value).collect();
            assert_eq!(given, [link.from_mm, link.to_mm]);
        }
        for cap in &rail.end_caps {
            let told = scheme.explain(&Asked::EndCap { circuit: cap.circuit.clone() }).unwrap();
            assert_eq!(told.figure.unwrap().value, f64::from(cap.poles));
            assert!(told.steps.iter().any(|step| step.note.ends_with("the catalogue")), "its part is named");
        }
    }
    let watched =
        page.rails.iter().flat_map(|rail| &rail.controls).filter_map(|mark| mark.reach.map(|reach| (mark, reach)));
    let mut seen = 0;
    for (mark, reach) in watched {
        assert!(reach.from_mm <= mark.chainage_mm && mark.chainage_mm <= reach.to_mm, "{mark:?}");
        let told = scheme.explain(&Asked::Control { device: mark.device.clone() }).unwrap();
        assert!((told.figure.unwrap().value * 1000.0 - (reach.to_mm - reach.from_mm)).abs() < 1e-9);
        // The maker's length, scaled by the height (similar triangles): worked out here from the steps' own numbers.
        let figure = |what: &str| {
            told.steps.iter().find(|step| step.what == what).and_then(|step| step.figure.as_ref()).unwrap().value
        };
        let part = site.plan.controls.iter().find(|own| own.device == mark.device).map(|own| &own.part);
        let part = site.catalogue.controls.iter().find(|own| Some(&own.item.part) == part).unwrap();
        let catalogue::ControlKind::Sensor { detects, at_height } = part.kind else { panic!("{mark:?}") };
        let share = (figure("Height above the walkway") / at_height.to_mm()).min(1.0);
        assert!((figure("Seen at that height") - detects.to_mm() * share).abs() < 0.001);
        seen += 1;
    }
    assert!(seen > 0, "the demo's stair has presence sensors");
    assert!(scheme.explain(&Asked::EndCap { circuit: "none".into() }).is_none());
    assert!(scheme.explain(&Asked::Control { device: "none".into() }).is_none());
}

#[test]
fn every_finding_names_what_it_is_about_by_its_id() {
    let site = planned();
    let page = Scheme::of(&site).site_page("demo");
    for (line, finding) in page.findings.iter().zip(&site.findings) {
        assert_eq!(line.about, desk::wire::plan::Subject::from(&finding.subject));
    }
    let driver = page.rails.iter().flat_map(|rail| &rail.locks).find_map(|row| row.lock.clone());
    assert!(driver.is_some(), "the demo's locks are named by what they keep");
}
