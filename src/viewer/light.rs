//! What light falls on the room? A soft sun over the left shoulder of a person who faces the corner, and the light of the
//! room itself: a pale ceiling, walls, a darker floor and a wide window behind that person's right shoulder.
//!
//! [`surroundings`] works the room's light out as two cube maps, as Bevy's [`EnvironmentMapLight`] wants them: one of what
//! a matt surface gathers, one of what a shiny one mirrors, rougher from level to level. The gathering follows Karis,
//! "Real Shading in Unreal Engine 4" (SIGGRAPH 2013 course notes): samples of the GGX lobe, weighted by the cosine.
//! Quick drawing ([`super::finish::Lit`]) does without and takes its fill light from here as a direction.

use bevy::asset::RenderAssetUsages;
use bevy::image::{Image, ImageSampler};
use bevy::light::{CascadeShadowConfig, CascadeShadowConfigBuilder, DirectionalLightShadowMap, EnvironmentMapLight};
use bevy::prelude::*;
use bevy::render::render_resource::{
    Extent3d, TextureDimension, TextureFormat, TextureViewDescriptor, TextureViewDimension,
};

use super::finish::Finishes;
use super::frame;
use super::quality::{Level, Quality};
use super::shown::Shown;
use crate::model::Vec3 as RoomVec3;

/// The sun's light on a surface square to it, lux, at Bevy's usual exposure: with the room's light, a white surface in the
/// sun comes close to white on screen and no nearer.
const SUN_LUX: f32 = 2_800.0;
/// The room's light, cd/m² for a radiance of 1 in [`radiance`].
const ROOM_LIGHT: f32 = 860.0;
/// Pixels along a side of the mirrored cube map's first level.
const MIRRORED_PIXELS: u32 = 64;
/// Pixels along a side of the gathered cube map.
const GATHERED_PIXELS: u32 = 8;
/// Samples of a lobe.
const SAMPLES: u32 = 96;

/// The sun.
#[derive(Component, Debug)]
struct Sun;

/// The room's light, for cameras that draw with it.
#[derive(Resource, Clone)]
pub(super) struct Surroundings(pub(super) EnvironmentMapLight);

/// Registers the light.
pub(super) fn plugin(app: &mut App) {
    app.insert_resource(GlobalAmbientLight { brightness: 0.0, ..default() });
    app.add_systems(PreStartup, light);
    app.add_systems(Update, sharpen_shadows.run_if(resource_changed::<Level>));
}

fn light(
    mut commands: Commands<'_, '_>,
    shown: Res<'_, Shown>,
    mut finishes: ResMut<'_, Finishes>,
    mut images: ResMut<'_, Assets<Image>>,
) {
    let [left, right] = &shown.model().runs;
    let (into, across) = (left.along + right.along, left.along - right.along);
    let from = |into_by: f64, across_by: f64, up: f64| {
        frame::direction(into * into_by + across * across_by + RoomVec3::Z * up)
    };
    finishes.set_fill(from(0.8, -0.9, 0.8), 0.30);
    commands.spawn((
        Name::new("sun"),
        Sun,
        DirectionalLight {
            illuminance: SUN_LUX,
            color: Color::srgb(1.0, 0.965, 0.91),
            shadow_maps_enabled: true,
            shadow_normal_bias: 1.2,
            ..default()
        },
        cascades(Quality::Plain),
        Transform::from_translation(from(1.05, 0.58, 1.75)).looking_at(Vec3::ZERO, Vec3::Y),
    ));
    let window = from(0.55, -0.85, 0.55).normalize_or_zero();
    let (diffuse_map, specular_map) = surroundings(window);
    commands.insert_resource(Surroundings(EnvironmentMapLight {
        diffuse_map: images.add(diffuse_map),
        specular_map: images.add(specular_map),
        intensity: ROOM_LIGHT,
        ..default()
    }));
}

/// One map over what is seen from a usual place where drawing is plain; else several, the nearest the finest.
fn cascades(quality: Quality) -> CascadeShadowConfig {
    if quality == Quality::Plain {
        return CascadeShadowConfigBuilder {
            num_cascades: 1,
            minimum_distance: 0.1,
            maximum_distance: 8.0,
            ..default()
        }
        .build();
    }
    CascadeShadowConfigBuilder {
        num_cascades: 3,
        minimum_distance: 0.1,
        first_cascade_far_bound: 2.6,
        maximum_distance: 14.0,
        overlap_proportion: 0.25,
    }
    .build()
}

fn sharpen_shadows(
    level: Res<'_, Level>,
    mut commands: Commands<'_, '_>,
    mut suns: Query<'_, '_, &mut CascadeShadowConfig, With<Sun>>,
) {
    for mut config in &mut suns {
        *config = cascades(level.quality);
    }
    let size = match level.quality {
        Quality::Plain | Quality::Balanced => 2048,
        Quality::Full => 4096,
    };
    commands.insert_resource(DirectionalLightShadowMap { size });
}

/// The room's light from a direction, seen from its middle; `window` is where its window is.
fn radiance(from: Vec3, window: Vec3) -> Vec3 {
    let ceiling = Vec3::new(0.82, 0.83, 0.84);
    let walls = Vec3::new(0.62, 0.61, 0.59);
    let floor = Vec3::new(0.38, 0.34, 0.30);
    let up = from.y;
    let room =
        if up > 0.0 { walls.lerp(ceiling, soft(0.25, 0.75, up)) } else { walls.lerp(floor, soft(0.05, 0.6, -up)) };
    // A window, wider than high, with a bar down its middle and one across: what a pull mirrors.
    let right = window.cross(Vec3::Y).normalize_or_zero();
    let above = right.cross(window);
    let ahead = from.dot(window);
    if ahead <= 0.05 {
        return room;
    }
    let (x, y) = (from.dot(right) / ahead, from.dot(above) / ahead);
    let pane = (1.0 - soft(0.50, 0.60, x.abs())) * (1.0 - soft(0.36, 0.44, y.abs()));
    let bars = soft(0.015, 0.05, x.abs()) * soft(0.012, 0.04, (y - 0.06).abs());
    room.lerp(Vec3::new(3.9, 4.1, 4.4), pane * bars)
}

fn soft(low: f32, high: f32, value: f32) -> f32 {
    let t = ((value - low) / (high - low)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// The cube maps of a room whose window is in the direction `window`: what is gathered, what is mirrored.
fn surroundings(window: Vec3) -> (Image, Image) {
    let gathered = cube(GATHERED_PIXELS, 1, |normal, _| {
        // The cosine lobe is the GGX lobe's place for a matt surface: directions by Malley's method.
        lobe(normal, 2 * SAMPLES, |u, v| {
            let (sin, cos) = (std::f32::consts::TAU * u).sin_cos();
            let out = v.sqrt();
            Vec3::new(out * cos, out * sin, (1.0 - v).sqrt())
        })
        .map(|from| radiance(from, window))
        .sum::<Vec3>()
            / (2 * SAMPLES) as f32
    });
    let levels = MIRRORED_PIXELS.ilog2() + 1;
    let mirrored = cube(MIRRORED_PIXELS, levels, |mirror, level| {
        let rough = level as f32 / (levels - 1) as f32;
        if level == 0 {
            return radiance(mirror, window);
        }
        let alpha = rough * rough;
        let (mut sum, mut weights) = (Vec3::ZERO, 0.0);
        let halves = lobe(mirror, SAMPLES, |u, v| {
            let cos = ((1.0 - v) / (1.0 + (alpha * alpha - 1.0) * v)).sqrt();
            let sin = (1.0 - cos * cos).max(0.0).sqrt();
            let (s, c) = (std::f32::consts::TAU * u).sin_cos();
            Vec3::new(sin * c, sin * s, cos)
        });
        for half in halves {
            let from = half * (2.0 * mirror.dot(half)) - mirror;
            let weight = mirror.dot(from);
            if weight > 0.0 {
                sum += radiance(from, window) * weight;
                weights += weight;
            }
        }
        sum / f32::max(weights, 1e-6)
    });
    (gathered, mirrored)
}

/// `count` directions about `axis`, spread by Hammersley's points and shaped by `shape` (z along the axis).
fn lobe(axis: Vec3, count: u32, shape: impl Fn(f32, f32) -> Vec3) -> impl Iterator<Item = Vec3> {
    let (side, other) = axis.any_orthonormal_pair();
    (0..count).map(move |k| {
        let u = (k as f32 + 0.5) / count as f32;
        let v = k.reverse_bits() as f32 / u32::MAX as f32;
        let local = shape(u, v.min(0.999_9));
        (side * local.x + other * local.y + axis * local.z).normalize_or_zero()
    })
}

/// A cube map with `levels` sizes; `colour` is asked for each direction (in Bevy's frame) and level.
fn cube(size: u32, levels: u32, colour: impl Fn(Vec3, u32) -> Vec3) -> Image {
    let mut data = Vec::new();
    for face in 0..6 {
        for level in 0..levels {
            let pixels = size >> level;
            for y in 0..pixels {
                for x in 0..pixels {
                    let (u, v) = (centred(x, pixels), centred(y, pixels));
                    let light = colour(towards(face, u, v), level);
                    data.extend(light.extend(1.0).to_array().into_iter().flat_map(|c| half(c).to_le_bytes()));
                }
            }
        }
    }
    let mut image = Image::new_uninit(
        Extent3d { width: size, height: size, depth_or_array_layers: 6 },
        TextureDimension::D2,
        TextureFormat::Rgba16Float,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.data = Some(data);
    image.texture_descriptor.mip_level_count = levels;
    image.sampler = ImageSampler::linear();
    image.texture_view_descriptor =
        Some(TextureViewDescriptor { dimension: Some(TextureViewDimension::Cube), ..default() });
    image
}

fn centred(pixel: u32, pixels: u32) -> f32 {
    (2.0 * pixel as f32 + 1.0) / pixels as f32 - 1.0
}

/// The direction of a place on a face of a cube map. Cube maps are left-handed, so Bevy turns z about when it looks.
fn towards(face: u32, u: f32, v: f32) -> Vec3 {
    let there = match face {
        0 => Vec3::new(1.0, -v, -u),
        1 => Vec3::new(-1.0, -v, u),
        2 => Vec3::new(u, 1.0, v),
        3 => Vec3::new(u, -1.0, -v),
        4 => Vec3::new(u, -v, 1.0),
        _ => Vec3::new(-u, -v, -1.0),
    };
    Vec3::new(there.x, there.y, -there.z).normalize()
}

/// A number in 16 bits: IEEE 754 `binary16`, for what light needs: from 0 to 65,504, what is below a sixteen-thousandth as 0.
#[expect(clippy::cast_possible_truncation, reason = "five bits of exponent and ten of fraction are all there are")]
fn half(value: f32) -> u16 {
    const SMALLEST: f32 = 6.103_515_6e-5;
    if value < SMALLEST || value.is_nan() {
        return 0;
    }
    // Rounded in single precision, where a carry runs on into the exponent as it should; then 127 becomes 15.
    let bits = value.min(65_504.0).to_bits() + 0x0FFF;
    ((bits >> 13) - ((127 - 15) << 10)) as u16
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a GPU reads from 16 bits, by the standard's definition.
    fn whole(bits: u16) -> f32 {
        let fraction = 1.0 + f32::from(bits & 0x3FF) / 1024.0;
        if bits == 0 { 0.0 } else { fraction * 2.0_f32.powi(i32::from(bits >> 10) - 15) }
    }

    #[test]
    fn half_precision_keeps_light_to_a_thousandth() {
        // IEEE 754: 1.0 is 0x3C00, 0.5 is 0x3800, 65,504 is 0x7BFF.
        assert_eq!([half(1.0), half(0.5), half(65_504.0), half(0.0), half(-1.0)], [0x3C00, 0x3800, 0x7BFF, 0, 0]);
        for value in [0.001_f32, 0.26, 0.999_9, 1.5, 3.9, 4.4, 1000.3] {
            assert!((whole(half(value)) - value).abs() <= value / 1024.0, "{value}");
        }
    }

    #[test]
    fn a_rougher_mirror_sees_the_window_less_sharply_and_no_brighter() {
        let window = Vec3::new(0.5, 0.4, 0.77).normalize();
        let brightest = |level: u32| {
            let (_, mirrored) = surroundings(window);
            let data = mirrored.data.unwrap_or_default();
            // One face of all levels, then the next: the levels before this one, and this one.
            let before: usize = (0..level).map(|k| (MIRRORED_PIXELS >> k).pow(2) as usize).sum();
            let of_face: usize =
                (0..mirrored.texture_descriptor.mip_level_count).map(|k| (MIRRORED_PIXELS >> k).pow(2) as usize).sum();
            let here = (MIRRORED_PIXELS >> level).pow(2) as usize;
            let red = |k: usize| whole(u16::from_le_bytes([data[8 * k], data[8 * k + 1]]));
            (0..6).flat_map(|face| (0..here).map(move |k| face * of_face + before + k)).map(red).fold(0.0, f32::max)
        };
        let (sharp, rough, dull) = (brightest(0), brightest(3), brightest(5));
        assert!(sharp > 3.8 && rough < sharp && dull < rough && dull > 0.5, "{sharp} {rough} {dull}");
    }
}
