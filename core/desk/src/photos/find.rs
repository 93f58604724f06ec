//! Finding a photo or a thing that it shows by what a person calls it.

use survey::{Id, Photo, Survey};

use crate::sites::SiteError;

const MOST_NAMED: usize = 8;
/// Fewer characters would be the beginning of too many ids.
const LEAST_BEGINNING: usize = 4;

/// The photo that is called so: by its id, its file's name, or the beginning of its id.
pub fn photo<'a>(survey: &'a Survey, asked: &str) -> Result<&'a Photo, SiteError> {
    let last = |photo: &Photo| photo.file.rsplit(['/', '\\']).next().unwrap_or_default().to_lowercase();
    let lower = asked.to_lowercase();
    let ways: [&dyn Fn(&Photo) -> bool; 4] = [
        &|photo| photo.id.as_str() == asked,
        &|photo| photo.file == asked,
        &|photo| asked.chars().count() >= LEAST_BEGINNING && photo.id.as_str().starts_with(asked),
        &|photo| last(photo) == lower,
    ];
    let named = |photos: &mut dyn Iterator<Item = &Photo>| {
        let names: Vec<String> =
            photos.take(MOST_NAMED).map(|photo| format!("{} ({})", photo.id, photo.file)).collect();
        names.join(", ")
    };
    for way in ways {
        let fits: Vec<&Photo> = survey.photos.iter().filter(|photo| way(photo)).collect();
        match fits.as_slice() {
            [] => {}
            [one] => return Ok(one),
            several => {
                let fitting = named(&mut several.iter().copied());
                return Err(SiteError::NoPhoto {
                    asked: asked.to_owned(),
                    accepted: format!("one of {fitting}, since it fits several"),
                });
            }
        }
    }
    let known = named(&mut survey.photos.iter());
    let accepted = match survey.photos.len() {
        0 => "none yet; add one with newel photo add".to_owned(),
        count if count > MOST_NAMED => format!("{known}, … as newel photo list shows them"),
        _ => known,
    };
    Err(SiteError::NoPhoto { asked: asked.to_owned(), accepted })
}

/// The photos that are called so, in the survey's order, each once; all where none is named.
pub fn photos<'a>(survey: &'a Survey, asked: &[String]) -> Result<Vec<&'a Photo>, SiteError> {
    if asked.is_empty() {
        return Ok(survey.photos.iter().collect());
    }
    let found = asked.iter().map(|asked| photo(survey, asked)).collect::<Result<Vec<_>, _>>()?;
    Ok(survey.photos.iter().filter(|photo| found.iter().any(|one| one.id == photo.id)).collect())
}

/// The thing of a kind that is called so, by its id or its label.
pub fn thing<'a>(
    kind: &'static str,
    asked: &str,
    things: impl Iterator<Item = (&'a Id, &'a str)> + Clone,
) -> Result<Id, SiteError> {
    let by_id = things.clone().find(|(id, _)| id.as_str() == asked);
    let mut by_label = things.clone().filter(|(_, label)| label.to_lowercase() == asked.to_lowercase());
    match (by_id, by_label.next(), by_label.next()) {
        (Some((id, _)), ..) | (None, Some((id, _)), None) => Ok(id.clone()),
        _ => {
            let names: Vec<String> = things.take(MOST_NAMED).map(|(id, label)| format!("{id} ({label})")).collect();
            let accepted =
                if names.is_empty() { format!("none, since the site has no {kind}") } else { names.join(", ") };
            Err(SiteError::NoThing { kind, asked: asked.to_owned(), accepted })
        }
    }
}
