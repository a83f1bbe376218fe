"""Heat in an enclosure: what the drives give off and what walls and fan carry away.

The simple rule of the trade: the heat goes through an effective area of wall at an even inside
temperature. The full method of IEC TR 60890, with its temperature profile, is another one.
"""

from functools import cache

from core.calc import checks
from core.calc.curves import at, table_points
from core.calc.sourced import Sourced
from core.errors import RangeError
from core.tables import load_table

__all__ = [
    "air_heat_j_m3_k",
    "allowed_heat_w",
    "drive_losses_w",
    "effective_area_m2",
    "fan_flow_m3_s",
    "inside_rise_k",
    "wall_conductance_w_m2_k",
]

# The trade's fan rule, 3.1 m³/h for each watt and kelvin, holds for air of this heat capacity.
AIR_HEAT_J_M3_K = 3600.0 / 3.1

# Which surface factor the top, the two wide faces and the two sides of an enclosure have.
_FREE, _WALL = "exposed_side_front_rear_lateral", "covered_side"
_ROW = "side_of_central_enclosure"
_MOUNTINGS = {
    "single_free": ("exposed_top", (_FREE, _FREE), (_FREE, _FREE)),
    "single_wall": ("exposed_top", (_FREE, _WALL), (_FREE, _FREE)),
    "end_free": ("exposed_top", (_FREE, _FREE), (_FREE, _WALL)),
    "end_wall": ("exposed_top", (_FREE, _WALL), (_FREE, _WALL)),
    "middle_free": ("exposed_top", (_FREE, _FREE), (_ROW, _ROW)),
    "middle_wall": ("exposed_top", (_FREE, _WALL), (_ROW, _ROW)),
    "middle_wall_covered": ("covered_top", (_FREE, _WALL), (_ROW, _ROW)),
}


def effective_area_m2(height_m: float, width_m: float, depth_m: float, mounting: str) -> float:
    r"""Area of an enclosure through which heat gets out, by how it stands.

    .. math:: A_e = \sum_i b_i A_i

    Parameters
    ----------
    height_m : float
        Height [m]
    width_m : float
        Width [m]
    depth_m : float
        Depth [m]
    mounting : str
        ``single_free``, ``single_wall``, ``end_free``, ``end_wall``, ``middle_free``,
        ``middle_wall`` or ``middle_wall_covered`` [-]

    Returns
    -------
    float
        Effective area [m²]

    Raises
    ------
    RangeError
        A measure not above zero or above 10 m, or an unknown mounting

    Notes
    -----
    The floor counts for nothing. Alone on a wall this is 1.4 W (H + D) + 1.8 D H.

    Examples
    --------
    >>> round(effective_area_m2(0.8, 0.6, 0.25, "single_wall"), 3)
    1.242

    References
    ----------
    .. [1] IEC TR 60890, surface factors (from memory; two of the seven formulas seen)
    """
    for value, name in ((height_m, "height"), (width_m, "width"), (depth_m, "depth")):
        checks.positive(value, f"the {name} of the enclosure", "m")
        checks.in_range(value, 0.0, 10.0, f"the {name} of the enclosure", "m")
    if mounting not in _MOUNTINGS:
        raise RangeError(
            "The area was not computed.",
            f"{mounting!r} is no mounting.",
            f"Give one of {', '.join(_MOUNTINGS)}.",
        )
    factors = _numbers("surface_factors", "surface", "factor")
    top, faces, sides = _MOUNTINGS[mounting]
    return (
        factors[top] * width_m * depth_m
        + sum(factors[face] for face in faces) * width_m * height_m
        + sum(factors[side] for side in sides) * depth_m * height_m
    )


def wall_conductance_w_m2_k(material: str) -> float:
    """Heat that a wall lets through, for each square metre and kelvin.

    Parameters
    ----------
    material : str
        ``painted_steel``, ``stainless_steel``, ``aluminium`` or ``plastic`` [-]

    Returns
    -------
    float
        Conductance from inside air to outside air [W/(m² K)]

    Raises
    ------
    RangeError
        An unknown material

    Notes
    -----
    A rule of thumb for still air outside and air that moves a little inside; dust, sun and a
    second skin make it worse.

    Examples
    --------
    >>> wall_conductance_w_m2_k("painted_steel")
    5.5

    References
    ----------
    .. [1] Common practice, as in `core/tables/wall_conductance.csv`
    """
    values = _numbers("wall_conductance", "material", "w_per_m2_k")
    if material not in values:
        raise RangeError(
            "The conductance was not found.",
            f"{material!r} is no material here.",
            f"Give one of {', '.join(values)}.",
        )
    return values[material]


def air_heat_j_m3_k(altitude_m: float = 0.0) -> float:
    r"""Heat that a cubic metre of air takes up for each kelvin.

    .. math:: c = c_0 \left(1 - 2.25577 \cdot 10^{-5} \frac{h}{1\,\mathrm m}\right)^{5.25588}

    Parameters
    ----------
    altitude_m : float
        Altitude above sea level [m]

    Returns
    -------
    float
        Heat capacity by volume [J/(m³ K)]

    Raises
    ------
    RangeError
        Altitude below -500 m or above 11 000 m

    Notes
    -----
    The trade's 3.1 m³ K/(W h) stands at sea level; with height it thins as the standard
    atmosphere's pressure does.

    Examples
    --------
    >>> round(air_heat_j_m3_k(), 1)
    1161.3

    References
    ----------
    .. [1] Common practice for the 3.1; ISO 2533 standard atmosphere for height (from memory)
    """
    checks.in_range(altitude_m, -500.0, 11000.0, "the altitude", "m")
    return AIR_HEAT_J_M3_K * float((1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def inside_rise_k(
    heat_w: float,
    area_m2: float,
    conductance_w_m2_k: float,
    fan_flow_m3_s: float = 0.0,
    altitude_m: float = 0.0,
) -> float:
    r"""How far the air inside rises above the air outside in the end.

    .. math:: \Delta T = \frac{P}{k A_e + c\,q}

    Parameters
    ----------
    heat_w : float
        Heat given off inside [W]
    area_m2 : float
        Effective area, by :func:`effective_area_m2` [m²]
    conductance_w_m2_k : float
        Conductance of the wall [W/(m² K)]
    fan_flow_m3_s : float
        Outside air that a fan moves through, with its filter in place [m³/s]
    altitude_m : float
        Altitude above sea level [m]

    Returns
    -------
    float
        Rise of the air inside [K]

    Raises
    ------
    RangeError
        Heat or flow below zero, area or conductance not above zero, or altitude outside of -500 to
        11 000 m

    Notes
    -----
    The mean inside; the top is warmer. A clogged filter halves the flow or worse.

    Examples
    --------
    >>> round(inside_rise_k(60.0, 1.242, 5.5), 2)
    8.78

    References
    ----------
    .. [1] Simple rule of enclosure cooling, common practice
    """
    checks.not_negative(heat_w, "the heat", "W")
    return heat_w / _heat_per_kelvin(area_m2, conductance_w_m2_k, fan_flow_m3_s, altitude_m)


def allowed_heat_w(
    inside_max_k: float,
    ambient_max_k: float,
    area_m2: float,
    conductance_w_m2_k: float,
    fan_flow_m3_s: float = 0.0,
    altitude_m: float = 0.0,
) -> float:
    r"""Heat that an enclosure gets rid of at its highest inside temperature.

    .. math:: P = (k A_e + c\,q) (T_{in} - T_{out})

    Parameters
    ----------
    inside_max_k : float
        Highest temperature allowed inside [K]
    ambient_max_k : float
        Highest temperature outside [K]
    area_m2 : float
        Effective area, by :func:`effective_area_m2` [m²]
    conductance_w_m2_k : float
        Conductance of the wall [W/(m² K)]
    fan_flow_m3_s : float
        Outside air that a fan moves through, with its filter in place [m³/s]
    altitude_m : float
        Altitude above sea level [m]

    Returns
    -------
    float
        Heat [W]

    Raises
    ------
    RangeError
        Outside as warm as the inside may be or warmer: only a cooling unit helps; or a value that
        :func:`inside_rise_k` refuses

    Notes
    -----
    :func:`inside_rise_k` turned round.

    Examples
    --------
    >>> round(allowed_heat_w(323.15, 313.15, 1.242, 5.5), 2)
    68.31

    References
    ----------
    .. [1] Simple rule of enclosure cooling, common practice
    """
    checks.positive(inside_max_k, "the temperature allowed inside", "K")
    checks.positive(ambient_max_k, "the temperature outside", "K")
    rise_k = inside_max_k - ambient_max_k
    if not rise_k > 0.0:
        raise RangeError(
            "The allowed heat was not computed.",
            "It is as warm outside as it may be inside: neither wall nor fan carries heat away.",
            "Use a cooling unit, or place the enclosure where it is cooler.",
        )
    return rise_k * _heat_per_kelvin(area_m2, conductance_w_m2_k, fan_flow_m3_s, altitude_m)


def fan_flow_m3_s(heat_w: float, rise_k: float, altitude_m: float = 0.0) -> float:
    r"""Air that a fan must move to carry heat away by itself.

    .. math:: q = \frac{P}{c \, \Delta T}

    Parameters
    ----------
    heat_w : float
        Heat that the fan is to carry, what the walls carry left out [W]
    rise_k : float
        Rise allowed between outside and inside [K]
    altitude_m : float
        Altitude above sea level [m]

    Returns
    -------
    float
        Flow with the filter in place [m³/s]

    Raises
    ------
    RangeError
        Heat below zero, rise not above zero, or altitude outside of -500 to 11 000 m

    Notes
    -----
    In the trade's units :math:`3.1\,P / \Delta T` m³/h, or :math:`3.16\,P / \Delta T` cfm with the
    rise in °F. Of no use in a washdown area unless fan and filter are made for it.

    Examples
    --------
    >>> round(3600 * fan_flow_m3_s(100.0, 10.0), 1)
    31.0

    References
    ----------
    .. [1] Heat balance of the air stream, common practice
    """
    checks.not_negative(heat_w, "the heat", "W")
    checks.positive(rise_k, "the rise", "K")
    return heat_w / (air_heat_j_m3_k(altitude_m) * rise_k)


def drive_losses_w(stated_losses_w: float | None, motor_power_w: float | None) -> Sourced:
    """Heat that a drive gives off at rated load: as its maker states, else an estimate.

    Parameters
    ----------
    stated_losses_w : float | None
        Losses by the maker [W]
    motor_power_w : float | None
        Power of the motor that the drive is rated for [W]

    Returns
    -------
    Sourced
        Losses and what they rest on [W]

    Raises
    ------
    RangeError
        Stated losses not above zero, neither value, or a power outside of 0.12 to 11 kW

    Notes
    -----
    The estimate takes the reference losses of a law on three-phase-input drives, whatever the
    input, from memory: real drives lose less. It is no efficiency class and fails nothing alone.

    Examples
    --------
    >>> drive_losses_w(38.0, 750.0).value
    38.0
    >>> drive_losses_w(None, 750.0).value, drive_losses_w(None, 750.0).basis
    (142.0, 'estimate')

    References
    ----------
    .. [1] Regulation (EU) 2019/1781, Annex I, reference losses (from memory)
    """
    if stated_losses_w is not None:
        checks.positive(stated_losses_w, "the losses of the drive", "W")
        return Sourced(stated_losses_w, "stated", "losses by the maker")
    if motor_power_w is None:
        raise RangeError(
            "The losses were not found.",
            "Neither losses nor a rated power were entered.",
            "Enter the drive's losses from its manual.",
        )
    checks.in_range(motor_power_w, 120.0, 11000.0, "the rated power", "W")
    curve = table_points("drive_reference_losses", "motor_kw", "loss_w")
    losses_w = at(curve, motor_power_w / 1e3)
    return Sourced(losses_w, "estimate", "reference losses of drives of this power")


@cache
def _numbers(table: str, key: str, value: str) -> dict[str, float]:
    return {row[key]: float(row[value]) for row in load_table(table)}


def _heat_per_kelvin(
    area_m2: float, conductance_w_m2_k: float, fan_flow_m3_s: float, altitude_m: float
) -> float:
    checks.positive(area_m2, "the effective area", "m²")
    checks.positive(conductance_w_m2_k, "the conductance of the wall", "W/(m²·K)")
    checks.not_negative(fan_flow_m3_s, "the flow of the fan", "m³/s")
    return conductance_w_m2_k * area_m2 + air_heat_j_m3_k(altitude_m) * fan_flow_m3_s
