//! What is a part called, and what is it made of?

use serde::Serialize;

/// What a part is, in the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant is the trade's own word for the part")]
pub enum Role {
    CarcassSide,
    CarcassBottom,
    CarcassTop,
    Back,
    Nailer,
    Stretcher,
    Shelf,
    EdgeStrip,
    KickBoard,
    KickCover,
    KickBlock,
    BaseFrame,
    Leg,
    FrameStile,
    FrameRail,
    EndPanel,
    DrawerFront,
    DoorFront,
    Pull,
    BoxSide,
    BoxEnd,
    BoxBottom,
    FillerFace,
    BackingBlock,
    Blocking,
    BuildUp,
    Countertop,
    Appliance,
    ApplianceHandle,
    Wall,
    EndWall,
    Baseboard,
    Casing,
    Obstacle,
    Floor,
}

impl Role {
    /// Its name in plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::CarcassSide => "side",
            Self::CarcassBottom => "bottom",
            Self::CarcassTop => "top",
            Self::Back => "back",
            Self::Nailer => "nailer",
            Self::Stretcher => "stretcher",
            Self::Shelf => "shelf",
            Self::EdgeStrip => "edge strip",
            Self::KickBoard => "kick board",
            Self::KickCover => "kick cover",
            Self::KickBlock => "corner kick block",
            Self::BaseFrame => "base frame",
            Self::Leg => "leg",
            Self::FrameStile => "stile",
            Self::FrameRail => "rail",
            Self::EndPanel => "end panel",
            Self::DrawerFront => "front",
            Self::DoorFront => "door",
            Self::Pull => "pull",
            Self::BoxSide => "box side",
            Self::BoxEnd => "box end",
            Self::BoxBottom => "box bottom",
            Self::FillerFace => "filler face",
            Self::BackingBlock => "backing block",
            Self::Blocking => "side blocking",
            Self::BuildUp => "build-up strip",
            Self::Countertop => "countertop",
            Self::Appliance => "appliance",
            Self::ApplianceHandle => "appliance handle",
            Self::Wall => "wall",
            Self::EndWall => "end wall",
            Self::Baseboard => "baseboard",
            Self::Casing => "casing",
            Self::Obstacle => "obstacle",
            Self::Floor => "floor",
        }
    }
}

/// What a part is made of; the window turns it into a finish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Plywood or other panel for carcasses.
    Panel,
    /// Thin panel for backs and box bottoms.
    ThinPanel,
    /// What fronts, end panels and filler faces are made of.
    FrontStock,
    /// Solid wood: edge strips, face frames.
    SolidWood,
    /// Drawer-box stock.
    BoxStock,
    /// Dimension lumber: blocks, base frames.
    DimensionLumber,
    /// Metal: pulls, legs.
    Metal,
    /// The countertop.
    Countertop,
    /// An appliance's case.
    Appliance,
    /// Plastered wall.
    Plaster,
    /// Painted woodwork of the room: baseboard, casing.
    PaintedWoodwork,
    /// The floor.
    Floor,
    /// Whatever the builder named as an obstacle.
    Unknown,
}
