//! Does a piece go to its place in one section, and how? Straight, in several moves, or turned.
//!
//! A section is a plane with the piece's outline where it belongs, the outlines of all that stands there already, and where
//! the open begins. Motion is planar: two directions and an angle. Touching is allowed.
//!
//! Every way is checked once more before it is told, step by step and without the search's own means
//! ([`Section::is_clear_along`]).

use super::flat::{Flat, Outline, TOUCH};
use super::search::{Bound, Outcome, Question, search};

/// How often the slabs of angle are halved at the most: a piece of 600 mm is then judged to about 0.1 mm where it turns about
/// a corner, and far closer between parallel faces.
const FINEST: u32 = 3;
/// The least play is looked for until it is known to this, mm.
const PLAY_STEP: f64 = 0.02;
/// The first that a piece is made shorter by, mm.
const FIRST_TRY: f64 = 0.5;
/// No piece is made smaller than this share of itself.
const MOST_OFF: f64 = 0.5;
/// A way may overlap by this at the most: twice [`TOUCH`] in the search, and as much in the checking.
const SLACK: f64 = 4.0 * TOUCH;
/// A shorter way is looked at so closely, and so many ends of a step are tried one by one.
const TRIED: u32 = 12;
const ONE_BY_ONE: usize = 8;
/// A step is halved so often before it counts as one that touches.
const HALVINGS: u32 = 22;

/// Where the open begins.
#[derive(Clone, Debug, PartialEq)]
pub enum Exit {
    /// The whole piece has `y` of at least this.
    Beyond(f64),
    /// The piece is clear of these as well, and leaves the section square to it.
    Through(Vec<Outline>),
}

/// Where the piece is: its middle, and how it is turned from its place, radians counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Its middle.
    pub at: Flat,
    /// Its turn.
    pub angle: f64,
}

/// How a piece goes from its place to the open; read backwards, how it goes in.
#[derive(Clone, Debug, PartialEq)]
pub enum Passage {
    /// Straight.
    Straight(Vec<Place>),
    /// In several moves, none a turn.
    Moves(Vec<Place>),
    /// Turned.
    Turned(Vec<Place>),
    /// No way was found.
    NoWay,
}

/// How much room a piece needs along its longer side to go in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Play {
    /// What it has where it belongs: how much longer it could be there, mm; none told past half its length.
    pub has: f64,
    /// With less than this it does not go in by any motion in this section: proved.
    pub at_least: f64,
    /// With this much it does: a way is known.
    pub at_most: f64,
}

impl Play {
    /// How much smaller the piece would have to be; 0 where it goes in as it is.
    #[must_use]
    pub fn short(&self) -> f64 {
        (self.at_most - self.has).max(0.0)
    }
}

/// A piece where it belongs, among what stands there.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The piece.
    pub piece: Outline,
    /// What stands there already.
    pub obstacles: Vec<Outline>,
    /// Where the open begins.
    pub exit: Exit,
    middle: Flat,
    /// What is searched; see [`Section::thinned`].
    window: [Flat; 2],
}

/// How far around the piece a way is searched for, and up to where obstacles count then, in its radii: a piece is turned within
/// its own length or so. Our own choice; a proof that there is no way does not depend on it.
const AROUND: f64 = 6.0;
const COUNTS: f64 = 8.0;

impl Section {
    /// A section; poses are told of the piece's middle, the mean of its corners.
    #[must_use]
    pub fn new(piece: Outline, obstacles: Vec<Outline>, exit: Exit) -> Self {
        let middle = piece.middle();
        let radius = piece.map(|p| p - middle).radius();
        let around = Flat::new(AROUND * radius, AROUND * radius);
        let [least, mut greatest] = [middle - around, middle + around];
        if let Exit::Beyond(line) = exit {
            greatest.y = greatest.y.max(line + AROUND * radius);
        }
        Self { piece, obstacles, exit, middle, window: [least, greatest] }
    }

    /// The same that leaves elsewhere.
    #[must_use]
    pub fn with_exit(self, exit: Exit) -> Self {
        Self::new(self.piece, self.obstacles, exit)
    }

    /// Where poses are told of.
    #[must_use]
    pub fn middle(&self) -> Flat {
        self.middle
    }

    /// The first obstacle that the piece overlaps where it belongs.
    #[must_use]
    pub fn overlapped(&self) -> Option<usize> {
        self.obstacles.iter().position(|o| o.overlaps(&self.piece))
    }

    /// The piece out of its place by this way.
    #[must_use]
    pub fn piece_at(&self, place: Place) -> Outline {
        self.piece.map(|p| place.at + (p - self.middle).turned(place.angle))
    }

    /// Straight along `direction` to the open.
    ///
    /// # Errors
    /// What is in the way, the first of the obstacles.
    pub fn straight(&self, direction: Flat) -> Result<Vec<Place>, Option<usize>> {
        let places = |shift: Flat| [Flat::ZERO, shift].map(|by| Place { at: self.middle + by, angle: 0.0 }).to_vec();
        let shift = match &self.exit {
            Exit::Beyond(line) => {
                let missing = (line - self.piece.extent(Flat::new(0.0, 1.0))[0]).max(0.0);
                if missing > 0.0 && direction.y <= 1e-6 {
                    return Err(None);
                }
                if missing > 0.0 { direction * (missing / direction.y) } else { Flat::ZERO }
            }
            Exit::Through(outlines) => {
                let free = outlines.iter().all(|o| !o.overlaps(&self.piece)) && self.overlapped().is_none();
                return if free { Ok(places(Flat::ZERO)) } else { Err(None) };
            }
        };
        let swept = self.piece.swept(shift);
        match self.obstacles.iter().position(|o| o.overlaps(&swept)) {
            Some(first) => Err(Some(first)),
            None => Ok(places(shift)),
        }
    }

    /// The same without obstacles that are out of reach or lie within another: no way in the window depends on them.
    fn thinned(&self) -> Self {
        let radius = self.piece.map(|p| p - self.middle).radius();
        let reach = (COUNTS - AROUND) * radius;
        let [least, greatest] = self.window;
        let near = |outline: &Outline| {
            let ([a, b], [c, d]) = (outline.extent(Flat::new(1.0, 0.0)), outline.extent(Flat::new(0.0, 1.0)));
            b > least.x - reach && a < greatest.x + reach && d > least.y - reach && c < greatest.y + reach
        };
        let thin = |outlines: &[Outline]| {
            let mut kept: Vec<Outline> = Vec::new();
            for outline in outlines.iter().filter(|outline| near(outline)) {
                let within =
                    |one: &Outline, other: &Outline| one.points().iter().all(|&p| other.holds(p, -TOUCH * 1e-3));
                if !kept.iter().any(|other| within(outline, other)) {
                    kept.retain(|other| !within(other, outline));
                    kept.push(outline.clone());
                }
            }
            kept
        };
        let exit = match &self.exit {
            Exit::Beyond(line) => Exit::Beyond(*line),
            Exit::Through(outlines) => Exit::Through(thin(outlines)),
        };
        Self { obstacles: thin(&self.obstacles), exit, ..self.clone() }
    }

    fn ask(&self, level: Option<u32>, bound: Bound) -> Outcome {
        let piece = self.piece.map(|p| p - self.middle);
        search(Question {
            piece: &piece,
            obstacles: &self.obstacles,
            exit: &self.exit,
            start: self.middle,
            window: self.window,
            level,
            bound,
        })
    }

    /// A way that holds, made shorter.
    fn way(&self, level: Option<u32>) -> Option<Vec<Place>> {
        match self.ask(level, Bound::Safe) {
            Outcome::Found(places) if self.is_clear_along(&places) => Some(self.shortened(&places)),
            Outcome::Found(_) | Outcome::Shut | Outcome::Spent => None,
        }
    }

    /// How it goes in, `directions` tried first.
    #[must_use]
    pub fn passage(&self, directions: &[Flat]) -> Passage {
        for &direction in directions {
            if let Ok(places) = self.straight(direction) {
                return Passage::Straight(places);
            }
        }
        if self.overlapped().is_some() {
            return Passage::NoWay;
        }
        let thin = self.thinned();
        if let Some(places) = thin.way(None) {
            return Passage::Moves(places);
        }
        for level in 0..=FINEST {
            if let Some(places) = thin.way(Some(level)) {
                return Passage::Turned(places);
            }
            if thin.ask(Some(level), Bound::Possible) == Outcome::Shut {
                break;
            }
        }
        Passage::NoWay
    }

    /// The way of a piece made shorter until it goes in.
    #[must_use]
    pub fn way_of_shorter(&self, play: &Play) -> Option<Vec<Place>> {
        let less = self.thinned().smaller(play.short())?;
        (1..=FINEST).find_map(|level| less.way(Some(level)))
    }

    /// The least play to go in turned, between two bounds; `None` where no way was found for half the piece.
    #[must_use]
    pub fn play(&self) -> Option<Play> {
        let thin = self.thinned();
        let has = thin.room().iter().sum::<f64>();
        let most = self.length() * MOST_OFF;
        let goes = |level: u32, off: f64| {
            thin.smaller(off).is_some_and(|less| matches!(less.ask(Some(level), Bound::Safe), Outcome::Found(_)))
        };
        let may_go = |level: u32, off: f64| {
            thin.smaller(off).is_none_or(|less| less.ask(Some(level), Bound::Possible) != Outcome::Shut)
        };
        // As it is, then shorter by twice as much each time.
        let tries = || std::iter::successors(Some(FIRST_TRY), |off| Some(off * 2.0)).take_while(|&off| off < most);
        let mut answer: Option<[f64; 2]> = None;
        for level in 1..=FINEST {
            let (low, high) = match answer {
                // What was shown at a coarser level holds at a finer one.
                Some([low, high]) => (low, high),
                None => match std::iter::once(0.0).chain(tries()).chain([most]).find(|&off| goes(level, off)) {
                    Some(off) => (-has, off),
                    None => continue,
                },
            };
            let high = bisected(low, high, PLAY_STEP, |off| goes(level, off));
            let proved = bisected(low, high, PLAY_STEP, |off| may_go(level, off));
            // Where even the least may go nothing is proved.
            let low = if proved - low <= PLAY_STEP { low } else { proved - PLAY_STEP };
            answer = Some([low, high]);
            if high - low <= 4.0 * PLAY_STEP {
                break;
            }
        }
        // What is told to do is checked once more.
        let sure = |high: f64| {
            let less = thin.smaller(high)?;
            (1..=FINEST).find_map(|level| less.way(Some(level)))
        };
        answer.filter(|[_, high]| sure(*high).is_some()).map(|[low, high]| Play {
            has,
            at_least: (has + low).max(0.0),
            at_most: has + high,
        })
    }

    /// How long the piece is the longer way.
    fn length(&self) -> f64 {
        let [low, high] = self.piece.extent(self.longer());
        high - low
    }

    fn longer(&self) -> Flat {
        let size = [Flat::new(1.0, 0.0), Flat::new(0.0, 1.0)].map(|axis| {
            let [low, high] = self.piece.extent(axis);
            (high - low, axis)
        });
        if size[0].0 >= size[1].0 { size[0].1 } else { size[1].1 }
    }

    /// The same with the piece shorter by `by` the longer way, half at each end; longer where that is negative.
    #[must_use]
    pub fn smaller(&self, by: f64) -> Option<Self> {
        let axis = self.longer();
        let [low, high] = self.piece.extent(axis);
        let middle = f64::midpoint(low, high);
        if high - low <= by {
            return None;
        }
        // A longer one lies in the middle of its room.
        let [before, after] = if by < 0.0 { self.room() } else { [0.0; 2] };
        let shift = (after - before) / 2.0;
        let drawn_in = self.piece.map(|p| {
            let end = if p.dot(axis) < middle { by / 2.0 } else { -by / 2.0 };
            p + axis * (end + shift)
        });
        let piece = Outline::around(drawn_in.points().iter().copied())?;
        Some(Self { piece, middle: self.middle + axis * shift, ..self.clone() })
    }

    /// How far the piece could move, where it belongs, to its one end and to its other.
    fn room(&self) -> [f64; 2] {
        let (axis, most) = (self.longer(), self.length() * MOST_OFF);
        [-1.0, 1.0].map(|side| {
            let fits = |more: f64| {
                let swept = self.piece.swept(axis * (side * more));
                !self.obstacles.iter().any(|o| o.overlaps(&swept))
            };
            if fits(most) { most } else { bisected(most, 0.0, TOUCH, fits) }
        })
    }

    /// Whether nothing is overlapped anywhere between the places: each step moves the middle straight and turns evenly.
    ///
    /// Over a step that turns by Δ, no point at radius r leaves the hull of where the step begins and ends by more than r Δ²/8;
    /// steps are halved until that is clear.
    #[must_use]
    pub fn is_clear_along(&self, places: &[Place]) -> bool {
        places.windows(2).all(|step| match step {
            [a, b] => self.is_clear_between(*a, *b, HALVINGS),
            _ => true,
        })
    }

    fn is_clear_between(&self, a: Place, b: Place, halvings: u32) -> bool {
        let (from, to) = (self.piece_at(a), self.piece_at(b));
        let Some(hull) = Outline::around(from.points().iter().chain(to.points()).copied()) else { return false };
        let turn = b.angle - a.angle;
        let bulge = self.piece.map(|p| p - self.middle).radius() * turn * turn / 8.0;
        let clear = self.obstacles.iter().all(|o| o.apart(&hull) >= bulge - SLACK);
        if clear {
            return true;
        }
        let touches = |outline: &Outline| self.obstacles.iter().any(|o| o.apart(outline) < -SLACK);
        if halvings == 0 || touches(&from) || touches(&to) {
            return false;
        }
        let middle = Place { at: (a.at + b.at) * 0.5, angle: f64::midpoint(a.angle, b.angle) };
        self.is_clear_between(a, middle, halvings - 1) && self.is_clear_between(middle, b, halvings - 1)
    }

    /// The same way with fewer poses: from each the farthest that can be gone to in one even step.
    fn shortened(&self, places: &[Place]) -> Vec<Place> {
        let mut way = places.to_vec();
        loop {
            let kept = self.shortened_once(&way);
            if kept.len() >= way.len() {
                return way;
            }
            way = kept;
        }
    }

    fn shortened_once(&self, places: &[Place]) -> Vec<Place> {
        let mut kept: Vec<Place> = places.first().copied().into_iter().collect();
        let mut k = 0;
        while k + 1 < places.len() {
            let mut ahead = places.len() - 1 - k;
            while ahead > 1 && !self.is_clear_between(places[k], places[k + ahead], TRIED) {
                // Few are tried one by one.
                ahead = if ahead > ONE_BY_ONE { ahead / 2 } else { ahead - 1 };
            }
            k += ahead.max(1);
            kept.push(places[k]);
        }
        kept
    }
}

/// Where between `from` and `to`, coming from the first, `holds` begins to hold, to `step`; it holds at `to`.
fn bisected(from: f64, to: f64, step: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut out, mut within) = (from, to);
    while (within - out).abs() > step {
        let middle = f64::midpoint(out, within);
        if holds(middle) {
            within = middle;
        } else {
            out = middle;
        }
    }
    within
}
