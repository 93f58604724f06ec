//! Wire types: the shapes of files, of the window and of the command line, with their way to and from the plain types.
//!
//! Every field name carries its unit, and a kind with details is told apart by `kind`.

pub(crate) mod mirror;

pub mod catalogue;
pub mod exchange;
#[cfg(feature = "store")]
pub mod photos;
pub mod place;
pub mod plan;
pub mod scalar;
pub mod schemas;
pub mod shape;
pub mod sites;
pub mod survey;
pub mod text;

pub use mirror::Mirror;
