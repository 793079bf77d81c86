//! What can be open at once? Every two that meet, each with its plane of openings; and all pairs of fillers.

use bevy_egui::egui::{Button, Label, RichText, Ui, Vec2, WidgetInfo, WidgetType};

use super::place::note;
use super::plane::{Plane, plane_ui};
use super::{View, capital, card, stale_ui, told_ui};
use crate::clearance::FillerPair;
use crate::clearance::map::Point;
use crate::length::{Length, Unit};
use crate::model::{Fillers, Model, Motion, MoverId};
use crate::plan::Side;
use crate::report::{self, Mark};
use crate::viewer::action::Action;
use crate::viewer::look;
use crate::viewer::together::{BothFillers, Pair, Pairs};

/// So many pairs are listed at first.
const SHOWN: usize = 6;
/// An arrow key moves a part by this share of its way.
const KEY_STEP: f64 = 0.02;

/// What the section needs to know.
#[derive(Clone, Copy, Debug)]
pub struct TogetherView<'a> {
    /// Every two that meet, and whether they are of the plan on screen.
    pub pairs: Option<(&'a Pairs, bool)>,
    /// Which of them is looked at.
    pub chosen: usize,
    /// All pairs of fillers, and whether they are of the plan on screen.
    pub fillers: Option<(&'a BothFillers, bool)>,
}

/// The section that shows what can be open together.
pub(super) fn together_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(together) = view.together else { return };
    card(ui, |ui| {
        ui.label(RichText::new("Two open at once").strong().size(look::TITLE));
        match together.pairs {
            None => stale_ui(ui, "Working out which meet…"),
            Some((pairs, is_now)) => {
                if !is_now {
                    stale_ui(ui, "Of the plan before the last change; being worked out anew");
                }
                pairs_ui(ui, view, pairs, together.chosen, actions);
            }
        }
    });
    card(ui, |ui| {
        ui.label(RichText::new("Both fillers together").strong().size(look::TITLE));
        match together.fillers {
            None => stale_ui(ui, "Working out which pairs of fillers are good…"),
            Some((both, is_now)) => {
                if !is_now {
                    stale_ui(ui, "Of the plan before the last change; being worked out anew");
                }
                fillers_ui(ui, view, both, actions);
            }
        }
    });
}

fn pairs_ui(ui: &mut Ui, view: &View<'_>, pairs: &Pairs, chosen: usize, actions: &mut Vec<Action>) {
    if pairs.list.is_empty() {
        told_ui(ui, Mark::Good, "No two drawers or doors ever meet.");
        return;
    }
    list_ui(ui, pairs, chosen, actions);
    let Some(pair) = pairs.list.get(chosen) else { return };
    ui.separator();
    // A plan that changed may have them under other numbers, or not at all.
    let model = &view.answer.model;
    let found = |name: &String| model.movers.iter().find(|mover| mover.name == *name).map(|mover| mover.id);
    let [Some(first), Some(second)] = pair.names.each_ref().map(found) else { return };
    pair_ui(ui, view, &pairs.model, pair, [first, second], actions);
}

/// Every two that meet, to choose from.
fn list_ui(ui: &mut Ui, pairs: &Pairs, chosen: usize, actions: &mut Vec<Action>) {
    let all_id = ui.id().with("all pairs");
    let all = pairs.list.len() <= SHOWN + 1 || ui.data(|data| data.get_temp(all_id)).unwrap_or(false);
    let count = if all { pairs.list.len() } else { SHOWN.max(chosen + 1) };
    for (k, pair) in pairs.list.iter().enumerate().take(count) {
        let [first, second] = &pair.names;
        let words = pair.places.join(" – ");
        let button = Button::new(RichText::new(&words).small()).wrap().selected(k == chosen);
        let button = ui.add(button.min_size(Vec2::new(ui.available_width(), 0.0)));
        button.widget_info(|| {
            WidgetInfo::selected(WidgetType::RadioButton, true, k == chosen, format!("{first} and {second}"))
        });
        note(&button, || format!("pair {}", k + 1));
        if button.on_hover_text(pair.lines.join("\n")).clicked() && k != chosen {
            actions.push(Action::LookAtPair(k));
        }
    }
    if count < pairs.list.len() && ui.button(format!("Show all {}", pairs.list.len())).clicked() {
        ui.data_mut(|data| data.insert_temp(all_id, true));
    }
}

fn is_slide(model: &Model, mover: MoverId) -> bool {
    matches!(model.mover(mover).motion, Motion::Slide { .. })
}

/// What an axis says, and what a number on it is over one of the map's.
fn axis(model: &Model, mover: MoverId, name: &str) -> (String, f64) {
    match model.unit {
        _ if !is_slide(model, mover) => (format!("{name}, °"), 1.0_f64.to_degrees()),
        unit => (format!("{name}, {}", unit.symbol()), Length::mm(1.0).to(unit)),
    }
}

/// One pair: its plane, how both stand, and what each leaves the other. `now` are the two in the model on screen.
fn pair_ui(ui: &mut Ui, view: &View<'_>, model: &Model, pair: &Pair, now: [MoverId; 2], actions: &mut Vec<Action>) {
    let map = &pair.map;
    let at: Point = [0, 1].map(|k| view.outs.get(now[k].0).copied().unwrap_or(0.0).clamp(0.0, map.extents[k]));
    let (mark, words) = report::map_point_line(model, map, at);
    let [(along, x), (up, y)] = [0, 1].map(|k| axis(model, map.movers[k], &pair.places[k]));
    let free = map.leaves_free();
    let plane = Plane {
        name: "two open",
        axes: [along, up],
        scale: [x, y],
        to: map.extents,
        region: &pair.region,
        dashed: [0, 1].map(|k| (free[k] > 0.0 && free[k] < map.extents[k]).then_some(free[k])),
        marked: Vec::new(),
        at,
        step: map.extents.map(|extent| extent * KEY_STEP),
        words: &words,
    };
    let asked = plane_ui(ui, &plane);
    told_ui(ui, mark, &words);
    for line in &pair.lines {
        ui.add(Label::new(RichText::new(line).small()).wrap());
    }
    if !map.exact {
        let error = Length::mm(map.error_mm).show_no_less(model.unit);
        small_ui(ui, &format!("On the safe side, by {error} at most."));
    }
    small_ui(
        ui,
        "Drag the point, click, or move it with the arrow keys: both open so far in the scene, whatever is in the way. Up \
         to a dashed line the other opens its whole way.",
    );
    if let Some(to) = asked {
        actions.push(Action::Stand(vec![(now[0], to[0]), (now[1], to[1])]));
    }
}

fn small_ui(ui: &mut Ui, text: &str) {
    ui.add(Label::new(RichText::new(text).small().color(look::FAINT)).wrap());
}

/// A width that is one of the shop's, nearest to this many mm.
fn on_step(mm: f64, step: Length) -> Length {
    if step <= Length::ZERO { Length::mm(mm) } else { step * (mm / step.to_mm()).round() }
}

/// All pairs of fillers: which are good, which the plan has, and three to take.
fn fillers_ui(ui: &mut Ui, view: &View<'_>, both: &BothFillers, actions: &mut Vec<Action>) {
    let (unit, map, now) = (view.plan.unit, &both.map, view.answer.fillers());
    let (mark, words) = report::fillers_point_line(unit, map, now);
    let picks = [("least sum", map.least_sum), ("least floor", map.least_floor), ("both alike", map.equal)];
    let step = view.plan.clearance.shop_step;
    let whole_id = ui.id().with("whole plane");
    let mut whole = ui.data(|data| data.get_temp(whole_id)).unwrap_or(false);
    let (region, to) = if whole { (&both.whole, map.drawn_to) } else { (&both.near, both.near_to) };
    let plane = Plane {
        name: "both fillers",
        axes: Side::BOTH.map(|side| format!("{} filler, {}", side.word(), unit.symbol())),
        scale: [Length::mm(1.0).to(unit); 2],
        to: [to; 2],
        region,
        dashed: [None; 2],
        marked: named(picks),
        at: [now.left, now.right].map(|width| width.to_mm().min(to)),
        step: [step.to_mm(); 2],
        words: &words,
    };
    let asked = plane_ui(ui, &plane);
    told_ui(ui, mark, &words);
    if map.drawn_to > to || whole {
        let check = ui.checkbox(&mut whole, "draw it as far as anything changes");
        if check.changed() {
            ui.data_mut(|data| data.insert_temp(whole_id, whole));
        }
    }
    for (what, pair) in picks {
        pick_ui(ui, unit, what, pair, now, actions);
    }
    small_ui(ui, "Drag the point or click to set both fillers, on the shop step; undo takes it back.");
    if let Some([left, right]) = asked {
        let fillers = Fillers { left: on_step(left, step), right: on_step(right, step) };
        if fillers != now {
            actions.push(Action::SetFillers(fillers));
        }
    }
}

/// The picks that stand at one place are named together.
fn named(picks: [(&'static str, Option<FillerPair>); 3]) -> Vec<(Point, String)> {
    let mut marked: Vec<(Point, String)> = Vec::new();
    for (name, pair) in picks {
        let Some(pair) = pair else { continue };
        let at = [pair.fillers.left.to_mm(), pair.fillers.right.to_mm()];
        match marked.iter_mut().find(|(there, _)| *there == at) {
            Some((_, names)) => *names += &format!(", {name}"),
            None => marked.push((at, name.to_owned())),
        }
    }
    marked
}

/// One of the three picks, and the button that takes it.
fn pick_ui(ui: &mut Ui, unit: Unit, what: &str, pair: Option<FillerPair>, now: Fillers, actions: &mut Vec<Action>) {
    let Some(pair) = pair else {
        small_ui(ui, &format!("{}: no pair of shop steps", capital(what)));
        return;
    };
    ui.horizontal(|ui| {
        let can = pair.fillers != now;
        let button = ui.add_enabled(can, Button::new(format!("Take {what}")).min_size(Vec2::new(118.0, 0.0)));
        note(&button, || format!("take {what}"));
        if button.clicked() {
            actions.push(Action::SetFillers(pair.fillers));
        }
        let [left, right] = [pair.fillers.left, pair.fillers.right].map(|width| width.show_bare(unit));
        let line = format!("left {left}, right {right}, together {}", pair.sum().show(unit));
        ui.add(Label::new(RichText::new(line).small()).wrap());
    });
}
