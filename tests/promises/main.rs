//! What Elbowroom promises its users, one file a promise.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test helper that fails is a test that fails")]

mod arrows;
mod certainty;
mod closed_forms;
mod command_line;
mod cut_list;
mod doors;
mod editing;
mod editing_laws;
mod editing_text;
mod finishes;
mod joinery;
mod laid_out;
mod laws;
mod layouts;
mod maps;
mod marks;
mod order;
mod outlines;
mod plan_errors;
mod plans;
mod readme;
mod reference;
mod report;
mod saving;
mod setting;
mod shims;
mod showing;
mod solids;
mod survey;
mod templates;
mod turning_in;
mod worked_example;
