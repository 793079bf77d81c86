//! How long does a frame take? `cargo bench --bench frames -- [WIDTHxHEIGHT] [FRAMES]`, off screen, on any adapter.
//!
//! An empty scene is drawn in the same run, so that the part that is Bevy's own can be told apart. While the frames are
//! taken the film plays, with the panel in the picture; each frame is waited for to its end. Each case runs in a process
//! of its own, whose first frame and largest memory are told beside it. Compare figures of one run with each other.

#![expect(clippy::print_stdout, reason = "a table is what it is for")]

use std::process::Command;
use std::time::{Duration, Instant};

use bevy::camera::RenderTarget;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{PollType, TextureFormat, TextureUsages};
use bevy::render::renderer::{RenderAdapterInfo, RenderDevice};
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use elbowroom::command::DEMO;
use elbowroom::plan::{self, Plan};
use elbowroom::viewer::capture::{Options, Studio};
use elbowroom::viewer::quality::{Drawing, Quality};

const CASES: [&str; 6] = ["empty", "demo plain", "demo balanced", "demo full", "1000 units plain", "1000 units full"];
/// The first frames make shaders and caches.
const WARM_UP: usize = 20;

fn main() {
    // What `cargo bench` adds is of no use here.
    let given: Vec<String> = std::env::args().skip(1).filter(|argument| !argument.starts_with("--")).collect();
    let case = std::env::var("ELBOWROOM_CASE").ok();
    let size =
        given.iter().find_map(|text| text.split_once('x')).and_then(|(w, h)| Some((w.parse().ok()?, h.parse().ok()?)));
    let size = size.unwrap_or((1280, 800));
    let frames = given.iter().find_map(|text| text.parse().ok()).unwrap_or(60);
    match case {
        Some(case) => run(&case, size, frames),
        None => table(size, frames, &given),
    }
}

fn table(size: (u32, u32), frames: usize, given: &[String]) {
    println!("{} × {}, {frames} frames each, median (nine of ten within), first frame, largest memory", size.0, size.1);
    for case in CASES {
        let program = std::env::current_exe().expect("this program has a path");
        let status = Command::new(program).args(given).env("ELBOWROOM_CASE", case).status();
        if !status.is_ok_and(|status| status.success()) {
            println!("{case:18} did not run");
        }
    }
}

fn run(case: &str, size: (u32, u32), frames: usize) {
    let begun = Instant::now();
    let (first, mut times, adapter) =
        if case == "empty" { empty(size, frames, begun) } else { ours(case, size, frames, begun) };
    times.sort();
    let ms = |time: Duration| time.as_secs_f64() * 1e3;
    let (median, most) = (ms(times[times.len() / 2]), ms(times[times.len() * 9 / 10]));
    let memory = std::fs::read_to_string("/proc/self/status").ok();
    let memory = memory.as_deref().and_then(|text| text.lines().find_map(|line| line.strip_prefix("VmHWM:")));
    let memory = memory.map_or("?".to_owned(), |text| text.trim().to_owned());
    println!(
        "{case:18} {median:7.2} ms ({most:7.2}), first after {:5.2} s, {memory}  [{adapter}]",
        first.as_secs_f64()
    );
}

fn ours(case: &str, size: (u32, u32), frames: usize, begun: Instant) -> (Duration, Vec<Duration>, String) {
    let (what, quality) = case.rsplit_once(' ').expect("a case has two words");
    let plan = if what == "demo" { plan::read("demo", DEMO).expect("the demo is a plan") } else { thousand() };
    let quality = Quality::ALL.into_iter().find(|known| known.word().eq_ignore_ascii_case(quality)).expect("a quality");
    let options = Options { size, panel: true, drawing: Drawing::Always(quality), ..Options::default() };
    let mut studio = Studio::new(&plan, &options).expect("there is an adapter");
    let first = begun.elapsed();
    drop(studio.play(WARM_UP));
    let times = studio.play(frames);
    (first, times, studio.adapter())
}

/// A thousand units of three drawers, half on each run.
fn thousand() -> Plan {
    let mut text = String::from(
        "(units: Millimetre, room: (left_wall: 900000, right_wall: 900000), \
         pulls: {\"bar\": Bar(length: 160, projection: 35)}, slides: {\"full 500\": (length: 500)},",
    );
    for side in ["left", "right"] {
        text.push_str(&format!("{side}: (units: ["));
        (0..500).for_each(|_| text.push_str("Drawers(width: 600, fronts: Equal(3)),"));
        text.push_str("], ends_at: Open),");
    }
    text.push(')');
    plan::read("thousand", &text).expect("a thousand units are a plan")
}

/// Two cameras as ours, and nothing to see.
fn empty((width, height): (u32, u32), frames: usize, begun: Instant) -> (Duration, Vec<Duration>, String) {
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..default() })
            .set(RenderPlugin { synchronous_pipeline_compilation: true, ..default() })
            .disable::<WinitPlugin>()
            .disable::<LogPlugin>()
            .disable::<PipelinedRenderingPlugin>(),
    );
    app.finish();
    app.cleanup();
    let mut image = Image::new_target_texture(width, height, TextureFormat::Rgba8UnormSrgb, None);
    image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
    let target = app.world_mut().resource_mut::<Assets<Image>>().add(image);
    app.world_mut().spawn((Camera3d::default(), RenderTarget::Image(target.into())));
    let mut frame = || {
        let begun = Instant::now();
        app.update();
        let device = app.world().resource::<RenderDevice>().wgpu_device().clone();
        drop(device.poll(PollType::Wait { submission_index: None, timeout: None }));
        begun.elapsed()
    };
    frame();
    let first = begun.elapsed();
    for _ in 0..WARM_UP {
        frame();
    }
    let times = (0..frames).map(|_| frame()).collect();
    let adapter = app.world().resource::<RenderAdapterInfo>().name.clone();
    (first, times, adapter)
}
