//! What a person types becomes the text of the file, in the style of the value that it replaces.

use super::{Form, Row, What};
use crate::length::{Length, Unit};
use crate::plan::write::{Edit, quoted};

/// A number in the file has at most so many decimals; what needs more stays as it was typed, between quotes.
const MOST_DECIMALS: usize = 4;

impl Form {
    /// The edit that sets `row` to what a person typed.
    ///
    /// # Errors
    /// In one sentence for the row, if `input` is nothing that the row can be.
    pub fn typed(&self, row: &Row, input: &str) -> Result<Edit, String> {
        let typed = input.trim();
        let value = match row.what {
            What::Length => self.length(row, typed)?,
            What::Angle => angle(typed)?,
            What::Count => match typed.parse::<usize>() {
                Ok(count) => count.to_string(),
                Err(_not_one) => return Err(format!("`{typed}` is not a count; write a whole number such as 2")),
            },
            What::Number if typed.parse::<f64>().is_ok_and(f64::is_finite) => number(typed),
            What::Number => return Err(format!("`{typed}` is not a number; write one such as 64.50")),
            What::Text if typed.is_empty() => return Err("a name is one line that is not blank".to_owned()),
            What::Text => quoted(typed),
            What::YesNo => match typed.to_lowercase().as_str() {
                "yes" | "true" => "true".to_owned(),
                "no" | "false" => "false".to_owned(),
                _ => return Err(format!("`{typed}` is neither yes nor no")),
            },
            What::Name(hardware) => {
                let names = self.names(hardware);
                if !names.iter().any(|name| name == typed) {
                    return Err(format!("`{typed}` is none of the plan's {}: {}", hardware.set(), names.join(", ")));
                }
                quoted(typed)
            }
            What::Choice { choices, .. } => {
                if !choices.iter().any(|choice| choice.word == typed) {
                    return Err(format!("`{typed}` is not one of the choices here"));
                }
                return Ok(self.chosen(row, typed));
            }
            What::Group | What::List { .. } | What::Set { .. } => {
                return Err("this is changed in its own rows".to_owned());
            }
        };
        let value = row.within.map_or_else(|| value.clone(), |word| format!("{word}({value})"));
        Ok(Edit::Set { at: row.path.clone(), value })
    }

    /// A length: a number stays a number if it can, a text stays a text.
    fn length(&self, row: &Row, typed: &str) -> Result<String, String> {
        let example = match self.unit {
            Unit::Millimetre => "60 or 2-3/8 in",
            Unit::Inch => "2-3/8 or 60 mm",
        };
        let length =
            Length::parse(typed, self.unit).map_err(|wrong| format!("{wrong}; write for example {example}"))?;
        let was_text = row.given.as_deref().is_some_and(|given| given.contains('"'));
        let was_number = row.given.is_some() && !was_text;
        let plain = typed.strip_prefix('-').unwrap_or(typed);
        let is_plain = plain.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        if is_plain && !was_text {
            return Ok(number(typed));
        }
        if was_number && let Some(exact) = exact_number(length, self.unit) {
            return Ok(exact);
        }
        Ok(quoted(typed))
    }
}

/// Degrees, with or without their sign.
fn angle(typed: &str) -> Result<String, String> {
    let digits = typed.trim_end_matches("degrees").trim_end_matches('\u{b0}').trim_end();
    let plain = digits.strip_prefix('-').unwrap_or(digits);
    let is_number = plain.bytes().all(|b| b.is_ascii_digit() || b == b'.') && plain.parse::<f64>().is_ok();
    if is_number {
        Ok(number(digits))
    } else {
        Err(format!("`{typed}` is not an angle; write a number of degrees such as 88.9"))
    }
}

/// A number as typed, with digits on both sides of its point.
fn number(typed: &str) -> String {
    let (sign, plain) = typed.strip_prefix('-').map_or(("", typed), |plain| ("-", plain));
    let whole = if plain.starts_with('.') { "0" } else { "" };
    format!("{sign}{whole}{}", plain.strip_suffix('.').unwrap_or(plain))
}

/// The length as a plain number of `unit`, where a short one says it exactly.
fn exact_number(length: Length, unit: Unit) -> Option<String> {
    let text = format!("{:.MOST_DECIMALS$}", length.to(unit));
    let text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
    let same = text.parse().is_ok_and(|number| (unit.of(number) - length).abs().to_mm() < crate::length::SNAP_MM);
    if same { Some(text) } else { None }
}

/// A length that the program works out, as a new value of the file: a number, or text where it is a fraction.
pub fn length_text(length: Length, unit: Unit) -> String {
    let shown = length.show_bare(unit);
    match unit {
        Unit::Inch if shown.contains('/') && !shown.starts_with('~') => quoted(&shown),
        _ => exact_number(length, unit).unwrap_or_else(|| format!("{:?}", length.to(unit))),
    }
}
