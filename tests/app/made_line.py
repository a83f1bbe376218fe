"""A small line for the tests of the pages: four stations, two drive types."""

import functools
import tempfile
from pathlib import Path

from core.store import LineFile
from core.units import parse_quantity

# Code, meaning, unit, minimum, maximum, factory value, choices.
LISTED = (
    ("hz-max", "Maximum frequency", "Hz", "0", "120", "60", ""),
    ("hz-min", "Minimum frequency", "Hz", "0", "60", "0", ""),
    ("ramp-up", "Acceleration time", "s", "0.1", "600", "10", ""),
    ("ref-from", "Where the speed reference comes from", "", "", "", "0", "0=Keypad;1=Input"),
)
HP_W = parse_quantity("1 hp", "power", "us")


def make_book(path, stations=4):
    """A file with ``stations`` stations; every second one has the longer list of settings."""
    path.write_bytes(_content(stations))
    return LineFile.open(path)


@functools.cache
def _content(stations):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "made.linebook"
        _fill(path, stations).close()
        return path.read_bytes()


def _fill(path, stations):
    book = LineFile.create(path, name="Test line", unit_system="us", wiring_rules="nec")
    with book.step("Prepare") as step:
        step.add("supply", name="Shed", kind="split_120_240")
        step.add("supply", name="Office")
        types = [step.add("drive_type", name=name) for name in ("Small drive", "Large drive")]
        for drive_type in types:
            step.add("terminal", drive_type, designation="X1:1", role="reference_in")
            step.add("terminal", drive_type, designation="X1:2", role="reference_common")
            for code, meaning, unit, low, high, factory, options in LISTED:
                step.add(
                    "listed_setting",
                    drive_type,
                    code=code,
                    meaning=meaning,
                    unit=unit,
                    minimum=low,
                    maximum=high,
                    factory=factory,
                    options=options,
                )
        step.add("listed_setting", types[1], code="jog-hz", meaning="Jog frequency", unit="Hz")
        for number in range(1, stations + 1):
            station = step.add("station", tag=f"A{number:02d}", name=f"Station {number}")
            step.add("motor", station, power_w=HP_W * number, power_typed=f"{number} hp")
    with book.step("Choose drives") as step:
        for place, station in enumerate(book.line.stations):
            step.set("drive", station.drive.id, drive_type_id=types[place % 2])
            step.add("setting", station.drive.id, code="hz-max", shown="60", value=60.0)
    return book
