//! What does the installer read? Text and JSON of an [`Installation`], a file a list.

mod marks;
mod opens;
mod order;
mod outlines;
mod setting;
mod shims;
mod shut_in;
mod templates;
mod turning;

use serde_json::{Value, json};

use super::Mark;
use crate::install::Installation;
pub use opens::{opens_json, opens_text};
pub use order::{Topic, caution_lines, step_lines};
pub use setting::both_ways;
pub use templates::{TEMPLATE_MARK, Template, templates};
pub use turning::{carried_line, turned_line};

/// One list of the installation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InstallList {
    /// How the runs stand in the room, both ways, and the gaps behind them.
    Setting,
    /// Shims, screws, legs.
    Shims,
    /// What is marked on walls and floor.
    Marks,
    /// Edges cut to the wall and the floor.
    Outlines,
    /// Which pieces must be turned to go in.
    TurningIn,
    /// What is done when, with its cautions.
    Order,
}

impl InstallList {
    /// All, in the order they are printed.
    pub const ALL: [Self; 6] = [Self::Setting, Self::Shims, Self::Marks, Self::Outlines, Self::TurningIn, Self::Order];

    /// Its word on the command line and in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Setting => "setting",
            Self::Shims => "shims",
            Self::Marks => "marks",
            Self::Outlines => "outlines",
            Self::TurningIn => "turning-in",
            Self::Order => "order",
        }
    }
}

/// Lines to read.
#[must_use]
pub fn install_text(installation: &Installation, lists: &[InstallList]) -> Vec<(Mark, String)> {
    let of = |list: &InstallList| match list {
        InstallList::Setting => {
            let mut lines = setting::lines(installation);
            lines.extend(shut_in::lines(installation));
            lines.extend(shut_in::assumed_lines(installation));
            lines
        }
        InstallList::Shims => shims::lines(installation),
        InstallList::Marks => marks::lines(installation),
        InstallList::Outlines => outlines::lines(installation),
        InstallList::TurningIn => turning::lines(installation),
        InstallList::Order => order::lines(installation),
    };
    lists.iter().flat_map(of).collect()
}

/// The same for machines.
#[must_use]
pub fn install_json(installation: &Installation) -> Value {
    json!({
        "format": "elbowroom-install-1",
        "plan": installation.model.name,
        "setting": setting::json(installation),
        "shims": shims::json(installation),
        "shut_in": shut_in::json(installation),
        "assumes": installation.assumes,
        "order": order::json(installation),
        "marks": marks::json(installation),
        "outlines": outlines::json(installation),
        "turning_in": turning::json(installation),
    })
}
