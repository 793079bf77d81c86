//! What does a hand on a front do? Pressed on a drawer or door and moved, it takes the part along its motion: as far as
//! the mouse goes and no further than what is solid lets it.
//!
//! [`follow`] finds the opening at which the point that was grabbed comes nearest to the line of sight under the mouse.
//! While a front is held, the orbit camera rests. Mouse, touch and pen are one here: whatever pointer pressed, is followed.

use bevy::camera::Camera;
use bevy::ecs::system::SystemParam;
use bevy::picking::Pickable;
use bevy::picking::mesh_picking::ray_cast::{MeshRayCast, MeshRayCastSettings};
use bevy::picking::pointer::{PointerAction, PointerButton, PointerId, PointerInput};
use bevy::prelude::{
    App, GlobalTransform, Has, IntoScheduleConfigs as _, MessageReader, On, Pointer, Press, Query, Res, ResMut,
    Resource, Update, Vec2, With,
};
use bevy_panorbit_camera::PanOrbitCamera;

use super::action::{Action, Asked};
use super::camera::SceneCamera;
use super::explode::Exploded;
use super::measure::Measuring;
use super::motion::Poses;
use super::scene::Body;
use super::shown::Shown;
use super::{ViewerSystems, frame, look};
use crate::clearance::Contact;
use crate::model::{Model, Motion, MoverId, Vec3};

/// Where one looks nearly along a slide, the mouse does not say how far: the square of the sine of 8°.
const ALONG_THE_EYE: f64 = 0.02;
/// A swing is tried in this many steps before the best one is refined.
const TRIES: u32 = 90;

/// What the hand holds and what stops it.
#[derive(Resource, Debug, PartialEq)]
pub struct Hand {
    /// Whether what stands in the way stops what is dragged.
    pub solid: bool,
    in_hand: Option<MoverId>,
    held: Option<Held>,
    pressed_at: Option<Vec2>,
    stopped: Option<(Contact, Vec<f64>)>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Held {
    mover: MoverId,
    pointer: PointerId,
    /// The point that was grabbed, where it is when the part is shut.
    grabbed: Vec3,
    pressed_at: Vec2,
    moved: bool,
}

impl Default for Hand {
    fn default() -> Self {
        Self { solid: true, in_hand: None, held: None, pressed_at: None, stopped: None }
    }
}

impl Hand {
    /// The drawer or door that was last opened, shut or dragged.
    #[must_use]
    pub fn in_hand(&self) -> Option<MoverId> {
        self.in_hand
    }

    /// The one that is being dragged.
    #[must_use]
    pub fn dragged(&self) -> Option<MoverId> {
        self.held.filter(|held| held.moved).map(|held| held.mover)
    }

    /// Takes a part in hand.
    pub fn take(&mut self, mover: MoverId) {
        if self.in_hand != Some(mover) {
            self.in_hand = Some(mover);
        }
    }

    /// Notes what a drag was stopped by, with everything standing as `outs` says; or that nothing did.
    pub fn stop(&mut self, contact: Option<Contact>, outs: Vec<f64>) {
        self.stopped = contact.map(|contact| (contact, outs));
    }

    /// What stopped the last drag, while everything still stands as it did then.
    #[must_use]
    pub fn stopped_by(&self, outs: &[f64]) -> Option<&Contact> {
        self.stopped.as_ref().filter(|(_, then)| then.as_slice() == outs).map(|(contact, _)| contact)
    }

    /// Whether a click that ends at `at` was the end of a drag.
    #[must_use]
    pub fn was_dragged(&self, at: Vec2) -> bool {
        self.held.is_some_and(|held| held.moved)
            || self.pressed_at.is_some_and(|pressed| pressed.distance(at) > look::DRAG_POINTS)
    }
}

/// The opening, within the motion, at which `grabbed` (where it is when shut) is nearest to the line of sight from `eye`
/// along the unit `sight`; `now` where the line does not say.
#[must_use]
pub fn follow(motion: &Motion, grabbed: Vec3, now: f64, eye: Vec3, sight: Vec3) -> f64 {
    let full = motion.extent();
    match *motion {
        Motion::Slide { direction, .. } => {
            let across = direction.dot(sight);
            let square = 1.0 - across * across;
            if square < ALONG_THE_EYE {
                return now;
            }
            let to = grabbed - eye;
            ((across * sight.dot(to) - direction.dot(to)) / square).clamp(0.0, full)
        }
        Motion::Swing { .. } => {
            let off = |angle: f64| {
                let to = motion.carry(grabbed, angle) - eye;
                let ahead = to.dot(sight).max(1.0);
                // Seen from the eye, as an angle; of two places that look alike the one nearer to now.
                to.cross(sight).length() / ahead + 1e-3 * (angle - now).abs()
            };
            let angle = |k: u32| full * f64::from(k) / f64::from(TRIES);
            let best = (0..=TRIES).min_by(|&a, &b| off(angle(a)).total_cmp(&off(angle(b)))).unwrap_or(0);
            let (mut low, mut high) = (angle(best.saturating_sub(1)), angle((best + 1).min(TRIES)));
            for _ in 0..40 {
                let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                if off(p) <= off(q) { high = q } else { low = p }
            }
            f64::midpoint(low, high)
        }
    }
}

/// Registers the hand.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Hand>();
    app.add_observer(pressed);
    app.add_systems(Update, (drag, hold_camera).chain().in_set(ViewerSystems::Input));
}

/// What lies under a point of the window.
#[derive(SystemParam)]
struct Under<'w, 's> {
    ray: MeshRayCast<'w, 's>,
    eyes: Query<'w, 's, (&'static Camera, &'static GlobalTransform), With<SceneCamera>>,
    bodies: Query<'w, 's, (&'static Body, Has<Pickable>)>,
}

impl Under<'_, '_> {
    /// The drawer or door seen at `at`, and the point of it.
    fn mover(&mut self, model: &Model, at: Vec2) -> Option<(MoverId, Vec3)> {
        let (camera, place) = self.eyes.iter().next()?;
        let ray = camera.viewport_to_world(place, at).ok()?;
        let bodies = &self.bodies;
        let picked = |entity| bodies.get(entity).is_ok_and(|(_, ignored)| !ignored);
        let settings = MeshRayCastSettings::default().with_filter(&picked);
        let (entity, hit) = self.ray.cast_ray(ray, &settings).first()?;
        let part = model.parts.get(bodies.get(*entity).ok()?.0.part.0)?;
        part.mover.map(|mover| (mover, frame::to_room(hit.point)))
    }
}

/// Takes hold of what lay under the press. Picking tells what lies under the pointer at the end of the frame, which in a
/// slow picture may be the next front already; so this looks for itself.
fn pressed(
    press: On<'_, '_, Pointer<Press>>,
    shown: Res<'_, Shown>,
    poses: Res<'_, Poses>,
    measuring: Res<'_, Measuring>,
    exploded: Res<'_, Exploded>,
    mut under: Under<'_, '_>,
    mut hand: ResMut<'_, Hand>,
) {
    // The press climbs from a board to the window; once is enough.
    if press.entity != press.original_event_target() {
        return;
    }
    let at = press.pointer_location.position;
    hand.pressed_at = Some(at);
    if press.button != PointerButton::Primary || measuring.on || exploded.is_apart() {
        return;
    }
    let model = shown.model();
    let Some((id, point)) = under.mover(model, at) else { return };
    let Some(mover) = model.movers.get(id.0) else { return };
    let grabbed = mover.motion.carry(point, -poses.of(mover).now());
    hand.held = Some(Held { mover: id, pointer: press.pointer_id, grabbed, pressed_at: at, moved: false });
}

/// Follows the pointer that holds something, and lets go with it.
fn drag(
    mut inputs: MessageReader<'_, '_, PointerInput>,
    shown: Res<'_, Shown>,
    poses: Res<'_, Poses>,
    eyes: Query<'_, '_, (&Camera, &GlobalTransform), With<SceneCamera>>,
    mut hand: ResMut<'_, Hand>,
    mut asked: ResMut<'_, Asked>,
) {
    let Some(mut held) = hand.held else {
        inputs.clear();
        return;
    };
    let (mut to, mut lets_go) = (None, false);
    for input in inputs.read().filter(|input| input.pointer_id == held.pointer) {
        match input.action {
            PointerAction::Move { .. } => to = Some(input.location.position),
            PointerAction::Release(PointerButton::Primary) | PointerAction::Cancel => lets_go = true,
            PointerAction::Press(_) | PointerAction::Release(_) | PointerAction::Scroll { .. } => {}
        }
    }
    if let Some(at) = to {
        held.moved |= held.pressed_at.distance(at) > look::DRAG_POINTS;
        if held.moved
            && let Some(out) = wanted(shown.model(), &poses, &held, at, &eyes)
        {
            asked.0.push(Action::Pull { mover: held.mover, to: out });
        }
    }
    hand.held = if lets_go { None } else { Some(held) };
}

fn wanted(
    model: &Model,
    poses: &Poses,
    held: &Held,
    at: Vec2,
    eyes: &Query<'_, '_, (&Camera, &GlobalTransform), With<SceneCamera>>,
) -> Option<f64> {
    let mover = model.movers.get(held.mover.0)?;
    let (camera, place) = eyes.iter().next()?;
    let ray = camera.viewport_to_world(place, at).ok()?;
    let eye = frame::to_room(ray.origin);
    let sight = (frame::to_room(ray.origin + *ray.direction) - eye).normalize();
    Some(follow(&mover.motion, held.grabbed, poses.of(mover).now(), eye, sight))
}

/// The scene does not turn while a front is dragged.
fn hold_camera(hand: Res<'_, Hand>, mut cameras: Query<'_, '_, &mut PanOrbitCamera>) {
    for mut camera in &mut cameras {
        if camera.enabled != hand.held.is_none() {
            camera.enabled = hand.held.is_none();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawer_comes_as_far_as_the_mouse() {
        let motion = Motion::Slide { direction: Vec3::Y, travel: 500.0 };
        let (grabbed, eye) = (Vec3::new(300.0, 600.0, 700.0), Vec3::new(1500.0, 2500.0, 1600.0));
        for out in [0.0, 12.5, 333.0, 500.0] {
            let sight = (grabbed + Vec3::Y * out - eye).normalize();
            assert!((follow(&motion, grabbed, 0.0, eye, sight) - out).abs() < 1e-6);
        }
        // The mouse further out or in than the slide goes.
        let past = (grabbed + Vec3::Y * 900.0 - eye).normalize();
        assert!((follow(&motion, grabbed, 0.0, eye, past) - 500.0).abs() < 1e-9);
        // Looking straight along the slide: it stays.
        assert!((follow(&motion, grabbed, 77.0, grabbed + Vec3::Y * 2000.0, -Vec3::Y) - 77.0).abs() < 1e-9);
    }

    #[test]
    fn a_door_turns_as_far_as_the_mouse() {
        let motion = Motion::Swing { hinge: Vec3::new(200.0, 600.0, 0.0), axis: Vec3::Z, angle: 1.9 };
        let (grabbed, eye) = (Vec3::new(600.0, 600.0, 400.0), Vec3::new(1500.0, 2500.0, 1600.0));
        let mut now = 0.0;
        for angle in [0.0, 0.2, 0.9, 1.5, 1.9] {
            let sight = (motion.carry(grabbed, angle) - eye).normalize();
            let found = follow(&motion, grabbed, now, eye, sight);
            assert!((found - angle).abs() < 1e-3, "{found} is not {angle}");
            now = found;
        }
    }
}
