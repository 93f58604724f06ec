//! The photos of a site with where they belong, and what seems wrong about them.

use std::collections::BTreeMap;

use ::photos::place::{Drift, DriftKind, Proposal, Rails, Shot, Way, drifts, far_away};
use ::photos::{Content, Edge, Kind, Library};
use record::store::PhotoRow;
use survey::{Photo, Shows, Survey};

use super::facts::Facts;
use super::find;
use crate::sites::{SiteError, Sites};
use crate::view::{PhotoFile, PhotosPage};
use crate::wire::Mirror;
use crate::wire::photos::{
    ClockAgainst, ClockDrift, North, PhotoHeading, PhotoLine, PhotoList, PhotoNearest, PhotoShown, PhotoState,
    PhotoWay, PhotosAway,
};
use crate::wire::survey as wire;

/// A photo within this of a rail, beyond its uncertainty, is taken to show it, metres (common practice, no source).
pub const REACH_M: f64 = 5.0;

/// A site's photos with what the index and the library know of them.
pub struct Shelf {
    pub survey: Survey,
    pub library: Library,
    rows: BTreeMap<String, PhotoRow>,
    rails: Option<Rails>,
}

impl Sites {
    /// The photos of a site.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the database fails.
    pub fn photos(&mut self, asked: &str) -> Result<PhotoList, SiteError> {
        Ok(self.shelf(asked)?.list())
    }

    /// One photo with its mark-up.
    ///
    /// # Errors
    /// As [`Self::photos`]; or there is no such photo.
    pub fn photo(&mut self, asked: &str, photo: &str) -> Result<PhotoShown, SiteError> {
        let shelf = self.shelf(asked)?;
        let photo = find::photo(&shelf.survey, photo)?;
        let original = content(photo).and_then(|content| shelf.library.original(content));
        Ok(PhotoShown {
            schema_version: 1,
            id: shelf.survey.site.id.to_string(),
            photo: shelf.line(photo),
            marks: Vec::from_plain(&photo.marks),
            original: original.map(|path| path.to_string_lossy().into_owned()),
        })
    }

    pub(super) fn shelf(&mut self, asked: &str) -> Result<Shelf, SiteError> {
        let survey = self.survey(asked, None)?;
        self.shelf_of(survey)
    }

    /// The photos of a survey that was read from the store.
    pub(crate) fn shelf_of(&mut self, survey: Survey) -> Result<Shelf, SiteError> {
        let rows = self.store_mut().photos()?.into_iter().map(|row| (row.file.clone(), row)).collect();
        Ok(Shelf { rails: Rails::of(&survey), survey, library: self.library(), rows })
    }
}

/// The content of a photo, where the survey states one.
pub fn content(photo: &Photo) -> Option<Content> {
    Content::parse(photo.content.as_deref()?)
}

impl Shelf {
    /// All of them, in the survey's order; thumbnails that are not there are made, which may take a second for each photo.
    fn list(&self) -> PhotoList {
        PhotoList {
            schema_version: 1,
            id: self.survey.site.id.to_string(),
            photos: self.survey.photos.iter().map(|photo| self.line(photo)).collect(),
            away: self.away(),
            clocks: self.clocks(),
        }
    }

    /// Their files, in the survey's order; thumbnails are left until somebody looks at the photo.
    pub fn page(&self) -> PhotosPage {
        PhotosPage {
            id: self.survey.site.id.to_string(),
            files: self.survey.photos.iter().map(|photo| self.file(photo)).collect(),
            away: self.away(),
            clocks: self.clocks(),
        }
    }

    fn away(&self) -> Vec<PhotosAway> {
        let away = far_away(&self.survey).into_iter().map(|away| PhotosAway {
            sentence: away.sentence(),
            photos: away.photos.iter().map(ToString::to_string).collect(),
            distance_m: away.metres,
            bearing_deg: away.bearing_deg,
        });
        away.collect()
    }

    fn clocks(&self) -> Vec<ClockDrift> {
        self.drifts().iter().map(drift).collect()
    }

    fn row(&self, photo: &Photo) -> Option<&PhotoRow> {
        self.rows.get(photo.content.as_deref()?)
    }

    /// Where a photo belongs, where it and the site have a position.
    pub fn proposal(&self, photo: &Photo) -> Option<Proposal> {
        Some(self.rails.as_ref()?.propose(photo.position.as_ref()?))
    }

    /// Cameras whose clock seems wrong.
    pub fn drifts(&self) -> Vec<Drift> {
        drifts(&self.survey, |photo| {
            let facts = Facts::read(&self.row(photo)?.facts);
            Some(Shot { taken: facts.taken?, ahead_of_satellites_s: facts.ahead_of_satellites_s? })
        })
    }

    fn line(&self, photo: &Photo) -> PhotoLine {
        let content = content(photo);
        let file = self.file(photo);
        let can_be_made = file.has_picture && file.state == PhotoState::Here;
        // Of a photo whose original is on another device the copies may have come.
        let thumbnail = |edge: Edge| {
            let there = || self.library.thumbnail_there(content?, edge);
            let made = || self.library.thumbnail(content.filter(|_| can_be_made)?, edge).ok();
            Some(there().or_else(made)?.to_string_lossy().into_owned())
        };
        let of_survey = photo.heading.map(|heading| PhotoHeading { degrees: heading.get(), north: North::True });
        PhotoLine {
            id: file.id,
            file: photo.file.clone(),
            content_sha256: content.map(|content| content.to_string()),
            state: file.state,
            file_kind: file.file_kind,
            bytes: file.bytes,
            width_px: file.width_px,
            height_px: file.height_px,
            has_picture: file.has_picture,
            thumbnail_320: thumbnail(Edge::Small),
            thumbnail_1600: thumbnail(Edge::Large),
            taken: photo.taken.clone(),
            offset_source: file.offset_source,
            position: photo.position.as_ref().map(wire::PhotoPosition::from_plain),
            heading: of_survey.or(file.heading),
            camera: photo.camera.clone(),
            focal_length_mm: file.focal_length_mm,
            focal_length_35mm_mm: file.focal_length_35mm_mm,
            shows: wire::Shows::from_plain(&photo.shows),
            shows_text: shows_text(&self.survey, &photo.shows),
            note: photo.note.clone(),
            marks: u32::try_from(photo.marks.len()).unwrap_or(u32::MAX),
            from_site: file.from_site,
            nearest: file.nearest,
            remarks: file.remarks,
        }
    }

    /// What is known of a photo's file, and where it belongs by its position.
    fn file(&self, photo: &Photo) -> PhotoFile {
        let row = self.row(photo);
        let facts = row.map(|row| Facts::read(&row.facts)).unwrap_or_default();
        let content = content(photo);
        let here = content.filter(|content| self.library.original(*content).is_some());
        let state = match (here, content) {
            (Some(_), _) => PhotoState::Here,
            (None, Some(_)) => PhotoState::Missing,
            (None, None) => PhotoState::Named,
        };
        let kind = row.map(|row| row.kind.clone());
        // A file of which no picture can be made is not tried again at every look.
        let may_show = facts.width_px.is_some() || (Kind::Heic.is_unpacked() && kind.as_deref() == Some("HEIC"));
        let copy_came = || content.is_some_and(|content| self.library.thumbnail_there(content, Edge::Large).is_some());
        let proposal = self.proposal(photo);
        PhotoFile {
            id: photo.id.to_string(),
            state,
            file_kind: kind,
            bytes: row.and_then(|row| u64::try_from(row.bytes).ok()),
            width_px: facts.width_px,
            height_px: facts.height_px,
            has_picture: (here.is_some() && may_show) || copy_came(),
            offset_source: facts.offset_source.filter(|_| photo.taken == facts.taken),
            heading: facts.heading,
            focal_length_mm: facts.focal_length_mm,
            focal_length_35mm_mm: facts.focal_length_35mm_mm,
            from_site: proposal.as_ref().map(|proposal| way(proposal.from_site)),
            nearest: proposal.as_ref().and_then(|proposal| self.nearest(proposal)),
            remarks: facts.remarks,
        }
    }

    fn nearest(&self, proposal: &Proposal) -> Option<PhotoNearest> {
        let near = proposal.rails.first()?;
        Some(PhotoNearest {
            rail: near.rail.to_string(),
            label: self.survey.rail(&near.rail).map_or_else(String::new, |rail| rail.label.clone()),
            chainage_mm: near.chainage.to_mm(),
            least_chainage_mm: near.between.0.to_mm(),
            greatest_chainage_mm: near.between.1.to_mm(),
            way: way(near.way),
            uncertainty_m: proposal.uncertainty_m,
            accuracy_assumed: proposal.assumed,
            certain: proposal.certain(REACH_M).is_some(),
            sentence: proposal.sentence(&self.survey),
        })
    }
}

fn way(way: Way) -> PhotoWay {
    PhotoWay { distance_m: way.metres, bearing_deg: way.bearing_deg }
}

pub fn drift(drift: &Drift) -> ClockDrift {
    ClockDrift {
        camera: drift.camera.clone(),
        photos: drift.photos.iter().map(ToString::to_string).collect(),
        ahead_s: drift.ahead_s,
        against: match drift.kind {
            DriftKind::SurveyDay => ClockAgainst::SurveyDay,
            DriftKind::Satellites => ClockAgainst::Satellites,
        },
        sentence: drift.sentence(),
    }
}

/// What a photo shows, by the names that people know.
pub fn shows_text(survey: &Survey, shows: &Shows) -> String {
    match shows {
        Shows::Rail { rail, chainage } => {
            let label = survey.rail(rail).map_or(rail.as_str(), |rail| &rail.label);
            chainage.map_or_else(|| label.to_owned(), |at| format!("{label} at {:.0} mm", at.to_mm()))
        }
        Shows::MainsPoint(id) => {
            let point = survey.mains_points.iter().find(|point| point.id == *id);
            format!("mains point {}", point.map_or(id.as_str(), |point| &point.label))
        }
        Shows::Route(id) => {
            let route = survey.routes.iter().find(|route| route.id == *id);
            format!("route {}", route.map_or(id.as_str(), |route| &route.label))
        }
        Shows::Defect(words) => format!("defect: {words}"),
        Shows::General => "general".to_owned(),
    }
}
