//! What is shown, what is only just drawn, and what is hidden? A [`Shade`] for each [`Layer`] of the model.
//!
//! What is ghosted or hidden lets the mouse through. Floor, appliances and what was named as an obstacle have no layer:
//! they are always shown.

use bevy::prelude::Resource;

use crate::model::Role;

/// Parts that are shown or hidden together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// The countertop.
    Countertop,
    /// Drawer fronts, doors and their pulls.
    Fronts,
    /// Carcasses, frames, fillers, end panels and what they stand on.
    Carcass,
    /// Drawer boxes.
    Boxes,
    /// Walls, and what is fixed to them.
    Walls,
}

impl Layer {
    /// All, from the top down and from the front back.
    pub const ALL: [Self; 5] = [Self::Countertop, Self::Fronts, Self::Carcass, Self::Boxes, Self::Walls];

    /// What it is called.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Countertop => "Countertop",
            Self::Fronts => "Fronts",
            Self::Carcass => "Carcass",
            Self::Boxes => "Boxes",
            Self::Walls => "Walls",
        }
    }

    /// What belongs to it, in a sentence.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::Countertop => "The countertop over both runs",
            Self::Fronts => "Drawer fronts and doors with their pulls",
            Self::Carcass => "Sides, bottoms, backs, frames, fillers, end panels, kicks and legs",
            Self::Boxes => "The drawer boxes behind the fronts",
            Self::Walls => "Walls, baseboards and casings of the room",
        }
    }

    /// The layer that parts of this role belong to; `None` for what is always shown.
    #[must_use]
    pub fn of(role: Role) -> Option<Self> {
        match role {
            Role::Countertop => Some(Self::Countertop),
            Role::DrawerFront | Role::DoorFront | Role::Pull => Some(Self::Fronts),
            Role::BoxSide | Role::BoxEnd | Role::BoxBottom => Some(Self::Boxes),
            Role::Wall | Role::EndWall | Role::Baseboard | Role::Casing => Some(Self::Walls),
            Role::CarcassSide
            | Role::CarcassBottom
            | Role::CarcassTop
            | Role::Back
            | Role::Nailer
            | Role::Stretcher
            | Role::Shelf
            | Role::EdgeStrip
            | Role::KickBoard
            | Role::KickCover
            | Role::KickBlock
            | Role::BaseFrame
            | Role::Leg
            | Role::FrameStile
            | Role::FrameRail
            | Role::EndPanel
            | Role::FillerFace
            | Role::BackingBlock
            | Role::Blocking
            | Role::BuildUp => Some(Self::Carcass),
            Role::Appliance | Role::ApplianceHandle | Role::Obstacle | Role::Floor => None,
        }
    }
}

/// How much of a layer is seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shade {
    /// As it is.
    #[default]
    Shown,
    /// Only just drawn: one looks and clicks through it.
    Ghosted,
    /// Not at all.
    Hidden,
}

impl Shade {
    /// All, from most to least.
    pub const ALL: [Self; 3] = [Self::Shown, Self::Ghosted, Self::Hidden];

    /// What it is called.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Shown => "shown",
            Self::Ghosted => "ghosted",
            Self::Hidden => "hidden",
        }
    }

    /// What it does, in a sentence.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::Shown => "As it will be",
            Self::Ghosted => "Only just drawn: look and click through it",
            Self::Hidden => "Not drawn at all",
        }
    }
}

/// How much of each layer is seen.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Show {
    shades: [Shade; Layer::ALL.len()],
}

impl Show {
    /// How much of a layer is seen.
    #[must_use]
    pub fn of(&self, layer: Layer) -> Shade {
        self.shades[layer as usize]
    }

    /// Shows, ghosts or hides a layer.
    pub fn set(&mut self, layer: Layer, shade: Shade) {
        self.shades[layer as usize] = shade;
    }

    /// How much is seen of parts of this role.
    #[must_use]
    pub fn shade(&self, role: Role) -> Shade {
        Layer::of(role).map_or(Shade::Shown, |layer| self.of(layer))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_layer_is_shaded_by_itself() {
        let mut show = Show::default();
        show.set(Layer::Boxes, Shade::Ghosted);
        show.set(Layer::Walls, Shade::Hidden);
        assert_eq!(show.shade(Role::BoxBottom), Shade::Ghosted);
        assert_eq!(show.shade(Role::Casing), Shade::Hidden);
        assert_eq!(show.shade(Role::DrawerFront), Shade::Shown);
        assert_eq!(show.shade(Role::Floor), Shade::Shown);
        for (k, layer) in Layer::ALL.into_iter().enumerate() {
            assert_eq!(layer as usize, k);
        }
    }
}
