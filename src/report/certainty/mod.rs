//! What does the builder read of how sure it is, and of what would make it narrower?

mod json;
mod text;

pub use json::{best_json, narrower_json, sure_json, worst_json};
pub use text::{best_line, change_words, narrower_text, sure_text, worst_line, worst_text};
