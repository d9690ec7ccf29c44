//! What all pages share: the door, the visit, the frame around a page, forms, errors, assets, drawings as SVG.
//!
//! Read `server.rs` first: it stacks these around the pages of bench and office in the order a request meets them.

pub mod assets;
pub mod door;
pub mod errors;
pub mod forms;
pub mod frame;
pub mod reached;
pub mod server;
pub mod svg;
pub mod theme;
pub mod token;
pub mod visit;

pub use door::{Door, Entrance};
pub use errors::PageError;
pub use forms::{Field, FormState, KeyForm};
pub use frame::Frame;
pub use reached::Reached;
pub use visit::Visit;
