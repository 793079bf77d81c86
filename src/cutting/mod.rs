//! What is cut from what? Layouts of boards (one dimension) and of sheets (two), for any list of sizes.
//!
//! - [`boards`]: pieces on stock lengths. [`sheets`]: pieces on stock sheets, by edge-to-edge cuts.
//! - [`layout`]: what both share: the saw, the measure, how good a layout is known to be, what stands in its way.
//!
//! Sizes go in as millimetres and come out as millimetres; inside they are whole steps (`size`), so that what fits
//! exactly fits. How long to search is an [`Effort`](crate::progress::Effort).

pub mod boards;
mod knapsack;
pub mod layout;
mod master;
pub mod sheets;
mod size;
