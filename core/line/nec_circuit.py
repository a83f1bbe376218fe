"""The branch circuit of a drive under the NEC: conductor, protection, earth, voltage drop."""

from core.calc import (
    nec_conductors,
    nec_devices,
    nec_earthing,
    nec_impedance,
    nec_motors,
    voltage_drop,
)
from core.line import circuit_rules as rules
from core.line.branch import DISPLACEMENT, Branch, add_drop
from core.line.figures import Workbench

_DEVICES = {"delay_fuse": "delay_fuse", "plain_fuse": "plain_fuse"}
_DEVICE_WORDS = {
    "breaker": "inverse-time breaker",
    "delay_fuse": "fuse with time delay",
    "plain_fuse": "fuse without time delay",
}
_RACEWAY_WORDS = {"pvc": "PVC conduit", "aluminium": "aluminium conduit", "steel": "steel conduit"}
_INSULATIONS_C = {"60": 60.0, "75": 75.0, "90": 90.0, "xlpe": 90.0}


def add_nec_circuit(bench: Workbench, branch: Branch, current: float | None) -> None:
    """Put the figures of a branch circuit on the bench, by the drive's rated input current [A]."""
    needed = _conductor(bench, branch, current)
    _device(bench, branch, current)
    bench.figure(
        rules.NEC_EARTH,
        lambda protection_a, line_conductor_m2, smallest_line_conductor_m2: (
            nec_earthing.earth_conductor(
                protection_a,
                line_conductor_m2,
                min(smallest_line_conductor_m2, line_conductor_m2),
            ).size.area_m2
        ),
        {
            "protection_a": branch.station.drive.protection_a,
            "line_conductor_m2": branch.cable.conductor_m2,
            "smallest_line_conductor_m2": needed,
        },
    )
    _drop(bench, branch, current)


def insulation_k(insulation: str | None) -> float | None:
    """Temperature rating of an insulation [K]; None where these rules do not know it."""
    celsius = _INSULATIONS_C.get(insulation or "")
    return None if celsius is None else celsius + 273.15


def _conductor(bench: Workbench, branch: Branch, current: float | None) -> float | None:
    cable, kind = branch.cable, branch.drive_type
    design = bench.figure(
        rules.NEC_DESIGN, nec_motors.drive_supply_current_a, {"rated_input_current_a": current}
    )
    marked = float(kind.terminals_for) + 273.15 if kind and kind.terminals_for else None
    laid: dict[str, float | str | None] = {
        "insulation_k": insulation_k(cable.insulation),
        "ambient_k": cable.ambient_k,
        "conductors": cable.company,
    }
    assumed = "" if marked else "terminals not marked: 60 °C up to 100 A, 110.14(C)"
    also = {"terminals_k": marked} if marked else None

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
        rules.NEC_CONDUCTOR, smallest, {"design_a": design, **laid}, also=also, assumed=assumed
    )
    bench.figure(
        rules.NEC_ALLOWED,
        carried,
        {"design_a": design, "area_m2": cable.conductor_m2, **laid},
        also=also,
        assumed=assumed,
    )
    return needed


def _device(bench: Workbench, branch: Branch, current: float | None) -> None:
    kind, plates = branch.drive_type, branch.station.motors
    marked = kind.protection_max_a if kind else None
    entered = branch.station.drive.protection_kind
    device = _DEVICES.get(entered or "", "breaker")
    plate = {
        "power_w": plates[0].power_w if plates else None,
        "voltage_v": plates[0].voltage_v if plates else None,
    }
    also: dict[str, float | str] = {"device": _DEVICE_WORDS[device]}
    assumed = "" if entered else "an inverse-time breaker"

    def by_table(power_w: float, voltage_v: float) -> float:
        table = nec_motors.motor_table_current(power_w, voltage_v, 3)
        return nec_devices.motor_device(table.current_a, device, "polyphase").rating_a

    def highest(rated_input_a: float, power_w: float, voltage_v: float) -> float:
        table = nec_motors.motor_table_current(power_w, voltage_v, 3)
        return nec_devices.drive_device(table.current_a, rated_input_a, device, marked).rating_a

    bench.figure(rules.NEC_TABLE_DEVICE, by_table, plate, also=also, assumed=assumed)
    bench.figure(
        rules.NEC_DEVICE,
        highest,
        {"rated_input_a": current, **plate},
        also={**also, "marked_maximum_a": marked} if marked else also,
        assumed=assumed,
    )


def _drop(bench: Workbench, branch: Branch, current: float | None) -> None:
    entered = branch.cable.method if branch.cable.method in nec_impedance.RACEWAYS else None
    raceway = entered or "pvc"

    def dropped(current_a: float, length_m: float, area_m2: float, voltage_v: float) -> float:
        found = nec_impedance.impedance(area_m2, raceway)
        ohm_m = voltage_drop.drop_impedance_ohm_m(
            found.resistance_ohm_m, found.reactance_ohm_m, DISPLACEMENT
        )
        return voltage_drop.voltage_drop(current_a, length_m, ohm_m, voltage_v, branch.phases).share

    add_drop(
        bench,
        branch,
        current,
        rules.NEC_DROP,
        dropped,
        also={"raceway": _RACEWAY_WORDS[raceway]},
        assumed="" if entered else "PVC conduit, as the raceway was not entered",
    )
