//! Which drawer or door is meant? A click on any of its parts opens or shuts it; the mouse over it names it.
//!
//! A drag ends in a click as well, on whatever was under the press; [`super::drag`] tells the two apart.

use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::picking::pointer::PointerButton;
use bevy::prelude::*;

use super::action::{Action, Asked};
use super::drag::Hand;
use super::measure::Measuring;
use super::scene::MoverRoot;
use crate::model::MoverId;

/// The drawer or door under the mouse.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hovered(pub Option<MoverId>);

/// Registers picking.
pub(super) fn plugin(app: &mut App) {
    app.add_plugins(MeshPickingPlugin).init_resource::<Hovered>();
    app.add_observer(clicked).add_observer(entered).add_observer(left);
}

// Pointer events climb from a board to its drawer, so each observer asks whether it has come to a drawer.

fn clicked(
    click: On<'_, '_, Pointer<Click>>,
    roots: Query<'_, '_, &MoverRoot>,
    hand: Res<'_, Hand>,
    measuring: Res<'_, Measuring>,
    mut asked: ResMut<'_, Asked>,
) {
    let Ok(root) = roots.get(click.entity) else { return };
    let dragged = hand.was_dragged(click.pointer_location.position);
    if click.button == PointerButton::Primary && !dragged && !measuring.on {
        asked.0.push(Action::Toggle(root.0));
    }
}

fn entered(over: On<'_, '_, Pointer<Over>>, roots: Query<'_, '_, &MoverRoot>, mut hovered: ResMut<'_, Hovered>) {
    if let Ok(root) = roots.get(over.entity) {
        hovered.set_if_neq(Hovered(Some(root.0)));
    }
}

fn left(out: On<'_, '_, Pointer<Out>>, roots: Query<'_, '_, &MoverRoot>, mut hovered: ResMut<'_, Hovered>) {
    if roots.get(out.entity).is_ok_and(|root| hovered.0 == Some(root.0)) {
        hovered.0 = None;
    }
}
