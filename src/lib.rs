//! Elbowroom plans fitted base cabinets around the inside corner of a room.

pub mod clearance;
pub mod length;
pub mod model;
pub mod plan;
