//! From where does one look? Named views of any plan, each with the eye clear of everything solid.
//!
//! [`Viewpoint::view`] frames what the view is of, for a picture so much wider than high, from where one would wish to
//! look; where that place is inside a wall or hides the corner, from the next one round or up that is not. Everything
//! counts as it stands shut. [`around`] goes round the corner in steps, for a sequence of pictures.
//!
//! Points are in Bevy's frame (m, y up) once they are framed, in the room's (mm, z up) before.

use bevy::math::Vec3;

use super::camera::{self, PITCH, View, fitted, yaw_from};
use super::frame;
use super::scene::{looked_at, passes_through};
use crate::model::{Convex, Model, Part, Role, RunFrame, Vec3 as RoomVec3};
use crate::plan::Side;

/// Height of a standing person's eye, mm. Common practice, no source; grown people differ by a hand's breadth each way.
pub const EYE_HEIGHT: f64 = 1_600.0;
/// The eye keeps at least this far from everything solid, mm, so that nothing is cut open by the lens.
const KEEPS_OFF: f64 = 60.0;
/// No more of a run than this is framed along it, mm.
const LONGEST_FRAMED: f64 = 4_000.0;
/// How far out from the front plane fronts and pulls reach, mm, near enough for framing.
const FRONTS_OUT: f64 = 60.0;
/// How far down the eye looks along a run, from close by, and from above, radians.
const PITCH_ALONG: f32 = 0.34;
const PITCH_CLOSE: f32 = 0.60;
const PITCH_ABOVE: f32 = 1.50;
/// How far round and up other places are tried, radians.
const STEP_ROUND: f32 = 0.1;
const STEPS_ROUND: u8 = 9;
/// So many steps round are better than a wall that has to fade.
const STEPS_TO_SEE_ALL: u8 = 4;
const STEP_UP: f32 = 0.15;
const STEPS_UP: u8 = 8;
/// A standing person comes no nearer and steps back no farther than this from where the fronts meet, mm.
const NEAREST_STAND: f64 = 1_500.0;
const FARTHEST_STAND: f64 = 6_000.0;
/// The path round the corner reaches this far to each side at most, radians.
const AROUND_REACH: f32 = 0.95;
/// A way shorter than this, in radians, shows too little: rather from higher up.
const LEAST_WAY: f32 = 0.6;

/// A named way to look at the corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Viewpoint {
    /// Both runs, from the middle of the room and above.
    WholeCorner,
    /// As a person sees it who stands before the corner.
    Standing,
    /// Where the fronts meet.
    Close,
    /// The left run, from its far end toward the corner.
    AlongLeft,
    /// The right run.
    AlongRight,
    /// Straight down.
    Above,
}

impl Viewpoint {
    /// All, in the order of their buttons.
    pub const ALL: [Self; 6] =
        [Self::WholeCorner, Self::Standing, Self::Close, Self::AlongLeft, Self::AlongRight, Self::Above];

    /// What its button says, and what it is called on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::WholeCorner => "Whole corner",
            Self::Standing => "Standing",
            Self::Close => "Close",
            Self::AlongLeft => "Along the left",
            Self::AlongRight => "Along the right",
            Self::Above => "From above",
        }
    }

    /// What one sees, in a sentence.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::WholeCorner => "Both runs, from the middle of the room",
            Self::Standing => "As you see it when you stand before the corner",
            Self::Close => "Where the two runs meet",
            Self::AlongLeft => "The left run, toward the corner",
            Self::AlongRight => "The right run, toward the corner",
            Self::Above => "Straight down, as on a floor plan",
        }
    }

    /// The view with this name; capitals, and hyphens for spaces, do not matter.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let plain = |text: &str| text.trim().to_lowercase().replace(['-', '_'], " ");
        Self::ALL.into_iter().find(|this| plain(this.word()) == plain(name))
    }

    /// The points that are in the picture, in Bevy's frame.
    #[must_use]
    pub fn framed(self, model: &Model) -> Vec<Vec3> {
        let top = top(model);
        let points: Vec<RoomVec3> = match self {
            Self::WholeCorner | Self::Above => return View::corner_points(model),
            Self::Standing => model
                .runs
                .iter()
                .flat_map(|run| box_of(run, [run.corner_at, (run.starts_at + 900.0).min(run.ends_at)], [0.0, top]))
                .collect(),
            Self::Close => model
                .runs
                .iter()
                .flat_map(|run| box_of(run, [run.corner_at, run.starts_at + 220.0], [(top - 450.0).max(0.0), top]))
                .collect(),
            Self::AlongLeft => along(model, Side::Left, top),
            Self::AlongRight => along(model, Side::Right, top),
        };
        points.into_iter().map(frame::to_bevy).collect()
    }

    /// Where to look from, in a picture that is `aspect` times as wide as high.
    #[must_use]
    pub fn view(self, model: &Model, aspect: f32) -> View {
        let [left, right] = &model.runs;
        let middle = left.along + right.along;
        // Along a run, one stands well out from its fronts and looks back at the corner.
        let beside = |run: &RunFrame| yaw_from(run.along * 0.7 + run.out);
        let (yaw, pitch) = match self {
            Self::WholeCorner => (yaw_from(middle), PITCH),
            Self::Close => (yaw_from(middle), PITCH_CLOSE),
            Self::Above => (yaw_from(middle), PITCH_ABOVE),
            Self::AlongLeft => (beside(left), PITCH_ALONG),
            Self::AlongRight => (beside(right), PITCH_ALONG),
            Self::Standing => return standing(model, &self.framed(model), aspect),
        };
        clear_view(model, &self.framed(model), yaw, pitch, aspect)
    }
}

/// `count` views round the corner, from the left hand to the right hand of a person who faces it.
///
/// All are at one height over the horizon and clear of everything solid. Where walls leave room for it, none has to fade; the way is as long as
/// they let it be.
#[must_use]
pub fn around(model: &Model, count: usize, aspect: f32) -> Vec<View> {
    let points = View::corner_points(model);
    let [left, right] = &model.runs;
    let middle = yaw_from(left.along + right.along);
    // Which way round the left hand lies, of a person who faces the corner.
    let toward_left = short_way(yaw_from(left.along) - middle).signum();
    let at = |aside: f32, pitch: f32| fitted(&points, middle + toward_left * aside, pitch, aspect);
    let watched = looked_at(model);
    for sees_all in [true, false] {
        for up in 0..STEPS_UP {
            let pitch = (PITCH + f32::from(up) * STEP_UP).min(PITCH_ABOVE);
            let is_good = |aside: f32| {
                let view = at(aside, pitch);
                is_clear(model, &view)
                    && if sees_all { sees(model, &view, &watched) } else { sees_corner(model, &view) }
            };
            let Some([from, to]) = longest_way(is_good).filter(|[from, to]| from - to >= LEAST_WAY) else { continue };
            let share = |k: usize| if count > 1 { k as f32 / (count - 1) as f32 } else { 0.5 };
            let asides: Vec<f32> = (0..count).map(|k| from + (to - from) * share(k)).collect();
            if asides.iter().all(|&aside| is_good(aside)) {
                return asides.into_iter().map(|aside| at(aside, pitch)).collect();
            }
        }
    }
    // From above nothing is in the way.
    (0..count).map(|k| at(AROUND_REACH * (1.0 - 2.0 * k as f32 / count.max(2) as f32), PITCH_ABOVE)).collect()
}

/// The longest stretch of angles, from the left hand to the right, where every step is good.
fn longest_way(is_good: impl Fn(f32) -> bool) -> Option<[f32; 2]> {
    const STEPS: i16 = 20;
    let mut longest: Option<[f32; 2]> = None;
    let mut from: Option<f32> = None;
    for k in 0..=2 * STEPS {
        let aside = AROUND_REACH * f32::from(STEPS - k) / f32::from(STEPS);
        if !is_good(aside) {
            from = None;
            continue;
        }
        let start = *from.get_or_insert(aside);
        if longest.is_none_or(|[a, b]| a - b < start - aside) {
            longest = Some([start, aside]);
        }
    }
    longest
}

fn short_way(angle: f32) -> f32 {
    let whole = std::f32::consts::TAU;
    angle - (angle / whole).round() * whole
}

/// The highest point of what is built at the corner, mm: the countertop's, or that of carcasses that no tall one is.
fn top(model: &Model) -> f64 {
    let tops = |role: Role| {
        let own = model.parts.iter().filter(move |part| part.role == role);
        own.map(|part| part.extent(RoomVec3::Z)[1])
    };
    let top = tops(Role::Countertop).reduce(f64::max).or_else(|| tops(Role::CarcassSide).reduce(f64::min));
    top.map_or(300.0, |top| top.max(300.0))
}

/// The corners of a stretch of a run's fronts.
fn box_of(run: &RunFrame, s: [f64; 2], z: [f64; 2]) -> Vec<RoomVec3> {
    let out = run.depth + FRONTS_OUT;
    s.into_iter().flat_map(|s| z.map(|z| run.at(s, out, z))).collect()
}

fn along(model: &Model, side: Side, top: f64) -> Vec<RoomVec3> {
    let run = model.run(side);
    box_of(run, [run.corner_at, run.ends_at.min(run.corner_at + LONGEST_FRAMED)], [0.0, top])
}

/// Where the two front planes meet, at the top of the fronts.
fn corner_of(model: &Model) -> RoomVec3 {
    let run = model.run(Side::Left);
    run.at(run.corner_at, run.depth, top(model) - 60.0)
}

/// What the eye must not be in and must not look through: all but the countertop's and the fronts' own surfaces, which
/// the corner itself is made of.
fn hides(part: &Part) -> bool {
    matches!(part.role, Role::Wall | Role::EndWall | Role::Casing | Role::Obstacle | Role::Appliance)
}

/// Whether the eye of this view is outside everything solid.
#[must_use]
pub fn is_clear(model: &Model, view: &View) -> bool {
    let eye = frame::to_room(view.transform().translation);
    eye.z > KEEPS_OFF && !model.parts.iter().flat_map(|part| &part.pieces).any(|piece| is_near(piece, eye))
}

/// Whether `point` is in `piece` or within [`KEEPS_OFF`] of its faces' planes.
fn is_near(piece: &Convex, point: RoomVec3) -> bool {
    piece.faces().iter().all(|face| {
        let [a, b, c, ..] = face.as_slice() else { return true };
        let normal = (*b - *a).cross(*c - *a).normalize_or_zero();
        normal.dot(point - *a) < KEEPS_OFF
    })
}

/// Whether no wall, obstacle or appliance stands between the eye and where the fronts meet.
fn sees_corner(model: &Model, view: &View) -> bool {
    sees(model, view, &[corner_of(model)])
}

/// Whether no such thing stands between the eye and any of the points, so that nothing has to fade.
fn sees(model: &Model, view: &View, points: &[RoomVec3]) -> bool {
    let eye = frame::to_room(view.transform().translation);
    let hiding = || model.parts.iter().filter(|part| hides(part)).flat_map(|part| &part.pieces);
    points.iter().all(|&point| !hiding().any(|piece| passes_through(piece, eye, point)))
}

/// The view nearest to the one wished for whose eye is clear and sees both runs, or at least the corner; where there is
/// none, one that is clear.
fn clear_view(model: &Model, points: &[Vec3], yaw: f32, pitch: f32, aspect: f32) -> View {
    let places = move |up: u8, round: u8| {
        (0..=up).flat_map(move |up| {
            let pitch = (pitch + f32::from(up) * STEP_UP).min(PITCH_ABOVE);
            (0..=round)
                .flat_map(|round| [f32::from(round), -f32::from(round)])
                .map(move |round| (yaw + round * STEP_ROUND, pitch))
        })
    };
    let views = |up, round| places(up, round).map(|(yaw, pitch)| fitted(points, yaw, pitch, aspect));
    let watched = looked_at(model);
    views(0, STEPS_TO_SEE_ALL)
        .find(|view| is_clear(model, view) && sees(model, view, &watched))
        .or_else(|| views(STEPS_UP, STEPS_ROUND).find(|view| is_clear(model, view) && sees_corner(model, view)))
        .or_else(|| views(STEPS_UP, STEPS_ROUND).find(|view| is_clear(model, view)))
        .unwrap_or_else(|| fitted(points, yaw, PITCH_ABOVE, aspect))
}

/// From eye height, so far back that all points are in the picture; a step to the side where something stands there.
fn standing(model: &Model, points: &[Vec3], aspect: f32) -> View {
    let [left, right] = &model.runs;
    let corner = left.at(left.corner_at, left.depth, 0.0);
    let middle = left.along + right.along;
    let wished = middle.y.atan2(middle.x);
    let steps = (0..=STEPS_ROUND).flat_map(|k| [f64::from(k), -f64::from(k)]);
    for aside in steps {
        let angle = wished + aside * f64::from(STEP_ROUND);
        let from = RoomVec3::new(angle.cos(), angle.sin(), 0.0);
        let mut back = NEAREST_STAND;
        while back < FARTHEST_STAND {
            let eye = frame::to_bevy(corner + from * back + RoomVec3::Z * EYE_HEIGHT);
            let view = toward(points, eye);
            if camera::contains(&view, points, aspect) {
                if is_clear(model, &view) && sees_corner(model, &view) {
                    return view;
                }
                break;
            }
            back *= 1.04;
        }
    }
    clear_view(model, points, yaw_from(middle), PITCH, aspect)
}

/// Looks from `eye` at the middle of the cone that holds `points`.
fn toward(points: &[Vec3], eye: Vec3) -> View {
    let middle = points.iter().sum::<Vec3>() / points.len().max(1) as f32;
    let yaw = (eye.x - middle.x).atan2(eye.z - middle.z);
    let down = |p: &Vec3| {
        let flat = Vec3::new(eye.x - p.x, 0.0, eye.z - p.z).length();
        (eye.y - p.y).atan2(flat)
    };
    let (low, high) = points.iter().map(down).fold((f32::MAX, f32::MIN), |(l, h), a| (l.min(a), h.max(a)));
    let pitch = f32::midpoint(low, high);
    let radius = eye.distance(middle);
    let view = View { focus: Vec3::ZERO, yaw, pitch, radius };
    // The focus lies where the eye looks, as far off as the points are.
    View { focus: eye - view.transform().translation, ..view }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{clearance, plan};

    const PLANS: [(&str, &str); 5] = [
        ("glazing-corner.ron", include_str!("../../assets/plans/glazing-corner.ron")),
        ("bay-seat.ron", include_str!("../../assets/plans/bay-seat.ron")),
        ("old-house.ron", include_str!("../../assets/plans/old-house.ron")),
        ("potting-shed.ron", include_str!("../../assets/plans/potting-shed.ron")),
        ("print-room.ron", include_str!("../../assets/plans/print-room.ron")),
    ];

    fn models() -> impl Iterator<Item = (&'static str, Model)> {
        PLANS.iter().map(|&(name, text)| (name, clearance::answer(&plan::read(name, text).unwrap()).model))
    }

    #[test]
    fn every_view_of_every_example_has_its_eye_in_the_open_and_its_subject_in_the_picture() {
        for (name, model) in models() {
            for viewpoint in Viewpoint::ALL {
                for aspect in [0.9, 1.3, 1.78, 2.4] {
                    let view = viewpoint.view(&model, aspect);
                    let what = format!("{name}, {} at {aspect}", viewpoint.word());
                    assert!(is_clear(&model, &view), "{what}: the eye is in something");
                    assert!(sees_corner(&model, &view), "{what}: something hides the corner");
                    assert!(camera::contains(&view, &viewpoint.framed(&model), aspect), "{what}: not all is framed");
                    let corner = [frame::to_bevy(corner_of(&model))];
                    assert!(camera::contains(&view, &corner, aspect), "{what}: the corner is not in the picture");
                    assert!((0.15..12.0).contains(&view.radius) && view.pitch < 1.55, "{what}: {view:?}");
                }
            }
        }
    }

    #[test]
    fn a_standing_eye_is_at_eye_height() {
        for (name, model) in models() {
            let eye = frame::to_room(Viewpoint::Standing.view(&model, 1.6).transform().translation);
            assert!((eye.z - EYE_HEIGHT).abs() < 1.0, "{name}: {eye:?}");
        }
    }

    #[test]
    fn the_way_round_goes_from_left_to_right_and_through_nothing() {
        for (name, model) in models() {
            let views = around(&model, 9, 1.6);
            assert_eq!(views.len(), 9);
            for view in &views {
                assert!(is_clear(&model, view) && sees_corner(&model, view), "{name}: {view:?}");
            }
            // On the left hand the eye is farther along the left wall than along the right.
            let eye = |view: &View| frame::to_room(view.transform().translation);
            let (first, last) = (eye(&views[0]), eye(&views[8]));
            let [left, right] = &model.runs;
            assert!(
                first.dot(left.along) - first.dot(right.along) > last.dot(left.along) - last.dot(right.along),
                "{name}"
            );
        }
    }

    #[test]
    fn names_are_taken_as_one_types_them() {
        assert_eq!(Viewpoint::named("along-the-left"), Some(Viewpoint::AlongLeft));
        assert_eq!(Viewpoint::named(" From Above"), Some(Viewpoint::Above));
        assert_eq!(Viewpoint::named("below"), None);
    }
}
