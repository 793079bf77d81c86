//! For whom is the window laid out, and how? What a person sets once and keeps while plans come and go.

use bevy::prelude::Resource;

/// Who looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Audience {
    /// The homeowner: the scene, large controls, no figures to judge.
    Owner,
    /// The builder: findings, widths, the plan itself.
    #[default]
    Builder,
}

impl Audience {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Owner => Self::Builder,
            Self::Builder => Self::Owner,
        }
    }
}

/// A section of the builder's panel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Section {
    /// Does the corner work?
    #[default]
    Corner,
    /// What can be open at once, and which pairs of fillers are good?
    Together,
    /// How sure is it, and what would make it narrower?
    Sure,
    /// Is there room for people, and what do damp air and load do?
    InUse,
    /// What does the plan say?
    Plan,
    /// What is cut, and what is bought?
    Cut,
    /// How does it go in?
    Install,
    /// What is it to look like?
    Finish,
    /// What is shown, and how?
    View,
}

impl Section {
    /// All, in the order of the row.
    pub const ALL: [Self; 9] = [
        Self::Corner,
        Self::Together,
        Self::Sure,
        Self::InUse,
        Self::Plan,
        Self::Cut,
        Self::Install,
        Self::Finish,
        Self::View,
    ];

    /// What its button says.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Corner => "Corner",
            Self::Together => "Together",
            Self::Sure => "Sure",
            Self::InUse => "In use",
            Self::Plan => "Plan",
            Self::Cut => "Cut",
            Self::Install => "Install",
            Self::Finish => "Finish",
            Self::View => "View",
        }
    }

    /// What it is for, in a sentence.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::Corner => "Does everything open? Filler widths, what decides them, and what is in the way",
            Self::Together => {
                "Which two meet when both are open, how far each may be out, and all good pairs of fillers"
            }
            Self::Sure => {
                "How wide the fillers must be when things are a little off, and what would make them narrower"
            }
            Self::InUse => "Room to stand, fingers at the pulls, reach; gaps in dry and damp air, boards under load",
            Self::Plan => "Everything that the plan says, to be changed here",
            Self::Cut => {
                "What is cut, ripped and bought; pick a part here to see it in the scene, or there to find it here"
            }
            Self::Install => {
                "How it goes into the measured room: the order of work step by step, shims and gaps, pieces that must be \
                 turned in"
            }
            Self::Finish => "Woods, paints, metals and stones; how much effect is drawn",
            Self::View => "Layers, parts drawn apart, measuring, the room that drawers and doors take",
        }
    }
}

/// What a person has set.
#[derive(Resource, Clone, Debug, PartialEq)]
pub struct Settings {
    /// Who looks.
    pub audience: Audience,
    /// Which section of the builder's panel is open.
    pub section: Section,
    /// Size of all text and controls; 1 is as drawn.
    pub text_scale: f32,
    /// Whether the window fills the screen.
    pub full_screen: bool,
    /// Whether dimension lines are drawn at the bench.
    pub dimensions: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            audience: Audience::default(),
            section: Section::default(),
            text_scale: 1.0,
            full_screen: false,
            dimensions: false,
        }
    }
}

impl Settings {
    /// Whether the lists of what is cut are on screen: then a click in the scene picks a part.
    #[must_use]
    pub fn lists_are_open(&self) -> bool {
        self.audience == Audience::Builder && self.section == Section::Cut
    }

    /// Whether the section for installing is on screen: then the scene shows the measured room and one step of the work.
    #[must_use]
    pub fn install_is_open(&self) -> bool {
        self.audience == Audience::Builder && self.section == Section::Install
    }

    /// Whether what can be open at once is on screen.
    #[must_use]
    pub fn together_is_open(&self) -> bool {
        self.audience == Audience::Builder && self.section == Section::Together
    }

    /// Whether how sure it is, is on screen.
    #[must_use]
    pub fn sure_is_open(&self) -> bool {
        self.audience == Audience::Builder && self.section == Section::Sure
    }

    /// Whether what it is like in use is on screen.
    #[must_use]
    pub fn in_use_is_open(&self) -> bool {
        self.audience == Audience::Builder && self.section == Section::InUse
    }

    /// The sizes of text that are offered.
    pub const TEXT_SCALES: [f32; 5] = [0.85, 1.0, 1.2, 1.45, 1.75];

    /// The next larger (`up`) or smaller size of text.
    pub fn step_text(&mut self, up: bool) {
        let now = Self::TEXT_SCALES.iter().position(|&scale| scale >= self.text_scale - 0.01).unwrap_or(1);
        let next = if up { now + 1 } else { now.saturating_sub(1) };
        self.text_scale = Self::TEXT_SCALES.get(next).copied().unwrap_or(self.text_scale);
    }
}
