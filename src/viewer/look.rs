//! What does it look like? Every colour, size and finish of the window, in one place.
//!
//! Finishes are painted here from noise, so the program carries no picture files: grain runs along a part's own grain,
//! boards of the floor have joints, stone has specks. One finish serves all parts of one material, which lets Bevy draw
//! them together.

use bevy::asset::RenderAssetUsages;
use bevy::image::{ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};
use bevy_egui::egui;

use crate::model::Material;

/// Width of the panel, in points.
pub const PANEL_WIDTH: f32 = 400.0;
/// Height of the bar under the scene, in points, before it is laid out.
pub const BAR_HEIGHT: f32 = 84.0;
/// Size of ordinary text, in points.
pub const TEXT: f32 = 14.5;
/// Size of the plan's name and the verdict, in points.
pub const HEADING: f32 = 19.0;
/// Size of notes, in points.
pub const SMALL: f32 = 12.5;
/// A picture covers this much of a finish, in metres.
pub const PICTURE_METRES: f32 = 0.8;
/// Edges of boards are broken by this much, in mm, so that they catch the light.
pub const BROKEN_EDGE_MM: f64 = 1.2;
/// A press and release further apart than this, in points, was a drag.
pub const DRAG_POINTS: f32 = 5.0;

/// All is clear: a green that reads on dark grey.
pub const CLEAR: egui::Color32 = egui::Color32::from_rgb(126, 211, 145);
/// Something hits.
pub const TOUCH: egui::Color32 = egui::Color32::from_rgb(255, 120, 88);
/// Something comes too near, or a file has problems.
pub const WARN: egui::Color32 = egui::Color32::from_rgb(250, 196, 92);
/// Plain text on the panel.
pub const INK: egui::Color32 = egui::Color32::from_rgb(232, 234, 236);
/// Notes on the panel.
pub const FAINT: egui::Color32 = egui::Color32::from_rgb(172, 178, 184);
/// The panel itself.
pub const PANEL: egui::Color32 = egui::Color32::from_rgb(34, 38, 43);
/// Boxes on the panel.
pub const CARD: egui::Color32 = egui::Color32::from_rgb(46, 51, 58);
/// Behind labels in the scene.
pub const LABEL: egui::Color32 = egui::Color32::from_rgba_premultiplied(20, 23, 27, 232);

/// What lies behind the scene.
pub const BACKDROP: Color = Color::srgb(0.66, 0.69, 0.71);

/// How light becomes colour: plainly, so that a colour above is the colour on screen.
#[must_use]
pub fn tonemapping() -> bevy::core_pipeline::tonemapping::Tonemapping {
    bevy::core_pipeline::tonemapping::Tonemapping::TonyMcMapface
}

/// How a finish is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finish {
    /// As the material is.
    Plain(Material),
    /// A drawer or door under the mouse.
    Hovered(Material),
    /// A part that touches.
    Touching(Material),
    /// A wall that stands between the eye and the corner.
    Ghost,
}

struct Recipe {
    colour: Color,
    picture: Picture,
    roughness: f32,
    metallic: f32,
    alpha: f32,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
enum Picture {
    Bare,
    Wood,
    Painted,
    Floorboards,
    Stone,
    Plaster,
}

fn recipe(material: Material) -> Recipe {
    let (colour, picture, roughness, metallic) = match material {
        Material::Panel => (Color::srgb(0.86, 0.74, 0.56), Picture::Wood, 0.62, 0.0),
        Material::ThinPanel => (Color::srgb(0.80, 0.67, 0.49), Picture::Wood, 0.7, 0.0),
        Material::FrontStock => (Color::srgb(0.36, 0.47, 0.44), Picture::Painted, 0.42, 0.0),
        Material::SolidWood => (Color::srgb(0.66, 0.46, 0.29), Picture::Wood, 0.55, 0.0),
        Material::BoxStock => (Color::srgb(0.91, 0.83, 0.69), Picture::Wood, 0.6, 0.0),
        Material::DimensionLumber => (Color::srgb(0.85, 0.66, 0.38), Picture::Wood, 0.8, 0.0),
        Material::Metal => (Color::srgb(0.80, 0.72, 0.58), Picture::Bare, 0.3, 0.45),
        Material::Countertop => (Color::srgb(0.93, 0.93, 0.92), Picture::Stone, 0.25, 0.0),
        Material::Appliance => (Color::srgb(0.72, 0.74, 0.76), Picture::Bare, 0.35, 0.3),
        Material::Plaster => (Color::srgb(0.90, 0.88, 0.84), Picture::Plaster, 0.95, 0.0),
        Material::PaintedWoodwork => (Color::srgb(0.97, 0.97, 0.95), Picture::Bare, 0.35, 0.0),
        Material::Floor => (Color::srgb(0.56, 0.40, 0.27), Picture::Floorboards, 0.55, 0.0),
        Material::Unknown => (Color::srgb(0.62, 0.58, 0.70), Picture::Bare, 0.7, 0.0),
    };
    // One looks through the countertop at the fronts below it.
    let alpha = if material == Material::Countertop { 0.38 } else { 1.0 };
    Recipe { colour, picture, roughness, metallic, alpha }
}

/// The finishes made so far.
#[derive(Resource, Debug, Default)]
pub struct Finishes {
    made: bevy::platform::collections::HashMap<Finish, Handle<StandardMaterial>>,
    pictures: bevy::platform::collections::HashMap<Picture, Handle<Image>>,
}

impl Finishes {
    /// The material of `finish`, made where it is asked for the first time.
    pub fn of(
        &mut self,
        finish: Finish,
        materials: &mut Assets<StandardMaterial>,
        images: &mut Assets<Image>,
    ) -> Handle<StandardMaterial> {
        if let Some(made) = self.made.get(&finish) {
            return made.clone();
        }
        let material = match finish {
            Finish::Ghost => StandardMaterial {
                base_color: Color::srgba(0.85, 0.87, 0.9, 0.10),
                alpha_mode: AlphaMode::Blend,
                perceptual_roughness: 1.0,
                reflectance: 0.0,
                ..default()
            },
            Finish::Plain(material) | Finish::Hovered(material) | Finish::Touching(material) => {
                let recipe = recipe(material);
                let picture = recipe.picture;
                let texture = (picture != Picture::Bare)
                    .then(|| self.pictures.entry(picture).or_insert_with(|| images.add(paint(picture))).clone());
                let (colour, glow) = match finish {
                    Finish::Touching(_) => (Color::srgb(0.93, 0.30, 0.18), LinearRgba::rgb(0.35, 0.05, 0.01)),
                    Finish::Hovered(_) => (recipe.colour.mix(&Color::WHITE, 0.22), LinearRgba::BLACK),
                    Finish::Plain(_) | Finish::Ghost => (recipe.colour, LinearRgba::BLACK),
                };
                StandardMaterial {
                    base_color: colour.with_alpha(recipe.alpha),
                    base_color_texture: texture,
                    emissive: glow,
                    perceptual_roughness: recipe.roughness,
                    metallic: recipe.metallic,
                    reflectance: 0.35,
                    alpha_mode: if recipe.alpha < 1.0 { AlphaMode::Blend } else { AlphaMode::Opaque },
                    ..default()
                }
            }
        };
        let handle = materials.add(material);
        self.made.insert(finish, handle.clone());
        handle
    }
}

/// Pixels along one side of a finish's picture: a power of two, so that each smaller copy is half as wide.
const PICTURE_PIXELS: u32 = 512;

/// Paints a picture that repeats without a seam, with its smaller copies, so that far boards do not shimmer.
fn paint(picture: Picture) -> Image {
    let size = PICTURE_PIXELS;
    let mut level: Vec<[f32; 3]> = Vec::with_capacity((size * size) as usize);
    for y in 0..size {
        for x in 0..size {
            let (u, v) = (x as f32 / size as f32, y as f32 / size as f32);
            level.push(shade(picture, u, v));
        }
    }
    let (mut data, mut width, mut levels) = (Vec::new(), size as usize, 1);
    loop {
        for [r, g, b] in &level {
            data.extend([byte(*r), byte(*g), byte(*b), 255]);
        }
        if width == 1 {
            break;
        }
        level = halved(&level, width);
        width /= 2;
        levels += 1;
    }
    let mut image = Image::new_uninit(
        Extent3d { width: size, height: size, depth_or_array_layers: 1 },
        TextureDimension::D2,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.data = Some(data);
    image.texture_descriptor.mip_level_count = levels;
    image.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: ImageAddressMode::Repeat,
        address_mode_v: ImageAddressMode::Repeat,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: ImageFilterMode::Linear,
        anisotropy_clamp: 8,
        ..default()
    });
    image
}

fn halved(level: &[[f32; 3]], width: usize) -> Vec<[f32; 3]> {
    let half = width / 2;
    let at = |x: usize, y: usize| level.get(y * width + x).copied().unwrap_or_default();
    let mean = |x: usize, y: usize| {
        let four = [at(2 * x, 2 * y), at(2 * x + 1, 2 * y), at(2 * x, 2 * y + 1), at(2 * x + 1, 2 * y + 1)];
        std::array::from_fn(|c| four.iter().map(|p| p[c]).sum::<f32>() / 4.0)
    };
    (0..half * half).map(|k| mean(k % half, k / half)).collect()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=255")]
fn byte(value: f32) -> u8 {
    (value.clamp(0.0, 1.0) * 255.0).round() as u8
}

/// The brightness of a finish at (u, v), both 0..1; grain runs along u.
fn shade(picture: Picture, u: f32, v: f32) -> [f32; 3] {
    match picture {
        Picture::Bare => [1.0; 3],
        Picture::Wood => warm(grain(u, v, 0), 0.34),
        Picture::Painted => grey(1.0 - 0.10 * grain(u, v, 7)),
        Picture::Plaster => grey(1.0 - 0.05 * noise(u, v, 48, 48, 3)),
        Picture::Stone => {
            let speck = noise(u, v, 128, 128, 5);
            grey(1.0 - 0.10 * noise(u, v, 12, 12, 6) - if speck > 0.78 { 0.16 } else { 0.0 })
        }
        Picture::Floorboards => {
            // Six boards to a picture, each with its own tone and its butt joint elsewhere.
            let row = (v * 6.0).floor();
            let across = v * 6.0 - row;
            let joint = (u + hash(row, 1.0, 9)).fract();
            let seam = if across < 0.02 || joint < 0.0025 { 0.45 } else { 0.0 };
            let tone = 0.22 * hash(row, 3.0, 11);
            warm((grain(u, v, 21) + tone + seam).min(1.3), 0.42)
        }
    }
}

/// How dark the grain is, 0..1: wide growth bands drawn out lengthways, with fine pores over them.
fn grain(u: f32, v: f32, seed: u32) -> f32 {
    let drift = 0.035 * (noise(u, v, 3, 4, seed) - 0.5);
    let bands = noise(u, v + drift, 2, 22, seed + 1);
    let pores = noise(u, v, 10, 160, seed + 2);
    0.62 * bands + 0.38 * pores * pores
}

fn grey(value: f32) -> [f32; 3] {
    [value; 3]
}

/// Darker grain is also redder.
fn warm(dark: f32, strength: f32) -> [f32; 3] {
    let d = dark * strength;
    [1.0 - d * 0.85, 1.0 - d, 1.0 - d * 1.15]
}

/// Smooth noise 0..1 with `across` × `down` cells that repeat at the edges.
fn noise(u: f32, v: f32, across: u32, down: u32, seed: u32) -> f32 {
    let (x, y) = (u.rem_euclid(1.0) * across as f32, v.rem_euclid(1.0) * down as f32);
    let (x0, y0) = (x.floor(), y.floor());
    let (fx, fy) = (smooth(x - x0), smooth(y - y0));
    let at = |i: f32, j: f32| hash((x0 + i) % across as f32, (y0 + j) % down as f32, seed);
    let near = at(0.0, 0.0) * (1.0 - fx) + at(1.0, 0.0) * fx;
    let far = at(0.0, 1.0) * (1.0 - fx) + at(1.0, 1.0) * fx;
    near * (1.0 - fy) + far * fy
}

fn smooth(t: f32) -> f32 {
    t * t * (3.0 - 2.0 * t)
}

/// A number 0..1 that looks random and is the same each time.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small whole cell numbers")]
fn hash(x: f32, y: f32, seed: u32) -> f32 {
    let mut h =
        (x as u32).wrapping_mul(0x9E37_79B1) ^ (y as u32).wrapping_mul(0x85EB_CA77) ^ seed.wrapping_mul(0xC2B2_AE3D);
    h = (h ^ (h >> 15)).wrapping_mul(0x2C1B_3C6D);
    h = (h ^ (h >> 12)).wrapping_mul(0x297A_2D39);
    ((h ^ (h >> 15)) & 0xFFFF) as f32 / 65_535.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_has_all_its_smaller_copies() {
        let image = paint(Picture::Wood);
        assert_eq!(image.texture_descriptor.mip_level_count, 10);
        assert_eq!(image.data.map(|d| d.len()), Some((0..10).map(|k| 4usize * (512 >> k) * (512 >> k)).sum()));
    }

    #[test]
    fn grain_repeats_without_a_seam() {
        assert!((grain(0.0, 0.3, 0) - grain(0.99999, 0.3, 0)).abs() < 0.01);
    }
}
