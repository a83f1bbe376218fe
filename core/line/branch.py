"""What the branch circuit of a drive rests on, and its voltage drop, whatever the wiring rules."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from core.line.feed import Feed
from core.line.figures import Rule, Workbench
from core.model import Cable, DriveType, Station

DISPLACEMENT = 0.95
"""Displacement power factor of a rectifier's fundamental, for the drop: common practice."""


@dataclass(frozen=True, slots=True)
class Branch:
    """What the circuit of one station rests on; None where it is not entered."""

    station: Station
    drive_type: DriveType | None
    feed: Feed | None
    cable: Cable

    @property
    def phases(self) -> int:
        """Phases that it is fed with."""
        return self.feed.phases if self.feed is not None else 1

    @property
    def loaded(self) -> int:
        """Loaded conductors of the circuit."""
        return 3 if self.phases == 3 else 2


def add_drop(
    bench: Workbench,
    branch: Branch,
    current: float | None,
    rule: Rule,
    dropped: Callable[..., float],
    *,
    also: Mapping[str, str] | None = None,
    assumed: str = "",
) -> None:
    """Put the voltage drop on the bench.

    Parameters
    ----------
    bench : Workbench
        Keeps the figure.
    branch : Branch
        The circuit.
    current : float or None
        Its current [A].
    rule : Rule
        What the figure is under the wiring rules.
    dropped : callable
        Gives the drop as a share of the voltage, from ``current_a``, ``length_m``, ``area_m2`` and
        ``voltage_v``.
    also : mapping
        What else it rests on, in words.
    assumed : str
        What is assumed, if anything is.
    """
    bench.figure(
        rule,
        dropped,
        {
            "current_a": current,
            "length_m": branch.cable.length_m,
            "area_m2": branch.cable.conductor_m2,
            "voltage_v": branch.feed.voltage_v if branch.feed else None,
        },
        also={
            "phases": branch.phases,
            "displacement_power_factor": DISPLACEMENT,
            **(also or {}),
        },
        assumed=assumed,
    )
