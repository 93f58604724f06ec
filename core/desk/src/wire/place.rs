//! Where a team's files lie, as a person says it and as the program tells it. What is secret only ever goes in.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A password or a secret key. It is never printed, and no answer holds one.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Password(pub String);

impl fmt::Debug for Password {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("…")
    }
}

/// What a person says about the place where a team's files lie.
#[derive(Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
pub struct PlaceForm {
    /// The path of a folder, `https://host/path` of a WebDAV drive, or `s3://bucket/prefix` of an object store.
    pub address: String,
    /// The name for a drive on the web, or the id of the key for an object store.
    #[serde(default)]
    pub user: Option<String>,
    /// The password, or the secret of the key. Where absent, the one that is kept stays, as long as the same server asks for
    /// it under the same name; an empty one is forgotten.
    #[serde(default)]
    pub password: Option<Password>,
    /// Of an object store: the address of its server, as `https://host`.
    #[serde(default)]
    pub server: Option<String>,
    /// Of an object store: its region; `us-east-1` where absent.
    #[serde(default)]
    pub region: Option<String>,
    /// A file with certificates, in PEM form, of authorities that count beside those that this machine knows.
    #[serde(default)]
    pub ca: Option<String>,
    /// The address of a proxy, as `http://host:port`, perhaps with `name:password@` before the host; without, a login that is
    /// kept for the same proxy stays. Where absent, what the machine says.
    #[serde(default)]
    pub proxy: Option<String>,
    /// So many bytes a second at most, both ways together.
    #[serde(default)]
    #[ts(type = "number | null")]
    pub bytes_per_second: Option<u64>,
    /// Rounds run on these networks alone, each by the hardware address of its gateway; on every one where there is none.
    #[serde(default)]
    pub only_on: Vec<String>,
}

impl PlaceForm {
    /// A place that is told by its address alone, as a folder is.
    #[must_use]
    pub fn at(address: &str) -> Self {
        Self { address: address.to_owned(), ..Self::default() }
    }
}

impl fmt::Debug for PlaceForm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // An address that was typed, a proxy's too, may hold a password.
        write!(f, "PlaceForm(user {:?}, server {:?}, …)", self.user, self.server)
    }
}

/// Where a team's files lie, with nothing secret in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct ExchangePlace {
    /// Version of this shape: 1.
    pub schema_version: u32,
    /// The path of a folder, `https://host/path` of a WebDAV drive, or `s3://bucket/prefix` of an object store.
    pub address: String,
    /// The name for a drive on the web, or the id of the key for an object store.
    pub user: Option<String>,
    /// Whether a password, or the secret of the key, is kept for it.
    pub has_password: bool,
    /// Of an object store: the address of its server.
    pub server: Option<String>,
    /// Of an object store: its region; `us-east-1` where absent.
    pub region: Option<String>,
    /// A file with certificates of authorities that count beside those that this machine knows.
    pub ca: Option<String>,
    /// The address of a proxy, without name and password.
    pub proxy: Option<String>,
    /// Whether a name and a password are kept for the proxy.
    pub has_proxy_login: bool,
    /// So many bytes a second at most, both ways together.
    #[ts(type = "number | null")]
    pub bytes_per_second: Option<u64>,
    /// Rounds run on these networks alone, each by the hardware address of its gateway; on every one where there is none.
    pub only_on: Vec<String>,
    /// The network that this device is on, by the hardware address of its gateway; nothing where that cannot be told.
    pub network: Option<String>,
    /// For what rounds wait, where they are held back because of the network, and what to do about it with the command.
    pub held_back: Option<String>,
    /// The same for whoever sits at the window.
    pub held_back_in_window: Option<String>,
}
