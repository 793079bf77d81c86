//! How sure is it, and what would make it narrower? The worst case, samples with what they come from, changes to try, and
//! what else the corner could hold.

use bevy_egui::egui::{
    Button, CollapsingHeader, Color32, CornerRadius, Grid, Label, ProgressBar, Rect, RichText, Sense, Ui, WidgetInfo,
    WidgetType, vec2,
};

use super::place::note;
use super::{View, bordered, capital, card, small_print_ui, stale_ui, told_ui};
use crate::certainty::{Enough, WorstSide};
use crate::length::{SNAP_MM, Unit};
use crate::report::{self, Mark, certainty as words};
use crate::viewer::action::Action;
use crate::viewer::sure::{ChangeTold, NarrowerTold, SamplesTold, SideTold, WorstTold};
use crate::viewer::{frame, look};

/// A bar's height, in points.
const BAR: f32 = 9.0;
/// What a bar is filled with.
const BAR_FILL: Color32 = look::MEASURE;

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct SureView<'a> {
    /// The worst case, and whether it is of the plan on screen.
    pub worst: Option<(&'a WorstTold, bool)>,
    /// What samples say, and whether they are of the plan on screen.
    pub samples: Option<(&'a SamplesTold, bool)>,
    /// How many of them are drawn, 0 to 1, while they are.
    pub drawing: Option<f32>,
    /// What would make the fillers narrower, and whether that is of the plan on screen.
    pub narrower: Option<(&'a NarrowerTold, bool)>,
    /// How many changes are tried, 0 to 1, while they are.
    pub trying: Option<f32>,
}

const STALE: &str = "Of the plan before the last change; being worked out anew";

/// The section that says how sure it is.
pub(super) fn sure_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(sure) = view.sure else { return };
    card(ui, |ui| {
        heading_ui(ui, "In the worst case");
        match sure.worst {
            None => stale_ui(ui, "Working out the worst case…"),
            Some((worst, is_now)) => {
                if !is_now {
                    stale_ui(ui, STALE);
                }
                worst_ui(ui, view, worst);
            }
        }
    });
    card(ui, |ui| {
        heading_ui(ui, "From samples");
        samples_ui(ui, view.plan.unit, &sure, actions);
    });
    card(ui, |ui| {
        heading_ui(ui, "What would make them narrower");
        narrower_ui(ui, view, &sure, actions);
    });
    if let Some((worst, _)) = sure.worst {
        small_print_ui(ui, "What this rests on", worst.rests_on.iter().map(String::as_str));
        small_print_ui(ui, "Of the changes", words::NARROWER_RESTS_ON.into_iter());
    }
    small_print_ui(ui, "Take care", report::cautions().iter().copied());
}

fn heading_ui(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).strong().size(look::TITLE));
}

fn small_ui(ui: &mut Ui, text: impl Into<String>) {
    ui.add(Label::new(RichText::new(text).small()).wrap());
}

fn worst_ui(ui: &mut Ui, view: &View<'_>, told: &WorstTold) {
    let unit = view.plan.unit;
    for (side, line) in told.worst.wanted.iter().zip(&told.lines) {
        let enough = side.enough.to_mm() <= side.present.to_mm() + SNAP_MM;
        told_ui(ui, if enough { Mark::Good } else { Mark::Bad }, &capital(line));
    }
    let header = ["", "now", "at least", "enough", "apart"];
    Grid::new("worst").num_columns(header.len()).spacing(vec2(14.0, 3.0)).show(ui, |ui| {
        for word in header {
            ui.label(RichText::new(word).small().color(look::FAINT));
        }
        ui.end_row();
        let both = told.worst.wanted.iter().zip(&told.worst.apart);
        for (wanted, apart) in both {
            worst_row_ui(ui, unit, wanted, apart);
        }
    });
    let note = "At least: narrower is too narrow whatever is off. Enough: keeps the clearance wanted whatever is off. \
                Apart: nothing touches whatever is off.";
    ui.add(Label::new(RichText::new(note).small().color(look::FAINT)).wrap());
}

fn worst_row_ui(ui: &mut Ui, unit: Unit, wanted: &WorstSide, apart: &WorstSide) {
    let cells = [
        wanted.side.word().to_owned(),
        wanted.present.show_bare(unit),
        wanted.at_least.show_no_less(unit),
        wanted.enough.show_no_less(unit),
        apart.enough.show_no_less(unit),
    ];
    for cell in cells {
        ui.label(RichText::new(cell).small());
    }
    ui.end_row();
}

fn samples_ui(ui: &mut Ui, unit: Unit, sure: &SureView<'_>, actions: &mut Vec<Action>) {
    if let Some(share) = sure.drawing {
        ui.add(ProgressBar::new(share).text(format!("Drawing samples… {:.0} %", share * 100.0)));
        let stop = ui.button("Stop drawing");
        note(&stop, || "stop drawing".to_owned());
        if stop.clicked() {
            actions.push(Action::Sample(false));
        }
    } else {
        let word = if sure.samples.is_some() { "Draw 100,000 again" } else { "Draw 100,000 samples" };
        let button =
            ui.button(word).on_hover_text("Everything that the plan's tolerances allow to be off, drawn by chance");
        note(&button, || "draw samples".to_owned());
        if button.clicked() {
            actions.push(Action::Sample(true));
        }
    }
    let Some((told, is_now)) = sure.samples else {
        if sure.drawing.is_none() {
            let text = "How often which width is enough, and what that comes from. Takes from seconds to some minutes.";
            ui.add(Label::new(RichText::new(text).small().color(look::FAINT)).wrap());
        }
        return;
    };
    if !is_now {
        let text = "⚠ Of the plan before the last change; draw again for this one.";
        ui.add(Label::new(RichText::new(text).small().color(look::WARN)).wrap());
    }
    told_ui(ui, told.verdict.0, &told.verdict.1);
    for line in &told.chances {
        small_ui(ui, capital(line));
    }
    for side in &told.sides {
        side_ui(ui, unit, side);
    }
    ui.add(Label::new(RichText::new(&told.count).small().color(look::FAINT)).wrap());
}

/// One side's widths, and what their variance comes from.
fn side_ui(ui: &mut Ui, unit: Unit, side: &SideTold) {
    ui.separator();
    small_ui(ui, capital(&side.line));
    let band = |enough: &Enough| {
        let [low, high] = enough.band.map(|width| width.show_bare(unit));
        format!("{}\n({low} to {high})", enough.width.show_no_less(unit))
    };
    Grid::new(("widths", side.side.word())).num_columns(3).spacing(vec2(14.0, 3.0)).show(ui, |ui| {
        for word in ["enough in", "clearance wanted", "stays apart"] {
            ui.label(RichText::new(word).small().color(look::FAINT));
        }
        ui.end_row();
        for (wanted, apart) in side.wanted.iter().zip(&side.apart) {
            for cell in [words::percent(wanted.share), band(wanted), band(apart)] {
                ui.label(RichText::new(cell).small());
            }
            ui.end_row();
        }
    });
    if side.shares.is_empty() {
        return;
    }
    small_ui(ui, "The variance comes from:");
    let most = side.shares.iter().map(|(share, _)| *share).fold(0.0, f64::max);
    for (share, what) in &side.shares {
        bar_ui(ui, *share, most, what);
    }
}

/// A bar as long as its share, with the number and what it is.
fn bar_ui(ui: &mut Ui, share: f64, most: f64, what: &str) {
    let words = format!("{}: {what}", words::percent(share));
    let wide = ui.available_width();
    let drawn = ui.add(Label::new(RichText::new(&words).small()).wrap());
    let (place, response) = ui.allocate_exact_size(vec2(wide, BAR), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, &words));
    ui.painter().rect_filled(place, CornerRadius::same(2), look::PANEL);
    let long = wide * frame::narrow(share / most.max(f64::MIN_POSITIVE));
    let filled = Rect::from_min_size(place.min, vec2(long.clamp(1.0, wide), BAR));
    ui.painter().rect_filled(filled, CornerRadius::same(2), BAR_FILL);
    note(&drawn, || format!("share {what}"));
}

fn narrower_ui(ui: &mut Ui, view: &View<'_>, sure: &SureView<'_>, actions: &mut Vec<Action>) {
    if let Some(share) = sure.trying {
        ui.add(ProgressBar::new(share).text("Trying changes…"));
    }
    let Some((told, is_now)) = sure.narrower else { return };
    if !is_now {
        stale_ui(ui, STALE);
    }
    let unit = view.plan.unit;
    let [left, right] = [told.before.left, told.before.right].map(|width| width.show(unit));
    small_ui(ui, format!("The least fillers are {left} and {right}. One change at a time, most saved first:"));
    if told.better.is_empty() {
        small_ui(ui, "No change that is known makes them narrower.");
    }
    for (k, change) in told.better.iter().enumerate() {
        change_ui(ui, unit, k, change, is_now, actions);
    }
    folded_ui(ui, "What does not", &told.rest);
    folded_ui(ui, "What cannot be built", &told.refused);
    ui.separator();
    ui.label(RichText::new("What else the corner could hold").strong());
    for line in &told.corner {
        small_ui(ui, capital(line));
    }
}

fn change_ui(ui: &mut Ui, unit: Unit, k: usize, change: &ChangeTold, is_now: bool, actions: &mut Vec<Action>) {
    bordered(ui, look::CLEAR.gamma_multiply(0.45), |ui| {
        let saved = change.saved.show(unit);
        ui.add(Label::new(RichText::new(format!("{}. {saved} saved: {}", k + 1, change.what)).strong()).wrap());
        small_ui(ui, capital(&change.does));
        // An edit of another plan may lie elsewhere in this one's text.
        let button = ui.add_enabled(is_now, Button::new("Try it"));
        button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, is_now, format!("Try {}", change.what)));
        note(&button, || format!("try {}", k + 1));
        if button.on_hover_text("Changes the plan so; undo takes it back").clicked() {
            actions.push(Action::TryChange(k));
        }
    });
}

fn folded_ui(ui: &mut Ui, heading: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    CollapsingHeader::new(RichText::new(heading).small()).id_salt(heading).show(ui, |ui| {
        for line in lines {
            small_ui(ui, capital(line));
        }
    });
}
