//! What would the window show? [`picture`] draws the scene to an image, with no window and no display.
//!
//! It needs a graphics adapter; one that draws on the processor will do. A picture takes a second or two.

use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use bevy::camera::RenderTarget;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{PollType, TextureFormat, TextureUsages};
use bevy::render::renderer::RenderDevice;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::time::TimeUpdateStrategy;
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPlugin;

use super::action::{Action, Asked};
use super::camera::{Flight, SceneCamera, View};
use super::layers::Show;
use super::marks::Marks;
use super::motion::Poses;
use super::overlay::{self, WithPanel};
use super::quality::Drawing;
use super::settings::{Audience, Settings};
use super::shown::Shown;
use super::{Source, ViewerPlugin, frame, missing_adapter};
use crate::model::{MoverId, Vec3 as RoomVec3};
use crate::plan::Plan;

/// What to draw.
#[derive(Clone, Debug)]
pub struct Options {
    /// Width and height in pixels.
    pub size: (u32, u32),
    /// Drawers and doors to open as far as they go.
    pub open: Vec<MoverId>,
    /// The finding to point out, by its place in the list.
    pub finding: Option<usize>,
    /// Whether the panel and the bar are in the picture.
    pub panel: bool,
    /// Which layers are shown.
    pub show: Show,
    /// With how much effect.
    pub drawing: Drawing,
    /// For whom.
    pub audience: Audience,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            size: (1280, 800),
            open: Vec::new(),
            finding: None,
            panel: false,
            show: Show::default(),
            drawing: Drawing::default(),
            audience: Audience::default(),
        }
    }
}

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    /// There is nothing to draw with; the text says what would help.
    #[error("{0}")]
    NoAdapter(String),
    /// The size is zero, or more than a graphics adapter must manage.
    #[error("a picture must be from 16 to 8192 pixels wide and high, not {0} × {1}")]
    Size(u32, u32),
    /// The adapter did not deliver.
    #[error("the picture did not come within {0} s")]
    TooSlow(u64),
}

/// A picture, and where the marks in it are.
#[derive(Clone, Debug)]
pub struct Picture {
    /// The pixels.
    pub image: image::RgbaImage,
    /// For each mark, the pixel in the middle of its closest points.
    pub marks: Vec<[f32; 2]>,
    /// For each drawer and door, the pixel in the middle of its front, where that is in the picture.
    pub fronts: Vec<Option<[f32; 2]>>,
}

/// A picture must come within this time.
const LIMIT: Duration = Duration::from_secs(120);

/// Draws `plan` as the window would, with nothing in motion.
///
/// # Errors
/// If there is no graphics adapter, the size is out of range, or the adapter does not deliver.
pub fn picture(plan: &Plan, options: &Options) -> Result<Picture, PictureError> {
    let (width, height) = options.size;
    if !(16..=8192).contains(&width) || !(16..=8192).contains(&height) {
        return Err(PictureError::Size(width, height));
    }
    if let Some(missing) = missing_adapter() {
        return Err(PictureError::NoAdapter(missing));
    }
    let mut app = app(plan, options);
    let target = target(&mut app, width, height);
    let view = View::of_corner(app.world().resource::<Shown>().model(), width as f32 / height as f32);
    overlay::spawn_cameras(&mut app.world_mut().commands(), &RenderTarget::Image(target.clone().into()), &view, false);
    ask(&mut app, options);
    // Layout, then the scene's share, then the view fitted to that share, then finishes that follow the eye.
    for _ in 0..3 {
        update(&mut app);
    }
    if options.finding.is_none() {
        *app.world_mut().resource_mut::<Flight>() = Flight::ToCorner;
    }
    for _ in 0..2 {
        update(&mut app);
    }
    let image = still(&mut app, &target)?;
    Ok(Picture { image, marks: marks(&mut app), fronts: fronts(&mut app) })
}

fn app(plan: &Plan, options: &Options) -> App {
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..default() })
            .set(RenderPlugin { synchronous_pipeline_compilation: true, ..default() })
            .disable::<WinitPlugin>()
            .disable::<LogPlugin>()
            .disable::<PipelinedRenderingPlugin>(),
    );
    app.add_plugins(EguiPlugin::default());
    overlay::choose_context_by_hand(&mut app);
    // Time is a function of the frame, so that pictures repeat.
    app.insert_resource(TimeUpdateStrategy::ManualDuration(Duration::from_millis(20)));
    let source = Source { path: None, name: "plan".to_owned(), text: String::new(), plan: plan.clone() };
    app.add_plugins(ViewerPlugin { source });
    app.insert_resource(WithPanel(options.panel));
    app.insert_resource(options.show);
    app.insert_resource(options.drawing);
    app.world_mut().resource_mut::<Settings>().audience = options.audience;
    app.world_mut().resource_mut::<Poses>().at_once = true;
    app.finish();
    app.cleanup();
    app
}

fn target(app: &mut App, width: u32, height: u32) -> Handle<Image> {
    let mut image = Image::new_target_texture(width, height, TextureFormat::Rgba8UnormSrgb, None);
    image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
    app.world_mut().resource_mut::<Assets<Image>>().add(image)
}

fn ask(app: &mut App, options: &Options) {
    let mut asked = app.world_mut().resource_mut::<Asked>();
    asked.0.extend(options.open.iter().copied().map(Action::Toggle));
    asked.0.extend(options.finding.map(Action::PointOut));
}

fn update(app: &mut App) {
    app.update();
    let device = app.world().resource::<RenderDevice>().wgpu_device().clone();
    // Only a lost device fails here; then the picture does not come, and that is said.
    drop(device.poll(PollType::Wait { submission_index: None, timeout: None }));
}

/// Captures until two pictures in a row are the same: the first may lack what is still on its way to the adapter.
fn still(app: &mut App, target: &Handle<Image>) -> Result<image::RgbaImage, PictureError> {
    let begun = Instant::now();
    let mut before: Option<image::RgbaImage> = None;
    while begun.elapsed() < LIMIT {
        let Some(now) = shot(app, target, begun) else { break };
        if before.as_ref() == Some(&now) {
            return Ok(now);
        }
        before = Some(now);
    }
    Err(PictureError::TooSlow(LIMIT.as_secs()))
}

fn shot(app: &mut App, target: &Handle<Image>, begun: Instant) -> Option<image::RgbaImage> {
    let taken: Arc<Mutex<Option<image::RgbaImage>>> = Arc::default();
    let keep = Arc::clone(&taken);
    app.world_mut().spawn(Screenshot::image(target.clone())).observe(move |shot: On<'_, '_, ScreenshotCaptured>| {
        let image = shot.image.clone().try_into_dynamic().ok().map(|image| image.to_rgba8());
        if let Ok(mut slot) = keep.lock() {
            *slot = image;
        }
    });
    while begun.elapsed() < LIMIT {
        update(app);
        if let Some(image) = taken.lock().ok().and_then(|mut slot| slot.take()) {
            return Some(image);
        }
    }
    None
}

fn pixel_of(app: &mut App, point: RoomVec3) -> Option<[f32; 2]> {
    let mut eyes = app.world_mut().query_filtered::<(&Camera, &Transform), With<SceneCamera>>();
    let (camera, place) = eyes.iter(app.world()).next()?;
    let at = camera.world_to_viewport(&GlobalTransform::from(*place), frame::to_bevy(point)).ok()?;
    Some([at.x, at.y])
}

fn marks(app: &mut App) -> Vec<[f32; 2]> {
    let points: Vec<_> = app.world().resource::<Marks>().0.iter().map(|m| (m.points[0] + m.points[1]) / 2.0).collect();
    points.into_iter().filter_map(|point| pixel_of(app, point)).collect()
}

fn fronts(app: &mut App) -> Vec<Option<[f32; 2]>> {
    let model = app.world().resource::<Shown>().model();
    let middle = |mover: &crate::model::Mover| {
        let part = mover.parts.first().and_then(|id| model.parts.get(id.0))?;
        Some(part.middle())
    };
    let middles: Vec<Option<RoomVec3>> = model.movers.iter().map(middle).collect();
    middles.into_iter().map(|point| point.and_then(|point| pixel_of(app, point))).collect()
}
