//! How does it go in? The order of work step by step, the measured walls, the pieces that must be turned in, and the lists
//! for the installer.

use bevy_egui::egui::{self, Button, CollapsingHeader, Color32, Grid, Label, RichText, Slider, Ui, vec2};

use super::place::note;
use super::{View, card, small_print_ui};
use crate::install::Installation;
use crate::install::fit::{Entry, TurnIn};
use crate::report::Mark;
use crate::report::install::{
    InstallList, Topic, both_ways, carried_line, caution_lines, install_text, opens_text, step_lines, turned_line,
};
use crate::viewer::action::Action;
use crate::viewer::install::{Ask, Done, Installing, MOST_TIMES};
use crate::viewer::look;

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct InstallView<'a> {
    /// What was worked out; none while that goes on.
    pub done: Option<&'a Done>,
    /// Where the person stands in it.
    pub state: &'a Installing,
}

/// The section for installing.
pub(super) fn install_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(InstallView { done, state }) = view.install else { return };
    let Some(done) = done else {
        ui.horizontal(|ui| {
            ui.spinner();
            ui.label("Working out how it goes in…");
        });
        return;
    };
    let mut ask = |ask: Ask| actions.push(Action::Install(ask));
    let installation = &done.installation;
    come_to_top(ui, state);
    if state.showing.is_some() {
        card(ui, |ui| showing_ui(ui, installation, state, &mut ask));
    } else {
        card(ui, |ui| step_ui(ui, installation, state, &mut ask));
    }
    card(ui, |ui| walls_ui(ui, state, &mut ask));
    group(ui, "All steps", true, |ui| steps_ui(ui, installation, state, &mut ask));
    group(ui, "Will it go in?", true, |ui| pieces_ui(ui, installation, state, &mut ask));
    group(ui, "Both ways of setting the runs", true, |ui| ways_ui(ui, installation));
    group(ui, "Does everything open in the measured room?", true, |ui| {
        lines_ui(ui, &opens_text(&done.opens, view.answer));
    });
    group(ui, "Finishing schedule", false, |ui| finishing_ui(ui, installation, &mut ask));
    for (heading, list) in LISTS {
        group(ui, heading, false, |ui| lines_ui(ui, &install_text(installation, &[list])));
    }
    if !installation.assumes.is_empty() {
        small_print_ui(ui, "Taken for granted", installation.assumes.iter().map(String::as_str));
    }
    ui.add_space(6.0);
    let cautions = caution_lines(installation);
    small_print_ui(ui, "Take care", cautions.iter().map(String::as_str));
}

/// The lists that are only read.
const LISTS: [(&str, InstallList); 4] = [
    ("Where the runs stand", InstallList::Setting),
    ("Shims, screws and packing", InstallList::Shims),
    ("Marks on walls and floor", InstallList::Marks),
    ("Edges cut to wall and floor", InstallList::Outlines),
];

/// What is told of a step stands at the top: it comes into view with every other step or piece.
fn come_to_top(ui: &Ui, state: &Installing) {
    let id = egui::Id::new("step or piece that was shown");
    let now = (state.step(), state.showing.map(|showing| showing.piece));
    if ui.data(|data| data.get_temp(id)) != Some(now) {
        ui.data_mut(|data| data.insert_temp(id, now));
        ui.scroll_to_cursor(Some(egui::Align::TOP));
    }
}

fn group(ui: &mut Ui, heading: &str, open: bool, add: impl FnOnce(&mut Ui)) {
    let header = CollapsingHeader::new(RichText::new(heading).strong()).default_open(open);
    let drawn = header.show(ui, add);
    note(&drawn.header_response, || format!("group {heading}"));
}

fn small(ui: &mut Ui, text: impl Into<String>, colour: Color32) {
    ui.add(Label::new(RichText::new(text).small().color(colour)).wrap());
}

/// Lines of a report; its headings are the group's own, save the second and later ones.
fn lines_ui(ui: &mut Ui, lines: &[(Mark, String)]) {
    for (k, (mark, line)) in lines.iter().enumerate() {
        match mark {
            Mark::Heading if k == 0 => {}
            Mark::Heading => drop(ui.label(RichText::new(line).strong())),
            Mark::Good => small(ui, format!("✔ {}", line.trim()), look::CLEAR),
            Mark::Bad => small(ui, format!("⚠ {}", line.trim().trim_start_matches("! ")), look::WARN),
            Mark::Plain => small(ui, line.trim(), look::INK),
        }
    }
}

/// The step that is looked at, with everything that is told beside it.
fn step_ui(ui: &mut Ui, installation: &Installation, state: &Installing, ask: &mut dyn FnMut(Ask)) {
    let (at, count) = (state.step(), installation.order.len());
    let Some(step) = installation.order.get(at) else { return };
    ui.horizontal(|ui| {
        let back = ui.add_enabled(at > 0, Button::new("Step back")).on_hover_text("The step before (B)");
        note(&back, || "step back".to_owned());
        if back.clicked() {
            ask(Ask::Previous);
        }
        let next = ui.add_enabled(at + 1 < count, Button::new("Next step")).on_hover_text("The next step (N)");
        note(&next, || "next step".to_owned());
        if next.clicked() {
            ask(Ask::Next);
        }
        ui.label(RichText::new(format!("Step {} of {count}", at + 1)).color(look::POINTED));
    });
    ui.add(Label::new(RichText::new(&step.title).size(look::TITLE).strong()).wrap());
    for (topic, line) in step_lines(installation, step) {
        match topic {
            Topic::How => small(ui, line, look::INK),
            Topic::Cautions => small(ui, format!("⚠ Take care: {line} (see below)"), look::WARN),
            Topic::Checks | Topic::Drying | Topic::Lifting => small(ui, format!("• {line}"), look::INK),
            Topic::Fasteners | Topic::Tools | Topic::Areas | Topic::Caulk => {
                small(ui, format!("• {line}"), look::FAINT);
            }
            Topic::After | Topic::Parts => small(ui, line, look::FAINT),
        }
    }
}

/// The piece that is shown going in, with its film.
fn showing_ui(ui: &mut Ui, installation: &Installation, state: &Installing, ask: &mut dyn FnMut(Ask)) {
    let (Some(showing), Some(turned)) =
        (state.showing, state.showing.and_then(|showing| installation.turning_in.get(showing.piece)))
    else {
        return;
    };
    ui.add(Label::new(RichText::new(format!("Going in: {}", turned.name)).size(look::TITLE).strong()).wrap());
    small(ui, turned_line(turned, &installation.model), answer_colour(turned));
    if matches!(turned.entry, Entry::TooTight { .. }) {
        let words = "⚠ This is the way of a piece that is shorter by as much; as long as it is drawn it strikes.";
        small(ui, words, look::WARN);
    }
    ui.horizontal(|ui| {
        let word = if showing.runs { "Hold" } else { "Play" };
        let play = ui.button(word);
        note(&play, || "play way in".to_owned());
        if play.clicked() {
            ask(Ask::PlayPause);
        }
        let close = ui.button("Back to the steps").on_hover_text("Esc does the same");
        note(&close, || "back to the steps".to_owned());
        if close.clicked() {
            ask(Ask::Leave);
        }
    });
    let title = ui.label(RichText::new("How far in").small());
    let mut percent = showing.at * 100.0;
    ui.spacing_mut().slider_width = ui.available_width() - 70.0;
    let slider = ui.add(Slider::new(&mut percent, 0.0..=100.0).fixed_decimals(0).suffix(" %")).labelled_by(title.id);
    note(&slider, || "slider way in".to_owned());
    if slider.on_hover_text("0 is in the open, 100 in its place").changed() {
        ask(Ask::Scrub(percent / 100.0));
    }
}

fn walls_ui(ui: &mut Ui, state: &Installing, ask: &mut dyn FnMut(Ask)) {
    let title = ui.label(RichText::new("Measured walls: gaps drawn so many times as wide").strong());
    let mut times = state.times;
    ui.spacing_mut().slider_width = ui.available_width() - 70.0;
    let slider = Slider::new(&mut times, 1.0..=MOST_TIMES).step_by(0.5).fixed_decimals(1).prefix("× ");
    let slider = ui.add(slider).labelled_by(title.id);
    note(&slider, || "slider walls".to_owned());
    let help = "How far the walls are drawn behind the units: × 1 is as measured. Numbers are always the true ones, and \
                a run stays where it touches";
    if slider.on_hover_text(help).changed() {
        ask(Ask::Exaggerate(times));
    }
    ui.horizontal_wrapped(|ui| {
        let mut drawn = state.shims;
        let help =
            "Shims behind the nailers and gaps at the ends of units; a step that sets one unit shows that unit's own";
        if ui.checkbox(&mut drawn, "shims and gaps").on_hover_text(help).changed() {
            ask(Ask::Shims(drawn));
        }
        let mut drawn = state.lines;
        let help = "The level line at the units' upper edge, and the middle of each stud, from the corner";
        if ui.checkbox(&mut drawn, "level line and studs").on_hover_text(help).changed() {
            ask(Ask::Lines(drawn));
        }
    });
}

fn steps_ui(ui: &mut Ui, installation: &Installation, state: &Installing, ask: &mut dyn FnMut(Ask)) {
    ui.spacing_mut().item_spacing.y = 2.0;
    for (k, step) in installation.order.iter().enumerate() {
        let chosen = state.showing.is_none() && state.step() == k;
        let colour = if k > state.step() { look::FAINT } else { look::INK };
        let text = RichText::new(format!("{}  {}", k + 1, step.title)).small().color(colour);
        let button = ui.add(Button::selectable(chosen, text).wrap());
        note(&button, || format!("step {}", k + 1));
        if button.clicked() {
            ask(Ask::Step(k));
        }
    }
}

fn answer_colour(turned: &TurnIn) -> Color32 {
    match turned.entry {
        Entry::Straight | Entry::Moves => look::INK,
        Entry::Turned => look::POINTED,
        Entry::TooTight { .. } | Entry::NoWay => look::WARN,
    }
}

fn pieces_ui(ui: &mut Ui, installation: &Installation, state: &Installing, ask: &mut dyn FnMut(Ask)) {
    for (k, turned) in installation.turning_in.iter().enumerate() {
        ui.horizontal_top(|ui| {
            let chosen = state.showing.is_some_and(|showing| showing.piece == k);
            let button = Button::new(RichText::new("Show").small()).small().selected(chosen);
            let button = ui.add_enabled(turned.way.is_some(), button);
            button.widget_info(|| {
                let label = format!("Show how {} goes in", turned.name);
                egui::WidgetInfo::selected(egui::WidgetType::Button, turned.way.is_some(), chosen, label)
            });
            note(&button, || format!("show {}", turned.name));
            if button.clicked() {
                ask(Ask::Show(k));
            }
            let sign = if matches!(turned.entry, Entry::TooTight { .. } | Entry::NoWay) { "⚠ " } else { "" };
            small(ui, format!("{sign}{}", turned_line(turned, &installation.model)), answer_colour(turned));
        });
    }
    if installation.turning_in.is_empty() {
        small(ui, "Nothing here goes to its place among others.", look::FAINT);
    }
    for carried in &installation.carried_in {
        let (mark, line) = carried_line(carried, installation.model.unit);
        lines_ui(ui, &[(Mark::Heading, String::new()), (mark, line)]);
    }
}

/// As the plan says, and the other way, in two columns of numbers.
fn ways_ui(ui: &mut Ui, installation: &Installation) {
    let two = installation.other_way.is_some();
    Grid::new("both ways").num_columns(3).spacing(vec2(10.0, 2.0)).striped(true).show(ui, |ui| {
        ui.label("");
        ui.label(RichText::new("as planned").small().strong());
        if two {
            ui.label(RichText::new("other way").small().strong());
        }
        ui.end_row();
        for [what, chosen, other] in both_ways(installation) {
            ui.label(RichText::new(what).small().color(look::FAINT));
            ui.label(RichText::new(chosen).small());
            if two {
                ui.label(RichText::new(other).small());
            }
            ui.end_row();
        }
    });
    if !two {
        small(ui, "Square to each other and along the walls come to the same here.", look::FAINT);
    }
}

/// The steps that finish faces or joints, with areas.
fn finishing_ui(ui: &mut Ui, installation: &Installation, ask: &mut dyn FnMut(Ask)) {
    for (k, step) in installation.order.iter().enumerate() {
        if step.areas.is_empty() && step.caulk.is_empty() {
            continue;
        }
        let text = RichText::new(format!("{}  {}", k + 1, step.title)).small().strong();
        let button = ui.add(Button::new(text).small().wrap());
        button.widget_info(|| {
            let label = format!("Go to step {}, {}", k + 1, step.title);
            egui::WidgetInfo::labeled(egui::WidgetType::Button, true, label)
        });
        if button.clicked() {
            ask(Ask::Step(k));
        }
        for (topic, line) in step_lines(installation, step) {
            if matches!(topic, Topic::Areas | Topic::Drying)
                || (topic == Topic::Caulk && line.starts_with("caulk in all"))
            {
                small(ui, line, look::FAINT);
            }
        }
    }
}
