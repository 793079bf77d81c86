//! What stands round the scene? Panel, bars and cards, for the two who look: the builder at the bench, the owner at the
//! preview.
//!
//! Nothing of Bevy in here: every `…_ui` reads a [`View`] and writes [`Action`]s, so that tests can drive them by what a
//! person reads. [`bench_ui`] and [`preview_ui`] lay out the whole window; the files below hold a section each.

mod bar;
mod corner;
mod cut;
mod dialog;
pub mod filler;
mod finish;
mod in_use;
mod install;
mod layout;
pub mod place;
mod plan;
mod plane;
mod preview;
mod sure;
mod together;
mod top;
mod view;

use bevy_egui::egui::{
    self, Color32, CornerRadius, FontId, Frame, Margin, Rect, RichText, ScrollArea, Stroke, TextStyle, Ui, Vec2,
    Visuals,
};

use super::action::Action;
use super::layers::Show;
use super::look;
use super::measure::{Measured, Picked};
use super::quality::{Drawing, Level};
use super::saved::SavedView;
use super::settings::{Section, Settings};
use super::swept::SweptOf;
use super::timeline::{Timeline, Way};
use crate::clearance::Answer;
use crate::cutting::LaidOut;
use crate::model::MoverId;
use crate::plan::Plan;
use crate::report::{Mark, OwnerAnswer};

pub use bar::controls_ui;
pub use cut::CutView;
pub use dialog::dialog_ui;
pub use in_use::InUseView;
pub use install::InstallView;
pub use plan::FormView;
pub use sure::SureView;
pub use together::TogetherView;
pub use top::DeskView;

/// Where the film stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Film {
    /// It does not run.
    #[default]
    Off,
    /// It runs.
    Running,
    /// It is held still.
    Paused,
}

/// How things stand at the builder's bench: the film, what is solid, what is measured.
#[derive(Clone, Copy, Debug, Default)]
pub struct Bench<'a> {
    /// The film, once it is made.
    pub timeline: Option<&'a Timeline>,
    /// Where it stands, in seconds.
    pub at: f64,
    /// Whose turn it is.
    pub turn: Option<MoverId>,
    /// In what order parts open.
    pub way: Way,
    /// Whether they come slowly to what they meet.
    pub slow: bool,
    /// Whether what stands in the way stops what is dragged.
    pub solid: bool,
    /// Whose swept volume is shown.
    pub swept: SweptOf,
    /// How far apart the parts are drawn, 0 to 1.
    pub exploded: f64,
    /// Whether a click measures.
    pub measuring: bool,
    /// What was picked for it.
    pub picked: &'a [Picked],
    /// The distance between the two picks.
    pub measured: Option<Measured>,
}

/// Everything that the panel shows.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    /// The plan, with the fillers as set in the window.
    pub plan: &'a Plan,
    /// What was worked out from it.
    pub answer: &'a Answer,
    /// Where the plan came from: a file's name, or that it is built in.
    pub origin: &'a str,
    /// The problems of the file's last save.
    pub problems: &'a [String],
    /// Why the file is not watched, if it should be and is not.
    pub unwatched: Option<&'a str>,
    /// The finding that is pointed out.
    pub chosen: Option<usize>,
    /// For each drawer and door, whether it is asked to be open.
    pub open: &'a [bool],
    /// For each drawer and door, how far it is open now, mm or radians.
    pub outs: &'a [f64],
    /// Where the film stands.
    pub film: Film,
    /// Which layers are shown.
    pub show: Show,
    /// How things stand at the bench.
    pub bench: Bench<'a>,
    /// For whom the window is laid out, and how.
    pub settings: &'a Settings,
    /// How the plan's text stands.
    pub desk: DeskView<'a>,
    /// Who decides how much effect it is drawn with, and what that is now.
    pub drawing: (Drawing, Option<&'a Level>),
    /// What can be changed in the plan, while its section is open.
    pub form: Option<FormView<'a>>,
    /// Views that were kept.
    pub saved: &'a [SavedView],
    /// What owners ask, answered; read in the preview alone.
    pub asks: &'a [OwnerAnswer],
    /// The lists of what is cut, while their section is open.
    pub cut: Option<CutView<'a>>,
    /// How it goes in, while its section is open.
    pub install: Option<InstallView<'a>>,
    /// How the pieces lie on the stock, once it is worked out.
    pub laid: Option<&'a LaidOut>,
    /// How much of that is done, 0 to 1, while it is being worked out.
    pub laying: Option<f32>,
    /// What can be open at once, while its section is open.
    pub together: Option<TogetherView<'a>>,
    /// How sure it is, while its section is open.
    pub sure: Option<SureView<'a>>,
    /// What wood and load make bad; empty where all is well.
    pub worries: &'a [(Mark, String)],
    /// What it is like in use, while its section is open.
    pub in_use: Option<InUseView<'a>>,
}

impl<'a> View<'a> {
    /// A view of `plan` and its `answer` with everything shut, shown and at rest.
    #[must_use]
    pub fn at_rest(plan: &'a Plan, answer: &'a Answer, settings: &'a Settings) -> Self {
        Self {
            plan,
            answer,
            origin: "",
            problems: &[],
            unwatched: None,
            chosen: None,
            open: &[],
            outs: &[],
            film: Film::Off,
            show: Show::default(),
            bench: Bench::default(),
            settings,
            desk: DeskView::default(),
            drawing: (Drawing::ByMachine, None),
            form: None,
            saved: &[],
            asks: &[],
            cut: None,
            install: None,
            laid: None,
            laying: None,
            together: None,
            sure: None,
            worries: &[],
            in_use: None,
        }
    }
}

/// Sets text sizes and colours; once for a context.
pub fn dress_egui(ctx: &egui::Context) {
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(look::HEADING)),
            (TextStyle::Body, FontId::proportional(look::TEXT)),
            (TextStyle::Button, FontId::proportional(look::TEXT)),
            (TextStyle::Monospace, FontId::monospace(look::TEXT)),
            (TextStyle::Small, FontId::proportional(look::SMALL)),
        ]
        .into();
        style.visuals = Visuals { override_text_color: Some(look::INK), panel_fill: look::PANEL, ..Visuals::dark() };
        style.visuals.widgets.inactive.weak_bg_fill = Color32::from_rgb(66, 73, 82);
        style.visuals.widgets.inactive.bg_fill = Color32::from_rgb(84, 92, 102);
        style.visuals.widgets.hovered.weak_bg_fill = Color32::from_rgb(82, 91, 102);
        style.visuals.widgets.active.weak_bg_fill = Color32::from_rgb(98, 108, 120);
        style.visuals.extreme_bg_color = Color32::from_rgb(22, 25, 28);
        style.visuals.selection.bg_fill = Color32::from_rgb(60, 108, 128);
        // A drag on the panel moves a slider or nothing.
        style.interaction.selectable_labels = false;
        style.spacing.item_spacing = Vec2::new(8.0, 6.0);
        style.spacing.button_padding = Vec2::new(8.0, 4.0);
        style.spacing.interact_size.y = 24.0;
        // Another section scrolls on its own where the last one did, and that is no mistake to be framed in red.
        #[cfg(debug_assertions)]
        {
            style.debug.warn_if_rect_changes_id = false;
        }
    });
}

/// Has every common letter drawn in every size, at several shares of a pixel, as egui tells them apart.
///
/// A letter drawn for the first time reaches the screen some frames late.
pub fn warm_letters(ctx: &egui::Context) {
    let letters = ('!'..='~').chain("–—…°×’✔✖⚠▶⏸⏹↔►▼".chars());
    let common: String = letters.flat_map(|letter| [letter; 7].into_iter().chain([' '])).collect();
    let painter = ctx.debug_painter();
    for size in look::TEXT_SIZES {
        drop(painter.layout_no_wrap(common.clone(), FontId::proportional(size), look::INK));
    }
}

/// The builder's window: a bar above, the panel on the right, a bar below. Gives what is left for the scene.
pub fn bench_ui(root: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) -> Rect {
    let whole = root.max_rect();
    let frame = Frame::new().fill(look::PANEL).inner_margin(Margin::symmetric(12, 8));
    egui::Panel::top("top").resizable(false).frame(frame).show_inside(root, |ui| top::top_ui(ui, view, actions));
    egui::Panel::right("panel")
        .resizable(false)
        .exact_size(look::PANEL_WIDTH.min(whole.width() * 0.5))
        .frame(frame)
        .show_inside(root, |ui| panel_ui(ui, view, actions));
    egui::Panel::bottom("bar").resizable(false).frame(frame).show_inside(root, |ui| controls_ui(ui, view, actions));
    root.available_rect_before_wrap()
}

/// The owner's window: large controls below the scene, views and answers beside it. Gives what is left for the scene.
pub fn preview_ui(root: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) -> Rect {
    let whole = root.max_rect();
    let frame = Frame::new().fill(look::PANEL).inner_margin(Margin::symmetric(12, 8));
    egui::Panel::right("preview side")
        .resizable(false)
        .exact_size(look::PREVIEW_SIDE.min(whole.width() * 0.42))
        .frame(frame)
        .show_inside(root, |ui| preview::side_ui(ui, view, actions));
    egui::Panel::bottom("preview bar")
        .resizable(false)
        .frame(frame)
        .show_inside(root, |ui| preview::bar_ui(ui, view, actions));
    root.available_rect_before_wrap()
}

/// The panel beside the scene, at the bench: the section that is chosen.
pub fn panel_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    sections_ui(ui, view, actions);
    ScrollArea::vertical().id_salt(view.settings.section).auto_shrink([false, false]).show(ui, |ui| {
        // Room for the scroll bar, so that it never lies on text.
        ui.set_max_width(ui.available_width() - 10.0);
        problems_ui(ui, view);
        match view.settings.section {
            Section::Corner => corner::corner_ui(ui, view, actions),
            Section::Together => together::together_ui(ui, view, actions),
            Section::Sure => sure::sure_ui(ui, view, actions),
            Section::InUse => in_use::in_use_ui(ui, view),
            Section::Plan => plan::plan_ui(ui, view, actions),
            Section::Cut => cut::cut_ui(ui, view, actions),
            Section::Install => install::install_ui(ui, view, actions),
            Section::Finish => finish::finish_ui(ui, view, actions),
            Section::View => view::view_ui(ui, view, actions),
        }
        ui.add_space(8.0);
    });
}

/// The row of buttons that choose the section.
fn sections_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        for section in Section::ALL {
            let chosen = view.settings.section == section;
            let button = ui.selectable_label(chosen, RichText::new(section.word()).strong());
            place::note(&button, || format!("section {}", section.word()));
            if button.on_hover_text(section.help()).clicked() {
                actions.push(Action::Turn(section));
            }
        }
    });
    ui.separator();
}

/// A box on the panel, as wide as the panel.
pub(super) fn card<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let frame =
        Frame::new().fill(look::CARD).corner_radius(CornerRadius::same(6)).inner_margin(Margin::symmetric(10, 8));
    frame
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui)
        })
        .inner
}

pub(super) fn bordered<R>(ui: &mut Ui, colour: Color32, add: impl FnOnce(&mut Ui) -> R) -> R {
    let frame = Frame::new()
        .fill(look::CARD)
        .stroke(Stroke::new(1.5, colour))
        .corner_radius(CornerRadius::same(6))
        .inner_margin(Margin::symmetric(10, 8));
    frame
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui)
        })
        .inner
}

pub(super) fn problems_ui(ui: &mut Ui, view: &View<'_>) {
    if let Some(reason) = view.unwatched {
        ui.add(egui::Label::new(RichText::new(format!("⚠ {reason}")).small().color(look::WARN)).wrap());
    }
    if view.problems.is_empty() {
        return;
    }
    bordered(ui, look::WARN, |ui| {
        let heading = "⚠ The file's last save has problems; this is still the plan before it.";
        ui.add(egui::Label::new(RichText::new(heading).color(look::WARN).strong()).wrap());
        for line in view.problems {
            ui.add(egui::Label::new(RichText::new(line).small()).wrap());
        }
    });
}

/// A word or sentence, begun with a capital.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What is still being worked out, with a sign that turns.
pub(super) fn stale_ui(ui: &mut Ui, words: &str) {
    ui.horizontal(|ui| {
        ui.spinner();
        ui.add(egui::Label::new(RichText::new(words).small().color(look::WARN)).wrap());
    });
}

/// A sentence with a sign and a colour for what it means.
pub(super) fn told_ui(ui: &mut Ui, mark: Mark, words: &str) {
    let (sign, colour) = match mark {
        Mark::Good => ("✔ ", look::CLEAR),
        Mark::Bad => ("✖ ", look::TOUCH),
        Mark::Heading | Mark::Plain => ("", look::INK),
    };
    ui.add(egui::Label::new(RichText::new(format!("{sign}{words}")).small().color(colour)).wrap());
}

/// A heading and sentences below it in small print.
pub(super) fn small_print_ui<'a>(ui: &mut Ui, heading: &str, sentences: impl Iterator<Item = &'a str>) {
    ui.label(RichText::new(heading).strong());
    for sentence in sentences {
        ui.add(egui::Label::new(RichText::new(sentence).small().color(look::FAINT)).wrap());
    }
}
