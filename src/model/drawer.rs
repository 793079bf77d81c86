//! What is a drawer made of? Four sides and a bottom, sized from its slides, behind a front.

use super::board::{Board, Thickness};
use super::build::{Builder, NewPart, Place};
use super::cabinet::Shell;
use super::{Cutting, CuttingKind, Edge, Material, Motion, MoverId, Role, RuleClass, Vec3, Why, Work};
use crate::length::Length;
use crate::plan::{Drawer, Face, Fronts, PullOuts};

/// Height of the blocking that a slide is screwed to: lumber ripped to 2-1/2 in. Common practice, no source.
const BLOCKING_HEIGHT: f64 = 63.5;

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
        let mover = self.mover(name.clone(), shell.side, shell.index, motion, Some(drawer.pull));
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
        let [bottom, top] = z.map(Length::mm);
        let low = (construction.drawer_opening(bottom, top).0 + slide.under).to_mm();
        let high = low + drawer.box_height.to_mm();
        self.box_boards(shell, place, name, s, n, [low, high]);
        self.blocking(shell, name, drawer, low, [bottom, top]);
    }

    /// The five boards of a box between `s`, `n` and `z`.
    fn box_boards(&mut self, shell: &Shell, place: &Place, name: &str, s: [f64; 2], n: [f64; 2], z: [f64; 2]) {
        let (construction, joinery) = (self.construction(), &self.plan.joinery);
        let stock = construction.box_stock.to_mm();
        let (inside, within) = ([s[0] + stock, s[1] - stock], [n[0] + stock, n[1] - stock]);
        let (along, out) = (self.run(shell.side).along, self.run(shell.side).out);
        let (corner, groove) = (joinery.box_corners.depth().to_mm(), joinery.box_groove.to_mm());
        let low = z[0] + joinery.box_recess.to_mm();
        let floor = [low, low + construction.box_bottom.to_mm()];
        // Loose in its grooves by half the play all round; a bottom without grooves fits between the boards.
        let reach = if groove > 0.0 { groove - joinery.box_play.to_mm() / 2.0 } else { 0.0 };
        let ends = [inside[0] - corner, inside[1] + corner];
        let grooved = |long: f64| {
            let wide = floor[1] - floor[0];
            let kind = CuttingKind::Groove;
            let at = joinery.box_recess.to_mm();
            Cutting { kind, takes: Role::BoxBottom, deep: groove, wide, long, from: Edge::Lower, at }
        };
        // In a box with rabbets the groove is counted between them.
        let side_groove = if corner >= groove { within[1] - within[0] } else { n[1] - n[0] };
        for (what, thick, face) in [
            ("near box side", [s[0], inside[0]], [inside[0] - groove, inside[0]]),
            ("far box side", [inside[1], s[1]], [inside[1], inside[1] + groove]),
        ] {
            let mut cuts = vec![Board::new(face, n, floor)];
            let mut work = Work { joints: vec![grooved(side_groove)], ..Work::default() };
            let rabbet = if thick[0] < inside[0] { [ends[0], inside[0]] } else { [inside[1], ends[1]] };
            for (edge, n) in [(Edge::Front, [within[1], n[1]]), (Edge::Back, [n[0], within[0]])] {
                cuts.push(Board::new(rabbet, n, z));
                let (kind, takes) = (CuttingKind::Rabbet, Role::BoxEnd);
                let long = z[1] - z[0];
                work.joints.push(Cutting { kind, takes, deep: corner, wide: stock, long, from: edge, at: 0.0 });
            }
            work.joints.retain(|joint| joint.deep > 0.0);
            let board = Board::new(thick, n, z);
            self.box_board(shell, place, &format!("{name}, {what}"), Role::BoxSide, board, &cuts, work, out);
        }
        for (what, thick, face) in [
            ("front box end", [within[1], n[1]], [within[1], within[1] + groove]),
            ("back box end", [n[0], within[0]], [within[0] - groove, within[0]]),
        ] {
            let cuts = [Board::new(ends, face, floor)];
            let mut work = Work { joints: vec![grooved(ends[1] - ends[0])], ..Work::default() };
            work.joints.retain(|joint| joint.deep > 0.0);
            let board = Board::new(ends, thick, z);
            self.box_board(shell, place, &format!("{name}, {what}"), Role::BoxEnd, board, &cuts, work, along);
        }
        let board = Board::new([inside[0] - reach, inside[1] + reach], [within[0] - reach, within[1] + reach], floor);
        let (name, work) = (format!("{name}, box bottom"), Work::default());
        self.box_board(shell, place, &name, Role::BoxBottom, board, &[], work, along);
    }

    fn box_board(
        &mut self,
        shell: &Shell,
        place: &Place,
        name: &str,
        role: Role,
        board: Board,
        cuts: &[Board],
        work: Work,
        grain: Vec3,
    ) {
        let (material, thickness) = match role {
            Role::BoxSide => (Material::BoxStock, Thickness::Along),
            Role::BoxEnd => (Material::BoxStock, Thickness::Out),
            _ => (Material::ThinPanel, Thickness::Out),
        };
        let pieces = self.joined(shell.side, &[board], cuts, thickness);
        let outside = self.solids(shell.side, &[board]);
        self.add(
            place,
            NewPart::new(name, role, material, RuleClass::Run, pieces).grain(grain).work(work).joined(outside),
        );
    }

    /// What brings both sides of a face-frame unit out to the stiles' inner edges behind a drawer whose box stands on
    /// `box_low`, within the opening behind its front.
    fn blocking(&mut self, shell: &Shell, name: &str, drawer: &Drawer, box_low: f64, front: [Length; 2]) {
        let construction = self.construction();
        let Face::FaceFrame { stile, .. } = construction.face else { return };
        let out = stile.to_mm() - shell.panel;
        if !self.plan.joinery.blocking {
            return;
        }
        let line = box_low + self.plan.slides[drawer.slide].line.to_mm();
        let (lowest, highest) = construction.drawer_opening(front[0], front[1]);
        self.blocks(shell, name, line, Why::Blocking { out }, [lowest.to_mm(), highest.to_mm()]);
    }

    /// Blocks on both sides at the height `line`, where slides are screwed, within `limits`; `why` says how thick.
    fn blocks(&mut self, shell: &Shell, name: &str, line: f64, why: Why, limits: [f64; 2]) {
        let (Why::Blocking { out } | Why::Packing { out }) = why else { return };
        let z = [(line - BLOCKING_HEIGHT / 2.0).max(limits[0]), (line + BLOCKING_HEIGHT / 2.0).min(limits[1])];
        if out <= crate::length::SNAP_MM || z[1] <= z[0] {
            return;
        }
        let inside = shell.inside();
        let n = [self.construction().back.to_mm() + shell.panel, shell.panel_front];
        let place = Place::unit(shell.side, shell.index);
        for (what, s) in [("near", [inside[0], inside[0] + out]), ("far", [inside[1] - out, inside[1]])] {
            let piece = self.block(shell.side, s, n, z);
            let name = format!("{name}, {what} side blocking");
            let work = Work { why: Some(why), ..Work::default() };
            let part = NewPart::new(&name, Role::Blocking, Material::DimensionLumber, RuleClass::Run, vec![piece]);
            self.add(&place, part.grain(self.run(shell.side).out).work(work));
        }
    }

    /// The pull-out shelves behind `door`, from the lowest up.
    pub(super) fn pull_outs(&mut self, shell: &Shell, unit: &str, pull_outs: PullOuts, door: MoverId) {
        let construction = self.construction();
        let slide = &self.plan.slides[pull_outs.slide];
        let direction = self.run(shell.side).out;
        let packed = construction.opening_side() + pull_outs.spacer;
        let off = (packed + slide.side).to_mm();
        let s = [shell.s[0] + off, shell.s[1] - off];
        let door_back = front_planes(construction, shell.front_plane)[0].min(shell.front_plane);
        let front = door_back - crate::plan::defaults::PULL_OUT_BEHIND_DOOR;
        let n = [front - slide.length.to_mm(), front];
        for (k, (low, high)) in construction.pull_out_spaces(pull_outs.count).into_iter().enumerate() {
            let name = match pull_outs.count {
                1 => format!("{unit}, pull-out shelf"),
                _ => format!("{unit}, pull-out shelf {} from below", k + 1),
            };
            let motion = Motion::Slide { direction, travel: slide.travel().to_mm() };
            let mover = self.mover(name.clone(), shell.side, shell.index, motion, None);
            self.stands_behind(mover, door);
            let place = Place::unit(shell.side, shell.index).on(mover);
            let floor = (low + slide.under).to_mm();
            self.box_boards(shell, &place, &name, s, n, [floor, floor + pull_outs.box_height.to_mm()]);
            let line = floor + slide.line.to_mm();
            let why = Why::Packing { out: packed.to_mm() - shell.panel };
            self.blocks(shell, &name, line, why, [low.to_mm(), high.to_mm()]);
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
