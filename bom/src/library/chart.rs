//! The published size chart.

use crate::quantity::{AirFlow, Length, Size};

#[derive(Debug, Clone)]
pub(super) struct ChartRow {
    cfm: f64,
    sizes: Vec<Size>,
}

/// Columns of the size chart.
const CHART_FEET: [i64; 8] = [25, 50, 75, 100, 150, 200, 250, 300];

/// Reads the chart.
pub(super) fn read(text: &str) -> Result<Vec<ChartRow>, String> {
    let wrong = |what: &dyn std::fmt::Display| format!("size_chart.csv: {what}");
    csv::Reader::from_reader(text.as_bytes())
        .records()
        .map(|record| {
            let record = record.map_err(|error| wrong(&error))?;
            let cfm = record
                .get(0)
                .and_then(|cell| cell.parse().ok())
                .ok_or_else(|| wrong(&"a row has no flow"))?;
            let sizes = record
                .iter()
                .skip(1)
                .take(CHART_FEET.len())
                .map(|cell| Size::parse(&format!("{cell}in")).map_err(|error| wrong(&error)))
                .collect::<Result<_, _>>()?;
            Ok(ChartRow { cfm, sizes })
        })
        .collect()
}

/// The size of the next larger flow and the next longer run.
pub(super) fn look_up(chart: &[ChartRow], flow: AirFlow, run: Length) -> Option<Size> {
    // A flow given in l/s comes back a hair above its cfm figure.
    let cfm = flow.cfm() - 1e-6;
    let column = CHART_FEET
        .iter()
        .position(|feet| run <= Length::from_feet(*feet))?;
    let row = chart.iter().find(|row| cfm <= row.cfm)?;
    row.sizes.get(column).copied()
}
