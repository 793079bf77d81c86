//! How far does a board sag under its load, and does it sag too far? Beams of one span, creep, and published limits.
//!
//! Lengths in mm, pressures in newtons on a square millimetre, stiffness in the same. The closed forms are those of any
//! text on mechanics (Euler and Bernoulli); stiffness is that of the Wood Handbook (FPL-GTR-190, tables 5-3 and 12-1), for
//! panels the least of the range that it gives. What helps is left out: edge strips, backs, fixed ends.

use crate::plan::{Sheet, Timber};

/// How a board's ends are borne.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// They rest and may turn.
    Resting,
    /// They are held and cannot turn.
    Held,
}

/// What lies on a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// So many newtons on each millimetre of its length.
    Even(f64),
    /// So many newtons in the middle.
    Heaped(f64),
}

/// Sag in the middle of a span, mm: `stiffness` in N/mm², `inertia` (of the section) in mm⁴.
#[must_use]
pub fn sag(ends: Ends, load: Load, span: f64, stiffness: f64, inertia: f64) -> f64 {
    let ei = stiffness * inertia;
    match (ends, load) {
        (Ends::Resting, Load::Even(w)) => 5.0 * w * span.powi(4) / (384.0 * ei),
        (Ends::Held, Load::Even(w)) => w * span.powi(4) / (384.0 * ei),
        (Ends::Resting, Load::Heaped(p)) => p * span.powi(3) / (48.0 * ei),
        (Ends::Held, Load::Heaped(p)) => p * span.powi(3) / (192.0 * ei),
    }
}

/// Second moment of area of a board `wide` and `thick`, mm⁴.
#[must_use]
pub fn inertia(wide: f64, thick: f64) -> f64 {
    wide * thick.powi(3) / 12.0
}

/// The longest span, mm, on resting ends that sags no more than one `share`th of itself under an even `pressure`.
#[must_use]
pub fn longest_span(stiffness: f64, thick: f64, pressure: f64, share: f64) -> f64 {
    (384.0 * stiffness * inertia(1.0, thick) / (5.0 * pressure * share)).cbrt()
}

/// Stiffness in bending at 12 % moisture content, N/mm².
///
/// Wood Handbook, table 5-3; panels table 12-1, the least of its range (plywood 6.96 to 8.55, all in thousands of N/mm², particleboard 2.76 to
/// 4.14, hardboard 3.10 to 5.52). From memory: eastern white pine, and the conversion from million psi of red oak, walnut,
/// birch, yellow-poplar and ash. Red oak is northern red oak.
#[must_use]
pub fn stiffness(sheet: Sheet) -> f64 {
    let gigapascals = match sheet {
        Sheet::Plywood => 6.96,
        Sheet::Particleboard => 2.76,
        Sheet::Mdf => 3.59,
        Sheet::Hardboard => 3.10,
        Sheet::Solid(timber) => match timber {
            Timber::HardMaple => 12.6,
            Timber::RedOak => 12.5,
            Timber::WhiteOak => 12.27,
            Timber::BlackCherry => 10.3,
            Timber::BlackWalnut => 11.6,
            Timber::YellowBirch => 13.9,
            Timber::YellowPoplar => 10.9,
            Timber::WhiteAsh => 12.0,
            Timber::AmericanBeech => 11.9,
            Timber::DouglasFir => 13.44,
            Timber::WhitePine => 8.5,
            Timber::PonderosaPine => 8.9,
        },
    };
    gigapascals * 1000.0
}

/// How many times its first sag a board sags in the end under a load that stays.
///
/// Solid wood 1.5: NDS section 3.5.2, seasoned lumber. Panels 1 + the deformation factor: EN 1995-1-1, table 3.2, service class 1, the
/// kinds for dry use (plywood 0.80, particleboard P4, MDF.LA and HB.LA 2.25).
#[must_use]
pub fn creep(sheet: Sheet) -> f64 {
    match sheet {
        Sheet::Solid(_) => 1.5,
        Sheet::Plywood => 1.0 + 0.80,
        Sheet::Particleboard | Sheet::Mdf | Sheet::Hardboard => 1.0 + 2.25,
    }
}

/// A shelf may sag by one such share of its span at first: 1/16 in a foot, ANSI/KCMA A161.1-2012, section 5.1.
pub const FIRST_SHARE: f64 = 192.0;
/// And by no more than this, mm: 1/4 in, the same section.
pub const FIRST_MOST: f64 = 6.35;
/// In the long run it may sag by one such share: Architectural Woodwork Standards, first edition (2009), section 1.2.21.
pub const LONG_SHARE: f64 = 144.0;
/// No shelf bears more than this, N: 200 lb, the same section.
pub const MOST_ON_A_SHELF: f64 = 200.0 * 0.453_592_37 * crate::plan::defaults::STANDARD_GRAVITY;

/// A board under its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sagging {
    /// Between what bears it, mm.
    pub span: f64,
    /// What it sags at first, mm.
    pub first: f64,
    /// What it sags in the end, mm.
    pub in_the_end: f64,
    /// What it would sag at first with the load in one heap in the middle, mm.
    pub heaped: f64,
    /// What it would sag at first were its ends held fast, mm.
    pub held: f64,
    /// What lies on it, without its own weight, N.
    pub load: f64,
    /// The longest span that passes both limits under this load, mm.
    pub longest: f64,
}

impl Sagging {
    /// A board of `sheet`, `wide` and `thick`, over `span`, under `pressure` (N/mm²) and its own weight of `own` N on each
    /// square millimetre.
    #[must_use]
    pub fn of(sheet: Sheet, span: f64, [wide, thick]: [f64; 2], pressure: f64, own: f64) -> Self {
        let (stiff, second) = (stiffness(sheet), inertia(wide, thick));
        let whole = pressure + own;
        let at = |ends, load| sag(ends, load, span, stiff, second);
        let first = at(Ends::Resting, Load::Even(whole * wide));
        let own_sag = at(Ends::Resting, Load::Even(own * wide));
        let limited = longest_span(stiff, thick, whole, FIRST_SHARE);
        // The quarter inch grows with the fourth power of the span.
        let capped = (FIRST_MOST * 384.0 * stiff * inertia(1.0, thick) / (5.0 * whole)).powf(0.25);
        let long = longest_span(stiff, thick, whole * creep(sheet), LONG_SHARE);
        Self {
            span,
            first,
            in_the_end: first * creep(sheet),
            heaped: own_sag + at(Ends::Resting, Load::Heaped(pressure * wide * span)),
            held: at(Ends::Held, Load::Even(whole * wide)),
            load: pressure * wide * span,
            longest: limited.min(capped).min(long),
        }
    }

    /// The most that it may sag at first, mm.
    #[must_use]
    pub fn first_limit(&self) -> f64 {
        (self.span / FIRST_SHARE).min(FIRST_MOST)
    }

    /// The most that it may sag in the end, mm.
    #[must_use]
    pub fn long_limit(&self) -> f64 {
        self.span / LONG_SHARE
    }

    /// Whether it keeps both limits.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.first <= self.first_limit() && self.in_the_end <= self.long_limit()
    }

    /// Whether more lies on it than a shelf bears.
    #[must_use]
    pub fn is_overloaded(&self) -> bool {
        self.load > MOST_ON_A_SHELF
    }
}
