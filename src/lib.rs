//! Elbowroom plans fitted base cabinets around the inside corner of a real room.
//!
//! One plan file describes the room, the two runs and their hardware. Everything else is a reading of it:
//!
//! ```text
//! plan file ──read, check──▶ Plan ──build──▶ Model ──┬─▶ clearance ─▶ findings, least fillers
//! (RON, what the builder      (typed,        (solid   ├─▶ showing   ─▶ what owners ask
//!  decided and measured)       valid)         parts)  ├─▶ certainty ─▶ how sure, what would make it narrower
//!                                                     ├─▶ people    ─▶ room to stand, for fingers, within reach
//!                                                     ├─▶ cutting   ─▶ cut list, rips, drilling, hardware
//!                                                     ├─▶ install   ─▶ shims, outlines, turning in, order of work
//!                                                     ├─▶ report    ─▶ text, JSON, CSV
//!                                                     └─▶ viewer    ─▶ the window, stills
//! ```
//!
//! From a plan to the filler that lets its drawers pass:
//!
//! ```
//! use elbowroom::{clearance, command, plan};
//!
//! let plan = plan::read("demo", command::DEMO).expect("the demo is a good plan");
//! let answer = clearance::answer(&plan);
//! // The demo's left filler is too narrow at first: that is what it shows.
//! assert!(!answer.is_clear());
//! let least = answer.sides[0].least.expect("some width passes");
//! assert!(least > answer.sides[0].present);
//! ```
//!
//! Lengths are millimetres inside; the room frame is right-handed, z up, floor at z = 0, its origin on the line where
//! the two runs' back planes meet. `left` and `right` are as seen by a person who stands in the room and faces the
//! corner.

pub mod certainty;
pub mod clearance;
pub mod command;
pub mod cutting;
pub mod install;
pub mod length;
pub mod model;
pub mod people;
pub mod plan;
pub mod progress;
pub mod report;
pub mod showing;
#[cfg(feature = "viewer")]
pub mod viewer;
