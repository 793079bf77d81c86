//! How far is it from here to there? Between two picked corners, edges or faces, as the parts stand now.
//!
//! [`snap`] finds what a person points at on a piece, [`between`] measures: from parallel faces the distance square to
//! them, else the shortest. Room frame, mm. What was picked goes with its part when a drawer is moved.

use bevy::camera::Camera;
use bevy::picking::pointer::PointerButton;
use bevy::prelude::{App, Click, GlobalTransform, Move, On, Out, Pointer, Query, Res, ResMut, Resource, With};

use super::action::{Action, Asked};
use super::camera::{HALF_VIEW, SceneCamera};
use super::drag::Hand;
use super::explode::Exploded;
use super::frame;
use super::motion::Poses;
use super::scene::Body;
use super::shown::Shown;
use crate::clearance::nearest_points;
use crate::model::{Convex, Model, PartId, Vec3};
use crate::plan::Side;

/// A corner or an edge nearer to the mouse than this, in points, is what is meant.
const REACH_POINTS: f64 = 9.0;
/// Faces whose normals differ by less than this, in radians, are parallel: 0.01 mm over 600.
const PARALLEL: f64 = 2e-5;

/// What a person points at, where it is when its part is shut.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// A corner.
    Corner(Vec3),
    /// An edge, from end to end.
    Edge([Vec3; 2]),
    /// A face, its outline counter-clockwise seen from outside.
    Face(Vec<Vec3>),
}

impl Feature {
    /// Its corners.
    #[must_use]
    pub fn points(&self) -> &[Vec3] {
        match self {
            Self::Corner(at) => std::slice::from_ref(at),
            Self::Edge(ends) => ends,
            Self::Face(outline) => outline,
        }
    }

    /// What it is called.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Corner(_) => "corner",
            Self::Edge(_) => "edge",
            Self::Face(_) => "face",
        }
    }

    fn carried(&self, carry: impl Fn(Vec3) -> Vec3) -> Self {
        match self {
            Self::Corner(at) => Self::Corner(carry(*at)),
            Self::Edge(ends) => Self::Edge(ends.map(carry)),
            Self::Face(outline) => Self::Face(outline.iter().map(|&p| carry(p)).collect()),
        }
    }
}

/// One end of a measurement.
#[derive(Clone, Debug, PartialEq)]
pub struct Picked {
    /// On which part.
    pub part: PartId,
    /// What of it, where it is when the part is shut.
    pub feature: Feature,
}

impl Picked {
    /// The feature where its part stands now; `None` where the model no longer has the part.
    #[must_use]
    pub fn now(&self, model: &Model, outs: &[f64]) -> Option<Feature> {
        let part = model.parts.get(self.part.0)?;
        let Some(mover) = part.mover else { return Some(self.feature.clone()) };
        let out = outs.get(mover.0).copied().unwrap_or(0.0);
        Some(self.feature.carried(model.mover(mover).motion.carrier(out)))
    }
}

/// A distance that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Its two ends.
    pub points: [Vec3; 2],
    /// How long it is.
    pub distance: f64,
    /// Whether it was measured square to two parallel faces.
    pub square: bool,
    /// Its share along the run of the first pick, out from its wall, and up; none negative.
    pub shares: [f64; 3],
}

/// What `at`, a point on `piece`, is meant to be: a corner or an edge within `reach`, else the face.
#[must_use]
pub fn snap(piece: &Convex, at: Vec3, reach: f64) -> Feature {
    let off = |face: &[Vec3]| normal(face).map_or(f64::INFINITY, |n| n.dot(at - face[0]).abs());
    let faces = piece.faces();
    let Some(face) = faces.iter().min_by(|a, b| off(a).total_cmp(&off(b))) else { return Feature::Corner(at) };
    let corner = face.iter().min_by(|a, b| a.distance(at).total_cmp(&b.distance(at)));
    if let Some(&corner) = corner.filter(|corner| corner.distance(at) <= reach) {
        return Feature::Corner(corner);
    }
    let edges = (0..face.len()).map(|k| [face[k], face[(k + 1) % face.len()]]);
    let edge = edges.map(|edge| (from_edge(edge, at), edge)).min_by(|a, b| a.0.total_cmp(&b.0));
    match edge {
        Some((off, edge)) if off <= reach => Feature::Edge(edge),
        _ => Feature::Face(face.clone()),
    }
}

fn from_edge([a, b]: [Vec3; 2], at: Vec3) -> f64 {
    let along = b - a;
    let share = ((at - a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    (a + along * share).distance(at)
}

/// The unit normal of an outline.
fn normal(outline: &[Vec3]) -> Option<Vec3> {
    let [first, rest @ ..] = outline else { return None };
    let sum = rest.windows(2).fold(Vec3::ZERO, |sum, pair| sum + (pair[0] - *first).cross(pair[1] - *first));
    sum.try_normalize()
}

/// The distance of two features where they are, with its shares in the frame of `side`'s run.
#[must_use]
pub fn between(model: &Model, side: Side, a: &Feature, b: &Feature) -> Option<Measured> {
    let mut points = nearest_points(a.points(), b.points())?;
    let mut square = false;
    if let (Feature::Face(a), Feature::Face(b)) = (a, b)
        && let (Some(n), Some(m)) = (normal(a), normal(b))
        && n.cross(m).length() < PARALLEL
    {
        // From the point of the first that is nearest, straight across to the plane of the second.
        points[1] = points[0] - m * m.dot(points[0] - *b.first()?);
        square = true;
    }
    let by = points[1] - points[0];
    let run = model.run(side);
    let shares = [run.along, run.out, Vec3::Z].map(|axis| by.dot(axis).abs());
    Some(Measured { points, distance: by.length(), square, shares })
}

/// What is being measured.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Measuring {
    /// Whether a click picks instead of opening.
    pub on: bool,
    picks: Vec<Picked>,
    /// What the mouse points at.
    pub hovered: Option<Picked>,
}

impl Measuring {
    /// Begins or ends measuring.
    pub fn turn(&mut self, on: bool) {
        *self = Self { on, ..Self::default() };
    }

    /// Takes another pick; a third one begins anew.
    pub fn pick(&mut self, picked: Picked) {
        if self.picks.len() >= 2 {
            self.picks.clear();
        }
        self.picks.push(picked);
    }

    /// Drops what was picked; where nothing was, ends measuring.
    pub fn drop_picks(&mut self) {
        self.on = self.on && !self.picks.is_empty();
        self.picks.clear();
        self.hovered = None;
    }

    /// What was picked so far.
    #[must_use]
    pub fn picks(&self) -> &[Picked] {
        &self.picks
    }

    /// The distance between the two picks as everything stands now.
    #[must_use]
    pub fn measured(&self, model: &Model, outs: &[f64]) -> Option<Measured> {
        let [a, b] = self.picks.as_slice() else { return None };
        let side = model.parts.get(a.part.0)?.run.unwrap_or(Side::Left);
        between(model, side, &a.now(model, outs)?, &b.now(model, outs)?)
    }
}

/// Registers measuring.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Measuring>();
    app.add_observer(clicked).add_observer(moved).add_observer(left);
}

/// How far outside of `piece` the point `at` lies, by its faces' planes; negative inside.
fn stands_off(piece: &Convex, at: Vec3) -> f64 {
    let off = |face: &Vec<Vec3>| match face.as_slice() {
        [a, b, c, ..] => (*b - *a).cross(*c - *a).try_normalize().map(|out| out.dot(at - *a)),
        _ => None,
    };
    piece.faces().iter().filter_map(off).fold(f64::NEG_INFINITY, f64::max)
}

/// What a hit on `body` picks: `depth` from the eye, in a picture `high` points high.
fn picked(shown: &Shown, outs: &[f64], body: &Body, at: bevy::math::Vec3, depth: f32, high: f32) -> Option<Picked> {
    let model = shown.model();
    let part = model.parts.get(body.part.0)?;
    let now = frame::to_room(at);
    // Back to where it is when shut.
    let shut = match part.mover {
        Some(mover) => model.mover(mover).motion.carry(now, -outs.get(mover.0).copied().unwrap_or(0.0)),
        None => now,
    };
    let point_mm = f64::from(2.0 * HALF_VIEW.tan() * depth / high.max(1.0)) * 1000.0;
    // The hit lies on one of the part's pieces, give or take what f32 loses.
    let hit = part.pieces.iter().min_by(|a, b| stands_off(a, shut).total_cmp(&stands_off(b, shut)))?;
    let feature = snap(hit, shut, REACH_POINTS * point_mm);
    Some(Picked { part: body.part, feature })
}

#[derive(bevy::ecs::system::SystemParam)]
struct Pointing<'w, 's> {
    shown: Res<'w, Shown>,
    poses: Res<'w, Poses>,
    exploded: Res<'w, Exploded>,
    bodies: Query<'w, 's, &'static Body>,
    eyes: Query<'w, 's, (&'static Camera, &'static GlobalTransform), With<SceneCamera>>,
}

impl Pointing<'_, '_> {
    fn at(&self, entity: bevy::prelude::Entity, position: Option<bevy::math::Vec3>, depth: f32) -> Option<Picked> {
        // Parts that are drawn elsewhere are not where they seem to be.
        if self.exploded.is_apart() {
            return None;
        }
        let body = self.bodies.get(entity).ok()?;
        let (camera, _) = self.eyes.iter().next()?;
        let high = camera.logical_viewport_size()?.y;
        picked(&self.shown, &self.poses.outs(self.shown.model()), body, position?, depth, high)
    }
}

fn clicked(
    click: On<'_, '_, Pointer<Click>>,
    pointing: Pointing<'_, '_>,
    measuring: Res<'_, Measuring>,
    hand: Res<'_, Hand>,
    mut asked: ResMut<'_, Asked>,
) {
    let dragged = hand.was_dragged(click.pointer_location.position);
    if !measuring.on || dragged || click.button != PointerButton::Primary {
        return;
    }
    if let Some(picked) = pointing.at(click.entity, click.hit.position, click.hit.depth) {
        asked.0.push(Action::Pick(picked));
    }
}

fn moved(over: On<'_, '_, Pointer<Move>>, pointing: Pointing<'_, '_>, mut measuring: ResMut<'_, Measuring>) {
    if !measuring.on || pointing.bodies.get(over.entity).is_err() {
        return;
    }
    let hovered = pointing.at(over.entity, over.hit.position, over.hit.depth);
    if measuring.hovered != hovered {
        measuring.hovered = hovered;
    }
}

fn left(out: On<'_, '_, Pointer<Out>>, bodies: Query<'_, '_, &Body>, mut measuring: ResMut<'_, Measuring>) {
    if measuring.hovered.is_some() && bodies.get(out.entity).is_ok() {
        measuring.hovered = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance;
    use crate::model::Role;
    use crate::plan;

    fn board() -> Convex {
        Convex::block(Vec3::ZERO, Vec3::X * 600.0, Vec3::Y * 19.0, Vec3::Z * 200.0)
    }

    #[test]
    fn the_mouse_snaps_to_corners_then_edges_then_the_face() {
        let at = |x: f64, z: f64| snap(&board(), Vec3::new(x, 0.0, z), 8.0);
        assert_eq!(at(4.0, 197.0), Feature::Corner(Vec3::new(0.0, 0.0, 200.0)));
        let Feature::Edge(edge) = at(300.0, 195.0) else { panic!("an edge") };
        assert!(edge.iter().all(|p| (p.z - 200.0).abs() < 1e-9 && p.y.abs() < 1e-9));
        let Feature::Face(face) = at(300.0, 100.0) else { panic!("a face") };
        assert!(face.iter().all(|p| p.y.abs() < 1e-9) && face.len() == 4);
    }

    fn model() -> Model {
        let text = include_str!("../../assets/plans/glazing-corner.ron");
        clearance::answer(&plan::read("glazing-corner.ron", text).unwrap()).model
    }

    // Sizes in the plan: the first unit on the left is 800 wide, of 18 mm panels; its depth is 590.
    #[test]
    fn the_sides_of_a_unit_are_as_far_apart_as_the_plan_says() {
        let model = model();
        let is_side =
            |p: &&crate::model::Part| p.role == Role::CarcassSide && p.run == Some(Side::Left) && p.unit == Some(0);
        let sides: Vec<_> = model.parts.iter().filter(is_side).collect();
        let along = model.run(Side::Left).along;
        let outer = |part: &crate::model::Part, towards: f64| {
            // Of all pieces: joints cut a board into several, and a groove's floor lies deeper than the board's face.
            let faces = part.pieces.iter().flat_map(Convex::faces);
            let far = |f: &Vec<Vec3>| f.iter().map(|p| p.dot(along) * towards).fold(f64::INFINITY, f64::min);
            Feature::Face(faces.max_by(|a, b| far(a).total_cmp(&far(b))).unwrap())
        };
        let (near, far) = (outer(sides[0], -1.0), outer(sides[1], 1.0));
        let found = between(&model, Side::Left, &near, &far).unwrap();
        assert!(found.square && (found.distance - 800.0).abs() < 1e-6, "{found:?}");
        assert!((found.shares[0] - 800.0).abs() < 1e-6 && found.shares[1] < 1e-6 && found.shares[2] < 1e-6);
        let inner = (outer(sides[0], 1.0), outer(sides[1], -1.0));
        let found = between(&model, Side::Left, &inner.0, &inner.1).unwrap();
        assert!((found.distance - (800.0 - 2.0 * 18.0)).abs() < 1e-6);
    }

    #[test]
    fn what_was_picked_goes_with_its_drawer() {
        let model = model();
        let mover = &model.movers[0];
        let part = model.part(mover.parts[0]);
        let corner = part.pieces[0].vertices().next().unwrap();
        let pick = Picked { part: part.id, feature: Feature::Corner(corner) };
        let mut measuring = Measuring::default();
        measuring.turn(true);
        measuring.pick(pick.clone());
        let fixed = Picked { part: PartId(0), feature: Feature::Corner(corner) };
        let is_fixed = |p: &&crate::model::Part| p.mover.is_none();
        let fixed = Picked { part: model.parts.iter().find(is_fixed).unwrap().id, ..fixed };
        measuring.pick(fixed);
        let mut outs = vec![0.0; model.movers.len()];
        assert!(measuring.measured(&model, &outs).unwrap().distance < 1e-9);
        outs[0] = 123.0;
        let found = measuring.measured(&model, &outs).unwrap();
        assert!((found.distance - 123.0).abs() < 1e-6 && (found.shares[1] - 123.0).abs() < 1e-6);
        measuring.drop_picks();
        assert!(measuring.on && measuring.picks().is_empty());
        measuring.drop_picks();
        assert!(!measuring.on);
    }
}
