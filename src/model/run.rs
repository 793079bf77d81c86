//! Where do the runs and the walls stand? The frames that everything else is placed in.

use super::build::{Builder, RoomFrame};
use super::{Fillers, RunFrame, Vec3};
use crate::plan::{BaseboardTreatment, FarEnd, Plan, Side};

/// The frames of both runs, and of the room around them.
///
/// The two front planes meet where `n_left = depth_left` and `n_right = depth_right`. With `n_right = x sin θ − y cos θ`
/// that is at `x = (depth_right + depth_left cos θ) / sin θ` along the left run; the right one by the same formula with
/// the depths changed over.
///
/// The left run stands along its wall. The right wall is the line at the room angle φ that touches the right run's
/// back: at its far end where the walls close in (φ < θ), at its near end where they open (φ > θ).
pub(super) fn run_frames(plan: &Plan, fillers: Fillers) -> ([RunFrame; 2], RoomFrame) {
    let theta = plan.run_angle_deg().to_radians();
    let phi = plan.room.angle_deg.to_radians();
    // Along the walls means exactly along them: no noise from the subtraction.
    let aside = if plan.room.angle_deg.total_cmp(&plan.run_angle_deg()).is_eq() { 0.0 } else { (phi - theta).sin() };
    let along = [Vec3::X, Vec3::new(theta.cos(), theta.sin(), 0.0)];
    let out = [Vec3::Y, Vec3::new(theta.sin(), -theta.cos(), 0.0)];
    let wall_along = Vec3::new(phi.cos(), phi.sin(), 0.0);
    let wall_out = Vec3::new(phi.sin(), -phi.cos(), 0.0);
    let depth = Side::BOTH.map(|side| plan.depth(side).to_mm());
    let mut runs = Side::BOTH.map(|side| {
        let (own, other) = if side == Side::Left { (0, 1) } else { (1, 0) };
        let corner_at = (depth[other] + depth[own] * theta.cos()) / theta.sin();
        let starts_at = corner_at + fillers.of(side).to_mm();
        RunFrame {
            side,
            along: along[own],
            out: out[own],
            depth: depth[own],
            corner_at,
            starts_at,
            ends_at: starts_at + plan.run(side).width().to_mm(),
            wall_along: if own == 0 { Vec3::X } else { wall_along },
            wall_length: plan.room.wall(side).to_mm(),
            left_over: 0.0,
        }
    });
    let stand_off = stand_off(plan);
    // The right wall's face is `wall_out · p = level`.
    let touches_at = if aside < 0.0 { runs[1].ends_at } else { runs[1].starts_at };
    let level = touches_at * aside - stand_off;
    let corner = Vec3::new((level - stand_off * phi.cos()) / phi.sin(), -stand_off, 0.0);
    let room = RoomFrame {
        corner,
        along: [Vec3::X, wall_along],
        out: [Vec3::Y, wall_out],
        shift: Vec3::X * (aside / phi.sin()),
    };
    for (k, run) in runs.iter_mut().enumerate() {
        let reach = [0.0, run.depth]
            .map(|n| (run.at(run.ends_at, n, 0.0) - corner).dot(room.along[k]))
            .into_iter()
            .fold(f64::NEG_INFINITY, f64::max);
        // A baseboard that stays on the end wall takes its thickness.
        let end_board = if plan.run(run.side).ends_at == FarEnd::Wall { stand_off } else { 0.0 };
        run.left_over = run.wall_length - end_board - reach;
    }
    (runs, room)
}

/// How far the runs' back planes stand off the walls' faces: the baseboard's thickness where it stays whole.
pub(super) fn stand_off(plan: &Plan) -> f64 {
    match plan.room.baseboard {
        Some(board) if board.treatment == BaseboardTreatment::Left => board.thickness.to_mm(),
        _ => 0.0,
    }
}

impl Builder<'_> {
    /// All units of `side`, from the corner outwards.
    pub(super) fn units(&mut self, side: Side) {
        let mut s = self.run(side).starts_at;
        let plan = self.plan;
        for (index, unit) in plan.run(side).units.iter().enumerate() {
            let end = s + unit.width.to_mm();
            self.unit(side, index, unit, [s, end]);
            s = end;
        }
    }
}
