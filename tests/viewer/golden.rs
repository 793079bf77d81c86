//! The standard views look as they did: pictures drawn in software, compared with those that were looked at and kept.
//!
//! Software graphics compile for the processor they run on, so pictures differ in the last digits from machine to
//! machine: a pixel counts as changed when a channel differs by more than [`CHANNEL`], and so many may.
//!
//! To accept what is drawn now: `ELBOWROOM_ACCEPT_PICTURES=1 cargo test --test viewer golden`.

#![expect(clippy::panic, reason = "a picture that changed is a test that fails")]

use std::path::PathBuf;

use elbowroom::viewer::capture::{Options, picture};
use elbowroom::viewer::settings::Audience;
use elbowroom::viewer::viewpoint::Viewpoint;
use image::{Rgba, RgbaImage};

use crate::plans;

/// Those that need the software adapter.
pub(crate) const TESTS: &[(&str, fn())] = &[
    ("golden: the whole corner", whole_corner),
    ("golden: standing before it, for the owner, with the panel", standing_for_owner),
    ("golden: along the right run, a drawer open", along_the_right),
    ("golden: a finding pointed out", a_finding),
];

/// Those that need nothing.
pub(crate) const PLAIN: &[(&str, fn())] = &[("golden: a change is told from noise", a_change_is_told_from_noise)];

const SIZE: (u32, u32) = (640, 400);
/// A channel may differ by this much of 255 before its pixel counts as changed.
const CHANNEL: u8 = 20;
/// So many pixels may be changed: a two-hundredth of the picture, mostly along edges.
const PIXELS: usize = 1_280;

fn whole_corner() {
    same("whole-corner", &Options { size: SIZE, ..Options::default() });
}

fn standing_for_owner() {
    let options = Options { panel: true, audience: Audience::Owner, from: Viewpoint::Standing, ..Options::default() };
    same("standing-for-owner", &Options { size: SIZE, ..options });
}

fn along_the_right() {
    let plan = plans::plan();
    let model = elbowroom::clearance::answer(&plan).model;
    let open = model.movers.iter().rev().take(1).map(|mover| mover.id).collect();
    same("along-the-right", &Options { size: SIZE, from: Viewpoint::AlongRight, open, ..Options::default() });
}

fn a_finding() {
    same("a-finding", &Options { size: SIZE, finding: Some(0), ..Options::default() });
}

fn same(name: &str, options: &Options) {
    let now = picture(&plans::plan(), options).expect("it is drawn").image;
    let kept = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/viewer/golden/{name}.png"));
    if std::env::var_os("ELBOWROOM_ACCEPT_PICTURES").is_some() {
        now.save(&kept).expect("it is kept");
        return;
    }
    // What is new lies outside the repository.
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("golden");
    let [new, diff] = ["new", "diff"].map(|what| folder.join(format!("{name}.{what}.png")));
    let look = || {
        std::fs::create_dir_all(&folder).expect("a folder for what is new");
        now.save(&new).expect("it is written");
        format!("look at {}; to accept it, ELBOWROOM_ACCEPT_PICTURES=1 cargo test --test viewer golden", new.display())
    };
    let before = match image::open(&kept) {
        Ok(before) => before.to_rgba8(),
        Err(why) => panic!("{} cannot be read ({why}): {}", kept.display(), look()),
    };
    if let Err((changed, marked)) = compare(&before, &now) {
        let look = look();
        marked.save(&diff).expect("it is written");
        panic!("{changed} pixels changed, {PIXELS} may; {look}; the changes are red in {}", diff.display());
    }
}

/// Whether two pictures are the same but for noise; if not, how many pixels changed, and which.
fn compare(before: &RgbaImage, now: &RgbaImage) -> Result<(), (usize, RgbaImage)> {
    if before.dimensions() != now.dimensions() {
        return Err((now.pixels().len(), now.clone()));
    }
    let mut marked = now.clone();
    let mut changed = 0;
    for (pixel, (a, b)) in marked.pixels_mut().zip(before.pixels().zip(now.pixels())) {
        if a.0.iter().zip(b.0).any(|(a, b)| a.abs_diff(b) > CHANNEL) {
            changed += 1;
            *pixel = Rgba([255, 0, 0, 255]);
        } else {
            pixel.0 = pixel.0.map(|channel| channel / 2 + 100);
        }
    }
    if changed > PIXELS { Err((changed, marked)) } else { Ok(()) }
}

fn a_change_is_told_from_noise() {
    let plain = RgbaImage::from_pixel(SIZE.0, SIZE.1, Rgba([90, 110, 105, 255]));
    // Every pixel a little brighter, and an edge one pixel wide elsewhere, is noise.
    let mut noise = RgbaImage::from_pixel(SIZE.0, SIZE.1, Rgba([98, 100, 110, 255]));
    (0..SIZE.1).for_each(|y| noise.put_pixel(200, y, Rgba([255, 255, 255, 255])));
    assert!(compare(&plain, &noise).is_ok());
    // A pull that is gone, 60 by 25 pixels, is none.
    let mut changed = plain.clone();
    (0..60).for_each(|x| (0..25).for_each(|y| changed.put_pixel(100 + x, 50 + y, Rgba([200, 190, 160, 255]))));
    assert_eq!(compare(&plain, &changed).map_err(|(count, _)| count), Err(1_500));
    assert!(compare(&plain, &RgbaImage::new(10, 10)).is_err());
}
