//! A table as every paper draws it: columns with a title and a unit, rows of cells.

use survey::Verdict;

/// On which side a column's cells stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A column. Its unit is said once, in the head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// What stands in it.
    pub title: String,
    /// Unit of all its figures; empty for words.
    pub unit: &'static str,
    /// Side on which cells stand.
    pub side: Side,
    /// Greatest width in characters before words wrap in the text report, and share of free width on paper.
    pub widest: usize,
}

impl Column {
    /// A column of words that wraps beyond `widest` characters.
    #[must_use]
    pub fn words(title: &str, widest: usize) -> Self {
        Self { title: title.to_owned(), unit: "", side: Side::Left, widest }
    }

    /// A column of figures in one unit.
    #[must_use]
    pub fn figures(title: &str, unit: &'static str) -> Self {
        Self { title: title.to_owned(), unit, side: Side::Right, widest: 16 }
    }
}

/// A cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    /// Words or a printed figure.
    Words(String),
    /// A verdict, shown by shape and word.
    #[cfg_attr(not(feature = "pdf"), expect(dead_code, reason = "only sheets draw shapes"))]
    Verdict(Verdict),
}

impl Cell {
    /// What the cell says without colour.
    #[must_use]
    pub fn plain(&self) -> String {
        match self {
            Self::Words(words) => words.clone(),
            Self::Verdict(verdict) => crate::wording::verdict(*verdict).to_owned(),
        }
    }
}

impl From<String> for Cell {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

impl From<&str> for Cell {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

/// A table with a title.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows; each has a cell per column.
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    /// An empty table.
    #[must_use]
    pub fn new(columns: Vec<Column>) -> Self {
        Self { columns, rows: Vec::new() }
    }

    /// Adds a row; missing cells are left empty and surplus ones are joined to the last, so that nothing is lost.
    pub fn row<const N: usize>(&mut self, cells: [Cell; N]) {
        debug_assert_eq!(N, self.columns.len(), "a row has a cell per column");
        self.rows.push(cells.into());
    }
}
