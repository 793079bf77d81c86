//! How does a part take the light? A [`Lit`] material where the machine is weak, a [`Solid`] one where it is not, for
//! each coat and each state of a part.
//!
//! Bevy's own material reckons with far more than boards in a room need; on a machine that draws on its processor it
//! costs several times as much a frame as [`Lit`].

use bevy::asset::uuid_handle;
use bevy::ecs::system::SystemParam;
use bevy::platform::collections::HashMap;
use bevy::prelude::*;
use bevy::render::render_resource::AsBindGroup;
use bevy::shader::ShaderRef;

use super::coat::{self, Coat};
use super::grain::{Picture, paint};
use super::look;
use super::solid::{self, Over, Solid};

/// The shader, known by this name to every app in the process.
const SHADER: Handle<Shader> = uuid_handle!("5b0c1f0e-2f43-4b6d-9c7a-3a1d3f0e8c55");

/// What is going on with a part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Nothing.
    #[default]
    Calm,
    /// It is a drawer or door under the mouse.
    Hovered,
    /// It touches another part.
    Touching,
    /// Picked in the lists or the scene.
    Pointed,
    /// It stands between the eye and the corner, and is only just drawn.
    Faded,
    /// One is to look through it.
    Ghosted,
}

/// A coat and what is going on with it.
pub(super) type Wear = (Coat, State);

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

/// Registers both materials.
pub(super) fn plugin(app: &mut App) {
    if let Some(mut shaders) = app.world_mut().get_resource_mut::<Assets<Shader>>() {
        let shader = Shader::from_wgsl(include_str!("lit.wgsl"), "viewer/lit.wgsl");
        // The handle is a constant of ours, so there is always room for it.
        let _known = shaders.insert(&SHADER, shader);
    }
    app.add_plugins((MaterialPlugin::<Lit>::default(), solid::plugin)).init_resource::<Finishes>();
}

/// The materials made so far; one serves all parts of one coat and state, which lets Bevy draw them together.
#[derive(Resource, Debug, Default)]
pub struct Finishes {
    lit: HashMap<Wear, Handle<Lit>>,
    solid: HashMap<Wear, Handle<Solid>>,
    pictures: HashMap<Picture, Handle<Image>>,
    fill: Vec4,
}

impl Finishes {
    /// Sets where the fill light comes from and how strong it is; before the first finish is made.
    pub fn set_fill(&mut self, from: Vec3, strength: f32) {
        self.fill = from.normalize_or_zero().extend(strength);
    }
}

/// Where materials are made and kept.
#[derive(SystemParam)]
pub(super) struct Wardrobe<'w> {
    finishes: ResMut<'w, Finishes>,
    lit: ResMut<'w, Assets<Lit>>,
    solid: ResMut<'w, Assets<Solid>>,
    images: ResMut<'w, Assets<Image>>,
}

impl Wardrobe<'_> {
    /// The physically based material of `wear`, made where it is asked for the first time.
    pub(super) fn solid(&mut self, wear: Wear) -> Handle<Solid> {
        if let Some(made) = self.finishes.solid.get(&wear) {
            return made.clone();
        }
        let look = coat::look(wear.0);
        // Of what is only just drawn, no pattern is seen.
        let look = if wear.1 == State::Faded { coat::Look::even(look.mean(), 1.0) } else { look };
        let handle = self.solid.add(solid::solid(&look, &over(wear.1)));
        self.finishes.solid.insert(wear, handle.clone());
        handle
    }

    /// The quick material of `wear`, made where it is asked for the first time.
    pub(super) fn lit(&mut self, wear: Wear) -> Handle<Lit> {
        if let Some(made) = self.finishes.lit.get(&wear) {
            return made.clone();
        }
        let look = coat::look(wear.0);
        let Over { tint: (tint, share), glow, alpha } = over(wear.1);
        let picture = if wear.1 == State::Faded { Picture::Bare } else { Picture::of(&look) };
        // What is painted darkens the colour, so the colour is the lightest there is.
        let colour = if picture == Picture::Bare { look.mean() } else { picture.lightest(&look) };
        let colour = colour.mix(&tint, share).with_alpha(alpha);
        // Bare metal has nothing to mirror here: a plain shine stands for it.
        let shine = if look.metal { 0.45 } else { (0.55 - look.rough).max(0.0) * 0.6 };
        let glow = Vec4::new(glow.red, glow.green, glow.blue, shine);
        let finishes = &mut *self.finishes;
        let picture = (picture != Picture::Bare)
            .then(|| finishes.pictures.entry(picture).or_insert_with(|| self.images.add(paint(picture))).clone());
        let handle = self.lit.add(Lit { colour: colour.to_linear(), glow, fill: finishes.fill, picture });
        finishes.lit.insert(wear, handle.clone());
        handle
    }
}

/// What lies over a coat in each state.
fn over(state: State) -> Over {
    let calm = Over { tint: (Color::WHITE, 0.0), glow: LinearRgba::BLACK, alpha: 1.0 };
    match state {
        State::Calm => calm,
        State::Hovered => Over { tint: (Color::WHITE, 0.22), ..calm },
        State::Touching => Over { tint: (look::TOUCHING, 1.0), glow: LinearRgba::rgb(0.16, 0.02, 0.0), ..calm },
        State::Pointed => Over { tint: (look::POINTED_COAT, 0.6), ..calm },
        State::Faded => Over { alpha: look::FADED, ..calm },
        State::Ghosted => Over { alpha: look::GHOSTED, ..calm },
    }
}
