"""Lines whose branch circuits have every entry, by IEC and by NEC rules; values are invented."""

from dataclasses import replace
from typing import Any

from core.model import Line
from core.units import gauge_area
from tests.core.sheets import lines

WARM_K = 303.15
"""30 °C, for which the tables of both rule sets are made."""
AWG_12 = gauge_area(12)


def iec_line(count: int = 1, **supply: Any) -> Line:
    """Drives of 9 A each on a 16 A breaker, in 1.5 mm² PVC on a wall, on a 230 V supply."""
    cable = {"insulation": "pvc", "method": "C", "ambient_k": WARM_K, "company": 1}
    return _line(count, "iec", cable, {}, supply)


def nec_line(count: int = 1, **supply: Any) -> Line:
    """The same drives on L1 and L2 of a 120/240 V service, in 12 AWG of 90 °C in PVC conduit."""
    sizes = {"conductor_m2": AWG_12, "earth_m2": AWG_12}
    cable = {"insulation": "90", "method": "pvc", "ambient_k": WARM_K, "company": 3, **sizes}
    fed = {"supply_lines": "L1 L2", "protection_a": 15.0}
    return _line(
        count, "nec", cable, fed, {"kind": "split_120_240", "frequency_hz": 60.0, **supply}
    )


def _line(
    count: int, rules: str, cable: dict[str, Any], fed: dict[str, Any], supply: dict[str, Any]
) -> Line:
    base = lines.line(count, wiring_rules=rules)
    stations = tuple(
        replace(
            entry,
            drive=replace(entry.drive, protection_kind="breaker", **fed),
            cables=(replace(entry.cables[0], **cable), *entry.cables[1:]),
        )
        for entry in base.stations[:count]
    )
    given = {"rcd_type": "none", "demand": 1.0, "service_rating_a": 100.0, **supply}
    return replace(
        base,
        stations=stations,
        supplies=(replace(base.supplies[0], **given),),
        drive_types=(replace(base.drive_types[0], input_current_1ph_a=9.0),),
    )


def changed(line: Line, number: int = 0, **drive: Any) -> Line:
    """The line with other entries at one drive."""
    entry = line.stations[number]
    return _with(line, number, replace(entry, drive=replace(entry.drive, **drive)))


def with_power_cable(line: Line, number: int = 0, **cable: Any) -> Line:
    """The line with another power cable at one station."""
    entry = line.stations[number]
    cables = (replace(entry.cables[0], **cable), *entry.cables[1:])
    return _with(line, number, replace(entry, cables=cables))


def _with(line: Line, number: int, entry: Any) -> Line:
    stations = (*line.stations[:number], entry, *line.stations[number + 1 :])
    return replace(line, stations=stations)
