//! Which pieces go in among others, and what stands there then? From the model's parts to sections.
//!
//! A part's outline in a section is the projection of its convex pieces that reach the piece's own thickness there: exact for
//! boards square to the section, otherwise too large and so on the safe side.
//!
//! When: shelves and drawer boxes before the fronts of their own unit, beside the other run with its fronts on; filler faces
//! among all fronts; kick covers last, under everything. Of two pieces that meet in the corner the lapping one goes first.
//! Common practice, no source.

use super::{Before, Entry, Exit, Flat, Outline, Passage, Piece, Place, Pose, Section, Seen, TOUCH, TurnIn, Way};
use crate::model::{Convex, Model, Part, PartId, Role, RunFrame, Vec3, Why};
use crate::plan::{Plan, ShelfJoint, Side};

/// Every piece that goes to its place among others.
#[must_use]
pub fn turning_in(plan: &Plan, model: &Model) -> Vec<TurnIn> {
    let mut pieces = Vec::new();
    for side in Side::BOTH {
        let run = Run { plan, model, side, frame: model.run(side) };
        pieces.extend(run.shelves());
        pieces.extend(run.drawer_boxes());
    }
    for role in [Role::FillerFace, Role::KickCover] {
        for side in [plan.corner.laps, plan.corner.laps.other()] {
            let run = Run { plan, model, side, frame: model.run(side) };
            let own = model.parts.iter().filter(|part| part.role == role && part.run == Some(side));
            pieces
                .extend(own.map(|part| if role == Role::KickCover { run.kick_cover(part) } else { run.filler(part) }));
        }
    }
    pieces
}

/// One run of the model.
struct Run<'m> {
    plan: &'m Plan,
    model: &'m Model,
    side: Side,
    frame: &'m RunFrame,
}

/// A section with what stands in it, and the directions of its plane.
struct View {
    seen: Seen,
    section: Section,
    /// Of which part each of the section's obstacles is.
    obstacles: Vec<PartId>,
    /// All that stands there.
    among: Vec<PartId>,
    axes: [Vec3; 3],
    /// The middle of the piece square to the section.
    level: f64,
    /// How far and where to it leaves the section from the last pose.
    leaves: Vec3,
}

impl Run<'_> {
    fn shelves(&self) -> Vec<TurnIn> {
        if matches!(self.plan.joinery.shelves, ShelfJoint::Fixed(_)) {
            return Vec::new();
        }
        let is_shelf = |part: &&Part| part.role == Role::Shelf && part.run == Some(self.side);
        let shelves: Vec<&Part> = self.model.parts.iter().filter(is_shelf).collect();
        // A shelf's own strip is the one that is named for it.
        let group = |shelf: &Part| {
            let own = |p: &&Part| {
                p.id == shelf.id
                    || (p.role == Role::EdgeStrip && p.name.starts_with(&shelf.name) && p.unit == shelf.unit)
            };
            self.model.parts.iter().filter(own).map(|p| p.id).collect::<Vec<_>>()
        };
        let groups: Vec<Vec<PartId>> = shelves.iter().map(|shelf| group(shelf)).collect();
        let tried = |(k, shelf): (usize, &&Part)| {
            let parts = groups.get(k)?;
            // Those above come later.
            let later: Vec<PartId> = groups.iter().skip(k).flatten().copied().collect();
            let among = |before: Before, measured: bool| {
                let there = |part: &Part| part.mover.is_none() && !later.contains(&part.id) && stands(part, before);
                let straight: Vec<View> =
                    [Seen::Above, Seen::End].into_iter().filter_map(|seen| self.view(parts, seen, &there)).collect();
                let through = self.view(parts, Seen::Room, &there);
                self.judge(Piece::Shelf, &shelf.name, parts, &straight, through.as_ref(), before, measured)
            };
            Some(first_that_goes([Before::Nothing, Before::ShelfFrame], among))
        };
        shelves.iter().enumerate().filter_map(tried).collect()
    }

    fn drawer_boxes(&self) -> Vec<TurnIn> {
        let own = self.model.movers.iter().filter(|mover| mover.side == self.side);
        own.filter_map(|mover| {
            let boards =
                |id: &&PartId| matches!(self.model.part(**id).role, Role::BoxSide | Role::BoxEnd | Role::BoxBottom);
            let parts: Vec<PartId> = mover.parts.iter().filter(boards).copied().collect();
            if parts.is_empty() {
                return None;
            }
            let name = format!("{}, box", mover.name);
            let of_other = |part: &Part| part.run != Some(self.side);
            let among = |before: Before, measured: bool| {
                let there = |part: &Part| stands(part, before) && (part.mover.is_none() || of_other(part));
                let views: Vec<View> =
                    [Seen::End, Seen::Above].into_iter().filter_map(|seen| self.view(&parts, seen, &there)).collect();
                self.judge(Piece::DrawerBox, &name, &parts, &views, None, before, measured)
            };
            Some(first_that_goes([Before::Nothing, Before::Pulls, Before::Fronts], among))
        })
        .collect()
    }

    fn filler(&self, face: &Part) -> TurnIn {
        let later = |part: &Part| self.goes_later(face, part) || matches!(part.role, Role::Countertop | Role::BuildUp);
        let among = |before: Before, measured: bool| {
            let there = |part: &Part| part.id != face.id && stands(part, before) && !later(part);
            let parts = [face.id];
            let view = self.view(&parts, Seen::Above, &there);
            let view =
                if before == Before::Countertop { view.map(|view| self.lifted(view, face, &there)) } else { view };
            let views: Vec<View> = view.into_iter().collect();
            self.judge(Piece::FillerFace, &face.name, &parts, &views, None, before, measured)
        };
        first_that_goes([Before::Nothing, Before::Countertop, Before::Pulls, Before::Fronts], among)
    }

    fn kick_cover(&self, cover: &Part) -> TurnIn {
        let there = |part: &Part| part.id != cover.id && !self.goes_later(cover, part);
        let parts = [cover.id];
        let views: Vec<View> =
            [Seen::End, Seen::Above].into_iter().filter_map(|seen| self.view(&parts, seen, &there)).collect();
        first_that_goes([Before::Nothing], |before, measured| {
            self.judge(Piece::KickCover, &cover.name, &parts, &views, None, before, measured)
        })
    }

    /// Whether `part` is the other run's piece of the same kind and goes after this one, the lapping one.
    fn goes_later(&self, piece: &Part, part: &Part) -> bool {
        part.role == piece.role && part.run == Some(self.side.other()) && self.plan.corner.laps == self.side
    }

    /// The section of `parts` seen so, among what stands `there`; `None` where they have no area in it.
    fn view(&self, parts: &[PartId], seen: Seen, there: &dyn Fn(&Part) -> bool) -> Option<View> {
        let RunFrame { along, out, .. } = *self.frame;
        let (across, up) = match seen {
            Seen::Above => (along, out),
            Seen::End => (Vec3::Z, out),
            Seen::Room => (along, Vec3::Z),
        };
        let axes = [across, up, across.cross(up)];
        let pieces = || parts.iter().flat_map(|&id| self.model.part(id).outside());
        let piece = outline(pieces(), &axes)?;
        let thick = reach(pieces(), axes[2]);
        let (mut shapes, mut obstacles, mut before, mut line) = (Vec::new(), Vec::new(), Vec::new(), self.frame.depth);
        let depth = reach(pieces(), out);
        let leaves = reach(pieces(), out)[1] - depth[0];
        let present = |part: &&Part| !parts.contains(&part.id) && there(part);
        let among = self.model.parts.iter().filter(present).map(|part| part.id).collect();
        for part in self.model.parts.iter().filter(present) {
            for piece in part.outside() {
                let [low, high] = reach([piece], axes[2]);
                let shares = high > thick[0] + TOUCH && low < thick[1] - TOUCH;
                let Some(shape) = outline([piece], &axes) else { continue };
                if shares {
                    shapes.push(shape);
                    obstacles.push(part.id);
                    if part.run == Some(self.side) && !matches!(part.role, Role::Wall | Role::Baseboard | Role::EndWall)
                    {
                        line = line.max(reach([piece], out)[1]);
                    }
                } else if seen == Seen::Room {
                    let [near, far] = reach([piece], out);
                    if far > depth[1] + TOUCH && near < depth[1] + leaves {
                        before.push(shape);
                    }
                }
            }
        }
        let exit = if seen == Seen::Room { Exit::Through(before) } else { Exit::Beyond(line) };
        let section = Section::new(piece, shapes, exit);
        let leaves = if seen == Seen::Room { out * (2.0 * leaves) } else { Vec3::ZERO };
        Some(View { seen, section, obstacles, among, axes, level: f64::midpoint(thick[0], thick[1]), leaves })
    }

    /// `view`, a section seen from above, as one that the piece leaves upwards.
    fn lifted(&self, view: View, piece: &Part, there: &dyn Fn(&Part) -> bool) -> View {
        let [low, high] = piece.extent(Vec3::Z);
        let over = self.model.parts.iter().filter(|part| there(part)).flat_map(Part::outside);
        let over = over.filter(|other| reach([*other], Vec3::Z)[1] > high + TOUCH);
        let exit = Exit::Through(over.filter_map(|other| outline([other], &view.axes)).collect());
        View { section: view.section.with_exit(exit), leaves: Vec3::Z * (high - low), ..view }
    }

    /// Tries `views` straight, then `through`, then `views` in several moves and turned. Where it does not go in, how much it is
    /// too long is found when that is `measured`.
    fn judge(
        &self,
        piece: Piece,
        name: &str,
        parts: &[PartId],
        views: &[View],
        through: Option<&View>,
        before: Before,
        measured: bool,
    ) -> TurnIn {
        let mut told = TurnIn {
            piece,
            name: name.to_owned(),
            parts: parts.to_vec(),
            entry: Entry::NoWay,
            before,
            seen: Seen::Above,
            among: views.first().map_or_else(Vec::new, |view| view.among.clone()),
            in_the_way: None,
            play: None,
            way: None,
        };
        for view in views {
            told.seen = view.seen;
            for direction in self.directions(view.seen) {
                match view.section.straight(direction) {
                    Ok(places) => {
                        return TurnIn {
                            entry: Entry::Straight,
                            in_the_way: None,
                            way: Some(view.way(&places)),
                            ..told
                        };
                    }
                    Err(first) => {
                        let first = first.and_then(|first| view.obstacles.get(first).copied());
                        told.in_the_way = told.in_the_way.or(first);
                    }
                }
            }
        }
        for view in through.into_iter().chain(views) {
            let (entry, places) = match view.section.passage(&self.directions(view.seen)) {
                Passage::Straight(places) => (Entry::Straight, places),
                Passage::Moves(places) => (Entry::Moves, places),
                Passage::Turned(places) => (Entry::Turned, places),
                Passage::NoWay => continue,
            };
            let play = if entry == Entry::Turned { view.section.play() } else { None };
            return TurnIn { entry, seen: view.seen, play, way: Some(view.way(&places)), ..told };
        }
        if measured {
            for view in through.into_iter().chain(views).filter(|view| view.section.overlapped().is_none()) {
                let Some(play) = view.section.play() else { continue };
                let shorter = |told: &TurnIn| match told.entry {
                    Entry::TooTight { short } => play.short() < short,
                    _ => true,
                };
                if shorter(&told) {
                    let way = view.section.way_of_shorter(&play).map(|places| view.way(&places));
                    let entry = Entry::TooTight { short: play.short() };
                    told = TurnIn { entry, seen: view.seen, play: Some(play), way, ..told };
                }
            }
        }
        told
    }

    /// Which ways straight out are tried: square to the run, and seen from above between the two runs as well.
    fn directions(&self, seen: Seen) -> Vec<Flat> {
        let square = Flat::new(0.0, 1.0);
        let other = self.model.run(self.side.other()).out;
        let between = (self.frame.out + other).normalize();
        match seen {
            Seen::Above => vec![square, Flat::new(between.dot(self.frame.along), between.dot(self.frame.out))],
            Seen::End | Seen::Room => vec![square],
        }
    }
}

impl View {
    /// Out of the section's poses the model's, turned round: from the open to the place.
    fn way(&self, places: &[Place]) -> Way {
        let [across, up, square] = self.axes;
        let middle = self.section.middle();
        let about = across * middle.x + up * middle.y + square * self.level;
        let pose = |place: &Place| {
            let by = place.at - middle;
            Pose { about, axis: square, angle: place.angle, shift: across * by.x + up * by.y }
        };
        let mut poses: Vec<Pose> = places.iter().map(pose).collect();
        if self.leaves != Vec3::ZERO
            && let Some(last) = poses.last().copied()
        {
            poses.push(Pose { shift: last.shift + self.leaves, ..last });
        }
        poses.dedup();
        poses.reverse();
        Way { poses }
    }
}

/// The first of `stages` at which the piece goes in, else how much it is too long at the first.
fn first_that_goes<const N: usize>(stages: [Before; N], among: impl Fn(Before, bool) -> TurnIn) -> TurnIn {
    let mut in_the_way = None;
    for before in stages {
        let told = among(before, false);
        if told.way.is_some() {
            return TurnIn { in_the_way: in_the_way.or(told.in_the_way), ..told };
        }
        in_the_way = in_the_way.or(told.in_the_way);
    }
    among(stages.first().copied().unwrap_or(Before::Nothing), true)
}

/// Whether `part` is on while those of `before` are off.
fn stands(part: &Part, before: Before) -> bool {
    match before {
        Before::Nothing | Before::Countertop => true,
        Before::ShelfFrame => !matches!(part.work.why, Some(Why::ShelfStile { .. } | Why::ShelfRail { .. })),
        Before::Pulls => part.role != Role::Pull,
        Before::Fronts => part.mover.is_none(),
    }
}

fn outline<'c>(pieces: impl IntoIterator<Item = &'c Convex>, axes: &[Vec3; 3]) -> Option<Outline> {
    let points = pieces.into_iter().flat_map(Convex::vertices);
    Outline::around(points.map(|v| Flat::new(v.dot(axes[0]), v.dot(axes[1]))))
}

/// From where to where `pieces` reach along `axis`.
fn reach<'c>(pieces: impl IntoIterator<Item = &'c Convex>, axis: Vec3) -> [f64; 2] {
    let along = pieces.into_iter().flat_map(Convex::vertices).map(|v| v.dot(axis));
    along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
}
