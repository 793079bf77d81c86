//! What is cut, and what is bought? The lists for the bench, in groups that fold. A click on a row points out its parts in
//! the scene; what is picked in the scene is found here.

use bevy_egui::egui::text::LayoutJob;
use bevy_egui::egui::{
    Align, Button, CollapsingHeader, FontId, Id, Label, Response, RichText, Stroke, TextFormat, TextStyle,
    TextWrapMode, Ui, Vec2,
};

use super::layout::layouts_ui;
use super::place::note;
use super::{View, bordered, small_print_ui};
use crate::cutting::parts::{Group, Row, finishing};
use crate::cutting::rips::{Crosscut, RipGroup};
use crate::length::Unit;
use crate::model::Model;
use crate::report::Mark;
use crate::report::cutting::{
    Bench, BenchList, bench_cautions, crosscut_line, edges_line, layout_caution, list_lines, places, rip_group_line,
    rip_line, size_line, stock_line, whys_line, work_lines,
};
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::pointed::{Aim, Pointed};

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct CutView<'a> {
    /// The lists.
    pub bench: &'a Bench,
    /// What is picked.
    pub pointed: &'a Pointed,
}

/// The section that shows what is cut.
pub(super) fn cut_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(CutView { bench, pointed }) = view.cut else { return };
    let mut drawn =
        Drawn { bench, pointed, model: &view.answer.model, come: comes(ui, pointed), unfold: None, actions };
    drawn.picked_ui(ui);
    drawn.stock_words_ui(ui);
    drawn.cut_list_ui(ui);
    drawn.finishing_ui(ui);
    drawn.rips_ui(ui);
    drawn.layouts_ui(ui, view);
    for (heading, list) in LISTS {
        drawn.lines_ui(ui, heading, list);
    }
    if let Some(turn) = drawn.come.filter(|_| pointed.row.is_none()) {
        came(ui, turn);
    }
    ui.add_space(6.0);
    small_print_ui(ui, "Take care", bench_cautions().iter().copied().chain([layout_caution()]));
}

/// The lists that are read and not picked from.
const LISTS: [(&str, BenchList); 3] = [
    ("Drilling", BenchList::Drilling),
    ("Hardware and what is used up", BenchList::Hardware),
    ("Stock, price and weight", BenchList::Cost),
];

fn shown_turn() -> Id {
    Id::new("turn of the picked row that was shown")
}

/// The turn to come to, where something was picked since the list came to anything last.
fn comes(ui: &Ui, pointed: &Pointed) -> Option<u64> {
    let shown: u64 = ui.data(|data| data.get_temp(shown_turn())).unwrap_or_default();
    (pointed.turn != shown).then_some(pointed.turn)
}

fn came(ui: &Ui, turn: u64) {
    ui.data_mut(|data| data.insert_temp(shown_turn(), turn));
}

struct Drawn<'a, 'b> {
    bench: &'a Bench,
    pointed: &'a Pointed,
    model: &'a Model,
    /// What was picked and the list has not come to yet.
    come: Option<u64>,
    /// Every group is to be unfolded, or folded.
    unfold: Option<bool>,
    actions: &'b mut Vec<Action>,
}

impl Drawn<'_, '_> {
    /// What is picked, in words, and a way to drop it. As high whatever it says, so that no row moves under the mouse.
    fn picked_ui(&mut self, ui: &mut Ui) {
        let none = self.pointed.is_empty();
        let hint =
            "Click a row to see its parts in the scene, or a part there to find its row; drag a front to open it.";
        let row = self.bench.list.rows().find(|row| self.pointed.row == Some(row.number));
        let told = match (self.pointed.part, row) {
            (Some(part), row) => {
                let name = self.model.parts.get(part.0).map_or("", |part| part.name.as_str());
                let listed = row.map_or_else(
                    || "not cut: bought whole, see hardware".to_owned(),
                    |row| format!("no. {} of the cut list", row.number),
                );
                format!("Picked: {name} – {listed}")
            }
            (None, Some(row)) => format!("Picked: no. {}, {} × {}", row.number, row.quantity(), row.role.word()),
            (None, None) => hint.to_owned(),
        };
        let colour = if none { look::FAINT } else { look::POINTED };
        ui.scope(|ui| {
            ui.set_min_height(2.0 * ui.text_style_height(&TextStyle::Small));
            ui.add(Label::new(RichText::new(told).small().color(colour)).wrap());
        });
        ui.horizontal(|ui| {
            let drop = ui.add_enabled(!none, Button::new(RichText::new("Pick nothing").small()).small());
            if drop.on_hover_text("Esc does the same").clicked() {
                self.actions.push(Action::Point(Aim::Nothing));
            }
            for (word, open) in [("Unfold all", true), ("Fold all", false)] {
                if ui.add(Button::new(RichText::new(word).small()).small()).clicked() {
                    self.unfold = Some(open);
                }
            }
        });
    }

    /// What is wrong with the stock.
    fn stock_words_ui(&self, ui: &mut Ui) {
        let demand = &self.bench.demand;
        if demand.words.is_empty() {
            return;
        }
        bordered(ui, look::WARN, |ui| {
            for word in &demand.words {
                let line = format!("⚠ {}", stock_line(word, demand, self.bench.unit));
                ui.add(Label::new(RichText::new(line).small().color(look::WARN)).wrap());
            }
        });
    }

    fn cut_list_ui(&mut self, ui: &mut Ui) {
        let rows = self.bench.list.rows();
        let parts: usize = rows.map(Row::quantity).sum();
        heading_ui(ui, &format!("Cut list, as cut ({parts} parts)"));
        let unit = self.bench.unit;
        let frame = format!("{}; length along the grain × width × thickness", unit.symbol());
        ui.label(RichText::new(frame).small().color(look::FAINT));
        let bench = self.bench;
        for group in &bench.list.groups {
            self.group_ui(ui, group);
        }
    }

    fn group_ui(&mut self, ui: &mut Ui, group: &Group) {
        let count: usize = group.rows.iter().map(Row::quantity).sum();
        let thick = group.thickness.show(self.bench.unit);
        let heading = format!("{}, {thick} thick ({count})", group.stuff.word());
        let here = self.come.filter(|_| group.rows.iter().any(|row| self.pointed.row == Some(row.number)));
        // Unfolded until it is wholly open: before that, there is no place to come to.
        let header = CollapsingHeader::new(RichText::new(heading).strong()).default_open(true);
        let header = header.open(here.map(|_| true).or(self.unfold)).show(ui, |ui| {
            for row in &group.rows {
                let button = self.row_ui(ui, row);
                if here.is_some() && self.pointed.row == Some(row.number) {
                    button.scroll_to_me(Some(Align::Center));
                }
            }
        });
        if let Some(turn) = here.filter(|_| header.openness >= 1.0) {
            came(ui, turn);
        }
    }

    fn row_ui(&mut self, ui: &mut Ui, row: &Row) -> Response {
        let chosen = self.pointed.row == Some(row.number);
        let unit = self.bench.unit;
        let mut lines = vec![grain_line(row, !chosen)];
        if chosen {
            lines.extend(work_lines(row, unit));
            if !row.whys.is_empty() {
                lines.push(whys_line(row, unit));
            }
            lines.push(format!("for {}", places(row, self.model)));
        } else if row.is_fitted_on_site() {
            lines.push(format!("fitted on site to {}", size_line(&row.fitted, unit)));
        }
        let head =
            format!("{}    {} × {}    {}", row.number, row.quantity(), row.role.word(), size_line(&row.cut, unit));
        self.pick_ui(ui, &head, &lines, row.number, chosen)
    }

    /// A button that picks a row.
    fn pick_ui(&mut self, ui: &mut Ui, head: &str, lines: &[String], number: usize, chosen: bool) -> Response {
        let mut job = LayoutJob::default();
        job.append(head, 0.0, TextFormat::simple(FontId::proportional(look::TEXT), look::INK));
        for line in lines.iter().filter(|line| !line.is_empty()) {
            let faint = TextFormat::simple(FontId::proportional(look::SMALL), look::FAINT);
            job.append(&format!("\n{line}"), 0.0, faint);
        }
        let edge = if chosen { Stroke::new(2.0, look::POINTED) } else { Stroke::NONE };
        let button = Button::new(job).wrap_mode(TextWrapMode::Wrap).fill(look::CARD).stroke(edge).selected(chosen);
        let button = ui.add(button.min_size(Vec2::new(ui.available_width(), 0.0)));
        note(&button, || format!("row {number}"));
        if button.clicked() {
            let aim = if chosen && self.pointed.part.is_none() { Aim::Nothing } else { Aim::Row(number) };
            self.actions.push(Action::Point(aim));
        }
        button
    }

    fn finishing_ui(&mut self, ui: &mut Ui) {
        let bench = self.bench;
        let rows: Vec<&Row> = finishing(&bench.list).collect();
        folded(ui, self.unfold, &format!("Finishing pieces, as fitted ({})", rows.len()), |ui| {
            for row in rows {
                let size = size_line(&row.fitted, bench.unit);
                let head = format!("{}    {} × {}    {size}", row.number, row.quantity(), row.role.word());
                let chosen = self.pointed.row == Some(row.number);
                self.pick_ui(ui, &head, &[whys_line(row, bench.unit)], row.number, chosen);
            }
        });
    }

    fn rips_ui(&mut self, ui: &mut Ui) {
        let bench = self.bench;
        folded(ui, self.unfold, "Rips, in the order to set the fence", |ui| {
            for group in &bench.rips.groups {
                self.rip_group_ui(ui, group, bench.unit);
            }
        });
    }

    fn rip_group_ui(&mut self, ui: &mut Ui, group: &RipGroup, unit: Unit) {
        ui.add(Label::new(RichText::new(rip_group_line(group, unit)).strong()).wrap());
        for rip in &group.rips {
            ui.add(Label::new(rip_line(rip, unit)).wrap());
            for cut in &rip.crosscuts {
                self.crosscut_ui(ui, cut, unit);
            }
        }
    }

    /// A crosscut points at its row; where it serves several, at the first.
    fn crosscut_ui(&mut self, ui: &mut Ui, cut: &Crosscut, unit: Unit) {
        let chosen = self.pointed.row.is_some_and(|row| cut.rows.contains(&row));
        let text = RichText::new(crosscut_line(cut, unit).trim_start()).small();
        let clicked = ui.indent(("crosscut", &cut.rows), |ui| ui.selectable_label(chosen, text).clicked()).inner;
        if let Some(&row) = cut.rows.first().filter(|_| clicked) {
            self.actions.push(Action::Point(Aim::Row(row)));
        }
    }

    fn layouts_ui(&mut self, ui: &mut Ui, view: &View<'_>) {
        folded(ui, self.unfold, "Layouts", |ui| layouts_ui(ui, view, self.bench, self.pointed, self.actions));
    }

    fn lines_ui(&self, ui: &mut Ui, heading: &str, list: BenchList) {
        folded(ui, self.unfold, heading, |ui| {
            for (mark, line) in list_lines(self.bench, self.model, list) {
                let text = RichText::new(line.trim());
                let text = match mark {
                    Mark::Heading => text.strong(),
                    Mark::Bad => text.small().color(look::WARN),
                    _ => text.small(),
                };
                ui.add(Label::new(text).wrap());
            }
        });
    }
}

/// How the grain lies and, where `edges` are asked for, which of them get a strip.
fn grain_line(row: &Row, edges: bool) -> String {
    let grain = if row.grain { "grain along the length" } else { "no grain" };
    if edges && !row.stripped.is_empty() {
        format!("{grain}; strip on: {}", edges_line(&row.stripped))
    } else {
        grain.to_owned()
    }
}

fn heading_ui(ui: &mut Ui, text: &str) {
    ui.add_space(2.0);
    ui.label(RichText::new(text).strong().size(look::TITLE));
}

fn folded(ui: &mut Ui, unfold: Option<bool>, heading: &str, add: impl FnOnce(&mut Ui)) {
    let header = CollapsingHeader::new(RichText::new(heading).strong().size(look::TITLE)).id_salt(heading);
    let header = header.open(unfold).show(ui, add).header_response;
    note(&header, || heading.to_owned());
}
