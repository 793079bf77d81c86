//! The open instances that layouts are judged by; `README.md` beside this file says where they are from.

/// One instance in one dimension.
#[derive(Debug, Clone)]
pub(crate) struct BoardInstance {
    pub(crate) set: String,
    pub(crate) name: String,
    pub(crate) length: f64,
    pub(crate) at_least: f64,
    pub(crate) best: f64,
    pub(crate) pieces: Vec<(f64, usize)>,
}

/// One instance in two dimensions.
#[derive(Debug, Clone)]
pub(crate) struct SheetInstance {
    pub(crate) set: String,
    pub(crate) name: String,
    pub(crate) sheet: (f64, f64),
    pub(crate) at_least: f64,
    pub(crate) best: f64,
    pub(crate) pieces: Vec<((f64, f64), usize)>,
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

fn pair(text: &str) -> (f64, f64) {
    let (length, width) = text.split_once('x').unwrap_or_else(|| panic!("`{text}` is no pair"));
    (number(length), number(width))
}

fn counted(text: &str) -> (&str, usize) {
    text.split_once('*').map_or((text, 1), |(size, count)| (size, count.parse().expect("a count")))
}

/// All in `boards.txt`.
pub(crate) fn boards() -> Vec<BoardInstance> {
    let lines = include_str!("boards.txt").lines();
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(' ').collect();
            BoardInstance {
                set: fields[0].to_owned(),
                name: fields[1].to_owned(),
                length: number(fields[2]),
                at_least: number(fields[3]),
                best: number(fields[4]),
                pieces: fields[5..].iter().map(|text| counted(text)).map(|(size, n)| (number(size), n)).collect(),
            }
        })
        .collect()
}

/// All in `sheets.txt`.
pub(crate) fn sheets() -> Vec<SheetInstance> {
    let lines = include_str!("sheets.txt").lines();
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(' ').collect();
            SheetInstance {
                set: fields[0].to_owned(),
                name: fields[1].to_owned(),
                sheet: pair(fields[2]),
                at_least: number(fields[3]),
                best: number(fields[4]),
                pieces: fields[5..].iter().map(|text| counted(text)).map(|(size, n)| (pair(size), n)).collect(),
            }
        })
        .collect()
}
