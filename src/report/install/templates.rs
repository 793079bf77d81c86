//! What is cut and marked from, full size? A drawing a piece and a stick a wall, as SVG whose units are millimetres.
//!
//! Gives names and texts of files; whoever calls writes them. Every file begins with [`TEMPLATE_MARK`]'s words, so that one of
//! ours is known again. Printed at its own size the check bar measures what is written on it; on paper that is too small,
//! the crosses show where sheets that fit both A4 and Letter meet.

use std::fmt::Write as _;

use super::{marks, outlines};
use crate::install::Installation;
use crate::install::marks::{MarkKind, WallMark, WallMarks};
use crate::install::outline::{Outline, Point};
use crate::length::{Length, Unit};

/// What every template says of itself in its first line.
pub const TEMPLATE_MARK: &str = "elbowroom template";

/// One file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    /// Its name, without a folder.
    pub name: String,
    /// What is in it.
    pub text: String,
}

/// Around the piece, and for the words above it, mm. Our own choice, as are the sizes below.
const MARGIN: f64 = 20.0;
const HEADER: f64 = 42.0;
const LINE: f64 = 0.25;
const LETTERS: f64 = 5.0;
/// What a sheet shows: within A4 (210 × 297) and Letter (215.9 × 279.4) with 15 mm to spare all round.
const SHEET: [f64; 2] = [180.0, 245.0];
/// Marks of plumb lines and of all others on a stick, and how far along a line a letter takes.
const TICKS: [f64; 2] = [30.0, 18.0];
const EACH_LETTER: f64 = 0.62 * LETTERS;

/// Every template of an installation: outlines first, then sticks.
#[must_use]
pub fn templates(installation: &Installation) -> Vec<Template> {
    let unit = installation.model.unit;
    let numbered = installation.outlines.pieces.iter().enumerate();
    let mut files: Vec<Template> = numbered
        .map(|(k, outline)| Template {
            name: format!("{:02}-{}.svg", k + 1, file_name(&outline.name)),
            text: outline_svg(outline, unit),
        })
        .collect();
    for wall in &installation.marks {
        let name = format!("stick-{}-wall", wall.side.word());
        files.push(Template { name: format!("{name}.svg"), text: stick_svg(wall, unit) });
        let title = format!("{TEMPLATE_MARK}: marks on the {} wall, from the corner", wall.side.word());
        let lines = std::iter::once(title).chain(marks::table(wall, unit));
        files.push(Template { name: format!("{name}.txt"), text: lines.map(|line| line + "\n").collect() });
    }
    files
}

/// Small letters and figures, with one hyphen for all between.
fn file_name(name: &str) -> String {
    let words = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.map(str::to_ascii_lowercase).collect::<Vec<_>>().join("-")
}

/// A drawing in the making.
struct Drawing {
    size: [f64; 2],
    body: String,
}

impl Drawing {
    fn new(size: [f64; 2]) -> Self {
        Self { size, body: String::new() }
    }

    fn add(&mut self, element: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _always_written = self.body.write_fmt(element);
        self.body.push('\n');
    }

    fn line(&mut self, from: Point, to: Point) {
        let [[x1, y1], [x2, y2]] = [from, to];
        self.add(format_args!(r#"<line x1="{x1:.3}" y1="{y1:.3}" x2="{x2:.3}" y2="{y2:.3}" stroke="black"/>"#));
    }

    fn words(&mut self, at: Point, text: &str) {
        let ([x, y], text) = (at, escaped(text));
        self.add(format_args!(r#"<text x="{x:.3}" y="{y:.3}">{text}</text>"#));
    }

    /// Words that begin at `at` and go upwards.
    fn words_up(&mut self, at: Point, text: &str) {
        let ([x, y], text) = (at, escaped(text));
        self.add(format_args!(r#"<text transform="translate({x:.3} {y:.3}) rotate(-90)">{text}</text>"#));
    }

    /// A bar to check the printer by.
    fn check_bar(&mut self, at: Point, unit: Unit) {
        let (long, text) = match unit {
            Unit::Millimetre => (100.0, "this bar is 100 mm long"),
            Unit::Inch => (Length::inches(4.0).to_mm(), "this bar is 4 in long"),
        };
        let [x, y] = at;
        self.add(format_args!(
            r#"<rect id="check-bar" x="{x:.3}" y="{y:.3}" width="{long:.3}" height="4" fill="black" stroke="none"/>"#
        ));
        self.words([x + long + 3.0, y + 4.0], &format!("{text}; if not, print at 100 %, not to fit"));
    }

    /// Crosses where sheets of paper meet, each sheet with its letter and number.
    fn sheets(&mut self) {
        let count = |size: f64, sheet: f64| (size / sheet).ceil().max(1.0);
        let [columns, rows] = [count(self.size[0], SHEET[0]), count(self.size[1], SHEET[1])];
        if columns <= 1.0 && rows <= 1.0 {
            return;
        }
        let each = |n: f64| std::iter::successors(Some(0.0), |k| Some(k + 1.0)).take_while(move |k| *k < n);
        for row in each(rows) {
            for column in each(columns) {
                let [x, y] = [column * SHEET[0], row * SHEET[1]];
                self.add(format_args!(
                    r#"<path class="sheet" d="M {:.3} {y:.3} H {:.3} M {x:.3} {:.3} V {:.3}" stroke="gray" fill="none"/>"#,
                    x - 4.0,
                    x + 4.0,
                    y - 4.0,
                    y + 4.0
                ));
                self.words([x + 2.0, y + LETTERS + 1.0], &format!("row {} sheet {}", row + 1.0, column + 1.0));
            }
        }
    }

    fn finished(self, title: &str) -> String {
        let [w, h] = self.size;
        format!(
            "<!-- {TEMPLATE_MARK} -->\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w:.3}mm\" \
             height=\"{h:.3}mm\" viewBox=\"0 0 {w:.3} {h:.3}\" font-family=\"sans-serif\" font-size=\"{LETTERS}\" \
             stroke-width=\"{LINE}\">\n<title>{}</title>\n<g>\n{}</g>\n</svg>\n",
            escaped(title),
            // Words have no outline of their own.
            self.body.replace("<text ", "<text stroke=\"none\" ")
        )
    }
}

/// For use between tags.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn outline_svg(outline: &Outline, unit: Unit) -> String {
    let [wide, high] = outline.blank;
    let title = format!("{}, seen {}", outline.name, outline.seen_from.word());
    let mut drawing = Drawing::new([(wide + 2.0 * MARGIN).max(MARGIN * 12.0), high + 2.0 * MARGIN + HEADER]);
    drawing.sheets();
    let size = outline.blank.map(|mm| Length::mm(mm).show(unit));
    drawing.words([MARGIN, MARGIN + 4.0], &title);
    drawing.words([MARGIN, MARGIN + 11.0], &format!("dashed: the piece as cut, {} by {}", size[0], size[1]));
    drawing.check_bar([MARGIN, MARGIN + 16.0], unit);
    let [left, top] = [MARGIN, MARGIN + HEADER];
    drawing.add(format_args!(
        r#"<rect id="blank" x="{left:.3}" y="{top:.3}" width="{wide:.3}" height="{high:.3}" fill="none" stroke="gray" stroke-dasharray="6 3"/>"#
    ));
    let on_page = |[x, y]: Point| [left + x, top + high - y];
    let mut path = String::new();
    for (k, point) in outline.points().into_iter().enumerate() {
        let ([x, y], step) = (on_page(point), if k == 0 { 'M' } else { 'L' });
        path.push_str(&format!("{step} {x:.3} {y:.3} "));
    }
    drawing.add(format_args!(r#"<path id="outline" d="{path}Z" fill="none" stroke="black"/>"#));
    for edge in &outline.edges {
        let ([x, y], upright) = beside(&edge.points);
        let [x, y] = on_page([x, y]);
        let label = outlines::label(edge);
        if upright { drawing.words_up([x, y], &label) } else { drawing.words([x, y], &label) }
    }
    drawing.finished(&title)
}

/// Where the words for an edge stand: inside the piece, a little off the edge's middle; and whether they go upwards.
fn beside(points: &[Point]) -> (Point, bool) {
    let (first, last) = (points.first().copied().unwrap_or_default(), points.last().copied().unwrap_or_default());
    let along = [last[0] - first[0], last[1] - first[1]];
    let middle = [f64::midpoint(first[0], last[0]), f64::midpoint(first[1], last[1])];
    let upright = along[1].abs() > along[0].abs();
    // Counter-clockwise, the piece lies to the left of its edges.
    let off = match (upright, along[0] > 0.0, along[1] > 0.0) {
        (true, _, true) => [-3.0, 0.0],
        (true, _, false) => [3.0 + LETTERS, 0.0],
        (false, true, _) => [0.0, 3.0],
        (false, false, _) => [0.0, -3.0 - LETTERS],
    };
    ([middle[0] + off[0], middle[1] + off[1]], upright)
}

fn stick_svg(wall: &WallMarks, unit: Unit) -> String {
    let title = format!("stick for the {} wall: lay this end in the corner", wall.side.word());
    let farthest = wall.marks.iter().map(|mark| mark.along).fold(wall.length, f64::max);
    let labels: Vec<String> = wall.marks.iter().map(|mark| mark_label(mark, unit)).collect();
    let longest = labels.iter().map(|label| label.chars().count()).max().unwrap_or(0);
    let foot = MARGIN + HEADER + (longest as f64 * EACH_LETTER).max(TICKS[0]);
    let mut drawing = Drawing::new([farthest + 2.0 * MARGIN, foot + MARGIN]);
    drawing.sheets();
    drawing.words([MARGIN, MARGIN], &title);
    drawing.check_bar([MARGIN, MARGIN + 6.0], unit);
    drawing.line([MARGIN, foot], [MARGIN + wall.length, foot]);
    drawing.line([MARGIN, foot - TICKS[0]], [MARGIN, foot]);
    drawing.words_up([MARGIN - 1.0, foot - 4.0], "corner");
    for (mark, label) in wall.marks.iter().zip(labels) {
        let x = MARGIN + mark.along;
        // Words of plumb lines before the mark, of all others behind it: both can be read where they come close.
        let (high, at) = if mark.kind == MarkKind::UnitEdge { (TICKS[0], x - 1.0) } else { (TICKS[1], x + LETTERS) };
        drawing.add(format_args!(
            r#"<line class="mark" x1="{x:.3}" y1="{:.3}" x2="{x:.3}" y2="{foot:.3}" stroke="black"/>"#,
            foot - high
        ));
        drawing.words_up([at, foot - 4.0], &label);
    }
    drawing.finished(&title)
}

fn mark_label(mark: &WallMark, unit: Unit) -> String {
    let height = mark.above_level.map_or(String::new(), |above| {
        let way = if above < 0.0 { "below" } else { "above" };
        format!(", {} {way} level", Length::mm(above.abs()).show_bare(unit))
    });
    format!("{} {}{height}", Length::mm(mark.along).show_bare(unit), mark.name)
}
