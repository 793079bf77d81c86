//! How good is a layout, and what stands in the way of one? What layouts of boards and of sheets have in common.

use thiserror::Error;

use super::size;
use crate::progress::Cancelled;

/// What a layout uses as little of as it can.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// How many boards or sheets: all are alike.
    Count,
    /// Their prices added up: the stock names prices.
    Price,
    /// Their lengths (mm) or areas (mm²) added up: sizes differ, and the stock names no prices.
    Material,
}

/// How good a layout is known to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// No layout uses less.
    Proved,
    /// The best that was found.
    BestFound {
        /// No layout uses less than this, in the layout's measure.
        at_least: f64,
    },
}

/// What a saw takes away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saw {
    /// Width of a cut, mm; may be 0.
    pub kerf: f64,
    /// What is cut off each end of a board, or each edge of a sheet, before anything else, mm, the cut itself included.
    pub trim: f64,
}

/// What is wrong with a job of cutting.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Problem {
    /// A size that nothing can have.
    #[error("the {what} of `{name}` is {value} mm; it must be more than 0 and at most 30000 mm")]
    Size {
        /// Which size.
        what: &'static str,
        /// Whose.
        name: String,
        /// What it was, mm.
        value: f64,
    },
    /// A kerf or trim that no saw has.
    #[error("the {what} is {value} mm; it must be 0 or more and at most 100 mm")]
    SawSize {
        /// Kerf or trim.
        what: &'static str,
        /// What it was, mm.
        value: f64,
    },
    /// A piece that none is wanted of.
    #[error("0 of `{piece}` are wanted; leave it out, or want at least 1")]
    NoneWanted {
        /// The piece.
        piece: String,
    },
    /// More pieces than can be laid out.
    #[error("{pieces} pieces are wanted; at most {most} can be laid out at once")]
    TooMany {
        /// How many pieces.
        pieces: usize,
        /// How many there may be.
        most: usize,
    },
    /// Nothing to cut from.
    #[error("there is no stock to cut from; name at least one size with a count of 1 or more")]
    NoStock,
    /// Some of the stock has a price and this has none.
    #[error("`{stock}` has no price though other stock has; give it one (0 for an offcut on hand), or none to any")]
    NoPrice {
        /// The stock.
        stock: String,
    },
    /// A price that nothing has.
    #[error("the price of `{stock}` is {price}; it must be 0 or more and at most 1000000")]
    Price {
        /// The stock.
        stock: String,
        /// What it was.
        price: f64,
    },
    /// Nothing is left of a board or sheet once it is trimmed.
    #[error("nothing is left of `{stock}` when {trim} mm are trimmed off each side")]
    TrimTakesAll {
        /// The stock.
        stock: String,
        /// The trim, mm.
        trim: f64,
    },
    /// A piece larger than every board or sheet.
    #[error("`{piece}` ({size} mm) is larger than any stock once trimmed (the largest: {largest} mm)")]
    TooLarge {
        /// The piece.
        piece: String,
        /// Its size.
        size: String,
        /// The size of the largest stock, trimmed.
        largest: String,
    },
    /// A piece that would fit only across the grain.
    #[error("`{piece}` ({size} mm) fits no sheet with its grain along the sheet; it would fit turned")]
    GrainForbids {
        /// The piece.
        piece: String,
        /// Its size.
        size: String,
    },
    /// The stock does not reach.
    #[error("the stock runs out: {} still to be cut{}", list(.left), if *.proved { "" } else { " in the best layout found" })]
    StockRunsOut {
        /// Pieces that have no place, and how many of each.
        left: Vec<(String, usize)>,
        /// Whether no layout could place them all.
        proved: bool,
    },
}

fn list(left: &[(String, usize)]) -> String {
    left.iter().map(|(name, count)| format!("{count} of `{name}`")).collect::<Vec<_>>().join(", ")
}

/// Why there is no layout.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Failure {
    /// The job cannot be done as it stands; all that is wrong with it.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Unfit(Vec<Problem>),
    /// The watch said stop.
    #[error(transparent)]
    Cancelled(#[from] Cancelled),
}

/// The most pieces laid out at once: a tree of them on one sheet is walked by recursion.
const MOST_PIECES: usize = 5_000;
/// A saw's largest kerf or trim, mm.
const MOST_SAW_MM: f64 = 100.0;
/// Prices are told apart to a hundredth of the smallest coin of most currencies.
const PRICE_STEPS: f64 = 10_000.0;

/// Kerf and trim in steps, with a problem for each that no saw has.
pub(super) fn check_saw(saw: Saw, problems: &mut Vec<Problem>) -> (i64, i64) {
    let mut check = |what: &'static str, value: f64| {
        size::to_steps(value).filter(|_| value <= MOST_SAW_MM).unwrap_or_else(|| {
            problems.push(Problem::SawSize { what, value });
            0
        })
    };
    (check("kerf", saw.kerf), check("trim", saw.trim))
}

/// A size in steps, with a problem where it is no size.
pub(super) fn check_size(what: &'static str, name: &str, value: f64, problems: &mut Vec<Problem>) -> i64 {
    size::to_steps(value).filter(|&steps| steps > 0).unwrap_or_else(|| {
        problems.push(Problem::Size { what, name: name.to_owned(), value });
        1
    })
}

/// Problems of how many pieces are wanted.
pub(super) fn check_counts<'n>(wanted: impl Iterator<Item = (&'n str, usize)>, problems: &mut Vec<Problem>) {
    let mut pieces = 0_usize;
    for (name, count) in wanted {
        pieces = pieces.saturating_add(count);
        if count == 0 {
            problems.push(Problem::NoneWanted { piece: name.to_owned() });
        }
    }
    if pieces > MOST_PIECES {
        problems.push(Problem::TooMany { pieces, most: MOST_PIECES });
    }
}

/// One size of stock as far as its cost goes: name, price, and how much material it is, in whole numbers and as told.
pub(super) struct Priced<'n> {
    pub(super) name: &'n str,
    pub(super) price: Option<f64>,
    pub(super) size: (i64, i64),
}

/// What each stock costs in whole numbers, the measure, and what one of those numbers is in the measure.
pub(super) fn costs(stock: &[Priced<'_>], problems: &mut Vec<Problem>) -> (Vec<i64>, Measure, f64) {
    let priced = stock.iter().any(|stock| stock.price.is_some());
    if !priced {
        let alike = stock.windows(2).all(|pair| pair[0].size == pair[1].size);
        if alike {
            return (vec![1; stock.len()], Measure::Count, 1.0);
        }
        let common = |part: fn(&Priced<'_>) -> i64| {
            stock.iter().fold(0, |common, stock| size::common_divisor(common, part(stock))).max(1)
        };
        let (along, across) = (common(|stock| stock.size.0), common(|stock| stock.size.1));
        let material = stock.iter().map(|stock| stock.size.0 / along * (stock.size.1 / across)).collect();
        return (material, Measure::Material, size::to_mm(along) * size::to_mm(across));
    }
    let mut prices = Vec::new();
    for stock in stock {
        let price = stock.price.unwrap_or_else(|| {
            problems.push(Problem::NoPrice { stock: stock.name.to_owned() });
            0.0
        });
        if !(0.0..=1e6).contains(&price) {
            problems.push(Problem::Price { stock: stock.name.to_owned(), price });
        }
        #[expect(clippy::cast_possible_truncation, reason = "at most 1e10; what is not is refused above")]
        prices.push((price.clamp(0.0, 1e6) * PRICE_STEPS).round() as i64);
    }
    let alike = stock.windows(2).all(|pair| pair[0].size == pair[1].size && pair[0].price == pair[1].price);
    if alike && prices.first().is_some_and(|&price| price > 0) {
        return (vec![1; stock.len()], Measure::Count, 1.0);
    }
    (prices, Measure::Price, 1.0 / PRICE_STEPS)
}
