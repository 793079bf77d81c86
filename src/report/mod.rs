//! What does the builder read? The answers of a check in words, and as JSON. No number is made here.
//!
//! Lengths are printed in the plan's unit; unrounded ones are marked `~` where the print is not exact.

pub mod certainty;
pub mod cutting;
pub mod install;
mod json;
mod map;
mod owner;
mod people;
mod solids;
mod text;
mod wood;

pub use json::check_json;
pub use map::{
    fillers_json, fillers_point_line, fillers_text, map_lines, map_point_line, maps_json, maps_text, together_lines,
};
pub use owner::{OwnerAnswer, owner_answers, showing_json, showing_lines};
pub use people::{people_json, people_text};
pub use solids::solids_json;
pub use text::{
    Mark, advice_line, cautions, finding_line, gap_line, good_line, least_line, need_line, opening_line, side_lines,
    text, text_with, travel, verdict,
};
pub use wood::{wood_json, wood_text, worries_json, worry_line, worry_lines};
