//! Survey and catalogue files in both of their formats.

use desk::{Faults, read_catalogue, read_survey};
use survey::{Bend, Piece, Straight};
use units::{Celsius, Length, Money};

use crate::plant::plant;
use crate::read::Read;

/// A survey in JSON.
pub fn survey_json(data: &[u8]) -> Read {
    survey(data, "site.json")
}

/// A survey in TOML.
pub fn survey_toml(data: &[u8]) -> Read {
    survey(data, "site.toml")
}

/// A catalogue in JSON.
pub fn catalogue_json(data: &[u8]) -> Read {
    catalogue(data, "parts.json")
}

/// A catalogue in TOML.
pub fn catalogue_toml(data: &[u8]) -> Read {
    catalogue(data, "parts.toml")
}

fn survey(data: &[u8], name: &str) -> Read {
    let survey = match read_survey(data, name) {
        Ok(survey) => survey,
        Err(faults) => return refused(&faults, name),
    };
    let findings = survey::consistency::findings(&survey);
    assert!(findings.iter().all(|finding| !finding.rule.is_empty()), "a finding names its rule");
    // The smallest survey of seeds.py has one straight, one bend and an exposure; six of its numbers have to change. What
    // a file may leave out is asked for first, so that a search which goes on from a smaller file still has all of it.
    let rail = survey.rails.first();
    let straight = rail.and_then(|rail| rail.pieces.iter().find_map(straight));
    let bend = rail.and_then(|rail| rail.pieces.iter().find_map(bend));
    let exposure = &survey.site.exposure;
    plant!(
        bend.is_some_and(|bend| bend.centreline_radius >= Length::mm(300)),
        straight.is_some_and(|straight| straight.length.value >= Length::mm(8000)),
        rail.is_some_and(|rail| rail.tube.outside_diameter.value >= Length::mm(80)),
        straight.is_some_and(|straight| straight.slope.get() >= 1.0),
        exposure.least_temperature <= Celsius::new(10.0),
        bend.is_some_and(|bend| bend.angle.get() <= 45.0),
    );
    Read::Whole
}

fn straight(piece: &Piece) -> Option<&Straight> {
    if let Piece::Straight(straight) = piece { Some(straight) } else { None }
}

fn bend(piece: &Piece) -> Option<&Bend> {
    if let Piece::Bend(bend) = piece { Some(bend) } else { None }
}

fn catalogue(data: &[u8], name: &str) -> Read {
    let catalogue = match read_catalogue(data, name) {
        Ok(catalogue) => catalogue,
        Err(faults) => return refused(&faults, name),
    };
    assert!(catalogue.items().all(|item| catalogue.item(&item.part).is_some()), "every part is found by its name");
    // The smallest catalogue of seeds.py has one small part and the labour; six of its numbers have to change. The part,
    // which a file may leave out, is asked for first.
    let labour = &catalogue.labour;
    plant!(
        catalogue.fixings.first().is_some_and(|fixing| fixing.item.price >= Money::ten_thousandths(80_000)),
        labour.hole_minutes >= 12,
        labour.point_minutes <= 5,
        labour.driver_minutes >= 80,
        labour.module_minutes <= 5,
        labour.connection_minutes >= 16,
    );
    Read::Whole
}

/// Every fault is one line that says where and why.
fn refused(faults: &Faults, name: &str) -> Read {
    assert!(!faults.list.is_empty(), "a file is refused for a reason");
    for line in faults.lines() {
        assert!(line.starts_with(name) && !line.contains(['\n', '\r']), "{line:?} is not one line of {name}");
    }
    Read::Refused
}
