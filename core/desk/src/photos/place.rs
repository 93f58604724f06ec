//! What photos show: as their positions propose it, or as somebody says.

use record::document::{Kind, Thing};
use record::edit::Edit;
use survey::{Photo, Shows, Survey};
use units::Length;

use super::find;
use super::list::{REACH_M, Shelf, shows_text};
use crate::sites::{Said, SiteError, Sites};

/// A chainage, from the datum.
pub type Chainage = Length;

/// Reads a chainage with its unit, or in millimetres.
///
/// # Errors
/// It is no length, or a negative one.
pub fn chainage(text: &str) -> Result<Chainage, String> {
    let accepted = "accepted: a length from the datum such as 3.2m or 3200";
    Length::parse(text).ok().filter(|at| *at >= Length::ZERO).ok_or_else(|| accepted.to_owned())
}

/// What photos are said to show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The nearest rail and chainage by their own positions.
    Proposed,
    /// A rail, by its id or label.
    Rail {
        /// The rail.
        rail: String,
        /// Where on it.
        chainage: Option<Chainage>,
    },
    /// A mains point, by its id or label.
    MainsPoint(String),
    /// A route, by its id or label.
    Route(String),
    /// A defect, in words.
    Defect(String),
    /// The site in general.
    General,
}

impl Sites {
    /// Says what photos show. The proposals of named photos are taken as they are; where none is named, those of all
    /// photos that show nothing in particular yet and whose proposal is certain.
    ///
    /// # Errors
    /// There is no such site, photo or thing, no photo has a proposal, or the database fails; then nothing is changed.
    pub fn place_photos(&mut self, asked: &str, photos: &[String], place: &Place) -> Result<Said, SiteError> {
        let shelf = self.shelf(asked)?;
        let survey = &shelf.survey;
        let chosen: Vec<(&Photo, Shows)> = match place {
            Place::Proposed => proposed(&shelf, photos)?,
            said => {
                if photos.is_empty() {
                    let accepted = "the photos that show it, as newel photo list names them".to_owned();
                    return Err(SiteError::NoPhoto { asked: String::new(), accepted });
                }
                let shows = shown(survey, said)?;
                find::photos(survey, photos)?.into_iter().map(|photo| (photo, shows.clone())).collect()
            }
        };
        let edit =
            |(photo, shows): &(&Photo, Shows)| Edit::set(Thing::new(Kind::Photo, photo.id.as_str()), "shows", shows);
        let edits: Vec<Edit> = chosen.iter().map(edit).collect();
        let say =
            |(photo, shows): &(&Photo, Shows)| format!("photo {} shows {}", photo.file, shows_text(survey, shows));
        let said: Vec<String> = chosen.iter().map(say).collect();
        let sentence = match said.as_slice() {
            [one] => one.clone(),
            several => format!("{} photos placed", several.len()),
        };
        let (mut site, now) = (self.site(survey.site.id.as_str())?, self.now());
        site.edit_with_photos(self.store_mut(), &sentence, &edits, &[], now)?;
        Ok(Said { id: survey.site.id.to_string(), sentence: said.join("\n") })
    }
}

fn proposed<'a>(shelf: &'a Shelf, asked: &[String]) -> Result<Vec<(&'a Photo, Shows)>, SiteError> {
    let survey = &shelf.survey;
    let mut chosen = Vec::new();
    for photo in find::photos(survey, asked)? {
        let proposal = shelf.proposal(photo);
        let near = match (&proposal, asked) {
            (Some(proposal), []) if photo.shows == Shows::General => proposal.certain(REACH_M),
            (_, []) => None,
            (Some(proposal), _) => proposal.rails.first(),
            (None, _) => None,
        };
        match near {
            Some(near) => {
                chosen.push((photo, Shows::Rail { rail: near.rail.clone(), chainage: Some(near.chainage) }));
            }
            None if asked.is_empty() => {}
            None => {
                let why = match (&survey.site.origin, &photo.position) {
                    (None, _) => "the site has no position",
                    (_, None) => "it has no position",
                    _ => "no rail of the site is drawn",
                };
                return Err(SiteError::NoProposal { photo: photo.file.clone(), why });
            }
        }
    }
    if chosen.is_empty() {
        let why = "none of them stands by one rail for certain and shows nothing in particular yet";
        return Err(SiteError::NoProposal { photo: "any photo".to_owned(), why });
    }
    Ok(chosen)
}

fn shown(survey: &Survey, place: &Place) -> Result<Shows, SiteError> {
    Ok(match place {
        Place::Rail { rail, chainage } => {
            let rails = survey.rails.iter().map(|rail| (&rail.id, rail.label.as_str()));
            let rail = find::thing("rail", rail, rails)?;
            let length = survey.rail(&rail).map_or(Length::ZERO, survey::Rail::length);
            if let Some(beyond) = chainage.filter(|at| *at > length) {
                let accepted = format!("a chainage from 0 to {:.0} mm", length.to_mm());
                return Err(SiteError::NoThing {
                    kind: "chainage",
                    asked: format!("{:.0} mm", beyond.to_mm()),
                    accepted,
                });
            }
            Shows::Rail { rail, chainage: *chainage }
        }
        Place::MainsPoint(asked) => {
            let points = survey.mains_points.iter().map(|point| (&point.id, point.label.as_str()));
            Shows::MainsPoint(find::thing("mains point", asked, points)?)
        }
        Place::Route(asked) => {
            let routes = survey.routes.iter().map(|route| (&route.id, route.label.as_str()));
            Shows::Route(find::thing("route", asked, routes)?)
        }
        Place::Defect(words) => Shows::Defect(words.clone()),
        Place::General | Place::Proposed => Shows::General,
    })
}
