//! What will stand in the room? The [`Model`]: every part as solid pieces, each where it will be.
//!
//! [`Model::build`] takes a valid [`crate::plan::Plan`] and two filler widths and cannot fail. It is the only geometry in the
//! program: the window draws these parts, the clearance check moves them, lists count them.
//!
//! Frame: millimetres, right-handed, z up, floor at z = 0, origin on the line where the two runs' back planes meet.
//! The left run goes along +x with its back on y = 0; the right run along (cos θ, sin θ), θ the run angle.
//!
//! What this does not do: it says nothing about whether a part may be where it is. That is [`crate::clearance`]'s.

mod appliance;
mod board;
mod build;
mod cabinet;
mod carcass;
pub mod convex;
mod corner;
mod curve;
mod drawer;
pub mod finish;
mod front;
mod hung;
mod level;
mod measured;
mod opposite;
mod role;
mod room;
mod run;
mod surface;
mod top;
pub mod weight;
mod work;

use serde::Serialize;

use crate::length::{Length, Unit};
use crate::plan::Side;
pub use convex::{Convex, Vec3};
pub use curve::{Curve, Extreme};
pub use hung::{hung_on, hung_on_note};
pub use level::{FloorSurface, HighSpot};
pub use measured::wall_ends;
pub use role::{Material, Role};
pub use surface::{Setting, Surface};
pub use work::{Bevel, Cutting, CuttingKind, Edge, Why, Work};

/// The two filler widths a model is built with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Fillers {
    /// The left run's.
    pub left: Length,
    /// The right run's.
    pub right: Length,
}

impl Fillers {
    /// The width on `side`.
    #[must_use]
    pub fn of(self, side: Side) -> Length {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }

    /// The same with `side`'s width changed.
    #[must_use]
    pub fn with(mut self, side: Side, width: Length) -> Self {
        match side {
            Side::Left => self.left = width,
            Side::Right => self.right = width,
        }
        self
    }
}

/// Index of a part in [`Model::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct PartId(pub usize);

/// Index of a moving part in [`Model::movers`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct MoverId(pub usize);

/// Everything that will stand in the room.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// The plan's name.
    pub name: String,
    /// The unit answers are printed in.
    pub unit: Unit,
    /// The widths it was built with.
    pub fillers: Fillers,
    /// The angle between the runs, in degrees.
    pub run_angle_deg: f64,
    /// The left run's frame, then the right one's.
    pub runs: [RunFrame; 2],
    /// Space a moving part must keep, in mm.
    pub wanted: f64,
    /// How far a shut front of the other run may stand out, in mm.
    pub ajar: f64,
    /// How far, in mm, the room moves in this frame for each millimetre that the right filler grows: zero where both
    /// runs stand along their walls.
    pub room_shift: Vec3,
    /// Every part; a [`PartId`] is an index into it.
    pub parts: Vec<Part>,
    /// Every drawer and door; a [`MoverId`] is an index into it.
    pub movers: Vec<Mover>,
}

impl Model {
    /// The frame of `side`'s run.
    #[must_use]
    pub fn run(&self, side: Side) -> &RunFrame {
        match side {
            Side::Left => &self.runs[0],
            Side::Right => &self.runs[1],
        }
    }

    /// The direction, and the distance in mm, a part moves as a whole for each millimetre that `side`'s filler grows.
    /// Parts that stretch or are made anew do not move as a whole: zero.
    #[must_use]
    pub fn shift(&self, part: &Part, side: Side) -> Vec3 {
        match part.follows {
            Follows::Run(of) if of == side => self.run(side).along,
            Follows::Shifts { side: of, by } if of == side => by,
            Follows::Run(_) | Follows::Shifts { .. } | Follows::Room | Follows::Stretch { .. } | Follows::Rebuilt => {
                Vec3::ZERO
            }
        }
    }

    /// The part with this id.
    #[must_use]
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.0]
    }

    /// The moving part with this id.
    #[must_use]
    pub fn mover(&self, id: MoverId) -> &Mover {
        &self.movers[id.0]
    }

    /// Whether `part` is the thing in the room whose drawer or door `mover` is, or any front of that: whoever made it has
    /// fitted them to each other.
    #[must_use]
    pub fn is_of_its_thing(&self, mover: &Mover, part: &Part) -> bool {
        let of = |id: MoverId| self.mover(id).belongs_to;
        mover.belongs_to.is_some_and(|thing| part.id == thing || part.mover.and_then(of) == Some(thing))
    }
}

/// Where one run stands. A point `s` mm from the corner along the run, `n` mm out from its back plane and `z` mm up is
/// `along·s + out·n + z`.
#[derive(Clone, Debug, PartialEq)]
pub struct RunFrame {
    /// Which run.
    pub side: Side,
    /// Unit direction along the run, away from the corner.
    pub along: Vec3,
    /// Unit direction out from the wall, into the room.
    pub out: Vec3,
    /// Distance from back plane to front plane, mm.
    pub depth: f64,
    /// Distance along the run at which the two front planes meet; the filler starts here, mm.
    pub corner_at: f64,
    /// Distance along the run of the first unit's near side, mm.
    pub starts_at: f64,
    /// Distance along the run of the last unit's far side, mm.
    pub ends_at: f64,
    /// Length of the wall behind it, from the corner of the room, mm.
    pub wall_length: f64,
    /// Unit direction along that wall, away from the corner of the room.
    pub wall_along: Vec3,
    /// What is left of that wall past the run's end, negative where the run is too long, mm.
    pub left_over: f64,
}

impl RunFrame {
    /// The point `s` along the run, `n` out from its back plane and `z` up.
    #[must_use]
    pub fn at(&self, s: f64, n: f64, z: f64) -> Vec3 {
        self.along * s + self.out * n + Vec3::Z * z
    }
}

/// One part: a board, a pull, a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its index.
    pub id: PartId,
    /// What a builder calls it, with its place: `left 1 drawer bank, top drawer front`.
    pub name: String,
    /// What it is.
    pub role: Role,
    /// What it is made of.
    pub material: Material,
    /// Unit direction of its grain, where it has one.
    pub grain: Option<Vec3>,
    /// The run it belongs to; for a wall or baseboard, the run that backs on to it.
    pub run: Option<Side>,
    /// Index of its unit in the run, from the corner.
    pub unit: Option<usize>,
    /// What other parts must keep from it.
    pub class: RuleClass,
    /// What it does when a filler grows.
    pub follows: Follows,
    /// The drawer or door it is a part of.
    pub mover: Option<MoverId>,
    /// Length, width and thickness in mm as fitted: the length along the grain where there is one, else the largest.
    pub size: [f64; 3],
    /// Its convex pieces, joints cut.
    pub pieces: Vec<Convex>,
    /// What is done to it before it goes in.
    pub work: Work,
    /// The pieces with every joint filled, where that is not the same; see [`Part::outside`].
    filled: Option<Vec<Convex>>,
}

impl Part {
    /// Its convex pieces with every dado, rabbet and groove filled: what else there is lies in those, so for the question
    /// what touches what these say the same in fewer pieces.
    #[must_use]
    pub fn outside(&self) -> &[Convex] {
        self.filled.as_deref().unwrap_or(&self.pieces)
    }

    /// Length, width and thickness as cut in the shop, mm: [`Part::size`] and what is left on for fitting.
    #[must_use]
    pub fn as_cut(&self) -> [f64; 3] {
        let [length, width, thickness] = self.size;
        let [a, b, c] = self.work.left_on;
        [length + a, width + b, thickness + c]
    }

    /// From where to where it reaches along the unit vector `axis`, mm from the origin.
    #[must_use]
    pub fn extent(&self, axis: Vec3) -> [f64; 2] {
        build::extent(&self.pieces, axis)
    }

    /// Its volume in mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.pieces.iter().map(Convex::volume).sum()
    }

    /// The middle of its bounding box.
    #[must_use]
    pub fn middle(&self) -> Vec3 {
        let (mut low, mut high) = (Vec3::splat(f64::INFINITY), Vec3::splat(f64::NEG_INFINITY));
        for v in self.pieces.iter().flat_map(Convex::vertices) {
            low = low.min(v);
            high = high.max(v);
        }
        (low + high) / 2.0
    }
}

/// Which table row a part falls in: what a moving part must keep from it.
///
/// | class | from a moving part of the other run | from a moving part of its own run |
/// |---|---|---|
/// | `Run` | clearance wanted | no overlap |
/// | `Appliance` | clearance wanted | no overlap |
/// | `Wall` | clearance wanted | no overlap |
/// | `Standing` | clearance wanted | clearance wanted |
/// | `Floor`, `Countertop`, `Hidden` | no overlap | no overlap |
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RuleClass {
    /// A part of a run: front, pull, carcass, frame, filler face, kick.
    Run,
    /// An appliance that stands in a run.
    Appliance,
    /// A wall that a run backs on to, with its baseboard.
    Wall,
    /// An end wall, casing or obstacle.
    Standing,
    /// The floor.
    Floor,
    /// The countertop.
    Countertop,
    /// A block behind a filler face or kick cover, which nothing can meet before it meets those.
    Hidden,
}

/// What a part does when a filler grows.
#[derive(Clone, Debug, PartialEq)]
pub enum Follows {
    /// It stays.
    Room,
    /// It moves along that run by as much.
    Run(Side),
    /// It moves by this, in mm, for each millimetre that filler grows: the room, seen from runs that are not set
    /// along both walls.
    Shifts {
        /// Which filler.
        side: Side,
        /// How far and where to.
        by: Vec3,
    },
    /// Its far end moves along that run by as much, its near end stays at the corner.
    Stretch {
        /// Which filler.
        side: Side,
        /// The filler width above which the part exists in this shape, mm; negative where it always does.
        least: f64,
        /// For each piece, which of its vertices (in [`Convex::vertices`] order) move.
        moves: Vec<Vec<bool>>,
    },
    /// It is made anew for each width, and no moving part can meet it.
    Rebuilt,
}

/// A drawer or a door: parts that move as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Mover {
    /// Its index.
    pub id: MoverId,
    /// What a builder calls it: `left 1, top drawer`.
    pub name: String,
    /// Its run.
    pub side: Side,
    /// Index of its unit in the run.
    pub unit: usize,
    /// How it moves.
    pub motion: Motion,
    /// Its pull: an index into [`crate::plan::Plan::pulls`]; `None` for what has none of the plan's.
    pub pull: Option<usize>,
    /// The door that it stands behind, and that must be open before it moves.
    pub behind: Option<MoverId>,
    /// Whether it is a door of the room, or of something opposite, and no part of a run; its side is that of the wall it
    /// is in or opens to.
    pub of_the_room: bool,
    /// What stands in the room whose drawer or door it is; `None` for all of a run, and for a door of the room.
    pub belongs_to: Option<PartId>,
    /// Its parts.
    pub parts: Vec<PartId>,
}

/// Where a pull stands on its front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullExtent {
    /// Unit direction out from the front.
    pub out: Vec3,
    /// How far out the front's face lies, from the line the room frame starts at, mm.
    pub face: f64,
    /// From the face to the pull's farthest point, mm.
    pub projection: f64,
}

impl PullExtent {
    /// Where `pull` stands; `None` for a part that is no pull.
    #[must_use]
    pub fn of(model: &Model, pull: &Part) -> Option<Self> {
        let (run, mover) = (pull.run?, pull.mover?);
        let front = model.mover(mover).parts.iter().map(|&id| model.part(id));
        let front = front.into_iter().find(|p| matches!(p.role, Role::DrawerFront | Role::DoorFront))?;
        let out = model.run(run).out;
        let farthest = |part: &Part| {
            part.pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(out)).fold(f64::NEG_INFINITY, f64::max)
        };
        let face = farthest(front);
        Some(Self { out, face, projection: farthest(pull) - face })
    }
}

/// How a drawer or door moves from where it is shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Motion {
    /// Straight out.
    Slide {
        /// Unit direction.
        direction: Vec3,
        /// How far, mm.
        travel: f64,
    },
    /// About a line: upright for a door, level for one that lifts up or drops down.
    Swing {
        /// A point of that line.
        hinge: Vec3,
        /// Its unit direction; turning is right-handed about it.
        axis: Vec3,
        /// How far, in radians from shut.
        angle: f64,
    },
}

impl Motion {
    /// Its whole extent: mm for a slide, radians for a swing.
    #[must_use]
    pub fn extent(&self) -> f64 {
        match *self {
            Self::Slide { travel, .. } => travel,
            Self::Swing { angle, .. } => angle,
        }
    }

    /// Where `point` is when the part is `out` mm or radians open.
    #[must_use]
    pub fn carry(&self, point: Vec3, out: f64) -> Vec3 {
        self.carrier(out)(point)
    }

    /// Carries points to where they are when the part is `out` mm or radians open.
    pub fn carrier(&self, out: f64) -> impl Fn(Vec3) -> Vec3 + use<> {
        let motion = *self;
        let (sin, cos) = out.sin_cos();
        move |point| match motion {
            Self::Slide { direction, .. } => point + direction * out,
            Self::Swing { hinge, axis, .. } => {
                // Rodrigues' rotation formula.
                let r = point - hinge;
                hinge + r * cos + axis.cross(r) * sin + axis * (axis.dot(r) * (1.0 - cos))
            }
        }
    }
}
