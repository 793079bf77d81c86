//! Where is the eye? It orbits, pans and zooms by mouse; it starts on the corner, and flies to a finding.
//!
//! [`bevy_panorbit_camera`] does the orbiting. It tests the mouse against the camera's viewport, which leaves out the
//! panel, so a drag on the panel never turns the scene.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_panorbit_camera::PanOrbitCamera;

use super::pointed::Drawn;
use super::shown::Shown;
use super::viewpoint::Viewpoint;
use super::{ViewerSystems, frame};
use crate::model::{Convex, Model, Role, Vec3 as RoomVec3};

/// Half the vertical angle of view, in radians; about a 40 mm lens, so that square things look square.
pub(super) const HALF_VIEW: f32 = 0.31;
/// How far down the eye looks at the start, in radians.
pub(super) const PITCH: f32 = 0.52;
/// How far down it looks at a finding: into the gap between the runs, from above.
const PITCH_AT_FINDING: f32 = 0.72;
/// How near it comes to a finding, in metres.
const RADIUS_AT_FINDING: f32 = 0.95;
/// How near it comes to parts that are picked, in metres: so that a strip is seen with the unit that it belongs to.
const RADIUS_AT_PARTS: f32 = 2.2;
/// No more than this of each run is framed at the start, in mm: the corner is what matters.
const FRAMED_MM: f64 = 2_700.0;
/// As high as a run with its countertop, mm, near enough for framing.
const BASE_MM: f64 = 940.0;
/// Free space around what is framed.
const MARGIN: f32 = 1.13;

/// The eye of the scene.
#[derive(Component, Debug)]
pub struct SceneCamera;

/// Where the eye is, in the room's mm; none before the first frame.
#[derive(Resource, Debug, Default)]
pub struct Eye {
    /// Its place.
    pub at: Option<RoomVec3>,
    /// The view that it has or is on its way to, where a person can turn it.
    pub view: Option<View>,
}

/// Where the eye was asked to go.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub enum Flight {
    /// Nowhere.
    #[default]
    None,
    /// To where it was at the start.
    ToCorner,
    /// To the finding that is pointed out.
    ToFinding,
    /// To what is picked in the lists, as the eye looks now.
    ToPointed,
    /// To a named view.
    To(Viewpoint),
    /// To this very view.
    ToView(View),
}

/// A way to look at the scene.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The point in the middle, in Bevy's frame.
    pub focus: Vec3,
    /// Turn about the vertical, radians.
    pub yaw: f32,
    /// Height of the eye over the horizon, radians.
    pub pitch: f32,
    /// Distance from the focus, metres.
    pub radius: f32,
}

impl View {
    /// Where a camera stands that looks so.
    #[must_use]
    pub fn transform(&self) -> Transform {
        let turn = Quat::from_rotation_y(self.yaw) * Quat::from_rotation_x(-self.pitch);
        Transform { translation: self.focus + turn * (Vec3::Z * self.radius), rotation: turn, scale: Vec3::ONE }
    }

    /// The corner with both runs, in a picture that is `aspect` times as wide as high.
    #[must_use]
    pub fn of_corner(model: &Model, aspect: f32) -> Self {
        Viewpoint::WholeCorner.view(model, aspect)
    }

    /// What is framed when the whole corner is: both runs, or as much of them as matters.
    #[must_use]
    pub fn corner_points(model: &Model) -> Vec<Vec3> {
        let mut points = Vec::new();
        for run in &model.runs {
            for s in [0.0, run.ends_at.min(FRAMED_MM)] {
                for n in [0.0, run.depth + 60.0] {
                    points.extend([0.0, BASE_MM].map(|z| frame::to_bevy(run.at(s, n, z))));
                }
            }
        }
        points.extend(Self::tall_points(model));
        points
    }

    /// The upper corners of units that stand higher than a run does, as far out as a run is framed.
    fn tall_points(model: &Model) -> impl Iterator<Item = Vec3> + '_ {
        let built = model.parts.iter().filter(|part| matches!(part.role, Role::CarcassSide | Role::EndPanel));
        built.filter_map(|part| part.run.map(|side| (part, model.run(side)))).flat_map(|(part, run)| {
            let corners = part.pieces.iter().flat_map(Convex::vertices);
            let is_framed = move |v: &RoomVec3| v.z > BASE_MM && v.dot(run.along) <= run.ends_at.min(FRAMED_MM) + 1.0;
            corners.filter(is_framed).map(frame::to_bevy)
        })
    }

    /// All of `points`, looked at from the side that the eye is on `now`; not so close that one loses one's way.
    #[must_use]
    pub fn of_points(points: &[Vec3], now: Option<Self>, aspect: f32) -> Option<Self> {
        if points.is_empty() {
            return None;
        }
        let (yaw, pitch) = now.map_or((0.0, PITCH), |now| (now.yaw, now.pitch));
        let view = fitted(points, yaw, pitch, aspect);
        Some(Self { radius: view.radius.max(RADIUS_AT_PARTS), ..view })
    }

    /// Close to a finding: from in front of the run whose part moves, a little towards the middle of the room, so that
    /// one looks along the other run into the gap.
    #[must_use]
    pub fn of_finding(shown: &Shown) -> Option<Self> {
        let finding = shown.chosen_finding()?;
        let model = shown.model();
        let [left, right] = &model.runs;
        let middle = left.along + right.along;
        let out = finding.mover.and_then(|id| model.movers.get(id.0)).map_or(middle, |m| model.run(m.side).out);
        let focus = frame::to_bevy((finding.points[0] + finding.points[1]) / 2.0);
        let yaw = yaw_from(out.normalize() + middle.normalize() * 0.35);
        Some(Self { focus, yaw, pitch: PITCH_AT_FINDING, radius: RADIUS_AT_FINDING })
    }
}

/// The yaw of an eye that stands in the direction `from` of what it looks at.
pub(super) fn yaw_from(from: RoomVec3) -> f32 {
    let from = frame::direction(from);
    from.x.atan2(from.z)
}

/// The nearest view in which all `points` are in the picture, with the picture's middle on them.
pub(super) fn fitted(points: &[Vec3], yaw: f32, pitch: f32, aspect: f32) -> View {
    let turn = Quat::from_rotation_y(yaw) * Quat::from_rotation_x(-pitch);
    let seen: Vec<Vec3> = points.iter().map(|p| turn.inverse() * *p).collect();
    let (tan_y, tan_x) = (HALF_VIEW.tan() / MARGIN, HALF_VIEW.tan() * aspect / MARGIN);
    // The eye stands on the line x = cx, y = cy, at depth z: for each axis the four-sided pyramid that touches the
    // points on both sides gives one centre and one distance; the greater distance serves both.
    let axis = |value: fn(&Vec3) -> f32, tan: f32| {
        let high = seen.iter().map(|p| value(p) + p.z * tan).fold(f32::MIN, f32::max);
        let low = seen.iter().map(|p| value(p) - p.z * tan).fold(f32::MAX, f32::min);
        ((high + low) / 2.0, (high - low) / (2.0 * tan))
    };
    let ((cx, zx), (cy, zy)) = (axis(|p| p.x, tan_x), axis(|p| p.y, tan_y));
    let eye = Vec3::new(cx, cy, zx.max(zy));
    let depth = seen.iter().map(|p| p.z).sum::<f32>() / seen.len().max(1) as f32;
    View { focus: turn * Vec3::new(cx, cy, depth), yaw, pitch, radius: eye.z - depth }
}

/// Whether all `points` are in a picture of this view that is `aspect` times as wide as high.
pub(super) fn contains(view: &View, points: &[Vec3], aspect: f32) -> bool {
    // What is fitted touches the margin, so nothing that is in the picture is lost to noise.
    let seen = view.transform().to_matrix().inverse();
    points.iter().map(|&point| seen.transform_point3(point)).all(|p| {
        let reach = -p.z * HALF_VIEW.tan();
        p.z < 0.0 && p.y.abs() <= reach && p.x.abs() <= reach * aspect
    })
}

/// The lens.
#[must_use]
pub fn lens() -> Projection {
    Projection::from(PerspectiveProjection { fov: 2.0 * HALF_VIEW, near: 0.02, far: 60.0, ..default() })
}

/// The orbiting camera at `view`.
#[must_use]
pub fn orbit(view: &View) -> PanOrbitCamera {
    PanOrbitCamera {
        focus: view.focus,
        target_focus: view.focus,
        yaw: Some(view.yaw),
        target_yaw: view.yaw,
        pitch: Some(view.pitch),
        target_pitch: view.pitch,
        radius: Some(view.radius),
        target_radius: view.radius,
        // From just over the floor to straight above.
        pitch_lower_limit: Some(-0.05),
        pitch_upper_limit: Some(1.55),
        zoom_lower_limit: 0.15,
        zoom_upper_limit: Some(12.0),
        ..default()
    }
}

/// Registers the camera's systems.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Flight>().init_resource::<Eye>();
    app.add_systems(Update, (fly, look).chain().in_set(ViewerSystems::Draw));
    app.add_systems(Last, glide);
}

fn fly(
    shown: Res<'_, Shown>,
    drawn: Drawn<'_, '_>,
    eye: Res<'_, Eye>,
    mut flight: ResMut<'_, Flight>,
    mut cameras: Query<'_, '_, (&Camera, &mut Transform, Option<&mut PanOrbitCamera>), With<SceneCamera>>,
) {
    if *flight == Flight::None {
        return;
    }
    for (camera, mut transform, orbit) in &mut cameras {
        let size = camera.logical_viewport_size().unwrap_or(Vec2::new(16.0, 10.0));
        let aspect = size.x / size.y.max(1.0);
        let view = match *flight {
            Flight::ToFinding => View::of_finding(&shown),
            Flight::ToPointed => View::of_points(&drawn.points(), eye.view, aspect),
            Flight::None | Flight::ToCorner => Some(View::of_corner(shown.model(), aspect)),
            Flight::To(viewpoint) => Some(viewpoint.view(shown.model(), aspect)),
            Flight::ToView(view) => Some(view),
        };
        let Some(view) = view else { continue };
        match orbit {
            Some(mut orbit) => {
                // The short way round.
                let whole = std::f32::consts::TAU;
                let turns = ((orbit.target_yaw - view.yaw) / whole).round();
                orbit.target_yaw = view.yaw + turns * whole;
                orbit.target_pitch = view.pitch;
                orbit.target_radius = view.radius;
                orbit.target_focus = view.focus;
                orbit.force_update = true;
            }
            None => *transform = view.transform(),
        }
    }
    *flight = Flight::None;
}

/// Notes where the eye is.
fn look(mut eye: ResMut<'_, Eye>, cameras: Query<'_, '_, (&Transform, Option<&PanOrbitCamera>), With<SceneCamera>>) {
    let seen = cameras.iter().next();
    eye.at = seen.map(|(transform, _)| frame::to_room(transform.translation));
    eye.view = seen.and_then(|(_, orbit)| orbit).map(|orbit| View {
        focus: orbit.target_focus,
        yaw: orbit.target_yaw,
        pitch: orbit.target_pitch,
        radius: orbit.target_radius,
    });
}

/// Whether the camera is on its way to where it was sent.
#[must_use]
pub fn is_gliding(c: &PanOrbitCamera) -> bool {
    c.yaw != Some(c.target_yaw)
        || c.pitch != Some(c.target_pitch)
        || c.radius != Some(c.target_radius)
        || c.focus != c.target_focus
}

/// Asks for another frame while the camera glides; it does not do so itself.
fn glide(cameras: Query<'_, '_, &PanOrbitCamera>, mut redraw: MessageWriter<'_, RequestRedraw>) {
    if cameras.iter().any(is_gliding) {
        redraw.write(RequestRedraw);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_that_is_framed_is_in_the_picture() {
        let points = [Vec3::new(0.0, 0.9, 0.0), Vec3::new(2.0, 0.0, -0.6), Vec3::new(0.6, 0.9, -2.0)];
        let aspect = 1.2;
        let view = fitted(&points, 0.7, PITCH, aspect);
        let there = view.transform();
        for point in points {
            let seen = there.to_matrix().inverse().transform_point3(point);
            assert!(seen.z < 0.0);
            assert!((seen.y / -seen.z).abs() <= HALF_VIEW.tan());
            assert!((seen.x / -seen.z).abs() <= HALF_VIEW.tan() * aspect);
        }
    }
}
