//! What is each kind of part to look like? [`Finishes`]: wood, stain, paint, metal, stone, tile, boards, concrete.
//!
//! A finish changes no size and no answer: the window, pictures and lists read it, [`crate::clearance`] never does.
//! [`Finish`] prints as the plan file has it, so that a window can write it back.
//!
//! The names are the trade's for woods, metals and stones, and plain words for colours; a colour may also be given as
//! sRGB (IEC 61966-2-1) in the hexadecimal way of CSS. Colours of woods and stones are the window's business.

use std::fmt;

/// A kind of part that takes a finish of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    /// Drawer fronts, doors, end panels, filler faces and kick covers.
    Fronts,
    /// Stiles and rails of a face frame; as the fronts where the plan does not say.
    Frames,
    /// Sides, bottoms, shelves, backs and their edge strips.
    Carcass,
    /// Drawer boxes.
    Boxes,
    /// Pulls that do not name a finish of their own.
    Pulls,
    /// The countertop.
    Countertop,
    /// The walls.
    Walls,
    /// The floor.
    Floor,
    /// Woodwork of the room: baseboards and casings.
    Woodwork,
}

impl Surface {
    /// All of them, in the order of the plan file.
    pub const ALL: [Self; 9] = [
        Self::Fronts,
        Self::Frames,
        Self::Carcass,
        Self::Boxes,
        Self::Pulls,
        Self::Countertop,
        Self::Walls,
        Self::Floor,
        Self::Woodwork,
    ];

    /// Its field in the plan's `finishes`.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Self::Fronts => "fronts",
            Self::Frames => "frames",
            Self::Carcass => "carcass",
            Self::Boxes => "boxes",
            Self::Pulls => "pulls",
            Self::Countertop => "countertop",
            Self::Walls => "walls",
            Self::Floor => "floor",
            Self::Woodwork => "woodwork",
        }
    }

    /// The kinds of finish that can be had on it, by the word the plan file uses.
    #[must_use]
    pub fn kinds(self) -> &'static [&'static str] {
        match self {
            Self::Fronts | Self::Frames | Self::Carcass | Self::Boxes | Self::Woodwork => {
                &["Wood", "Stained", "Painted"]
            }
            Self::Pulls => &["Metal", "Wood", "Stained", "Painted"],
            Self::Countertop => &["Stone", "Wood", "Stained", "Metal", "Tile", "Concrete"],
            Self::Walls => &["Painted", "Tile"],
            Self::Floor => &["Boards", "Tile", "Stone", "Concrete"],
        }
    }

    /// Whether `finish` can be had on it.
    #[must_use]
    pub fn takes(self, finish: Finish) -> bool {
        self.kinds().contains(&finish.kind())
    }
}

/// How one kind of part is finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finish {
    /// Wood or veneer, oiled or varnished clear.
    Wood(Species),
    /// Wood or veneer, stained: the grain shows through.
    Stained(Species, Colour),
    /// Painted.
    Painted(Colour),
    /// Metal.
    Metal(Metal),
    /// Stone.
    Stone(Stone),
    /// Glazed tile.
    Tile(Colour),
    /// Wooden floorboards.
    Boards(Species),
    /// Bare concrete, sealed.
    Concrete,
}

impl Finish {
    /// Its kind, by the word the plan file uses.
    #[must_use]
    pub fn kind(self) -> &'static str {
        match self {
            Self::Wood(_) => "Wood",
            Self::Stained(..) => "Stained",
            Self::Painted(_) => "Painted",
            Self::Metal(_) => "Metal",
            Self::Stone(_) => "Stone",
            Self::Tile(_) => "Tile",
            Self::Boards(_) => "Boards",
            Self::Concrete => "Concrete",
        }
    }
}

/// As the plan file has it.
impl fmt::Display for Finish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Wood(species) => write!(f, "Wood(species: {})", species.word()),
            Self::Stained(species, colour) => write!(f, "Stained(species: {}, colour: \"{colour}\")", species.word()),
            Self::Painted(colour) => write!(f, "Painted(colour: \"{colour}\")"),
            Self::Metal(metal) => write!(f, "Metal(kind: {})", metal.word()),
            Self::Stone(stone) => write!(f, "Stone(kind: {})", stone.word()),
            Self::Tile(colour) => write!(f, "Tile(colour: \"{colour}\")"),
            Self::Boards(species) => write!(f, "Boards(species: {})", species.word()),
            Self::Concrete => f.write_str("Concrete"),
        }
    }
}

/// The words of a choice, each with what it stands for.
pub(super) type Words<T> = &'static [(&'static str, T)];

/// The word of `value` among `words`.
fn word_of<T: PartialEq>(words: Words<T>, value: &T) -> &'static str {
    words.iter().find(|(_, known)| known == value).map_or("", |(word, _)| word)
}

/// A wood, by its trade name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Species {
    /// White oak (*Quercus alba*) and European oak (*Quercus robur*): ring-porous, with rays.
    Oak,
    /// Hard maple (*Acer saccharum*): pale and close-grained.
    Maple,
    /// Yellow birch (*Betula alleghaniensis*) and silver birch (*Betula pendula*).
    Birch,
    /// Black cherry (*Prunus serotina*).
    Cherry,
    /// Black walnut (*Juglans nigra*).
    Walnut,
    /// White ash (*Fraxinus americana*) and European ash (*Fraxinus excelsior*): ring-porous.
    Ash,
    /// European beech (*Fagus sylvatica*): flecked with short rays.
    Beech,
    /// Scots pine (*Pinus sylvestris*): dark latewood in every ring.
    Pine,
}

impl Species {
    /// Every wood, with its word in the plan file.
    pub const ALL: Words<Self> = &[
        ("Oak", Self::Oak),
        ("Maple", Self::Maple),
        ("Birch", Self::Birch),
        ("Cherry", Self::Cherry),
        ("Walnut", Self::Walnut),
        ("Ash", Self::Ash),
        ("Beech", Self::Beech),
        ("Pine", Self::Pine),
    ];

    /// Its word in the plan file.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::ALL, &self)
    }
}

/// A metal and how it is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Metal {
    /// Stainless steel, brushed.
    BrushedSteel,
    /// Steel or nickel, polished.
    PolishedSteel,
    /// Brass, satin.
    Brass,
    /// Bronze, dark.
    Bronze,
    /// Copper, satin.
    Copper,
    /// Blackened steel, or metal lacquered black.
    Black,
}

impl Metal {
    /// Every metal, with its word in the plan file.
    pub const ALL: Words<Self> = &[
        ("BrushedSteel", Self::BrushedSteel),
        ("PolishedSteel", Self::PolishedSteel),
        ("Brass", Self::Brass),
        ("Bronze", Self::Bronze),
        ("Copper", Self::Copper),
        ("Black", Self::Black),
    ];

    /// Its word in the plan file.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::ALL, &self)
    }
}

/// A stone, natural or cast.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stone {
    /// Granite, grey, speckled.
    Granite,
    /// White marble with grey veins.
    Marble,
    /// Slate, dark, honed.
    Slate,
    /// Soapstone, grey-green with pale veins.
    Soapstone,
    /// Quartz bound in resin, pale and fine.
    Quartz,
    /// Limestone, sand-coloured.
    Limestone,
}

impl Stone {
    /// Every stone, with its word in the plan file.
    pub const ALL: Words<Self> = &[
        ("Granite", Self::Granite),
        ("Marble", Self::Marble),
        ("Slate", Self::Slate),
        ("Soapstone", Self::Soapstone),
        ("Quartz", Self::Quartz),
        ("Limestone", Self::Limestone),
    ];

    /// Its word in the plan file.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::ALL, &self)
    }
}

/// A colour, in sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Colour {
    /// Red, green and blue.
    pub rgb: [u8; 3],
}

impl Colour {
    /// The colours that have a word. Our own choice of soft paints that suit woodwork.
    pub const WORDS: Words<Self> = &[
        ("white", Self::new(0xF4F3EF)),
        ("ivory", Self::new(0xEFE8D8)),
        ("sand", Self::new(0xD8C9AE)),
        ("grey", Self::new(0x9A9C9A)),
        ("charcoal", Self::new(0x45484B)),
        ("black", Self::new(0x262628)),
        ("brown", Self::new(0x5B4636)),
        ("brick", Self::new(0x9A4B3A)),
        ("ochre", Self::new(0xC79A4B)),
        ("sage", Self::new(0x9DAA93)),
        ("moss", Self::new(0x5F6B4E)),
        ("teal", Self::new(0x3F6E70)),
        ("sky", Self::new(0xA9BFCB)),
        ("navy", Self::new(0x2F3E56)),
        ("plum", Self::new(0x5E4254)),
    ];

    /// The colour `0xRRGGBB`.
    #[must_use]
    pub const fn new(rgb: u32) -> Self {
        let [_, red, green, blue] = rgb.to_be_bytes();
        Self { rgb: [red, green, blue] }
    }

    /// Reads a word of [`Colour::WORDS`] (in any case), `#rrggbb` or `#rgb`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let Some(digits) = text.strip_prefix('#') else {
            return Self::WORDS.iter().find(|(word, _)| word.eq_ignore_ascii_case(text)).map(|(_, colour)| *colour);
        };
        if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let value = u32::from_str_radix(digits, 16).ok()?;
        match digits.len() {
            6 => Some(Self::new(value)),
            // Each digit stands for two, as in CSS.
            3 => Some(Self { rgb: [8, 4, 0].map(|shift| (value >> shift & 0xF) as u8 * 0x11) }),
            _ => None,
        }
    }
}

/// Its word, or `#rrggbb`.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = self.rgb;
        match Self::WORDS.iter().find(|(_, known)| known == self) {
            Some((word, _)) => f.write_str(word),
            None => write!(f, "#{red:02x}{green:02x}{blue:02x}"),
        }
    }
}

/// The finish of every kind of part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finishes {
    /// Of fronts, end panels, filler faces and kick covers.
    pub fronts: Finish,
    /// Of face frames; `None` for the fronts'.
    pub frames: Option<Finish>,
    /// Of carcasses.
    pub carcass: Finish,
    /// Of drawer boxes.
    pub boxes: Finish,
    /// Of pulls that do not say.
    pub pulls: Finish,
    /// Of the countertop.
    pub countertop: Finish,
    /// Of the walls.
    pub walls: Finish,
    /// Of the floor.
    pub floor: Finish,
    /// Of baseboards and casings.
    pub woodwork: Finish,
}

/// What a plan gets that does not say. Our own choice.
impl Default for Finishes {
    fn default() -> Self {
        Self {
            fronts: Finish::Painted(Colour::new(0x5C7870)),
            frames: None,
            carcass: Finish::Wood(Species::Birch),
            boxes: Finish::Wood(Species::Maple),
            pulls: Finish::Metal(Metal::Brass),
            countertop: Finish::Stone(Stone::Quartz),
            walls: Finish::Painted(Colour::new(0xE6E0D6)),
            floor: Finish::Boards(Species::Oak),
            woodwork: Finish::Painted(Colour::new(0xF4F3EF)),
        }
    }
}

impl Finishes {
    /// The finish of `surface`.
    #[must_use]
    pub fn of(&self, surface: Surface) -> Finish {
        match surface {
            Surface::Fronts => self.fronts,
            Surface::Frames => self.frames.unwrap_or(self.fronts),
            Surface::Carcass => self.carcass,
            Surface::Boxes => self.boxes,
            Surface::Pulls => self.pulls,
            Surface::Countertop => self.countertop,
            Surface::Walls => self.walls,
            Surface::Floor => self.floor,
            Surface::Woodwork => self.woodwork,
        }
    }

    /// These with another finish for `surface`; unchanged where it cannot be had there.
    #[must_use]
    pub fn with(mut self, surface: Surface, finish: Finish) -> Self {
        if !surface.takes(finish) {
            return self;
        }
        match surface {
            Surface::Fronts => self.fronts = finish,
            Surface::Frames => self.frames = Some(finish),
            Surface::Carcass => self.carcass = finish,
            Surface::Boxes => self.boxes = finish,
            Surface::Pulls => self.pulls = finish,
            Surface::Countertop => self.countertop = finish,
            Surface::Walls => self.walls = finish,
            Surface::Floor => self.floor = finish,
            Surface::Woodwork => self.woodwork = finish,
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_is_read_as_css_writes_it() {
        // CSS Color Module Level 4, section 5.2: three digits are each doubled, so `#0f8` is `#00ff88`.
        assert_eq!(Colour::parse("#0f8"), Colour::parse("#00FF88"));
        assert_eq!(Colour::parse("#00ff88"), Some(Colour { rgb: [0, 255, 136] }));
        for wrong in ["", "#", "#12", "#1234", "#12345g", "00ff88", "#+12345", "mauve-ish"] {
            assert_eq!(Colour::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn a_colour_prints_as_what_it_is_read_from() {
        for (word, colour) in Colour::WORDS {
            assert_eq!(colour.to_string(), *word);
            assert_eq!(Colour::parse(word), Some(*colour));
        }
        let odd = Colour::new(0x01_0A_FF);
        assert_eq!(odd.to_string(), "#010aff");
        assert_eq!(Colour::parse(&odd.to_string()), Some(odd));
    }

    #[test]
    fn what_a_plan_gets_unasked_can_be_had() {
        let usual = Finishes::default();
        for surface in Surface::ALL {
            assert!(surface.takes(usual.of(surface)), "{}", surface.field());
        }
        // No stone on a drawer box: nothing changes.
        assert_eq!(usual.with(Surface::Boxes, Finish::Stone(Stone::Slate)), usual);
    }
}
