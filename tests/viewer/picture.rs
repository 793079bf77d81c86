//! What a picture of the scene holds, drawn off screen by whatever adapter there is.

use elbowroom::clearance;
use elbowroom::viewer::capture::{Options, Picture, picture};

use crate::plans;

pub(crate) const TESTS: &[(&str, fn())] = &[
    ("picture: the scene is in it", the_scene_is_in_it),
    ("picture: a touch is marked where it is", a_touch_is_marked),
];

/// Small, because the processor draws it.
const SIZE: (u32, u32) = (640, 400);

type Colour = [u8; 3];

fn at(picture: &Picture, x: u32, y: u32) -> Colour {
    let [r, g, b, _] = picture.image.get_pixel(x, y).0;
    [r, g, b]
}

/// The pixel at a place, or at the nearest edge.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the picture's size")]
fn near(picture: &Picture, x: f32, y: f32) -> Colour {
    let pixel = |v: f32, size: u32| v.round().clamp(0.0, size as f32 - 1.0) as u32;
    at(picture, pixel(x, SIZE.0), pixel(y, SIZE.1))
}

/// The mean colour of a square of 9 pixels about a place.
fn about(picture: &Picture, [x, y]: [f32; 2]) -> [f32; 3] {
    let mut sum = [0.0; 3];
    for (dx, dy) in (-4i8..=4).flat_map(|dx| (-4i8..=4).map(move |dy| (dx, dy))) {
        let colour = near(picture, x + f32::from(dx), y + f32::from(dy));
        (0..3).for_each(|k| sum[k] += f32::from(colour[k]) / 81.0);
    }
    sum
}

fn the_scene_is_in_it() {
    let picture = picture(&plans::wide(), &Options { size: SIZE, ..Options::default() }).expect("it is drawn");
    assert_eq!(picture.image.dimensions(), SIZE);
    // Not one flat colour: count what fills at least a two-hundredth of the picture, in coarse steps.
    let mut counts = std::collections::BTreeMap::<Colour, u32>::new();
    for pixel in picture.image.pixels() {
        *counts.entry([pixel.0[0] / 24, pixel.0[1] / 24, pixel.0[2] / 24]).or_default() += 1;
    }
    let large = counts.values().filter(|&&count| count > SIZE.0 * SIZE.1 / 200).count();
    assert!(large >= 8, "only {large} colours fill a part of the picture");
    // Fronts are painted: greener than red, where each is expected.
    let fronts: Vec<_> = picture.fronts.iter().flatten().collect();
    assert!(fronts.len() >= 4, "only {} fronts are in the picture", fronts.len());
    let painted = fronts.iter().filter(|&&&front| {
        let [r, g, _] = about(&picture, front);
        g > r + 2.0
    });
    assert!(painted.count() * 2 > fronts.len(), "the fronts are not where they should be");
    // The floor is wood: redder than blue, below everything in the middle.
    let [r, _, b] = about(&picture, [SIZE.0 as f32 / 2.0, SIZE.1 as f32 - 12.0]);
    assert!(r > b + 15.0, "no floor: {r} {b}");
}

fn a_touch_is_marked() {
    let plan = plans::too_narrow();
    let findings = clearance::answer(&plan).findings;
    let index = findings.iter().position(|f| f.mover.is_some()).expect("a moving part meets something");
    let options = Options { size: SIZE, finding: Some(index), ..Options::default() };
    let picture = picture(&plan, &options).expect("it is drawn");
    let &[x, y] = picture.marks.first().expect("a mark is in the picture");
    assert!((0.0..SIZE.0 as f32).contains(&x) && (0.0..SIZE.1 as f32).contains(&y));
    // The ring: walk round it and count the mark's colours (the touch's or the warning's), whatever lies below it. What
    // touches is red as well, but not this red.
    let marked = |colour: Colour| {
        let like = |want: Colour| (0..3).all(|k| colour[k].abs_diff(want[k]) < 20);
        like([255, 120, 88]) || like([250, 196, 92])
    };
    let on_ring = (0..72u8).filter(|k| {
        let angle = f32::from(*k) / 72.0 * std::f32::consts::TAU;
        (11..=40u8).any(|radius| {
            let radius = f32::from(radius);
            marked(near(&picture, x + angle.cos() * radius, y + angle.sin() * radius))
        })
    });
    let share = on_ring.count();
    assert!(share > 54, "only {share} of 72 steps round the mark have its colour");
}
