//! What does the builder read of how sure it is, and of what would make it narrower?

mod json;
mod text;

pub use json::{best_json, narrower_json, sure_json, worst_json};
pub use text::{
    NARROWER_RESTS_ON, best_line, chance_lines, change_does, change_words, corner_lines, mean_line, narrower_text,
    percent, rests_on, samples_line, shares, sure_text, touch_verdict, worst_line, worst_text,
};
