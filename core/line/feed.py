"""What a supply gives between the lines that a drive is fed from."""

from dataclasses import dataclass

from core.model import Supply

# Nominal voltage between lines, and from line to neutral where there is one, by kind of supply
# (IEC 60038 for 230/400 V, ANSI C84.1 for the others).
_VOLTAGES: dict[str, tuple[dict[str, float], str]] = {
    "1ph_120": ({"L1 N": 120.0}, "single"),
    "1ph_240": ({"L1 L2": 240.0}, "single"),
    "split_120_240": ({"L1 L2": 240.0, "L1 N": 120.0, "L2 N": 120.0}, "split"),
    "1ph_230": ({"L1 N": 230.0}, "single"),
    "3ph_208y_120": ({"": 208.0, "N": 120.0}, "wye"),
    "3ph_240d": ({"": 240.0}, "delta"),
    "3ph_400y_230": ({"": 400.0, "N": 230.0}, "wye"),
    "3ph_480y_277": ({"": 480.0, "N": 277.0}, "wye"),
}


@dataclass(frozen=True, slots=True)
class Feed:
    """The lines a drive is fed from: voltage between them, number of phases, kind of service."""

    lines: str
    voltage_v: float
    phases: int
    service: str

    @property
    def to_neutral(self) -> bool:
        """Whether one of the conductors is the neutral."""
        return self.lines.endswith("N")


def feed_of(supply: Supply | None, lines: str | None) -> Feed | None:
    """The feed of a drive; None where supply or lines are not entered, or do not fit each other."""
    if supply is None or supply.kind is None or not lines:
        return None
    voltages, service = _VOLTAGES[supply.kind]
    if service in ("single", "split"):
        found = voltages.get(lines)
    else:
        found = voltages.get("N" if lines.endswith("N") else "")
    if found is None:
        return None
    return Feed(lines, found, 3 if lines == "L1 L2 L3" else 1, service)
