#!/usr/bin/env python3
"""Holds the bores of the steel and stainless systems against another source.

The `fluids` package (pip install fluids) has the ASME B36.10M and B36.19M
dimensions in rounded millimetres, so the bores may differ by 0.5 %.
Copper, brass and aluminium have no table there.
Exit 1 if a bore differs, if a size is unknown there, or if nothing was read.
"""

import sys
import tomllib
from fractions import Fraction
from pathlib import Path

from fluids.piping import nearest_pipe

SYSTEMS = Path(__file__).resolve().parent.parent / "bom" / "data" / "systems"
SCHEDULES = {
    "black-iron": "40",
    "galvanised": "40",
    "stainless-40s-threaded": "40S",
    "stainless-10s-pressed": "10S",
}
TOLERANCE = 0.005


def inches(text):
    """The number of a length or a size in inches: 0.54in, 1-1/4in."""
    number = text.removesuffix("in")
    if number == text:
        raise ValueError(f"{text} is not in inches")
    return float(sum(Fraction(part) for part in number.split("-")))


def main():
    faults = []
    worst = (0.0, "")
    checked = 0
    for name, schedule in SCHEDULES.items():
        system = tomllib.loads((SYSTEMS / f"{name}.toml").read_text("utf-8"))
        for pipe in system["pipe"]:
            where = f"{name} {pipe['size']}"
            bore = inches(pipe["outside"]) - 2 * inches(pipe["wall"])
            try:
                _, inside, _, _ = nearest_pipe(NPS=inches(pipe["size"]), schedule=schedule)
            except ValueError as error:
                faults.append(f"{where}: {error}")
                continue
            other = inside / 0.0254
            off = abs(bore - other) / other
            worst = max(worst, (off, where))
            checked += 1
            if off > TOLERANCE:
                faults.append(f"{where}: bore {bore:.4f} in, fluids has {other:.4f} in")
    for fault in faults:
        print(fault, file=sys.stderr)
    print(
        f"fluids: {checked} bores of {len(SCHEDULES)} systems, "
        f"{len(faults)} wrong, worst {100 * worst[0]:.2f} % ({worst[1]})"
    )
    return 0 if checked and not faults else 1


if __name__ == "__main__":
    sys.exit(main())
