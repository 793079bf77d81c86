//! How does the room's frame become Bevy's? Millimetres become metres and z-up becomes y-up, here and nowhere else.
//!
//! Room (x, y, z) is Bevy (x, z, −y): a plain turn, so right-handed stays right-handed and outlines keep their sense.

use bevy::math::{Quat, Vec3 as BevyVec3};
use bevy::transform::components::Transform;

use crate::model::{Motion, Vec3};

/// Metres in one millimetre.
const METRE: f64 = 0.001;

/// A point of the room, in Bevy's metres.
#[must_use]
pub fn to_bevy(point: Vec3) -> BevyVec3 {
    turned(point * METRE)
}

/// A direction of the room, in Bevy's axes; its length stays.
#[must_use]
pub fn direction(direction: Vec3) -> BevyVec3 {
    turned(direction)
}

/// A point in Bevy's metres, in the room's millimetres.
#[must_use]
pub fn to_room(point: BevyVec3) -> Vec3 {
    Vec3::new(f64::from(point.x), -f64::from(point.z), f64::from(point.y)) / METRE
}

/// Where everything on a drawer or door goes when it is `out` mm or radians open.
#[must_use]
pub fn opened(motion: &Motion, out: f64) -> Transform {
    match *motion {
        Motion::Slide { direction, .. } => Transform::from_translation(to_bevy(direction * out)),
        Motion::Swing { hinge, axis, .. } => {
            let turn = Quat::from_axis_angle(direction(axis).normalize_or_zero(), narrow(out));
            let hinge = to_bevy(hinge);
            Transform { translation: hinge - turn * hinge, rotation: turn, ..Transform::IDENTITY }
        }
    }
}

fn turned(v: Vec3) -> BevyVec3 {
    BevyVec3::new(narrow(v.x), narrow(v.z), narrow(-v.y))
}

/// Bevy draws in single precision: a hundredth of a millimetre at ten metres, far below a pixel.
#[expect(clippy::cast_possible_truncation, reason = "drawing needs no more than single precision")]
#[must_use]
pub fn narrow(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn up_stays_up_and_the_frame_stays_right_handed() {
        assert_eq!(to_bevy(Vec3::Z * 1000.0), BevyVec3::Y);
        assert_eq!(direction(Vec3::X).cross(direction(Vec3::Y)), direction(Vec3::Z));
        let there = Vec3::new(120.0, -340.0, 560.0);
        assert!((to_room(to_bevy(there)) - there).length() < 1e-3);
    }

    #[test]
    fn a_door_is_carried_as_the_model_carries_it() {
        let door = Motion::Swing { hinge: Vec3::new(600.0, 580.0, 0.0), axis: -Vec3::Z, angle: 2.0 };
        let edge = Vec3::new(1000.0, 580.0, 300.0);
        let model = to_bevy(door.carry(edge, 1.2));
        assert!(opened(&door, 1.2).transform_point(to_bevy(edge)).distance(model) < 1e-5);
    }
}
