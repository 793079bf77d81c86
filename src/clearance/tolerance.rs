//! How exact is the check? Every slack the clearance check uses, with its reason.

/// A distance this close to the clearance wanted counts as equal to it, and equality is clear. Measured distances of
/// turned pieces are good to 3e-8 mm.
pub const SAME: f64 = 1e-6;

/// The tangents stop when the distance is this close to the clearance wanted.
pub(super) const TANGENT: f64 = 1e-9;

/// Closest points nearer than this, in mm, can lie far from each other and do not steer the tangents; below it only the
/// distance itself is trusted. No clearance that a plan may want lies below it.
pub(super) const STEERS: f64 = 0.1;

/// A tangent flatter than this at the clearance wanted is a graze: equality, and clear.
pub(super) const GRAZE: f64 = 1e-6;

/// Two pieces overlap when they do so by more than this along every separating axis; sums of whole millimetres and
/// thirty-seconds carry about 1e-12 of noise.
pub(super) const TOUCH: f64 = 1e-7;

/// A swinging part is judged to this, on the safe side, in mm.
pub const SWING: f64 = 0.01;

/// Gaps wider than this are not told, in mm: nobody plans by them.
pub const FAR: f64 = 250.0;

/// No filler is wider than this, in mm; the solver looks no further.
pub const WIDEST_FILLER: f64 = 2000.0;
