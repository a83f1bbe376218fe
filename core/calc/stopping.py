"""Starting and stopping a row of stations so that nothing piles up, and what a stop leaves behind.

Each station ramps evenly, and gives or takes fruit in proportion to its speed. At a transfer fruit
waits while the station before delivers more than the one after can take. How far fruit travels on a
ramp is in :func:`core.calc.dynamics.ramp_travel_m`.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "coast_time_s",
    "delay_needed_s",
    "excess_fruit",
    "fruit_left",
    "start_delay_needed_s",
    "start_excess_fruit",
    "start_times_s",
    "stop_times_s",
]


@dataclass(frozen=True, slots=True)
class _Ramp:
    """A flow that changes evenly from one value to another."""

    start_s: float
    end_s: float
    before_1_s: float
    after_1_s: float

    def between(self, early_s: float, late_s: float) -> tuple[float, float]:
        """Flow just after one time and just before another, with no corner in between."""
        if late_s <= self.start_s:
            return self.before_1_s, self.before_1_s
        if early_s >= self.end_s:
            return self.after_1_s, self.after_1_s
        return self._on_ramp(early_s), self._on_ramp(late_s)

    def _on_ramp(self, time_s: float) -> float:
        share = (time_s - self.start_s) / (self.end_s - self.start_s)
        return (1.0 - share) * self.before_1_s + share * self.after_1_s


def coast_time_s(inertia_kg_m2: float, speed_rad_s: float, friction_torque_n_m: float) -> float:
    r"""Time until a station stands once its power is gone.

    .. math:: t = \frac{J \, \omega}{M_f}

    Parameters
    ----------
    inertia_kg_m2 : float
        Inertia at the motor's shaft, its own included, *J* [kg m²]
    speed_rad_s : float
        Speed of the motor before [rad/s]
    friction_torque_n_m : float
        Torque that friction and load brake with at the motor's shaft, :math:`M_f` [N m]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    RangeError
        Inertia or speed below zero, or nothing that brakes

    Notes
    -----
    For friction that does not change with speed. What a slope pulls down must be taken off the
    friction; a slope that pulls more than friction holds runs away, and needs a brake. Small geared
    stations stand within a fraction of a second. Never a measure of when it is safe to reach in.

    Examples
    --------
    >>> round(coast_time_s(0.0026, 150.0, 1.5), 3)
    0.26

    References
    ----------
    .. [1] Newton's second law for rotation
    """
    checks.not_negative(inertia_kg_m2, "the inertia", "kg·m²")
    checks.not_negative(speed_rad_s, "the speed", "rad/s")
    checks.positive(friction_torque_n_m, "the torque of friction", "N·m")
    return inertia_kg_m2 * speed_rad_s / friction_torque_n_m


def excess_fruit(
    up_flow_1_s: float,
    up_ramp_s: float,
    down_flow_1_s: float,
    down_ramp_s: float,
    delay_s: float = 0.0,
) -> float:
    r"""Most fruit that waits at a transfer while two stations stop.

    .. math:: N = \max_{t_0 \le t} \int_{t_0}^{t} \left(q_u(\tau) - q_d(\tau)\right) d\tau

    Parameters
    ----------
    up_flow_1_s : float
        Fruit that the station before delivers at speed [1/s]
    up_ramp_s : float
        Its ramp to a stop, or the time that it coasts [s]
    down_flow_1_s : float
        Fruit that the station after can take away at speed; at least what is delivered [1/s]
    down_ramp_s : float
        Its ramp to a stop, or the time that it coasts [s]
    delay_s : float
        How much later the station after is told to stop; below zero it is told first [s]

    Returns
    -------
    float
        Fruit [-]

    Raises
    ------
    RangeError
        A flow or ramp below zero, a delay that is no number, or a station after that cannot even
        take what it gets at speed

    Notes
    -----
    Means, as if fruit were a stream; single fruit come on top. The transfer is empty at first.

    Examples
    --------
    >>> round(excess_fruit(6.0, 5.0, 6.0, 1.0), 9)
    12.0
    >>> excess_fruit(6.0, 5.0, 6.0, 1.0, 4.0)
    0.0

    References
    ----------
    .. [1] Balance of fruit at the transfer over even ramps
    """
    _check_transfer(up_flow_1_s, up_ramp_s, down_flow_1_s, down_ramp_s, delay_s)
    return _most_waiting(
        _Ramp(0.0, up_ramp_s, up_flow_1_s, 0.0),
        _Ramp(delay_s, delay_s + down_ramp_s, down_flow_1_s, 0.0),
    )


def start_excess_fruit(
    up_flow_1_s: float,
    up_ramp_s: float,
    down_flow_1_s: float,
    down_ramp_s: float,
    delay_s: float = 0.0,
) -> float:
    """Most fruit that waits at a transfer while two loaded stations start.

    Parameters
    ----------
    up_flow_1_s : float
        Fruit that the station before delivers at speed [1/s]
    up_ramp_s : float
        Its ramp to speed [s]
    down_flow_1_s : float
        Fruit that the station after can take away at speed; at least what is delivered [1/s]
    down_ramp_s : float
        Its ramp to speed [s]
    delay_s : float
        How much later the station *before* is told to start; below zero it is told first [s]

    Returns
    -------
    float
        Fruit [-]

    Raises
    ------
    RangeError
        As :func:`excess_fruit`

    Examples
    --------
    >>> round(start_excess_fruit(6.0, 1.0, 6.0, 5.0), 9)
    12.0
    >>> start_excess_fruit(6.0, 1.0, 6.0, 5.0, 4.0)
    0.0

    References
    ----------
    .. [1] Balance of fruit at the transfer over even ramps
    """
    _check_transfer(up_flow_1_s, up_ramp_s, down_flow_1_s, down_ramp_s, delay_s)
    return _most_waiting(
        _Ramp(delay_s, delay_s + up_ramp_s, 0.0, up_flow_1_s),
        _Ramp(0.0, down_ramp_s, 0.0, down_flow_1_s),
    )


def delay_needed_s(
    up_flow_1_s: float, up_ramp_s: float, down_flow_1_s: float, down_ramp_s: float
) -> float:
    r"""Least delay of the station after, so that no fruit waits while both stop.

    .. math:: t = \max\left(T_u - T_d, \; -T_d \left(1 - \frac{q_u}{q_d}\right)\right)

    Parameters
    ----------
    up_flow_1_s : float
        Fruit that the station before delivers at speed, :math:`q_u` [1/s]
    up_ramp_s : float
        Its ramp to a stop, :math:`T_u` [s]
    down_flow_1_s : float
        Fruit that the station after can take away at speed, :math:`q_d` [1/s]
    down_ramp_s : float
        Its ramp to a stop, :math:`T_d` [s]

    Returns
    -------
    float
        How much later it is told to stop; below zero it may be told that much sooner [s]

    Raises
    ------
    RangeError
        As :func:`excess_fruit`

    Examples
    --------
    >>> delay_needed_s(6.0, 5.0, 6.0, 1.0)
    4.0
    >>> delay_needed_s(6.0, 1.0, 8.0, 5.0)
    -1.25

    References
    ----------
    .. [1] Balance of fruit at the transfer over even ramps
    """
    _check_transfer(up_flow_1_s, up_ramp_s, down_flow_1_s, down_ramp_s)
    return max(up_ramp_s - down_ramp_s, -down_ramp_s * _room(up_flow_1_s, down_flow_1_s))


def start_delay_needed_s(
    up_flow_1_s: float, up_ramp_s: float, down_flow_1_s: float, down_ramp_s: float
) -> float:
    r"""Least delay of the station before, so that no fruit waits while both start.

    .. math:: t = \max\left(0, \; T_d \, \frac{q_u}{q_d} - T_u\right)

    Parameters
    ----------
    up_flow_1_s : float
        Fruit that the station before delivers at speed, :math:`q_u` [1/s]
    up_ramp_s : float
        Its ramp to speed, :math:`T_u` [s]
    down_flow_1_s : float
        Fruit that the station after can take away at speed, :math:`q_d` [1/s]
    down_ramp_s : float
        Its ramp to speed, :math:`T_d` [s]

    Returns
    -------
    float
        How much later it is told to start [s]

    Raises
    ------
    RangeError
        As :func:`excess_fruit`

    Examples
    --------
    >>> start_delay_needed_s(6.0, 1.0, 6.0, 5.0)
    4.0
    >>> start_delay_needed_s(6.0, 5.0, 6.0, 1.0)
    0.0

    References
    ----------
    .. [1] Balance of fruit at the transfer over even ramps
    """
    _check_transfer(up_flow_1_s, up_ramp_s, down_flow_1_s, down_ramp_s)
    room = _room(up_flow_1_s, down_flow_1_s)
    return max(0.0, down_ramp_s * (1.0 - room) - up_ramp_s)


def fruit_left(
    length_m: float,
    flow_1_s: float,
    speed_m_s: float,
    stop_s: float = 0.0,
    up_stop_s: float = 0.0,
) -> float:
    r"""Fruit on a station after all have been stopped at one moment, as by an emergency stop.

    .. math:: N = q \left(\frac{L}{v} + \frac{T_u - T}{2}\right)

    Parameters
    ----------
    length_m : float
        Length that carries fruit, *L* [m]
    flow_1_s : float
        Fruit over the station before the stop, *q* [1/s]
    speed_m_s : float
        Speed at which fruit went along, *v* [m/s]
    stop_s : float
        Time until this station stood, *T*: its ramp, or its coasting [s]
    up_stop_s : float
        Time until the one before it stood, :math:`T_u` [s]

    Returns
    -------
    float
        Fruit, with what waits at its entrance; none where it has emptied itself [-]

    Raises
    ------
    RangeError
        Length or speed not above zero, or flow or a time below zero

    Notes
    -----
    Stop category 0 of IEC 60204-1 takes the power away: give the time of :func:`coast_time_s`. In
    category 1 it is the ramp of the drive. Clear by hand only with the line locked out, as local
    code and the site's procedure say.

    Examples
    --------
    >>> fruit_left(3.0, 6.0, 0.5)
    36.0
    >>> fruit_left(3.0, 6.0, 0.5, stop_s=0.4, up_stop_s=1.4)
    39.0

    References
    ----------
    .. [1] Little, *A proof for the queuing formula L = λW*, Operations Research 9 (1961), 383
    .. [2] IEC 60204-1, stop categories (from memory)
    """
    checks.positive(length_m, "the length of the station", "m")
    checks.not_negative(flow_1_s, "the flow of fruit", "1/s")
    checks.positive(speed_m_s, "the speed", "m/s")
    checks.not_negative(stop_s, "the time to a stop", "s")
    checks.not_negative(up_stop_s, "the time to a stop of the station before", "s")
    return flow_1_s * max(0.0, length_m / speed_m_s + 0.5 * (up_stop_s - stop_s))


def stop_times_s(stations: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    r"""When to tell each station of a row to stop, so that nothing piles up.

    .. math:: t_{i+1} = t_i + \max(0, \; T_i - h_{i+1}), \qquad
        h = T - \sqrt{2 \, T \, c} \;\; (c \le T / 2), \quad h = \frac{T}{2} - c \;\; (c > T / 2)

    Parameters
    ----------
    stations : Sequence[tuple[float, float]]
        From the feed on: ramp to a stop, *T*, and time at speed that fruit needs over the station,
        *c*, where it is to be cleared; 0 where fruit may stay on it [s]

    Returns
    -------
    tuple[float, ...]
        Time after the first is told, for each [s]

    Raises
    ------
    RangeError
        No station, or a time below zero

    Notes
    -----
    *h* is how long before the last fruit arrives the station may be told: it still carries that
    fruit off on its ramp. Each station takes at least what the one before delivers. For a normal
    stop; an emergency stop waits for nothing.

    Examples
    --------
    >>> stop_times_s(((5.0, 0.0), (1.0, 0.0), (2.0, 0.0)))
    (0.0, 4.0, 4.0)
    >>> stop_times_s(((2.0, 0.0), (2.0, 10.0)))
    (0.0, 11.0)

    References
    ----------
    .. [1] Balance of fruit at each transfer; travel on an even ramp
    """
    _check_row(stations)
    times_s = [0.0]
    for (up_ramp_s, _up_clear_s), (ramp_s, clear_s) in pairwise(stations):
        times_s.append(times_s[-1] + max(0.0, up_ramp_s - _head_start_s(ramp_s, clear_s)))
    return tuple(times_s)


def start_times_s(ramps_s: Sequence[float]) -> tuple[float, ...]:
    r"""When to tell each station of a row to start: the last first, the feed at the end.

    .. math:: t_i = t_{i+1} + \max(0, \; T_{i+1} - T_i)

    Parameters
    ----------
    ramps_s : Sequence[float]
        Ramp to speed of each station, from the feed on, *T* [s]

    Returns
    -------
    tuple[float, ...]
        Time after the last is told, for each, from the feed on [s]

    Raises
    ------
    RangeError
        No station, or a ramp below zero

    Notes
    -----
    For stations that carry fruit from the last stop; each takes at least what the one before
    delivers. Warn before anything moves, as local code asks.

    Examples
    --------
    >>> start_times_s((1.0, 5.0, 2.0))
    (4.0, 0.0, 0.0)

    References
    ----------
    .. [1] Balance of fruit at each transfer
    """
    _check_row([(ramp_s, 0.0) for ramp_s in ramps_s])
    times_s = [0.0]
    for down_ramp_s, ramp_s in pairwise(reversed(ramps_s)):
        times_s.append(times_s[-1] + max(0.0, down_ramp_s - ramp_s))
    return tuple(reversed(times_s))


def _head_start_s(ramp_s: float, clear_s: float) -> float:
    """How long before its last fruit arrives a station may be told to stop and still clear it."""
    if clear_s <= 0.5 * ramp_s:
        return ramp_s - math.sqrt(2.0 * ramp_s * clear_s)
    return 0.5 * ramp_s - clear_s


def _most_waiting(up: _Ramp, down: _Ramp) -> float:
    waiting = most = 0.0
    corners_s = sorted({up.start_s, up.end_s, down.start_s, down.end_s})
    for early_s, late_s in pairwise(corners_s):
        flows_1_s = zip(up.between(early_s, late_s), down.between(early_s, late_s), strict=True)
        first_1_s, last_1_s = (delivered - taken for delivered, taken in flows_1_s)
        for gain in _gains(first_1_s, last_1_s, late_s - early_s):
            waiting = max(0.0, waiting + gain)
            most = max(most, waiting)
    return most


def _gains(first_1_s: float, last_1_s: float, time_s: float) -> Iterator[float]:
    """What an even change of rate brings, in one piece or, where its sign changes, in two."""
    if first_1_s * last_1_s >= 0.0:
        yield 0.5 * (first_1_s + last_1_s) * time_s
        return
    turn_s = time_s * first_1_s / (first_1_s - last_1_s)
    yield 0.5 * first_1_s * turn_s
    yield 0.5 * last_1_s * (time_s - turn_s)


def _room(up_flow_1_s: float, down_flow_1_s: float) -> float:
    """Share of what the station after can take that is not used; all of it without fruit."""
    return 1.0 - up_flow_1_s / down_flow_1_s if up_flow_1_s else 1.0


def _check_transfer(
    up_flow_1_s: float,
    up_ramp_s: float,
    down_flow_1_s: float,
    down_ramp_s: float,
    delay_s: float = 0.0,
) -> None:
    checks.not_negative(up_flow_1_s, "the flow of the station before", "1/s")
    checks.not_negative(down_flow_1_s, "the flow of the station after", "1/s")
    checks.not_negative(up_ramp_s, "the ramp of the station before", "s")
    checks.not_negative(down_ramp_s, "the ramp of the station after", "s")
    checks.finite(delay_s, "the delay", "s")
    if up_flow_1_s > down_flow_1_s:
        raise RangeError(
            "The transfer was not reckoned.",
            f"{up_flow_1_s:.4g} fruit/s arrive and {down_flow_1_s:.4g} can be taken away: "
            "it piles up at speed already.",
            "Raise the speed of the station after, or feed less.",
        )


def _check_row(stations: Sequence[tuple[float, float]]) -> None:
    if not stations:
        raise RangeError("No order was made.", "The row is empty.", "Give one station at least.")
    for ramp_s, clear_s in stations:
        checks.not_negative(ramp_s, "the ramp of a station", "s")
        checks.not_negative(clear_s, "the time to clear a station", "s")
