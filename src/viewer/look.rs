//! What does the window look like? Its colours and sizes, in one place. How parts look is [`super::coat`]'s business.

use bevy::prelude::*;
use bevy_egui::egui;

/// Width of the panel, in points.
pub const PANEL_WIDTH: f32 = 400.0;
/// Height of the bar under the scene, in points, before it is laid out.
pub const BAR_HEIGHT: f32 = 84.0;
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
pub const BACKDROP: Color = Color::srgb(0.70, 0.70, 0.69);

/// How much a wall that stands in the way still hides.
pub(super) const FADED: f32 = 0.015;

/// How much a part still hides that one is to look through.
pub(super) const GHOSTED: f32 = 0.45;

/// A part that touches another.
pub(super) const TOUCHING: Color = Color::srgb(0.93, 0.30, 0.18);
