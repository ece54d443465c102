//! In which order what belongs together is drawn and read.

use super::{Mark, Shape, Text};

/// Texts whose baselines are this near stand on one line.
const LINE: f64 = 1.0;

impl Mark {
    /// What is drawn of it first.
    pub fn drawn(&self) -> impl Iterator<Item = &Shape> {
        let shapes = self.shapes.iter();
        shapes.filter(|shape| !matches!(shape, Shape::Text(_)))
    }

    /// Its texts, which lie on top, as they are read: line by line, each from the left.
    /// Tables are laid out by columns, but nobody reads them so.
    #[must_use]
    pub fn read(&self) -> Vec<&Text> {
        let texts = self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text(text) => Some(text),
            Shape::Path { .. } | Shape::Disc { .. } => None,
        });
        let mut texts: Vec<&Text> = texts.collect();
        texts.sort_by(|a, b| a.at.y.total_cmp(&b.at.y));
        // Lines are told apart by gaps, so that the order is one whatever the start.
        let lines = texts.chunk_by(|a, b| b.at.y - a.at.y < LINE);
        let mut read = Vec::with_capacity(texts.len());
        for line in lines {
            let mut line = line.to_vec();
            line.sort_by(|a, b| a.area().left.total_cmp(&b.area().left));
            read.extend(line);
        }
        read
    }
}

#[cfg(test)]
mod tests {
    use crate::drawing::{At, Column, table};

    #[test]
    fn a_table_is_read_row_by_row() {
        let columns = [Column::words("name"), Column::figures("height")];
        let rows = [["press", "4-0"], ["saw", "5-0"]].map(|row| row.map(str::to_owned).to_vec());
        let (mark, _, _) = table(&columns, &rows, At::new(10.0, 10.0));
        let read: Vec<&str> = mark.read().iter().map(|text| &*text.words).collect();
        assert_eq!(read, ["name", "height", "press", "4-0", "saw", "5-0"]);
        assert_eq!(mark.drawn().count() + read.len(), mark.shapes.len());
    }
}
