//! What all pages share.

pub mod svg;
