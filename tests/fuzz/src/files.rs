//! Survey and catalogue files in both of their formats.

use desk::{Faults, read_catalogue, read_survey};
use survey::Piece;
use units::{Amps, Length, Watts};

use crate::plant::plant;

/// A survey in JSON.
pub fn survey_json(data: &[u8]) {
    survey(data, "site.json");
}

/// A survey in TOML.
pub fn survey_toml(data: &[u8]) {
    survey(data, "site.toml");
}

/// A catalogue in JSON.
pub fn catalogue_json(data: &[u8]) {
    catalogue(data, "parts.json");
}

/// A catalogue in TOML.
pub fn catalogue_toml(data: &[u8]) {
    catalogue(data, "parts.toml");
}

fn survey(data: &[u8], name: &str) {
    let survey = match read_survey(data, name) {
        Ok(survey) => survey,
        Err(faults) => return refused(&faults, name),
    };
    let findings = survey::consistency::findings(&survey);
    assert!(findings.iter().all(|finding| !finding.rule.is_empty()), "a finding names its rule");
    let straight = survey.rails.iter().flat_map(|rail| &rail.pieces).find_map(|piece| match piece {
        Piece::Straight(straight) => Some(straight.length.value),
        Piece::Bend(_) => None,
    });
    let radius = survey.rails.iter().flat_map(|rail| &rail.pieces).find_map(|piece| match piece {
        Piece::Bend(bend) => Some(bend.centreline_radius),
        Piece::Straight(_) => None,
    });
    plant!(
        straight >= Some(Length::mm(25_000)),
        survey.rails[0].tube.outside_diameter.value >= Length::mm(90),
        radius >= Some(Length::mm(1000)),
        survey.driver_places.first().is_some_and(|place| place.width >= Length::mm(3000)),
        survey.routes.first().is_some_and(|route| route.length.value <= Length::mm(300)),
    );
}

fn catalogue(data: &[u8], name: &str) {
    let catalogue = match read_catalogue(data, name) {
        Ok(catalogue) => catalogue,
        Err(faults) => return refused(&faults, name),
    };
    assert!(catalogue.items().all(|item| catalogue.item(&item.part).is_some()), "every part is found by its name");
    let driver = catalogue.drivers.first();
    plant!(
        driver.is_some_and(|driver| driver.rated >= Watts::new(400.0)),
        driver.is_some_and(|driver| driver.output_limit >= Amps::new(30.0)),
        catalogue.labour.hole_minutes >= 50,
        catalogue.leads.first().is_some_and(|lead| lead.outside_diameter >= Length::mm(60)),
        catalogue.labour.thread_minutes_per_10_m <= 1,
    );
}

/// Every fault is one line that says where and why.
fn refused(faults: &Faults, name: &str) {
    assert!(!faults.list.is_empty(), "a file is refused for a reason");
    for line in faults.lines() {
        assert!(line.starts_with(name) && !line.contains(['\n', '\r']), "{line:?} is not one line of {name}");
    }
}
