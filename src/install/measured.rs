//! Where is the measured room, seen from a run's own frame? Walls, end walls and floor as functions of the place on the run.
//!
//! Takes the survey and a [`Setting`]: where the wall lines meet in the runs' frame and how they lie to it. A place is `s`
//! mm along a run from its corner, `n` mm out from its back plane and `z` mm above the highest point of the floor under
//! the runs (see [`crate::model::RunFrame`]). The end wall, which nobody surveys, is taken as square to its wall, and as
//! far out at each height as the wall was found long there.

use crate::model::{FloorSurface, Model, RunFrame, Setting, Surface, Vec3, wall_ends};
use crate::plan::{BaseboardTreatment, FarEnd, FloorLevel, Plan, Side};

/// Steps to where a line meets a wall; the error shrinks by the wall's slope times the turn each, far below a
/// hundredth.
const STEPS_TO_WALL: usize = 40;

/// The measured room in the runs' frame.
#[derive(Clone, Debug)]
pub struct Measured<'a> {
    plan: &'a Plan,
    model: &'a Model,
    /// Where it stands in the runs' frame.
    pub setting: Setting,
    surfaces: [Surface; 2],
    floor: FloorSurface,
    /// The level of the highest point of the floor under both runs.
    high: f64,
    /// Where the walls at the runs' far ends stand, at three heights.
    ends: [[f64; 3]; 2],
    /// Unit directions along both walls and out from them.
    along: [Vec3; 2],
    out: [Vec3; 2],
}

impl<'a> Measured<'a> {
    /// The room of `plan` around `model`, standing as `setting` says.
    #[must_use]
    pub fn new(plan: &'a Plan, model: &'a Model, setting: Setting) -> Self {
        let right = setting.turn + plan.room.angle_deg.to_radians();
        let along = [setting.turn, right].map(|angle| Vec3::new(angle.cos(), angle.sin(), 0.0));
        let out = [Vec3::new(-along[0].y, along[0].x, 0.0), Vec3::new(along[1].y, -along[1].x, 0.0)];
        let surfaces = Side::BOTH.map(|side| Surface::of(plan, side));
        let floor = FloorSurface::of(plan, setting);
        let ends = Side::BOTH.map(|side| wall_ends(plan, side));
        let level = Self { plan, model, setting, surfaces, floor, high: 0.0, ends, along, out };
        let high = Side::BOTH.map(|side| level.highest_under(side)[2]);
        Self { high: high[0].max(high[1]), ..level }
    }

    /// The highest place of the floor under `side`'s run: along its wall from the corner, out from that, and its height.
    #[must_use]
    pub fn highest_under(&self, side: Side) -> [f64; 3] {
        let run = self.run(side);
        let (near, far) = (run.corner_at.min(0.0), run.ends_at);
        let corners = [(near, 0.0), (far, 0.0), (far, run.depth), (near, run.depth)];
        let outline = corners.map(|(s, n)| run.at(s, n, 0.0));
        self.floor.highest(side, &outline).map_or([0.0; 3], |spot| {
            let [a, o] = self.on_wall(side, self.from_wall(spot.wall, spot.along, spot.out));
            [a, o, spot.level - self.high]
        })
    }

    /// The plan.
    #[must_use]
    pub fn plan(&self) -> &'a Plan {
        self.plan
    }

    /// The model.
    #[must_use]
    pub fn model(&self) -> &'a Model {
        self.model
    }

    /// The frame of `side`'s run.
    #[must_use]
    pub fn run(&self, side: Side) -> &'a RunFrame {
        self.model.run(side)
    }

    fn of<T>(pair: &[T; 2], side: Side) -> &T {
        match side {
            Side::Left => &pair[0],
            Side::Right => &pair[1],
        }
    }

    /// The point `a` along `side`'s wall line from the corner and `o` out from it, on z = 0.
    #[must_use]
    pub fn from_wall(&self, side: Side, a: f64, o: f64) -> Vec3 {
        self.setting.corner + *Self::of(&self.along, side) * a + *Self::of(&self.out, side) * o
    }

    /// How far along `side`'s wall line from the corner, and how far out from it, `p` lies.
    #[must_use]
    pub fn on_wall(&self, side: Side, p: Vec3) -> [f64; 2] {
        let p = p - self.setting.corner;
        [p.dot(*Self::of(&self.along, side)), p.dot(*Self::of(&self.out, side))]
    }

    /// How far `side`'s wall stands out from its line, `a` along it and `z` up.
    #[must_use]
    pub fn stands_out(&self, side: Side, a: f64, z: f64) -> f64 {
        Self::of(&self.surfaces, side).stands_out(a, z)
    }

    /// How far out from the back plane of `side`'s run its wall stands, `s` along the run and `z` up; negative where it
    /// lies behind.
    #[must_use]
    pub fn wall(&self, side: Side, s: f64, z: f64) -> f64 {
        let run = self.run(side);
        let facing = run.out.dot(*Self::of(&self.out, side));
        let mut n = 0.0;
        for _ in 0..STEPS_TO_WALL {
            let [a, o] = self.on_wall(side, run.at(s, n, 0.0));
            n -= (o - self.stands_out(side, a, z)) / facing;
        }
        n
    }

    /// How far along `side`'s run the wall at its far end stands, `n` out and `z` up; `None` where no wall is there.
    #[must_use]
    pub fn end_wall(&self, side: Side, n: f64, z: f64) -> Option<f64> {
        if self.plan.run(side).ends_at != FarEnd::Wall {
            return None;
        }
        let run = self.run(side);
        let [a, _] = self.on_wall(side, run.at(0.0, n, 0.0));
        Some((self.wall_length(side, z) - a) / run.along.dot(*Self::of(&self.along, side)))
    }

    /// How far along its line from the corner the wall at `side`'s end stands at that height: as measured at the floor, half
    /// way up and at the units' top, straight between.
    #[must_use]
    pub fn wall_length(&self, side: Side, z: f64) -> f64 {
        let [low, middle, high] = *Self::of(&self.ends, side);
        let part = (2.0 * z / self.plan.construction.height.to_mm()).clamp(0.0, 2.0);
        if part <= 1.0 { low + (middle - low) * part } else { middle + (high - middle) * (part - 1.0) }
    }

    /// Heights between which a wall goes straight up: of its readings, and of its measured lengths.
    #[must_use]
    pub fn heights(&self, side: Side) -> Vec<f64> {
        let survey = self.plan.room.survey.wall(side);
        let mut heights: Vec<f64> = survey.readings.iter().map(|reading| reading.height.to_mm()).collect();
        if survey.lengths.is_some() {
            let high = self.plan.construction.height.to_mm();
            heights.extend([0.0, high / 2.0, high]);
        }
        in_order(heights)
    }

    /// How far along its line `side`'s wall was read.
    #[must_use]
    pub fn read_at(&self, side: Side) -> Vec<f64> {
        let readings = &self.plan.room.survey.wall(side).readings;
        in_order(readings.iter().map(|reading| reading.along.to_mm()).collect())
    }

    /// Height of the floor at a place of `side`'s run.
    #[must_use]
    pub fn floor(&self, side: Side, s: f64, n: f64) -> f64 {
        let [a, o] = self.on_wall(side, self.run(side).at(s, n, 0.0));
        self.floor_by_wall(side, a, o)
    }

    /// Height of the floor `a` along `side`'s wall line and `o` out from it.
    #[must_use]
    pub fn floor_by_wall(&self, side: Side, a: f64, o: f64) -> f64 {
        self.floor.level(side, self.from_wall(side, a, o)) - self.high
    }

    /// Where levels of the floor were taken, as places of `side`'s run: along and out.
    #[must_use]
    pub fn levels_at(&self, side: Side) -> Vec<[f64; 2]> {
        let run = self.run(side);
        let levels = &self.plan.room.survey.floor;
        let of = if levels.iter().any(|level| level.wall == side) { side } else { side.other() };
        let place = |level: &FloorLevel| {
            let p = self.from_wall(of, level.along.to_mm(), level.out.to_mm());
            [p.dot(run.along), p.dot(run.out)]
        };
        levels.iter().filter(|level| level.wall == of).map(place).collect()
    }

    /// Thickness and height of the baseboard on the wall behind the runs, where it stays.
    #[must_use]
    pub fn baseboard(&self) -> Option<[f64; 2]> {
        let stays = self.plan.room.baseboard.filter(|board| board.treatment != BaseboardTreatment::Removed);
        stays.map(|board| [board.thickness.to_mm(), board.height.to_mm()])
    }

    /// The same of the baseboard on end walls, which only stays where the runs stand off by its thickness.
    #[must_use]
    pub fn end_baseboard(&self) -> Option<[f64; 2]> {
        let stays = self.plan.room.baseboard.filter(|board| board.treatment == BaseboardTreatment::Left);
        stays.map(|board| [board.thickness.to_mm(), board.height.to_mm()])
    }
}

/// In order, each once.
pub(super) fn in_order(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values.dedup();
    values
}
