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
    match head.name {
        "Wood" => wood(reader, node, head.payload, "Wood(Oak)").map(Finish::Wood),
        "Boards" => wood(reader, node, head.payload, "Boards(Oak)").map(Finish::Boards),
        "Metal" => {
            let value = reader.only_value(node, head.payload, "Metal(Brass)")?;
            reader.choice(&value, Metal::ALL).map(Finish::Metal)
        }
        "Stone" => {
            let value = reader.only_value(node, head.payload, "Stone(Granite)")?;
            reader.choice(&value, Stone::ALL).map(Finish::Stone)
        }
        "Painted" => {
            let value = reader.only_value(node, head.payload, "Painted(\"white\")")?;
            colour(reader, &value).map(Finish::Painted)
        }
        "Tile" => {
            let value = reader.only_value(node, head.payload, "Tile(\"white\")")?;
            colour(reader, &value).map(Finish::Tile)
        }
        "Stained" => {
            let mut fields = reader.head_fields("a stained finish", node, head.payload);
            let wood = reader.require(&mut fields, "wood", "say which wood, such as `wood: Oak`");
            let wood = wood.and_then(|value| reader.choice(&value, Species::ALL));
            let stain = reader.require(&mut fields, "colour", "say which colour, such as `colour: \"brown\"`");
            let stain = stain.and_then(|value| colour(reader, &value));
            reader.finish(fields);
            Some(Finish::Stained(wood?, stain?))
        }
        // What is left takes nothing in brackets.
        _ if head.payload.is_none() => Some(Finish::Concrete),
        _ => {
            let message = format!("`{}` takes nothing in brackets", node.excerpt());
            reader.refuse("plan::value", node, message, "write it as `Concrete`");
            None
        }
    }
}

fn wood<'a>(
    reader: &mut Reader<'a>,
    node: &Node<'a>,
    payload: Option<Node<'a>>,
    example: &'static str,
) -> Option<Species> {
    let value = reader.only_value(node, payload, example)?;
    reader.choice(&value, Species::ALL)
}

fn colour<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<Colour> {
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
        reader.refuse("plan::colour", node, message, help);
    }
    colour
}
