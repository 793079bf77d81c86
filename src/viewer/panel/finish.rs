//! What is it to look like? A row of swatches for each kind of part; a click changes the plan's `finishes`.
//!
//! Every swatch has its name beside or on it, since colours alone say little, and nothing to who does not see them.
//! Finishes change what is seen and nothing that is measured.

use bevy_egui::egui::{self, Color32, CornerRadius, Response, RichText, Sense, Stroke, StrokeKind, Ui, vec2};

use super::View;
use super::place::note;
use crate::plan::write::{Edit, PlanPath};
use crate::plan::{Colour, Finish, Metal, Plan, Species, Stone, Surface};
use crate::viewer::action::Action;
use crate::viewer::quality::{Drawing, Quality};
use crate::viewer::{coat, look};

/// Size of a swatch at the bench, in points.
const SWATCH: f32 = 26.0;
/// Size of a swatch in the preview, in points.
const LARGE: f32 = 34.0;

/// What an owner chooses; the rest follows, or is out of sight.
const OF_THE_OWNER: [Surface; 5] =
    [Surface::Fronts, Surface::Countertop, Surface::Pulls, Surface::Walls, Surface::Floor];

/// The section that chooses finishes, and how much effect they are drawn with.
pub(super) fn finish_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    drawing_ui(ui, view, actions);
    for surface in Surface::ALL {
        ui.add_space(4.0);
        surface_ui(ui, view.plan, surface, SWATCH, actions);
    }
    ui.add_space(6.0);
    let more = "Any other colour, and a finish for one kind of pull: under Finishes and Pulls in the Plan section.";
    ui.add(egui::Label::new(RichText::new(more).small().color(look::FAINT)).wrap());
}

/// What the owner chooses, in large swatches.
pub(super) fn owner_ui(ui: &mut Ui, plan: &Plan, actions: &mut Vec<Action>) {
    for surface in OF_THE_OWNER {
        surface_ui(ui, plan, surface, LARGE, actions);
        ui.add_space(4.0);
    }
}

fn drawing_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let (drawing, level) = view.drawing;
    ui.horizontal_wrapped(|ui| {
        ui.label("Drawn");
        let by_machine = drawing == Drawing::ByMachine;
        let button = ui.selectable_label(by_machine, "By the machine");
        if button.on_hover_text("As much effect as this machine draws quickly").clicked() {
            actions.push(Action::Draw(Drawing::ByMachine));
        }
        for quality in Quality::ALL {
            let button = ui.selectable_label(drawing == Drawing::Always(quality), quality.word());
            if button.on_hover_text(quality.help()).clicked() {
                actions.push(Action::Draw(Drawing::Always(quality)));
            }
        }
    });
    if let Some(level) = level {
        let text = level.why.map_or_else(|| format!("Now {}", level.quality.word().to_lowercase()), str::to_owned);
        ui.add(egui::Label::new(RichText::new(text).small().color(look::FAINT)).wrap());
    }
}

fn surface_ui(ui: &mut Ui, plan: &Plan, surface: Surface, size: f32, actions: &mut Vec<Action>) {
    let now = plan.finishes.of(surface);
    ui.horizontal(|ui| {
        ui.label(RichText::new(name_of(surface)).strong());
        ui.label(RichText::new(said(now)).color(look::FAINT));
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        for finish in offers(surface) {
            let chosen = finish == now;
            let response = swatch_ui(ui, surface, finish, chosen, size);
            note(&response, || format!("swatch {} {}", surface.field(), said(finish)));
            if response.clicked() && !chosen {
                let at = PlanPath::WHOLE.field("finishes").field(surface.field());
                actions.push(Action::Edit(Edit::Set { at, value: finish.to_string() }));
            }
        }
    });
}

fn swatch_ui(ui: &mut Ui, surface: Surface, finish: Finish, chosen: bool, size: f32) -> Response {
    let (place, response) = ui.allocate_exact_size(vec2(size, size), Sense::click());
    let spoken = format!("{}: {}", name_of(surface), said(finish));
    response.widget_info(|| egui::WidgetInfo::selected(egui::WidgetType::RadioButton, true, chosen, &spoken));
    let [r, g, b] = coat::swatch(surface, finish);
    let ring = match (chosen, response.hovered() || response.has_focus()) {
        (true, _) => Stroke::new(3.0, look::INK),
        (false, true) => Stroke::new(2.0, look::INK),
        (false, false) => Stroke::new(1.0, look::FAINT.gamma_multiply(0.6)),
    };
    let round = CornerRadius::same(5);
    ui.painter().rect(place, round, Color32::from_rgb(r, g, b), ring, StrokeKind::Inside);
    grain_on(ui, place, finish, [r, g, b]);
    if chosen {
        // A tick that reads on light and dark.
        let ink = if u32::from(r) + u32::from(g) + u32::from(b) > 380 { Color32::BLACK } else { Color32::WHITE };
        let font = egui::FontId::proportional(size * 0.5);
        ui.painter().text(place.center(), egui::Align2::CENTER_CENTER, "✔", font, ink);
    }
    response.on_hover_text(said(finish))
}

/// Strokes that tell wood from paint of the same colour.
fn grain_on(ui: &Ui, place: egui::Rect, finish: Finish, [r, g, b]: [u8; 3]) {
    if !matches!(finish, Finish::Wood(_) | Finish::Stained(..) | Finish::Boards(_)) {
        return;
    }
    let darker = |c: u8| c / 4 * 3;
    let stroke = Stroke::new(1.0, Color32::from_rgb(darker(r), darker(g), darker(b)));
    for share in [0.22, 0.46, 0.62, 0.84] {
        let x = place.left() + place.width() * share;
        ui.painter().vline(x, place.top() + 4.0..=place.bottom() - 4.0, stroke);
    }
}

/// What a surface is called.
fn name_of(surface: Surface) -> &'static str {
    match surface {
        Surface::Fronts => "Fronts",
        Surface::Frames => "Face frames",
        Surface::Carcass => "Carcasses",
        Surface::Boxes => "Drawer boxes",
        Surface::Pulls => "Pulls",
        Surface::Countertop => "Countertop",
        Surface::Walls => "Walls",
        Surface::Floor => "Floor",
        Surface::Woodwork => "Baseboards and casings",
    }
}

/// A finish in plain words: `brushed steel`, `oak, stained brown`.
pub(super) fn said(finish: Finish) -> String {
    let words = |word: &str| {
        let spaced = word.chars().flat_map(|c| if c.is_uppercase() { vec![' ', c] } else { vec![c] });
        spaced.collect::<String>().trim().to_lowercase()
    };
    match finish {
        Finish::Wood(species) => words(species.word()),
        Finish::Stained(species, colour) => format!("{}, stained {colour}", words(species.word())),
        // A colour without a word says nothing to who reads it.
        Finish::Painted(colour) if colour.to_string().starts_with('#') => "painted, a colour of its own".to_owned(),
        Finish::Painted(colour) => format!("painted {colour}"),
        Finish::Metal(metal) => words(metal.word()),
        Finish::Stone(stone) => words(stone.word()),
        Finish::Tile(colour) => format!("{colour} tile"),
        Finish::Boards(species) => format!("{} boards", words(species.word())),
        Finish::Concrete => "concrete".to_owned(),
    }
}

/// The finishes that are offered for a surface.
fn offers(surface: Surface) -> Vec<Finish> {
    let species = || Species::ALL.iter().map(|(_, species)| *species);
    let colours = || Colour::WORDS.iter().map(|(_, colour)| *colour);
    let stains = || [(Species::Oak, "brown"), (Species::Oak, "black"), (Species::Ash, "grey")];
    let of_kind = |kind: &&str| -> Vec<Finish> {
        match *kind {
            "Wood" => species().map(Finish::Wood).collect(),
            "Stained" => {
                let stained = |(wood, word): (_, &str)| Some(Finish::Stained(wood, Colour::parse(word)?));
                stains().into_iter().filter_map(stained).collect()
            }
            "Painted" => colours().map(Finish::Painted).collect(),
            "Metal" => Metal::ALL.iter().map(|(_, metal)| Finish::Metal(*metal)).collect(),
            "Stone" => Stone::ALL.iter().map(|(_, stone)| Finish::Stone(*stone)).collect(),
            "Tile" => {
                ["white", "sage", "navy"].iter().filter_map(|word| Colour::parse(word)).map(Finish::Tile).collect()
            }
            "Boards" => species().map(Finish::Boards).collect(),
            "Concrete" => vec![Finish::Concrete],
            _ => Vec::new(),
        }
    };
    surface.kinds().iter().flat_map(of_kind).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_offered_can_be_had_and_has_a_name_of_its_own() {
        for surface in Surface::ALL {
            let offers = offers(surface);
            assert!(offers.len() >= 4 && offers.iter().all(|finish| surface.takes(*finish)), "{surface:?}");
            let mut names: Vec<_> = offers.iter().map(|finish| said(*finish)).collect();
            names.sort();
            names.dedup();
            assert_eq!(names.len(), offers.len(), "{surface:?}");
        }
        assert_eq!(said(Finish::Metal(Metal::BrushedSteel)), "brushed steel");
    }
}
