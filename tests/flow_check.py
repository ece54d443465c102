#!/usr/bin/env python3
"""Holds pressures and flows of circuits against other solvers.

Reads tests/published/flow_edges.csv and flow_nodes.csv, which the Rust tests
compare with the solver. Of every pipe the friction factor and the isothermal
flow are worked out with the `fluids` package (pip install fluids scipy): the
drop may differ by 0.3 %. Every circuit with rings or several sources is solved
again by `scipy.optimize.fsolve` on the balance of its nodes, each edge's flow
found from the pressures at its ends: flows may differ by 0.01 % of the largest,
drops by 0.1 %.
Exit 1 if a figure differs, or if nothing was read.
"""

import csv
import sys
from math import log, pi
from pathlib import Path

from fluids.compressible import isothermal_gas
from fluids.friction import friction_factor
from scipy.optimize import brentq, fsolve

FOLDER = Path(__file__).resolve().parent / "published"
GAS, KELVIN = 287.05, 293.15
VISCOSITY = 1.716e-5 * (KELVIN / 273.15) ** 1.5 * (273.15 + 110.4) / (KELVIN + 110.4)
DROP_OF_PIPE, FLOW, DROP = 0.003, 1e-4, 1e-3


def read(name):
    circuits = {}
    for row in csv.DictReader((FOLDER / name).read_text("utf-8").splitlines()):
        circuit = circuits.setdefault(row.pop("circuit"), [])
        circuit.append({key: float(value) if value else None for key, value in row.items()})
    return circuits


def loss(edge, flow, high, low):
    """p1^2 - p2^2 that this flow loses between these pressures."""
    if edge["bore_mm"] == 0:
        return edge["r"] * flow**2
    bore = edge["bore_mm"] / 1e3
    area = pi / 4 * bore**2
    reynolds = flow * bore / (area * VISCOSITY)
    factor = friction_factor(Re=max(reynolds, 1e-6), eD=edge["roughness_mm"] / edge["bore_mm"])
    resistance = factor * edge["length_m"] / bore + edge["k"] + 2 * log(high / low)
    return resistance * flow**2 * GAS * KELVIN / area**2


def flow_between(edge, first, second):
    """The flow from the first end to the second, by their pressures."""
    if first == second:
        return 0.0
    high, low = max(first, second), min(first, second)
    found = brentq(
        lambda flow: loss(edge, flow, high, low) - (high**2 - low**2), 0, 10, xtol=1e-15, rtol=1e-13
    )
    return found if first > second else -found


def solved(edges, nodes):
    """Pressures by the balance of the nodes, begun a little off a flat start."""
    unknown = [place for place, node in enumerate(nodes) if node["source_pa"] is None]
    held = max(node["source_pa"] or 0 for node in nodes)

    def pressures(drops):
        found = [node["source_pa"] for node in nodes]
        for place, drop in zip(unknown, drops):
            found[place] = held - 1e3 * drop
        return found

    def misses(drops):
        at = pressures(drops)
        missing = [-(node["draw_kg_per_s"] or 0) for node in nodes]
        for edge in edges:
            first, second = int(edge["from"]), int(edge["to"])
            flow = flow_between(edge, at[first], at[second])
            missing[first] -= flow
            missing[second] += flow
        return [missing[place] for place in unknown]

    start = [5.0 + 0.37 * place for place in range(len(unknown))]
    found, details, good, why = fsolve(misses, start, xtol=1e-13, full_output=True)
    worst = max(abs(miss) for miss in misses(found))
    if worst > 1e-8:
        raise ValueError(f"fsolve is {worst:.1e} kg/s out of balance: {why}")
    return pressures(found)


def main():
    faults = []
    worst = {"drop of pipe": 0.0, "flow": 0.0, "drop": 0.0}
    edges_of, nodes_of = read("flow_edges.csv"), read("flow_nodes.csv")

    def hold(kind, name, ours, theirs, scale, limit):
        off = abs(ours - theirs) / abs(scale)
        worst[kind] = max(worst[kind], off)
        # Written so that a figure that is no number is a fault.
        if not off <= limit:
            faults.append(f"{name}: {kind} {ours:.8g}, the other has {theirs:.8g}")

    pipes = circuits = 0
    for name, edges in edges_of.items():
        nodes = nodes_of[name]
        for edge in edges:
            flow = abs(edge["kg_per_s"])
            first, second = nodes[int(edge["from"])]["pa"], nodes[int(edge["to"])]["pa"]
            high, low = max(first, second), min(first, second)
            # A drop of few pascals is beyond the figures of the file.
            if edge["bore_mm"] == 0 or high - low < 1:
                continue
            bore = edge["bore_mm"] / 1e3
            reynolds = 4 * flow / (pi * bore * VISCOSITY)
            factor = friction_factor(Re=reynolds, eD=edge["roughness_mm"] / edge["bore_mm"])
            # Fittings are length to this function.
            length = edge["length_m"] + edge["k"] * bore / factor
            outlet = isothermal_gas(
                rho=high / (GAS * KELVIN), fd=factor, P1=high, L=length, D=bore, m=flow
            )
            hold("drop of pipe", f"{name} {edge['edge']:.0f}", high - low, high - outlet, high - outlet, DROP_OF_PIPE)
            pipes += 1
        if len(edges) < len(nodes):
            continue
        circuits += 1
        try:
            at = solved(edges, nodes)
        except ValueError as error:
            faults.append(f"{name}: {error}")
            continue
        held = max(at)
        most = max(abs(edge["kg_per_s"]) for edge in edges)
        for edge in edges:
            theirs = flow_between(edge, at[int(edge["from"])], at[int(edge["to"])])
            hold("flow", f"{name} {edge['edge']:.0f}", edge["kg_per_s"], theirs, most, FLOW)
        for place, node in enumerate(nodes):
            if node["source_pa"] is None:
                hold("drop", f"{name} at {place}", held - node["pa"], held - at[place], held - at[place], DROP)
    for fault in faults:
        print(fault, file=sys.stderr)
    print(
        f"fluids, scipy: {pipes} pipes, {circuits} circuits, {len(faults)} figures wrong, worst "
        + ", ".join(f"{100 * off:.4f} % ({kind})" for kind, off in worst.items())
    )
    return 0 if pipes and circuits and not faults else 1


if __name__ == "__main__":
    sys.exit(main())
