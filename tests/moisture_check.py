#!/usr/bin/env python3
"""Holds the moisture that air holds against another source.

Reads tests/published/moisture_grid.csv, which the Rust tests compare with the
formulas, and computes each row with the `psychrolib` package (pip install
psychrolib): pressures and ratios may differ by 0.1 %, the dew point at
atmospheric pressure by 0.01 K. Both sides are ideal gases, so how real air
differs is not tested here.
Exit 1 if a figure differs, or if nothing was read.
"""

import csv
import sys
from pathlib import Path

import psychrolib

GRID = Path(__file__).resolve().parent / "published" / "moisture_grid.csv"
ATMOSPHERE = 101325.0
RELATIVE = 0.001
KELVIN = 0.01


def main():
    psychrolib.SetUnitSystem(psychrolib.SI)
    faults = []
    worst = {"saturation_pa": 0.0, "ratio": 0.0, "dew_celsius": 0.0}
    rows = list(csv.DictReader(GRID.read_text("utf-8").splitlines()))
    for row in rows:
        celsius = float(row["celsius"])
        absolute = float(row["absolute_pa"])
        vapour = psychrolib.GetSatVapPres(celsius)
        # psychrolib gives no dew point above the temperature that it is given,
        # and that of the thinned vapour is never above it.
        thinned = vapour * ATMOSPHERE / absolute
        theirs = {
            "saturation_pa": vapour,
            "ratio": psychrolib.GetHumRatioFromVapPres(vapour, absolute),
            "dew_celsius": psychrolib.GetTDewPointFromVapPres(celsius, thinned),
        }
        for column, other in theirs.items():
            ours = float(row[column])
            if column == "dew_celsius":
                off, limit = abs(ours - other), KELVIN
            else:
                off, limit = abs(ours / other - 1), RELATIVE
            worst[column] = max(worst[column], off)
            # Written so that a figure that is no number is a fault.
            if not off <= limit:
                faults.append(
                    f"{celsius} C, {absolute} Pa: {column} {ours}, psychrolib has {other:.7g}"
                )
    for fault in faults:
        print(fault, file=sys.stderr)
    print(
        f"psychrolib: {len(rows)} rows, {len(faults)} figures wrong, worst "
        f"{100 * worst['saturation_pa']:.4f} % (pressure), "
        f"{100 * worst['ratio']:.4f} % (ratio), {worst['dew_celsius']:.4f} K (dew point)"
    )
    return 0 if rows and not faults else 1


if __name__ == "__main__":
    sys.exit(main())
