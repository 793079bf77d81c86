//! What is a unit made of? A carcass (see [`super::carcass`]), a face frame, shelves and what stands before them, or a
//! space for an appliance.

use super::board::{Board, Thickness, carve};
use super::build::{Builder, NewPart};
use super::{Cutting, CuttingKind, Edge, Material, Role, RuleClass, Vec3, Why, Work};
use crate::plan::{
    BaseboardTreatment, CabinetUnit, Construction, CornerWork, Face, FarEnd, Fronts, ShelfJoint, Side, UnitKind,
};

/// A unit's place and the planes its boards lie between, in mm along the run, out from the back plane and up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shell {
    pub(super) side: Side,
    pub(super) index: usize,
    /// From the near side's outer face to the far side's.
    pub(super) s: [f64; 2],
    /// Thickness of the panels.
    pub(super) panel: f64,
    /// Whether there is no face frame.
    pub(super) frameless: bool,
    /// The front plane.
    pub(super) front_plane: f64,
    /// The front of the panels: the front plane less the face frame or edge strip.
    pub(super) panel_front: f64,
    /// The carcass's lower edge and its top.
    pub(super) z: [f64; 2],
    /// How far shelves stand behind where their edges would else lie: behind the back of a door set in the carcass.
    pub(super) shelves_back: f64,
}

impl Shell {
    /// Between the sides.
    pub(super) fn inside(&self) -> [f64; 2] {
        [self.s[0] + self.panel, self.s[1] - self.panel]
    }

    /// The same with its shelves behind a door, which inset fronts have within the carcass or its frame.
    fn with_door(self, construction: &Construction) -> Self {
        let back = super::drawer::front_planes(construction, self.front_plane)[0];
        // A frame before the shelves is as thick as it is, whatever the door.
        let edge = if self.frameless { self.front_plane } else { self.panel_front };
        Self { shelves_back: (edge - back).max(0.0), ..self }
    }

    /// The same with its front planes `by` farther back.
    fn set_back(self, by: f64) -> Self {
        Self { front_plane: self.front_plane - by, panel_front: self.panel_front - by, ..self }
    }
}

impl Builder<'_> {
    /// One unit between `s[0]` and `s[1]` along its run.
    pub(super) fn unit(&mut self, side: Side, index: usize, unit: &CabinetUnit, s: [f64; 2]) {
        self.builds(Some((side, index)));
        let construction = self.construction();
        let name = format!("{} {} {}", side.word(), index + 1, unit.name);
        let front_plane = self.run(side).depth;
        let shell = Shell {
            side,
            index,
            s,
            panel: construction.panel.to_mm(),
            frameless: construction.face == Face::Frameless,
            front_plane,
            panel_front: front_plane
                - match construction.face {
                    Face::Frameless => construction.edge_strip.to_mm(),
                    Face::FaceFrame { thickness, .. } => thickness.to_mm(),
                },
            z: [construction.kick_height.to_mm(), construction.height.to_mm()],
            shelves_back: 0.0,
        };
        match &unit.kind {
            UnitKind::EndPanel => self.end_panel(&shell, &name),
            UnitKind::ApplianceSpace(appliance) => self.appliance(&shell, &name, appliance),
            UnitKind::Drawers(drawers) => {
                self.carcass(&shell, &name, &[]);
                self.face_frame(&shell, &name, drawers.len());
                self.drawers(&shell, &name, drawers);
            }
            UnitKind::Door(door) => {
                let shell = shell.with_door(construction);
                let heights = shelf_heights(&shell, door.shelves);
                self.carcass(&shell, &name, &heights);
                self.shelves(&shell, &name, &heights);
                self.face_frame(&shell, &name, 1);
                let zone = construction.front_zone();
                self.door(&shell, &name, door, zone.bottom.to_mm());
            }
            UnitKind::DrawerOverDoor(drawer, door) => {
                self.carcass(&shell, &name, &[]);
                self.face_frame(&shell, &name, 2);
                self.drawers(&shell, &name, std::slice::from_ref(drawer));
                self.door(&shell, &name, door, construction.front_zone().bottom.to_mm());
            }
            UnitKind::OpenShelves { shelves } => {
                let heights = shelf_heights(&shell, *shelves);
                self.carcass(&shell, &name, &heights);
                self.face_frame(&shell, &name, 1);
                self.shelves(&shell, &name, &heights);
                self.shelf_frame(&shell, &name, &heights);
            }
        }
        self.builds(None);
    }

    /// Stiles and rails before the carcass; a rail between each two of `rows` where the fronts are inset.
    fn face_frame(&mut self, shell: &Shell, unit: &str, rows: usize) {
        let construction = self.construction();
        let Face::FaceFrame { stile, rail, .. } = construction.face else { return };
        let (stile, rail, side) = (stile.to_mm(), rail.to_mm(), shell.side);
        let (n, [low, high]) = ([shell.panel_front, shell.front_plane], shell.z);
        let between = [shell.s[0] + stile, shell.s[1] - stile];
        for (what, s, at_end) in
            [("near stile", [shell.s[0], between[0]], false), ("far stile", [between[1], shell.s[1]], true)]
        {
            // The corner's own stile is made with the corner.
            if !at_end && shell.index == 0 && self.has_corner_stile(side) {
                continue;
            }
            let left_on = if at_end && self.ends_at_wall(shell) { self.plan.joinery.scribe.to_mm() } else { 0.0 };
            let piece = self.block(side, s, n, [low, high]);
            let part = NewPart::new("", Role::FrameStile, Material::SolidWood, RuleClass::Run, vec![piece]);
            self.board(shell, unit, what, part.grain(Vec3::Z).left_on([left_on, 0.0, 0.0]));
        }
        let mut rails = vec![("top rail", [high - rail, high]), ("bottom rail", [low, low + rail])];
        if construction.fronts == Fronts::Inset {
            let gap = construction.gap.to_mm();
            let mut top = construction.front_zone().top.to_mm();
            for height in self.row_heights(shell).into_iter().take(rows.saturating_sub(1)) {
                top -= height + gap;
                rails.push(("middle rail", [top - rail, top]));
                top -= rail + gap;
            }
        }
        let along = self.run(side).along;
        for (what, z) in rails {
            let piece = self.block(side, between, n, z);
            let part = NewPart::new("", Role::FrameRail, Material::SolidWood, RuleClass::Run, vec![piece]);
            self.board(shell, unit, what, part.grain(along));
        }
    }

    /// Whether the first stile of `side` is widened to the corner.
    pub(super) fn has_corner_stile(&self, side: Side) -> bool {
        let first = self.plan.run(side).units.first();
        let framed = first.is_some_and(|u| !matches!(u.kind, UnitKind::EndPanel | UnitKind::ApplianceSpace(_)));
        framed
            && self.plan.joinery.corner == CornerWork::Stiles
            && matches!(self.construction().face, Face::FaceFrame { .. })
    }

    /// Whether the unit is the last before a wall.
    fn ends_at_wall(&self, shell: &Shell) -> bool {
        let run = self.plan.run(shell.side);
        run.ends_at == FarEnd::Wall && shell.index + 1 == run.units.len()
    }

    /// Heights of a unit's fronts, from the top.
    fn row_heights(&self, shell: &Shell) -> Vec<f64> {
        match self.plan.run(shell.side).units.get(shell.index).map(|unit| &unit.kind) {
            Some(UnitKind::Drawers(drawers)) => drawers.iter().map(|drawer| drawer.front_height.to_mm()).collect(),
            Some(UnitKind::DrawerOverDoor(drawer, door)) => {
                vec![drawer.front_height.to_mm(), door.front_height.to_mm()]
            }
            _ => Vec::new(),
        }
    }

    fn shelves(&mut self, shell: &Shell, unit: &str, heights: &[[f64; 2]]) {
        let shell = &shell.set_back(shell.shelves_back);
        let joinery = &self.plan.joinery;
        let (inside, along) = (shell.inside(), self.run(shell.side).along);
        let stripped = joinery.strip_edges.shelves;
        let reach = match joinery.shelves {
            ShelfJoint::Fixed(_) => self.shelf_depth(),
            ShelfJoint::Pins(play) => -play.to_mm() / 2.0,
        };
        let edges = [joinery.strip_edges.sides, stripped].map(|stripped| shell.front_of(stripped));
        for (k, &z) in heights.iter().enumerate() {
            let back = self.construction().back.to_mm() + shell.panel;
            // What is let into the sides stops at their strips.
            let front = if reach > 0.0 { edges[0].min(edges[1]) } else { edges[1] };
            let s = [inside[0] - reach, inside[1] + reach];
            let mut boards = vec![Board::new(s, [back, front], z)];
            if front < edges[1] {
                boards.push(Board::new(inside, [front, edges[1]], z));
            }
            let pieces = self.solids(shell.side, &boards);
            let what = format!("shelf {}", k + 1);
            let work = Work { stripped: shell.strip_edge(stripped), ..Work::default() };
            let part = NewPart::new("", Role::Shelf, Material::Panel, RuleClass::Run, pieces);
            self.board(shell, unit, &what, part.grain(along).work(work));
            let strip = if reach < 0.0 { s } else { inside };
            self.strip(shell, unit, (&what, Role::Shelf), stripped, strip, z, along);
        }
    }

    /// The frame before open shelves that brings them flush with the fronts beside them: as deep as those stand proud, one
    /// rail a shelf, the bottom rail as high as the bottom and a rail together. At a wall its stile reaches over the
    /// baseboard that stays, notched for it. Common practice, no source.
    fn shelf_frame(&mut self, shell: &Shell, unit: &str, heights: &[[f64; 2]]) {
        let construction = self.construction();
        let Some(frame) = self.plan.joinery.shelf_frame.filter(|_| construction.fronts == Fronts::Overlay) else {
            return;
        };
        let (zone, side, scribe) = (construction.front_zone(), shell.side, self.plan.joinery.scribe.to_mm());
        let (stile, rail, reveal) = (frame.stile.to_mm(), frame.rail.to_mm(), zone.side.to_mm());
        let n = [shell.front_plane, super::drawer::front_planes(construction, shell.front_plane)[1]];
        let (z, proud) = ([zone.bottom.to_mm(), zone.top.to_mm()], n[1] - n[0]);
        let at_wall = self.ends_at_wall(shell);
        let board = self.plan.room.baseboard.filter(|board| board.treatment == BaseboardTreatment::Left);
        let widened = board.map_or(0.0, |board| if at_wall { board.thickness.to_mm() } else { 0.0 });
        let far = if at_wall { shell.s[1] + widened } else { shell.s[1] - reveal };
        let between = [shell.s[0] + reveal + stile, shell.s[1] - reveal - stile];
        for (what, s, widened) in
            [("near stile", [shell.s[0] + reveal, between[0]], 0.0), ("far stile", [between[1], far], widened)]
        {
            let mut work = Work { why: Some(Why::ShelfStile { proud, widened }), ..Work::default() };
            let mut cuts = Vec::new();
            if let Some(top) =
                board.map(|board| board.height.to_mm().min(z[1])).filter(|&top| widened > 0.0 && top > z[0])
            {
                cuts.push(Board::new([s[1] - widened, s[1]], n, [z[0], top]));
                let (kind, takes) = (CuttingKind::Notch, Role::Baseboard);
                let wide = top - z[0];
                work.joints.push(Cutting { kind, takes, deep: widened, wide, long: proud, from: Edge::Far, at: 0.0 });
            }
            let boards = carve(vec![Board::new(s, n, z)], &cuts, Thickness::Along);
            let part =
                NewPart::new("", Role::FrameStile, Material::SolidWood, RuleClass::Run, self.solids(side, &boards));
            let left_on = if at_wall && s[1] >= far { scribe } else { 0.0 };
            let part = part.grain(Vec3::Z).work(work).left_on([left_on, 0.0, 0.0]);
            self.board(shell, unit, &format!("{what} of the shelf frame"), part);
        }
        let mut rails = vec![
            ("top rail".to_owned(), [z[1] - rail, z[1]], 0.0),
            ("bottom rail".to_owned(), [z[0], z[0] + shell.panel + rail], shell.panel),
        ];
        rails.extend(
            heights.iter().enumerate().map(|(k, z)| (format!("rail of shelf {}", k + 1), [z[1] - rail, z[1]], 0.0)),
        );
        for (what, z, shelf) in rails {
            let piece = self.block(side, between, n, z);
            let work = Work { why: Some(Why::ShelfRail { proud, shelf, rail }), ..Work::default() };
            let part = NewPart::new("", Role::FrameRail, Material::SolidWood, RuleClass::Run, vec![piece]);
            self.board(shell, unit, &format!("{what} of the shelf frame"), part.grain(self.run(side).along).work(work));
        }
    }
}

/// The back of the kick cover: where boards of the base end at the front.
pub(super) fn kick_cover_back(construction: &Construction, front_plane: f64) -> f64 {
    front_plane - construction.kick_setback.to_mm() - construction.kick_cover.to_mm()
}

/// Lower and upper face of each of `count` shelves, evenly between bottom and top.
fn shelf_heights(shell: &Shell, count: usize) -> Vec<[f64; 2]> {
    let t = shell.panel;
    let (low, high) = (shell.z[0] + t, shell.z[1] - t);
    let clear = (high - low - count as f64 * t) / (count + 1) as f64;
    (0..count).map(|k| low + clear + k as f64 * (clear + t)).map(|z| [z, z + t]).collect()
}
