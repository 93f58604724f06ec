//! Photo positions, rails and mains points as GeoJSON (RFC 7946). Heights are left out: the format wants them above the
//! ellipsoid, and a site's level is another.

use ::geojson::{Feature, FeatureCollection, GeoJson, Geometry, GeometryValue, JsonObject, JsonValue, Position};
use survey::{Shows, SitePoint, Survey};
use units::Length;

use crate::place::{Earth, Frame, drawn_line};

/// The site as a map, text of a FeatureCollection. Without a position of the site, photos alone are on it.
#[must_use]
pub fn map(survey: &Survey) -> String {
    let mut features = Vec::new();
    if let Some(frame) = survey.site.origin.as_ref().map(Frame::of) {
        for rail in &survey.rails {
            let Some(line) = drawn_line(rail) else { continue };
            let places: Vec<Earth> = line.iter().map(|v| frame.to_earth(v.x_m, v.y_m)).collect();
            let measured = rail.sketch.as_ref().is_some_and(|sketch| sketch.start.measured);
            let properties = [
                ("kind", "rail".into()),
                ("id", rail.id.as_str().into()),
                ("label", rail.label.as_str().into()),
                ("length_mm", rail.length().to_mm().into()),
                ("measured", measured.into()),
            ];
            features.push(feature(line_geometry(&places), properties));
        }
        for point in &survey.mains_points {
            let Some(at) = &point.position else { continue };
            let properties = [
                ("kind", "mains_point".into()),
                ("id", point.id.as_str().into()),
                ("label", point.label.as_str().into()),
                ("measured", at.measured.into()),
            ];
            features.push(feature(spot(on_earth(&frame, at)), properties));
        }
    }
    for photo in &survey.photos {
        let Some(position) = &photo.position else { continue };
        let text = |value: Option<&String>| value.map_or(JsonValue::Null, |text| text.as_str().into());
        let properties = [
            ("kind", "photo".into()),
            ("id", photo.id.as_str().into()),
            ("file", photo.file.as_str().into()),
            ("shows", shown(&photo.shows).into()),
            ("taken", text(photo.taken.as_ref())),
            ("heading_deg", photo.heading.map_or(JsonValue::Null, |heading| heading.get().into())),
            ("accuracy_mm", position.accuracy.map(Length::to_mm).map_or(JsonValue::Null, Into::into)),
            ("note", photo.note.as_str().into()),
        ];
        features.push(feature(spot(Earth::from(position)), properties));
    }
    GeoJson::from(FeatureCollection { bbox: None, features, foreign_members: None }).to_string()
}

/// What a photo shows, in a word and an id.
pub(crate) fn shown(shows: &Shows) -> String {
    match shows {
        Shows::Rail { rail, .. } => format!("rail {rail}"),
        Shows::MainsPoint(id) => format!("mains point {id}"),
        Shows::Route(id) => format!("route {id}"),
        Shows::Defect(words) => format!("defect: {words}"),
        Shows::General => "general".to_owned(),
    }
}

fn feature<const N: usize>(geometry: Geometry, properties: [(&str, JsonValue); N]) -> Feature {
    let properties: JsonObject = properties.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    Feature { bbox: None, geometry: Some(geometry), id: None, properties: Some(properties), foreign_members: None }
}

fn on_earth(frame: &Frame, point: &SitePoint) -> Earth {
    frame.to_earth(point.x.to_m(), point.y.to_m())
}

fn spot(place: Earth) -> Geometry {
    Geometry::new_point(position(place))
}

/// Longitude first (RFC 7946, 3.1.1), to a tenth of a millimetre.
fn position(place: Earth) -> Position {
    let rounded = |degrees: f64| (degrees * 1e9).round() / 1e9;
    Position::from([rounded(place.longitude_deg), rounded(place.latitude_deg)])
}

/// A line; one that crosses the antimeridian is cut there (RFC 7946, 3.1.9).
fn line_geometry(places: &[Earth]) -> Geometry {
    let mut lines: Vec<Vec<Position>> = vec![Vec::new()];
    for (n, place) in places.iter().enumerate() {
        if let Some(last) = n.checked_sub(1).map(|n| places[n])
            && (place.longitude_deg - last.longitude_deg).abs() > 180.0
        {
            let side = 180f64.copysign(last.longitude_deg);
            // Where the chord meets the antimeridian, longitudes counted on across it.
            let (from, to) = (180.0 - last.longitude_deg.abs(), 180.0 - place.longitude_deg.abs());
            let part = if from + to == 0.0 { 0.0 } else { from / (from + to) };
            let latitude_deg = last.latitude_deg + part * (place.latitude_deg - last.latitude_deg);
            if let Some(line) = lines.last_mut() {
                line.push(position(Earth { latitude_deg, longitude_deg: side }));
            }
            lines.push(vec![position(Earth { latitude_deg, longitude_deg: -side })]);
        }
        if let Some(line) = lines.last_mut() {
            line.push(position(*place));
        }
    }
    match lines.len() {
        1 => Geometry::new(GeometryValue::LineString { coordinates: lines.remove(0) }),
        _ => Geometry::new(GeometryValue::MultiLineString { coordinates: lines }),
    }
}
