"""The branch circuit of a drive under IEC 60364: conductor, protection, earth, voltage drop."""

from core.calc import iec_conductors, iec_devices, iec_earthing, iec_impedance
from core.line import circuit_rules as rules
from core.line.branch import DISPLACEMENT, Branch, add_drop
from core.line.figures import Workbench

BUNCHED = "bunched"
_INSULATIONS = {"pvc": "PVC", "xlpe": "XLPE"}


def add_iec_circuit(bench: Workbench, branch: Branch, current: float | None) -> None:
    """Put the figures of a branch circuit on the bench, by the drive's rated input current [A]."""
    device = "fuse" if branch.station.drive.protection_kind == "fuse" else "breaker"
    design = bench.figure(
        rules.IEC_DESIGN, lambda rated_input_a: rated_input_a, {"rated_input_a": current}
    )
    bench.figure(
        rules.IEC_DEVICE,
        lambda design_a: iec_devices.device_rating_a(design_a, device),
        {"design_a": design},
        also={"device": device},
    )
    _conductor(bench, branch, device)
    leakage = branch.drive_type.leakage_a if branch.drive_type else None
    bench.figure(
        rules.IEC_EARTH,
        lambda line_conductor_m2: (
            iec_earthing.earth_area(line_conductor_m2, leakage, False, False).needed_m2
        ),
        {"line_conductor_m2": branch.cable.conductor_m2},
        also={"leakage_signal_a": leakage} if leakage else None,
        assumed="" if leakage else "leakage below 10 mA, as it was not entered",
    )

    def dropped(current_a: float, length_m: float, area_m2: float, voltage_v: float) -> float:
        return iec_impedance.annex_g_drop(
            current_a, length_m, area_m2, DISPLACEMENT, voltage_v, branch.phases
        ).share

    add_drop(bench, branch, current, rules.IEC_DROP, dropped)


def table_insulation(insulation: str | None) -> str | None:
    """The name of an insulation in the tables; None where they do not know it."""
    return _INSULATIONS.get(insulation or "")


def table_method(method: str | None) -> str | None:
    """A reference method of installation of the tables; None for anything else."""
    return method if method in iec_conductors.METHODS else None


def _conductor(bench: Workbench, branch: Branch, device: str) -> None:
    cable = branch.cable
    laid: dict[str, float | str | None] = {
        "ambient_k": cable.ambient_k,
        "circuits": cable.company,
        "insulation": table_insulation(cable.insulation),
        "method": table_method(cable.method),
    }
    loaded = branch.loaded

    def carried(
        area_m2: float, ambient_k: float, circuits: float, insulation: str, method: str
    ) -> float:
        return iec_conductors.cable_current(
            area_m2, insulation, loaded, method, ambient_k, int(circuits), BUNCHED
        ).allowed_a

    def smallest(
        protection_a: float, ambient_k: float, circuits: float, insulation: str, method: str
    ) -> float:
        least = iec_devices.conductor_current_a(protection_a, device)
        return iec_conductors.conductor_for_device(
            least, insulation, loaded, method, ambient_k, int(circuits), BUNCHED
        ).area_m2

    bench.figure(
        rules.IEC_ALLOWED,
        carried,
        {"area_m2": cable.conductor_m2, **laid},
        also={"loaded_conductors": loaded},
    )
    bench.figure(
        rules.IEC_CONDUCTOR,
        smallest,
        {"protection_a": branch.station.drive.protection_a, **laid},
        also={"loaded_conductors": loaded, "device": device},
    )
