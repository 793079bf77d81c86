//! How much effect does this machine afford? A [`Level`], chosen by the machine, lowered by itself where frames stay
//! slow, or set by a person in [`Drawing`].
//!
//! | quality | material | light | edges | made for |
//! |---|---|---|---|---|
//! | `Plain` | pictures painted beforehand | sun, fill | smoothed when nothing moves | processors |
//! | `Balanced` | patterns all through, physically based | sun, room | four samples | built-in graphics |
//! | `Full` | the same | the same, and in pictures without panels corners shaded from what stands near | found and smoothed | graphics cards |

use bevy::anti_alias::smaa::{Smaa, SmaaPreset};
use bevy::camera::Hdr;
use bevy::core_pipeline::prepass::{DepthPrepass, NormalPrepass};
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::ecs::system::SystemParam;
use bevy::light::{EnvironmentMapLight, ShadowFilteringMethod};
use bevy::pbr::{ScreenSpaceAmbientOcclusion, ScreenSpaceAmbientOcclusionQualityLevel};
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;
use bevy::time::Real;
use bevy::window::RequestRedraw;
use bevy_panorbit_camera::PanOrbitCamera;
use wgpu::DeviceType;

use super::camera::{self, SceneCamera};
use super::light::Surroundings;
use super::motion::{Play, Poses};

/// How much effect.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quality {
    /// As quick as can be.
    #[default]
    Plain,
    /// Physically based, with what costs most left out.
    Balanced,
    /// Everything.
    Full,
}

impl Quality {
    /// All, the quickest first.
    pub const ALL: [Self; 3] = [Self::Plain, Self::Balanced, Self::Full];

    /// What a button says.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Plain => "Plain",
            Self::Balanced => "Balanced",
            Self::Full => "Full",
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::Plain => "As quick as can be: painted pictures, a sun with shadows",
            Self::Balanced => "Grain all through the wood, light from the sun and the room",
            Self::Full => "All of it, and corners shaded by what stands near; for graphics cards",
        }
    }

    /// What to begin with on such a machine; none where nothing is drawn at all.
    #[must_use]
    pub fn of_machine(device: Option<DeviceType>) -> Self {
        match device {
            Some(DeviceType::DiscreteGpu) => Self::Full,
            Some(DeviceType::IntegratedGpu | DeviceType::VirtualGpu | DeviceType::Other) => Self::Balanced,
            Some(DeviceType::Cpu) | None => Self::Plain,
        }
    }

    fn lower(self) -> Option<Self> {
        match self {
            Self::Full => Some(Self::Balanced),
            Self::Balanced => Some(Self::Plain),
            Self::Plain => None,
        }
    }

    fn higher(self) -> Option<Self> {
        match self {
            Self::Plain => Some(Self::Balanced),
            Self::Balanced => Some(Self::Full),
            Self::Full => None,
        }
    }
}

/// Who decides.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Drawing {
    /// The machine, by what it is and how long its frames take.
    #[default]
    ByMachine,
    /// A person: it stays so however slow it is.
    Always(Quality),
}

/// How it is drawn now.
#[derive(Resource, Clone, Debug, Default, PartialEq, Eq)]
pub struct Level {
    /// The quality.
    pub quality: Quality,
    /// Why it is less than the best, in a sentence for the person; none where it is as asked.
    pub why: Option<&'static str>,
}

/// Frames longer than this, in seconds, are slow: motion at twenty a second still reads as motion.
const SLOW_SECONDS: f32 = 1.0 / 20.0;
/// Frames shorter than this leave room for more effect.
const QUICK_SECONDS: f32 = 1.0 / 100.0;
/// So many frames are looked at together.
const WINDOW: usize = 24;
/// The first frames after a change also make shaders, and say nothing.
const SETTLING: usize = 8;
/// So many windows in a row must be quick before more effect is tried; twice as many after each time that it failed.
const QUICK_WINDOWS: u32 = 10;

/// The pace of frames, and what follows from it.
#[derive(Clone, Debug)]
pub struct Pace {
    best: Quality,
    now: Quality,
    skip: usize,
    frames: usize,
    slow: usize,
    quick: usize,
    quick_windows: u32,
    needed: u32,
}

impl Pace {
    /// A machine that can do `best` at most.
    #[must_use]
    pub fn new(best: Quality) -> Self {
        let needed = QUICK_WINDOWS;
        Self { best, now: best, skip: SETTLING, frames: 0, slow: 0, quick: 0, quick_windows: 0, needed }
    }

    /// The quality that the pace allows.
    #[must_use]
    pub fn quality(&self) -> Quality {
        self.now
    }

    /// Whether the pace has cost effect.
    #[must_use]
    pub fn is_lowered(&self) -> bool {
        self.now < self.best
    }

    /// Notes that a frame took this long while something moved.
    ///
    /// Where more than half of a window's frames are slow, the quality goes down a step. It goes up again only after
    /// many windows with hardly a frame that is not quick, and after each fall it takes twice as many: so it cannot
    /// swing to and fro.
    pub fn note(&mut self, seconds: f32) {
        if self.skip > 0 {
            self.skip -= 1;
            return;
        }
        self.frames += 1;
        self.slow += usize::from(seconds > SLOW_SECONDS);
        self.quick += usize::from(seconds < QUICK_SECONDS);
        if self.frames < WINDOW {
            return;
        }
        let (slow, quick) = (self.slow * 2 > WINDOW, self.quick + 2 >= WINDOW);
        (self.frames, self.slow, self.quick) = (0, 0, 0);
        self.quick_windows = if quick { self.quick_windows + 1 } else { 0 };
        if slow && let Some(lower) = self.now.lower() {
            self.change(lower);
            self.needed = self.needed.saturating_mul(2);
        } else if self.quick_windows >= self.needed
            && let Some(higher) = self.now.higher().filter(|higher| *higher <= self.best)
        {
            self.change(higher);
        }
    }

    fn change(&mut self, to: Quality) {
        self.now = to;
        self.skip = SETTLING;
        self.quick_windows = 0;
    }
}

/// Registers the choice of quality.
pub(super) fn plugin(app: &mut App) {
    app.init_resource::<Drawing>().init_resource::<Level>();
    app.add_systems(First, choose);
    app.add_systems(Last, (equip_cameras, smooth_edges).chain());
}

/// Whether anything moves, so that frames follow each other.
#[derive(SystemParam)]
pub(super) struct Moving<'w, 's> {
    poses: Option<Res<'w, Poses>>,
    play: Option<Res<'w, Play>>,
    pressed: Option<Res<'w, ButtonInput<MouseButton>>>,
    orbits: Query<'w, 's, &'static PanOrbitCamera, With<SceneCamera>>,
}

impl Moving<'_, '_> {
    fn is_moving(&self) -> bool {
        self.is_animated() || self.pressed.as_ref().is_some_and(|pressed| pressed.get_pressed().next().is_some())
    }

    /// As [`Moving::is_moving`], without a hand that may hold still.
    fn is_animated(&self) -> bool {
        self.play.as_ref().is_some_and(|play| play.is_running())
            || self.poses.as_ref().is_some_and(|poses| !poses.is_still() && !self.paused())
            || self.orbits.iter().any(camera::is_gliding)
    }

    fn paused(&self) -> bool {
        self.play.as_ref().is_some_and(|play| play.is_paused())
    }
}

/// Sets the level from who decides, what the machine is, and how long its frames take.
fn choose(
    drawing: Res<'_, Drawing>,
    adapter: Option<Res<'_, RenderAdapterInfo>>,
    time: Res<'_, Time<Real>>,
    moving: Moving<'_, '_>,
    mut level: ResMut<'_, Level>,
    mut pace: Local<'_, Option<Pace>>,
    mut moved: Local<'_, bool>,
) {
    let best = Quality::of_machine(adapter.as_ref().map(|adapter| adapter.device_type));
    // Asking the machine anew forgets what was slow before.
    if drawing.is_changed() {
        *pace = None;
    }
    let pace = pace.get_or_insert_with(|| Pace::new(best));
    // Only a frame that follows another at once tells how long a frame takes.
    let moves = moving.is_animated();
    if moves && *moved {
        pace.note(time.delta_secs());
    }
    *moved = moves;
    let wanted = match *drawing {
        Drawing::Always(quality) => Level { quality, why: None },
        Drawing::ByMachine => {
            let why = if pace.is_lowered() {
                Some("Drawn with less effect: frames took too long")
            } else if adapter.is_some_and(|adapter| adapter.device_type == DeviceType::Cpu) {
                Some("Drawn plainly: this machine draws on its processor")
            } else {
                None
            };
            Level { quality: pace.quality(), why }
        }
    };
    level.set_if_neq(wanted);
}

/// Gives the scene's camera what the level needs, and draws on until it is seen.
fn equip_cameras(
    level: Res<'_, Level>,
    surroundings: Option<Res<'_, Surroundings>>,
    cameras: Query<'_, '_, (Entity, Ref<'_, SceneCamera>, &Camera)>,
    mut commands: Commands<'_, '_>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
    mut left: Local<'_, u8>,
    mut was_whole: Local<'_, bool>,
) {
    const FRAMES: u8 = 6;
    if *left > 0 {
        *left -= 1;
        redraw.write(RequestRedraw);
    }
    for (entity, scene, eye) in &cameras {
        // Bevy 0.19 lays the shade of corners over the whole target, shifted where the scene has only a part of it.
        let is_whole = eye.viewport.as_ref().is_none_or(|part| Some(part.physical_size) == eye.physical_target_size());
        if !level.is_changed() && !scene.is_added() && is_whole == *was_whole {
            continue;
        }
        *was_whole = is_whole;
        *left = FRAMES;
        let mut camera = commands.entity(entity);
        camera.insert(DepthPrepass);
        if level.quality == Quality::Plain {
            // A colour in the plan is the colour on screen.
            camera.insert((Tonemapping::None, ShadowFilteringMethod::Gaussian));
            camera.remove::<(Hdr, EnvironmentMapLight)>();
        } else {
            // Made so that a product's colour stays its colour; only what is nearly white is compressed.
            camera.insert((Hdr, Tonemapping::KhronosPbrNeutral, ShadowFilteringMethod::Gaussian));
            if let Some(surroundings) = &surroundings {
                camera.insert(surroundings.0.clone());
            }
        }
        if level.quality == Quality::Full {
            camera.insert((Msaa::Off, Smaa { preset: SmaaPreset::High }));
        } else {
            camera.remove::<Smaa>();
        }
        if level.quality == Quality::Full && is_whole {
            let quality_level = ScreenSpaceAmbientOcclusionQualityLevel::Ultra;
            camera.insert((NormalPrepass, ScreenSpaceAmbientOcclusion { quality_level, ..default() }));
        } else {
            camera.remove::<(NormalPrepass, ScreenSpaceAmbientOcclusion)>();
        }
    }
}

/// Smooths edges by four samples, save where [`Smaa`] does it. Where the processor draws, edges and shadows are smoothed
/// only when nothing moves: that more than doubles the frames while something does.
fn smooth_edges(
    level: Res<'_, Level>,
    adapter: Option<Res<'_, RenderAdapterInfo>>,
    moving: Moving<'_, '_>,
    mut cameras: Query<'_, '_, (&mut Msaa, Option<&mut ShadowFilteringMethod>), With<SceneCamera>>,
    mut redraw: MessageWriter<'_, RequestRedraw>,
) {
    let by_processor = adapter.is_some_and(|adapter| adapter.device_type == DeviceType::Cpu);
    let hurried = by_processor && moving.is_moving();
    let rough = level.quality == Quality::Full || hurried;
    let wanted = if rough { Msaa::Off } else { Msaa::Sample4 };
    let wanted_shadows = if hurried { ShadowFilteringMethod::Hardware2x2 } else { ShadowFilteringMethod::Gaussian };
    for (mut edges, shadows) in &mut cameras {
        if let Some(mut shadows) = shadows
            && *shadows != wanted_shadows
        {
            *shadows = wanted_shadows;
            redraw.write(RequestRedraw);
        }
        if *edges != wanted {
            *edges = wanted;
            redraw.write(RequestRedraw);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(pace: &mut Pace, frames: usize, seconds: f32) -> Quality {
        (0..frames).for_each(|_| pace.note(seconds));
        pace.quality()
    }

    #[test]
    fn a_machine_begins_with_what_it_is_made_for() {
        assert_eq!(Quality::of_machine(Some(DeviceType::DiscreteGpu)), Quality::Full);
        assert_eq!(Quality::of_machine(Some(DeviceType::IntegratedGpu)), Quality::Balanced);
        assert_eq!(Quality::of_machine(Some(DeviceType::Cpu)), Quality::Plain);
        assert_eq!(Quality::of_machine(None), Quality::Plain);
    }

    #[test]
    fn slow_frames_lower_the_quality_step_by_step_to_the_plainest() {
        let mut pace = Pace::new(Quality::Full);
        assert_eq!(after(&mut pace, SETTLING + WINDOW - 1, 0.2), Quality::Full);
        assert_eq!(after(&mut pace, 1, 0.2), Quality::Balanced);
        assert_eq!(after(&mut pace, SETTLING + WINDOW, 0.2), Quality::Plain);
        assert_eq!(after(&mut pace, 10_000, 0.2), Quality::Plain);
        assert!(pace.is_lowered());
    }

    #[test]
    fn a_few_slow_frames_change_nothing() {
        let mut pace = Pace::new(Quality::Full);
        for k in 0..10_000 {
            pace.note(if k % 3 == 0 { 0.3 } else { 0.015 });
        }
        assert_eq!(pace.quality(), Quality::Full);
    }

    #[test]
    fn quality_comes_back_late_and_never_swings() {
        // Slow with all effects, quick without: the worst case for a rule that looks at the pace alone.
        let mut pace = Pace::new(Quality::Full);
        let mut changes = 0;
        for _ in 0..200_000 {
            let before = pace.quality();
            pace.note(if before == Quality::Full { 0.1 } else { 0.005 });
            changes += usize::from(pace.quality() != before);
        }
        // At ten times a hundred frames a second that is more than half an hour.
        assert!((3..=20).contains(&changes), "{changes} changes");
    }

    #[test]
    fn quality_never_rises_above_what_the_machine_is_made_for() {
        let mut pace = Pace::new(Quality::Balanced);
        assert_eq!(after(&mut pace, 50_000, 0.001), Quality::Balanced);
    }
}
