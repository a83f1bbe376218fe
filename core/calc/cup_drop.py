"""Where a cup is by its encoder, and when to let its fruit go.

Geometry, exact on paper. A chain wears and runs unevenly on its sprocket: a sensor at a cup sets
the count right, and a trial at two speeds the lead of the drop.
"""

import math

from core.calc import checks
from core.calc.conveying import GRAVITY_M_S2
from core.calc.cups import COUNT_MAX
from core.calc.drivetrain import TEETH_MAX, TEETH_MIN

__all__ = [
    "count_drift_m",
    "lead_cups",
    "lead_m",
    "position_step_m",
    "pulses_per_cup",
    "throw_m",
    "timing_scatter_m",
]

PULSES_MAX = 1_000_000

# Both tracks of an encoder, rising and falling.
EDGES = 4


def pulses_per_cup(
    encoder_pulses: int, cup_pitch_m: float, chain_teeth: int, chain_pitch_m: float
) -> float:
    r"""Pulses of an encoder on the conveyor's shaft from one cup to the next.

    .. math:: n = \frac{P \, p_{cup}}{z \, p_{chain}}

    Parameters
    ----------
    encoder_pulses : int
        Pulses of the encoder in one turn, on one track [-]
    cup_pitch_m : float
        Distance from cup to cup [m]
    chain_teeth : int
        Teeth of the conveyor's sprocket, on the shaft of the encoder [-]
    chain_pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Pulses for one cup [-]

    Raises
    ------
    RangeError
        Pulses or teeth no sound count, or a pitch not above zero

    Notes
    -----
    Where it is no whole number the count of cups drifts, :func:`count_drift_m`: set it anew at
    every cup, or choose teeth and pitch to suit. A worn chain keeps its pulses for each link, as
    its sprocket takes link by link, but carries each cup further: the number of cups between camera
    and drop falls.

    Examples
    --------
    >>> pulses_per_cup(1024, 0.09525, 12, 0.03175)
    256.0

    References
    ----------
    .. [1] Geometry of chain and sprocket
    """
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    return cup_pitch_m / (EDGES * position_step_m(encoder_pulses, chain_teeth, chain_pitch_m))


def position_step_m(encoder_pulses: int, chain_teeth: int, chain_pitch_m: float) -> float:
    r"""Travel of the cups for each count, all edges of both tracks of an encoder counted.

    .. math:: s = \frac{z \, p_{chain}}{4 \, P}

    Parameters
    ----------
    encoder_pulses : int
        Pulses of the encoder in one turn, on one track [-]
    chain_teeth : int
        Teeth of the conveyor's sprocket, on the shaft of the encoder [-]
    chain_pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Step of the position [m]

    Raises
    ------
    RangeError
        Pulses or teeth no sound count, or pitch not above zero

    Notes
    -----
    A counter of one edge of one track steps four times as far, and cannot tell which way the chain
    goes. A fine step says nothing of play and wear of the chain.

    Examples
    --------
    >>> round(1e3 * position_step_m(1024, 12, 0.03175), 4)
    0.093

    References
    ----------
    .. [1] Geometry of chain and sprocket
    """
    checks.whole(encoder_pulses, 1, PULSES_MAX, "the number of encoder pulses")
    checks.whole(chain_teeth, TEETH_MIN, TEETH_MAX, "the number of teeth of the sprocket")
    checks.positive(chain_pitch_m, "the chain pitch", "m")
    return chain_teeth * chain_pitch_m / (EDGES * encoder_pulses)


def count_drift_m(pulses_per_cup: float, cup_pitch_m: float, cups: int) -> float:
    r"""How far a count by whole pulses is off after some cups, if nothing sets it right.

    .. math:: e = k \, p \, \frac{\left|n - [n]\right|}{n}

    Parameters
    ----------
    pulses_per_cup : float
        Pulses for one cup, by :func:`pulses_per_cup` [-]
    cup_pitch_m : float
        Distance from cup to cup [m]
    cups : int
        Cups that have passed since the count was right [-]

    Returns
    -------
    float
        Distance of the counted cup from the real one [m]

    Raises
    ------
    RangeError
        Pulses below 1, pitch not above zero, or no sound count of cups

    Notes
    -----
    *[n]* is the whole number next to *n*.

    Examples
    --------
    >>> round(1e3 * count_drift_m(640 / 3, 0.09525, 100), 2)
    14.88

    References
    ----------
    .. [1] Counting
    """
    checks.in_range(pulses_per_cup, 1.0, PULSES_MAX, "the number of pulses for one cup")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    checks.whole(cups, 0, COUNT_MAX, "the number of cups")
    return cups * cup_pitch_m * abs(pulses_per_cup - round(pulses_per_cup)) / pulses_per_cup


def lead_m(speed_m_s: float, latency_s: float) -> float:
    r"""How far ahead of its place the drop has to be ordered.

    .. math:: l = v \, t

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    latency_s : float
        Time from the order until the cup lets go [s]

    Returns
    -------
    float
        Lead [m]

    Raises
    ------
    RangeError
        Speed or time below zero

    Notes
    -----
    In proportion to the speed: where the place of the drop moves with the speed, the time entered
    is wrong. The way of the falling fruit comes on top, :func:`throw_m`.

    Examples
    --------
    >>> round(1e3 * lead_m(0.5, 0.045), 9)
    22.5

    References
    ----------
    .. [1] Definition of speed
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(latency_s, "the time until the cup lets go", "s")
    return speed_m_s * latency_s


def lead_cups(lead_m: float, cup_pitch_m: float) -> float:
    r"""A lead in cups.

    .. math:: l / p

    Parameters
    ----------
    lead_m : float
        Lead, by :func:`lead_m` [m]
    cup_pitch_m : float
        Distance from cup to cup [m]

    Returns
    -------
    float
        Lead in cups [-]

    Raises
    ------
    RangeError
        Lead below zero, or pitch not above zero

    Examples
    --------
    >>> round(lead_cups(0.0225, 0.09), 9)
    0.25

    References
    ----------
    .. [1] Geometry
    """
    checks.not_negative(lead_m, "the lead", "m")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    return lead_m / cup_pitch_m


def throw_m(speed_m_s: float, drop_height_m: float) -> float:
    r"""How far fruit flies on after its cup has let go.

    .. math:: x = v \, \sqrt{\frac{2 h}{g}}

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    drop_height_m : float
        Height of the fall [m]

    Returns
    -------
    float
        Distance along the travel [m]

    Raises
    ------
    RangeError
        Speed or height below zero

    Notes
    -----
    For a cup that lets go at once. One that tips rolls the fruit out sideways or back and takes its
    time; try it at two speeds.

    Examples
    --------
    >>> round(1e3 * throw_m(0.5, 0.15), 1)
    87.5

    References
    ----------
    .. [1] Free fall with a level start
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(drop_height_m, "the height of the fall", "m")
    return speed_m_s * math.sqrt(2.0 * drop_height_m / GRAVITY_M_S2)


def timing_scatter_m(speed_m_s: float, jitter_s: float) -> float:
    r"""How far the place of the drop scatters, to either side, as its time does.

    .. math:: \Delta x = v \, \Delta t

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    jitter_s : float
        Scatter of the time of the drop, to either side [s]

    Returns
    -------
    float
        Scatter of its place, to either side [m]

    Raises
    ------
    RangeError
        Speed or scatter below zero

    Notes
    -----
    A controller that looks once in a cycle scatters by half a cycle to either side of its mean.

    Examples
    --------
    >>> round(1e3 * timing_scatter_m(0.5, 0.005), 9)
    2.5

    References
    ----------
    .. [1] Definition of speed
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(jitter_s, "the scatter of the time", "s")
    return speed_m_s * jitter_s
