//! Which figure of which standard? The 2010 ADA Standards for Accessible Design (US Department of Justice; public domain),
//! in inches as they are printed there, and two figures that no standard at hand gives.

use crate::length::Length;

/// A clause with a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clause {
    /// Clear floor space: 30 in by 48 in at the least.
    ClearFloor,
    /// A walking surface: 36 in wide at the least. From memory.
    Walking,
    /// Reach, forward or to the side, with nothing in the way: from 15 in to 48 in above the floor.
    Reach,
    /// Storage: half of it, at the least, within reach. Its own clause is from memory.
    Storage,
    /// A worktop to sit at: 34 in high at the most.
    Worktop,
    /// Toe clearance: 9 in high, and where it is required 17 in deep at the least.
    Toe,
    /// What a hand asks for behind a bar. Common practice, no source.
    FingersBehind,
    /// What knuckles ask for beside a pull. Common practice, no source.
    FingersBeside,
}

/// 305.3: depth of the clear floor space, in inches.
const CLEAR_FLOOR_DEPTH: f64 = 48.0;
/// 305.3: its width.
const CLEAR_FLOOR_WIDTH: f64 = 30.0;
/// 403.5.1, from memory.
const WALKING: f64 = 36.0;
/// 308.2.1 and 308.3.1.
const REACH: [f64; 2] = [15.0, 48.0];
/// 804.3.2.
const WORKTOP: f64 = 34.0;
/// 306.2.1 and 306.2.3: height and least depth.
const TOE: [f64; 2] = [9.0, 17.0];
/// 804.5, from memory: the least share of shelf space within reach.
const STORAGE_SHARE: f64 = 0.5;
/// Between a bar and its front: a finger and a little more, mm. Common practice, no source.
const FINGERS_BEHIND_MM: f64 = 19.0;
/// Between a pull and what stands out as far beside it, mm. Common practice, no source.
const FINGERS_BESIDE_MM: f64 = 38.0;

/// Nearer to a limit than this, in mm, is at it.
const AT_LIMIT: f64 = 1e-6;

impl Clause {
    /// Where it stands, with the edition.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Self::ClearFloor => "2010 ADA Standards, 305.3",
            Self::Walking => "2010 ADA Standards, 403.5.1 (from memory)",
            Self::Reach => "2010 ADA Standards, 308.2.1 and 308.3.1",
            Self::Storage => "2010 ADA Standards, 804.5 (from memory) with 308",
            Self::Worktop => "2010 ADA Standards, 804.3.2",
            Self::Toe => "2010 ADA Standards, 306.2.1 and 306.2.3",
            Self::FingersBehind | Self::FingersBeside => "common practice, no source",
        }
    }

    /// The least that it asks for; for reach the lower end of its range, for toe clearance the depth; `None` where it names
    /// a most.
    #[must_use]
    pub fn least(self) -> Option<Length> {
        Some(match self {
            Self::ClearFloor => Length::inches(CLEAR_FLOOR_DEPTH),
            Self::Walking => Length::inches(WALKING),
            Self::Reach | Self::Storage => Length::inches(REACH[0]),
            Self::Toe => Length::inches(TOE[1]),
            Self::FingersBehind => Length::mm(FINGERS_BEHIND_MM),
            Self::FingersBeside => Length::mm(FINGERS_BESIDE_MM),
            Self::Worktop => return None,
        })
    }

    /// The most that it allows: the upper end of the reach, a worktop's height.
    #[must_use]
    pub fn most(self) -> Option<Length> {
        match self {
            Self::Reach | Self::Storage => Some(Length::inches(REACH[1])),
            Self::Worktop => Some(Length::inches(WORKTOP)),
            _ => None,
        }
    }

    /// Whether `mm` is no less than its least and no more than its most.
    #[must_use]
    pub fn is_met(self, mm: f64) -> bool {
        let over = self.least().is_none_or(|least| mm >= least.to_mm() - AT_LIMIT);
        let under = self.most().is_none_or(|most| mm <= most.to_mm() + AT_LIMIT);
        over && under
    }
}

/// The width of a clear floor space (305.3).
#[must_use]
pub fn clear_floor_width() -> Length {
    Length::inches(CLEAR_FLOOR_WIDTH)
}

/// The height that toe clearance is counted to (306.2.1).
#[must_use]
pub fn toe_height() -> Length {
    Length::inches(TOE[0])
}

/// The least share of storage within reach (804.5, from memory).
#[must_use]
pub fn storage_share() -> f64 {
    STORAGE_SHARE
}
