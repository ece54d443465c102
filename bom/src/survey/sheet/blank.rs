//! The empty sheet, to print or to fill in on the walk.

use super::columns::Column;
use super::grid::REMARK;
use crate::quantity::Units;

/// An empty sheet as data: what writes it knows files, and nothing of sheets.
#[derive(Debug)]
pub struct Blank {
    /// The heads of its columns.
    pub heads: Vec<Column>,
    /// Its first rows, a text for each column.
    pub rows: Vec<Vec<String>>,
    /// How to fill it in: a word, which may be empty, and what is said of it.
    pub instructions: Vec<(&'static str, String)>,
    /// A filled-in sheet of an invented shop, a text for each column.
    pub example: Vec<Vec<String>>,
}

/// What the example is called.
pub const EXAMPLE: &str = "Example (invented)";

/// The walk of a small shop: a row of heads, then one text for every column that there is.
const WALK: &str = include_str!("../../../data/run_sheet_example.csv");

/// Rows that every sheet has: word, way, name, and what to write there.
const ROWS: [(&str, &str, &str, &str); 13] = [
    (
        "title",
        "",
        "",
        "under name: what the papers are headed with",
    ),
    ("customer", "", "", "under name: who it is for"),
    (
        "air",
        "",
        "",
        "under name: free air delivered, from the plate, like 24 cfm",
    ),
    (
        "cut in",
        "",
        "",
        "under name: where the compressor starts, like 140 psi",
    ),
    (
        "cut out",
        "",
        "",
        "under name: where it stops, like 175 psi",
    ),
    (
        "relief",
        "",
        "",
        "under name: setting of the relief valve, like 200 psi",
    ),
    (
        "tank",
        "",
        "",
        "under name: what the tank holds, like 80 gal",
    ),
    (
        "port",
        "",
        "",
        "under name: the tank's port, like 1in female",
    ),
    (
        "room",
        "east",
        "shop",
        "inside, from the west wall to the east wall",
    ),
    (
        "room",
        "north",
        "shop",
        "inside, from the south wall to the north wall",
    ),
    ("room", "up", "shop", "height of the eave"),
    (
        "main",
        "",
        "",
        "pipe centre above the floor, where the main starts",
    ),
    (
        "height",
        "",
        "",
        "outlets above the floor, where a drop says no other",
    ),
];

/// What each kind of row is for.
const KINDS: [(&str, &str); 10] = [
    (
        "start",
        "the tank's port: its height above the floor, and the compressor's name",
    ),
    (
        "leg",
        "a straight way of the pipe, in walking order: way, length, and at its end a name if another leg starts or ends there. Rows with the same name under leg make one leg round corners. The remark north wall (south, east, west) says that it is as long as that wall",
    ),
    (
        "drop",
        "an outlet: how far along the leg it stands. The remark line, two-sided or paint says what kind; else it is filtered and regulated",
    ),
    (
        "tool",
        "below its drop: what hangs there, like orbital sander",
    ),
    (
        "height",
        "below its drop: the outlet above the floor; above all drops: of every outlet",
    ),
    (
        "drain",
        "a low point of the main; the remark drip leg says that the pipe falls on past it",
    ),
    ("valve", "a valve that shuts off what lies behind it"),
    ("place", "where a branch leaves"),
    (
        "from",
        "the first row of a leg that does not start where the leg above ends: the name of its start",
    ),
    (
        "left",
        "what the tape reads from the last thing to the end of the leg: it catches a wrong reading",
    ),
];

/// The empty sheet in these units.
#[must_use]
pub fn blank(units: Units) -> Blank {
    let heads = Column::of(units);
    let row = |said: &[(Column, &str)]| {
        let text = |column: &Column| {
            let cell = said.iter().find(|(of, _)| of == column);
            cell.map_or_else(String::new, |(_, text)| (*text).to_owned())
        };
        heads.iter().map(text).collect::<Vec<String>>()
    };
    let metric = units == Units::Metric;
    let in_units = |text: &str| match metric {
        false => text.to_owned(),
        true => [
            ("24 cfm", "11 l/s"),
            ("140 psi", "9.5 bar"),
            ("175 psi", "12 bar"),
            ("200 psi", "14 bar"),
            ("80 gal", "300 l"),
        ]
        .iter()
        .fold(text.to_owned(), |text, (feet, metres)| {
            text.replace(feet, metres)
        }),
    };
    let mut rows: Vec<Vec<String>> = ROWS
        .iter()
        .map(|(word, way, name, remark)| {
            row(&[
                (Column::Row, word),
                (Column::Way, way),
                (Column::Name, name),
                (Column::Remark, &in_units(remark)),
            ])
        })
        .collect();
    rows.push(row(&[
        (Column::Leg, "feed"),
        (Column::Row, "start"),
        (Column::ReadFrom, "floor"),
        (Column::Name, "compressor"),
    ]));
    Blank {
        heads,
        rows,
        instructions: instructions(metric),
        example: example(units),
    }
}

/// The example in the columns of these units.
fn example(units: Units) -> Vec<Vec<String>> {
    let shown = Column::of(units);
    let cells = |row: &str| {
        let cells = Column::all().zip(row.split(','));
        let cells = cells.filter(|(column, _)| shown.contains(column));
        cells.map(|(_, text)| text.to_owned()).collect()
    };
    WALK.lines().skip(1).map(cells).collect()
}

fn instructions(metric: bool) -> Vec<(&'static str, String)> {
    let (lengths, paced) = match metric {
        false => (
            "whole feet under ft, inches under in (6, 6.5 or 6 1/2); never both in one cell, since spreadsheets make dates of them",
            "~36",
        ),
        true => (
            "whole millimetres under mm, without a mark between them",
            "~11000",
        ),
    };
    let open = format!(
        "{lengths}. What is not measured is ?, what is paced {paced}: both are listed as to be confirmed"
    );
    let general = [
        (
            "",
            "Stand in the main door looking in, call one wall north, and keep to it. Walk along the pipe from the compressor.",
        ),
        (
            "tape",
            "hook it once for each leg, and read everything along the leg from there: read_from is hook, or end for what is read from the leg's far end",
        ),
        ("lengths", &open),
        (
            "way",
            "north, south, east, west, up or down; northeast and so on for 45 degrees, measured along the pipe",
        ),
        (
            "leg",
            "a name for each leg, which the rows below may leave out. A leg whose end has the name of a place that stands already closes the ring there",
        ),
        ("", "Under row stands one of these words:"),
    ];
    let next = [(
        "",
        "Then: dripleg import SHEET --out job.toml, and dripleg check job.toml",
    )];
    let all = general.into_iter().chain(KINDS).chain(next);
    all.map(|(word, text)| (word, text.to_owned())).collect()
}

impl Blank {
    /// The instructions and the example as rows that the reader skips.
    #[must_use]
    pub fn remarks(&self) -> Vec<Vec<String>> {
        let alone = |text: String| {
            let mut row = vec![String::new(); self.heads.len()];
            row[0] = format!("{REMARK} {text}");
            row
        };
        let said = self.instructions.iter().map(|(word, text)| match *word {
            "" => alone(text.clone()),
            word => alone(format!("{word}: {text}")),
        });
        let example = self.example.iter().map(|row| {
            let mut row = row.clone();
            row[0] = format!("{REMARK} {}", row[0]);
            row
        });
        said.chain([alone(format!("{EXAMPLE}:"))])
            .chain(example)
            .collect()
    }
}
