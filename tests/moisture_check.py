#!/usr/bin/env python3
"""Holds the moisture that air holds, and how it cools, against another source.

Reads two files that the Rust tests compare with the formulas, and computes each
row with the `psychrolib` package (pip install psychrolib). Both sides are ideal
gases, so how real air differs is not tested here.
* tests/published/moisture_grid.csv: pressures and ratios may differ by 0.01 %,
  the dew point at atmospheric pressure by 0.01 K.
* tests/published/cooling_grid.csv: a fine integration along the pipe; the
  temperature may differ by 0.001 K, the ratio by 0.01 %.
Exit 1 if a figure differs, or if nothing was read.
"""

import csv
import sys
from pathlib import Path

import psychrolib

PUBLISHED = Path(__file__).resolve().parent / "published"
ATMOSPHERE = 101325.0
RELATIVE = 0.0001
KELVIN = {"dew_celsius": 0.01, "leaves_celsius": 0.001}


def saturated(celsius, absolute):
    vapour = psychrolib.GetSatVapPres(celsius)
    return psychrolib.GetHumRatioFromVapPres(vapour, absolute)


def moisture(row):
    celsius, absolute = row["celsius"], row["absolute_pa"]
    vapour = psychrolib.GetSatVapPres(celsius)
    # psychrolib gives no dew point above the temperature that it is given, and
    # that of the thinned vapour is never above it.
    thinned = vapour * ATMOSPHERE / absolute
    return {
        "saturation_pa": vapour,
        "ratio": saturated(celsius, absolute),
        "dew_celsius": psychrolib.GetTDewPointFromVapPres(celsius, thinned),
    }


def heat(celsius, ratio, around, absolute):
    """What each kilogram of dry air gives off for a degree, J."""
    holds = saturated(celsius, absolute)
    heat = 1006 + 1860 * min(ratio, holds)
    if ratio >= holds and celsius > around:
        by = 1e-3
        slope = (saturated(celsius + by, absolute) - saturated(celsius - by, absolute)) / (2 * by)
        latent = 2501000 - 2326 * celsius if celsius >= 0.01 else 2834400 - 240 * celsius
        heat += latent * slope
    return heat


def cooling(row):
    """By midpoints, in equal stretches of 1 m2 of pipe."""
    steps = 20000
    celsius, ratio = row["celsius"], row["ratio"]
    around, absolute = row["around"], row["absolute_pa"]
    stretch = row["loss"] / row["dry_kg_per_s"] / steps
    for _ in range(steps):
        slope = (around - celsius) / heat(celsius, ratio, around, absolute)
        middle = celsius + slope * stretch / 2
        slope = (around - middle) / heat(middle, ratio, around, absolute)
        celsius += slope * stretch
        ratio = min(ratio, saturated(celsius, absolute))
    return {"leaves_celsius": celsius, "leaves_ratio": ratio}


def check(name, theirs):
    """Whether every figure of a file is as the other source has it."""
    faults = []
    worst = {}
    text = (PUBLISHED / name).read_text("utf-8")
    rows = [{key: float(cell) for key, cell in row.items()} for row in csv.DictReader(text.splitlines())]
    for row in rows:
        for column, other in theirs(row).items():
            if column in KELVIN:
                off, limit = abs(row[column] - other), KELVIN[column]
            else:
                off, limit = abs(row[column] / other - 1), RELATIVE
            worst[column] = max(worst.get(column, 0.0), off)
            # Written so that a figure that is no number is a fault.
            if not off <= limit:
                faults.append(f"{name} {row}: psychrolib has {column} {other:.7g}")
    for fault in faults:
        print(fault, file=sys.stderr)
    said = ", ".join(
        f"{off:.6f} K ({column})" if column in KELVIN else f"{100 * off:.5f} % ({column})"
        for column, off in worst.items()
    )
    print(f"psychrolib: {len(rows)} rows of {name}, {len(faults)} figures wrong, worst {said}")
    return bool(rows) and not faults


def main():
    psychrolib.SetUnitSystem(psychrolib.SI)
    sound = [check("moisture_grid.csv", moisture), check("cooling_grid.csv", cooling)]
    return 0 if all(sound) else 1


if __name__ == "__main__":
    sys.exit(main())
