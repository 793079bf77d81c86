//! What Elbowroom promises its users, one file a promise.

mod arrows;
mod closed_forms;
mod command_line;
mod laws;
mod plan_errors;
mod plans;
mod worked_example;
