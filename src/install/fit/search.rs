//! Is there a way from the place to the open, moving and turning? A search through slabs of angle.
//!
//! The turn is cut into slabs. Within one, the piece is stood in for by an outline that holds it at every angle of the slab
//! ([`Bound::Safe`]), or by one that it holds at every angle ([`Bound::Possible`]); what is free to that outline is known
//! exactly ([`super::cells`]). Where the free parts of two neighbouring slabs share a point the piece can turn from one to
//! the other there. So a way found through safe slabs is a way, whatever lies between its poses; and where none leads
//! through possible ones there is none. What neither decides, narrower slabs may.
//!
//! The shortest way is searched first (Dijkstra), a turn counted as the path of the farthest corner.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::f64::consts::PI;

use super::cells::Free;
use super::flat::{Flat, Outline};
use super::section::{Exit, Place};

/// Slabs at the coarsest: the first, radians, how much wider each next one is, and the widest. Our own choice.
const FIRST: f64 = 1e-3;
const WIDER: f64 = 1.25;
const WIDEST: f64 = 0.05;
/// So many cells are made, and so many looked at, before the search gives up.
const MOST_MADE: usize = 400_000;
const MOST_LOOKED_AT: usize = 20_000;
/// So many comparisons of two sides count as one cell.
const SIDES_A_CELL: usize = 250;

/// Which outline stands in for the piece in a slab.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bound {
    /// One that holds it.
    Safe,
    /// One that it holds.
    Possible,
}

/// What a search comes to.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Outcome {
    /// A way from the place to the open.
    Found(Vec<Place>),
    /// No way among these slabs.
    Shut,
    /// Too many cells, or a possible way out of what is searched.
    Spent,
}

/// What is searched: the piece about its own middle, what it must not overlap, and where it is in place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Question<'q> {
    pub(super) piece: &'q Outline,
    pub(super) obstacles: &'q [Outline],
    pub(super) exit: &'q Exit,
    pub(super) start: Flat,
    /// The rectangle that is searched, its least and its greatest corner. Where a possible way leads out of it nothing is
    /// proved; a safe one stays inside.
    pub(super) window: [Flat; 2],
    /// How often the slabs are halved; `None`: the piece may not turn.
    pub(super) level: Option<u32>,
    pub(super) bound: Bound,
}

struct Slab {
    free: Free,
    /// Where the piece is clear of what it goes through as well.
    through: Option<Free>,
    /// Its middle must be beyond this.
    beyond: f64,
    nodes: Vec<Node>,
}

#[derive(Clone, Copy)]
struct Node {
    cost: f64,
    from: Option<(i32, usize)>,
    at: Flat,
    done: bool,
}

#[derive(Clone, Copy, PartialEq)]
struct Cost(f64);

impl Eq for Cost {}
impl PartialOrd for Cost {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Cost {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

struct Search<'q> {
    question: Question<'q>,
    /// Where slabs end, from 0 to π.
    ends: Vec<f64>,
    made: usize,
    slabs: BTreeMap<i32, Slab>,
    heap: BinaryHeap<Reverse<(Cost, i32, usize)>>,
}

/// Searches.
pub(super) fn search(question: Question<'_>) -> Outcome {
    let ends = question.level.map_or(vec![0.0], slab_ends);
    let mut search = Search { question, ends, made: 0, slabs: BTreeMap::new(), heap: BinaryHeap::new() };
    search.run()
}

fn slab_ends(level: u32) -> Vec<f64> {
    let finer = f64::from(2_u32.pow(level));
    let (mut end, mut wide) = (0.0, FIRST / finer);
    let mut ends = vec![0.0];
    while end + wide < PI {
        end += wide;
        ends.push(end);
        wide = (wide * WIDER.powf(1.0 / finer)).min(WIDEST / finer);
    }
    ends.push(PI);
    ends
}

impl Search<'_> {
    fn last(&self) -> i32 {
        i32::try_from(self.ends.len() - 1).unwrap_or(i32::MAX)
    }

    /// Slab 0 is the place's own angle alone.
    fn angles(&self, slab: i32) -> [f64; 2] {
        let end = |k: u32| self.ends.get(k as usize).copied().unwrap_or(PI);
        let k = slab.unsigned_abs();
        match slab {
            0 => [0.0; 2],
            1.. => [end(k - 1), end(k)],
            _ => [-end(k), -end(k - 1)],
        }
    }

    fn open(&mut self, slab: i32) {
        if self.slabs.contains_key(&slab) {
            return;
        }
        let angles = self.angles(slab);
        let question = self.question;
        let stands_in = match question.bound {
            Bound::Safe => Some(question.piece.hull_of_turn(angles)),
            Bound::Possible => question.piece.core_of_turn(angles),
        };
        let barred = |outlines: &[Outline]| -> Vec<Outline> {
            stands_in.iter().flat_map(|piece| outlines.iter().filter_map(|o| o.barred_to(piece))).collect()
        };
        let mut shut = barred(question.obstacles);
        let free = Free::less(&shut, question.window[0], question.window[1]);
        let (mut through, mut beyond) = (None, f64::INFINITY);
        match question.exit {
            Exit::Beyond(line) => {
                beyond = line - stands_in.as_ref().map_or(0.0, |piece| piece.extent(Flat::new(0.0, 1.0))[0]);
            }
            Exit::Through(outlines) => {
                shut.extend(barred(outlines));
                through = Some(Free::less(&shut, question.window[0], question.window[1]));
            }
        }
        let node = Node { cost: f64::INFINITY, from: None, at: Flat::ZERO, done: false };
        let nodes = vec![node; free.cells.len()];
        // Making cells compares each side with each: round pulls have many, and count by that.
        let all_sides: usize = shut.iter().map(|outline| outline.points().len()).sum();
        self.made += free.cells.len() + through.as_ref().map_or(0, |through| through.cells.len());
        self.made += all_sides * all_sides / SIDES_A_CELL;
        self.slabs.insert(slab, Slab { free, through, beyond, nodes });
    }

    fn reach(&mut self, (slab, cell): (i32, usize), cost: f64, at: Flat, from: Option<(i32, usize)>) {
        let Some(node) = self.slabs.get_mut(&slab).and_then(|s| s.nodes.get_mut(cell)) else { return };
        if cost < node.cost {
            *node = Node { cost, from, at, done: false };
            self.heap.push(Reverse((Cost(cost), slab, cell)));
        }
    }

    fn run(&mut self) -> Outcome {
        self.open(0);
        let question = self.question;
        let start = question.start;
        let Some(cell) = self.slabs.get(&0).and_then(|slab| slab.free.cell_of(start)) else { return Outcome::Shut };
        self.reach((0, cell), 0.0, start, None);
        let radius = question.piece.radius();
        let mut looked_at = 0;
        while let Some(Reverse((Cost(cost), slab, cell))) = self.heap.pop() {
            let Some(here) = self.slabs.get_mut(&slab) else { continue };
            let Some(node) = here.nodes.get_mut(cell).filter(|node| !node.done && node.cost >= cost) else { continue };
            node.done = true;
            let at = node.at;
            looked_at += 1;
            if looked_at > MOST_LOOKED_AT || self.made > MOST_MADE {
                return Outcome::Spent;
            }
            let here = &self.slabs[&slab];
            let shape = here.free.cells[cell];
            let out = here.through.as_ref().map_or_else(
                || shape.beyond(here.beyond, at),
                |through| nearest(at, through.sharing(&shape, at).map(|(_, p)| p)),
            );
            if let Some(out) = out {
                return Outcome::Found(self.way((slab, cell), out));
            }
            if question.bound == Bound::Possible && shape.reaches_rim(question.window) {
                return Outcome::Spent;
            }
            let mut next: Vec<(i32, usize, Flat)> = here.free.beside(cell, at).map(|(k, p)| (slab, k, p)).collect();
            for beside in self.slabs_beside(slab) {
                self.open(beside);
                next.extend(self.slabs[&beside].free.sharing(&shape, at).map(|(k, p)| (beside, k, p)));
            }
            let middle = self.middle(slab);
            for (to, k, p) in next {
                let turn = (self.middle(to) - middle).abs();
                let turn = turn.min(2.0 * PI - turn);
                self.reach((to, k), cost + (p - at).length() + radius * turn, p, Some((slab, cell)));
            }
        }
        Outcome::Shut
    }

    /// The slabs of the next angles; those beyond a half turn meet there.
    fn slabs_beside(&self, slab: i32) -> Vec<i32> {
        let last = self.last();
        if last == 0 {
            return Vec::new();
        }
        let wrap = |k: i32| if k.abs() > last { -slab } else { k };
        vec![wrap(slab - 1), wrap(slab + 1)]
    }

    fn middle(&self, slab: i32) -> f64 {
        let [from, to] = self.angles(slab);
        f64::midpoint(from, to)
    }

    /// From the place to `out` in the last cell, as poses between which the piece moves straight or turns about its middle.
    fn way(&self, last: (i32, usize), out: Flat) -> Vec<Place> {
        let mut places = vec![Place { at: out, angle: self.middle(last.0) }];
        let mut node = Some(last);
        while let Some((slab, cell)) = node {
            let here = self.slabs[&slab].nodes[cell];
            places.push(Place { at: here.at, angle: self.middle(slab) });
            if let Some((before, _)) = here.from.filter(|(before, _)| *before != slab) {
                places.push(Place { at: here.at, angle: self.middle(before) });
            }
            node = here.from;
        }
        places.reverse();
        // Past a half turn the angle goes on, so that every step is a small one.
        for k in 1..places.len() {
            let turn = places[k].angle - places[k - 1].angle;
            places[k].angle -= (turn / (2.0 * PI)).round() * 2.0 * PI;
        }
        places.dedup();
        places
    }
}

fn nearest(to: Flat, points: impl Iterator<Item = Flat>) -> Option<Flat> {
    points.min_by(|a, b| (*a - to).length().total_cmp(&(*b - to).length()))
}
