//! How sure is it? What the fillers must be when angle, units, slides, pulls and fronts are a little off; and what would
//! make them narrower.
//!
//! [`worst`] takes a [`Plan`] and what [`clearance`] answered, and gives the filler that is enough whatever is off within
//! the plan's [`crate::plan::Tolerances`]; [`sure`] draws samples and says how often which filler is enough, how often
//! something touches with the fillers as they are, and what that comes from. [`alternatives`] changes the plan and asks
//! again.
//!
//! Judged are drawers and doors past the other run, and with the fillers as they are past what stands in the room too.
//! What lies between neighbours of one run is left to their reveals and gaps. Exact where what is off only shifts things;
//! where it turns them or a door swings, on the safe side by the bounds of [`Exactness`].

pub mod alternatives;
mod body;
mod cause;
mod chance;
#[cfg(test)]
mod checked;
mod deciding;
mod entry;
mod sampled;
mod storage;

pub use cause::Cause;
pub use chance::{SIGMAS, sigma};
pub use storage::storage_mm3;

use crate::clearance::{self, Answer, Meeting, meetings};
use crate::length::Length;
use crate::model::{Fillers, Model, MoverId, PartId};
use crate::plan::{Plan, Side, SpreadLaw};
use crate::progress::{Cancelled, Watch};
use cause::Causes;
use deciding::{CARRIED, Deciding, Scene, TOUCHING, at_present, deciding};
use sampled::{Draws, Questions, Widths, sample};

/// What must not happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// Coming nearer than the clearance wanted.
    Wanted,
    /// Touching: coming nearer than a thousandth of a millimetre.
    Apart,
}

impl Keep {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Wanted, Self::Apart];

    fn margin(self, model: &Model) -> f64 {
        match self {
            Self::Wanted => model.wanted.max(TOUCHING),
            Self::Apart => TOUCHING,
        }
    }
}

/// How exact the answers are, all on the safe side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exactness {
    /// What taking turns as straight leaves out at most, mm; it is added to what must be kept.
    pub turns: f64,
    /// What a swing is judged to, mm; 0 where nothing that decides swings.
    pub swings: f64,
}

/// What one filler must be in the worst case.
#[derive(Clone, Debug, PartialEq)]
pub struct WorstSide {
    /// Which side.
    pub side: Side,
    /// Its width in the plan.
    pub present: Length,
    /// The least with nothing off, which is what the check tells; `None` where no width passes.
    pub planned: Option<Length>,
    /// Below this it is too narrow whatever is off, as far as is known.
    pub at_least: Length,
    /// The least that is enough whatever is off.
    pub enough: Length,
    /// The drawer or door that decides that, and the two parts that come too near; `None` where no filler is needed.
    pub decided_by: Option<(MoverId, [PartId; 2])>,
    /// Pairs, and steps of those that swing, that were looked at.
    pub looked_at: usize,
    /// Those of them that can decide.
    pub can_decide: usize,
    /// How exact it is.
    pub exactness: Exactness,
}

/// What the fillers must be in the worst case: to keep the clearance wanted, and to stay apart at all.
#[derive(Clone, Debug, PartialEq)]
pub struct Worst {
    /// To keep the clearance wanted, the left side first.
    pub wanted: [WorstSide; 2],
    /// To stay apart at all.
    pub apart: [WorstSide; 2],
}

/// How many samples, and how they are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sampling {
    /// How many.
    pub samples: usize,
    /// Where the chance begins; the same seed gives the same answer with any number of threads.
    pub seed: u64,
    /// How many threads share the work.
    pub threads: usize,
}

impl Default for Sampling {
    fn default() -> Self {
        Self { samples: 100_000, seed: 1, threads: 1 }
    }
}

/// How often it is so, from samples, with the band in which the true share lies with 95 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// The share of samples, 0 to 1.
    pub share: f64,
    /// Wilson's band.
    pub band: [f64; 2],
}

/// A filler that is enough in this share of all cases.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Enough {
    /// The share, 0 to 1.
    pub share: f64,
    /// The width.
    pub width: Length,
    /// The band in which the true width lies with 95 %, from the ranks of the samples.
    pub band: [Length; 2],
}

/// How much of the filler's variance follows one cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// Which cause.
    pub cause: Cause,
    /// Its share, 0 to 1: the square of its correlation with the width needed.
    pub share: f64,
}

/// What samples say of one side's filler.
#[derive(Clone, Debug, PartialEq)]
pub struct SampledSide {
    /// Which side.
    pub side: Side,
    /// The mean of the widths needed to keep the clearance wanted.
    pub mean: Length,
    /// Their sigma.
    pub sigma: Length,
    /// To keep the clearance wanted, the surest last.
    pub wanted: Vec<Enough>,
    /// To stay apart at all, the surest last.
    pub apart: Vec<Enough>,
    /// What the variance comes from, the largest first. What is left to 1 comes from which pair decides.
    pub shares: Vec<Share>,
}

/// What samples say.
#[derive(Clone, Debug, PartialEq)]
pub struct Sure {
    /// How many samples were drawn; fewer than asked for where it was stopped early.
    pub samples: usize,
    /// Where the chance began.
    pub seed: u64,
    /// How what is built lies within its tolerance.
    pub law: SpreadLaw,
    /// The left side, then the right.
    pub sides: [SampledSide; 2],
    /// Whether, with the fillers as they are, anything touches.
    pub touches: Chance,
    /// Whether anything comes nearer than is wanted.
    pub too_near: Chance,
}

/// The shares of all cases for which fillers are told.
pub const SHARES: [f64; 3] = [0.95, 0.99, 0.999];

/// A plan's causes, and the pairs of each side's filler that can decide, for the clearance wanted and for touching.
struct Prepared {
    present: Model,
    causes: Causes,
    most: Vec<f64>,
    deciding: [[Deciding; 2]; 2],
}

impl Prepared {
    /// Each side is looked at from its least filler, the other as it is.
    fn of(plan: &Plan, answer: &Answer) -> Self {
        let present = Model::build_filled(plan, answer.fillers());
        let causes = Causes::of(plan, &present);
        let most = causes.most();
        let deciding = Side::BOTH.map(|side| {
            let least = answer.side(side).least.unwrap_or(answer.side(side).present);
            let model = Model::build_filled(plan, answer.fillers().with(side, least));
            let met = meetings(&model, reach(&causes));
            Keep::BOTH.map(|keep| {
                let margin = keep.margin(&model);
                let scene =
                    Scene { model: &model, causes: &causes, most: &most, meetings: &met, margin, carried: CARRIED };
                deciding(scene, side)
            })
        });
        Self { present, causes, most, deciding }
    }

    fn worst(&self, answer: &Answer) -> Worst {
        let of = |keep: usize| {
            let [left, right] = &self.deciding;
            [(Side::Left, left), (Side::Right, right)].map(|(side, both)| worst_side(answer, side, &both[keep]))
        };
        Worst { wanted: of(0), apart: of(1) }
    }
}

/// How far parts may be off at most, in mm, for a first choice of what can meet: generous, since boxes alone decide it.
fn reach(causes: &Causes) -> f64 {
    /// A turn moves what lies within this of what it turns about, in mm, by its angle. Whoever lies farther is not near
    /// the corner.
    const RADIUS: f64 = 3000.0;
    let of = |(cause, most): &(Cause, f64)| match cause {
        Cause::RunAngle => most * RADIUS,
        Cause::SlideYaw(_) => most * RADIUS / 2.0,
        _ => *most,
    };
    // Each cause of one kind counts once for each body of a pair; a run's units add up.
    let units = causes.list.iter().filter(|(cause, _)| matches!(cause, Cause::UnitWidth(..))).map(of).sum::<f64>();
    let mut kinds: Vec<(&str, f64)> = causes.list.iter().map(|one| (one.0.field(), of(one))).collect();
    kinds.sort_by(|a, b| a.0.cmp(b.0).then(b.1.total_cmp(&a.1)));
    kinds.dedup_by(|a, b| a.0 == b.0);
    // Two fronts, two pull places: twice each, for two bodies.
    units + 4.0 * kinds.iter().map(|(_, most)| most).sum::<f64>()
}

fn worst_side(answer: &Answer, side: Side, deciding: &Deciding) -> WorstSide {
    let told = answer.side(side);
    let swings = deciding.list.iter().any(deciding::Candidate::swings);
    let turns = deciding.list.iter().map(deciding::Candidate::bend).fold(0.0, f64::max);
    WorstSide {
        side,
        present: told.present,
        planned: told.least,
        at_least: Length::mm(deciding.at_least),
        enough: Length::mm(deciding.worst),
        decided_by: deciding.worst_by,
        looked_at: deciding.looked_at,
        can_decide: deciding.list.len(),
        exactness: Exactness { turns, swings: if swings { deciding::SWING_FINE } else { 0.0 } },
    }
}

/// What the fillers must be whatever is off.
#[must_use]
pub fn worst(plan: &Plan, answer: &Answer) -> Worst {
    Prepared::of(plan, answer).worst(answer)
}

/// Draws samples of everything that can be off, and gives what they say beside the worst case.
///
/// # Errors
/// If `watch` cancels.
pub fn sure(plan: &Plan, answer: &Answer, sampling: Sampling, watch: &Watch<'_>) -> Result<(Worst, Sure), Cancelled> {
    let prepared = Prepared::of(plan, answer);
    let met: Vec<Meeting> = meetings(&prepared.present, reach(&prepared.causes));
    let present = Keep::BOTH.map(|keep| {
        at_present(Scene {
            model: &prepared.present,
            causes: &prepared.causes,
            most: &prepared.most,
            meetings: &met,
            margin: keep.margin(&prepared.present),
            carried: 0.0,
        })
    });
    let [left, right] = &prepared.deciding;
    let widths = [&left[0], &left[1], &right[0], &right[1]];
    let law = plan.tolerances.spread;
    let draws = Draws {
        law,
        most: &prepared.most,
        samples: sampling.samples.max(1),
        seed: sampling.seed,
        threads: sampling.threads,
    };
    let questions = Questions { widths: &widths, present: &[&present[0], &present[1]] };
    let drawn = sample(questions, draws, watch)?;
    let mut answers = drawn.widths.iter();
    let mut side = |side: Side| {
        let (wanted, apart) = (answers.next(), answers.next());
        sampled_side(&prepared, side, wanted, apart)
    };
    let sides = [side(Side::Left), side(Side::Right)];
    let chance = |k: usize| Chance::of(drawn.present.get(k).copied().unwrap_or_default(), drawn.samples);
    let sure =
        Sure { samples: drawn.samples, seed: sampling.seed, law, sides, touches: chance(1), too_near: chance(0) };
    Ok((prepared.worst(answer), sure))
}

impl Chance {
    fn of(count: usize, samples: usize) -> Self {
        let n = samples.max(1) as f64;
        let share = count as f64 / n;
        let z = BAND;
        let middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
        let half = z / (1.0 + z * z / n) * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
        Self { share, band: [(middle - half).max(0.0), (middle + half).min(1.0)] }
    }
}

/// Half the width, in sigma, of a band that holds 95 % (Abramowitz and Stegun, table 26.5).
const BAND: f64 = 1.959_963_985;

fn sampled_side(prepared: &Prepared, side: Side, wanted: Option<&Widths>, apart: Option<&Widths>) -> SampledSide {
    let none = Widths::default();
    let (wanted, apart) = (wanted.unwrap_or(&none), apart.unwrap_or(&none));
    let n = wanted.all.len().max(1) as f64;
    let least = prepared.deciding[usize::from(side == Side::Right)][0].at_least;
    // Counted from the least possible width, so that no digits are lost.
    let mean = wanted.all.iter().map(|width| width - least).sum::<f64>() / n;
    let variance = wanted.all.iter().map(|width| (width - least - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    let mut shares: Vec<Share> = Vec::new();
    for (&(cause, _), &[sum, square, product]) in prepared.causes.list.iter().zip(&wanted.sums) {
        let (own, common) = (square / n - (sum / n) * (sum / n), product / n - mean * sum / n);
        let share = if own > 0.0 && variance > 0.0 { common * common / (own * variance) } else { 0.0 };
        // Smaller shares are not told from chance: a correlation of nothing comes out at about 1/n.
        if share > 10.0 / n {
            shares.push(Share { cause, share });
        }
    }
    shares.sort_by(|a, b| b.share.total_cmp(&a.share).then(a.cause.cmp(&b.cause)));
    SampledSide {
        side,
        mean: Length::mm(least + mean),
        sigma: Length::mm(variance.sqrt()),
        wanted: enough(&wanted.all),
        apart: enough(&apart.all),
        shares,
    }
}

/// The widths that are enough in each of [`SHARES`] of the samples.
fn enough(widths: &[f64]) -> Vec<Enough> {
    let mut sorted = widths.to_vec();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len() as f64;
    let ranked = |rank: f64| {
        // The rank lies within the samples, so the cast keeps it.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 1 and the count of samples"
        )]
        let index = rank.clamp(1.0, n.max(1.0)) as usize - 1;
        Length::mm(sorted.get(index).copied().unwrap_or_default())
    };
    SHARES
        .into_iter()
        .map(|share| {
            let half = BAND * (n * share * (1.0 - share)).sqrt();
            let rank = n * share;
            let band = [ranked((rank - half).floor()), ranked((rank + half).ceil() + 1.0)];
            Enough { share, width: ranked(rank.ceil()), band }
        })
        .collect()
}

/// The least fillers of `plan`, both asked for whatever it says.
fn least_of_both(plan: &Plan) -> Fillers {
    let mut plan = plan.clone();
    for side in Side::BOTH {
        plan.corner = plan.corner.with_filler(side, crate::plan::Filler::Least);
    }
    clearance::least_fillers(&plan)
}
