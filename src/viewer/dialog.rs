//! What is being asked of the person? At most one question stands before the window at a time.

use std::path::PathBuf;

use bevy::prelude::Resource;

/// A question that stands before the window, or none.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub enum Dialog {
    /// Nothing is asked.
    #[default]
    None,
    /// Which keys and what does the mouse do?
    Help,
    /// Which plan is to be opened?
    Open {
        /// What is being typed.
        path: String,
        /// Why the last try failed, a line each.
        wrong: Vec<String>,
    },
    /// Where is the plan to be saved?
    SaveAs {
        /// What is being typed.
        path: String,
        /// Why the last try failed.
        wrong: Option<String>,
        /// What to do once it is saved.
        then: Option<Next>,
        /// A file of that name exists; saving again replaces it.
        exists: bool,
    },
    /// From which of the starting plans is the new one to be made?
    New,
    /// There are changes that were not saved. What is to become of them?
    Unsaved(Next),
    /// Changes of an earlier window were found that never reached the file.
    Found(Found),
}

/// What a person was about to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// Close the window.
    Close,
    /// Ask which plan to open.
    AskOpen,
    /// Open this plan.
    Open(PathBuf),
    /// Ask which starting plan to take.
    AskNew,
    /// Start a new plan from the starting plan with this index.
    New(usize),
}

/// Changes that an earlier window did not save.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The text with the changes.
    pub text: String,
    /// When they were kept, in words.
    pub when: String,
    /// How many lines differ from the file's.
    pub lines: usize,
}
