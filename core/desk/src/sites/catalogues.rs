//! The catalogues that the firm keeps, and the one in force, from which sites are planned where no other is named.

use catalogue::Catalogue;
use record::store::{CatalogueRow, StoreError};

use super::say::short;
use super::{Said, SiteError, Sites};
use crate::read::read_catalogue;
use crate::wire::sites::{CatalogueLine, CatalogueList};

impl Sites {
    /// Keeps a catalogue under a name, after reading it; one that is kept already keeps the name that it has.
    ///
    /// # Errors
    /// Every fault of the file; or the database fails.
    pub fn add_catalogue(&mut self, bytes: &[u8], file: &str, name: &str) -> Result<Said, SiteError> {
        read_catalogue(bytes, file)?;
        let now = self.now();
        let mut team = self.store.team(now)?;
        if let Some(there) = team.catalogue_of(bytes) {
            return Ok(Said { id: there.id, sentence: format!("catalogue {name} is there already as {}", there.name) });
        }
        let id = team.add_catalogue(&mut self.store, name, bytes, now)?;
        Ok(Said { id, sentence: format!("catalogue {name} added") })
    }

    /// The catalogues that the firm keeps.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogues(&self) -> Result<CatalogueList, SiteError> {
        let rows = self.store.team_as_it_is()?.map(|team| team.catalogues()).unwrap_or_default();
        let line = |row: CatalogueRow| CatalogueLine {
            id: row.id,
            content_sha256: row.hash,
            name: row.name,
            in_force: row.in_force,
        };
        Ok(CatalogueList { schema_version: 1, catalogues: rows.into_iter().map(line).collect() })
    }

    /// The catalogue of a name, or of the beginning of the SHA-256 of what it holds or of its id.
    ///
    /// # Errors
    /// None or several are called so, or the database fails.
    pub(crate) fn catalogue_row(&self, asked: &str) -> Result<CatalogueRow, SiteError> {
        let mut all = self.store.team_as_it_is()?.map(|team| team.catalogues()).unwrap_or_default();
        if let Some(exact) = all.iter().position(|row| row.id == asked) {
            return Ok(all.swap_remove(exact));
        }
        let starts = |row: &CatalogueRow| row.hash.starts_with(asked) || row.id.starts_with(asked);
        let fits = |row: &&CatalogueRow| row.name == asked || (asked.len() >= 8 && starts(row));
        let found: Vec<&CatalogueRow> = all.iter().filter(fits).collect();
        if let [found] = found.as_slice() {
            return Ok((*found).clone());
        }
        let named: Vec<String> = all.iter().map(|row| format!("{} ({})", row.name, short(&row.hash))).collect();
        let accepted = if named.is_empty() { "none yet; add one first".to_owned() } else { named.join(", ") };
        Err(SiteError::NoCatalogue { asked: asked.to_owned(), accepted })
    }

    /// Puts a catalogue in force, named by its name or the beginning of its SHA-256.
    ///
    /// # Errors
    /// None or several are called so, or the database fails.
    pub fn put_in_force(&mut self, asked: &str) -> Result<Said, SiteError> {
        let found = self.catalogue_row(asked)?;
        let now = self.now();
        let mut team = self.store.team(now)?;
        team.put_in_force(&mut self.store, &found.id, now)?;
        Ok(Said { id: found.id, sentence: format!("catalogue {} is in force", found.name) })
    }

    /// The catalogue in force; `None` where nobody put one in force, or people disagree about it.
    ///
    /// # Errors
    /// It is not on this device, people changed it at once, this release cannot read it, or the database fails.
    pub fn catalogue_in_force(&self) -> Result<Option<Catalogue>, SiteError> {
        let team = self.store.team_as_it_is()?;
        let Some((team, id)) = team.and_then(|team| team.in_force().map(|id| (team, id))) else {
            return Ok(None);
        };
        let missing = || StoreError::NoCatalogue(id.clone());
        let row = team.catalogues().into_iter().find(|row| row.id == id).ok_or_else(missing)?;
        if row.disputed {
            return Err(SiteError::Differ(row.name));
        }
        let bytes = self.store.catalogue(&row.hash)?.ok_or_else(missing)?;
        Ok(Some(read_catalogue(&bytes, &row.name)?))
    }
}
