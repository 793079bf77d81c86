//! How is a model put together? The run frames first, then the room, the units, the corner and the countertop.

use super::measured::measured_frames;
use super::run::run_frames;
use super::{
    Convex, Fillers, Follows, Material, Model, Motion, Mover, MoverId, Part, PartId, Role, RuleClass, RunFrame,
    Setting, Surface, Vec3, Work,
};
use crate::plan::{Construction, Plan, Side};

impl Model {
    /// Builds every part of `plan` with these filler widths. Cannot fail: `plan` came from [`crate::plan::read`].
    #[must_use]
    pub fn build(plan: &Plan, fillers: Fillers) -> Self {
        Self::of(plan, fillers, true, None)
    }

    /// The same with every joint filled: quicker, and all that the search for fillers needs, since nothing ever touches
    /// the inside of a joint.
    #[must_use]
    pub fn build_filled(plan: &Plan, fillers: Fillers) -> Self {
        Self::of(plan, fillers, false, None)
    }

    /// With joints cut or not, in the room as it is nominally or, where `setting` says how that stands, as it was measured.
    pub(super) fn of(plan: &Plan, fillers: Fillers, joints: bool, setting: Option<&Setting>) -> Self {
        let (mut runs, mut room) = run_frames(plan, fillers);
        let mut measured = None;
        if let Some(setting) = setting {
            let found = measured_frames(plan, &mut runs, setting);
            (room, measured) = (found.0, Some(found.1));
        }
        let own = Side::BOTH.map(|side| plan.run(side).units.iter().map(|unit| plan.construction_of(unit)).collect());
        let mut builder = Builder {
            plan,
            built: &plan.construction,
            own: &own,
            runs,
            room,
            measured,
            joints,
            parts: Vec::new(),
            movers: Vec::new(),
        };
        builder.room();
        for side in Side::BOTH {
            builder.units(side);
        }
        builder.corner();
        builder.countertop();
        builder.fixtures();
        Self {
            name: plan.name.clone(),
            unit: plan.unit,
            fillers,
            run_angle_deg: plan.run_angle_deg(),
            room_shift: builder.room.shift,
            runs: builder.runs,
            wanted: plan.clearance.wanted.to_mm(),
            ajar: plan.clearance.ajar.to_mm(),
            parts: builder.parts,
            movers: builder.movers,
        }
    }
}

/// A piece of less than this, in mm³, is none: a board that the plan gives no thickness.
const LEAST_VOLUME: f64 = 1e-6;

/// Where the walls stand: see [`run_frames`].
#[derive(Clone, Copy, Debug)]
pub(super) struct RoomFrame {
    /// Where the two walls' faces meet on the floor.
    pub(super) corner: Vec3,
    /// Unit direction along each wall, left first.
    pub(super) along: [Vec3; 2],
    /// Unit direction out from each wall into the room.
    pub(super) out: [Vec3; 2],
    /// How far the room moves, in this frame, for each millimetre that the right filler grows.
    pub(super) shift: Vec3,
}

/// The walls as they were measured.
#[derive(Clone, Debug)]
pub(super) struct Measured {
    /// The left wall, then the right one.
    pub(super) surfaces: [Surface; 2],
    /// Where the walls at the far ends stand at three heights: see [`super::measured::wall_ends`].
    pub(super) ends: [[f64; 3]; 2],
}

/// What a new part is, less what the builder works out itself.
pub(super) struct NewPart<'a> {
    pub(super) name: &'a str,
    pub(super) role: Role,
    pub(super) material: Material,
    pub(super) grain: Option<Vec3>,
    pub(super) class: RuleClass,
    pub(super) pieces: Vec<Convex>,
    pub(super) work: Work,
    /// What is left on for fitting along its run, out from it and up, mm.
    pub(super) left_on: [f64; 3],
    /// Whether its thickness lies out from the run, however narrow it is.
    pub(super) lies_flat: bool,
    /// The pieces with every joint filled, where that is not the same.
    pub(super) outside: Option<Vec<Convex>>,
}

impl<'a> NewPart<'a> {
    /// A part with nothing done to it.
    pub(super) fn new(name: &'a str, role: Role, material: Material, class: RuleClass, pieces: Vec<Convex>) -> Self {
        let work = Work::default();
        let (grain, left_on, lies_flat, outside) = (None, [0.0; 3], false, None);
        Self { name, role, material, grain, class, pieces, work, left_on, lies_flat, outside }
    }

    /// The same with its grain along `grain`.
    pub(super) fn grain(self, grain: Vec3) -> Self {
        Self { grain: Some(grain), ..self }
    }

    /// The same with this work done to it.
    pub(super) fn work(self, work: Work) -> Self {
        Self { work, ..self }
    }

    /// The same with this left on for fitting along its run, out from it and up, mm.
    pub(super) fn left_on(self, left_on: [f64; 3]) -> Self {
        Self { left_on, ..self }
    }

    /// The same, its thickness out from the run even where it is narrower than that.
    pub(super) fn lying_flat(self) -> Self {
        Self { lies_flat: true, ..self }
    }

    /// The same, joined: `outside` are its pieces with every joint filled.
    pub(super) fn joined(self, outside: Vec<Convex>) -> Self {
        // Joints make more pieces of a board, never as many.
        let outside = (outside.len() != self.pieces.len()).then_some(outside);
        Self { outside, ..self }
    }
}

/// Whose part it is and how it goes about.
#[derive(Clone)]
pub(super) struct Place {
    pub(super) run: Option<Side>,
    pub(super) unit: Option<usize>,
    pub(super) follows: Follows,
    pub(super) mover: Option<MoverId>,
}

impl Place {
    /// A fixed part of `side`'s run.
    pub(super) fn unit(side: Side, unit: usize) -> Self {
        Self { run: Some(side), unit: Some(unit), follows: Follows::Run(side), mover: None }
    }

    /// The same, as a part of a drawer or door.
    pub(super) fn on(mut self, mover: MoverId) -> Self {
        self.mover = Some(mover);
        self
    }
}

/// A model in the making.
pub(super) struct Builder<'p> {
    pub(super) plan: &'p Plan,
    /// How what is being built is built: a unit as high as that is.
    built: &'p Construction,
    /// How each unit is built, left run first.
    own: &'p [Vec<Construction>; 2],
    pub(super) runs: [RunFrame; 2],
    pub(super) room: RoomFrame,
    /// The measured walls, where the room is the measured one.
    pub(super) measured: Option<Measured>,
    /// Whether joints are cut.
    pub(super) joints: bool,
    parts: Vec<Part>,
    movers: Vec<Mover>,
}

impl<'p> Builder<'p> {
    /// How what is being built is built.
    pub(super) fn construction(&self) -> &'p Construction {
        self.built
    }

    /// From here on a unit is built; or what belongs to none.
    pub(super) fn builds(&mut self, unit: Option<(Side, usize)>) {
        let own = unit.and_then(|(side, index)| self.own[usize::from(side == Side::Right)].get(index));
        self.built = own.unwrap_or(&self.plan.construction);
    }

    pub(super) fn run(&self, side: Side) -> &RunFrame {
        match side {
            Side::Left => &self.runs[0],
            Side::Right => &self.runs[1],
        }
    }

    /// Adds a part; pieces without volume, and parts without pieces, are left out.
    pub(super) fn add(&mut self, place: &Place, mut part: NewPart<'_>) {
        part.pieces.retain(|piece| piece.volume() > LEAST_VOLUME);
        if part.pieces.is_empty() {
            return;
        }
        let id = PartId(self.parts.len());
        if let Some(mover) = place.mover {
            self.movers[mover.0].parts.push(id);
        }
        let axes = place.run.map_or([Vec3::X, Vec3::Y], |side| [self.run(side).along, self.run(side).out]);
        let (size, left_on) = size_of(&part, [axes[0], axes[1], Vec3::Z]);
        self.parts.push(Part {
            id,
            name: part.name.to_owned(),
            role: part.role,
            material: part.material,
            grain: part.grain,
            run: place.run,
            unit: place.unit,
            class: part.class,
            follows: place.follows.clone(),
            mover: place.mover,
            size,
            pieces: part.pieces,
            work: Work { left_on, ..part.work },
            filled: part.outside,
        });
    }

    /// Starts a drawer or door; its parts are added with [`Place::on`].
    pub(super) fn mover(
        &mut self,
        name: String,
        side: Side,
        unit: usize,
        motion: Motion,
        pull: Option<usize>,
    ) -> MoverId {
        let id = MoverId(self.movers.len());
        self.movers.push(Mover {
            id,
            name,
            side,
            unit,
            motion,
            pull,
            behind: None,
            of_the_room: false,
            belongs_to: None,
            parts: Vec::new(),
        });
        id
    }

    /// The id that the next part gets.
    pub(super) fn next_part(&self) -> PartId {
        PartId(self.parts.len())
    }

    /// Says that `mover` is a drawer or door of `thing`, which stands in the room.
    pub(super) fn opens_opposite(&mut self, mover: MoverId, thing: PartId) {
        self.is_of_the_room(mover);
        self.movers[mover.0].belongs_to = Some(thing);
    }

    /// Says that `mover` is a door of the room.
    pub(super) fn is_of_the_room(&mut self, mover: MoverId) {
        self.movers[mover.0].of_the_room = true;
    }

    /// Says that `mover` stands behind `door`.
    pub(super) fn stands_behind(&mut self, mover: MoverId, door: MoverId) {
        self.movers[mover.0].behind = Some(door);
    }

    /// A box in `side`'s run: from and to along the run, out from the back plane, and up.
    pub(super) fn block(&self, side: Side, s: [f64; 2], n: [f64; 2], z: [f64; 2]) -> Convex {
        let frame = self.run(side);
        Convex::block(
            frame.at(s[0], n[0], z[0]),
            frame.along * (s[1] - s[0]),
            frame.out * (n[1] - n[0]),
            Vec3::Z * (z[1] - z[0]),
        )
    }
}

/// Overall length, width and thickness along `axes`: along the grain first where there is one, the rest largest first. What
/// is left on along each axis comes in the same order.
fn size_of(part: &NewPart<'_>, axes: [Vec3; 3]) -> ([f64; 3], [f64; 3]) {
    let mut sizes = [0, 1, 2].map(|k: usize| {
        let [low, high] = extent(&part.pieces, axes[k]);
        let along_grain = part.grain.is_some_and(|grain| grain.dot(axes[k]).abs() > 0.9);
        let thick = part.lies_flat && k == 1;
        (along_grain, thick, high - low, part.left_on[k])
    });
    sizes.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)).then(b.2.total_cmp(&a.2)));
    (sizes.map(|(_, _, size, _)| size), sizes.map(|(_, _, _, left_on)| left_on))
}

/// From where to where `pieces` reach along `axis`, mm.
pub(super) fn extent(pieces: &[Convex], axis: Vec3) -> [f64; 2] {
    let along = pieces.iter().flat_map(Convex::vertices).map(|v| v.dot(axis));
    along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
}
