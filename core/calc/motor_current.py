"""The current a motor draws at part load, and the load that a measured current tells.

Both take the reactive part of the current as constant. It is an estimate by nature: the real
reactive part shrinks a little without load, and plates have tolerance.
"""

import math

from core.calc import checks
from core.calc.curves import at, table_points
from core.calc.sourced import Sourced
from core.errors import RangeError

__all__ = ["current_at_load_a", "load_from_current", "rated_current_a", "typical_current_a"]

LOAD_MAX = 3.0


def current_at_load_a(rated_current_a: float, power_factor: float, load_fraction: float) -> float:
    r"""Current to be expected at a share of rated torque, with flux at its rated value.

    .. math:: I = I_N \sqrt{(m \cos\varphi)^2 + \sin^2\varphi}

    Parameters
    ----------
    rated_current_a : float
        Rated current in the connection used [A]
    power_factor : float
        Power factor at rated load [-]
    load_fraction : float
        Torque in use as a share of rated torque, *m* [-]

    Returns
    -------
    float
        Current in each motor lead, an estimate [A]

    Raises
    ------
    RangeError
        Rated current not above zero, power factor outside of 0 to 1, or load outside of 0 to 3

    Notes
    -----
    At any frequency up to base, where a drive keeps the flux. The current at no load comes out as
    :math:`I_N \sin\varphi`, somewhat high; small motors do draw half to three quarters of rated
    current without any load.

    Examples
    --------
    >>> round(current_at_load_a(5.0, 0.8, 0.0), 9)
    3.0
    >>> current_at_load_a(5.0, 0.8, 1.0)
    5.0

    References
    ----------
    .. [1] Active and reactive current at right angles; constant magnetising current
    """
    checks.in_range(load_fraction, 0.0, LOAD_MAX, "the torque as a share of rated torque")
    reactive = _reactive(rated_current_a, power_factor)
    return rated_current_a * math.hypot(load_fraction * power_factor, reactive)


def load_from_current(rated_current_a: float, power_factor: float, current_a: float) -> float:
    r"""Share of rated torque that a current tells: :func:`current_at_load_a` turned round.

    .. math:: m = \frac{\sqrt{(I / I_N)^2 - \sin^2\varphi}}{\cos\varphi}

    Parameters
    ----------
    rated_current_a : float
        Rated current in the connection used [A]
    power_factor : float
        Power factor at rated load [-]
    current_a : float
        Current in the motor leads [A]

    Returns
    -------
    float
        Torque as a share of rated torque, an estimate; zero for a current at or below that of no
        load [-]

    Raises
    ------
    RangeError
        Rated current not above zero, power factor outside of 0 to 1, current below zero, or one
        that makes more than 3 times rated torque, beyond any motor's straight line

    Notes
    -----
    Rough below half load, where the current hardly changes with torque. Behind a drive take the
    drive's own display or a clamp made for it.

    Examples
    --------
    >>> round(load_from_current(5.0, 0.8, 5.0), 9)
    1.0

    References
    ----------
    .. [1] The formula of :func:`current_at_load_a`, solved for *m*
    """
    checks.not_negative(current_a, "the current", "A")
    reactive = _reactive(rated_current_a, power_factor)
    square = (current_a / rated_current_a) ** 2 - reactive**2
    load = math.sqrt(max(0.0, square)) / power_factor
    if load > LOAD_MAX:
        raise RangeError(
            "The load was not found.",
            f"{current_a:.4g} A would be {load:.3g} times rated torque.",
            "Compare current, rated current and connection; a stalled motor follows another law.",
        )
    return load


def typical_current_a(power_w: float, voltage_v: float) -> float:
    r"""Typical rated current of a four-pole three-phase motor, where its plate cannot be read.

    .. math:: I = I_{400} \frac{400\,\mathrm{V}}{U}

    Parameters
    ----------
    power_w : float
        Rated power [W]
    voltage_v : float
        Voltage between lines [V]

    Returns
    -------
    float
        Current, an estimate [A]

    Raises
    ------
    RangeError
        Power outside of 0.37 to 7.5 kW, or voltage outside of 180 to 690 V

    Notes
    -----
    An average of motors, not a rule: it sizes nothing. Six- and eight-pole motors draw more. For
    conductors under the NEC its own tables count.

    Examples
    --------
    >>> round(typical_current_a(1500.0, 400.0), 3)
    3.4

    References
    ----------
    .. [1] Typical full-load currents as in `core/tables/typical_motor_currents.csv`
    """
    checks.in_range(power_w, 0.37e3, 7.5e3, "the rated power", "W")
    checks.in_range(voltage_v, 180.0, 690.0, "the voltage", "V")
    curve = table_points("typical_motor_currents", "kw", "ampere_at_400_v")
    return at(curve, power_w / 1e3) * 400.0 / voltage_v


def rated_current_a(
    plate_current_a: float | None, power_w: float | None, voltage_v: float | None
) -> Sourced:
    """The rated current to reckon with: the plate's, else a typical one.

    Parameters
    ----------
    plate_current_a : float | None
        Current on the nameplate for the connection used, if it is there [A]
    power_w : float | None
        Rated power [W]
    voltage_v : float | None
        Rated voltage of the connection used [V]

    Returns
    -------
    Sourced
        Current and what it rests on [A]

    Raises
    ------
    RangeError
        A plate current not above zero, or neither it nor power and voltage, or none typical of them

    Notes
    -----
    Where power factor and efficiency are known but the current is not,
    `core.calc.motor.full_load_current_a` is the better estimate.

    Examples
    --------
    >>> rated_current_a(3.3, 1500.0, 400.0).value
    3.3
    >>> rated_current_a(None, 1500.0, 400.0).basis
    'estimate'

    References
    ----------
    .. [1] :func:`typical_current_a`
    """
    if plate_current_a is not None:
        checks.positive(plate_current_a, "the rated current", "A")
        return Sourced(plate_current_a, "stated", "nameplate")
    if power_w is None or voltage_v is None:
        raise RangeError(
            "The rated current was not found.",
            "Neither the current nor power and voltage were entered.",
            "Enter the rated current from the nameplate.",
        )
    typical_a = typical_current_a(power_w, voltage_v)
    return Sourced(typical_a, "estimate", "typical of four-pole motors of this power")


def _reactive(rated_current_a: float, power_factor: float) -> float:
    checks.positive(rated_current_a, "the rated current", "A")
    checks.ratio(power_factor, "the power factor", zero=False)
    return math.sqrt(1.0 - power_factor**2)
