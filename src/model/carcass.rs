//! What holds a unit up? Sides, bottom, top, back, nailers, edge strips, and what it stands on, each with its joints.

use super::board::{Board, Thickness, carve};
use super::build::{Builder, NewPart, Place};
use super::cabinet::{Shell, kick_cover_back};
use super::{Convex, Cutting, CuttingKind, Edge, Material, Role, RuleClass, Vec3, Why, Work};
use crate::length::SNAP_MM;
use crate::plan::{BackJoint, Base, BaseboardTreatment, Face, Joint, ShelfJoint, Top};

/// Radius of a levelling leg and how far its middle stands in from the carcass's edges. Common practice, no source.
const LEG_RADIUS: f64 = 25.0;
const LEG_INSET: f64 = 60.0;

/// Where a board is let into a side: what it is, how deep, and the height it fills.
struct LetIn {
    takes: Role,
    depth: f64,
    z: [f64; 2],
}

impl Builder<'_> {
    /// A fixed board of a unit.
    pub(super) fn board(&mut self, shell: &Shell, unit: &str, what: &str, part: NewPart<'_>) {
        let name = format!("{unit}, {what}");
        self.add(&Place::unit(shell.side, shell.index), NewPart { name: &name, ..part });
    }

    /// A carcass with `shelves` at these heights.
    pub(super) fn carcass(&mut self, shell: &Shell, unit: &str, shelves: &[[f64; 2]]) {
        let (construction, joinery) = (self.construction(), &self.plan.joinery);
        let along = self.run(shell.side).along;
        let (side, t, back) = (shell.side, shell.panel, construction.back.to_mm());
        let ([low, high], inside) = (shell.z, shell.inside());
        let edges = joinery.strip_edges;
        self.sides(shell, unit, shelves);
        let bottom_depth = joinery.bottom.depth().to_mm();
        self.cross_board(shell, unit, ("bottom", Role::CarcassBottom), bottom_depth, edges.bottom, [low, low + t]);
        let s = match joinery.back {
            BackJoint::Between => inside,
            BackJoint::Rabbet(depth) => widened(inside, depth.to_mm()),
            BackJoint::Applied => shell.s,
        };
        let panel = self.block(side, s, [0.0, back], [low, high]);
        let panel = NewPart::new("", Role::Back, Material::ThinPanel, RuleClass::Run, vec![panel]);
        self.board(shell, unit, "back", panel.grain(Vec3::Z));
        let nailer = construction.nailer.to_mm();
        let mut nailer_top = high;
        let top_front = shell.front_of(edges.top);
        let mut stretchers = Vec::new();
        let width = construction.stretcher.to_mm();
        match construction.top {
            Top::FullTop => {
                let depth = joinery.top.depth().to_mm();
                self.cross_board(shell, unit, ("top", Role::CarcassTop), depth, edges.top, [high - t, high]);
                nailer_top = high - t;
            }
            Top::Stretchers => {
                stretchers.push(("front stretcher", [top_front - width, top_front]));
                stretchers.push(("back stretcher", [back + t, back + t + width]));
            }
            Top::FrontStretcher => stretchers.push(("front stretcher", [top_front - width, top_front])),
        }
        for (what, n) in stretchers {
            let at_front = n[1] + SNAP_MM > top_front;
            let stripped = if at_front { shell.strip_edge(edges.top) } else { Vec::new() };
            let piece = self.block(side, inside, n, [high - t, high]);
            let part = NewPart::new("", Role::Stretcher, Material::Panel, RuleClass::Run, vec![piece]);
            self.board(shell, unit, what, part.grain(along).work(Work { stripped, ..Work::default() }));
        }
        if construction.top != Top::FullTop {
            self.strip(shell, unit, ("top", Role::Stretcher), edges.top, inside, [high - t, high], along);
        }
        for (what, z) in
            [("top nailer", [nailer_top - nailer, nailer_top]), ("bottom nailer", [low + t, low + t + nailer])]
        {
            let piece = self.block(side, inside, [back, back + t], z);
            let part = NewPart::new("", Role::Nailer, Material::Panel, RuleClass::Run, vec![piece]);
            self.board(shell, unit, what, part.grain(along));
        }
        self.base(shell, unit);
    }

    /// A bottom or top between the sides, let into them by `depth`, with its strip.
    fn cross_board(
        &mut self,
        shell: &Shell,
        unit: &str,
        (what, role): (&str, Role),
        depth: f64,
        stripped: bool,
        z: [f64; 2],
    ) {
        let (inside, back) = (shell.inside(), self.construction().back.to_mm());
        let along = self.run(shell.side).along;
        let n = [back, shell.front_of(stripped)];
        let board = Board::new(widened(inside, depth), n, z);
        // Where it reaches farther out than the panels of the sides, it stops at their strips.
        let sides_front = shell.front_of(self.plan.joinery.strip_edges.sides);
        let mut work = Work { stripped: shell.strip_edge(stripped), ..Work::default() };
        let mut corners = Vec::new();
        if depth > 0.0 && n[1] > sides_front + SNAP_MM {
            for (s, edge) in [([inside[0] - depth, inside[0]], Edge::Near), ([inside[1], inside[1] + depth], Edge::Far)]
            {
                corners.push(Board::new(s, [sides_front, n[1]], z));
                work.joints.push(Cutting {
                    kind: CuttingKind::Notch,
                    takes: Role::EdgeStrip,
                    deep: depth,
                    wide: n[1] - sides_front,
                    long: z[1] - z[0],
                    from: edge,
                    at: 0.0,
                });
            }
        }
        let boards = carve(vec![board], &corners, Thickness::Out);
        let pieces = self.solids(shell.side, &boards);
        let part = NewPart::new("", role, Material::Panel, RuleClass::Run, pieces);
        self.board(shell, unit, what, part.grain(along).work(work));
        self.strip(shell, unit, (what, role), stripped, inside, z, along);
    }

    /// Both sides, with everything that is let into them.
    fn sides(&mut self, shell: &Shell, unit: &str, shelves: &[[f64; 2]]) {
        let (construction, joinery) = (self.construction(), &self.plan.joinery);
        let (t, [low, high]) = (shell.panel, shell.z);
        let stripped = joinery.strip_edges.sides;
        let mut let_in =
            vec![LetIn { takes: Role::CarcassBottom, depth: joinery.bottom.depth().to_mm(), z: [low, low + t] }];
        if construction.top == Top::FullTop {
            let_in.push(LetIn { takes: Role::CarcassTop, depth: joinery.top.depth().to_mm(), z: [high - t, high] });
        }
        let_in.extend(shelves.iter().map(|&z| LetIn { takes: Role::Shelf, depth: self.shelf_depth(), z }));
        let_in.retain(|joint| joint.depth > 0.0);
        for (what, s, far) in
            [("near side", [shell.s[0], shell.inside()[0]], false), ("far side", [shell.inside()[1], shell.s[1]], true)]
        {
            let (boards, notches) = self.side_boards(shell, s);
            let (cuts, joints) = self.side_joints(shell, s, far, &let_in, boards_low(&boards));
            let pieces = self.joined(shell.side, &boards, &cuts, Thickness::Along);
            let outside = self.solids(shell.side, &boards);
            let joints = joints.into_iter().chain(notches).collect();
            let work = Work { joints, stripped: shell.strip_edge(stripped), ..Work::default() };
            let part = NewPart::new("", Role::CarcassSide, Material::Panel, RuleClass::Run, pieces);
            self.board(shell, unit, what, part.grain(Vec3::Z).work(work).joined(outside));
            self.strip(shell, unit, (what, Role::CarcassSide), stripped, s, [low, high], Vec3::Z);
        }
    }

    /// How deep shelves go into the sides.
    pub(super) fn shelf_depth(&self) -> f64 {
        match self.plan.joinery.shelves {
            ShelfJoint::Fixed(Joint::LetIn(depth)) => depth.to_mm(),
            ShelfJoint::Fixed(Joint::Butt) | ShelfJoint::Pins(_) => 0.0,
        }
    }

    /// The cuts into the side between `s`, whose lowest point is `floor`.
    fn side_joints(
        &self,
        shell: &Shell,
        s: [f64; 2],
        far: bool,
        let_in: &[LetIn],
        floor: f64,
    ) -> (Vec<Board>, Vec<Cutting>) {
        let (construction, joinery) = (self.construction(), &self.plan.joinery);
        let (back, [low, high]) = (construction.back.to_mm(), shell.z);
        let edges = joinery.strip_edges;
        let inner = |depth: f64| if far { [s[0], s[0] + depth] } else { [s[1] - depth, s[1]] };
        let (mut cuts, mut joints) = (Vec::new(), Vec::new());
        for &LetIn { takes, depth, z } in let_in {
            let (from_back, stripped) = match takes {
                Role::Shelf => (back + shell.panel, edges.shelves),
                Role::CarcassTop => (back, edges.top),
                _ => (back, edges.bottom),
            };
            let front = shell.front_of(stripped).min(shell.front_of(edges.sides));
            let front = if takes == Role::Shelf { front - shell.shelves_back } else { front };
            cuts.push(Board::new(inner(depth), [from_back, front], z));
            // At the board's very end it is a rabbet.
            let at_end = z[0] <= floor + SNAP_MM || z[1] >= high - SNAP_MM;
            let kind = if at_end { CuttingKind::Rabbet } else { CuttingKind::Dado };
            let (wide, long) = (z[1] - z[0], front - from_back);
            let (from, at) = if z[1] >= high - SNAP_MM { (Edge::Upper, 0.0) } else { (Edge::Lower, z[0] - floor) };
            joints.push(Cutting { kind, takes, deep: depth, wide, long, from, at });
        }
        if let BackJoint::Rabbet(depth) = joinery.back
            && back > 0.0
        {
            let deep = depth.to_mm();
            cuts.push(Board::new(inner(deep), [0.0, back], [low, high]));
            let (kind, takes) = (CuttingKind::Rabbet, Role::Back);
            joints.push(Cutting { kind, takes, deep, wide: back, long: high - low, from: Edge::Back, at: 0.0 });
        }
        (cuts, joints)
    }

    /// An edge strip over a raw front edge, in frameless work.
    pub(super) fn strip(
        &mut self,
        shell: &Shell,
        unit: &str,
        (of, role): (&str, Role),
        wanted: bool,
        s: [f64; 2],
        z: [f64; 2],
        grain: Vec3,
    ) {
        if wanted && self.construction().face == Face::Frameless && shell.panel_front < shell.front_plane {
            let piece = self.block(shell.side, s, [shell.panel_front, shell.front_plane], z);
            let what = format!("edge strip of {of}");
            let work = Work { why: Some(Why::Strip { of: role }), ..Work::default() };
            let part = NewPart::new("", Role::EdgeStrip, Material::SolidWood, RuleClass::Run, vec![piece]);
            self.board(shell, unit, &what, part.grain(grain).work(work));
        }
    }

    /// A side before its joints: the whole depth above the toe kick, less the notches below it, which come beside.
    fn side_boards(&self, shell: &Shell, s: [f64; 2]) -> (Vec<Board>, Vec<Cutting>) {
        let construction = self.construction();
        let [low, high] = shell.z;
        let back = match self.plan.joinery.back {
            BackJoint::Applied => construction.back.to_mm(),
            BackJoint::Between | BackJoint::Rabbet(_) => 0.0,
        };
        let front = shell.front_of(self.plan.joinery.strip_edges.sides);
        let mut boards = vec![Board::new(s, [back, front], [low, high])];
        let mut notches = Vec::new();
        if construction.base == Base::IntegralKick && low > 0.0 {
            let kick = kick_cover_back(construction, shell.front_plane);
            let (standing, notch) = self.over_baseboard(s, [back, kick], low);
            boards.extend(standing);
            notches.extend(notch);
            notches.push(Cutting {
                kind: CuttingKind::Notch,
                takes: Role::KickCover,
                deep: front - kick,
                wide: low,
                long: s[1] - s[0],
                from: Edge::Front,
                at: 0.0,
            });
            notches.retain(|notch| notch.deep > SNAP_MM);
        }
        (boards, notches)
    }

    /// What of a board that stands on the floor lies below `top`: notched over the baseboard where the plan says so.
    pub(super) fn over_baseboard(&self, s: [f64; 2], n: [f64; 2], top: f64) -> (Vec<Board>, Option<Cutting>) {
        match self.plan.room.baseboard {
            Some(board) if board.treatment == BaseboardTreatment::Notched && board.thickness.to_mm() > n[0] => {
                let (notch, thick) = (board.height.to_mm().min(top), board.thickness.to_mm());
                let mut pieces = vec![Board::new(s, [thick, n[1]], [0.0, notch])];
                if notch < top {
                    pieces.push(Board::new(s, n, [notch, top]));
                }
                let (kind, takes) = (CuttingKind::Notch, Role::Baseboard);
                let (deep, long) = (thick - n[0], s[1] - s[0]);
                (pieces, Some(Cutting { kind, takes, deep, wide: notch, long, from: Edge::Back, at: 0.0 }))
            }
            _ => (vec![Board::new(s, n, [0.0, top])], None),
        }
    }

    /// What the carcass stands on, up to its lower edge.
    fn base(&mut self, shell: &Shell, unit: &str) {
        let construction = self.construction();
        let (side, low, t) = (shell.side, shell.z[0], shell.panel);
        let front = kick_cover_back(construction, shell.front_plane);
        let (along, out) = (self.run(side).along, self.run(side).out);
        match construction.base {
            Base::IntegralKick => {
                let piece = self.block(side, shell.inside(), [front - t, front], [0.0, low]);
                let part = NewPart::new("", Role::KickBoard, Material::Panel, RuleClass::Run, vec![piece]);
                self.board(shell, unit, "kick board", part.grain(along));
            }
            Base::LevelledBase => {
                let behind = match self.plan.room.baseboard {
                    Some(board) if board.treatment == BaseboardTreatment::Notched => board.thickness.to_mm(),
                    _ => 0.0,
                };
                let z = [0.0, low];
                let ends = [behind + t, front - t];
                for (what, s, n, grain) in [
                    ("front of the levelled base", shell.s, [front - t, front], along),
                    ("back of the levelled base", shell.s, [behind, behind + t], along),
                    ("near end of the levelled base", [shell.s[0], shell.s[0] + t], ends, out),
                    ("far end of the levelled base", [shell.s[1] - t, shell.s[1]], ends, out),
                ] {
                    let piece = self.block(side, s, n, z);
                    let part =
                        NewPart::new("", Role::BaseFrame, Material::DimensionLumber, RuleClass::Run, vec![piece]);
                    self.board(shell, unit, what, part.grain(grain));
                }
            }
            Base::Legs => self.legs(shell, unit, front),
        }
    }

    fn legs(&mut self, shell: &Shell, unit: &str, front: f64) {
        let (frame, low) = (self.run(shell.side).clone(), shell.z[0]);
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
            self.board(shell, unit, "leg", NewPart::new("", Role::Leg, Material::Metal, RuleClass::Run, vec![leg]));
        }
    }

    /// A board of `side` that stands on the floor: an end panel.
    pub(super) fn end_panel(&mut self, shell: &Shell, unit: &str) {
        let [low, high] = shell.z;
        let front = [0.0, shell.front_plane];
        let mut boards = vec![Board::new(shell.s, front, [low, high])];
        let (standing, notch) = self.over_baseboard(shell.s, front, low);
        boards.extend(standing.into_iter().filter(|_| low > 0.0));
        let pieces = self.solids(shell.side, &boards);
        let work = Work { joints: notch.into_iter().collect(), why: Some(Why::EndPanel), ..Work::default() };
        let part = NewPart::new("", Role::EndPanel, Material::FrontStock, RuleClass::Run, pieces);
        let scribe = self.plan.joinery.scribe.to_mm();
        // A floor that was measured is one that the panel is fitted to.
        let to_floor = if self.plan.room.survey.floor.is_empty() { 0.0 } else { scribe };
        self.board(shell, unit, "panel", part.grain(Vec3::Z).work(work).left_on([0.0, scribe, to_floor]));
    }
}

/// The lowest point of `boards`.
fn boards_low(boards: &[Board]) -> f64 {
    boards.iter().map(|board| board.0[2][0]).fold(f64::INFINITY, f64::min)
}

/// `range` with `by` more at each end.
fn widened(range: [f64; 2], by: f64) -> [f64; 2] {
    [range[0] - by, range[1] + by]
}

impl Shell {
    /// How far out a board reaches whose front edge is or is not stripped.
    pub(super) fn front_of(&self, stripped: bool) -> f64 {
        if self.frameless && !stripped { self.front_plane } else { self.panel_front }
    }

    /// The front edge, where it is stripped.
    pub(super) fn strip_edge(&self, stripped: bool) -> Vec<Edge> {
        let strip = self.frameless && stripped && self.panel_front < self.front_plane;
        if strip { vec![Edge::Front] } else { Vec::new() }
    }
}
