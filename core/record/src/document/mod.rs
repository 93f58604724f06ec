//! A site document: an Automerge document with one map per thing, read by our own walker.

mod content;
mod create;
mod order;
mod part;
mod read;
mod source;
mod stage;
mod table;
mod tables;
mod team;
mod thing;

pub use content::{Cell, Content, Fields, REMOVED, Written, find_maps};
pub use create::{CreateError, create};
pub use order::{between, nth};
pub use read::{Reading, read, read_content};
pub use source::{Effect, Unreadable};
pub use stage::Stage;
pub use table::Field;
pub use tables::{field, fields};
pub use thing::{Kind, Thing};

pub(crate) use content::{absent, maps_in};
pub(crate) use create::{put_rail, put_thing};
pub(crate) use part::{Part, Parts, compose, newer, part, part_of, parts, strange};
pub(crate) use read::{order_key, ordered};
pub(crate) use tables::{PieceFields, STAGE};
pub(crate) use team::{CONTENT, IN_FORCE};

/// The version of the document's shape that this release writes. An older document takes it with the first change that
/// this release makes; until then it is read as it is.
///
/// 1: the site and its brief. 2: the stage of the job, and the team document. 3: the content of a photo's file.
pub const SCHEMA_VERSION: i64 = 3;
