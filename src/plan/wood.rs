//! What are fronts and boards made of, what air do they live in, and what lies on them? The plan's `wood` section.
//!
//! Nothing but [`crate::wood`] asks for it: every other answer takes the fronts as they are drawn.

use crate::length::Length;

/// What wood does and what it carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// What drawer fronts and doors are.
    pub fronts: FrontsOf,
    /// The driest air that they will stand in long enough to follow it.
    pub driest: Air,
    /// The dampest.
    pub dampest: Air,
    /// What paint builds up on each face and edge of a front and of what stands beside it.
    pub paint_build: Length,
    /// The least that a gap may come down to.
    pub least_gap: Length,
    /// What shelves are cut from.
    pub panel: Sheet,
    /// What drawer-box bottoms are cut from.
    pub thin_panel: Sheet,
    /// What lies on shelves and in drawers, in pascals: newtons on each square metre.
    pub load_pa: f64,
}

/// What drawer fronts and doors are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FrontsOf {
    /// Panels: plywood, MDF, veneered board. Their width is taken as keeping.
    Panel,
    /// Slabs glued up of solid wood.
    Solid {
        /// Which wood.
        timber: Timber,
        /// How the boards were sawn.
        sawn: Sawn,
        /// Moisture content at which they were made, in percent.
        made_at: f64,
    },
}

/// How a board's rings lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sawn {
    /// Flat-sawn: the width lies along the rings and moves most.
    Flat,
    /// Quarter-sawn: the width lies across the rings.
    Quartered,
}

/// The state of air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Relative humidity, in percent.
    pub humidity: f64,
    /// Temperature, in degrees Celsius.
    pub celsius: f64,
}

/// A wood whose movement and stiffness are in published tables, by its trade name there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant is the trade's own word for the wood")]
pub enum Timber {
    HardMaple,
    RedOak,
    WhiteOak,
    BlackCherry,
    BlackWalnut,
    YellowBirch,
    YellowPoplar,
    WhiteAsh,
    AmericanBeech,
    DouglasFir,
    WhitePine,
    PonderosaPine,
}

impl Timber {
    /// Every wood, with its word in the plan file.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("HardMaple", Self::HardMaple),
        ("RedOak", Self::RedOak),
        ("WhiteOak", Self::WhiteOak),
        ("BlackCherry", Self::BlackCherry),
        ("BlackWalnut", Self::BlackWalnut),
        ("YellowBirch", Self::YellowBirch),
        ("YellowPoplar", Self::YellowPoplar),
        ("WhiteAsh", Self::WhiteAsh),
        ("AmericanBeech", Self::AmericanBeech),
        ("DouglasFir", Self::DouglasFir),
        ("WhitePine", Self::WhitePine),
        ("PonderosaPine", Self::PonderosaPine),
    ];

    /// Its name in plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::HardMaple => "hard maple",
            Self::RedOak => "red oak",
            Self::WhiteOak => "white oak",
            Self::BlackCherry => "black cherry",
            Self::BlackWalnut => "black walnut",
            Self::YellowBirch => "yellow birch",
            Self::YellowPoplar => "yellow-poplar",
            Self::WhiteAsh => "white ash",
            Self::AmericanBeech => "American beech",
            Self::DouglasFir => "Douglas-fir",
            Self::WhitePine => "eastern white pine",
            Self::PonderosaPine => "ponderosa pine",
        }
    }
}

/// What a board that carries a load is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheet {
    /// Plywood.
    Plywood,
    /// Particleboard.
    Particleboard,
    /// Medium-density fibreboard.
    Mdf,
    /// Hardboard.
    Hardboard,
    /// Solid wood, its grain along the span.
    Solid(Timber),
}

impl Sheet {
    /// Its name in plain words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Plywood => "plywood",
            Self::Particleboard => "particleboard",
            Self::Mdf => "MDF",
            Self::Hardboard => "hardboard",
            Self::Solid(timber) => timber.word(),
        }
    }
}
