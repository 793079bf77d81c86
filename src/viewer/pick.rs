//! Which drawer or door is meant? A click on any of its parts opens or shuts it; the mouse over it names it.
//!
//! A drag that turns the scene ends in a click as well, on whatever was under the press; it is told by its length.

use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::picking::pointer::PointerButton;
use bevy::prelude::*;

use super::action::{Action, Asked};
use super::look;
use super::scene::MoverRoot;
use crate::model::MoverId;

/// The drawer or door under the mouse.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hovered(pub Option<MoverId>);

/// Where the mouse was pressed.
#[derive(Resource, Debug, Default)]
struct PressedAt(Option<Vec2>);

/// Registers picking.
pub(super) fn plugin(app: &mut App) {
    app.add_plugins(MeshPickingPlugin).init_resource::<Hovered>().init_resource::<PressedAt>();
    app.add_observer(pressed).add_observer(clicked).add_observer(entered).add_observer(left);
}

// Pointer events climb from a board to its drawer, so each observer asks whether it has come to a drawer.

fn pressed(press: On<'_, '_, Pointer<Press>>, mut pressed: ResMut<'_, PressedAt>) {
    pressed.0 = Some(press.pointer_location.position);
}

fn clicked(
    click: On<'_, '_, Pointer<Click>>,
    roots: Query<'_, '_, &MoverRoot>,
    pressed: Res<'_, PressedAt>,
    mut asked: ResMut<'_, Asked>,
) {
    let Ok(root) = roots.get(click.entity) else { return };
    let dragged = pressed.0.is_some_and(|at| at.distance(click.pointer_location.position) > look::DRAG_POINTS);
    if click.button == PointerButton::Primary && !dragged {
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
