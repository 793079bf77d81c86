//! Shims and screws: an example worked by hand. Common practice, no source; the sums were checked by a second calculation.
//!
//! Baseboard off, cabinets plumb, back line parallel to a string set square to the other run by 3-4-5. Wall straight between
//! readings; x from the corner; the run covers x 27 to 87, two 30 in units. Studs at 32, 48, 64, 80. Nailer 3/4, back 1/4,
//! board 1/2, bite 1-1/4.

use elbowroom::clearance;
use elbowroom::install::{FixingWarning, Installation, Shim, WhyHere};
use elbowroom::length::{Length, Unit};
use elbowroom::model::Model;
use elbowroom::plan::{self, BackLine, Plan, Reading, Side, Studs, WallMade};

use crate::plans::close;

const IN: f64 = 25.4;

fn text(unit: Unit) -> String {
    let l = |inches: f64| if unit == Unit::Inch { format!("{inches:?}") } else { format!("{:?}", inches * IN) };
    let units = if unit == Unit::Inch { "Inch" } else { "Millimetre" };
    format!(
        r#"(
        name: "shims by hand", units: {units},
        room: (angle: 90, left_wall: {wall}, right_wall: {wall}, ceiling: {ceiling}),
        construction: (
            height: {height}, depth: {depth}, panel: {three_quarters}, back: {quarter}, edge_strip: {quarter}, nailer: {four},
            stretcher: {four}, kick_height: {four}, kick_setback: {three}, kick_cover: {half}, face: Frameless,
        ),
        pulls: {{ "none": Absent }},
        slides: {{ "full": (length: {travel}, extension: Full, mount: SideMount, side: {half}, under: {half}, lift_out: {half}, behind: {three_quarters}) }},
        left: (units: [
            Drawers(width: {thirty}, fronts: Equal(3), pull: "none", slide: "full"),
            Drawers(width: {thirty}, fronts: Equal(3), pull: "none", slide: "full"),
        ], ends_at: Open),
        right: (units: [Drawers(width: {thirty}, fronts: Equal(3), pull: "none", slide: "full")], ends_at: Open),
        corner: (left: Fixed({three}), right: Fixed({three})),
        clearance: (wanted: {half}),
    )"#,
        wall = l(120.0),
        ceiling = l(96.0),
        height = l(34.5),
        depth = l(24.0),
        three_quarters = l(0.75),
        quarter = l(0.25),
        four = l(4.0),
        three = l(3.0),
        half = l(0.5),
        travel = l(21.0),
        thirty = l(30.0),
    )
}

/// The readings at the middle of the top nailer (34-1/2 less 2) and of the bottom one (4 + 3/4 + 2).
fn example(unit: Unit) -> Plan {
    let mut plan =
        plan::read("shims", &text(unit)).unwrap_or_else(|problems| panic!("{}", problems.lines().join("\n")));
    let rows = [(32.5, [2.0, 1.8125, 1.625, 1.6875, 1.9375]), (6.75, [2.0, 1.75, 1.5, 1.625, 2.0])];
    let left = &mut plan.room.survey.left;
    for (height, gaps) in rows {
        for (k, gap) in gaps.into_iter().enumerate() {
            let [along, height, gap] = [24.0 * k as f64, height, gap].map(Length::inches);
            left.readings.push(Reading { along, height, gap });
        }
    }
    left.studs = Studs::At([32.0, 48.0, 64.0, 80.0].map(Length::inches).to_vec());
    left.made_of = WallMade::Framed { board: Length::inches(0.5), stud: Length::inches(1.5) };
    plan.fixing.line = BackLine::Parallel;
    plan.fixing.bite = Length::inches(1.25);
    plan.fixing.shim_step = Length::inches(1.0 / 32.0);
    plan
}

fn installed(plan: &Plan) -> Installation {
    Installation::of(plan, &Model::build(plan, clearance::least_fillers(plan)))
}

fn both() -> [Installation; 2] {
    [Unit::Inch, Unit::Millimetre].map(|unit| installed(&example(unit)))
}

fn at(installation: &Installation, stud: f64, top: bool) -> &Shim {
    let row = if top { "top nailer" } else { "bottom nailer" };
    let wanted = |shim: &&Shim| {
        let here = matches!(shim.why, WhyHere::Stud(middle) if (middle.to_inches() - stud).abs() < 1e-9);
        here && shim.side == Side::Left && shim.row == row
    };
    installation.shims.iter().find(wanted).unwrap()
}

#[test]
fn gaps_shims_and_screws_at_each_stud_to_the_last_figure() {
    // Least reading behind the run, both heights: 1-1/2 at x 48, bottom: the back line. Gap = reading − 1-1/2,
    // straight-line interpolation between readings. Screw = 2-3/4 + gap.
    let rows = [
        // stud, top gap, its shim in 32nds, mm, screw, mm; bottom the same.
        (32.0, [0.25, 8.0, 6.350, 3.000, 76.20], [1.0 / 6.0, 5.0, 4.233, 2.917, 74.08]),
        (48.0, [0.125, 4.0, 3.175, 2.875, 73.03], [0.0, 0.0, 0.0, 2.750, 69.85]),
        (64.0, [1.0 / 6.0, 5.0, 4.233, 2.917, 74.08], [1.0 / 12.0, 3.0, 2.117, 2.833, 71.97]),
        (80.0, [13.0 / 48.0, 9.0, 6.879, 3.021, 76.73], [0.25, 8.0, 6.350, 3.000, 76.20]),
    ];
    for installation in both() {
        for (stud, top, bottom) in rows {
            for (is_top, [gap, parts, gap_mm, screw, screw_mm]) in [(true, top), (false, bottom)] {
                let shim = at(&installation, stud, is_top);
                close(shim.at.gap.to_inches(), gap, 1e-9);
                close(shim.at.gap.to_mm(), gap_mm, 0.0005);
                close(shim.thickness.nearest.to_inches(), parts / 32.0, 1e-9);
                assert_eq!(shim.thickness.tie, None);
                close(shim.screw.unwrap().needed.to_inches(), screw, 0.0005);
                close(shim.screw.unwrap().needed.to_mm(), screw_mm, 0.005 + 1e-9);
                close(shim.s.to_inches(), stud, 1e-9);
            }
        }
        let left = installation.shims.iter().filter(|shim| shim.side == Side::Left);
        assert_eq!(left.count(), 8);
    }
}

#[test]
fn gaps_at_the_ends_of_the_units_and_ties_are_named() {
    for installation in both() {
        // Unit ends, top: x 27 37/128 (7.342), 57 19/128 (3.770), 87 11/32 (8.731);
        // bottom: 7/32 (5.556), 3/64 (1.191), 23/64 (9.128). 3/64 and 23/64 are ties at 1/32.
        let left = installation.setting.run(Side::Left);
        let expected = [
            (27.0, 37.0 / 128.0, 7.342, 7.0 / 32.0, 5.556),
            (57.0, 19.0 / 128.0, 3.770, 3.0 / 64.0, 1.191),
            (87.0, 11.0 / 32.0, 8.731, 23.0 / 64.0, 9.128),
        ];
        assert_eq!(left.edges.len(), 3);
        for (edge, (x, top, top_mm, bottom, bottom_mm)) in left.edges.iter().zip(expected) {
            close(edge.along.to_inches(), x, 1e-9);
            close(edge.gaps[0].to_inches(), top, 1e-9);
            close(edge.gaps[0].to_mm(), top_mm, 0.0005);
            close(edge.gaps[1].to_inches(), bottom, 1e-9);
            close(edge.gaps[1].to_mm(), bottom_mm, 0.0005);
            let step = Length::inches(1.0 / 32.0);
            let tie = elbowroom::install::Stepped::of(edge.gaps[1], step).tie.is_some();
            assert_eq!(tie, x > 30.0, "{x}");
        }
        // Touches at x 48, bottom; the greatest gap is the one at 87, bottom.
        close(left.touches.along.to_inches(), 48.0, 1e-9);
        close(left.touches.height.to_inches(), 6.75, 1e-9);
        close(left.greatest.gap.to_inches(), 23.0 / 64.0, 1e-9);
        close(left.greatest.along.to_inches(), 87.0, 1e-9);
    }
}

#[test]
fn the_top_nailer_touches_nowhere() {
    for installation in both() {
        let untouched = |warning: &&FixingWarning| matches!(warning, FixingWarning::TouchesNowhere { .. });
        let found: Vec<&FixingWarning> = installation.fixing.iter().filter(untouched).collect();
        let [FixingWarning::TouchesNowhere { side: Side::Left, row, least }] = found[..] else {
            panic!("{found:?}");
        };
        assert_eq!(row, "top nailer");
        close(least.to_inches(), 0.125, 1e-9);
    }
}

#[test]
fn if_the_line_may_turn() {
    for installation in both() {
        // Through x 48, slope 0.0703125/60 (0.067°), the greatest gap falls from 23/64 (9.128) to 0.31367 (7.967).
        let alone = installation.setting.run(Side::Left).alone;
        close(alone.lie.tilt.tan(), -0.0703125 / 60.0, 1e-6);
        close(alone.lie.tilt.to_degrees().abs(), 0.067, 0.0005);
        close(alone.greatest.gap.to_inches(), 0.31367, 0.00001);
        close(alone.greatest.gap.to_mm(), 7.967, 0.0005);
    }
}

#[test]
fn one_screw_length_does_not_serve_all() {
    let installation = installed(&example(Unit::Inch));
    let of = |warning: &FixingWarning| match warning {
        FixingWarning::NoOneLength(serves) => Some(serves.clone()),
        _ => None,
    };
    let serves = installation.fixing.iter().find_map(of).unwrap();
    let length = |inches: f64| serves.iter().find(|serves| serves.length == Length::inches(inches)).unwrap();
    // At x 48 bottom a 3 in screw bites 1-1/2, at x 80 top a 2-1/2 bites only 0.729.
    let (most, index) = length(3.0).most;
    close(most.to_inches(), 1.5, 1e-9);
    assert_eq!(&installation.shims[index], at(&installation, 48.0, false));
    let (least, index) = length(2.5).least;
    close(least.to_inches(), 0.729, 0.0005);
    assert_eq!(&installation.shims[index], at(&installation, 80.0, true));
    // Screws that happen to be right for all: 3-1/16 bites 1-1/4 + 1/24 to 1-9/16, which is too deep by the plan's bite of
    // 1-1/4 and an eighth; with walls as flat as 1/8 it does.
    let mut plan = example(Unit::Inch);
    plan.fixing.screws = vec![Length::inches(3.0625)];
    assert!(installed(&plan).fixing.iter().any(|warning| of(warning).is_some()));
    plan.room.survey.left.readings.clear();
    plan.room.survey.right.studs = Studs::At(vec![Length::inches(36.0)]);
    plan.fixing.screws = vec![Length::inches(2.75)];
    assert!(!installed(&plan).fixing.iter().any(|warning| of(warning).is_some()));
    plan.fixing.screws = vec![Length::inches(2.5)];
    assert!(installed(&plan).fixing.iter().any(|warning| matches!(warning, FixingWarning::NoLength(_))));
}

#[test]
fn units_without_a_stud_walls_without_studs_and_places_asked_for() {
    let mut plan = example(Unit::Inch);
    // A stud behind the second unit alone, and one that shows its edge to the first by 1/4: too little for a screw.
    plan.room.survey.left.studs = Studs::At([27.25, 72.0].map(Length::inches).to_vec());
    let none = |installation: &Installation| -> Vec<(Side, usize)> {
        let of = |warning: &FixingWarning| match warning {
            FixingWarning::NoStud { side, unit } => Some((*side, *unit)),
            _ => None,
        };
        installation.fixing.iter().filter_map(of).collect()
    };
    assert_eq!(none(&installed(&plan)), [(Side::Left, 0)]);
    // Spaced studs: 8, 24, 40, ... of which 40 and 56 lie behind the first unit, 72 behind the second.
    plan.room.survey.left.studs = Studs::Spaced { one_at: Length::inches(40.0), spacing: Length::inches(16.0) };
    let spaced = installed(&plan);
    assert!(none(&spaced).is_empty());
    let studs: Vec<f64> = spaced
        .shims
        .iter()
        .filter(|shim| shim.side == Side::Left && shim.row == "top nailer")
        .map(|shim| match shim.why {
            WhyHere::Stud(middle) => middle.to_inches(),
            WhyHere::Asked | WhyHere::NoStuds => f64::NAN,
        })
        .collect();
    assert_eq!(studs.len(), 3);
    for (stud, expected) in studs.into_iter().zip([40.0, 56.0, 72.0]) {
        close(stud, expected, 1e-9);
    }
    // The stud at 56 is behind the first unit's far side (56-1/4 to 57): the screw moves off it, and stays on the stud.
    let moved =
        spaced.shims.iter().find(|shim| (shim.at.along.to_inches() - 56.0).abs() < 0.75 && shim.unit == 0).unwrap();
    close(moved.s.to_inches(), 56.25 - 0.375, 1e-9);
    plan.room.survey.left.made_of = WallMade::Masonry;
    plan.fixing.shim_also = vec![(Side::Left, Length::inches(40.0))];
    let masonry = installed(&plan);
    assert!(masonry.fixing.contains(&FixingWarning::Masonry(Side::Left)));
    // The right wall is framed, and nobody found its studs.
    assert!(masonry.fixing.contains(&FixingWarning::StudsUnknown(Side::Right)));
    let left: Vec<&Shim> = masonry.shims.iter().filter(|shim| shim.side == Side::Left).collect();
    // Two places a nailer, four nailers, and the place asked for behind two of them, with no screw.
    assert_eq!(left.len(), 10);
    let asked: Vec<&&Shim> = left.iter().filter(|shim| shim.why == WhyHere::Asked).collect();
    assert!(asked.len() == 2 && asked.iter().all(|shim| shim.screw.is_none()));
    // No board in masonry: nailer, back, gap and depth. Top at 40: 1-13/16 − 3/16 · 16/24 − 1-1/2 = 3/16.
    close(asked[0].at.gap.to_inches(), 0.1875, 1e-9);
    let first = left.iter().find(|shim| shim.screw.is_some()).unwrap();
    close(first.screw.unwrap().needed.to_inches(), 0.75 + 0.25 + 1.25 + first.at.gap.to_inches(), 1e-9);
}
