"""Results as plain data for other programs, and as text for a terminal."""

import dataclasses
from collections.abc import Mapping
from typing import Any

from core.line.figures import Figure
from core.line.results import LineResults
from core.line.service import enclosure_heats, supply_loads
from core.line.station import StationResult
from core.line.wiring import wire_line
from core.units import System, show_computed

FORMAT_NAME = "linebook-results-1"


def results_as_data(results: LineResults) -> dict[str, Any]:
    """Every computed figure of stations, supplies and enclosures, in SI, the unit in each key.

    The keys are those of docs/command-line.md and stay as they are.
    """
    return {
        "format": FORMAT_NAME,
        "line": results.line.name,
        "stations": [
            _station(entry, results.figures(entry.station.id)) for entry in results.stations
        ],
        "supplies": [_shared(load.supply.name, load.figures) for load in supply_loads(results)],
        "enclosures": [
            _shared(heat.enclosure.name, heat.figures) for heat in enclosure_heats(results)
        ],
        "conductors": len(wire_line(results.line).conductors),
    }


def _station(result: StationResult, figures: Mapping[str, Figure]) -> dict[str, Any]:
    return {
        "tag": result.tag,
        "name": result.station.name,
        "state": result.state,
        **_figures(figures),
        "reference_points": [dataclasses.asdict(point) for point in result.points],
        "still_needed": [lack.text for lack in result.lacks],
    }


def _shared(name: str, figures: Mapping[str, Figure]) -> dict[str, Any]:
    return {"name": name, **_figures(figures)}


def _figures(figures: Mapping[str, Figure]) -> dict[str, Any]:
    return {
        "figures": {key: figure.value for key, figure in figures.items()},
        "workings": {key: working_as_data(figure) for key, figure in figures.items()},
    }


def working_as_data(figure: Figure) -> dict[str, Any]:
    """How one figure came about."""
    return {
        "formula": figure.formula,
        "given": {given.name: given.value for given in figure.given},
        "source": figure.source,
        "assumed": figure.assumed,
        "lacking": list(figure.lacks),
        "problem": figure.problem,
    }


def results_as_text(results: LineResults) -> str:
    """A table of the stations for a terminal, in the units of the line."""
    system = results.line.unit_system
    rows = [("Tag", "Name", "State", "Hz set", "Speed set", "Hz wanted", "Reference")]
    for entry in results.stations:
        wanted = results.plan.entry(entry.station.id).wanted
        rows.append(
            (
                entry.tag,
                entry.station.name[:34],
                entry.state,
                _shown(entry.figures, "frequency_now_hz", system),
                _shown(entry.figures, "surface_speed_now_m_s", system),
                _shown(wanted, "frequency_wanted_hz", system),
                _shown(wanted, "reference_wanted_share", system),
            )
        )
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = [
        "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    for entry in results.stations:
        lines += [f"{entry.tag} still needs: {lack.text}" for lack in entry.lacks]
    return "\n".join(lines)


def _shown(figures: Mapping[str, Figure], key: str, system: System) -> str:
    figure = figures.get(key)
    if figure is None or figure.value is None:
        return "-"
    return str(show_computed(figure.value, figure.kind, system)) + (
        "~" if figure.is_estimate else ""
    )
