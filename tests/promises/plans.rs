//! Plans for the tests: a corner of two runs, said in a few numbers, in millimetres or as its twin in inches.

use elbowroom::clearance::{self, Answer};
use elbowroom::length::{Length, Unit};
use elbowroom::plan::{self, Plan};

/// Every plan of `assets/plans/`, the demo first.
pub(crate) const EXAMPLES: [(&str, &str); 7] = [
    ("glazing-corner.ron", include_str!("../../assets/plans/glazing-corner.ron")),
    ("print-room.ron", include_str!("../../assets/plans/print-room.ron")),
    ("bay-seat.ron", include_str!("../../assets/plans/bay-seat.ron")),
    ("old-house.ron", include_str!("../../assets/plans/old-house.ron")),
    ("potting-shed.ron", include_str!("../../assets/plans/potting-shed.ron")),
    ("tack-room.ron", include_str!("../../assets/plans/tack-room.ron")),
    ("wash-up.ron", include_str!("../../assets/plans/wash-up.ron")),
];

/// A pull in a few numbers, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Pull {
    Bar { length: f64, projection: f64, upright: bool },
    Knob { across: f64, projection: f64, square: bool },
    Edge { projection: f64 },
    None,
}

/// One run: its units from the corner.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    /// Each unit's width, and its front heights from the top; an empty list divides equally in three.
    pub(crate) units: Vec<(f64, Vec<f64>)>,
    pub(crate) pull: Pull,
    /// The pull's centre above the front's lower edge, and from its middle.
    pub(crate) pull_height: Option<f64>,
    pub(crate) pull_sideways: f64,
    pub(crate) travel: f64,
    /// `None` for the least.
    pub(crate) filler: Option<f64>,
    /// A door unit at the corner, before the others: width, whether hinged on the corner side, degrees.
    pub(crate) door: Option<(f64, bool, f64)>,
}

/// A whole corner, mm.
#[derive(Clone, Debug)]
pub(crate) struct Corner {
    pub(crate) unit: Unit,
    pub(crate) angle: f64,
    pub(crate) inset: bool,
    /// Width of stiles and rails; `None` for frameless.
    pub(crate) frame: Option<f64>,
    pub(crate) front: f64,
    pub(crate) bumper: f64,
    pub(crate) reveal: f64,
    pub(crate) gap: f64,
    pub(crate) wanted: f64,
    pub(crate) step: f64,
    pub(crate) ajar: f64,
    pub(crate) flush_with_fronts: bool,
    pub(crate) right_laps: bool,
    pub(crate) left: Run,
    pub(crate) right: Run,
}

impl Run {
    /// One three-drawer unit.
    pub(crate) fn of(width: f64, pull: Pull) -> Self {
        Self {
            units: vec![(width, Vec::new())],
            pull,
            pull_height: None,
            pull_sideways: 0.0,
            travel: 500.0,
            filler: None,
            door: None,
        }
    }
}

impl Corner {
    /// Overlay, frameless, square, everything else usual.
    pub(crate) fn new(left: Run, right: Run) -> Self {
        Self {
            unit: Unit::Millimetre,
            angle: 90.0,
            inset: false,
            frame: None,
            front: 19.0,
            bumper: 2.0,
            reveal: 1.5,
            gap: 2.5,
            wanted: 12.0,
            step: 1.0,
            ajar: 0.0,
            flush_with_fronts: false,
            right_laps: false,
            left,
            right,
        }
    }

    /// The same corner written in inches.
    pub(crate) fn twin(&self) -> Self {
        Self { unit: Unit::Inch, ..self.clone() }
    }

    /// Left and right changed over.
    pub(crate) fn mirrored(&self) -> Self {
        Self { left: self.right.clone(), right: self.left.clone(), right_laps: !self.right_laps, ..self.clone() }
    }

    /// The plan file.
    pub(crate) fn text(&self) -> String {
        let l = |mm: f64| format!("{:?}", Length::mm(mm).to(self.unit));
        let mut t = String::from("(\n");
        let units = if self.unit == Unit::Inch { "Inch" } else { "Millimetre" };
        t += &format!(" name: \"test corner\", units: {units},");
        let wall = l(9000.0);
        t += &format!(
            " room: (angle: {:?}, left_wall: {wall}, right_wall: {wall}, ceiling: {}),",
            self.angle,
            l(2600.0)
        );
        t += &format!(" run_angle: Degrees({:?}),", self.angle);
        let face = match self.frame {
            None => "Frameless".to_owned(),
            Some(stile) => format!("FaceFrame(stile: {0}, rail: {0}, thickness: {1})", l(stile), l(19.0)),
        };
        t += &format!(
            " construction: (base: IntegralKick, height: {}, depth: {}, panel: {}, back: {}, edge_strip: {}, nailer: {}, \
             top: Stretchers, stretcher: {}, kick_height: {}, kick_setback: {}, kick_cover: {}, face: {face}, fronts: {}, \
             front: {}, bumper: {}, reveal: (side: {}, top: {}, between: {}, bottom: {}), gap: {}, box_stock: {}, box_bottom: {}),",
            l(870.0),
            l(620.0),
            l(18.0),
            l(6.0),
            l(1.0),
            l(100.0),
            l(100.0),
            l(100.0),
            l(75.0),
            l(12.0),
            if self.inset { "Inset" } else { "Overlay" },
            l(self.front),
            l(self.bumper),
            l(self.reveal),
            l(3.0),
            l(3.0),
            l(0.0),
            l(self.gap),
            l(12.0),
            l(6.0),
        );
        t += &self.hardware(l);
        for (side, run) in [("left", &self.left), ("right", &self.right)] {
            t += &format!(" {side}: (ends_at: Open, units: [");
            if let Some((width, corner_side, opens_to)) = run.door {
                let hinge = if corner_side { "CornerSide" } else { "FarSide" };
                t += &format!(
                    "Door(width: {}, hinge: {hinge}, opens_to: {opens_to:?}, pull: \"door knob\"), ",
                    l(width)
                );
            }
            for (width, fronts) in &run.units {
                let fronts = if fronts.is_empty() {
                    "Equal(3)".to_owned()
                } else {
                    format!("[{}, Rest]", fronts.iter().map(|&f| l(f)).collect::<Vec<_>>().join(", "))
                };
                t += &format!(
                    "Drawers(width: {}, fronts: {fronts}, pull: \"{side} pull\", slide: \"{side} slide\"), ",
                    l(*width)
                );
            }
            t += "]),\n";
        }
        let filler = |run: &Run| run.filler.map_or_else(|| "Least".to_owned(), |w| format!("Fixed({})", l(w)));
        t += &format!(
            " corner: (left: {}, right: {}, flush: {}, laps: {}, face: {}, block: {}),",
            filler(&self.left),
            filler(&self.right),
            if self.flush_with_fronts { "WithFronts" } else { "WithCarcass" },
            if self.right_laps { "Right" } else { "Left" },
            l(19.0),
            l(38.0),
        );
        t += &format!(
            " clearance: (wanted: {}, shop_step: {}, ajar: {}),\n)",
            l(self.wanted),
            l(self.step),
            l(self.ajar),
        );
        t
    }

    /// Pulls and slides of the plan file.
    fn hardware(&self, l: impl Fn(f64) -> String) -> String {
        let mut t = String::new();
        t += " pulls: {";
        for (name, run) in [("left pull", &self.left), ("right pull", &self.right)] {
            let place = format!(
                "{}sideways: {}",
                run.pull_height.map_or_else(String::new, |h| format!("height: {}, ", l(h))),
                l(run.pull_sideways)
            );
            let pull = match run.pull {
                Pull::Bar { length, projection, upright } => format!(
                    "Bar(length: {}, thickness: {}, projection: {}, set: {}, {place})",
                    l(length),
                    l(12.0),
                    l(projection),
                    if upright { "Upright" } else { "Level" },
                ),
                Pull::Knob { across, projection, square } => {
                    format!("Knob(across: {}, square: {square}, projection: {}, {place})", l(across), l(projection))
                }
                Pull::Edge { projection } => format!("Edge(thickness: {}, projection: {})", l(3.0), l(projection)),
                Pull::None => "Absent".to_owned(),
            };
            t += &format!("\"{name}\": {pull}, ");
        }
        if self.left.door.is_some() || self.right.door.is_some() {
            t += &format!("\"door knob\": Knob(across: {}, projection: {})", l(30.0), l(26.0));
        }
        t += "},\n slides: {";
        for (name, run) in [("left slide", &self.left), ("right slide", &self.right)] {
            t += &format!(
                "\"{name}\": (length: {}, extension: Travel({}), mount: SideMount, side: {}, under: {}, lift_out: {}, behind: {}), ",
                l(500.0),
                l(run.travel),
                l(12.7),
                l(12.0),
                l(12.0),
                l(20.0),
            );
        }
        t += "},\n";
        t
    }

    /// The plan.
    #[track_caller]
    pub(crate) fn plan(&self) -> Plan {
        match plan::read("test.ron", &self.text()) {
            Ok(plan) => plan,
            Err(problems) => panic!("{}\n{}", problems.lines().join("\n"), self.text()),
        }
    }

    /// What the check says of it.
    #[track_caller]
    pub(crate) fn answer(&self) -> Answer {
        clearance::answer(&self.plan())
    }

    /// The unrounded least widths, left and right, mm.
    #[track_caller]
    pub(crate) fn least(&self) -> [f64; 2] {
        self.answer().sides.map(|side| side.least.map_or(f64::NAN, Length::to_mm))
    }
}

/// Asserts that two numbers of millimetres agree to `slack`.
#[track_caller]
pub(crate) fn close(got: f64, expected: f64, slack: f64) {
    assert!((got - expected).abs() <= slack, "got {got}, expected {expected}");
}
