//! Which drawer or door is meant? A click on any of its parts opens or shuts it; the mouse over it names it.
//!
//! While the lists of what is cut are open, a click picks the very part instead; a drag opens as ever.
//! A drag ends in a click as well, on whatever was under the press; [`super::drag`] tells the two apart.

use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::picking::pointer::PointerButton;
use bevy::prelude::*;

use super::action::{Action, Asked};
use super::drag::Hand;
use super::measure::Measuring;
use super::pointed::Aim;
use super::scene::{Body, MoverRoot};
use super::settings::Settings;
use crate::model::{MoverId, PartId};

/// The drawer or door under the mouse.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hovered(pub Option<MoverId>);

/// The part under the mouse.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct HoveredPart(pub Option<PartId>);

/// Registers picking.
pub(super) fn plugin(app: &mut App) {
    app.add_plugins(MeshPickingPlugin).init_resource::<Hovered>().init_resource::<HoveredPart>();
    app.add_observer(clicked).add_observer(entered).add_observer(left);
}

// Pointer events climb from a board to its drawer, so each observer asks whether it has come to a drawer.

fn clicked(
    click: On<'_, '_, Pointer<Click>>,
    roots: Query<'_, '_, &MoverRoot>,
    bodies: Query<'_, '_, &Body>,
    (hand, measuring, settings): (Res<'_, Hand>, Res<'_, Measuring>, Res<'_, Settings>),
    mut asked: ResMut<'_, Asked>,
) {
    let dragged = hand.was_dragged(click.pointer_location.position);
    if click.button != PointerButton::Primary || dragged || measuring.on {
        return;
    }
    if settings.lists_are_open() {
        asked.0.extend(bodies.get(click.entity).map(|body| Action::Point(Aim::Part(body.part))));
    } else {
        asked.0.extend(roots.get(click.entity).map(|root| Action::Toggle(root.0)));
    }
}

fn entered(
    over: On<'_, '_, Pointer<Over>>,
    roots: Query<'_, '_, &MoverRoot>,
    bodies: Query<'_, '_, &Body>,
    mut hovered: ResMut<'_, Hovered>,
    mut part: ResMut<'_, HoveredPart>,
) {
    if let Ok(root) = roots.get(over.entity) {
        hovered.set_if_neq(Hovered(Some(root.0)));
    }
    if let Ok(body) = bodies.get(over.entity) {
        part.set_if_neq(HoveredPart(Some(body.part)));
    }
}

fn left(
    out: On<'_, '_, Pointer<Out>>,
    roots: Query<'_, '_, &MoverRoot>,
    bodies: Query<'_, '_, &Body>,
    mut hovered: ResMut<'_, Hovered>,
    mut part: ResMut<'_, HoveredPart>,
) {
    if roots.get(out.entity).is_ok_and(|root| hovered.0 == Some(root.0)) {
        hovered.0 = None;
    }
    if bodies.get(out.entity).is_ok_and(|body| part.0 == Some(body.part)) {
        part.0 = None;
    }
}
