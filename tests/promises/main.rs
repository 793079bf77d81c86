//! What Elbowroom promises its users, one file a promise.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test helper that fails is a test that fails")]

mod arrows;
mod closed_forms;
mod command_line;
mod cut_list;
mod doors;
mod editing;
mod editing_laws;
mod editing_text;
mod finishes;
mod flaps;
mod hinges;
mod joinery;
mod laid_out;
mod laws;
mod layouts;
mod plan_errors;
mod plans;
mod pull_outs;
mod readme;
mod reference;
mod report;
mod room_things;
mod saving;
mod showing;
mod solids;
mod worked_example;
