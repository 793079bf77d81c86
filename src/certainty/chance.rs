//! Chance that is the same on any machine with any number of threads: what is off in each sample, block by block.
//!
//! Samples come in blocks of [`BLOCK`]; each block has its own generator, seeded from the seed and the block's number, so
//! that who draws which block, and when, changes nothing.

use fastrand::Rng;

use crate::plan::SpreadLaw;

/// Samples in a block.
pub(super) const BLOCK: usize = 1_000;

/// A tolerance is this many sigma of the normal law, and what is off by more is not built in.
pub const SIGMAS: f64 = 3.0;

/// The generator of a block.
pub(super) fn generator(seed: u64, block: u64) -> Rng {
    // SplitMix64's finisher: neighbouring numbers give unlike seeds.
    let mut mixed = seed ^ block.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    Rng::with_seed(mixed ^ (mixed >> 31))
}

/// Draws how much of its tolerance something is off by: from −1 to 1.
pub(super) fn draw(law: SpreadLaw, generator: &mut Rng) -> f64 {
    let even = generator.f64();
    match law {
        SpreadLaw::Uniform => 2.0 * even - 1.0,
        SpreadLaw::Normal => {
            let outside = OUTSIDE;
            (quantile(outside + even * (1.0 - 2.0 * outside)) / SIGMAS).clamp(-1.0, 1.0)
        }
    }
}

/// The share of a normal distribution below −3 sigma (Abramowitz and Stegun, table 26.1: 0.0013498980).
const OUTSIDE: f64 = 0.001_349_898_031_630_094_5;

/// The sigma of a law, as a share of the tolerance.
///
/// Of a normal law cut off at three sigma it is `sqrt(1 − 2·3·φ(3)/(1 − 2·0.00135))` of the whole one's; of an even one
/// `1/√3`.
#[must_use]
pub fn sigma(law: SpreadLaw) -> f64 {
    match law {
        SpreadLaw::Uniform => 1.0 / 3.0_f64.sqrt(),
        SpreadLaw::Normal => {
            let density = (-SIGMAS * SIGMAS / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
            (1.0 - 2.0 * SIGMAS * density / (1.0 - 2.0 * OUTSIDE)).sqrt() / SIGMAS
        }
    }
}

/// The value below which a share `p` of the normal distribution lies: P. J. Acklam's rational approximation, whose
/// relative error is below 1.2e-9.
fn quantile(p: f64) -> f64 {
    const A: [f64; 6] = [
        -3.969_683_028_665_376e1,
        2.209_460_984_245_205e2,
        -2.759_285_104_469_687e2,
        1.383_577_518_672_69e2,
        -3.066_479_806_614_716e1,
        2.506_628_277_459_239,
    ];
    const B: [f64; 5] = [
        -5.447_609_879_822_406e1,
        1.615_858_368_580_409e2,
        -1.556_989_798_598_866e2,
        6.680_131_188_771_972e1,
        -1.328_068_155_288_572e1,
    ];
    const C: [f64; 6] = [
        -7.784_894_002_430_293e-3,
        -3.223_964_580_411_365e-1,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 4] =
        [7.784_695_709_041_462e-3, 3.224_671_290_700_398e-1, 2.445_134_137_142_996, 3.754_408_661_907_416];
    /// Below this the tail's formula holds.
    const TAIL: f64 = 0.024_25;
    let sum = |terms: &[f64], x: f64| terms.iter().fold(0.0, |sum, term| sum * x + term);
    let tail = |p: f64| {
        let q = (-2.0 * p.ln()).sqrt();
        sum(&C, q) / (sum(&D, q) * q + 1.0)
    };
    if p < TAIL {
        tail(p)
    } else if p > 1.0 - TAIL {
        -tail(1.0 - p)
    } else {
        let q = p - 0.5;
        let r = q * q;
        sum(&A, r) * q / (sum(&B, r) * r + 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.5: the normal deviate for 0.975, 0.99, 0.999 and
    // 0.9999.
    #[test]
    fn the_quantiles_are_the_published_ones() {
        for (p, x) in
            [(0.5, 0.0), (0.975, 1.959_963_98), (0.99, 2.326_347_87), (0.999, 3.090_232_31), (0.9999, 3.719_016_49)]
        {
            assert!((quantile(p) - x).abs() < 1e-7, "{p}");
            assert!((quantile(1.0 - p) + x).abs() < 1e-7, "{p}");
        }
        assert!((quantile(OUTSIDE) + 3.0).abs() < 1e-7);
    }

    #[test]
    fn what_is_drawn_has_the_sigma_that_its_law_says() {
        for law in [SpreadLaw::Normal, SpreadLaw::Uniform] {
            let mut generator = generator(7, 3);
            let drawn: Vec<f64> = (0..200_000).map(|_| draw(law, &mut generator)).collect();
            assert!(drawn.iter().all(|x| x.abs() <= 1.0));
            let mean = drawn.iter().sum::<f64>() / drawn.len() as f64;
            let square = drawn.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / drawn.len() as f64;
            assert!(mean.abs() < 0.005, "{mean}");
            assert!((square.sqrt() / sigma(law) - 1.0).abs() < 0.01, "{law:?}: {}", square.sqrt());
        }
    }

    #[test]
    fn every_block_and_every_seed_draws_its_own() {
        let first = |seed, block| generator(seed, block).u64(..);
        assert_eq!(first(1, 0), first(1, 0));
        assert_ne!(first(1, 0), first(1, 1));
        assert_ne!(first(1, 0), first(2, 0));
    }
}
