//! Where the demo's photos belong, told from the EXIF of their files alone, against what its makers wrote down.
//!
//! Source: `fixtures/demo/photos.py` places each picture in the site frame by its own formula on a sphere and says which
//! rail it shows; nothing of that is read here but the answer.

use std::path::PathBuf;

use photos::exif::{self, Assume};
use photos::place::{Earth, Shot, corrected, drifts, far_away, propose, way};
use photos::{Kind, map, photo_log};
use serde_json::Value;
use survey::{Id, Photo, PhotoPosition, Shows, Survey};
use units::{Degrees, Length};

fn demo() -> (PathBuf, Survey) {
    let folder = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../fixtures/demo"));
    let bytes = std::fs::read(folder.join("site.json")).unwrap();
    (folder.clone(), desk::read_survey(&bytes, "site.json").unwrap())
}

fn facts(folder: &std::path::Path, photo: &Photo) -> exif::Facts {
    let bytes = std::fs::read(folder.join(&photo.file)).unwrap();
    exif::read(Kind::of(&bytes).unwrap(), &bytes, Assume::default())
}

fn position(facts: &exif::Facts) -> PhotoPosition {
    let position = facts.position.unwrap();
    PhotoPosition {
        latitude: Degrees::new(position.latitude_deg),
        longitude: Degrees::new(position.longitude_deg),
        altitude: position.altitude_m.and_then(|m| Length::from_mm(m * 1000.0)),
        accuracy: position.accuracy_m.and_then(|m| Length::from_mm(m * 1000.0)),
    }
}

#[test]
fn the_files_say_what_the_survey_says() {
    let (folder, survey) = demo();
    assert_eq!(survey.photos.len(), 8);
    for photo in &survey.photos {
        let facts = facts(&folder, photo);
        assert_eq!(facts.taken.map(|taken| taken.text()), photo.taken, "{}", photo.id);
        let (read, written) = (position(&facts), photo.position.clone().unwrap());
        assert!(way(Earth::from(&read), Earth::from(&written)).metres < 0.02, "{}", photo.id);
        assert_eq!((read.altitude, read.accuracy), (written.altitude, written.accuracy), "{}", photo.id);
        assert!((facts.heading.unwrap().degrees - photo.heading.unwrap().get()).abs() < 1e-6);
    }
}

#[test]
fn photos_find_their_rail_and_the_chainage_lies_where_they_were_taken() {
    let (folder, survey) = demo();
    let mut found = 0;
    for photo in &survey.photos {
        let Shows::Rail { rail, chainage: Some(chainage) } = &photo.shows else { continue };
        let proposal = propose(&survey, &position(&facts(&folder, photo))).unwrap();
        let likely: Vec<&Id> = proposal
            .rails
            .iter()
            .filter(|near| near.way.metres <= proposal.rails[0].way.metres + proposal.uncertainty_m)
            .map(|near| &near.rail)
            .collect();
        assert!(likely.contains(&rail), "{}: {}", photo.id, proposal.sentence(&survey));
        let near = proposal.rails.iter().find(|near| &near.rail == rail).unwrap();
        // People stand a few metres off and aim along the rail: what they show lies in the span or close to it.
        let reach = Length::mm(6000);
        assert!(
            near.between.0 - reach <= *chainage && *chainage <= near.between.1 + reach,
            "{}: {chainage} for {}",
            photo.id,
            proposal.sentence(&survey)
        );
        found += 1;
    }
    assert_eq!(found, 5);
}

#[test]
fn photos_of_another_job_are_told_apart() {
    let (_, mut survey) = demo();
    assert!(far_away(&survey).is_empty(), "{:?}", far_away(&survey));
    let origin = survey.site.origin.clone().unwrap();
    for n in 0..12 {
        let mut photo = survey.photos[0].clone();
        photo.id = Id::new(&format!("other-{n}")).unwrap();
        // 4.17 km north of the origin, 4.1 km from the rails that reach that way: a degree of latitude is 111.3 km at 55 degrees (WGS 84 meridian arc).
        let latitude = origin.latitude.get() + (4.17 + f64::from(n) * 0.02) / 111.32;
        photo.position.as_mut().unwrap().latitude = Degrees::new(latitude);
        survey.photos.push(photo);
    }
    let away = far_away(&survey);
    assert_eq!(away.len(), 1, "{away:?}");
    assert_eq!(away[0].sentence(), "12 photos are 4.1 km away: another job?");
}

#[test]
fn a_wrong_clock_is_noticed_and_put_right_in_the_record_alone() {
    let (folder, mut survey) = demo();
    assert!(drifts(&survey, |_| None).is_empty(), "the demo's camera is right");
    for photo in &mut survey.photos {
        photo.taken = photo.taken.as_deref().and_then(|taken| corrected(taken, 366 * 86_400));
    }
    let found = drifts(&survey, |_| None);
    assert_eq!((found.len(), found[0].photos.len()), (1, 8), "{found:?}");
    assert!(found[0].sentence().contains("366 d behind the day of the survey"), "{}", found[0].sentence());
    let before: Vec<Vec<u8>> =
        survey.photos.iter().map(|photo| std::fs::read(folder.join(&photo.file)).unwrap()).collect();
    for photo in &mut survey.photos {
        photo.taken = photo.taken.as_deref().and_then(|taken| corrected(taken, found[0].ahead_s));
    }
    assert!(drifts(&survey, |_| None).is_empty());
    let (_, demo) = demo();
    assert_eq!(survey.photos, demo.photos, "the times are back where they were");
    let after: Vec<Vec<u8>> =
        demo.photos.iter().map(|photo| std::fs::read(folder.join(&photo.file)).unwrap()).collect();
    assert!(before == after);
    // The satellites tell to the second: seven minutes ahead.
    let shot = |photo: &Photo| {
        let taken = facts(&folder, photo).taken?;
        Some(Shot { taken: taken.text(), ahead_of_satellites_s: taken.ahead_of_satellites_s? + 420 })
    };
    let found = drifts(&demo, shot);
    assert!(found[0].sentence().contains("7 min 0 s ahead of the satellites' time"), "{}", found[0].sentence());
}

#[test]
fn the_map_is_geojson_and_the_log_has_a_row_for_each_photo() {
    let (_, mut survey) = demo();
    survey.photos[0].note = "=HYPERLINK(\"x\"), \"quoted\"".to_owned();
    let map: Value = serde_json::from_str(&map(&survey)).unwrap();
    // RFC 7946: a FeatureCollection of Features; positions are longitude, latitude; no `crs`.
    assert_eq!(map["type"], "FeatureCollection");
    assert!(map["crs"].is_null());
    let features = map["features"].as_array().unwrap();
    let of = |kind: &str| features.iter().filter(|f| f["properties"]["kind"] == kind).collect::<Vec<_>>();
    assert_eq!(of("photo").len(), 8);
    assert_eq!(of("rail").len(), survey.rails.iter().filter(|rail| rail.sketch.is_some()).count());
    assert!(!of("mains_point").is_empty());
    for feature in features {
        assert_eq!(feature["type"], "Feature");
        let coordinates = &feature["geometry"]["coordinates"];
        let place = if feature["geometry"]["type"] == "Point" { coordinates } else { &coordinates[0] };
        let (longitude, latitude) = (place[0].as_f64().unwrap(), place[1].as_f64().unwrap());
        assert!((longitude - 3.25).abs() < 0.01 && (latitude - 54.75).abs() < 0.01, "{feature}");
    }
    let log = photo_log(&survey);
    let rows: Vec<&str> = log.split("\r\n").collect();
    assert_eq!(rows.len(), 10, "a head, eight photos, and the end of the last line");
    assert!(rows[1].contains("\"'=HYPERLINK(\"\"x\"\"), \"\"quoted\"\"\""), "{}", rows[1]);
    // A rail across the antimeridian is cut there (RFC 7946, 3.1.9).
    survey.site.origin.as_mut().unwrap().longitude = Degrees::new(180.0);
    let map: Value = serde_json::from_str(&photos::map(&survey)).unwrap();
    let cut: Vec<&Value> =
        map["features"].as_array().unwrap().iter().filter(|f| f["geometry"]["type"] == "MultiLineString").collect();
    assert!(!cut.is_empty());
    for line in cut {
        let parts = line["geometry"]["coordinates"].as_array().unwrap();
        let end = parts[0].as_array().unwrap().last().unwrap();
        assert_eq!(end[0].as_f64().unwrap().abs(), 180.0);
        assert_eq!(parts[1][0][0].as_f64().unwrap(), -end[0].as_f64().unwrap());
    }
}
