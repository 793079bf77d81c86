//! What is a drawer made of? Four sides and a bottom, sized from its slides, behind a front.

use super::build::{Builder, NewPart, Place};
use super::cabinet::Shell;
use super::{Material, Motion, Role, RuleClass, Vec3};
use crate::plan::{Drawer, Face, Fronts};

/// How far a box's bottom stands up from the lower edge of its sides (1/4 in). Common practice, no source.
const BOTTOM_RECESS: f64 = 6.35;

impl Builder<'_> {
    /// Drawers from the top of the unit's front zone downwards.
    pub(super) fn drawers(&mut self, shell: &Shell, unit: &str, drawers: &[Drawer]) {
        let zone = self.construction().front_zone();
        let mut top = zone.top.to_mm();
        for (row, drawer) in drawers.iter().enumerate() {
            let bottom = top - drawer.front_height.to_mm();
            self.drawer(shell, unit, drawer, row, drawers.len(), [bottom, top]);
            top = bottom - zone.between.to_mm();
        }
    }

    fn drawer(&mut self, shell: &Shell, unit: &str, drawer: &Drawer, row: usize, rows: usize, z: [f64; 2]) {
        let slide = &self.plan.slides[drawer.slide];
        let direction = self.run(shell.side).out;
        let motion = Motion::Slide { direction, travel: slide.travel().to_mm() };
        let name = format!("{unit}, {}", drawer_name(row, rows));
        let mover = self.mover(name.clone(), shell.side, shell.index, motion, drawer.pull);
        let place = Place::unit(shell.side, shell.index).on(mover);
        let front_back = self.front(shell, &place, &name, Role::DrawerFront, drawer.pull, z, None);
        self.drawer_box(shell, &place, &name, drawer, z, front_back);
    }

    /// The box behind a front whose back lies at `front_back`.
    fn drawer_box(&mut self, shell: &Shell, place: &Place, name: &str, drawer: &Drawer, z: [f64; 2], front_back: f64) {
        let construction = self.construction();
        let slide = &self.plan.slides[drawer.slide];
        let opening = match construction.face {
            Face::Frameless => shell.inside(),
            Face::FaceFrame { stile, .. } => {
                let wider = shell.panel.max(stile.to_mm());
                [shell.s[0] + wider, shell.s[1] - wider]
            }
        };
        let s = [opening[0] + slide.side.to_mm(), opening[1] - slide.side.to_mm()];
        let n = [front_back - slide.length.to_mm(), front_back];
        let [bottom, top] = z.map(crate::length::Length::mm);
        let low = (construction.drawer_opening(bottom, top).0 + slide.under).to_mm();
        let high = low + drawer.box_height.to_mm();
        let stock = construction.box_stock.to_mm();
        let within = ([s[0] + stock, s[1] - stock], [n[0] + stock, n[1] - stock]);
        let (side, along, out) = (shell.side, self.run(shell.side).along, self.run(shell.side).out);
        let floor = [low + BOTTOM_RECESS, low + BOTTOM_RECESS + construction.box_bottom.to_mm()];
        let boards = [
            ("near box side", Role::BoxSide, [s[0], within.0[0]], n, [low, high], out),
            ("far box side", Role::BoxSide, [within.0[1], s[1]], n, [low, high], out),
            ("front box end", Role::BoxEnd, within.0, [within.1[1], n[1]], [low, high], along),
            ("back box end", Role::BoxEnd, within.0, [n[0], within.1[0]], [low, high], along),
            ("box bottom", Role::BoxBottom, within.0, within.1, floor, out),
        ];
        for (what, role, s, n, z, grain) in boards {
            let name = format!("{name}, {what}");
            let material = if role == Role::BoxBottom { Material::ThinPanel } else { Material::BoxStock };
            let pieces = vec![self.block(side, s, n, z)];
            let part = NewPart { name: &name, role, material, grain: Some(grain), class: RuleClass::Run, pieces };
            self.add(place, part);
        }
    }
}

/// What a builder calls the drawer in `row` (from the top) of `rows`.
fn drawer_name(row: usize, rows: usize) -> String {
    match (row, rows) {
        (_, 1) => "drawer".to_owned(),
        (0, _) => "top drawer".to_owned(),
        (row, rows) if row + 1 == rows => "bottom drawer".to_owned(),
        (1, 3) => "middle drawer".to_owned(),
        (row, _) => format!("drawer {} from the top", row + 1),
    }
}

/// Where a front lies, out from the back plane: its back, then its face.
pub(super) fn front_planes(construction: &crate::plan::Construction, front_plane: f64) -> [f64; 2] {
    let thickness = construction.front.to_mm();
    match construction.fronts {
        Fronts::Overlay => {
            let back = front_plane + construction.bumper.to_mm();
            [back, back + thickness]
        }
        Fronts::Inset => [front_plane - thickness, front_plane],
    }
}

/// Grain of fronts runs up, so that it goes on from one front to the next. Common practice, no source.
pub(super) const FRONT_GRAIN: Vec3 = Vec3::Z;
