//! How a person likes to see things, kept in the store of this computer.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::Window;
use crate::sites::{SiteError, Sites, home_folder, now_ms};
use crate::view::wire::{Refusal, Settings};

const THEME: &str = "window.theme";
const UNITS: &str = "window.units";

impl Window {
    /// The settings as they are kept; what is not kept, or cannot be read, is as it is by default. To look at a file, the
    /// store is opened for a moment and not held.
    pub fn settings(&self) -> Settings {
        let found = if self.file.is_some() && self.desk().store.is_none() {
            home_folder(self.home.as_deref())
                .ok()
                .filter(|home| home.join("newel.sqlite").exists())
                .and_then(|home| Sites::open_to_read(&home, now_ms).ok())
                .and_then(|sites| read(&sites).ok())
        } else {
            self.with_store(|_, sites| Ok(read(sites)?)).ok()
        };
        let mut desk = self.desk();
        if let Some(found) = found {
            desk.settings = found;
        }
        desk.settings
    }

    /// Changes the settings. Where the store is open for reading only they hold until the window closes. A window that
    /// looks at a file takes the store for this moment only.
    ///
    /// # Errors
    /// The store fails.
    pub fn set_settings(&self, settings: Settings) -> Result<Settings, Refusal> {
        let held = {
            let mut desk = self.desk();
            desk.settings = settings;
            desk.store.is_some()
        };
        let kept = self.with_store(|desk, sites| {
            if desk.why_reading.is_none() {
                for (name, word) in [(THEME, word(&settings.theme)), (UNITS, word(&settings.units))] {
                    sites.store_mut().set_setting(name, &word).map_err(SiteError::from)?;
                }
            }
            Ok(settings)
        });
        if !held {
            self.desk().store = None;
        }
        kept
    }
}

fn read(sites: &Sites) -> Result<Settings, SiteError> {
    Ok(Settings { theme: setting(sites, THEME)?, units: setting(sites, UNITS)? })
}

fn setting<T: DeserializeOwned + Default>(sites: &Sites, name: &str) -> Result<T, SiteError> {
    let kept = sites.store().setting(name)?.map(serde_json::Value::String);
    Ok(kept.and_then(|word| serde_json::from_value(word).ok()).unwrap_or_default())
}

/// A setting as the word under which it crosses to the page.
fn word(setting: &impl Serialize) -> String {
    serde_json::to_value(setting).ok().and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}
