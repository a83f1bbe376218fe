"""Results as plain data for other programs, and as text for a terminal."""

import dataclasses
from typing import Any

from core.line.figures import Figure
from core.line.results import LineResults, StationResult
from core.line.wiring import wire_line
from core.units import System, show_computed

FORMAT_NAME = "linebook-results-1"


def results_as_data(results: LineResults) -> dict[str, Any]:
    """Every computed figure of every station, in SI, the unit in each key.

    The keys are those of docs/command-line.md and stay as they are.
    """
    return {
        "format": FORMAT_NAME,
        "line": results.line.name,
        "stations": [_station(entry) for entry in results.stations],
        "conductors": len(wire_line(results.line).conductors),
    }


def _station(result: StationResult) -> dict[str, Any]:
    return {
        "tag": result.tag,
        "name": result.station.name,
        "state": result.state,
        "figures": {key: figure.value for key, figure in result.figures.items()},
        "workings": {key: _working(figure) for key, figure in result.figures.items()},
        "reference_points": [dataclasses.asdict(point) for point in result.points],
        "still_needed": [lack.text for lack in result.lacks],
    }


def _working(figure: Figure) -> dict[str, Any]:
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
        rows.append(
            (
                entry.tag,
                entry.station.name[:34],
                entry.state,
                _shown(entry, "frequency_now_hz", system),
                _shown(entry, "surface_speed_now_m_s", system),
                _shown(entry, "frequency_wanted_hz", system),
                _shown(entry, "reference_wanted_share", system),
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


def _shown(entry: StationResult, key: str, system: System) -> str:
    figure = entry.figures.get(key)
    if figure is None or figure.value is None:
        return "-"
    return str(show_computed(figure.value, figure.kind, system)) + (
        "~" if figure.is_estimate else ""
    )
