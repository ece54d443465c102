//! What every section is put together from.

use maud::{Markup, html};

/// A part of the page with its heading.
pub(super) struct Section {
    /// Its anchor.
    pub(super) id: &'static str,
    /// Its heading.
    pub(super) title: &'static str,
    /// What stands in it.
    pub(super) body: Markup,
}

/// A column: its head, and whether figures stand in it.
pub(super) type Column<'a> = (&'a str, bool);

/// Words.
pub(super) const fn words(head: &str) -> Column<'_> {
    (head, false)
}

/// Figures.
pub(super) const fn figures(head: &str) -> Column<'_> {
    (head, true)
}

/// A row, with its anchor if anything leads to it.
pub(super) struct Row {
    pub(super) id: Option<String>,
    pub(super) cells: Vec<Markup>,
}

impl Row {
    /// A row of plain cells.
    pub(super) fn plain(cells: impl IntoIterator<Item = String>) -> Self {
        let cells = cells.into_iter().map(|cell| html! { (cell) }).collect();
        Self { id: None, cells }
    }
}

/// A table whose rows are cards on a narrow screen. The cells of the column `head` name
/// their rows. The roles are written out because a browser forgets them where rows are cards.
pub(super) fn table(caption: &str, columns: &[Column<'_>], head: usize, rows: &[Row]) -> Markup {
    let class = |at: usize| columns.get(at).is_some_and(|(_, figures)| *figures);
    html! {
        table role="table" class=[class_of_table(rows)] {
            caption { (caption) }
            thead role="rowgroup" {
                tr role="row" {
                    @for (name, figures) in columns {
                        @if name.is_empty() {
                            td role="cell" {}
                        } @else {
                            th role="columnheader" scope="col" class=[figures.then_some("figure")] { (name) }
                        }
                    }
                }
            }
            tbody role="rowgroup" {
                @for row in rows {
                    tr role="row" id=[row.id.as_ref()] {
                        @for (at, cell) in row.cells.iter().enumerate() {
                            @let name = columns.get(at).map_or("", |(name, _)| *name);
                            @if at == head {
                                th role="rowheader" scope="row" class=[class(at).then_some("figure")] data-head=(name) { (cell) }
                            } @else {
                                td role="cell" class=[class(at).then_some("figure")] data-head=(name) { (cell) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What a table's rows ask for: a short one is not broken over two sheets of paper, and
/// one with long words breaks these.
fn class_of_table(rows: &[Row]) -> Option<String> {
    const SHORT: usize = 20;
    let short = (rows.len() <= SHORT).then_some("short");
    let mut cells = rows.iter().flat_map(|row| &row.cells);
    let long = cells.any(|cell| has_long_word(&cell.0)).then_some("long");
    let classes: Vec<&str> = short.into_iter().chain(long).collect();
    (!classes.is_empty()).then(|| classes.join(" "))
}

/// Whether a cell has a word that no column is wide enough for.
fn has_long_word(cell: &str) -> bool {
    const LONGEST: usize = 20;
    let mut letters = 0;
    let mut inside_tag = false;
    cell.chars().any(|letter| {
        match letter {
            '<' => inside_tag = true,
            '>' => inside_tag = false,
            _ if inside_tag => {}
            _ if letter.is_whitespace() => letters = 0,
            _ => letters += 1,
        }
        letters > LONGEST
    })
}

/// A list under a heading of the third order; nothing for no items.
pub(super) fn list(heading: &str, items: &[String]) -> Markup {
    html! {
        @if !items.is_empty() {
            h3 { (heading) }
            (bare_list(items))
        }
    }
}

/// A list; nothing for no items.
pub(super) fn bare_list(items: &[String]) -> Markup {
    html! {
        @if !items.is_empty() {
            ul { @for item in items { li { (item) } } }
        }
    }
}

/// A box to tick with what it stands for.
pub(super) fn tick(id: &str, label: &Markup) -> Markup {
    html! {
        input type="checkbox" id=(id);
        label for=(id) { (label) }
    }
}

/// How much of a section is ticked, which the page's script fills in.
pub(super) fn progress(of: &str) -> Markup {
    html! {
        p.progress hidden data-of=(of) {
            output {} " "
            button type="button" { "Untick all" }
        }
    }
}
