//! What does the window look like? Its colours and sizes, in one place. How parts look is [`super::coat`]'s business.

use bevy::prelude::*;
use bevy_egui::egui;

/// Width of the panel, in points.
pub const PANEL_WIDTH: f32 = 400.0;
/// Width of what stands beside the owner's scene, in points; less in a narrow window.
pub const PREVIEW_SIDE: f32 = 320.0;
/// Height of the bar under the scene, in points, before it is laid out.
pub const BAR_HEIGHT: f32 = 140.0;
/// Size of ordinary text, in points.
pub const TEXT: f32 = 14.5;
/// Size of the plan's name and the verdict, in points.
pub const HEADING: f32 = 19.0;
/// Size of notes, in points.
pub const SMALL: f32 = 13.0;
/// Size of a verdict and of a label's first line, in points.
pub const TITLE: f32 = 15.5;
/// Size of the sign before the verdict, in points.
pub const SIGN: f32 = 23.0;
/// All of them.
pub const TEXT_SIZES: [f32; 5] = [TEXT, HEADING, SMALL, TITLE, SIGN];
/// A picture covers this much of a finish, in metres.
pub const PICTURE_METRES: f32 = 0.9;
/// Edges of boards are broken by this much, in mm, so that they catch the light.
pub const BROKEN_EDGE_MM: f64 = 1.2;
/// A press and release further apart than this, in points, was a drag.
pub const DRAG_POINTS: f32 = 5.0;

// The three signs are colours of Paul Tol's light scheme, chosen to be told apart by people who do not see all colours
// (P. Tol, Colour Schemes, SRON/EPS/TN/09-002, issue 3.2, 2021: light cyan-green "mint", orange, light yellow). A sign
// or a word always stands beside them.

/// All is clear.
pub const CLEAR: egui::Color32 = egui::Color32::from_rgb(0x44, 0xBB, 0x99);
/// Something hits.
pub const TOUCH: egui::Color32 = egui::Color32::from_rgb(0xEE, 0x88, 0x66);
/// Something comes too near, or a file has problems.
pub const WARN: egui::Color32 = egui::Color32::from_rgb(0xEE, 0xDD, 0x88);
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

/// Dimension lines: read on light walls and dark fronts alike.
pub const DIMENSION: egui::Color32 = egui::Color32::from_rgb(24, 58, 92);

/// What is picked in the lists or the scene: "pear" of the same scheme as the three signs.
pub const POINTED: egui::Color32 = egui::Color32::from_rgb(0xBB, 0xCC, 0x33);
/// The same, over a part's own coat.
pub(super) const POINTED_COAT: Color = Color::srgb(0.733, 0.8, 0.2);

/// What lies behind the scene.
pub const BACKDROP: Color = Color::srgb(0.70, 0.70, 0.69);

/// How much a wall that stands in the way still hides.
pub(super) const FADED: f32 = 0.015;

/// How much a part still hides that one is to look through.
pub(super) const GHOSTED: f32 = 0.45;

/// What a drawer or door passes over.
pub(super) const SWEPT: Color = Color::srgba(0.14, 0.48, 0.86, 0.24);
/// A line about it that keeps the clearance wanted, and a measured distance.
pub const MEASURE: egui::Color32 = egui::Color32::from_rgb(120, 196, 255);

/// A part that touches another.
pub(super) const TOUCHING: Color = Color::srgb(0.93, 0.30, 0.18);

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as in the Web Content Accessibility Guidelines 2.1, "relative luminance".
    fn luminance(colour: egui::Color32) -> f64 {
        let linear = |byte: u8| {
            let v = f64::from(byte) / 255.0;
            if v <= 0.03928 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
    }

    #[test]
    fn text_stands_out_from_what_it_stands_on() {
        // Success criterion 1.4.3 of the same guidelines: 4.5 to 1 for text of any size.
        for ink in [CLEAR, TOUCH, WARN, INK, FAINT, POINTED] {
            for ground in [PANEL, CARD, LABEL] {
                let (light, dark) = (luminance(ink), luminance(ground));
                let contrast = (light.max(dark) + 0.05) / (light.min(dark) + 0.05);
                assert!(contrast >= 4.5, "{ink:?} on {ground:?} has only {contrast:.2} to 1");
            }
        }
    }

    /// How a person without red (protan) or green (deutan) cones sees a colour, in linear light: F. Viénot, H. Brettel,
    /// J. Mollon, Color Res. Appl. 24 (1999) 243–252, as one matrix each for linear sRGB (from memory, rounded).
    fn seen_without([a, b]: [f64; 2], colour: egui::Color32) -> [f64; 3] {
        let linear = |byte: u8| {
            let v = f64::from(byte) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        };
        let (r, g, blue) = (linear(colour.r()), linear(colour.g()), linear(colour.b()));
        let yellow = a * r + (1.0 - a) * g;
        [yellow, yellow, b * (r - g) + blue]
    }

    #[test]
    fn the_signs_differ_for_who_does_not_see_all_colours() {
        for cones in [[0.112_38, 0.004_00], [0.292_75, -0.022_34]] {
            let seen = [CLEAR, TOUCH, WARN].map(|colour| seen_without(cones, colour));
            for (k, one) in seen.iter().enumerate() {
                for other in &seen[k + 1..] {
                    let apart = (0..3).map(|c| (one[c].cbrt() - other[c].cbrt()).powi(2)).sum::<f64>().sqrt();
                    assert!(apart > 0.15, "{one:?} and {other:?} look alike");
                }
            }
        }
    }
}
