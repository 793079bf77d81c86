//! What is bad with one width is bad with every greater one, and it takes more there: how is that told with rectangles?
//!
//! [`stairs`] asks for the bad intervals of the other width at ends of steps, and halves a step until what is bad at its
//! far end is, but for `fine`, bad at its near end already. There may be several intervals at once, since a door can be
//! in the way of a face, past it, and in its way again.

use super::travel::Interval;

/// One step, the growing width from `from` to `to`: what is bad at its end, and the part of it that is bad all along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stair {
    pub(super) steps: [f64; 2],
    /// All that is bad for this interval between the two widths lies within.
    pub(super) outer: Interval,
    /// Bad with every width between the two; the longest, where there are several.
    pub(super) inner: Option<Interval>,
}

/// The stairs from 0 to `end`. `bad_with` tells the bad intervals at a width, and must not lose any as the width grows;
/// what `is_known` says is told already is left out.
pub(super) fn stairs(
    end: f64,
    fine: f64,
    bad_with: impl Fn(f64) -> Vec<Interval>,
    is_known: impl Fn([f64; 2], Interval) -> bool,
) -> Vec<Stair> {
    let mut stairs = Vec::new();
    let mut open = vec![([0.0, end], [bad_with(0.0), bad_with(end)])];
    while let Some(([from, to], [first, last])) = open.pop() {
        let new: Vec<Interval> = last.iter().copied().filter(|&bad| !is_known([from, to], bad)).collect();
        if new.is_empty() {
            continue;
        }
        if to - from <= fine || new.iter().all(|&bad| lacks(bad, &first) <= fine) {
            let step = |outer| Stair { steps: [from, to], outer, inner: longest_within(outer, &first) };
            stairs.extend(new.into_iter().map(step));
            continue;
        }
        let middle = f64::midpoint(from, to);
        let there = bad_with(middle);
        open.push(([middle, to], [there.clone(), last]));
        open.push(([from, middle], [first, there]));
    }
    stairs
}

/// The longest part of `bad` that none of `first` covers.
fn lacks(bad: Interval, first: &[Interval]) -> f64 {
    let mut within: Vec<Interval> =
        first.iter().copied().filter(|&[low, high]| low < bad[1] && high > bad[0]).collect();
    within.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut covered, mut most) = (bad[0], 0.0_f64);
    for [low, high] in within {
        most = most.max(low - covered);
        covered = covered.max(high);
    }
    most.max(bad[1] - covered)
}

fn longest_within(bad: Interval, first: &[Interval]) -> Option<Interval> {
    let cut = first.iter().map(|&[low, high]| [low.max(bad[0]), high.min(bad[1])]);
    cut.filter(|[low, high]| low < high).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOTHING_IS_KNOWN: fn([f64; 2], Interval) -> bool = |_, _| false;

    fn is_told(stairs: &[Stair], x: f64, y: f64) -> bool {
        stairs.iter().any(|s| s.steps[0] <= x && x <= s.steps[1] && s.outer[0] < y && y < s.outer[1])
    }

    /// Two places that are bad from a width on, which grow and become one.
    fn two_places(width: f64) -> Vec<Interval> {
        let reach = (width - 20.0).max(0.0);
        if reach <= 0.0 {
            return Vec::new();
        }
        if reach >= 25.0 {
            vec![[100.0 - reach, 150.0 + reach]]
        } else {
            vec![[100.0 - reach, 100.0 + reach], [150.0 - reach, 150.0 + reach]]
        }
    }

    #[test]
    fn every_place_that_is_bad_is_told_and_hardly_more() {
        let told = stairs(80.0, 0.5, two_places, NOTHING_IS_KNOWN);
        for (x, y) in (0..160).flat_map(|x| (0..800).map(move |y| (f64::from(x) / 2.0, f64::from(y) / 4.0))) {
            let is_bad = two_places(x).iter().any(|&[low, high]| low < y && y < high);
            assert!(!is_bad || is_told(&told, x, y), "({x}, {y}) is bad and not told");
            // Half a millimetre of the one width or of the other: what is told is bad that much further.
            let is_near = two_places(x + 0.5).iter().any(|&[low, high]| low - 0.5 <= y && y <= high + 0.5);
            assert!(is_near || !is_told(&told, x, y), "({x}, {y}) is told and far from bad");
        }
    }

    #[test]
    fn what_is_called_bad_all_along_is_bad_where_the_step_begins() {
        for stair in stairs(80.0, 0.5, two_places, NOTHING_IS_KNOWN) {
            let Some(inner) = stair.inner else { continue };
            let holds = |&[low, high]: &Interval| low <= inner[0] && inner[1] <= high;
            assert!(two_places(stair.steps[0]).iter().any(holds), "{stair:?}");
        }
    }

    #[test]
    fn what_is_known_is_left_out_and_the_rest_is_not() {
        let told = stairs(80.0, 0.5, two_places, |_, [_, high]| high < 125.0);
        assert!(!told.is_empty());
        let known = told.iter().find(|stair| stair.outer[1] < 125.0);
        assert!(known.is_none(), "{known:?}");
        assert!(is_told(&told, 40.0, 150.0));
    }
}
