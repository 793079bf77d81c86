//! What is painted on a part where the machine is weak? Wood with its grain, floorboards, stone, tile, plaster: pictures
//! worked out from noise, so that the program carries no picture files. Each repeats without a seam.

use bevy::asset::RenderAssetUsages;
use bevy::color::{Color, LinearRgba, Luminance as _, Mix as _};
use bevy::image::{Image, ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

use super::coat::{Figure, Look};
use super::look::PICTURE_METRES;

/// What a picture shows.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(super) enum Picture {
    /// Nothing.
    Bare,
    /// Close-grained wood, its grain along the picture's width.
    Fine,
    /// Wood with bold rings.
    Bold,
    /// Boards of a floor, with joints.
    Floorboards,
    /// Speckled stone.
    Speckled,
    /// Veined stone.
    Veined,
    /// Square tiles, so many to a picture's side.
    Tiles(u8),
    /// A plastered wall, concrete, slate.
    Cloudy,
}

impl Picture {
    /// The picture that comes nearest to a look's pattern.
    pub(super) fn of(look: &Look) -> Self {
        match look.figure {
            Figure::Even | Figure::Brushed | Figure::Sky { .. } => Self::Bare,
            Figure::Wood { strength: [bands, ..], .. } | Figure::Staves { strength: [bands, ..], .. } => {
                if bands < 0.48 { Self::Fine } else { Self::Bold }
            }
            Figure::Boards { .. } => Self::Floorboards,
            Figure::Speckled { strength: [dark, ..], .. } if dark < 0.3 => Self::Cloudy,
            Figure::Speckled { .. } => Self::Speckled,
            // A picture only darkens: pale veins in a dark stone are left out.
            Figure::Veined { .. } if look.second.luminance() > look.ground.luminance() => Self::Cloudy,
            Figure::Veined { .. } => Self::Veined,
            Figure::Tiles { size_mm } => Self::Tiles(tiles_to_a_picture(size_mm)),
            Figure::Cloudy { .. } => Self::Cloudy,
        }
    }

    /// The colour that the picture is laid over, so that the picture's mean has the look's mean colour.
    pub(super) fn lightest(self, look: &Look) -> Color {
        let dark = match self {
            Self::Bare | Self::Speckled => 0.0,
            Self::Fine => 0.10,
            Self::Bold => 0.15,
            Self::Floorboards => 0.20,
            Self::Veined => 0.04,
            Self::Cloudy => 0.01,
            Self::Tiles(_) => 0.02,
        };
        let mean = look.mean().to_linear();
        // The picture multiplies in linear light, where its darkening is about twice as deep.
        let lift = 1.0 / (1.0 - 2.0 * dark);
        let lifted = LinearRgba::rgb(mean.red * lift, mean.green * lift, mean.blue * lift);
        if self == Self::Speckled { look.ground } else { Color::from(lifted).mix(&look.ground, 0.25) }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a few")]
fn tiles_to_a_picture(size_mm: f32) -> u8 {
    (PICTURE_METRES * 1000.0 / size_mm).round().clamp(1.0, 32.0) as u8
}

/// Pixels along one side of a finish's picture: a power of two, so that each smaller copy is half as wide.
const PICTURE_PIXELS: u32 = 512;

/// Paints a picture that repeats without a seam, with its smaller copies, so that far boards do not shimmer.
pub(super) fn paint(picture: Picture) -> Image {
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
        ..ImageSamplerDescriptor::default()
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
        Picture::Fine => warm(grain(u, v, 0), 0.24),
        Picture::Bold => warm(grain(u, v, 0), 0.38),
        Picture::Cloudy => grey(1.0 - 0.02 * noise(u, v, 3, 3, 3) - 0.02 * noise(u, v, 256, 256, 4)),
        Picture::Speckled => {
            let (coarse, fine) = (noise(u, v, 160, 160, 6), noise(u, v, 256, 256, 8));
            grey(1.0 - 0.55 * smooth(((coarse - 0.5) * 4.0).clamp(0.0, 1.0)) + 0.15 * (fine - 0.5))
        }
        Picture::Veined => {
            let bend = 0.08 * (noise(u, v, 5, 5, 31) - 0.5);
            let ridge = 1.0 - (2.0 * noise(u + bend, v + bend, 4, 3, 33) - 1.0).abs();
            grey(1.0 - 0.28 * ridge.powi(14) - 0.05 * noise(u, v, 7, 7, 35))
        }
        Picture::Tiles(count) => {
            let (x, y) = (u * f32::from(count), v * f32::from(count));
            let edge = (x.fract() - 0.5).abs().max((y.fract() - 0.5).abs());
            let tone = 0.05 * hash(x.floor(), y.floor(), 41);
            // A joint of some 4 mm, two pixels wide at least.
            let joint = if (0.5 - edge) * PICTURE_METRES / f32::from(count) < 0.0022 { 0.24 } else { 0.0 };
            grey(1.0 - tone - joint)
        }
        Picture::Floorboards => {
            // Six boards to a picture, each with its own tone and its butt joint elsewhere.
            let row = (v * 6.0).floor();
            let across = v * 6.0 - row;
            let joint = (u + hash(row, 1.0, 9)).fract();
            let seam = if across < 0.02 || joint < 0.0025 { 0.45 } else { 0.0 };
            let tone = 0.26 * hash(row, 3.0, 11);
            warm((0.62 * grain(u, v, 21) + tone + seam).min(1.3), 0.42)
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
        let image = paint(Picture::Bold);
        assert_eq!(image.texture_descriptor.mip_level_count, 10);
        assert_eq!(image.data.map(|d| d.len()), Some((0..10).map(|k| 4usize * (512 >> k) * (512 >> k)).sum()));
    }

    #[test]
    fn grain_repeats_without_a_seam() {
        assert!((grain(0.0, 0.3, 0) - grain(0.99999, 0.3, 0)).abs() < 0.01);
    }
}
