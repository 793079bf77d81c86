//! The finishes, as the file says them.

use super::node::Node;
use super::reader::{Fields, Reader, quoted};
use super::spelling::nearest;
use crate::plan::{Colour, Finish, Finishes, Metal, Species, Stone, Surface};

pub(super) fn finishes<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>) -> Finishes {
    let mut finishes = Finishes::default();
    let Some(node) = plan.take("finishes") else { return finishes };
    let mut fields = reader.fields("a set of finishes", &node);
    for surface in Surface::ALL {
        if let Some(finish) = optional(reader, &mut fields, surface.field(), surface) {
            finishes = finishes.with(surface, finish);
        }
    }
    reader.finish(fields);
    finishes
}

/// The finish of a `surface` given as `name`, where there is one.
pub(super) fn optional<'a>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    name: &'static str,
    surface: Surface,
) -> Option<Finish> {
    fields.take(name).and_then(|node| finish(reader, &node, surface))
}

fn finish<'a>(reader: &mut Reader<'a>, node: &Node<'a>, surface: Surface) -> Option<Finish> {
    let Some(head) = node.head().filter(|head| surface.kinds().contains(&head.name)) else {
        reader.refuse_choice(node, surface.kinds());
        return None;
    };
    let what = match head.name {
        "Wood" => "a wood finish",
        "Stained" => "a stained finish",
        "Painted" => "a painted finish",
        "Metal" => "a metal finish",
        "Stone" => "a stone finish",
        "Tile" => "a tile finish",
        "Boards" => "a floor of boards",
        // What is left has no fields.
        _ if head.payload.is_none() => return Some(Finish::Concrete),
        _ => {
            let message = format!("`{}` takes nothing in brackets", node.excerpt());
            reader.refuse("plan::value", node, message, "write it as `Concrete`");
            return None;
        }
    };
    let mut fields = reader.head_fields(what, node, head.payload);
    let finish = match head.name {
        "Wood" => species(reader, &mut fields).map(Finish::Wood),
        "Boards" => species(reader, &mut fields).map(Finish::Boards),
        "Painted" => colour(reader, &mut fields).map(Finish::Painted),
        "Tile" => colour(reader, &mut fields).map(Finish::Tile),
        "Metal" => kind(reader, &mut fields, "say which metal, such as `kind: Brass`", Metal::ALL).map(Finish::Metal),
        "Stone" => kind(reader, &mut fields, "say which stone, such as `kind: Slate`", Stone::ALL).map(Finish::Stone),
        _ => {
            let (wood, stain) = (species(reader, &mut fields), colour(reader, &mut fields));
            wood.zip(stain).map(|(wood, stain)| Finish::Stained(wood, stain))
        }
    };
    reader.finish(fields);
    finish
}

fn species<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>) -> Option<Species> {
    let value = reader.require(fields, "species", "say which wood, such as `species: Oak`")?;
    reader.choice(&value, Species::ALL)
}

fn kind<'a, T: Copy>(
    reader: &mut Reader<'a>,
    fields: &mut Fields<'a>,
    help: &str,
    options: &[(&'static str, T)],
) -> Option<T> {
    let value = reader.require(fields, "kind", help)?;
    reader.choice(&value, options)
}

fn colour<'a>(reader: &mut Reader<'a>, fields: &mut Fields<'a>) -> Option<Colour> {
    let node = reader.require(fields, "colour", "say which colour, such as `colour: \"sage\"`")?;
    let text = node.token().trim_matches('"');
    let quoted_text = node.token().starts_with('"');
    let colour = Colour::parse(text).filter(|_| quoted_text);
    if colour.is_none() {
        let words: Vec<_> = Colour::WORDS.iter().map(|(word, _)| *word).collect();
        let message = format!("`{}` is not a colour", node.excerpt());
        let help = match nearest(text, &words) {
            Some(word) => format!("did you mean `\"{word}\"`? Or write red, green and blue such as `\"#5c7870\"`"),
            None => {
                format!("write between quotes one of {}, or red, green and blue such as `\"#5c7870\"`", quoted(&words))
            }
        };
        reader.refuse("plan::colour", &node, message, help);
    }
    colour
}
