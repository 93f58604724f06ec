//! Where the home folder is.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use super::SiteError;

/// The home folder: the one named, else `NEWEL_HOME`, else `newel` in the platform's folder for a program's data.
///
/// # Errors
/// None was named and the platform has none.
pub fn home_folder(named: Option<&Path>) -> Result<PathBuf, SiteError> {
    choose(named, std::env::var_os("NEWEL_HOME"), dirs::data_dir())
}

fn choose(named: Option<&Path>, variable: Option<OsString>, data: Option<PathBuf>) -> Result<PathBuf, SiteError> {
    let variable = variable.filter(|value| !value.is_empty()).map(PathBuf::from);
    named.map(Path::to_owned).or(variable).or(data.map(|data| data.join("newel"))).ok_or(SiteError::NoHome)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_named_folder_comes_first_then_the_variable_then_the_platform() {
        let data = || Some(PathBuf::from("/data"));
        let chosen = |named: Option<&str>, variable: Option<&str>, data| {
            choose(named.map(Path::new), variable.map(OsString::from), data).ok()
        };
        assert_eq!(chosen(Some("/here"), Some("/there"), data()), Some(PathBuf::from("/here")));
        assert_eq!(chosen(None, Some("/there"), data()), Some(PathBuf::from("/there")));
        assert_eq!(chosen(None, Some(""), data()), Some(PathBuf::from("/data/newel")));
        assert_eq!(chosen(None, None, data()), Some(PathBuf::from("/data/newel")));
        assert_eq!(chosen(None, None, None), None);
    }
}
