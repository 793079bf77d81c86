//! What is wrong with a plan file, where, and what would be right.

use std::ops::Range;

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};

/// One thing wrong with a plan file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Problem {
    /// A stable name for the kind of problem, such as `plan::length`.
    pub code: &'static str,
    /// What is wrong: lower case, the value in backquotes, the limit with its unit.
    pub message: String,
    /// What would be right.
    pub help: String,
    /// Bytes of the text that it is about.
    pub span: Range<usize>,
    /// Where in the plan: `left.units[1].width`.
    pub path: String,
}

/// Every problem found in one plan file, in the order of the text; never empty.
#[derive(Clone, Debug)]
pub struct Problems {
    source: NamedSource<String>,
    list: Vec<Problem>,
}

impl Problems {
    /// Gathers `list`, found in `text`, which came from `name`.
    #[must_use]
    pub(super) fn new(name: &str, text: &str, mut list: Vec<Problem>) -> Self {
        list.sort_by(|a, b| (a.span.start, a.span.end, &a.message).cmp(&(b.span.start, b.span.end, &b.message)));
        list.dedup();
        Self { source: NamedSource::new(name, text.to_owned()), list }
    }

    /// The problems, in the order of the text.
    #[must_use]
    pub fn list(&self) -> &[Problem] {
        &self.list
    }

    /// Line and column, both from 1, of a problem's first character.
    #[must_use]
    pub fn line_column(&self, problem: &Problem) -> (usize, usize) {
        let text = self.source.inner();
        let mut start = problem.span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    }

    /// The file's name as given to [`super::read()`].
    #[must_use]
    pub fn file(&self) -> &str {
        self.source.name()
    }

    /// One line a problem: `file:line:column: message (help)`, for pipes, logs and narrow panels.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        self.list
            .iter()
            .map(|problem| {
                let (line, column) = self.line_column(problem);
                format!("{}:{line}:{column}: {} ({})", self.file(), problem.message, problem.help)
            })
            .collect()
    }

    /// The problems with the lines they are about, drawn for a terminal `width` columns wide.
    #[must_use]
    pub fn render(&self, width: usize, colour: bool) -> String {
        let theme = if colour { miette::GraphicalTheme::unicode() } else { miette::GraphicalTheme::unicode_nocolor() };
        let handler = miette::GraphicalReportHandler::new_themed(theme).with_width(width).with_links(false);
        let mut out = String::new();
        if handler.render_report(&mut out, self).is_err() {
            // Writing to a String cannot fail; should it ever, the plain lines say the same.
            out = self.lines().join("\n");
        }
        out
    }
}

impl std::fmt::Display for Problems {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.list.len() {
            1 => write!(f, "the plan has a problem"),
            n => write!(f, "the plan has {n} problems"),
        }
    }
}

impl std::error::Error for Problems {}

impl Diagnostic for Problems {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.list.iter().map(|problem| problem as &dyn Diagnostic)))
    }
}

impl Diagnostic for Problem {
    fn code<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(self.code))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(&self.help))
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = LabeledSpan::new(Some(self.path.clone()), self.span.start, self.span.len());
        Some(Box::new(std::iter::once(label)))
    }
}
