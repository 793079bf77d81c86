//! Which parts are picked? In the lists of what is cut, or in the scene: both point at the same parts, and each shows what
//! was picked in the other.
//!
//! [`CutLists`] holds the lists, worked out once for each change of the plan, while their section is open. [`Pointed`] is
//! what is picked. In the scene it is told by its name, an outline that is seen through everything, and a coat.

use std::collections::BTreeSet;

use bevy::ecs::system::SystemParam;
use bevy::prelude::{
    App, DetectChanges as _, DetectChangesMut as _, GlobalTransform, IntoScheduleConfigs as _, Query, Res, ResMut,
    Resource, Update, Vec3 as BevyVec3,
};
use bevy_egui::egui::{Color32, Painter, Pos2, Rect, Stroke};

use super::action::{Action, Applied};
use super::camera::Flight;
use super::install::Standing;
use super::scene::{Body, Home, is_room};
use super::settings::Settings;
use super::shown::Shown;
use super::{ViewerSystems, frame, look, marks};
use crate::model::{Convex, Model, PartId};
use crate::report::cutting::Bench;

/// So many labels at most: more of them hide what they name.
const MOST_LABELS: usize = 4;

/// The lists for the bench, while they are on screen.
#[derive(Resource, Debug, Default)]
pub struct CutLists(pub Option<Bench>);

/// What is to be pointed out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// The parts of the row of the cut list with this number; the eye goes to them.
    Row(usize),
    /// A part that was clicked where it stands; the list comes to its row.
    Part(PartId),
    /// A part that was clicked in a list or drawing; the eye goes to it.
    Show(PartId),
    /// Nothing any more.
    Nothing,
}

/// What is picked.
#[derive(Resource, Clone, Debug, Default, PartialEq, Eq)]
pub struct Pointed {
    /// Number of its row in the cut list; none for a part that is not cut.
    pub row: Option<usize>,
    /// The one part that was meant, where it was not the whole row.
    pub part: Option<PartId>,
    /// All that are pointed out.
    pub parts: BTreeSet<PartId>,
    /// Their names: what stays the same when the plan changes.
    names: Vec<String>,
    /// Counts what was picked in the scene, so that the list comes to each once and then can be scrolled away.
    pub turn: u64,
}

impl Pointed {
    /// Whether nothing is picked.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// Whether this part is pointed out.
    #[must_use]
    pub fn has(&self, part: PartId) -> bool {
        self.parts.contains(&part)
    }

    /// Points out what `aim` says, of the lists of `model`.
    pub fn point(&mut self, model: &Model, bench: &Bench, aim: Aim) {
        match aim {
            Aim::Row(number) => self.point_at_row(bench, number),
            Aim::Part(part) => {
                self.point_at_part(model, bench, part);
                self.turn += 1;
            }
            Aim::Show(part) => self.point_at_part(model, bench, part),
            Aim::Nothing => *self = Self { turn: self.turn, ..Self::default() },
        }
    }

    fn point_at_row(&mut self, bench: &Bench, number: usize) {
        let Some(row) = bench.list.rows().find(|row| row.number == number) else { return };
        let parts = row.parts.iter().copied().collect();
        *self = Self { row: Some(number), part: None, parts, names: Vec::new(), turn: self.turn };
    }

    /// A wall, or the floor, is no part to be found in a list.
    fn point_at_part(&mut self, model: &Model, bench: &Bench, id: PartId) {
        let Some(part) = model.parts.get(id.0).filter(|part| !is_room(part.role)) else {
            *self = Self { turn: self.turn, ..Self::default() };
            return;
        };
        let row = bench.list.rows().find(|row| row.parts.contains(&id)).map(|row| row.number);
        let names = vec![part.name.clone()];
        *self = Self { row, part: Some(id), parts: BTreeSet::from([id]), names, turn: self.turn };
    }

    /// Keeps to the same parts, by their names, in a plan that changed; they may be others by their numbers.
    fn follow(&mut self, model: &Model, bench: &Bench) {
        let found = |name: &String| model.parts.iter().find(|part| part.name == *name).map(|part| part.id);
        let ids: Vec<PartId> = self.names.iter().filter_map(found).collect();
        match (self.part.is_some(), ids.first()) {
            (_, None) => *self = Self { turn: self.turn, ..Self::default() },
            (true, Some(&id)) => self.point_at_part(model, bench, id),
            (false, Some(&id)) => match bench.list.rows().find(|row| row.parts.contains(&id)) {
                Some(row) => self.point_at_row(bench, row.number),
                None => *self = Self { turn: self.turn, ..Self::default() },
            },
        }
    }

    fn note_names(&mut self, model: &Model) {
        let name = |id: &PartId| model.parts.get(id.0).map(|part| part.name.clone());
        self.names = self.parts.iter().filter_map(name).collect();
    }
}

impl Applied<'_> {
    /// What is asked of the lists, while they are open.
    pub(super) fn carry_out_on_lists(&mut self, action: &Action) {
        let Some(bench) = &self.lists.0 else { return };
        match *action {
            Action::Point(aim) => {
                self.pointed.point(self.shown.model(), bench, aim);
                // A part that was clicked where it stands is in the picture already.
                if matches!(aim, Aim::Row(_) | Aim::Show(_)) {
                    *self.flight = Flight::ToPointed;
                }
            }
            Action::LayOut(true) => self.layouts.begin(&bench.demand, &self.shown.plan().stock),
            Action::LayOut(false) => self.layouts.stop(),
            _ => {}
        }
    }
}

/// Registers what is picked.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Pointed>().init_resource::<CutLists>();
    app.add_systems(Update, keep.after(ViewerSystems::Solve).before(ViewerSystems::Rebuild));
}

/// Works the lists out while they are on screen, and again when the plan changed; what was picked stays picked.
fn keep(
    shown: Res<'_, Shown>,
    settings: Res<'_, Settings>,
    mut lists: ResMut<'_, CutLists>,
    mut pointed: ResMut<'_, Pointed>,
) {
    if !settings.lists_are_open() {
        if lists.0.is_some() {
            lists.0 = None;
        }
        pointed.set_if_neq(Pointed { turn: pointed.turn, ..Pointed::default() });
        return;
    }
    if lists.0.is_none() || shown.is_changed() {
        let bench = Bench::new(shown.model(), shown.plan());
        if !pointed.is_empty() {
            pointed.follow(shown.model(), &bench);
        }
        lists.0 = Some(bench);
    }
    if !pointed.is_empty() && pointed.names.len() != pointed.parts.len() {
        pointed.note_names(shown.model());
    }
}

/// Where what is picked is drawn: opened, pulled out or drawn apart.
#[derive(SystemParam)]
pub(super) struct Drawn<'w, 's> {
    shown: Res<'w, Shown>,
    pointed: Res<'w, Pointed>,
    standing: Standing<'w>,
    bodies: Query<'w, 's, (&'static Body, &'static Home, &'static GlobalTransform)>,
}

impl Drawn<'_, '_> {
    /// Whether this part is pointed out, by hand or by the step of the work.
    fn has(&self, model: &Model, id: PartId) -> bool {
        self.pointed.has(id) || model.parts.get(id.0).is_some_and(|part| self.standing.marks(part))
    }

    /// The outlines of the faces of every part that is pointed out.
    fn faces(&self) -> Vec<(PartId, Vec<Vec<BevyVec3>>)> {
        if self.pointed.is_empty() && self.standing.done().is_none() {
            return Vec::new();
        }
        let model = self.shown.model();
        let faces =
            self.bodies.iter().filter(|(body, ..)| self.has(model, body.part)).filter_map(|(body, home, at)| {
                let pieces = &model.parts.get(body.part.0)?.pieces;
                let placed = |outline: Vec<_>| {
                    outline.into_iter().map(|point| at.transform_point(frame::to_bevy(point) - home.0)).collect()
                };
                Some((body.part, pieces.iter().flat_map(Convex::faces).map(placed).collect()))
            });
        let mut faces: Vec<(PartId, Vec<Vec<BevyVec3>>)> = faces.collect();
        faces.sort_by_key(|(part, _)| *part);
        faces
    }

    /// Every corner of what is pointed out; of a piece on its way in, on all of that way.
    pub(super) fn points(&self) -> Vec<BevyVec3> {
        if let Some((parts, way)) = self.standing.way() {
            let parts = parts.iter().filter_map(|id| self.shown.model().parts.get(id.0));
            let corners: Vec<_> = parts.flat_map(|part| part.pieces.iter().flat_map(Convex::vertices)).collect();
            let carried = |pose: &crate::install::fit::Pose| {
                corners.iter().map(|&corner| frame::to_bevy(pose.carry(corner))).collect::<Vec<_>>()
            };
            return way.poses.iter().flat_map(carried).collect();
        }
        self.faces().into_iter().flat_map(|(_, faces)| faces.into_iter().flatten()).collect()
    }

    /// Draws outlines over the scene.
    pub(super) fn outline(&self, painter: &Painter, project: impl Fn(BevyVec3) -> Option<Pos2>) {
        for outline in self.faces().iter().flat_map(|(_, faces)| faces) {
            let mut points: Vec<Pos2> = outline.iter().filter_map(|&point| project(point)).collect();
            if points.len() == outline.len() {
                points.extend(points.first().copied());
                painter.line(points.clone(), Stroke::new(3.5, Color32::from_black_alpha(110)));
                painter.line(points, Stroke::new(1.5, look::POINTED));
            }
        }
    }

    /// Names what is outlined, clear of what is `taken`.
    pub(super) fn name(
        &self,
        painter: &Painter,
        scene: Rect,
        mut taken: Vec<Rect>,
        project: impl Fn(BevyVec3) -> Option<Pos2>,
    ) {
        let model = self.shown.model();
        let mut middles: Vec<(PartId, BevyVec3, f32)> = Vec::new();
        for (part, faces) in self.faces() {
            let (mut sum, mut count) = (BevyVec3::ZERO, 0.0);
            for &point in faces.iter().flatten() {
                sum += point;
                count += 1.0;
            }
            match middles.last_mut() {
                Some((last, total, all)) if *last == part => (*total, *all) = (*total + sum, *all + count),
                _ => middles.push((part, sum, count)),
            }
        }
        if let Some(lines) = self.standing.label() {
            // All of a step's parts belong together.
            let (sum, count) = middles.iter().fold((BevyVec3::ZERO, 0.0), |all, one| (all.0 + one.1, all.1 + one.2));
            if let Some(at) = (count > 0.0).then(|| project(sum / count)).flatten().filter(|at| scene.contains(*at)) {
                marks::draw_label(painter, scene, &mut taken, at, &lines, look::POINTED);
            }
            return;
        }
        for (k, (part, sum, count)) in middles.iter().take(MOST_LABELS).enumerate() {
            let Some(at) = project(*sum / count.max(1.0)).filter(|at| scene.contains(*at)) else { continue };
            let lines = self.label(model, *part, k, middles.len());
            marks::draw_label(painter, scene, &mut taken, at, &lines, look::POINTED);
        }
    }

    /// What stands at the part that is the `k`-th of `all`.
    fn label(&self, model: &Model, part: PartId, k: usize, all: usize) -> Vec<String> {
        let name = model.parts.get(part.0).map_or("", |part| part.name.as_str());
        let mut lines = vec![self.pointed.row.map_or_else(|| "Not cut".to_owned(), |row| format!("No. {row}"))];
        lines.push(name.to_owned());
        if k + 1 == MOST_LABELS && all > MOST_LABELS {
            lines.push(format!("and {} more, outlined", all - MOST_LABELS));
        }
        lines
    }
}
