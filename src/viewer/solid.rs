//! What is a part made of, all through? [`Solid`]: Bevy's physically based material, with the colour of each spot worked
//! out from its place inside the part.
//!
//! The patterns stand in `solid.wgsl`; [`super::coat`] says how strong and which colours. A spot's place inside its part
//! comes with the mesh, see [`super::shape`].

use bevy::asset::uuid_handle;
use bevy::pbr::{ExtendedMaterial, MaterialExtension};
use bevy::prelude::*;
use bevy::render::render_resource::AsBindGroup;
use bevy::shader::ShaderRef;

use super::coat::{self, Figure};

/// The shader, known by this name to every app in the process.
const SHADER: Handle<Shader> = uuid_handle!("7d1f0a52-6c1b-4b5e-8a0d-2f7f6a0b9c31");

/// The material of a part where the machine affords it.
pub type Solid = ExtendedMaterial<StandardMaterial, Grown>;

/// What Bevy's material does not know: a pattern all through the part.
#[derive(Asset, TypePath, AsBindGroup, Debug, Clone)]
pub struct Grown {
    /// The main colour; the last number says which pattern.
    #[uniform(100)]
    ground: Vec4,
    /// The colour of rings, veins or joints; the last number is the pattern's size.
    #[uniform(100)]
    second: Vec4,
    /// How strong the pattern's shares are.
    #[uniform(100)]
    strength: Vec4,
    /// A colour laid over all; the last number is how much of it.
    #[uniform(100)]
    over: Vec4,
}

impl MaterialExtension for Grown {
    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }
}

/// Registers the material.
pub(super) fn plugin(app: &mut App) {
    if let Some(mut shaders) = app.world_mut().get_resource_mut::<Assets<Shader>>() {
        let shader = Shader::from_wgsl(include_str!("solid.wgsl"), "viewer/solid.wgsl");
        // The handle is a constant of ours, so there is always room for it.
        let _known = shaders.insert(&SHADER, shader);
    }
    app.add_plugins(MaterialPlugin::<Solid>::default());
}

/// What lies over a coat for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Over {
    /// A colour mixed in, and how much of it.
    pub(super) tint: (Color, f32),
    /// Light of its own.
    pub(super) glow: LinearRgba,
    /// How much of what lies behind is hidden.
    pub(super) alpha: f32,
}

/// The material of a coat with what lies over it.
pub(super) fn solid(look: &coat::Look, over: &Over) -> Solid {
    let (pattern, size, strength) = match look.figure {
        Figure::Even => (0.0, 1.0, [0.0; 4]),
        Figure::Wood { ring_mm, strength } => (1.0, ring_mm * 0.001, strength),
        Figure::Speckled { size_mm, strength: [a, b, c] } => (2.0, size_mm * 0.001, [a, b, c, 0.0]),
        Figure::Veined { size_mm, strength: [a, b, c] } => (3.0, size_mm * 0.001, [a, b, c, 0.0]),
        Figure::Boards { ring_mm, strength } => (4.0, ring_mm * 0.001, strength),
        Figure::Staves { ring_mm, strength } => (9.0, ring_mm * 0.001, strength),
        Figure::Tiles { size_mm } => (5.0, size_mm * 0.001, [0.0; 4]),
        Figure::Cloudy { per_metre, strength: [a, b] } => (6.0, per_metre, [a, b, 0.0, 0.0]),
        Figure::Brushed => (7.0, 1.0, [0.0; 4]),
        Figure::Sky { size_mm } => (8.0, size_mm * 0.001, [0.0; 4]),
    };
    let linear = |colour: Color| colour.to_linear().to_vec3();
    let see_through = over.alpha < 1.0;
    Solid {
        base: StandardMaterial {
            base_color: Color::WHITE.with_alpha(over.alpha),
            perceptual_roughness: look.rough,
            metallic: if look.metal { 1.0 } else { 0.0 },
            emissive: if matches!(look.figure, Figure::Sky { .. }) { look.mean().to_linear() * 0.8 } else { over.glow },
            alpha_mode: if see_through { AlphaMode::Blend } else { AlphaMode::Opaque },
            ..default()
        },
        extension: Grown {
            ground: linear(look.ground).extend(pattern),
            second: linear(look.second).extend(size),
            strength: Vec4::from_array(strength),
            over: linear(over.tint.0).extend(over.tint.1),
        },
    }
}
