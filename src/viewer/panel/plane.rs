//! A plane of pairs: one number along, one up, what conflicts hatched and named, and a point that can be dragged, clicked to
//! or moved with the arrow keys.

use std::sync::Arc;

use bevy_egui::egui::epaint::Mesh;
use bevy_egui::egui::{
    Align2, Color32, CornerRadius, EventFilter, FontId, Galley, Id, Key, Painter, Pos2, Rangef, Rect, Response,
    RichText, Shape, Stroke, StrokeKind, Ui, UiBuilder, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};
use egui_plot::{AxisHints, GridInput, Plot, PlotPoint, PlotTransform, uniform_grid_spacer};

use super::place::note;
use crate::clearance::map::Point;
use crate::viewer::look;
use crate::viewer::region::Region;

/// Height of a plot with its axes, in points.
const HIGH: f32 = 246.0;
/// What is drawn around the plane itself, as a share of it, so that a point at its end can be seen.
const AROUND: f64 = 0.035;
/// The point is this large, in points.
const POINT: f32 = 6.5;
/// A name keeps this much away from it.
const POINT_ROOM: Vec2 = vec2(22.0, 22.0);
/// A dash of a line, in points.
const DASH: f32 = 5.0;
/// So many lines of the grid on an axis, or a few less.
const LINES: f64 = 7.0;
/// A conflict is filled with this.
const FILL: Color32 = Color32::from_rgb(82, 52, 46);

/// What is drawn.
#[derive(Debug)]
pub(super) struct Plane<'a> {
    /// Which plane of the panel it is.
    pub(super) name: &'static str,
    /// What lies along, and what up.
    pub(super) axes: [String; 2],
    /// A number of the axes over one of the pairs.
    pub(super) scale: [f64; 2],
    /// How far it reaches.
    pub(super) to: Point,
    /// What conflicts.
    pub(super) region: &'a Region,
    /// Lines across, at these numbers.
    pub(super) dashed: [Option<f64>; 2],
    /// Pairs with a name.
    pub(super) marked: Vec<(Point, String)>,
    /// The point.
    pub(super) at: Point,
    /// An arrow key moves it by this.
    pub(super) step: Point,
    /// What it says there.
    pub(super) words: &'a str,
}

/// Draws it; gives where the point is to be, where that is elsewhere now.
pub(super) fn plane_ui(ui: &mut Ui, plane: &Plane<'_>) -> Option<Point> {
    // Its own id, so that a drag goes on when lines above it come and go.
    let builder = UiBuilder::new().id(Id::new(("plane", plane.name)));
    ui.scope_builder(builder, |ui| {
        let ends = plane.ends();
        let [along, up] = plane.axes.each_ref().map(String::as_str);
        let plot = Plot::new(plane.name)
            .height(HIGH)
            .allow_drag(false)
            .allow_zoom(false)
            .allow_scroll(false)
            .allow_boxed_zoom(false)
            .allow_axis_zoom_drag(false)
            .allow_double_click_reset(false)
            .show_x(false)
            .show_y(false)
            .x_grid_spacer(uniform_grid_spacer(steps))
            .y_grid_spacer(uniform_grid_spacer(steps))
            .custom_x_axes(vec![axis(AxisHints::new_x(), along)])
            .custom_y_axes(vec![axis(AxisHints::new_y(), up)]);
        let shown = plot.show(ui, move |plot| {
            let around = ends.map(|end| end * AROUND);
            plot.set_plot_bounds_x(-around[0]..=ends[0] + around[0]);
            plot.set_plot_bounds_y(-around[1]..=ends[1] + around[1]);
        });
        let drawn = Drawn { plane, transform: shown.transform };
        drawn.paint(&ui.painter().with_clip_rect(*shown.transform.frame()), &shown.response);
        drawn.tell(ui, &shown.response);
        let asked = drawn.dragged_to(&shown.response).or_else(|| drawn.moved_to(ui, &shown.response));
        asked.filter(|asked| *asked != plane.at)
    })
    .inner
}

fn axis<'a>(hints: AxisHints<'a>, name: &'a str) -> AxisHints<'a> {
    let name = RichText::new(name).size(look::SMALL);
    let hints = hints.label(name).tick_label_color(look::FAINT).tick_label_font(FontId::proportional(look::SMALL));
    hints.label_spacing(Rangef::new(22.0, 34.0))
}

/// Lines at whole ones, twos or fives, some five of them on an axis, and stronger ones at every fifth and tenth.
fn steps(input: GridInput) -> [f64; 3] {
    let rough = ((input.bounds.1 - input.bounds.0) / LINES).max(f64::MIN_POSITIVE);
    let ten = 10.0_f64.powf(rough.log10().floor());
    let times = [1.0, 2.0, 5.0].into_iter().find(|times| times * ten >= rough).unwrap_or(10.0);
    [1.0, 5.0, 10.0].map(|more| more * times * ten)
}

impl Plane<'_> {
    fn ends(&self) -> [f64; 2] {
        [0, 1].map(|k| (self.to[k] * self.scale[k]).max(f64::MIN_POSITIVE))
    }

    fn clamped(&self, [x, y]: Point) -> Point {
        [x.clamp(0.0, self.to[0]), y.clamp(0.0, self.to[1])]
    }
}

struct Drawn<'a, 'p> {
    plane: &'a Plane<'p>,
    transform: PlotTransform,
}

impl Drawn<'_, '_> {
    fn place(&self, [x, y]: Point) -> Pos2 {
        let [along, up] = self.plane.scale;
        self.transform.position_from_point(&PlotPoint::new(x * along, y * up))
    }

    /// Where the mouse holds the point.
    fn dragged_to(&self, response: &Response) -> Option<Point> {
        if !(response.is_pointer_button_down_on() || response.dragged() || response.clicked()) {
            return None;
        }
        let there = self.transform.value_from_position(response.interact_pointer_pos()?);
        let [along, up] = self.plane.scale;
        Some(self.plane.clamped([there.x / along, there.y / up]))
    }

    /// Where the arrow keys bring it.
    fn moved_to(&self, ui: &Ui, response: &Response) -> Option<Point> {
        if !response.has_focus() {
            return None;
        }
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        let pressed = |key: Key| ui.input(|input| input.num_presses(key)) as f64;
        let by = [pressed(Key::ArrowRight) - pressed(Key::ArrowLeft), pressed(Key::ArrowUp) - pressed(Key::ArrowDown)];
        let [x, y] = [0, 1].map(|k| self.plane.at[k] + by[k] * self.plane.step[k]);
        (by != [0.0; 2]).then(|| self.plane.clamped([x, y]))
    }

    /// For who hears the screen.
    fn tell(&self, ui: &Ui, response: &Response) {
        let [along, up] = &self.plane.axes;
        let label = format!("{}: {along} to the right, {up} upwards. Arrow keys move the point", self.plane.name);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Other, true, &label));
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_value(self.plane.words));
        note(response, || format!("plane {}", self.plane.name));
        // The point too: a script takes it where it is.
        let at = Rect::from_center_size(self.place(self.plane.at), vec2(2.0, 2.0));
        note(&response.clone().with_new_rect(at), || format!("point {}", self.plane.name));
    }

    fn paint(&self, painter: &Painter, response: &Response) {
        let frame = Rect::from_two_pos(self.place([0.0; 2]), self.place(self.plane.to));
        self.paint_region(painter);
        self.paint_dashed(painter, frame);
        painter.rect_stroke(frame, CornerRadius::ZERO, Stroke::new(1.0, look::FAINT), StrokeKind::Middle);
        let at = self.place(self.plane.at);
        let marks = self.marks(painter, frame);
        let taken: Vec<Rect> =
            marks.iter().map(|mark| mark.1.place).chain([Rect::from_center_size(at, POINT_ROOM)]).collect();
        if let Some(name) = self.region_name(painter, frame, &taken) {
            name.paint(painter);
        }
        for (place, name) in marks {
            let diamond = [vec2(0.0, -6.0), vec2(6.0, 0.0), vec2(0.0, 6.0), vec2(-6.0, 0.0)].map(|by| place + by);
            painter.add(Shape::convex_polygon(diamond.to_vec(), look::CLEAR, Stroke::new(1.0, Color32::BLACK)));
            name.paint(painter);
        }
        painter.circle(at, POINT, look::INK, Stroke::new(2.0, Color32::BLACK));
        painter.circle_stroke(at, POINT + 2.0, Stroke::new(1.5, look::INK));
        if response.has_focus() {
            let edge = self.transform.frame().shrink(1.0);
            painter.rect_stroke(edge, CornerRadius::ZERO, Stroke::new(2.0, look::MEASURE), StrokeKind::Inside);
        }
    }

    fn paint_region(&self, painter: &Painter) {
        let mut mesh = Mesh::default();
        for outline in &self.plane.region.outlines {
            let first = u32::try_from(mesh.vertices.len()).unwrap_or(u32::MAX);
            for corner in outline {
                mesh.colored_vertex(self.place(*corner), FILL);
            }
            for k in 1..u32::try_from(outline.len()).unwrap_or(u32::MAX).saturating_sub(1) {
                mesh.add_triangle(first, first + k, first + k + 1);
            }
        }
        painter.add(Shape::mesh(mesh));
        let line = |[a, b]: &[Point; 2], stroke: Stroke| Shape::line_segment([self.place(*a), self.place(*b)], stroke);
        let thin = Stroke::new(1.0, look::TOUCH.gamma_multiply(0.6));
        painter.extend(self.plane.region.hatching.iter().map(|part| line(part, thin)));
        painter.extend(self.plane.region.edges.iter().map(|part| line(part, Stroke::new(2.0, look::TOUCH))));
    }

    fn paint_dashed(&self, painter: &Painter, frame: Rect) {
        let stroke = Stroke::new(1.2, look::INK);
        if let Some(along) = self.plane.dashed[0] {
            let x = self.place([along, 0.0]).x;
            painter.extend(Shape::dashed_line(&[pos2(x, frame.top()), pos2(x, frame.bottom())], stroke, DASH, DASH));
        }
        if let Some(up) = self.plane.dashed[1] {
            let y = self.place([0.0, up]).y;
            painter.extend(Shape::dashed_line(&[pos2(frame.left(), y), pos2(frame.right(), y)], stroke, DASH, DASH));
        }
    }

    /// The pairs with a name: each place, and its plate.
    fn marks(&self, painter: &Painter, frame: Rect) -> Vec<(Pos2, Plate)> {
        // Pairs lie close together: their names take turns above and below.
        let turns = [-17.0, 17.0, -34.0];
        let marked = self.plane.marked.iter().zip(turns);
        let plate = |((at, name), turn): (&(Point, String), f32)| {
            let place = self.place(*at);
            let beside = if place.x > frame.center().x { -52.0 } else { 52.0 };
            (place, Plate::new(painter, place + vec2(beside, turn), name, look::CLEAR, frame))
        };
        marked.map(plate).collect()
    }

    /// The plate of what conflicts, where it hides nothing that is `taken`, if there is such a place.
    fn region_name(&self, painter: &Painter, frame: Rect, taken: &[Rect]) -> Option<Plate> {
        let middles = self.plane.region.middles.iter().map(|middle| self.place(*middle));
        let plates = middles.map(|at| Plate::new(painter, at, "in conflict", look::TOUCH, frame));
        let aside = |plate: &Plate| taken.iter().all(|other| !other.intersects(plate.place));
        let mut plates: Vec<Plate> = plates.collect();
        let free = plates.iter().position(aside).unwrap_or(0);
        (free < plates.len()).then(|| plates.swap_remove(free))
    }
}

/// A name on a plate.
struct Plate {
    place: Rect,
    galley: Arc<Galley>,
    ink: Color32,
}

impl Plate {
    /// With its middle at `at`, and all of it within the frame.
    fn new(painter: &Painter, at: Pos2, name: &str, ink: Color32, frame: Rect) -> Self {
        let galley = painter.layout_no_wrap(name.to_owned(), FontId::proportional(look::SMALL), ink);
        let plate = Align2::CENTER_CENTER.anchor_size(at, galley.size() + vec2(8.0, 2.0));
        let low = (frame.min - plate.min).max(vec2(0.0, 0.0));
        let high = (frame.max - plate.max).min(vec2(0.0, 0.0));
        Self { place: plate.translate(low + high), galley, ink }
    }

    fn paint(self, painter: &Painter) {
        painter.rect_filled(self.place, CornerRadius::same(3), look::LABEL);
        painter.galley(self.place.min + vec2(4.0, 1.0), self.galley, self.ink);
    }
}
