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
use bevy::render::renderer::{RenderAdapterInfo, RenderDevice};
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::time::TimeUpdateStrategy;
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPlugin;

use super::action::{Action, Asked};
use super::camera::{Flight, SceneCamera, View};
use super::layers::Show;
use super::marks::Marks;
use super::motion::{Poses, Wish};
use super::overlay::{self, WithPanel};
use super::play::Play;
use super::quality::Drawing;
use super::settings::{Audience, Settings};
use super::shown::Shown;
use super::viewpoint::Viewpoint;
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
    /// From where; a finding that is pointed out has its own place.
    pub from: Viewpoint,
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
            from: Viewpoint::WholeCorner,
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
    /// Ctrl-C: Bevy takes it and asks its apps to end.
    #[error("stopped")]
    Stopped,
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

/// Widths and heights that every graphics adapter of these years manages.
pub const SIZES: std::ops::RangeInclusive<u32> = 16..=8192;
/// A picture must come within this time.
const LIMIT: Duration = Duration::from_secs(120);

/// Draws `plan` as the window would, with nothing in motion.
///
/// # Errors
/// If there is no graphics adapter, the size is out of range, or the adapter does not deliver.
pub fn picture(plan: &Plan, options: &Options) -> Result<Picture, PictureError> {
    let mut studio = Studio::new(plan, options)?;
    let image = studio.shoot()?;
    Ok(Picture { image, marks: marks(&mut studio.app), fronts: fronts(&mut studio.app) })
}

/// A scene that was built once, to be posed and drawn again and again.
pub struct Studio {
    app: App,
    target: Handle<Image>,
}

impl std::fmt::Debug for Studio {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Studio").field("target", &self.target).finish_non_exhaustive()
    }
}

impl Studio {
    /// Builds the scene of `plan` and poses it as `options` say.
    ///
    /// # Errors
    /// If there is no graphics adapter, or the size is out of range.
    pub fn new(plan: &Plan, options: &Options) -> Result<Self, PictureError> {
        let (width, height) = options.size;
        if !SIZES.contains(&width) || !SIZES.contains(&height) {
            return Err(PictureError::Size(width, height));
        }
        if let Some(missing) = missing_adapter() {
            return Err(PictureError::NoAdapter(missing));
        }
        let mut app = app(plan, options);
        let target = target(&mut app, width, height);
        let view = options.from.view(app.world().resource::<Shown>().model(), width as f32 / height as f32);
        let render_target = RenderTarget::Image(target.clone().into());
        overlay::spawn_cameras(&mut app.world_mut().commands(), &render_target, &view, false);
        ask(&mut app, options);
        let mut studio = Self { app, target };
        // Layout, then the scene's share, then the view fitted to that share, then finishes that follow the eye.
        studio.updates(3);
        if options.finding.is_none() {
            *studio.app.world_mut().resource_mut::<Flight>() = Flight::To(options.from);
        }
        studio.updates(2);
        Ok(studio)
    }

    /// What is shown.
    #[must_use]
    pub fn shown(&self) -> &Shown {
        self.app.world().resource::<Shown>()
    }

    /// Whether this drawer or door was asked to be open and still is.
    #[must_use]
    pub fn is_open(&self, mover: MoverId) -> bool {
        let poses = self.app.world().resource::<Poses>();
        self.shown().model().movers.get(mover.0).is_some_and(|mover| poses.wish(mover) != Wish::Shut)
    }

    /// How many times the scene's share of the picture is as wide as high.
    pub fn aspect(&mut self) -> f32 {
        let mut eyes = self.app.world_mut().query_filtered::<&Camera, With<SceneCamera>>();
        let size = eyes.iter(self.app.world()).next().and_then(Camera::logical_viewport_size);
        size.map_or(1.6, |size| size.x / size.y.max(1.0))
    }

    /// Looks from elsewhere.
    pub fn look(&mut self, view: View) {
        *self.app.world_mut().resource_mut::<Flight>() = Flight::ToView(view);
        self.updates(2);
    }

    /// Puts one drawer or door where it is wished.
    pub fn pose(&mut self, mover: MoverId, wish: Wish) {
        self.app.world_mut().resource_scope(|world, mut poses: Mut<'_, Poses>| {
            poses.ask(world.resource::<Shown>().model(), mover, wish);
        });
        self.updates(2);
    }

    /// The name of what draws.
    #[must_use]
    pub fn adapter(&self) -> String {
        let info = self.app.world().get_resource::<RenderAdapterInfo>();
        info.map_or_else(String::new, |info| info.name.clone())
    }

    /// Plays the film over and over for so many frames, each drawn to its end, and gives what each took.
    pub fn play(&mut self, frames: usize) -> Vec<Duration> {
        self.app.world_mut().resource_mut::<Poses>().at_once = false;
        (0..frames)
            .map(|_| {
                if !self.app.world().resource::<Play>().is_running() {
                    self.app.world_mut().resource_mut::<Asked>().0.push(Action::PlayPause);
                }
                let begun = Instant::now();
                update(&mut self.app);
                begun.elapsed()
            })
            .collect()
    }

    /// Draws it.
    ///
    /// # Errors
    /// If the adapter does not deliver.
    pub fn shoot(&mut self) -> Result<image::RgbaImage, PictureError> {
        still(&mut self.app, &self.target)
    }

    fn updates(&mut self, count: usize) {
        (0..count).for_each(|_| update(&mut self.app));
    }
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
        let now = shot(app, target, begun);
        if app.should_exit().is_some() {
            return Err(PictureError::Stopped);
        }
        let Some(now) = now else { break };
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
    while begun.elapsed() < LIMIT && app.should_exit().is_none() {
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
