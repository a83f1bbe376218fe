"""The branch circuit that feeds a drive: current, conductor, protection, earth and voltage drop.

By the wiring rules of the line, NEC or IEC. What a rule needs and nobody entered is lacking; an
estimate says what it rests on. Results are aids: local code and a licensed person decide.
"""

from collections.abc import Callable
from dataclasses import dataclass

from core.calc import (
    drive_input,
    iec_conductors,
    iec_devices,
    iec_earthing,
    iec_impedance,
    motor_current,
    nec_conductors,
    nec_devices,
    nec_earthing,
    nec_impedance,
    nec_motors,
    voltage_drop,
)
from core.calc.nec_sizes import size_of_area
from core.errors import RangeError
from core.line import circuit_rules as rules
from core.line.feed import Feed, feed_of
from core.line.figures import Rule, Workbench
from core.model import Cable, DriveType, Station, Supply

_CONVERTER_EFFICIENCY = 0.95
"""Efficiency of a small drive where its input current has to be estimated: common practice."""
_DISPLACEMENT = 0.95
"""Displacement power factor of a rectifier's fundamental, for the drop: common practice."""
_NEC_DEVICES = {"delay_fuse": "delay_fuse", "plain_fuse": "plain_fuse"}


@dataclass(frozen=True, slots=True)
class Branch:
    """What the circuit of one station rests on; None where it is not entered."""

    station: Station
    drive_type: DriveType | None
    feed: Feed | None
    cable: Cable

    @property
    def loaded(self) -> int:
        """Loaded conductors of the circuit."""
        return 3 if self.feed is not None and self.feed.phases == 3 else 2


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


# --- NEC ------------------------------------------------------------------------------------


def _nec(bench: Workbench, branch: Branch, current: float | None) -> None:
    cable, drive, kind = branch.cable, branch.station.drive, branch.drive_type
    design = bench.figure(
        rules.NEC_DESIGN, nec_motors.drive_supply_current_a, {"rated_input_current_a": current}
    )
    marked = float(kind.terminals_for) + 273.15 if kind and kind.terminals_for else None
    laid: dict[str, float | None] = {
        "insulation_k": _nec_insulation_k(cable),
        "ambient_k": cable.ambient_k,
        "conductors": cable.company,
    }
    terminals = "" if marked else "terminals not marked: 60 °C up to 100 A, 110.14(C)"

    def smallest(
        design_a: float, insulation_k: float, ambient_k: float, conductors: float
    ) -> float:
        return nec_conductors.conductor_for_current(
            design_a, insulation_k, ambient_k, int(conductors), marked
        ).size.area_m2

    def carried(
        design_a: float, area_m2: float, insulation_k: float, ambient_k: float, conductors: float
    ) -> float:
        terminal_k = nec_conductors.terminal_rating_k(design_a, marked)
        return nec_conductors.allowed_current(
            area_m2, insulation_k, ambient_k, int(conductors), terminal_k
        ).allowed_a

    needed = bench.figure(
        rules.NEC_CONDUCTOR, smallest, {"design_a": design, **laid}, assumed=terminals
    )
    bench.figure(
        rules.NEC_ALLOWED,
        carried,
        {"design_a": design, "area_m2": cable.conductor_m2, **laid},
        assumed=terminals,
    )
    _nec_device(bench, branch, current)
    bench.figure(
        rules.NEC_EARTH,
        lambda protection_a, line_m2, sufficient_m2: (
            nec_earthing.earth_conductor(
                protection_a, line_m2, min(sufficient_m2, line_m2)
            ).size.area_m2
        ),
        {
            "protection_a": drive.protection_a,
            "line_m2": cable.conductor_m2,
            "sufficient_m2": needed,
        },
    )
    raceway = cable.method if cable.method in nec_impedance.RACEWAYS else None
    _drop(
        bench,
        branch,
        current,
        rules.NEC_DROP,
        lambda area_m2: _nec_ohm_m(area_m2, raceway or "pvc"),
        "" if raceway else "PVC conduit, as the raceway was not entered",
    )


def _nec_insulation_k(cable: Cable) -> float | None:
    celsius = {"60": 60.0, "75": 75.0, "90": 90.0, "xlpe": 90.0}.get(cable.insulation or "")
    return None if celsius is None else celsius + 273.15


def _nec_ohm_m(area_m2: float, raceway: str) -> float:
    found = nec_impedance.impedance(area_m2, raceway)
    return voltage_drop.drop_impedance_ohm_m(
        found.resistance_ohm_m, found.reactance_ohm_m, _DISPLACEMENT
    )


def _nec_device(bench: Workbench, branch: Branch, current: float | None) -> None:
    kind, plates = branch.drive_type, branch.station.motors
    marked = kind.protection_max_a if kind else None
    device = _NEC_DEVICES.get(branch.station.drive.protection_kind or "", "breaker")

    def highest(rated_input_a: float, **plate: float) -> float:
        table = nec_motors.motor_table_current(plate["power_w"], plate["voltage_v"], 3)
        return nec_devices.drive_device(table.current_a, rated_input_a, device, marked).rating_a

    bench.figure(
        rules.NEC_DEVICE,
        highest,
        {
            "rated_input_a": current,
            "power_w": plates[0].power_w if plates else None,
            "voltage_v": plates[0].voltage_v if plates else None,
        },
        also={"marked_maximum_a": marked} if marked else None,
        assumed="" if branch.station.drive.protection_kind else "an inverse-time breaker",
    )


# --- IEC ------------------------------------------------------------------------------------


def _iec(bench: Workbench, branch: Branch, current: float | None) -> None:
    cable, drive = branch.cable, branch.station.drive
    device = "fuse" if drive.protection_kind == "fuse" else "breaker"
    design = bench.figure(
        rules.IEC_DESIGN, lambda rated_input_a: rated_input_a, {"rated_input_a": current}
    )
    bench.figure(
        rules.IEC_DEVICE,
        lambda design_a: iec_devices.device_rating_a(design_a, device),
        {"design_a": design},
    )
    insulation = {"pvc": "PVC", "xlpe": "XLPE"}.get(cable.insulation or "")
    method = cable.method if cable.method in iec_conductors.METHODS else None
    words = {"insulation": insulation, "method": method}
    lacking = {name: None for name, word in words.items() if word is None}
    laid: dict[str, float | None] = {
        "ambient_k": cable.ambient_k,
        "circuits": cable.company,
        **lacking,
    }

    def carried(area_m2: float, ambient_k: float, circuits: float) -> float:
        return iec_conductors.cable_current(
            area_m2, insulation or "", branch.loaded, method or "", ambient_k, int(circuits), _BUNCH
        ).allowed_a

    def smallest(protection_a: float, ambient_k: float, circuits: float) -> float:
        least = iec_devices.conductor_current_a(protection_a, device)
        return iec_conductors.conductor_for_device(
            least, insulation or "", branch.loaded, method or "", ambient_k, int(circuits), _BUNCH
        ).area_m2

    bench.figure(rules.IEC_ALLOWED, carried, {"area_m2": cable.conductor_m2, **laid})
    bench.figure(rules.IEC_CONDUCTOR, smallest, {"protection_a": drive.protection_a, **laid})
    leakage = branch.drive_type.leakage_a if branch.drive_type else None
    bench.figure(
        rules.IEC_EARTH,
        lambda line_m2: iec_earthing.earth_area(line_m2, leakage, False, False).needed_m2,
        {"line_m2": cable.conductor_m2},
        also={"leakage_signal_a": leakage} if leakage else None,
        assumed="" if leakage else "leakage below 10 mA, as it was not entered",
    )
    feed = branch.feed

    def dropped(current_a: float, length_m: float, area_m2: float, voltage_v: float) -> float:
        return iec_impedance.annex_g_drop(
            current_a, length_m, area_m2, _DISPLACEMENT, voltage_v, feed.phases if feed else 1
        ).share

    _drop_figure(bench, branch, current, rules.IEC_DROP, dropped, "")


_BUNCH = "bunched"


def _drop(
    bench: Workbench,
    branch: Branch,
    current: float | None,
    rule: Rule,
    ohm_m: Callable[[float], float],
    assumed: str,
) -> None:
    feed = branch.feed

    def dropped(current_a: float, length_m: float, area_m2: float, voltage_v: float) -> float:
        return voltage_drop.voltage_drop(
            current_a, length_m, ohm_m(area_m2), voltage_v, feed.phases if feed else 1
        ).share

    _drop_figure(bench, branch, current, rule, dropped, assumed)


def _drop_figure(
    bench: Workbench,
    branch: Branch,
    current: float | None,
    rule: Rule,
    dropped: Callable[[float, float, float, float], float],
    assumed: str,
) -> None:
    bench.figure(
        rule,
        dropped,
        {
            "current_a": current,
            "length_m": branch.cable.length_m,
            "area_m2": branch.cable.conductor_m2,
            "voltage_v": branch.feed.voltage_v if branch.feed else None,
        },
        also={"displacement_power_factor": _DISPLACEMENT},
        assumed=assumed,
    )


_BY_RULES: dict[str, Callable[[Workbench, Branch, float | None], None]] = {
    "nec": _nec,
    "iec": _iec,
}


def trade_size(area_m2: float) -> str:
    """The trade name of an area under NEC rules; empty where it has none."""
    try:
        return size_of_area(area_m2).name
    except RangeError:
        return ""
