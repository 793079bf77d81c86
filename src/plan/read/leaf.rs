//! Single values of the file: lengths, angles, counts, names and words.
//!
//! Each is read from its text by our own code, so that a fault is told with its place and the next value is still read.

use std::borrow::Cow;

use super::node::{Node, excerpt};
use super::reader::{Fields, Reader, quoted};
use super::spelling::nearest;
use crate::length::{Length, LengthError, Unit};

/// Longest name of a unit, pull or plan, in characters: more does not fit a label.
const LONGEST_NAME: usize = 80;

impl<'a> Reader<'a> {
    /// A length: a number in the plan's unit, or text.
    pub(super) fn length(&mut self, node: &Node<'a>) -> Option<Length> {
        let length = match node.token() {
            token if token.contains('"') => match string(token) {
                Some(text) => Length::parse(&text, self.unit),
                None => Err(LengthError::NotALength(token.to_owned())),
            },
            token => match number(token) {
                Some(number) => Length::of_number(number, self.unit),
                None => Err(LengthError::NotALength(token.to_owned())),
            },
        };
        match length {
            Ok(length) => Some(length),
            Err(error) => {
                let help = match self.unit {
                    Unit::Millimetre => "write a number of millimetres such as `600`, or text such as `\"600 mm\"`",
                    Unit::Inch => {
                        "write a number of inches such as `24`, or text such as `\"1 1/4\"` or `\"5' 2-1/2\\\"\"`"
                    }
                };
                self.refuse("plan::length", node, excerpt_error(&error), help);
                None
            }
        }
    }

    /// The length `name`, or `usual` where it is not given.
    pub(super) fn length_or(&mut self, fields: &mut Fields<'a>, name: &'static str, usual: Length) -> Length {
        self.optional_length(fields, name).unwrap_or(usual)
    }

    /// The length `name`, where it is given.
    pub(super) fn optional_length(&mut self, fields: &mut Fields<'a>, name: &'static str) -> Option<Length> {
        fields.take(name).and_then(|node| self.length(&node))
    }

    /// The length `name`, which must be given.
    pub(super) fn required_length(&mut self, fields: &mut Fields<'a>, name: &'static str, help: &str) -> Length {
        self.require(fields, name, help).and_then(|node| self.length(&node)).unwrap_or(Length::ZERO)
    }

    /// The lengths of the list `name`, at most `most` of them; none where it is not given.
    pub(super) fn lengths(&mut self, fields: &mut Fields<'a>, name: &'static str, most: usize) -> Vec<Length> {
        let Some(node) = fields.take(name) else { return Vec::new() };
        self.items(name, most, &node).iter().filter_map(|node| self.length(node)).collect()
    }

    /// A plain number, called `what` in the report of one that is not.
    pub(super) fn plain_number(&mut self, node: &Node<'a>, what: &str, help: &str) -> Option<f64> {
        let found = number(node.token()).filter(|number| number.is_finite());
        if found.is_none() {
            let message = format!("`{}` is not {what}", node.excerpt());
            self.refuse("plan::number", node, message, help);
        }
        found
    }

    /// An angle in degrees.
    pub(super) fn degrees(&mut self, node: &Node<'a>) -> Option<f64> {
        let degrees = number(node.token()).filter(|degrees| degrees.is_finite());
        if degrees.is_none() {
            let message = format!("`{}` is not an angle", node.excerpt());
            self.refuse("plan::angle", node, message, "write a number of degrees such as `88.9`");
        }
        degrees
    }

    /// A whole number.
    pub(super) fn count(&mut self, node: &Node<'a>) -> Option<usize> {
        let count = node.token().parse().ok();
        if count.is_none() {
            let message = format!("`{}` is not a count", node.excerpt());
            self.refuse("plan::count", node, message, "write a whole number such as `2`");
        }
        count
    }

    /// A name: text that is not blank and fits a label.
    pub(super) fn name(&mut self, node: &Node<'a>) -> Option<String> {
        let Some(text) = string(node.token()) else {
            let message = format!("`{}` is not a name", node.excerpt());
            self.refuse("plan::name", node, message, "write a name between quotes, such as `\"brush drawers\"`");
            return None;
        };
        let name = text.trim();
        if name.is_empty() || name.chars().nth(LONGEST_NAME).is_some() || name.chars().any(char::is_control) {
            let message = format!("`{}` cannot be used as a name", excerpt(name));
            let help = format!("a name is one line of 1 to {LONGEST_NAME} characters");
            self.refuse("plan::name", node, message, help);
            return None;
        }
        Some(name.to_owned())
    }

    /// The name given as `name`, where there is one.
    pub(super) fn optional_name(&mut self, fields: &mut Fields<'a>, name: &'static str) -> Option<String> {
        fields.take(name).and_then(|node| self.name(&node))
    }

    /// `true` or `false`, or false where `name` is not given.
    pub(super) fn switch(&mut self, fields: &mut Fields<'a>, name: &'static str) -> bool {
        self.switch_or(fields, name, false)
    }

    /// `true` or `false`, or `usual` where `name` is not given.
    pub(super) fn switch_or(&mut self, fields: &mut Fields<'a>, name: &'static str, usual: bool) -> bool {
        self.choice_or(fields, name, usual, &[("true", true), ("false", false)])
    }

    /// One of the words of `options`.
    pub(super) fn choice<T: Copy>(&mut self, node: &Node<'a>, options: &[(&'static str, T)]) -> Option<T> {
        let word = node.head().filter(|head| head.payload.is_none()).map(|head| head.name);
        if let Some((_, value)) = options.iter().find(|(option, _)| Some(*option) == word) {
            return Some(*value);
        }
        let words: Vec<_> = options.iter().map(|(word, _)| *word).collect();
        self.refuse_choice(node, &words);
        None
    }

    /// One of the words of `options`, or `usual` where `name` is not given.
    pub(super) fn choice_or<T: Copy>(
        &mut self,
        fields: &mut Fields<'a>,
        name: &'static str,
        usual: T,
        options: &[(&'static str, T)],
    ) -> T {
        fields.take(name).and_then(|node| self.choice(&node, options)).unwrap_or(usual)
    }

    /// Reports that `node` is none of `words`.
    pub(super) fn refuse_choice(&mut self, node: &Node<'a>, words: &[&'static str]) {
        let given = node.head().map_or(node.token(), |head| head.name);
        let message = format!("`{}` is not one of the choices here", excerpt(given));
        let help = match nearest(given, words) {
            Some(word) => format!("did you mean `{word}`? The choices are {}", quoted(words)),
            None => format!("the choices are {}", quoted(words)),
        };
        self.refuse("plan::choice", node, message, help);
    }
}

/// The text between quotes.
pub(in crate::plan) fn string(token: &str) -> Option<Cow<'_, str>> {
    let plain = token.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).filter(|text| !text.contains('\\'));
    match plain {
        Some(text) => Some(Cow::Borrowed(text)),
        None => ron::from_str::<String>(token).ok().map(Cow::Owned),
    }
}

/// Digits with a sign, a point or an exponent; RON's other ways to write a number are for programs.
fn number(token: &str) -> Option<f64> {
    let plain = token.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'+' | b'-' | b'e' | b'E'));
    if plain { token.parse().ok() } else { None }
}

/// The error's own words, with the text it quotes cut short.
fn excerpt_error(error: &LengthError) -> String {
    match error {
        LengthError::Empty => LengthError::Empty.to_string(),
        LengthError::NotALength(text) => LengthError::NotALength(excerpt(text)).to_string(),
        LengthError::DivisionByZero(text) => LengthError::DivisionByZero(excerpt(text)).to_string(),
        LengthError::NotFinite(text) => LengthError::NotFinite(excerpt(text)).to_string(),
    }
}
