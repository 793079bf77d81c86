//! What is shown, and how? Layers, parts drawn apart, measuring, what drawers and doors pass over, and what is solid.

use bevy_egui::egui::{self, Color32, Rect, RichText, Sense, Slider, Stroke, Ui, Vec2, WidgetInfo, WidgetType, vec2};

use super::{View, card};
use crate::viewer::action::Action;
use crate::viewer::layers::{Layer, Shade};
use crate::viewer::lines::told;
use crate::viewer::look;
use crate::viewer::swept::SweptOf;

/// The section that says what is shown.
pub(super) fn view_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    card(ui, |ui| layers_ui(ui, view, actions));
    card(ui, |ui| opening_ui(ui, view, actions));
    card(ui, |ui| explode_ui(ui, view, actions));
    card(ui, |ui| measuring_ui(ui, view, actions));
}

fn layers_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.label(RichText::new("Layers").strong());
    egui::Grid::new("layers").num_columns(4).spacing(vec2(6.0, 4.0)).show(ui, |ui| {
        for layer in Layer::ALL {
            ui.label(layer.word()).on_hover_text(layer.help());
            for shade in Shade::ALL {
                if shade_ui(ui, layer, shade, view.show.of(layer) == shade) {
                    actions.push(Action::Show(layer, shade));
                }
            }
            ui.end_row();
        }
    });
}

/// One of a layer's three buttons: a sign and a word. The sign is painted, since few fonts hold all three.
fn shade_ui(ui: &mut Ui, layer: Layer, shade: Shade, chosen: bool) -> bool {
    const SIGN: f32 = 13.0;
    let font = egui::TextStyle::Body.resolve(ui.style());
    let galley = ui.painter().layout_no_wrap(shade.word().to_owned(), font, look::INK);
    let padding = ui.spacing().button_padding;
    let size = vec2(SIGN + 5.0 + galley.size().x, galley.size().y) + padding * 2.0;
    let (rect, response) = ui.allocate_exact_size(size.max(vec2(0.0, ui.spacing().interact_size.y)), Sense::click());
    let label = format!("{} {}", layer.word(), shade.word());
    response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, chosen, &label));
    let visuals = ui.style().interact_selectable(&response, chosen);
    ui.painter().rect(rect, visuals.corner_radius, visuals.weak_bg_fill, visuals.bg_stroke, egui::StrokeKind::Inside);
    if response.has_focus() {
        ui.painter().rect_stroke(rect, visuals.corner_radius, ui.visuals().selection.stroke, egui::StrokeKind::Inside);
    }
    let sign =
        Rect::from_min_size(egui::pos2(rect.left() + padding.x, rect.center().y - SIGN / 2.0), Vec2::splat(SIGN));
    paint_sign(ui, sign.shrink(1.0), shade, visuals.text_color());
    let text = egui::pos2(sign.right() + 5.0, rect.center().y - galley.size().y / 2.0);
    ui.painter().galley(text, galley, visuals.text_color());
    response.on_hover_text(format!("{}: {}", layer.help(), shade.help().to_lowercase())).clicked()
}

/// A full square, a dashed one, and one that is struck out.
fn paint_sign(ui: &Ui, at: Rect, shade: Shade, ink: Color32) {
    let painter = ui.painter();
    match shade {
        Shade::Shown => {
            painter.rect_filled(at, 2.0, ink);
        }
        Shade::Ghosted => {
            let corners = [at.left_top(), at.right_top(), at.right_bottom(), at.left_bottom(), at.left_top()];
            painter.extend(egui::Shape::dashed_line(&corners, Stroke::new(1.3, ink), 2.6, 2.0));
        }
        Shade::Hidden => {
            painter.rect_stroke(at, 2.0, Stroke::new(1.0, ink.gamma_multiply(0.6)), egui::StrokeKind::Inside);
            painter.line_segment([at.left_bottom(), at.right_top()], Stroke::new(1.6, ink));
        }
    }
}

fn opening_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    ui.label(RichText::new("Opening by hand").strong());
    let mut solid = view.bench.solid;
    let check = ui.checkbox(&mut solid, "Solid: what is dragged stops at what it touches");
    let help = "Drag a drawer or door in the scene. Solid, it stops where it touches anything as it stands now; else it \
                passes through, and where it overlaps is marked";
    if check.on_hover_text(help).clicked() {
        actions.push(Action::Solid(solid));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Room it takes");
        for of in SweptOf::ALL {
            let chosen = view.bench.swept == of;
            let button = ui.selectable_label(chosen, of.word());
            button.widget_info(|| {
                let label = format!("Room it takes: {}", of.word());
                WidgetInfo::selected(WidgetType::RadioButton, true, chosen, label)
            });
            if button.on_hover_text(help_on_swept(of)).clicked() {
                actions.push(Action::ShowSwept(of));
            }
        }
    });
}

fn help_on_swept(of: SweptOf) -> &'static str {
    match of {
        SweptOf::Nothing => "Show no swept volumes",
        SweptOf::InHand => {
            "Show all that the drawer or door last moved passes over from shut to open; the dashed line keeps the \
             clearance wanted"
        }
        SweptOf::All => "Show all that every drawer and door passes over",
    }
}

fn explode_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let title = ui.label(RichText::new("Drawn apart").strong());
    let mut percent = view.bench.exploded * 100.0;
    ui.spacing_mut().slider_width = ui.available_width() - 70.0;
    let slider = Slider::new(&mut percent, 0.0..=100.0).step_by(1.0).fixed_decimals(0).suffix(" %");
    let slider = ui.add(slider).labelled_by(title.id);
    let help = "Draw the parts apart to see how they go together; 0 is as built. Nothing is marked or measured meanwhile, \
                and clearance stays what it is";
    if slider.on_hover_text(help).changed() {
        actions.push(Action::Explode(percent / 100.0));
    }
}

fn measuring_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let bench = &view.bench;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("Measuring").strong());
        let word = if bench.measuring { "Stop measuring" } else { "Measure" };
        let button = ui.add(egui::Button::new(word).selected(bench.measuring));
        let help = "Click two corners, edges or faces; parts may stand open (M). Esc drops what was picked";
        if button.on_hover_text(help).clicked() {
            actions.push(Action::ToggleMeasuring);
        }
        let mut drawn = view.settings.dimensions;
        if ui.checkbox(&mut drawn, "dimension lines").on_hover_text("Widths and heights of every unit (D)").changed() {
            actions.push(Action::Dimensions(drawn));
        }
        if !bench.picked.is_empty() && ui.button("Drop").on_hover_text("Drop what was picked (Esc)").clicked() {
            actions.push(Action::DropPicks);
        }
    });
    if !bench.measuring {
        return;
    }
    if bench.exploded > 0.0 {
        let text = "⚠ Parts that are drawn apart cannot be measured: set “Drawn apart” to 0 %.";
        ui.add(egui::Label::new(RichText::new(text).small().color(look::WARN)).wrap());
        return;
    }
    let part = |k: usize| {
        let picked = bench.picked.get(k)?;
        let name = view.answer.model.parts.get(picked.part.0).map(|part| part.name.as_str())?;
        Some(format!("{} of {name}", picked.feature.word()))
    };
    for (k, waiting) in ["click the first corner, edge or face", "click the second"].into_iter().enumerate() {
        let text = part(k).unwrap_or_else(|| if bench.picked.len() == k { waiting.to_owned() } else { String::new() });
        let colour = if bench.picked.len() > k { look::INK } else { look::FAINT };
        if !text.is_empty() {
            ui.add(egui::Label::new(RichText::new(format!("{}. {text}", k + 1)).small().color(colour)).wrap());
        }
    }
    if let Some(measured) = &bench.measured {
        let [distance, shares] = told(measured, view.plan.unit);
        ui.add(egui::Label::new(RichText::new(distance).size(look::TITLE).color(look::MEASURE).strong()).wrap());
        ui.add(egui::Label::new(RichText::new(shares).color(look::INK)).wrap());
    }
}
