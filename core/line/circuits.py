"""The branch circuit that feeds a drive: current, conductor, protection, earth and voltage drop.

By the wiring rules of the line, NEC or IEC. What a rule needs and nobody entered is lacking; an
estimate says what it rests on. Results are aids: local code and a licensed person decide.
"""

from collections.abc import Callable

from core.calc import drive_input, motor_current
from core.calc.nec_sizes import size_of_area
from core.errors import RangeError
from core.line import circuit_rules as rules
from core.line.branch import Branch
from core.line.feed import feed_of
from core.line.figures import Workbench
from core.line.iec_circuit import add_iec_circuit
from core.line.nec_circuit import add_nec_circuit
from core.model import Cable, DriveType, Station, Supply

_CONVERTER_EFFICIENCY = 0.95
"""Efficiency of a small drive where its input current has to be estimated: common practice."""
_BY_RULES: dict[str, Callable[[Workbench, Branch, float | None], None]] = {
    "nec": add_nec_circuit,
    "iec": add_iec_circuit,
}


def add_circuit(
    bench: Workbench,
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None,
    wiring_rules: str,
) -> None:
    """Put the figures of a station's branch circuit on the bench."""
    feed = feed_of(supply, station.drive.supply_lines)
    branch = Branch(station, drive_type, feed, station.cable("power_in") or Cable())
    _running_current(bench, station)
    current = _input_current(bench, branch)
    _BY_RULES[wiring_rules](bench, branch, current)


def _running_current(bench: Workbench, station: Station) -> None:
    plates = station.motors
    load = station.drivetrain.load_fraction
    inputs: dict[str, float | None] = {"load_fraction": load}
    for number, plate in enumerate(plates, start=1):
        inputs[f"rated_current_of_motor_{number}_a"] = plate.current_a
        inputs[f"power_factor_of_motor_{number}"] = plate.power_factor

    def total(**given: float) -> float:
        return sum(
            motor_current.current_at_load_a(
                given[f"rated_current_of_motor_{number}_a"],
                given[f"power_factor_of_motor_{number}"],
                given["load_fraction"],
            )
            for number in range(1, len(plates) + 1)
        )

    bench.figure(rules.RUNNING_CURRENT, total, inputs, assumed="rated flux at every frequency")


def _input_current(bench: Workbench, branch: Branch) -> float | None:
    kind, feed = branch.drive_type, branch.feed
    rated = None
    if kind is not None and feed is not None:
        rated = kind.input_current_1ph_a if feed.phases == 1 else kind.input_current_3ph_a
    if rated is not None:
        return bench.figure(
            rules.INPUT_CURRENT, lambda rated_input_a: rated_input_a, {"rated_input_a": rated}
        )
    plate = branch.station.motors[0] if branch.station.motors else None
    choke = bool(kind and kind.line_choke)
    factor = drive_input.assumed_power_factor(feed.phases, choke=choke) if feed else None
    return bench.figure(
        rules.INPUT_CURRENT_ESTIMATE,
        drive_input.needed_input_a,
        {
            "shaft_power_w": plate.power_w if plate else None,
            "motor_efficiency": plate.efficiency if plate else None,
            "drive_efficiency": _CONVERTER_EFFICIENCY,
            "voltage_v": feed.voltage_v if feed else None,
            "true_power_factor": factor.value if factor else None,
            "phases": feed.phases if feed else None,
        },
        key=rules.INPUT_CURRENT.key,
        assumed=f"rated input current not entered; {factor.reason if factor else 'no feed'}",
    )


def trade_size(area_m2: float) -> str:
    """The trade name of an area under NEC rules; empty where it has none."""
    try:
        return size_of_area(area_m2).name
    except RangeError:
        return ""
