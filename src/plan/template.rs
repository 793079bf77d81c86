//! What does a new plan start from? A few small plans with comments that say what to measure and change.

/// A plan to start from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Template {
    /// What it is called.
    pub title: &'static str,
    /// One sentence: what it is for.
    pub about: &'static str,
    /// The plan file's text.
    pub text: &'static str,
}

/// Every plan to start from.
pub const TEMPLATES: [Template; 4] = [
    Template {
        title: "Two drawer banks, millimetres",
        about: "A square corner with a bank of three drawers on each side, frameless, overlay fronts.",
        text: include_str!("../../assets/templates/two-banks-mm.ron"),
    },
    Template {
        title: "Two drawer banks, inches",
        about: "The same corner measured in inches, with round inch sizes.",
        text: include_str!("../../assets/templates/two-banks-inch.ron"),
    },
    Template {
        title: "Wide corner with face frames",
        about: "Walls at 135 degrees, runs along them, face frames and inset fronts, in inches.",
        text: include_str!("../../assets/templates/wide-corner.ron"),
    },
    Template {
        title: "Doors and an appliance",
        about: "A door unit at the corner, a drawer over a door, and a space for an appliance, in millimetres.",
        text: include_str!("../../assets/templates/doors-and-appliance.ron"),
    },
];
