//! The catalogues that the firm keeps, and the one in force, from which sites are planned where no other is named.

use catalogue::Catalogue;

use super::{Said, SiteError, Sites};
use crate::read::read_catalogue;
use crate::wire::sites::{CatalogueLine, CatalogueList};

impl Sites {
    /// Keeps a catalogue under a name, after reading it.
    ///
    /// # Errors
    /// Every fault of the file; or the database fails.
    pub fn add_catalogue(&mut self, bytes: &[u8], file: &str, name: &str) -> Result<Said, SiteError> {
        read_catalogue(bytes, file)?;
        let now = self.now();
        let mut team = self.store.team(now)?;
        let id = team.add_catalogue(&mut self.store, name, bytes, now)?;
        Ok(Said { id, sentence: format!("catalogue {name} added") })
    }

    /// The catalogues that the firm keeps.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogues(&self) -> Result<CatalogueList, SiteError> {
        let rows = self.store.team_as_it_is()?.map(|team| team.catalogues()).unwrap_or_default();
        let line = |row: record::store::CatalogueRow| CatalogueLine {
            content_sha256: row.hash,
            name: row.name,
            in_force: row.in_force,
        };
        Ok(CatalogueList { schema_version: 1, catalogues: rows.into_iter().map(line).collect() })
    }

    /// Puts a catalogue in force, named by its name or the beginning of its SHA-256.
    ///
    /// # Errors
    /// None or several are called so, or the database fails.
    pub fn put_in_force(&mut self, asked: &str) -> Result<Said, SiteError> {
        let all = self.catalogues()?.catalogues;
        let fits: Vec<&CatalogueLine> = all
            .iter()
            .filter(|line| line.name == asked || (asked.len() >= 8 && line.content_sha256.starts_with(asked)))
            .collect();
        let [found] = fits.as_slice() else {
            let named: Vec<String> = all.iter().map(|l| format!("{} ({})", l.name, &l.content_sha256[..12])).collect();
            let accepted = if named.is_empty() { "none yet; add one first".to_owned() } else { named.join(", ") };
            return Err(SiteError::NoCatalogue { asked: asked.to_owned(), accepted });
        };
        let now = self.now();
        let mut team = self.store.team(now)?;
        team.put_in_force(&mut self.store, &found.content_sha256, now)?;
        Ok(Said { id: found.content_sha256.clone(), sentence: format!("catalogue {} is in force", found.name) })
    }

    /// The catalogue in force; `None` where nobody put one in force, or people disagree about it.
    ///
    /// # Errors
    /// It is not on this device, this release cannot read it, or the database fails.
    pub fn catalogue_in_force(&self) -> Result<Option<Catalogue>, SiteError> {
        let team = self.store.team_as_it_is()?;
        let Some((team, hash)) = team.and_then(|team| team.in_force().map(|hash| (team, hash))) else {
            return Ok(None);
        };
        let name = team.catalogues().into_iter().find(|row| row.hash == hash).map(|row| row.name).unwrap_or_default();
        let missing = || record::store::StoreError::NoCatalogue(hash.clone());
        let bytes = self.store.catalogue(&hash)?.ok_or_else(missing)?;
        Ok(Some(read_catalogue(&bytes, &name)?))
    }
}
