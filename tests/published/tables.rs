//! What stands in print.

/// A row of dimensions by size: its name, then figures in inches or pounds.
pub(super) type Row<const N: usize> = (&'static str, [f64; N]);

/// Schedule 40: outside diameter, wall, inside diameter (in), mass (lb/ft).
/// ASME B36.10M as given in the ASHRAE steel pipe data table (HVAC Systems
/// and Equipment 2008, ch. 45, Table 2).
pub(super) const SCHEDULE_40: [Row<4>; 11] = [
    ("1/4in", [0.540, 0.088, 0.364, 0.424]),
    ("3/8in", [0.675, 0.091, 0.493, 0.567]),
    ("1/2in", [0.840, 0.109, 0.622, 0.850]),
    ("3/4in", [1.050, 0.113, 0.824, 1.130]),
    ("1in", [1.315, 0.133, 1.049, 1.680]),
    ("1-1/4in", [1.660, 0.140, 1.380, 2.270]),
    ("1-1/2in", [1.900, 0.145, 1.610, 2.720]),
    ("2in", [2.375, 0.154, 2.067, 3.650]),
    ("2-1/2in", [2.875, 0.203, 2.469, 5.790]),
    ("3in", [3.500, 0.216, 3.068, 7.570]),
    ("4in", [4.500, 0.237, 4.026, 10.780]),
];

/// NPT: threads per inch, hand-tight engagement L1, effective length L2 (in).
/// ASME B1.20.1, basic dimensions, as given in a public thread table.
pub(super) const NPT: [Row<3>; 11] = [
    ("1/4in", [18.0, 0.2278, 0.4018]),
    ("3/8in", [18.0, 0.2400, 0.4078]),
    ("1/2in", [14.0, 0.3200, 0.5337]),
    ("3/4in", [14.0, 0.3390, 0.5457]),
    ("1in", [11.5, 0.4000, 0.6828]),
    ("1-1/4in", [11.5, 0.4200, 0.7068]),
    ("1-1/2in", [11.5, 0.4200, 0.7235]),
    ("2in", [11.5, 0.4360, 0.7565]),
    ("2-1/2in", [8.0, 0.6820, 1.1375]),
    ("3in", [8.0, 0.7660, 1.2000]),
    ("4in", [8.0, 0.8440, 1.3000]),
];

/// Level spacing in feet. MSS SP-69, vapour or gas column, as given in ASHRAE
/// Fundamentals 2021; 1-1/4 in from memory; 3/8 in from a municipal gas code
/// table (NFPA 54 type).
pub(super) const SPACING: [(&str, i64); 10] = [
    ("3/8in", 6),
    ("1/2in", 8),
    ("3/4in", 9),
    ("1in", 9),
    ("1-1/4in", 9),
    ("1-1/2in", 12),
    ("2in", 13),
    ("2-1/2in", 14),
    ("3in", 15),
    ("4in", 17),
];

/// Spot values of US Army TM 55-1930-209-14P-7, Table 1: cfm of free air,
/// length in feet, pipe size in inches.
pub(super) const CHART: [(&str, &str, &str); 13] = [
    ("1", "300_ft", "1/2"),
    ("5", "300_ft", "1/2"),
    ("10", "75_ft", "1/2"),
    ("10", "100_ft", "3/4"),
    ("15", "50_ft", "3/4"),
    ("25", "25_ft", "3/4"),
    ("25", "150_ft", "3/4"),
    ("25", "200_ft", "1"),
    ("35", "75_ft", "1"),
    ("50", "25_ft", "1"),
    ("60", "150_ft", "1-1/4"),
    ("80", "25_ft", "1-1/4"),
    ("100", "300_ft", "1-1/2"),
];
