r"""A potentiometer across a supply, its wiper loaded by the reference input.

Throughout, *x* is the share of the track between the low end and the wiper, *k* the potentiometer's
resistance over the input's, :math:`k = R_P / R_L`, and *s* the resistance in series with the supply
over the potentiometer's, :math:`s = R_S / R_P`. How *x* follows the turn of the knob is the taper.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "Bend",
    "end_to_end_current_a",
    "knob_for_track",
    "output_v",
    "supply_current_a",
    "track_at_knob",
    "track_for_voltage",
    "worst_bend",
]

# Common practice: a "logarithmic" track is two straight ones that meet halfway, where parts have
# 10 to 20 % of the resistance. 15 % stands for them; only a measurement tells a given part.
MIDPOINT = {"linear": 0.5, "log": 0.15, "reverse_log": 0.85}


@dataclass(frozen=True, slots=True)
class Bend:
    """The largest fall of a loaded potentiometer's output below the straight line."""

    track: float
    """Share of the track at which it occurs."""
    fall: float
    """Fall, as a share of the supply voltage."""


def output_v(
    track: float, supply_v: float, pot_ohm: float, load_ohm: float, supply_ohm: float = 0.0
) -> float:
    r"""Voltage at the wiper.

    .. math:: V = V_S \frac{x}{1 + s + k x (1 + s - x)}

    Parameters
    ----------
    track : float
        Share of the track between low end and wiper, *x* [-]
    supply_v : float
        Voltage across the potentiometer's supply terminals, unloaded [V]
    pot_ohm : float
        Resistance of the potentiometer from end to end [Ohm]
    load_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]
    supply_ohm : float
        Resistance in series with the supply, wire included [Ohm]

    Returns
    -------
    float
        Voltage from wiper to low end [V]

    Raises
    ------
    RangeError
        Track outside of 0 to 1, a voltage, potentiometer or load not above zero, a supply
        resistance below zero

    Notes
    -----
    With an ideal supply this is the textbook :math:`V_S x / (1 + x (1 - x) R_P / R_L)`. The
    contact of the wiper and the ends of the track are taken as without resistance.

    Examples
    --------
    >>> round(output_v(0.5, 10.0, 10e3, 100e3), 4)
    4.878

    References
    ----------
    .. [1] Kirchhoff's current law at the wiper and at the upper end
    """
    checks.ratio(track, "the position of the wiper")
    load, series = _shares(supply_v, pot_ohm, load_ohm, supply_ohm)
    return supply_v * track / (1.0 + series + load * track * (1.0 + series - track))


def track_for_voltage(
    wanted_v: float, supply_v: float, pot_ohm: float, load_ohm: float, supply_ohm: float = 0.0
) -> float:
    r"""Where the wiper must stand for a wanted voltage: :func:`output_v` turned round.

    With :math:`v = V / V_S`, *x* is the positive root of

    .. math:: k v \, x^2 + (1 - k v (1 + s)) \, x - v (1 + s) = 0

    Parameters
    ----------
    wanted_v : float
        Wanted voltage from wiper to low end [V]
    supply_v : float
        Voltage across the potentiometer's supply terminals, unloaded [V]
    pot_ohm : float
        Resistance of the potentiometer from end to end [Ohm]
    load_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]
    supply_ohm : float
        Resistance in series with the supply, wire included [Ohm]

    Returns
    -------
    float
        Share of the track between low end and wiper [-]

    Raises
    ------
    RangeError
        A voltage below zero or above what the upper end gives, or a value that :func:`output_v`
        refuses

    Notes
    -----
    :func:`knob_for_track` makes a position of the knob of it.

    Examples
    --------
    >>> round(track_for_voltage(4.0, 10.0, 10e3, 10e3), 6)
    0.5

    References
    ----------
    .. [1] The formula of :func:`output_v`, solved for *x*
    """
    highest_v = output_v(1.0, supply_v, pot_ohm, load_ohm, supply_ohm)
    # Rounding of the highest voltage itself must not refuse the upper end.
    if not 0.0 <= wanted_v <= highest_v * (1.0 + 1e-12):
        raise RangeError(
            "The position of the wiper was not found.",
            f"{wanted_v:.6g} V is wanted; this potentiometer gives 0 to {highest_v:.6g} V.",
            "Choose a voltage within that range.",
        )
    load, series = _shares(supply_v, pot_ohm, load_ohm, supply_ohm)
    share = wanted_v / supply_v
    a, b, c = load * share, 1.0 - load * share * (1.0 + series), share * (1.0 + series)
    root = math.sqrt(b * b + 4.0 * a * c)
    # This form of the root also holds without load, where the square vanishes.
    return min(1.0, 2.0 * c / (b + root))


def end_to_end_current_a(supply_v: float, pot_ohm: float, supply_ohm: float = 0.0) -> float:
    r"""Current through the whole track, with nothing on the wiper.

    .. math:: I = \frac{V_S}{R_P + R_S}

    Parameters
    ----------
    supply_v : float
        Voltage of the potentiometer's supply, unloaded [V]
    pot_ohm : float
        Resistance of the potentiometer from end to end [Ohm]
    supply_ohm : float
        Resistance in series with the supply, wire included [Ohm]

    Returns
    -------
    float
        Current [A]

    Raises
    ------
    RangeError
        Voltage or potentiometer not above zero, supply resistance below zero

    Notes
    -----
    Compare it with what the drive's supply terminal may give, and with the pot's rated power.

    Examples
    --------
    >>> end_to_end_current_a(10.0, 10e3)
    0.001

    References
    ----------
    .. [1] Ohm's law
    """
    return supply_current_a(0.0, supply_v, pot_ohm, math.inf, supply_ohm)


def supply_current_a(
    track: float, supply_v: float, pot_ohm: float, load_ohm: float, supply_ohm: float = 0.0
) -> float:
    r"""Current that the supply gives to potentiometer and reference input together.

    .. math:: I = \frac{V_S}{R_S + (1 - x) R_P + \frac{x R_P}{1 + k x}}

    Parameters
    ----------
    track : float
        Share of the track between low end and wiper, *x* [-]
    supply_v : float
        Voltage of the potentiometer's supply, unloaded [V]
    pot_ohm : float
        Resistance of the potentiometer from end to end [Ohm]
    load_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]
    supply_ohm : float
        Resistance in series with the supply, wire included [Ohm]

    Returns
    -------
    float
        Current; highest with the wiper at the upper end [A]

    Raises
    ------
    RangeError
        A value that :func:`output_v` refuses

    Examples
    --------
    >>> round(supply_current_a(1.0, 10.0, 10e3, 10e3), 6)
    0.002

    References
    ----------
    .. [1] Ohm's law for resistors in series and in parallel
    """
    checks.ratio(track, "the position of the wiper")
    load, series = _shares(supply_v, pot_ohm, load_ohm, supply_ohm)
    return supply_v / (pot_ohm * (series + 1.0 - track + track / (1.0 + load * track)))


def worst_bend(pot_ohm: float, load_ohm: float) -> Bend:
    r"""Where the load bends the output most, and by how much.

    The fall :math:`x - V/V_S = k x^2 (1 - x) / (1 + k x (1 - x))` is largest at the only root in
    2/3 to 1 of

    .. math:: k x (1 - x)^2 = 3 x - 2

    Parameters
    ----------
    pot_ohm : float
        Resistance of the potentiometer from end to end [Ohm]
    load_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]

    Returns
    -------
    Bend
        Share of the track [-] and fall as a share of the supply voltage [-]

    Raises
    ------
    RangeError
        A resistance is not above zero

    Notes
    -----
    For a supply without resistance. At a small load about 4/27 of *k*, at two thirds of the track.

    Examples
    --------
    >>> round(100 * worst_bend(10e3, 100e3).fall, 3)
    1.449

    References
    ----------
    .. [1] Derivative of the formula of :func:`output_v`, set to zero
    """
    load, _ = _shares(1.0, pot_ohm, load_ohm, 0.0)
    low, high = 2.0 / 3.0, 1.0
    for _halving in range(60):
        middle = (low + high) / 2.0
        if load * middle * (1.0 - middle) ** 2 > 3.0 * middle - 2.0:
            low = middle
        else:
            high = middle
    return Bend(low, low - output_v(low, 1.0, pot_ohm, load_ohm))


def track_at_knob(knob: float, taper: str = "linear") -> float:
    r"""Share of the track that the wiper has passed at a position of the knob.

    .. math:: x = 2 m q \;\; (q \le 1/2), \qquad x = m + (1 - m)(2 q - 1) \;\; (q > 1/2)

    Parameters
    ----------
    knob : float
        Position of the knob as a share of its full turn, *q* [-]
    taper : str
        ``linear``, ``log`` or ``reverse_log`` [-]

    Returns
    -------
    float
        Share of the track between low end and wiper, *x* [-]

    Raises
    ------
    RangeError
        Knob outside of 0 to 1, or an unknown taper

    Notes
    -----
    Exact for a linear pot. For the others an approximation by two straight tracks with *m* = 15 %
    (85 % reversed) at half turn; real parts have 10 to 20 % there, so a computed knob position is
    only where to begin turning.

    Examples
    --------
    >>> track_at_knob(0.5, "log")
    0.15

    References
    ----------
    .. [1] Common practice; the 15 % from memory
    """
    checks.ratio(knob, "the position of the knob")
    midpoint = _midpoint(taper)
    if knob <= 0.5:
        return 2.0 * midpoint * knob
    return 1.0 - 2.0 * (1.0 - midpoint) * (1.0 - knob)


def knob_for_track(track: float, taper: str = "linear") -> float:
    r"""Position of the knob for a share of the track: :func:`track_at_knob` turned round.

    .. math:: q = \frac{x}{2 m} \;\; (x \le m), \qquad
        q = 1 - \frac{1 - x}{2 (1 - m)} \;\; (x > m)

    Parameters
    ----------
    track : float
        Share of the track between low end and wiper, *x* [-]
    taper : str
        ``linear``, ``log`` or ``reverse_log`` [-]

    Returns
    -------
    float
        Position of the knob as a share of its full turn, *q* [-]

    Raises
    ------
    RangeError
        Track outside of 0 to 1, or an unknown taper

    Notes
    -----
    Approximate for all but linear pots, as :func:`track_at_knob` tells.

    Examples
    --------
    >>> knob_for_track(0.15, "log")
    0.5

    References
    ----------
    .. [1] Common practice; the 15 % from memory
    """
    checks.ratio(track, "the position of the wiper")
    midpoint = _midpoint(taper)
    if track <= midpoint:
        return track / (2.0 * midpoint)
    return 1.0 - (1.0 - track) / (2.0 * (1.0 - midpoint))


def _midpoint(taper: str) -> float:
    if taper not in MIDPOINT:
        raise RangeError(
            "The taper was not used.",
            f"{taper!r} is unknown.",
            f"Give one of {', '.join(MIDPOINT)}.",
        )
    return MIDPOINT[taper]


def _shares(
    supply_v: float, pot_ohm: float, load_ohm: float, supply_ohm: float
) -> tuple[float, float]:
    """The load *k* and the supply resistance *s*, both measured by the potentiometer."""
    checks.positive(supply_v, "the supply voltage", "V")
    checks.positive(pot_ohm, "the resistance of the potentiometer", "Ω")
    checks.positive(load_ohm, "the resistance of the reference input", "Ω", endless=True)
    checks.not_negative(supply_ohm, "the resistance of the supply", "Ω")
    return pot_ohm / load_ohm, supply_ohm / pot_ohm
