//! What does a finish look like? A [`Coat`] for each part, and the [`Look`] of each coat: colours, pattern, sheen.
//!
//! Colours of woods, metals and stones are our own choice, made by eye, save where a source is named.

use bevy::prelude::*;

use crate::model::{Material as Made, Model, Part, finish};
use crate::plan::{Colour, Finish, Metal, Plan, Species, Stone, Surface};

/// What a part wears.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Coat {
    /// A finish of the plan, on this kind of part.
    Finished(Surface, Finish),
    /// What has no finish of its own is as it comes.
    AsItComes(Made),
    /// What is drawn to give the room scale, and is no part.
    Scenery(Thing),
}

/// A kind of scenery.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    /// A pane with the sky behind it.
    Pane,
    /// The painted wood about it.
    Casing,
    /// Glazed stoneware, pale.
    PaleJar,
    /// Glazed stoneware, dark.
    DarkJar,
    /// A wooden board.
    Board,
}

/// What `part`, a part of `model`, wears by `plan`.
#[must_use]
pub fn coat(plan: &Plan, model: &Model, part: &Part) -> Coat {
    match finish::finish(plan, model, part) {
        Some(given) => Coat::Finished(finish::surface(part).unwrap_or(Surface::Pulls), given),
        None => Coat::AsItComes(part.material),
    }
}

/// The pattern in a coat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Figure {
    /// None.
    Even,
    /// Growth rings this wide, in mm.
    Wood {
        /// Width of a ring, mm.
        ring_mm: f32,
        /// How strong bands, fibres, vessels and rays are.
        strength: [f32; 4],
    },
    /// Speckles this large, in mm.
    Speckled {
        /// Size of a speckle, mm.
        size_mm: f32,
        /// Dark speckles, drift, pale speckles.
        strength: [f32; 3],
    },
    /// Veins this far apart, in mm.
    Veined {
        /// Distance between veins, mm.
        size_mm: f32,
        /// Veins, drift, grit.
        strength: [f32; 3],
    },
    /// Floorboards with rings this wide, in mm.
    Boards {
        /// Width of a ring, mm.
        ring_mm: f32,
        /// As of [`Figure::Wood`].
        strength: [f32; 4],
    },
    /// Narrow boards glued edge to edge, with rings this wide, in mm.
    Staves {
        /// Width of a ring, mm.
        ring_mm: f32,
        /// As of [`Figure::Wood`].
        strength: [f32; 4],
    },
    /// Square tiles of this size, in mm.
    Tiles {
        /// Side of a tile, mm.
        size_mm: f32,
    },
    /// Clouds, so many to a metre.
    Cloudy {
        /// Clouds to a metre.
        per_metre: f32,
        /// Clouds, grit.
        strength: [f32; 2],
    },
    /// Brushed lengthways.
    Brushed,
    /// A sky, this high in mm.
    Sky {
        /// Height of the pane, mm.
        size_mm: f32,
    },
}

/// How a coat looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Look {
    /// Its main colour.
    pub(super) ground: Color,
    /// The colour of rings, veins or joints.
    pub(super) second: Color,
    /// Its pattern.
    pub(super) figure: Figure,
    /// How rough it is, 0 (a mirror) to 1.
    pub(super) rough: f32,
    /// Whether it is bare metal.
    pub(super) metal: bool,
}

impl Look {
    pub(super) fn even(ground: Color, rough: f32) -> Self {
        Self { ground, second: ground, figure: Figure::Even, rough, metal: false }
    }

    /// The colour from afar.
    pub(super) fn mean(&self) -> Color {
        let share = match self.figure {
            Figure::Wood { strength, .. } | Figure::Boards { strength, .. } | Figure::Staves { strength, .. } => {
                0.34 * strength[0] + 0.14 * strength[2]
            }
            Figure::Speckled { strength, .. } => 0.22 * strength[0],
            Figure::Veined { strength, .. } => 0.06 * strength[0],
            Figure::Cloudy { strength, .. } => 0.5 * strength[0],
            Figure::Even | Figure::Tiles { .. } | Figure::Brushed | Figure::Sky { .. } => 0.0,
        };
        self.ground.to_linear().mix(&self.second.to_linear(), share).into()
    }
}

/// Roughness of clear-finished wood: a satin varnish.
const SATIN: f32 = 0.40;
/// Side of a wall tile and of a floor tile, mm. Common practice, no source.
const WALL_TILE_MM: f32 = 150.0;
const FLOOR_TILE_MM: f32 = 300.0;

/// The colour of a swatch for `finish` on `surface`, in sRGB.
#[must_use]
pub fn swatch(surface: Surface, finish: Finish) -> [u8; 3] {
    look(Coat::Finished(surface, finish)).mean().to_srgba().to_u8_array_no_alpha()
}

/// The look of `coat`.
pub(super) fn look(coat: Coat) -> Look {
    let (surface, finish) = match coat {
        Coat::Finished(surface, finish) => (surface, finish),
        Coat::AsItComes(made) => return as_it_comes(made),
        Coat::Scenery(thing) => return scenery(thing),
    };
    match finish {
        Finish::Wood(species) if surface == Surface::Countertop => staves(wood(species)),
        Finish::Wood(species) => wood(species),
        Finish::Stained(species, colour) if surface == Surface::Countertop => staves(stained(species, colour)),
        Finish::Stained(species, colour) => stained(species, colour),
        Finish::Boards(species) => boards(species),
        Finish::Painted(colour) if surface == Surface::Walls => {
            let ground = srgb(colour);
            let figure = Figure::Cloudy { per_metre: 2.2, strength: [0.35, 0.05] };
            Look { ground, second: ground.darker(0.03), figure, rough: 0.92, metal: false }
        }
        Finish::Painted(colour) => Look::even(srgb(colour), 0.42),
        Finish::Metal(kind) => metal(kind),
        Finish::Stone(kind) => stone(kind),
        Finish::Tile(colour) => {
            let size_mm = if surface == Surface::Floor { FLOOR_TILE_MM } else { WALL_TILE_MM };
            let second = Color::srgb(0.62, 0.60, 0.57);
            Look { ground: srgb(colour), second, figure: Figure::Tiles { size_mm }, rough: 0.16, metal: false }
        }
        Finish::Concrete => {
            let figure = Figure::Cloudy { per_metre: 3.0, strength: [0.8, 0.22] };
            let (ground, second) = (Color::srgb(0.66, 0.655, 0.64), Color::srgb(0.52, 0.515, 0.505));
            Look { ground, second, figure, rough: 0.62, metal: false }
        }
    }
}

fn scenery(thing: Thing) -> Look {
    match thing {
        Thing::Pane => {
            let (ground, second) = (Color::srgb(0.80, 0.88, 0.95), Color::srgb(0.94, 0.95, 0.95));
            Look { ground, second, figure: Figure::Sky { size_mm: 1_000.0 }, rough: 0.1, metal: false }
        }
        Thing::Casing => Look::even(Color::srgb(0.95, 0.95, 0.93), 0.45),
        Thing::PaleJar => Look::even(Color::srgb(0.90, 0.87, 0.80), 0.25),
        Thing::DarkJar => Look::even(Color::srgb(0.26, 0.36, 0.42), 0.22),
        Thing::Board => wood(Species::Walnut),
    }
}

fn srgb(colour: Colour) -> Color {
    let [red, green, blue] = colour.rgb;
    Color::srgb_u8(red, green, blue)
}

fn as_it_comes(made: Made) -> Look {
    match made {
        Made::Appliance => {
            Look { metal: true, figure: Figure::Brushed, ..Look::even(Color::srgb(0.78, 0.79, 0.80), 0.34) }
        }
        Made::Metal => metal(Metal::BrushedSteel),
        Made::Plaster | Made::PaintedWoodwork => Look::even(Color::srgb(0.95, 0.95, 0.93), 0.5),
        _ => Look::even(Color::srgb(0.70, 0.69, 0.67), 0.6),
    }
}

/// Early- and latewood, ring width and the strength of bands, fibres, vessels and rays. Ring widths are of the order
/// that timber handbooks give (1 to 4 mm); from memory.
fn wood(species: Species) -> Look {
    let (early, late, ring_mm, strength) = match species {
        Species::Oak => ((0.80, 0.66, 0.47), (0.55, 0.39, 0.23), 2.8, [0.62, 0.55, 0.42, 0.10]),
        Species::Maple => ((0.92, 0.84, 0.71), (0.79, 0.65, 0.49), 3.2, [0.34, 0.42, 0.0, 0.03]),
        Species::Birch => ((0.90, 0.79, 0.62), (0.75, 0.58, 0.40), 3.4, [0.42, 0.48, 0.05, 0.0]),
        Species::Cherry => ((0.72, 0.51, 0.38), (0.54, 0.34, 0.24), 3.0, [0.55, 0.50, 0.06, 0.05]),
        Species::Walnut => ((0.50, 0.35, 0.24), (0.25, 0.16, 0.11), 3.6, [0.66, 0.55, 0.28, 0.0]),
        Species::Ash => ((0.90, 0.80, 0.65), (0.66, 0.51, 0.36), 3.2, [0.66, 0.50, 0.40, 0.0]),
        Species::Beech => ((0.86, 0.69, 0.53), (0.70, 0.49, 0.34), 2.6, [0.32, 0.42, 0.0, 0.14]),
        Species::Pine => ((0.91, 0.81, 0.63), (0.75, 0.55, 0.36), 3.8, [0.80, 0.34, 0.0, 0.0]),
    };
    let colour = |(r, g, b)| Color::srgb(r, g, b);
    let figure = Figure::Wood { ring_mm, strength };
    Look { ground: colour(early), second: colour(late), figure, rough: SATIN, metal: false }
}

/// The grain of the wood, in the stain's colour: earlywood drinks it, latewood stays darker.
fn stained(species: Species, colour: Colour) -> Look {
    let bare = wood(species);
    let stain = srgb(colour).to_linear();
    let over = |wood: Color, depth: f32| {
        let wood = wood.to_linear();
        // Mostly the stain, with some of the wood below it.
        let mixed = LinearRgba::rgb(stain.red * depth, stain.green * depth, stain.blue * depth);
        Color::from(
            mixed.mix(&LinearRgba::rgb(wood.red * stain.red, wood.green * stain.green, wood.blue * stain.blue), 0.3),
        )
    };
    Look { ground: over(bare.ground, 1.22), second: over(bare.second, 0.60), ..bare }
}

/// A top glued up from narrow boards, as no tree is wide enough.
fn staves(look: Look) -> Look {
    match look.figure {
        Figure::Wood { ring_mm, strength } => Look { figure: Figure::Staves { ring_mm, strength }, ..look },
        _ => look,
    }
}

fn boards(species: Species) -> Look {
    let look = wood(species);
    match look.figure {
        // Floors are stained by feet and light: a shade darker than fresh wood.
        Figure::Wood { ring_mm, strength } => Look {
            ground: look.ground.darker(0.04),
            second: look.second.darker(0.04),
            figure: Figure::Boards { ring_mm, strength: strength.map(|share| share * 0.7) },
            rough: 0.46,
            metal: false,
        },
        _ => look,
    }
}

/// Colours at normal incidence, linear: of the order of Hoffman's table in "Real-Time Rendering" (4th ed., 9.5.2) for
/// iron and copper; from memory. The rest is ours.
fn metal(kind: Metal) -> Look {
    let ((r, g, b), rough, figure) = match kind {
        Metal::BrushedSteel => ((0.62, 0.61, 0.59), 0.34, Figure::Brushed),
        Metal::PolishedSteel => ((0.70, 0.69, 0.67), 0.14, Figure::Even),
        Metal::Brass => ((0.83, 0.64, 0.33), 0.30, Figure::Brushed),
        Metal::Bronze => ((0.30, 0.20, 0.13), 0.38, Figure::Even),
        Metal::Copper => ((0.93, 0.56, 0.43), 0.26, Figure::Brushed),
        Metal::Black => ((0.030, 0.030, 0.032), 0.42, Figure::Even),
    };
    let ground = Color::linear_rgb(r, g, b);
    // Lacquer, not bare metal.
    Look { ground, second: ground, figure, rough, metal: kind != Metal::Black }
}

fn stone(kind: Stone) -> Look {
    let (ground, second, figure, rough) = match kind {
        Stone::Granite => {
            let figure = Figure::Speckled { size_mm: 4.5, strength: [0.95, 0.35, 0.30] };
            ((0.62, 0.61, 0.60), (0.17, 0.17, 0.18), figure, 0.20)
        }
        Stone::Marble => {
            let figure = Figure::Veined { size_mm: 300.0, strength: [0.50, 0.20, 0.02] };
            ((0.93, 0.925, 0.915), (0.50, 0.51, 0.53), figure, 0.18)
        }
        Stone::Slate => {
            let figure = Figure::Cloudy { per_metre: 7.0, strength: [0.7, 0.10] };
            ((0.25, 0.27, 0.285), (0.19, 0.20, 0.215), figure, 0.52)
        }
        Stone::Soapstone => {
            let figure = Figure::Veined { size_mm: 420.0, strength: [0.20, 0.30, 0.05] };
            ((0.28, 0.305, 0.30), (0.58, 0.61, 0.60), figure, 0.45)
        }
        Stone::Quartz => {
            let figure = Figure::Speckled { size_mm: 2.4, strength: [0.20, 0.10, 0.04] };
            ((0.90, 0.895, 0.88), (0.62, 0.61, 0.59), figure, 0.22)
        }
        Stone::Limestone => {
            let figure = Figure::Cloudy { per_metre: 6.0, strength: [0.6, 0.10] };
            ((0.83, 0.77, 0.66), (0.73, 0.665, 0.545), figure, 0.48)
        }
    };
    let colour = |(r, g, b)| Color::srgb(r, g, b);
    Look { ground: colour(ground), second: colour(second), figure, rough, metal: false }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paint_is_the_colour_that_was_asked_for() {
        let teal = Colour::new(0x3F6E70);
        let look = look(Coat::Finished(Surface::Fronts, Finish::Painted(teal)));
        assert_eq!(look.mean().to_srgba().to_u8_array_no_alpha(), teal.rgb);
    }

    #[test]
    fn a_dark_stain_makes_every_wood_dark() {
        for (_, species) in Species::ALL {
            let dark = stained(*species, Colour::new(0x3A2A20)).mean().to_srgba();
            assert!(dark.red < 0.45 && dark.red > dark.blue, "{species:?} {dark:?}");
        }
    }
}
