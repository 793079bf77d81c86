//! Where is the piece that is shown going in? Its parts follow the way that was found, pose by pose; everything else stays.

use bevy::math::Quat;
use bevy::prelude::{
    Commands, Component, Entity, Has, MessageWriter, Query, Res, ResMut, Time, Transform, Vec3 as BevyVec3,
};
use bevy::window::RequestRedraw;

use super::{Installing, Standing};
use crate::install::fit::{Pose, Way};
use crate::viewer::frame;
use crate::viewer::motion::{Poses, step_of};
use crate::viewer::scene::{Body, Home};

/// From one pose to the next in this many seconds; the whole in no less and no more than these.
const POSE_SECONDS: f64 = 0.7;
const LEAST_SECONDS: f64 = 2.0;
const MOST_SECONDS: f64 = 9.0;

/// A part that is drawn away from its place.
#[derive(Component, Debug)]
pub(super) struct Away;

/// How long a way is shown, seconds.
fn seconds(way: &Way) -> f64 {
    (way.poses.len() as f64 * POSE_SECONDS).clamp(LEAST_SECONDS, MOST_SECONDS)
}

/// Where a part whose mesh was made about `home` is drawn in `pose`.
#[must_use]
pub fn posed(pose: &Pose, home: BevyVec3) -> Transform {
    let turn = Quat::from_axis_angle(frame::direction(pose.axis).normalize_or_zero(), frame::narrow(pose.angle));
    let about = frame::to_bevy(pose.about);
    let translation = turn * (home - about) + about + frame::to_bevy(pose.shift);
    Transform { translation, rotation: turn, ..Transform::IDENTITY }
}

/// Brings the piece on along its way.
pub(super) fn animate(
    time: Res<'_, Time>,
    poses: Res<'_, Poses>,
    installed: Res<'_, super::Installed>,
    mut installing: ResMut<'_, Installing>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    let Some(showing) = installing.showing.filter(|showing| showing.runs) else { return };
    let way = installed.done().and_then(|done| installing.piece(done)).and_then(|turned| turned.way.as_ref());
    let Some(way) = way else { return };
    let step = if poses.at_once { 1.0 } else { step_of(&time) / seconds(way) };
    let at = (showing.at + step).min(1.0);
    installing.showing = Some(super::Showing { at, runs: at < 1.0, ..showing });
    redraw.write(RequestRedraw);
}

/// Puts the piece where its way has it, and back where it was once it is no longer shown.
pub(super) fn place(
    mut commands: Commands<'_, '_>,
    standing: Standing<'_>,
    mut bodies: Query<'_, '_, (Entity, &Body, &Home, &mut Transform, Has<Away>)>,
) {
    let at = standing.installing.showing.map_or(1.0, |showing| showing.at);
    let way = standing.way().and_then(|(parts, way)| Some((parts, way.at(at)?)));
    for (entity, body, home, mut transform, is_away) in &mut bodies {
        let pose = way.as_ref().filter(|(parts, _)| parts.contains(&body.part)).map(|(_, pose)| pose);
        let there = match pose {
            Some(pose) => posed(pose, home.0),
            None if is_away => Transform::from_translation(home.0),
            None => continue,
        };
        if *transform != there {
            *transform = there;
        }
        if pose.is_some() && !is_away {
            commands.entity(entity).insert(Away);
        } else if pose.is_none() {
            commands.entity(entity).remove::<Away>();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Vec3;

    #[test]
    fn a_part_is_drawn_where_its_pose_carries_it() {
        let pose = Pose {
            about: Vec3::new(400.0, 300.0, 120.0),
            axis: Vec3::new(0.6, 0.8, 0.0),
            angle: 0.7,
            shift: Vec3::new(-30.0, 250.0, 15.0),
        };
        let (first, point) = (Vec3::new(100.0, 20.0, 90.0), Vec3::new(700.0, 38.0, 190.0));
        let home = frame::to_bevy(first);
        let drawn = posed(&pose, home).transform_point(frame::to_bevy(point) - home);
        assert!(drawn.distance(frame::to_bevy(pose.carry(point))) < 1e-5);
    }
}
