//! Where on a cut sheet does one more piece go? A sheet as a slicing tree whose sizes grow from the pieces upwards.
//!
//! Every node is a piece or two nodes put side by side or stacked. Its size is what its pieces need; its *room* is the
//! most that it could take with everything else where it is. So any node can be joined with a new piece as long as the
//! two together fit its room, and whatever the tree says can be cut edge to edge. Sizes hold one kerf each, which makes
//! a kerf of width zero of it: `(a + k) + (b + k) = (a + k + b) + k`.

use super::apart::{Step, Taking};
use super::task::{Kind, Sort, Task};

/// No node.
pub(super) const NONE: u32 = u32::MAX;

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// A piece of this sort, turned or not.
    Piece { sort: u32, turned: bool },
    /// Two nodes beside each other along the sheet's length: a crosscut between them.
    Beside,
    /// Two nodes one above the other across the sheet's width: a rip between them.
    Above,
    /// Not in use.
    Unused,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub(super) what: What,
    pub(super) parent: u32,
    pub(super) first: u32,
    pub(super) second: u32,
    pub(super) length: i64,
    pub(super) width: i64,
    pub(super) room_length: i64,
    pub(super) room_width: i64,
}

/// Where a piece could go, and what that costs: less is better.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) node: u32,
    pub(super) beside: bool,
    pub(super) turned: bool,
    pub(super) cost: f64,
}

#[derive(Debug, Clone, Copy)]
enum Known {
    Not,
    Nowhere,
    Best(Place),
}

/// One sheet in use.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    pub(super) kind: usize,
    nodes: Vec<Node>,
    spare: Vec<u32>,
    root: u32,
    length: i64,
    width: i64,
    /// Area of the sheet less its pieces.
    pub(super) free: i64,
    pub(super) pieces: u32,
    known: Vec<Known>,
    /// Cuts, and the area of the largest offcut, once counted.
    tally: Option<(u32, i64)>,
}

impl Sheet {
    pub(super) fn empty(kind: usize, task: &Task) -> Self {
        let Kind { length, width, .. } = task.kinds[kind];
        Self {
            kind,
            nodes: Vec::with_capacity(32),
            spare: Vec::new(),
            root: NONE,
            length,
            width,
            free: length * width,
            pieces: 0,
            known: vec![Known::Not; task.sorts.len()],
            tally: None,
        }
    }

    pub(super) fn root(&self) -> u32 {
        self.root
    }

    pub(super) fn node(&self, index: u32) -> &Node {
        &self.nodes[index as usize]
    }

    fn at(&mut self, index: u32) -> &mut Node {
        &mut self.nodes[index as usize]
    }

    /// Nodes in use, with their indices.
    pub(super) fn in_use(&self) -> impl Iterator<Item = (u32, &Node)> {
        (0_u32..).zip(&self.nodes).filter(|(_, node)| node.what != What::Unused)
    }

    /// Puts a first piece on an empty sheet.
    pub(super) fn begin(&mut self, sort: u32, turned: bool, task: &Task) {
        let node = self.piece(sort, turned, task);
        self.root = node;
        self.settle(NONE);
    }

    fn piece(&mut self, sort: u32, turned: bool, task: &Task) -> u32 {
        let Sort { length, width, .. } = task.sorts[sort as usize];
        let (length, width) = if turned { (width, length) } else { (length, width) };
        self.free -= length * width;
        self.pieces += 1;
        self.take(Node {
            what: What::Piece { sort, turned },
            parent: NONE,
            first: NONE,
            second: NONE,
            length,
            width,
            room_length: 0,
            room_width: 0,
        })
    }

    fn take(&mut self, node: Node) -> u32 {
        if let Some(index) = self.spare.pop() {
            *self.at(index) = node;
            return index;
        }
        self.nodes.push(node);
        u32::try_from(self.nodes.len() - 1).unwrap_or(NONE)
    }

    fn give_back(&mut self, index: u32) {
        self.at(index).what = What::Unused;
        self.spare.push(index);
    }

    /// Joins a piece with the node at `place`.
    pub(super) fn insert(&mut self, place: &Place, sort: u32, task: &Task) {
        if self.root == NONE {
            self.begin(sort, place.turned, task);
            return;
        }
        let leaf = self.piece(sort, place.turned, task);
        let old = place.node;
        let parent = self.node(old).parent;
        let join = self.take(Node {
            what: if place.beside { What::Beside } else { What::Above },
            parent,
            first: old,
            second: leaf,
            length: 0,
            width: 0,
            room_length: 0,
            room_width: 0,
        });
        self.at(old).parent = join;
        self.at(leaf).parent = join;
        self.replace_child(parent, old, join);
        self.settle(join);
    }

    fn replace_child(&mut self, parent: u32, old: u32, new: u32) {
        if parent == NONE {
            self.root = new;
        } else if self.node(parent).first == old {
            self.at(parent).first = new;
        } else {
            self.at(parent).second = new;
        }
    }

    /// Takes everything under `index` off the sheet and appends the sorts to `off`. The caller settles afterwards.
    pub(super) fn remove(&mut self, index: u32, off: &mut Vec<u32>, task: &Task) {
        let parent = self.node(index).parent;
        self.clear(index, off, task);
        if parent == NONE {
            self.root = NONE;
            self.settle(NONE);
            return;
        }
        let Node { first, second, parent: above, .. } = *self.node(parent);
        let kept = if first == index { second } else { first };
        self.at(kept).parent = above;
        self.replace_child(above, parent, kept);
        self.give_back(parent);
        self.settle(above);
    }

    fn clear(&mut self, index: u32, off: &mut Vec<u32>, task: &Task) {
        let Node { what, first, second, .. } = *self.node(index);
        match what {
            What::Piece { sort, .. } => {
                off.push(sort);
                self.free += task.sorts[sort as usize].area();
                self.pieces -= 1;
            }
            What::Beside | What::Above => {
                self.clear(first, off, task);
                self.clear(second, off, task);
            }
            What::Unused => {}
        }
        self.give_back(index);
    }

    /// Brings sizes up to date from `index` upwards and all rooms from the root downwards.
    fn settle(&mut self, index: u32) {
        let mut at = index;
        while at != NONE {
            let Node { what, first, second, parent, .. } = *self.node(at);
            let (a, b) = (*self.node(first), *self.node(second));
            let node = self.at(at);
            if what == What::Beside {
                (node.length, node.width) = (a.length + b.length, a.width.max(b.width));
            } else {
                (node.length, node.width) = (a.length.max(b.length), a.width + b.width);
            }
            at = parent;
        }
        if self.root != NONE {
            self.give_room(self.root, self.length, self.width);
        }
        self.known.fill(Known::Not);
        self.tally = None;
    }

    /// The length and width that its pieces need.
    pub(super) fn needs(&self) -> (i64, i64) {
        if self.root == NONE { (0, 0) } else { (self.node(self.root).length, self.node(self.root).width) }
    }

    /// Cuts, and the area of the largest offcut.
    pub(super) fn tally(&mut self, task: &Task) -> (u32, i64) {
        if let Some(tally) = self.tally {
            return tally;
        }
        let mut tally = (0, 0);
        self.take_apart(task, &mut |step| match step {
            Step::Split { .. } => tally.0 += 1,
            Step::Offcut { area: (_, _, length, width) } => tally.1 = tally.1.max(length * width),
            Step::Piece { .. } => {}
        });
        *self.tally.insert(tally)
    }

    /// How the real sheet is taken apart, in steps of size; see [`Taking::apart`].
    pub(super) fn take_apart(&self, task: &Task, told: &mut dyn FnMut(Step)) {
        if self.root != NONE {
            let (length, width) = task.kinds[self.kind].whole;
            Taking { nodes: &self.nodes, way: task.way, scale: task.scale }.apart(
                self.root,
                (0, 0, length, width),
                told,
            );
        }
    }

    /// Puts what is on it on a sheet of another kind, which must be large enough.
    pub(super) fn move_to(&mut self, kind: usize, task: &Task) {
        let Kind { length, width, .. } = task.kinds[kind];
        self.free += length * width - self.length * self.width;
        (self.kind, self.length, self.width) = (kind, length, width);
        self.settle(NONE);
    }

    fn give_room(&mut self, index: u32, length: i64, width: i64) {
        let node = self.at(index);
        (node.room_length, node.room_width) = (length, width);
        let Node { what, first, second, .. } = *node;
        if matches!(what, What::Piece { .. }) {
            return;
        }
        let (a, b) = (*self.node(first), *self.node(second));
        if what == What::Beside {
            self.give_room(first, length - b.length, width);
            self.give_room(second, length - a.length, width);
        } else {
            self.give_room(first, length, width - b.width);
            self.give_room(second, length, width - a.width);
        }
    }

    /// The best place for a piece of this sort, if there is any; counts the nodes looked at.
    pub(super) fn place_for(&mut self, sort: u32, task: &Task, steps: &mut u64) -> Option<Place> {
        match self.known[sort as usize] {
            Known::Best(place) => return Some(place),
            Known::Nowhere => return None,
            Known::Not => {}
        }
        let Sort { length, width, turns, .. } = task.sorts[sort as usize];
        let mut best: Option<Place> = None;
        if self.free >= length * width {
            *steps += self.nodes.len() as u64;
            if self.root == NONE {
                for turned in [false, true] {
                    let (l, w) = if turned { (width, length) } else { (length, width) };
                    if (!turned || turns) && l <= self.length && w <= self.width && best.is_none() {
                        best = Some(Place { node: NONE, beside: true, turned, cost: 0.0 });
                    }
                }
            } else {
                self.look_everywhere(length, width, false, task, &mut best);
                if turns {
                    self.look_everywhere(width, length, true, task, &mut best);
                }
            }
        }
        self.known[sort as usize] = best.map_or(Known::Nowhere, Known::Best);
        best
    }

    fn look_everywhere(&self, length: i64, width: i64, turned: bool, task: &Task, best: &mut Option<Place>) {
        for (index, node) in self.in_use() {
            if node.room_length < length || node.room_width < width {
                continue;
            }
            let above = if node.parent == NONE { What::Unused } else { self.node(node.parent).what };
            if above != What::Beside
                && node.room_length - node.length >= length
                && task.way.allows_beside(self, node, width)
            {
                let left = node.room_length - node.length - length;
                let cost = cost_of((length, width), (node.length, node.width), left, task.least_length);
                if best.is_none_or(|best| cost < best.cost) {
                    *best = Some(Place { node: index, beside: true, turned, cost });
                }
            }
            if above != What::Above && node.room_width - node.width >= width && task.way.allows_above(node) {
                let left = node.room_width - node.width - width;
                let cost = cost_of((width, length), (node.width, node.length), left, task.least_width);
                if best.is_none_or(|best| cost < best.cost) {
                    *best = Some(Place { node: index, beside: false, turned, cost });
                }
            }
        }
    }
}

/// What it costs to put a piece beside a node, each given as along and across: the area that becomes waste, what is left
/// along where that is too little for any piece (`least`), and a trifle for what is left.
fn cost_of(piece: (i64, i64), node: (i64, i64), left: i64, least: i64) -> f64 {
    let gap = if piece.1 <= node.1 { (node.1 - piece.1) * piece.0 } else { (piece.1 - node.1) * node.0 };
    let sliver = if left < least { left * piece.1.max(node.1) } else { 0 };
    (gap + sliver) as f64 + 0.001 * left as f64 * piece.1 as f64
}
