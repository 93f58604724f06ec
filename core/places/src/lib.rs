//! Where the files of a team may lie besides a plain folder: WebDAV drives (RFC 4918) and S3-compatible object stores,
//! through OpenDAL. [`open`] takes what a person says about a place; [`Opened::look`] says what is there, with what to do
//! where it cannot be used.
//!
//! Here is what `exchange` stays free of: the network, its client, and the threads that wait for it. Nothing that a server
//! sends is believed: whoever reads a file proves it by its name.

mod client;
mod dav;
mod fault;
mod limited;
mod look;
mod mounted;
mod remote;
mod settings;
mod stop;
mod transport;

pub use fault::Fault;
pub use limited::Limited;
pub use look::{Look, Opened, open, open_until};
pub use settings::{Secret, Settings, split_login, with_login};
pub use stop::{Stop, aside};
