use super::Column::{Figures, Points, Words};
use super::{Column, list, paragraph, table};
use crate::output::words::system as words;
use bom::library::Library;
use bom::library::refused::Refused;
use bom::quantity::Units;
use bom::system::{SizeRow, System};
use std::io::{self, Write};

/// Prints the systems in a line each, and what is refused.
///
/// # Errors
/// Those of `out`.
pub fn systems(library: &Library, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = library.systems().iter().map(|system| {
        vec![
            system.name.clone(),
            system.title.clone(),
            system.joint.word().to_owned(),
            words::size_range(system),
            words::stick(system),
        ]
    });
    table(
        out,
        width,
        &[Words, Words, Words, Words, Words],
        &["System", "Title", "Joint", "Sizes", "Stick"],
        rows,
    )?;
    writeln!(out, "\nRefused for compressed air")?;
    let rows = library.refused().iter().map(|refused| {
        vec![
            refused.name.clone(),
            format!(
                "{}\n{}",
                words::sentence(&refused.happens),
                words::sentence(&refused.why)
            ),
        ]
    });
    table(out, width, &[Words, Words], &[], rows)
}

/// Prints what is said of a refused pipe.
///
/// # Errors
/// Those of `out`.
pub fn refused(refused: &Refused, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let title = format!("{}: refused for compressed air", refused.words);
    paragraph(out, width, &title)?;
    let mut items = vec![
        words::sentence(&refused.happens),
        words::sentence(&refused.why),
    ];
    items.extend(refused.water.iter().map(|rating| {
        format!(
            "Its rating of {} is for water.",
            rating.show(Units::default())
        )
    }));
    items.push(if refused.never {
        "It is refused at any pressure, and as a system of your own too.".to_owned()
    } else {
        "A system of your own may be of it where its maker states a rating for air.".to_owned()
    });
    list(out, width, "Why", &items)?;
    list(
        out,
        width,
        "Use instead",
        std::slice::from_ref(&refused.alternatives),
    )?;
    let mut sources = vec![refused.source.clone()];
    if !refused.bulletins.is_empty() {
        sources.insert(0, refused.bulletins.clone());
    }
    list(out, width, "Sources", &sources)
}

/// Prints one system with all its rows.
///
/// # Errors
/// Those of `out`.
pub fn system(system: &System, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let page = Page {
        width,
        units: words::own_units(system),
    };
    paragraph(out, width, &system.title)?;
    paragraph(out, width, &words::facts(system))?;
    paragraph(out, width, &system.services)?;
    list(out, width, "Cautions", &system.cautions)?;
    page.sizes(system, out)?;
    page.fittings(system, out)?;
    page.joins(system, out)?;
    page.consumables(system, out)?;
    page.ratings(system, out)?;
    list(out, width, "Also", &words::notes(system))?;
    list(out, width, "Sources", &words::sources(system))
}

struct Page {
    width: usize,
    units: Units,
}

impl Page {
    fn table(
        &self,
        out: &mut dyn Write,
        heading: &str,
        columns: &[Column],
        heads: &[&str],
        rows: Vec<Vec<String>>,
    ) -> io::Result<()> {
        if rows.is_empty() {
            return Ok(());
        }
        writeln!(out)?;
        paragraph(out, self.width, heading)?;
        table(out, self.width, columns, heads, rows)
    }

    /// The unit of the dimensions, for a heading.
    const fn unit(&self) -> &'static str {
        match self.units {
            Units::Feet => "inches",
            Units::Metric => "millimetres",
        }
    }

    fn sizes(&self, system: &System, out: &mut dyn Write) -> io::Result<()> {
        let threaded = system.is_threaded();
        let row = |row: &SizeRow| {
            let length = |length| words::dimension(length, self.units);
            let thread = if threaded {
                row.threads_per_inch.map(|count| count.to_string())
            } else {
                row.thread.map(|size| size.to_string())
            };
            vec![
                row.size.to_string(),
                length(row.outside),
                length(row.wall),
                length(row.bore()),
                row.mass_lb_per_ft.to_string(),
                thread.unwrap_or_default(),
                row.support.show_total(self.units),
            ]
        };
        let thread = if threaded {
            "Threads per inch"
        } else {
            "Thread of devices"
        };
        self.table(
            out,
            &format!(
                "Pipe, in {}; the longest distance between its supports",
                self.unit()
            ),
            &[Words, Points, Points, Points, Points, Words, Figures],
            &[
                "Size", "Outside", "Wall", "Bore", "lb/ft", thread, "Supports",
            ],
            system.sizes().map(row).collect(),
        )
    }

    fn fittings(&self, system: &System, out: &mut dyn Write) -> io::Result<()> {
        let row = |row: &SizeRow| {
            let lengths = [
                row.centre_to_end,
                row.centre_to_end_45,
                row.coupling,
                row.make_up,
                row.union,
                row.shortest,
            ];
            let lengths = lengths.map(|length| words::dimension(length, self.units));
            std::iter::once(row.size.to_string())
                .chain(lengths)
                .collect()
        };
        self.table(
            out,
            &format!("Fittings, in {}", self.unit()),
            &[Words, Points, Points, Points, Points, Points, Points],
            &[
                "Size",
                "Centre to end",
                "45 elbow",
                "Coupling",
                "Make-up",
                "Union",
                "Shortest piece",
            ],
            system.sizes().map(row).collect(),
        )
    }

    /// What leads from one size, thread or place to another.
    fn joins(&self, system: &System, out: &mut dyn Write) -> io::Result<()> {
        let rows = system.bushing_rows();
        let rows = rows.map(|(size, down)| vec![size.to_string(), words::sizes(down)]);
        let heading = if system.is_threaded() {
            "Hex bushings"
        } else {
            "Fitting reducers"
        };
        let heads = ["From", "Down to"];
        self.table(out, heading, &[Words, Words], &heads, rows.collect())?;

        let rows = system.adapter_rows().map(|(tube, male, female)| {
            vec![tube.to_string(), words::sizes(male), words::sizes(female)]
        });
        let heads = ["Tube", "Male thread", "Female thread"];
        self.table(
            out,
            "Adapters",
            &[Words, Words, Words],
            &heads,
            rows.collect(),
        )?;

        let rows = system.saddle_rows();
        let rows = rows.iter();
        let rows = rows.map(|(main, branches)| vec![main.to_string(), words::sizes(branches)]);
        let heads = ["Main", "Branch"];
        self.table(
            out,
            "Saddles, on the uncut main",
            &[Words, Words],
            &heads,
            rows.collect(),
        )?;

        let rows = system.swan_neck_rows().map(|(size, neck)| {
            let lengths = [neck.rise, neck.reach, neck.take_out];
            let lengths = lengths.map(|length| words::dimension(length, self.units));
            std::iter::once(size.to_string()).chain(lengths).collect()
        });
        self.table(
            out,
            &format!("Swan necks, in {}", self.unit()),
            &[Words, Points, Points, Points],
            &["Size", "Rise", "Reach", "Take-out"],
            rows.collect(),
        )?;

        let rows = system.reducing_rows().map(|(part, sizes)| {
            let sizes: Vec<String> = sizes.map(|size| size.to_string()).collect();
            let sizes = match sizes.as_slice() {
                [] => "none".to_owned(),
                sizes => sizes.join(", "),
            };
            vec![part.to_owned(), sizes]
        });
        let heads = ["Part", "Sizes"];
        self.table(
            out,
            "Reducing fittings that are made",
            &[Words, Words],
            &heads,
            rows.collect(),
        )
    }

    fn ratings(&self, system: &System, out: &mut dyn Write) -> io::Result<()> {
        for (heading, heads, rows) in words::ratings(system) {
            let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
            let columns: Vec<Column> = heads
                .iter()
                .enumerate()
                .map(|(at, _)| if at == 0 { Words } else { Points })
                .collect();
            self.table(out, &heading, &columns, &heads, rows)?;
        }
        Ok(())
    }

    fn consumables(&self, system: &System, out: &mut dyn Write) -> io::Result<()> {
        let used = &system.consumables;
        if used.is_empty() {
            return Ok(());
        }
        let heads: Vec<String> = used
            .iter()
            .map(|one| format!("{}, {}", one.part, one.measure))
            .collect();
        let heads: Vec<&str> = std::iter::once("Size")
            .chain(heads.iter().map(String::as_str))
            .collect();
        let columns: Vec<Column> = std::iter::once(Words)
            .chain(used.iter().map(|_| Points))
            .collect();
        let rows = system.sizes().map(|row| {
            let amounts = used.iter().map(|one| {
                let amount = one.per_joint.get(&row.size);
                amount.map_or_else(String::new, f64::to_string)
            });
            std::iter::once(row.size.to_string())
                .chain(amounts)
                .collect()
        });
        let heading = "Used up by each joint";
        self.table(out, heading, &columns, &heads, rows.collect())
    }
}
