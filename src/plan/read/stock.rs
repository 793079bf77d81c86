//! What there is to cut from, as the file says it.

use super::MOST_THINGS;
use super::node::Node;
use super::reader::{Fields, Reader};
use crate::plan::{Construction, CutOrder, Money, Stock, StockForm, StockItem, Stuff, defaults};

pub(super) fn stock<'a>(reader: &mut Reader<'a>, plan: &mut Fields<'a>, construction: &Construction) -> Stock {
    let unit = reader.unit;
    let mut stock = Stock {
        kerf: defaults::KERF.of(unit),
        trim: defaults::TRIM.of(unit),
        end_trim: defaults::END_TRIM.of(unit),
        cuts: defaults::CUT_ORDER,
        currency: String::new(),
        items: Vec::new(),
    };
    let Some(node) = plan.take("stock") else { return stock };
    let mut fields = reader.fields("a stock", &node);
    stock.kerf = reader.length_or(&mut fields, "kerf", stock.kerf);
    stock.trim = reader.length_or(&mut fields, "trim", stock.trim);
    stock.end_trim = reader.length_or(&mut fields, "end_trim", stock.end_trim);
    let orders = [("RipFirst", CutOrder::RipFirst), ("Free", CutOrder::Free)];
    stock.cuts = reader.choice_or(&mut fields, "cuts", stock.cuts, &orders);
    stock.currency = reader.optional_name(&mut fields, "currency").unwrap_or_default();
    for (list, form) in [("sheets", StockForm::Sheet), ("boards", StockForm::Board)] {
        if let Some(node) = fields.take(list) {
            let entries = reader.entries(list, MOST_THINGS, &node);
            stock.items.extend(entries.into_iter().map(|(name, node)| item(reader, name, form, &node, construction)));
        }
    }
    reader.finish(fields);
    stock
}

fn item<'a>(
    reader: &mut Reader<'a>,
    name: String,
    form: StockForm,
    node: &Node<'a>,
    construction: &Construction,
) -> StockItem {
    const STUFF: [(&str, Stuff); 7] = [
        ("Panel", Stuff::Panel),
        ("ThinPanel", Stuff::ThinPanel),
        ("Front", Stuff::Front),
        ("Solid", Stuff::Solid),
        ("Box", Stuff::Box),
        ("Lumber", Stuff::Lumber),
        ("Countertop", Stuff::Countertop),
    ];
    let unit = reader.unit;
    let what = if form == StockForm::Sheet { "a sheet" } else { "a board" };
    let mut fields = reader.fields(what, node);
    let help = "say what it is for: `of: Panel`, `ThinPanel`, `Front`, `Solid`, `Box`, `Lumber` or `Countertop`";
    let of = reader.require(&mut fields, "of", help).and_then(|node| reader.choice(&node, &STUFF));
    let of = of.unwrap_or(Stuff::Panel);
    let usual_thickness = match of {
        Stuff::Panel | Stuff::Countertop => construction.panel,
        Stuff::ThinPanel => construction.back,
        Stuff::Front => construction.front,
        Stuff::Solid => defaults::FRAME_THICKNESS.of(unit),
        Stuff::Box => construction.box_stock,
        Stuff::Lumber => defaults::BLOCK.of(unit),
    };
    let (length, width) = match form {
        StockForm::Sheet => (defaults::SHEET_LENGTH, defaults::SHEET_WIDTH),
        StockForm::Board => (defaults::BOARD_LENGTH, defaults::BOARD_WIDTH),
    };
    let item = StockItem {
        name,
        of,
        form,
        thickness: reader.length_or(&mut fields, "thickness", usual_thickness),
        sold_as: reader.optional_length(&mut fields, "sold_as"),
        length: reader.length_or(&mut fields, "length", length.of(unit)),
        width: reader.length_or(&mut fields, "width", width.of(unit)),
        price: fields.take("price").and_then(|node| price(reader, &node)),
        count: fields.take("count").and_then(|node| reader.count(&node)),
        grain: reader.switch_or(&mut fields, "grain", true),
        density: fields.take("density").and_then(|node| density(reader, &node)),
    };
    reader.finish(fields);
    item
}

fn price<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<Money> {
    let help = "write a plain number, such as `64.50`; `currency` says once what it is in";
    let units = reader.plain_number(node, "a price", help)?;
    let price = Money::of(units);
    if price.is_none() {
        let message = format!("`{}` is not a price that can be paid", node.excerpt());
        reader.refuse("plan::number", node, message, "give what one costs, 0 or more");
    }
    price
}

fn density<'a>(reader: &mut Reader<'a>, node: &Node<'a>) -> Option<f64> {
    let help = "write kilograms in a cubic metre, such as `680`";
    reader.plain_number(node, "a density", help)
}
