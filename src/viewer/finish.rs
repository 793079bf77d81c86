//! How does a part take the light? A [`Lit`] material for each finish: colour, picture, sun with shadow, a fill light.
//!
//! Bevy's own material reckons with far more than boards in a room need; on a machine that draws on its processor it
//! costs several times as much a frame as this one.

use bevy::asset::uuid_handle;
use bevy::platform::collections::HashMap;
use bevy::prelude::*;
use bevy::render::render_resource::AsBindGroup;
use bevy::shader::ShaderRef;

use super::grain::{Picture, paint};
use super::look;
use crate::model::Material as Made;

/// The shader, known by this name to every app in the process.
const SHADER: Handle<Shader> = uuid_handle!("5b0c1f0e-2f43-4b6d-9c7a-3a1d3f0e8c55");

/// How a finish is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finish {
    /// As the material is.
    Plain(Made),
    /// A drawer or door under the mouse.
    Hovered(Made),
    /// A part that touches.
    Touching(Made),
    /// A wall that stands between the eye and the corner.
    Faded(Made),
}

/// A surface lit by the sun, the sky and a fill light.
#[derive(Asset, TypePath, AsBindGroup, Debug, Clone)]
pub struct Lit {
    /// The colour in full light; its alpha is how much of what lies behind is hidden.
    #[uniform(0)]
    colour: LinearRgba,
    /// Light of its own; the last number is how much it shines.
    #[uniform(0)]
    glow: Vec4,
    /// Where the fill light comes from; the last number is its strength.
    #[uniform(0)]
    fill: Vec4,
    /// What is painted on it.
    #[texture(1)]
    #[sampler(2)]
    picture: Option<Handle<Image>>,
}

impl Material for Lit {
    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        if self.colour.alpha < 1.0 { AlphaMode::Blend } else { AlphaMode::Opaque }
    }
}

/// Registers the material.
pub(super) fn plugin(app: &mut App) {
    if let Some(mut shaders) = app.world_mut().get_resource_mut::<Assets<Shader>>() {
        let shader = Shader::from_wgsl(include_str!("lit.wgsl"), "viewer/lit.wgsl");
        // The handle is a constant of ours, so there is always room for it.
        let _known = shaders.insert(&SHADER, shader);
    }
    app.add_plugins(MaterialPlugin::<Lit>::default()).init_resource::<Finishes>();
}

/// The finishes made so far; one serves all parts of one material, which lets Bevy draw them together.
#[derive(Resource, Debug, Default)]
pub struct Finishes {
    made: HashMap<Finish, Handle<Lit>>,
    pictures: HashMap<Picture, Handle<Image>>,
    fill: Vec4,
}

impl Finishes {
    /// Sets where the fill light comes from and how strong it is; before the first finish is made.
    pub fn set_fill(&mut self, from: Vec3, strength: f32) {
        self.fill = from.normalize_or_zero().extend(strength);
    }

    /// The material of `finish`, made where it is asked for the first time.
    pub fn of(&mut self, finish: Finish, lit: &mut Assets<Lit>, images: &mut Assets<Image>) -> Handle<Lit> {
        if let Some(made) = self.made.get(&finish) {
            return made.clone();
        }
        let (colour, glow, gloss, picture) = match finish {
            Finish::Plain(material) => {
                let recipe = look::recipe(material);
                (recipe.colour, Vec3::ZERO, recipe.gloss, recipe.picture)
            }
            Finish::Hovered(material) => {
                let recipe = look::recipe(material);
                (recipe.colour.mix(&Color::WHITE, 0.22), Vec3::ZERO, recipe.gloss, recipe.picture)
            }
            Finish::Faded(material) => {
                let recipe = look::recipe(material);
                (recipe.colour.with_alpha(look::FADED), Vec3::ZERO, 0.0, recipe.picture)
            }
            Finish::Touching(material) => {
                (look::TOUCHING, Vec3::new(0.16, 0.02, 0.0), 0.1, look::recipe(material).picture)
            }
        };
        let picture = (picture != Picture::Bare)
            .then(|| self.pictures.entry(picture).or_insert_with(|| images.add(paint(picture))).clone());
        let handle = lit.add(Lit { colour: colour.to_linear(), glow: glow.extend(gloss), fill: self.fill, picture });
        self.made.insert(finish, handle.clone());
        handle
    }
}
