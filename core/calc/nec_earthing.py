"""Equipment grounding conductors by the NEC."""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import first_reaching, remembered, rows
from core.calc.nec_sizes import (
    EDITION,
    Size,
    size_named,
    size_of_area,
    size_with_circular_mils,
)
from core.errors import RangeError

__all__ = ["EarthConductor", "earth_conductor"]


@dataclass(frozen=True, slots=True)
class EarthConductor:
    """Equipment grounding conductor: size by the device, growth of the lines, what follows.

    ``enlargement`` is the ratio of circular mils by which the lines exceed what suffices.
    """

    by_device: Size
    enlargement: float
    needed_circular_mils: float
    size: Size
    held_to_circuit: bool
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


def earth_conductor(
    device_a: float, line_area_m2: float, sufficient_area_m2: float
) -> EarthConductor:
    r"""Copper equipment grounding conductor of a circuit.

    .. math:: A_E = A_{250.122} \cdot \frac{A_{line}}{A_{sufficient}}

    Parameters
    ----------
    device_a : float
        Rating of the overcurrent device ahead [A]
    line_area_m2 : float
        Area of the line conductors as installed, of a trade size [m²]
    sufficient_area_m2 : float
        Area that would have sufficed, corrections for heat and bundling included [m²]

    Returns
    -------
    EarthConductor
        All steps [circular mils and m²]

    Raises
    ------
    RangeError
        Device beyond 1200 A, no such size, or the lines are smaller than what suffices

    Notes
    -----
    Only growth beyond what suffices counts, such as against voltage drop; a size that heat or
    bundling asks for is no growth. Rounding rule: up to 0.1 % short is taken, because Table 8
    rounds. Never larger than the lines.

    Examples
    --------
    >>> earth_conductor(50.0, 42.41e-6, 8.367e-6).size.name
    '3 AWG'

    References
    ----------
    .. [1] NEC 2023 Table 250.122, 250.122(A) and (B)
    """
    checks.positive(device_a, "the rating of the device", "A")
    line, sufficient = size_of_area(line_area_m2), size_of_area(sufficient_area_m2)
    if line.circular_mils < sufficient.circular_mils:
        raise RangeError(
            "The earth conductor was not computed.",
            f"The lines are {line.name}; {sufficient.name} is needed.",
            "Correct the line conductors first.",
        )
    row = first_reaching(rows("nec_250_122"), "device_max_a", device_a, "the device", "A")
    by_device = size_named(row.words["size"])
    enlargement = line.circular_mils / sufficient.circular_mils
    needed = by_device.circular_mils * enlargement
    held = needed >= line.circular_mils
    size = line if held else size_with_circular_mils(needed)
    return EarthConductor(by_device, enlargement, needed, size, held, remembered(row))
