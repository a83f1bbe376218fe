"""What would hold a pair of stations better, in figures.

Each remedy takes the budgets as they are and gives them as they would be; :func:`improvement` says
how well either holds the pair. Remedies may follow each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.calc import checks
from core.calc.pair_ratio import (
    Part,
    chance_outside,
    chance_sign_changes,
    differential_share,
    differential_u,
    half_width_to_u,
)
from core.calc.speed_parts import speed_part
from core.errors import RangeError

__all__ = [
    "Improvement",
    "improvement",
    "narrowed_span",
    "one_signal",
    "stepped_reference",
]


@dataclass(frozen=True, slots=True)
class Improvement:
    """How well two budgets hold a pair.

    >>> Improvement(0.01, 0.2, 0.0).u
    0.01
    """

    u: float
    """Standard uncertainty of the differential [-]"""
    chance_outside: float
    """Chance that the differential leaves its band [-]"""
    chance_sign_changes: float
    """Chance that the differential vanishes or turns round [-]"""


def one_signal(
    first: Sequence[Part], second: Sequence[Part], names: Sequence[str]
) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Both budgets once one signal feeds both drives, and the ratio is set in the drives.

    Parameters
    ----------
    first : Sequence[Part]
        Budget of the station whose signal is kept [-]
    second : Sequence[Part]
        Budget of the other station [-]
    names : Sequence[str]
        Parts that come with the signal, such as knob and supply; not what each drive adds [-]

    Returns
    -------
    tuple[tuple[Part, ...], tuple[Part, ...]]
        Both budgets [-]

    Raises
    ------
    RangeError
        None of the names is in the budget of the first station

    Notes
    -----
    Both frequencies must be in proportion to the signal: both ranges begin at 0 Hz, or their
    bottoms stand at the same ratio as their tops. Else a part of the error stays. Add what the
    setting of the ratio in the drives brings, such as its step.

    Examples
    --------
    >>> knobs = (Part("knob", 0.02), Part("slip", 0.003))
    >>> round(differential_u(0.42, 0.38, *one_signal(knobs, knobs, ("knob",))), 4)
    0.0042

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.2 and F.1.2.3: one and the same error in both
    """
    _check_names(first, names)
    kept = tuple(replace(part, shared=1.0) for part in first if part.name in names)
    return kept + _without(first, names), kept + _without(second, names)


def narrowed_span(
    parts: Sequence[Part],
    names: Sequence[str],
    span_hz: tuple[float, float],
    narrowed_hz: tuple[float, float],
) -> tuple[Part, ...]:
    r"""A budget once the travel of the knob covers fewer hertz.

    .. math:: u' = u \, \frac{f'_{high} - f'_{low}}{f_{high} - f_{low}}

    Parameters
    ----------
    parts : Sequence[Part]
        Budget of the station [-]
    names : Sequence[str]
        Parts that are errors of travel or signal, so scale with the span [-]
    span_hz : tuple[float, float]
        Frequencies at bottom and top of the signal now [Hz]
    narrowed_hz : tuple[float, float]
        Frequencies at bottom and top then [Hz]

    Returns
    -------
    tuple[Part, ...]
        Budget at the same speed with the other span [-]

    Raises
    ------
    RangeError
        A span with a frequency below zero or without width, or none of the names is in the budget

    Notes
    -----
    A reversed span counts by its width. For the span itself see :mod:`core.calc.span`.

    Examples
    --------
    >>> narrowed_span((Part("knob", 0.02),), ("knob",), (0.0, 60.0), (30.0, 45.0))[0].relative_u
    0.005

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.3: the sensitivity is the slope of the scaling
    """
    _check_names(parts, names)
    factor = _width_hz(narrowed_hz) / _width_hz(span_hz)
    return tuple(
        replace(part, relative_u=factor * part.relative_u) if part.name in names else part
        for part in parts
    )


def stepped_reference(
    parts: Sequence[Part],
    names: Sequence[str],
    step_hz: float,
    frequency_hz: float,
    slip_hz: float = 0.0,
) -> tuple[Part, ...]:
    r"""A budget once the frequency is set as a number, over a bus or at the keypad.

    .. math:: \frac{u}{v} = \frac{\Delta f / 2}{\sqrt 3 \, (f - f_s)}

    Parameters
    ----------
    parts : Sequence[Part]
        Budget of the station [-]
    names : Sequence[str]
        Parts that go with the signal: knob, supply, wire, input of the drive [-]
    step_hz : float
        Smallest step of the number, :math:`\Delta f` [Hz]
    frequency_hz : float
        Output frequency, *f* [Hz]
    slip_hz : float
        Frequency that the slip takes, :math:`f_s`; zero overlooks it [Hz]

    Returns
    -------
    tuple[Part, ...]
        Budget with part ``step`` in the place of those named [-]

    Raises
    ------
    RangeError
        Step not above zero, frequency not above the slip, or none of the names is in the budget

    Notes
    -----
    The clock of a drive is good to about 0.01 % (common practice), which is nothing beside slip.

    Examples
    --------
    >>> bus = stepped_reference((Part("knob", 0.02),), ("knob",), 0.1, 40.0)
    >>> bus[0].name, round(bus[0].relative_u, 6)
    ('step', 0.000722)

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), F.2.2.1
    """
    _check_names(parts, names)
    checks.positive(step_hz, "the step of the frequency", "Hz")
    step = speed_part(half_width_to_u(0.5 * step_hz), frequency_hz, "step", slip_hz)
    return (step, *_without(parts, names))


def improvement(
    first_m_s: float,
    second_m_s: float,
    first: Sequence[Part],
    second: Sequence[Part],
    low: float,
    high: float,
) -> Improvement:
    """How well two budgets hold a pair, to set what would be beside what is.

    Parameters
    ----------
    first_m_s : float
        Surface speed of the first station [m/s]
    second_m_s : float
        Surface speed of the second station [m/s]
    first : Sequence[Part]
        Budget of the first station, with the remedy or without [-]
    second : Sequence[Part]
        Budget of the second station, with the remedy or without [-]
    low : float
        Lower end of the band of the differential [-]
    high : float
        Upper end of the band of the differential [-]

    Returns
    -------
    Improvement
        Uncertainty of the differential and its two chances [-]

    Raises
    ------
    RangeError
        As :func:`differential_u` and :func:`chance_outside`

    Notes
    -----
    Budgets with a remedy come from :func:`one_signal`, :func:`narrowed_span` and
    :func:`stepped_reference`; they may follow each other.

    Examples
    --------
    >>> now = (Part("knob", 0.02), Part("slip", 0.003))
    >>> then = one_signal(now, now, ("knob",))
    >>> before = improvement(0.416, 0.384, now, now, 0.06, 0.10)
    >>> after = improvement(0.416, 0.384, *then, 0.06, 0.10)
    >>> round(before.chance_outside, 2), after.chance_outside < 1e-5
    (0.48, True)

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.2; JCGM 106:2012, 7.2
    """
    u = differential_u(first_m_s, second_m_s, first, second)
    differential = differential_share(first_m_s, second_m_s)
    return Improvement(
        u,
        chance_outside(differential, u, low, high),
        chance_sign_changes(differential, u),
    )


def _without(parts: Sequence[Part], names: Sequence[str]) -> tuple[Part, ...]:
    return tuple(part for part in parts if part.name not in names)


def _width_hz(span_hz: tuple[float, float]) -> float:
    for end_hz in span_hz:
        checks.not_negative(end_hz, "an end of the span", "Hz")
    width_hz = abs(span_hz[1] - span_hz[0])
    checks.positive(width_hz, "the width of the span", "Hz")
    return width_hz


def _check_names(parts: Sequence[Part], names: Sequence[str]) -> None:
    if not any(part.name in names for part in parts):
        raise RangeError(
            "The remedy was not reckoned.",
            f"Nothing in the budget comes by {', '.join(names) or 'what was named'}.",
            "Name the parts that the remedy changes.",
        )
