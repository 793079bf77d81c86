//! What is a unit made of? Carcass, toe kick, face frame, shelves, and spaces for appliances.
//!
//! Boards are butted; joints that let one board into another come with the cut list.

use super::build::{Builder, NewPart, Place};
use super::{Convex, Material, Role, RuleClass, Vec3};
use crate::plan::{Appliance, Base, BaseboardTreatment, CabinetUnit, Construction, Face, Fronts, Side, Top, UnitKind};

/// Radius of a levelling leg and how far its middle stands in from the carcass's edges. Common practice, no source.
const LEG_RADIUS: f64 = 25.0;
const LEG_INSET: f64 = 60.0;
/// A handle stands this far below the top of an appliance, and is this share of its width. Our own choice.
const HANDLE_BELOW_TOP: f64 = 70.0;
const HANDLE_SHARE: f64 = 0.8;

/// A unit's place and the planes its boards lie between, in mm along the run, out from the back plane and up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shell {
    pub(super) side: Side,
    pub(super) index: usize,
    /// From the near side's outer face to the far side's.
    pub(super) s: [f64; 2],
    /// Thickness of the panels.
    pub(super) panel: f64,
    /// The front plane.
    pub(super) front_plane: f64,
    /// The front of the panels: the front plane less the face frame or edge strip.
    pub(super) panel_front: f64,
    /// The carcass's lower edge and its top.
    pub(super) z: [f64; 2],
}

impl Shell {
    /// Between the sides.
    pub(super) fn inside(&self) -> [f64; 2] {
        [self.s[0] + self.panel, self.s[1] - self.panel]
    }
}

impl Builder<'_> {
    /// One unit between `s[0]` and `s[1]` along its run.
    pub(super) fn unit(&mut self, side: Side, index: usize, unit: &CabinetUnit, s: [f64; 2]) {
        let construction = self.construction();
        let name = format!("{} {} {}", side.word(), index + 1, unit.name);
        let front_plane = self.run(side).depth;
        let shell = Shell {
            side,
            index,
            s,
            panel: construction.panel.to_mm(),
            front_plane,
            panel_front: front_plane
                - match construction.face {
                    Face::Frameless => construction.edge_strip.to_mm(),
                    Face::FaceFrame { thickness, .. } => thickness.to_mm(),
                },
            z: [construction.kick_height.to_mm(), construction.height.to_mm()],
        };
        match &unit.kind {
            UnitKind::EndPanel => self.end_panel(&shell, &name),
            UnitKind::ApplianceSpace(appliance) => self.appliance(&shell, &name, appliance),
            UnitKind::Drawers(drawers) => {
                self.carcass(&shell, &name);
                self.face_frame(&shell, &name, drawers.len());
                self.drawers(&shell, &name, drawers);
            }
            UnitKind::Door(door) => {
                self.carcass(&shell, &name);
                self.face_frame(&shell, &name, 1);
                let zone = construction.front_zone();
                self.door(&shell, &name, door, zone.bottom.to_mm());
            }
            UnitKind::DrawerOverDoor(drawer, door) => {
                self.carcass(&shell, &name);
                self.face_frame(&shell, &name, 2);
                self.drawers(&shell, &name, std::slice::from_ref(drawer));
                self.door(&shell, &name, door, construction.front_zone().bottom.to_mm());
            }
            UnitKind::OpenShelves { shelves } => {
                self.carcass(&shell, &name);
                self.face_frame(&shell, &name, 1);
                self.shelves(&shell, &name, *shelves);
            }
        }
    }

    /// A fixed board of a run, its grain along `grain`.
    fn fixed(
        &mut self,
        shell: &Shell,
        unit: &str,
        what: &str,
        role: Role,
        material: Material,
        grain: Option<Vec3>,
        pieces: Vec<Convex>,
    ) {
        let name = format!("{unit}, {what}");
        let place = Place::unit(shell.side, shell.index);
        self.add(&place, NewPart { name: &name, role, material, grain, class: RuleClass::Run, pieces });
    }

    fn carcass(&mut self, shell: &Shell, unit: &str) {
        let construction = self.construction();
        let along = Some(self.run(shell.side).along);
        let (side, t, back) = (shell.side, shell.panel, construction.back.to_mm());
        let ([low, high], inside, front) = (shell.z, shell.inside(), shell.panel_front);
        for (what, s) in [("near side", [shell.s[0], inside[0]]), ("far side", [inside[1], shell.s[1]])] {
            let pieces = self.side_pieces(shell, s);
            self.fixed(shell, unit, what, Role::CarcassSide, Material::Panel, Some(Vec3::Z), pieces);
            self.strip(shell, unit, what, s, [low, high], Vec3::Z);
        }
        let bottom = self.block(side, inside, [back, front], [low, low + t]);
        self.fixed(shell, unit, "bottom", Role::CarcassBottom, Material::Panel, along, vec![bottom]);
        self.strip(shell, unit, "bottom", inside, [low, low + t], self.run(side).along);
        let panel = self.block(side, inside, [0.0, back], [low, high]);
        self.fixed(shell, unit, "back", Role::Back, Material::ThinPanel, Some(Vec3::Z), vec![panel]);
        let nailer = construction.nailer.to_mm();
        let mut nailer_top = high;
        match construction.top {
            Top::FullTop => {
                let top = self.block(side, inside, [back, front], [high - t, high]);
                self.fixed(shell, unit, "top", Role::CarcassTop, Material::Panel, along, vec![top]);
                nailer_top = high - t;
            }
            Top::Stretchers => {
                let width = construction.stretcher.to_mm();
                for (what, n) in
                    [("front stretcher", [front - width, front]), ("back stretcher", [back + t, back + t + width])]
                {
                    let piece = self.block(side, inside, n, [high - t, high]);
                    self.fixed(shell, unit, what, Role::Stretcher, Material::Panel, along, vec![piece]);
                }
            }
        }
        self.strip(shell, unit, "top", inside, [high - t, high], self.run(side).along);
        for (what, z) in
            [("top nailer", [nailer_top - nailer, nailer_top]), ("bottom nailer", [low + t, low + t + nailer])]
        {
            let piece = self.block(side, inside, [back, back + t], z);
            self.fixed(shell, unit, what, Role::Nailer, Material::Panel, along, vec![piece]);
        }
        self.base(shell, unit);
    }

    /// An edge strip over a raw front edge, in frameless work.
    fn strip(&mut self, shell: &Shell, unit: &str, of: &str, s: [f64; 2], z: [f64; 2], grain: Vec3) {
        if self.construction().face == Face::Frameless && shell.panel_front < shell.front_plane {
            let piece = self.block(shell.side, s, [shell.panel_front, shell.front_plane], z);
            let what = format!("edge strip of {of}");
            self.fixed(shell, unit, &what, Role::EdgeStrip, Material::SolidWood, Some(grain), vec![piece]);
        }
    }

    /// A side: the whole depth above the toe kick, less the notches below it.
    fn side_pieces(&self, shell: &Shell, s: [f64; 2]) -> Vec<Convex> {
        let construction = self.construction();
        let [low, high] = shell.z;
        let mut pieces = vec![self.block(shell.side, s, [0.0, shell.panel_front], [low, high])];
        if construction.base == Base::IntegralKick {
            let front = kick_cover_back(construction, shell.front_plane);
            pieces.extend(self.over_baseboard(shell.side, s, front, low));
        }
        pieces
    }

    /// What of a board that stands on the floor lies below `top`: notched over the baseboard where the plan says so.
    fn over_baseboard(&self, side: Side, s: [f64; 2], front: f64, top: f64) -> Vec<Convex> {
        match self.plan.room.baseboard {
            Some(board) if board.treatment == BaseboardTreatment::Notched => {
                let notch = board.height.to_mm().min(top);
                let mut pieces = vec![self.block(side, s, [board.thickness.to_mm(), front], [0.0, notch])];
                if notch < top {
                    pieces.push(self.block(side, s, [0.0, front], [notch, top]));
                }
                pieces
            }
            _ => vec![self.block(side, s, [0.0, front], [0.0, top])],
        }
    }

    /// What the carcass stands on, up to its lower edge.
    fn base(&mut self, shell: &Shell, unit: &str) {
        let construction = self.construction();
        let (side, low, t) = (shell.side, shell.z[0], shell.panel);
        let front = kick_cover_back(construction, shell.front_plane);
        let along = Some(self.run(side).along);
        match construction.base {
            Base::IntegralKick => {
                let piece = self.block(side, shell.inside(), [front - t, front], [0.0, low]);
                self.fixed(shell, unit, "kick board", Role::KickBoard, Material::Panel, along, vec![piece]);
            }
            Base::LevelledBase => {
                let behind = match self.plan.room.baseboard {
                    Some(board) if board.treatment == BaseboardTreatment::Notched => board.thickness.to_mm(),
                    _ => 0.0,
                };
                let z = [0.0, low];
                let pieces = vec![
                    self.block(side, shell.s, [front - t, front], z),
                    self.block(side, shell.s, [behind, behind + t], z),
                    self.block(side, [shell.s[0], shell.s[0] + t], [behind + t, front - t], z),
                    self.block(side, [shell.s[1] - t, shell.s[1]], [behind + t, front - t], z),
                ];
                self.fixed(shell, unit, "levelled base", Role::BaseFrame, Material::DimensionLumber, along, pieces);
            }
            Base::Legs => {
                let frame = self.run(side).clone();
                let deep = [LEG_INSET, front - LEG_RADIUS - 5.0];
                // A unit too narrow for two legs side by side stands on one pair in its middle.
                let wide = if shell.s[1] - shell.s[0] >= 2.0 * (LEG_INSET + LEG_RADIUS) {
                    vec![shell.s[0] + LEG_INSET, shell.s[1] - LEG_INSET]
                } else {
                    vec![f64::midpoint(shell.s[0], shell.s[1])]
                };
                // Without a toe kick there is no room for legs.
                let stands = wide.into_iter().flat_map(|s| deep.map(|n| [s, n])).filter(|_| low > 0.0);
                for [s, n] in stands {
                    let leg = Convex::round(frame.at(s, n, 0.0), LEG_RADIUS, frame.along, Vec3::Z * low);
                    self.fixed(shell, unit, "leg", Role::Leg, Material::Metal, None, vec![leg]);
                }
            }
        }
    }

    /// Stiles and rails before the carcass; a rail between each two of `rows` where the fronts are inset.
    fn face_frame(&mut self, shell: &Shell, unit: &str, rows: usize) {
        let construction = self.construction();
        let Face::FaceFrame { stile, rail, .. } = construction.face else { return };
        let (stile, rail, side) = (stile.to_mm(), rail.to_mm(), shell.side);
        let (n, [low, high]) = ([shell.panel_front, shell.front_plane], shell.z);
        let between = [shell.s[0] + stile, shell.s[1] - stile];
        for (what, s) in [("near stile", [shell.s[0], between[0]]), ("far stile", [between[1], shell.s[1]])] {
            let piece = self.block(side, s, n, [low, high]);
            self.fixed(shell, unit, what, Role::FrameStile, Material::SolidWood, Some(Vec3::Z), vec![piece]);
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
        let along = Some(self.run(side).along);
        for (what, z) in rails {
            let piece = self.block(side, between, n, z);
            self.fixed(shell, unit, what, Role::FrameRail, Material::SolidWood, along, vec![piece]);
        }
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

    fn shelves(&mut self, shell: &Shell, unit: &str, count: usize) {
        let construction = self.construction();
        let (t, along) = (shell.panel, self.run(shell.side).along);
        let (low, high) = (shell.z[0] + t, shell.z[1] - t);
        let clear = (high - low - count as f64 * t) / (count + 1) as f64;
        for k in 0..count {
            let z = low + clear + k as f64 * (clear + t);
            let n = [construction.back.to_mm() + t, shell.panel_front];
            let piece = self.block(shell.side, shell.inside(), n, [z, z + t]);
            let what = format!("shelf {}", k + 1);
            self.fixed(shell, unit, &what, Role::Shelf, Material::Panel, Some(along), vec![piece]);
            self.strip(shell, unit, &what, shell.inside(), [z, z + t], along);
        }
    }

    /// A panel from the floor to the carcass top, as deep as the units beside it.
    fn end_panel(&mut self, shell: &Shell, unit: &str) {
        let [low, high] = shell.z;
        let mut pieces = vec![self.block(shell.side, shell.s, [0.0, shell.front_plane], [low, high])];
        pieces.extend(self.over_baseboard(shell.side, shell.s, shell.front_plane, low));
        self.fixed(shell, unit, "panel", Role::EndPanel, Material::FrontStock, Some(Vec3::Z), pieces);
    }

    fn appliance(&mut self, shell: &Shell, unit: &str, appliance: &Appliance) {
        let middle = f64::midpoint(shell.s[0], shell.s[1]);
        let half = appliance.width.to_mm() / 2.0;
        let (depth, height, handle) = (appliance.depth.to_mm(), appliance.height.to_mm(), appliance.handle.to_mm());
        let place = Place::unit(shell.side, shell.index);
        let behind = match self.plan.room.baseboard {
            Some(board) if board.treatment == BaseboardTreatment::Notched => board.thickness.to_mm(),
            _ => 0.0,
        };
        let body = self.block(shell.side, [middle - half, middle + half], [behind, depth], [0.0, height]);
        let class = RuleClass::Appliance;
        let name = format!("{unit}, {}", appliance.name);
        let part = NewPart {
            name: &name,
            role: Role::Appliance,
            material: Material::Appliance,
            grain: None,
            class,
            pieces: vec![body],
        };
        self.add(&place, part);
        if handle > 0.0 {
            let frame = self.run(shell.side);
            let radius = (handle / 2.0).min(10.0);
            let reach = half * HANDLE_SHARE;
            let start = frame.at(middle - reach, depth + handle - radius, height - HANDLE_BELOW_TOP);
            let mut pieces = vec![Convex::round(start, radius, frame.out, frame.along * (2.0 * reach))];
            for s in [middle - reach * 0.9, middle + reach * 0.9] {
                let foot = frame.at(s, depth, height - HANDLE_BELOW_TOP);
                pieces.push(Convex::round(foot, radius * 0.8, Vec3::Z, frame.out * (handle - radius)));
            }
            let name = format!("{unit}, handle of {}", appliance.name);
            let part = NewPart {
                name: &name,
                role: Role::ApplianceHandle,
                material: Material::Metal,
                grain: None,
                class,
                pieces,
            };
            self.add(&place, part);
        }
    }
}

/// The back of the kick cover: where boards of the base end at the front.
pub(super) fn kick_cover_back(construction: &Construction, front_plane: f64) -> f64 {
    front_plane - construction.kick_setback.to_mm() - construction.kick_cover.to_mm()
}
