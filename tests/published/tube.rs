//! What stands in print about stainless pipe, copper tube and their joints.

use super::tables::Row;

/// Schedule 40S: outside diameter, wall, inside diameter (in). ASME B36.19M,
/// the walls of Schedule 40.
pub(super) const SCHEDULE_40S: [Row<3>; 11] = [
    ("1/4in", [0.540, 0.088, 0.364]),
    ("3/8in", [0.675, 0.091, 0.493]),
    ("1/2in", [0.840, 0.109, 0.622]),
    ("3/4in", [1.050, 0.113, 0.824]),
    ("1in", [1.315, 0.133, 1.049]),
    ("1-1/4in", [1.660, 0.140, 1.380]),
    ("1-1/2in", [1.900, 0.145, 1.610]),
    ("2in", [2.375, 0.154, 2.067]),
    ("2-1/2in", [2.875, 0.203, 2.469]),
    ("3in", [3.500, 0.216, 3.068]),
    ("4in", [4.500, 0.237, 4.026]),
];

/// Schedule 10S: outside diameter, wall, inside diameter (in). ASME B36.19M as
/// given in a public stainless pipe dimension sheet up to 2 in; above from
/// memory.
pub(super) const SCHEDULE_10S: [Row<3>; 9] = [
    ("1/2in", [0.840, 0.083, 0.674]),
    ("3/4in", [1.050, 0.083, 0.884]),
    ("1in", [1.315, 0.109, 1.097]),
    ("1-1/4in", [1.660, 0.109, 1.442]),
    ("1-1/2in", [1.900, 0.109, 1.682]),
    ("2in", [2.375, 0.109, 2.157]),
    ("2-1/2in", [2.875, 0.120, 2.635]),
    ("3in", [3.500, 0.120, 3.260]),
    ("4in", [4.500, 0.120, 4.260]),
];

/// Mass of Schedule 10S (lb/ft) in the same sheet, which rests on the density
/// of carbon steel: up to 2 % lower than that of stainless.
pub(super) const MASS_10S: [Row<1>; 6] = [
    ("1/2in", [0.68]),
    ("3/4in", [0.87]),
    ("1in", [1.42]),
    ("1-1/4in", [1.82]),
    ("1-1/2in", [2.10]),
    ("2in", [2.66]),
];

/// Type L: outside diameter, wall, inside diameter (in), mass (lb/ft). ASTM
/// B88 as given in public size charts; masses above 1/2 in from memory.
pub(super) const TYPE_L: [Row<4>; 11] = [
    ("1/4in", [0.375, 0.030, 0.315, 0.126]),
    ("3/8in", [0.500, 0.035, 0.430, 0.198]),
    ("1/2in", [0.625, 0.040, 0.545, 0.285]),
    ("3/4in", [0.875, 0.045, 0.785, 0.455]),
    ("1in", [1.125, 0.050, 1.025, 0.655]),
    ("1-1/4in", [1.375, 0.055, 1.265, 0.884]),
    ("1-1/2in", [1.625, 0.060, 1.505, 1.14]),
    ("2in", [2.125, 0.070, 1.985, 1.75]),
    ("2-1/2in", [2.625, 0.080, 2.465, 2.48]),
    ("3in", [3.125, 0.090, 2.945, 3.33]),
    ("4in", [4.125, 0.110, 3.905, 5.38]),
];

/// Type M: outside diameter, wall, inside diameter (in), mass (lb/ft). ASTM
/// B88 as given in public size charts; masses from memory.
pub(super) const TYPE_M: [Row<4>; 10] = [
    ("3/8in", [0.500, 0.025, 0.450, 0.145]),
    ("1/2in", [0.625, 0.028, 0.569, 0.204]),
    ("3/4in", [0.875, 0.032, 0.811, 0.328]),
    ("1in", [1.125, 0.035, 1.055, 0.465]),
    ("1-1/4in", [1.375, 0.042, 1.291, 0.682]),
    ("1-1/2in", [1.625, 0.049, 1.527, 0.940]),
    ("2in", [2.125, 0.058, 2.009, 1.46]),
    ("2-1/2in", [2.625, 0.065, 2.495, 2.03]),
    ("3in", [3.125, 0.072, 2.981, 2.68]),
    ("4in", [4.125, 0.095, 3.935, 4.66]),
];

/// Ratings of type M (psi): annealed at 100, 150 and 200 F, drawn at 100 F.
/// Copper Tube Handbook, Table 14.3c.
pub(super) const RATING_M: [Row<4>; 10] = [
    ("3/8in", [570.0, 485.0, 466.0, 982.0]),
    ("1/2in", [494.0, 420.0, 403.0, 850.0]),
    ("3/4in", [407.0, 346.0, 332.0, 701.0]),
    ("1in", [337.0, 286.0, 275.0, 580.0]),
    ("1-1/4in", [338.0, 287.0, 276.0, 582.0]),
    ("1-1/2in", [331.0, 282.0, 270.0, 569.0]),
    ("2in", [299.0, 254.0, 244.0, 514.0]),
    ("2-1/2in", [274.0, 233.0, 224.0, 471.0]),
    ("3in", [253.0, 215.0, 207.0, 435.0]),
    ("4in", [251.0, 213.0, 205.0, 431.0]),
];

/// Cup depth (in), 1/8 in solder wire for a joint (in), solder for 100 joints
/// (lb), all at 0.010 in clearance. Copper Tube Handbook, Table 14.10.
pub(super) const SOLDER: [Row<3>; 11] = [
    ("1/4in", [0.31, 0.298, 0.097]),
    ("3/8in", [0.38, 0.486, 0.159]),
    ("1/2in", [0.50, 0.800, 0.261]),
    ("3/4in", [0.75, 1.680, 0.548]),
    ("1in", [0.91, 2.621, 0.856]),
    ("1-1/4in", [0.97, 3.415, 1.115]),
    ("1-1/2in", [1.09, 4.535, 1.480]),
    ("2in", [1.34, 7.291, 2.380]),
    ("2-1/2in", [1.47, 9.892, 3.225]),
    ("3in", [1.66, 13.282, 4.335]),
    ("4in", [2.16, 22.813, 7.446]),
];

/// Level spacing of copper tube in feet: MSS SP-69, water column, as given in
/// ASHRAE Fundamentals 2021 (1-1/4 in from memory), and IMC Table 305.4.
pub(super) const COPPER_SPACING: [(&str, [i64; 2]); 9] = [
    ("1/2in", [5, 6]),
    ("3/4in", [5, 6]),
    ("1in", [6, 6]),
    ("1-1/4in", [7, 6]),
    ("1-1/2in", [8, 10]),
    ("2in", [8, 10]),
    ("2-1/2in", [9, 10]),
    ("3in", [10, 10]),
    ("4in", [12, 10]),
];

/// Level spacing of steel pipe full of water in feet. MSS SP-69 as given in
/// ASHRAE Fundamentals 2021; 1-1/4 in from memory.
pub(super) const WATER_SPACING: [(&str, i64); 9] = [
    ("1/2in", 7),
    ("3/4in", 7),
    ("1in", 7),
    ("1-1/4in", 7),
    ("1-1/2in", 9),
    ("2in", 10),
    ("2-1/2in", 11),
    ("3in", 12),
    ("4in", 14),
];

/// Growth of 100 ft by 100 F, in inches. A public engineering reference table
/// of linear expansion.
pub(super) const GROWTH: [(&str, f64); 9] = [
    ("black-iron", 0.78),
    ("galvanised", 0.78),
    ("copper-l-soldered", 1.116),
    ("copper-l-brazed", 1.116),
    ("copper-l-pressed", 1.116),
    ("copper-m-soldered", 1.116),
    ("stainless-40s-threaded", 1.188),
    ("stainless-10s-pressed", 1.188),
    ("aluminium-push-fit", 1.536),
];
