//! What is written for people goes outside the home folder: in there it could stand in the place of the store or of an
//! original.

use std::io;
use std::path::{Component, Path, PathBuf};

use super::{SiteError, Sites};
use crate::outputs::write_file;

impl Sites {
    /// Writes a file that is for people, outside the home folder.
    ///
    /// # Errors
    /// It would lie in the home folder, or cannot be written.
    pub fn write_outside(&self, path: &Path, bytes: &[u8]) -> Result<(), SiteError> {
        self.outside(path)?;
        Ok(write_file(path, bytes)?)
    }

    /// Proves that a file or folder that is to be written lies outside the home folder.
    ///
    /// # Errors
    /// As [`outside`].
    pub(crate) fn outside(&self, target: &Path) -> Result<(), SiteError> {
        outside(self.home(), target)
    }
}

/// Proves that a file or folder that is to be written lies outside a home folder.
///
/// # Errors
/// It lies inside, or nobody can say where it lies.
pub(crate) fn outside(home: &Path, target: &Path) -> Result<(), SiteError> {
    let refused = |why: String| SiteError::File {
        path: target.to_owned(),
        why,
        accepted: "a place outside the folder in which the sites are kept",
    };
    let place = real(target).map_err(|why| refused(format!("cannot be used: {why}")))?;
    let home = real(home).map_err(|why| refused(format!("cannot be used: {why}")))?;
    if place.starts_with(&home) {
        return Err(refused("lies in the folder of the sites, where nothing else may be written".to_owned()));
    }
    Ok(())
}

/// Where a path leads, links followed, though its last parts may not be there yet.
fn real(path: &Path) -> io::Result<PathBuf> {
    let path = std::path::absolute(path)?;
    let mut there = path.as_path();
    let mut missing = Vec::new();
    loop {
        match there.canonicalize() {
            Ok(real) => return Ok(missing.into_iter().rev().fold(real, |real, part| real.join(part))),
            Err(why) if why.kind() == io::ErrorKind::NotFound => {}
            Err(why) => return Err(why),
        }
        match (there.components().next_back(), there.parent()) {
            (Some(Component::Normal(part)), Some(parent)) => {
                missing.push(part.to_owned());
                there = parent;
            }
            // Upwards from what is not there: nobody can say where that is.
            _ => return Err(io::ErrorKind::NotFound.into()),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn nothing_is_written_into_the_home_by_any_way() {
        let folder = std::env::temp_dir().join(format!("newel-outside-{}", std::process::id()));
        let home = folder.join("home");
        fs::create_dir_all(home.join("photos")).unwrap();
        fs::create_dir_all(folder.join("home-of-copies")).unwrap();
        let sites = Sites::open(&home, || 0).unwrap();
        for outside in ["copy.jpg", "home-of-copies/copy.jpg", "new/er/copy.jpg", "home/../copy.jpg"] {
            assert!(sites.outside(&folder.join(outside)).is_ok(), "{outside}");
        }
        let mut inside = vec!["home", "home/newel.sqlite", "home/photos/new/copy.jpg", "home-of-copies/../home/a"];
        // Upwards from a folder that is not there yet leads nowhere that can be known.
        inside.push("new/../home/copy.jpg");
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(home.join("photos"), folder.join("link")).unwrap();
            inside.push("link/copy.jpg");
        }
        for inside in inside {
            let why = sites.outside(&folder.join(inside)).unwrap_err().to_string();
            assert!(why.contains("accepted: a place outside"), "{inside}: {why}");
        }
        drop(sites);
        fs::remove_dir_all(&folder).unwrap();
    }
}
