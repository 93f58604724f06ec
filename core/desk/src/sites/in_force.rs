//! The catalogue that the window plans sites with: the one in force, else the invented demo catalogue with the reason said.

use catalogue::Catalogue;

use super::{SiteError, Sites};
use crate::demo;
use crate::read::read_catalogue;
use crate::view::CatalogueNote;

/// A catalogue to plan with, and whether it stands in for one of the firm's own.
#[derive(Clone, Debug)]
pub struct InForce {
    /// The catalogue.
    pub catalogue: Catalogue,
    /// Why the demo catalogue stands in, in words; `None` where this one was put in force.
    pub stands_in: Option<String>,
}

impl InForce {
    /// The demo catalogue, and why it is used.
    ///
    /// # Errors
    /// None in a whole program: its own catalogue can be read.
    pub fn demo(why: impl Into<String>) -> Result<Self, SiteError> {
        let catalogue = read_catalogue(demo::CATALOGUE, demo::CATALOGUE_NAME)?;
        Ok(Self { catalogue, stands_in: Some(why.into()) })
    }

    /// What the window says of it.
    #[must_use]
    pub fn note(&self) -> CatalogueNote {
        CatalogueNote { stands_in: self.stands_in.clone(), ..CatalogueNote::of(&self.catalogue) }
    }
}

impl CatalogueNote {
    /// Of a catalogue that stands in for none.
    #[must_use]
    pub fn of(catalogue: &Catalogue) -> Self {
        Self {
            label: catalogue.label.clone(),
            priced_on: catalogue.priced_on.clone(),
            invented: catalogue.invented,
            stands_in: None,
        }
    }
}

impl Sites {
    /// The catalogue in force. A site must open whatever became of it, so the demo catalogue stands in where there is none,
    /// where people disagree about it, and where it is not here or cannot be read.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogue_to_plan_with(&self) -> Result<InForce, SiteError> {
        match self.catalogue_in_force() {
            Ok(Some(catalogue)) => Ok(InForce { catalogue, stands_in: None }),
            Ok(None) if self.catalogues()?.catalogues.is_empty() => InForce::demo(
                "No catalogue of your own is kept here, so this is planned with the invented demo catalogue.",
            ),
            Ok(None) => InForce::demo(
                "None of the catalogues kept here is in force, or people put different ones in force, so this is planned \
                 with the invented demo catalogue.",
            ),
            Err(why) => InForce::demo(format!(
                "The catalogue in force cannot be used, so this is planned with the invented demo catalogue: {why}."
            )),
        }
    }
}
