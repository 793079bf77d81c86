//! What is a step of the work? Its name, what it waits for, what appears in it, and what is told beside it.

use std::fmt;

use crate::length::Length;
use crate::model::PartId;
use crate::plan::{Finish, Side, Surface};

/// Names one step, the same for the same plan whatever else the plan holds. Prints as it stands in JSON: `set-left-1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepId {
    /// Clear the room and protect what stays.
    Clear,
    /// Test for old paint and old floors.
    OldPaint,
    /// Check the survey against the room.
    Survey,
    /// Locate studs, wires and pipes.
    Services,
    /// Take the baseboard off where the runs stand.
    BaseboardOff,
    /// Mark level line, plumb lines and studs.
    Marks,
    /// Set the bases or legs level from the highest floor point.
    Base,
    /// Stand everything in its place without a screw.
    DryFit,
    /// Set and shim one unit.
    Set(Side, usize),
    /// Square the two corner boxes to each other.
    Corner,
    /// Screw the filler's backing block and the kick block in place, from inside the corner box.
    Blocks(Side),
    /// Draw the two corner stiles together, from inside the corner boxes.
    Stiles,
    /// Clamp and join the neighbours of a run.
    Join(Side),
    /// Check a run: square, level, flush.
    Check(Side),
    /// Fix a run to the studs.
    Fix(Side),
    /// Fit a filler face.
    Filler(Side),
    /// Fit the kick covers of a run.
    Kick(Side),
    /// Scribe and fix an end panel.
    EndPanel(Side, usize),
    /// Cut and return the baseboard to what now stands there.
    BaseboardBack,
    /// Screw the slides in.
    Slides,
    /// Lay the loose shelves on their pins.
    Shelves,
    /// Fix the frames before open shelves.
    ShelfFrames,
    /// Run the drawer boxes in.
    Drawers,
    /// Hang and align the fronts.
    Fronts,
    /// Bore for the pulls and screw them on.
    Pulls,
    /// Make ready for the countertop.
    TopSupport,
    /// Lay the countertop.
    Top,
    /// Take fronts, pulls and drawers off again, and number them.
    TakeOff,
    /// Fill and sand what is painted.
    Fill,
    /// Prime bare wood and edges.
    Prime,
    /// Sand the primer.
    SandPrimer,
    /// Caulk the fixed joints.
    Caulk,
    /// The first coat of paint.
    FirstCoat,
    /// The second coat of paint.
    SecondCoat,
    /// Sand what gets a clear or stained finish.
    SandBare,
    /// Stain.
    Stain,
    /// The first clear coat.
    FirstClear,
    /// The second clear coat.
    SecondClear,
    /// Put everything back by its number.
    PutBack,
    /// Slide the appliances in.
    Appliances,
}

impl StepId {
    /// Whether primer, stain, paint or varnish is put on in it.
    #[must_use]
    pub fn coats(self) -> bool {
        matches!(
            self,
            Self::Prime | Self::FirstCoat | Self::SecondCoat | Self::Stain | Self::FirstClear | Self::SecondClear
        )
    }
}

impl fmt::Display for StepId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = match *self {
            Self::Set(side, unit) => return write!(f, "set-{}-{}", side.word(), unit + 1),
            Self::Blocks(side) => return write!(f, "blocks-{}", side.word()),
            Self::Join(side) => return write!(f, "join-{}", side.word()),
            Self::Check(side) => return write!(f, "check-{}", side.word()),
            Self::Fix(side) => return write!(f, "fix-{}", side.word()),
            Self::Filler(side) => return write!(f, "filler-{}", side.word()),
            Self::Kick(side) => return write!(f, "kick-{}", side.word()),
            Self::EndPanel(side, unit) => return write!(f, "end-panel-{}-{}", side.word(), unit + 1),
            Self::Clear => "clear",
            Self::OldPaint => "old-paint",
            Self::Survey => "survey",
            Self::Services => "services",
            Self::BaseboardOff => "baseboard-off",
            Self::Marks => "marks",
            Self::Base => "base",
            Self::DryFit => "dry-fit",
            Self::Corner => "corner",
            Self::Stiles => "corner-stiles",
            Self::BaseboardBack => "baseboard-back",
            Self::Slides => "slides",
            Self::Shelves => "shelves",
            Self::ShelfFrames => "shelf-frames",
            Self::Drawers => "drawers",
            Self::Fronts => "fronts",
            Self::Pulls => "pulls",
            Self::TopSupport => "top-support",
            Self::Top => "top",
            Self::TakeOff => "take-off",
            Self::Fill => "fill",
            Self::Prime => "prime",
            Self::SandPrimer => "sand-primer",
            Self::Caulk => "caulk",
            Self::FirstCoat => "first-coat",
            Self::SecondCoat => "second-coat",
            Self::SandBare => "sand-bare",
            Self::Stain => "stain",
            Self::FirstClear => "first-clear",
            Self::SecondClear => "second-clear",
            Self::PutBack => "put-back",
            Self::Appliances => "appliances",
        };
        f.write_str(word)
    }
}

/// One step of the work.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its name.
    pub id: StepId,
    /// What is done, in one line.
    pub title: String,
    /// How, a line a point.
    pub how: Vec<String>,
    /// What must be done before it, each with the reason.
    pub after: Vec<After>,
    /// The parts that come into the room in it. Every part of the cabinets appears in one step.
    pub parts: Vec<PartId>,
    /// What it is fastened with.
    pub fasteners: Vec<Fastener>,
    /// What is needed to do it.
    pub tools: Vec<&'static str>,
    /// What to look at before going on.
    pub checks: Vec<Check>,
    /// What must dry or set before the next step.
    pub drying: Vec<Drying>,
    /// What can hurt someone.
    pub cautions: Vec<Caution>,
    /// The heaviest thing lifted in one go, kg, without hardware; `None` where nothing is lifted or its stuff is unknown.
    pub lift_kg: Option<f64>,
    /// Faces that are finished in it.
    pub areas: Vec<Area>,
    /// Joints that are caulked in it.
    pub caulk: Vec<CaulkJoint>,
}

impl Step {
    /// A step with nothing but its name.
    pub(super) fn new(id: StepId, title: impl Into<String>) -> Self {
        Self {
            id,
            title: title.into(),
            how: Vec::new(),
            after: Vec::new(),
            parts: Vec::new(),
            fasteners: Vec::new(),
            tools: Vec::new(),
            checks: Vec::new(),
            drying: Vec::new(),
            cautions: Vec::new(),
            lift_kg: None,
            areas: Vec::new(),
            caulk: Vec::new(),
        }
    }

    pub(super) fn how<const N: usize>(mut self, lines: [&str; N]) -> Self {
        self.how.extend(lines.map(str::to_owned));
        self
    }

    /// One more point, where `holds`.
    pub(super) fn how_if(mut self, holds: bool, line: impl Into<String>) -> Self {
        if holds {
            self.how.push(line.into());
        }
        self
    }

    pub(super) fn tools<const N: usize>(mut self, tools: [&'static str; N]) -> Self {
        self.tools.extend(tools);
        self
    }

    pub(super) fn cautions<const N: usize>(mut self, cautions: [Caution; N]) -> Self {
        self.cautions.extend(cautions);
        self
    }

    /// The same with a caution where it applies.
    pub(super) fn caution_if(mut self, applies: bool, caution: Caution) -> Self {
        self.cautions.extend(Some(caution).filter(|_| applies));
        self
    }

    pub(super) fn check(mut self, check: Check) -> Self {
        self.checks.push(check);
        self
    }

    /// One more kind of fastener, where there are any.
    pub(super) fn fastener(mut self, fastener: Fastener) -> Self {
        if fastener.count > 0 {
            self.fasteners.push(fastener);
        }
        self
    }

    pub(super) fn drying(mut self, what: &'static str, least_hours: f64, most_hours: f64) -> Self {
        self.drying.push(Drying { what, least_hours, most_hours });
        self
    }
}

/// A step that must be done before another, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct After {
    /// The step that comes first.
    pub step: StepId,
    /// Why.
    pub why: &'static str,
}

/// What a step is fastened with. Counts and lengths are common practice, no source.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastener {
    /// What it is, in the words of the hardware list where that has it.
    pub what: &'static str,
    /// How many.
    pub count: usize,
    /// No shorter than this: less would not hold.
    pub least: Option<Length>,
    /// No longer than this: more would come out at a face, or meet what lies behind.
    pub most: Option<Length>,
    /// How the count or length comes about.
    pub note: &'static str,
}

/// What to look at before going on.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What is looked at.
    pub what: String,
    /// What it measures when it is right.
    pub size: Option<Length>,
    /// How far off it may be.
    pub within: Option<Length>,
    /// Where that limit is from.
    pub source: &'static str,
}

/// How long to wait, as a range: what is on the tin goes before. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drying {
    /// What dries, and what may be done then.
    pub what: &'static str,
    /// At the least, hours.
    pub least_hours: f64,
    /// At the most, hours.
    pub most_hours: f64,
}

/// Faces of one kind that are finished.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Which.
    pub surface: Surface,
    /// How.
    pub finish: Finish,
    /// How much, mm².
    pub mm2: f64,
}

/// A joint that is caulked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CaulkJoint {
    /// The cabinet's part.
    pub part: PartId,
    /// What it meets.
    pub meets: PartId,
    /// How long it is, mm.
    pub length: f64,
}

/// What can hurt someone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each has its words")]
pub enum Caution {
    OldPaint,
    OldFloor,
    Dust,
    Blades,
    Wires,
    Pipes,
    Studs,
    TipOver,
    TallUnit,
    Lifting,
    Eyes,
    Vapours,
    OilyRags,
}

impl Caution {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::OldPaint,
        Self::OldFloor,
        Self::Dust,
        Self::Blades,
        Self::Wires,
        Self::Pipes,
        Self::Studs,
        Self::TipOver,
        Self::TallUnit,
        Self::Lifting,
        Self::Eyes,
        Self::Vapours,
        Self::OilyRags,
    ];

    /// A word or two.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OldPaint => "old paint",
            Self::OldFloor => "old floors",
            Self::Dust => "dust",
            Self::Blades => "blades",
            Self::Wires => "wires",
            Self::Pipes => "pipes and gas",
            Self::Studs => "studs",
            Self::TipOver => "tipping over",
            Self::TallUnit => "tall units",
            Self::Lifting => "lifting",
            Self::Eyes => "eyes",
            Self::Vapours => "vapours",
            Self::OilyRags => "oily rags",
        }
    }

    /// What to do about it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OldPaint => {
                "Paint in an old house may hold lead. Test it before anything is sanded, scraped or drilled. In the USA, homes built before 1978 fall under the EPA's renovation rule (40 CFR 745 E): beyond small jobs it asks for a certified renovator. Elsewhere ask the local authority."
            }
            Self::OldFloor => {
                "Old tiles, sheet flooring and their glue may hold asbestos. Have them tested before they are cut or lifted, and leave removal to licensed people."
            }
            Self::Dust => {
                "Wood dust harms the lungs (IARC group 1): extract it at the tool, wear a mask, keep it out of the rest of the house. In the USA, OSHA 29 CFR 1910.1000 limits dust to 15 mg/m³, 5 respirable."
            }
            Self::Blades => {
                "Guards stay on; clamp the work, keep both hands behind the cut, unplug before you touch a blade."
            }
            Self::Wires => {
                "Find the wires before you drill, switch their circuit off and test that it is dead. A screw goes no deeper into a stud than its figure says. No outlet or junction box is shut in. Electrical work is a licensed electrician's, by local code."
            }
            Self::Pipes => {
                "Find water, waste and gas pipes before you drill, and know where they are shut off. Valves and cocks stay in reach. Work on gas is for licensed people alone."
            }
            Self::Studs => {
                "Screws hold in studs or in fixings made for that wall, not in board or plaster. Where no stud is behind a unit, put in blocking or ask a professional. Local codes govern."
            }
            Self::TipOver => {
                "Until it is screwed to the wall a unit can tip: no drawers and doors in it, nothing on it, nobody leaning on it, no children in the room. Drawers are loaded only after every unit is fixed."
            }
            Self::TallUnit => {
                "A tall unit tips when its doors stand open or a child climbs it: anchor it for good, high up at its back, to studs or masonry, as the fixings' maker says. Where no stud is behind it, ask a professional. Local codes govern."
            }
            Self::Lifting => {
                "Two people for whatever weighs more than 23 kg (51 lb: NIOSH, the best of cases), and for whatever is awkward. Weights here are without hardware."
            }
            Self::Eyes => "Wear eye protection for sawing, drilling and driving, and ear protection at loud tools.",
            Self::Vapours => {
                "Paint, primer, glue and caulk give off vapours: air the room, no flames, and do what the tin says."
            }
            Self::OilyRags => {
                "Rags with oil or oil stain can catch fire by themselves: lay them flat to dry outdoors, or keep them under water in a closed tin."
            }
        }
    }
}
