//! The invented demo site and catalogue, built in.

/// The demo site's survey file.
pub const SITE: &[u8] = include_bytes!("../../../fixtures/demo/site.json");
/// The name that faults in it would show.
pub const SITE_NAME: &str = "demo/site.json";
/// The demo catalogue.
pub const CATALOGUE: &[u8] = include_bytes!("../../../fixtures/demo/catalogue.toml");
/// The name that faults in it would show.
pub const CATALOGUE_NAME: &str = "demo/catalogue.toml";
