"""How fruit rolls on belts against Newton's law, integrated.

A ball with Coulomb friction at its contacts: it knows nothing of the closed forms that the program
uses.
"""

import math
from functools import cache, partial

import numpy as np
from scipy import integrate

from core.calc import belt_pair, transfer
from tests.published.checks import every, series

MM = 1e-3
GRAVITY = 9.80665
NEWTON = "fruit as a ball on moving belts, Coulomb friction, integrated by scipy"
FRICTION = 0.4
SLIP_M_S = 2e-4  # friction grows to its full size over so much slip


def pulled(slip, normal):
    """Friction by Coulomb on a point that slips, for a normal force."""
    return -FRICTION * normal * slip / math.sqrt(float(slip @ slip) + SLIP_M_S**2)


@cache
def ball_in_vee(first_m_s, second_m_s, diameter_m, slope_rad, time_s=2.0):
    """Speed along the V and spin of a ball of unit mass that was laid into it at rest."""
    radius, inertia = diameter_m / 2, 0.4 * (diameter_m / 2) ** 2
    normal = GRAVITY / 2 / math.cos(slope_rad)
    side, down = math.sin(slope_rad), -math.cos(slope_rad)
    # x along the travel, y to its left, z up; the first belt lies on the right.
    contacts = [
        (radius * np.array([0.0, way * side, down]), np.array([speed, 0.0, 0.0]))
        for way, speed in ((-1, first_m_s), (1, second_m_s))
    ]

    def motion(_time, state):
        along, spin = np.array([state[0], 0.0, 0.0]), state[1:]
        force, torque = 0.0, np.zeros(3)
        for arm, belt in contacts:
            push = pulled(along + np.cross(spin, arm) - belt, normal)
            force += push[0]
            torque += np.cross(arm, push)
        return [force, *(torque / inertia)]

    path = integrate.solve_ivp(motion, (0.0, time_s), [0.0] * 4, "LSODA", rtol=1e-9, atol=1e-9)
    return path.y[:, -1]


def turning_in_vee(*arguments):
    """Spin about the vertical, which in a V is its middle."""
    return float(ball_in_vee(*arguments)[3])


def share_after_sliding(slope_rad):
    """Part of the belts' speed that a ball has when it has ceased to slide."""
    return float(ball_in_vee(0.4, 0.4, 0.06, slope_rad)[0]) / 0.4


@cache
def ball_on_flat_belt(start_m_s, belt_m_s, resistance):
    """Time and way of a ball with rolling resistance until it moves with the belt."""
    radius = 0.03

    def motion(_time, state):
        _way, speed, spin = state  # spin carries the bottom forward
        slip = speed + radius * spin - belt_m_s
        friction = -FRICTION * GRAVITY * slip / math.hypot(slip, SLIP_M_S)
        braking = resistance * GRAVITY * radius * math.copysign(1.0, belt_m_s - start_m_s)
        return [speed, friction, (friction * radius - braking) / (0.4 * radius**2)]

    def settled(_time, state):
        return belt_m_s - state[1]

    settled.terminal = True
    path = integrate.solve_ivp(
        motion,
        (0.0, 5.0),
        [0.0, start_m_s, 0.0],
        "LSODA",
        events=settled,
        rtol=1e-9,
        atol=1e-10,
    )
    return float(path.t[-1]), float(path.y[0, -1])


VEES = [
    (0.44, 0.40, 0.061, 45),
    (0.25, 0.23, 0.060, 30),
    (0.50, 0.46, 0.075, 40),
    (0.274, 0.253, 0.050, 45),
    (0.211, 0.2274, 0.06096, 45),
    (0.40, 0.20, 0.080, 60),
]
STEPS = [(0.0, 0.25, 0.05), (0.22, 0.34, 0.05), (0.26, 0.50, 0.08), (0.50, 0.30, 0.05)]
CHECKS = (
    *(
        check
        for first, second, diameter, degrees in VEES
        for arguments in [(first, second, diameter, math.radians(degrees))]
        for check in series(
            belt_pair.turning_rad_s,
            [
                (
                    f"belts {first:g} and {second:g} m/s, {diameter / MM:g} mm, {degrees}°",
                    arguments,
                    partial(turning_in_vee, *arguments),
                )
            ],
            unit="rad/s",
            tolerance=2e-3,
            source=NEWTON,
            status="library",
        )
    ),
    *(
        check
        for degrees in (1, 20, 30, 45, 60)
        for check in series(
            transfer.settled_share,
            [
                (
                    f"V of {degrees}°",
                    (math.radians(degrees),),
                    partial(share_after_sliding, math.radians(degrees)),
                )
            ],
            tolerance=2e-3,
            source=NEWTON,
            status="library",
        )
    ),
    *(
        check
        for start, belt, resistance in STEPS
        for case in [f"from {start:g} to {belt:g} m/s, resistance {resistance:g}"]
        for check in (
            *series(
                transfer.settling_time_s,
                [
                    (
                        case,
                        (belt - start, resistance),
                        lambda given=(start, belt, resistance): ball_on_flat_belt(*given)[0],
                    )
                ],
                unit="s",
                tolerance=5e-3,
                source=NEWTON,
                status="library",
            ),
            *series(
                transfer.settling_length_m,
                [
                    (
                        case,
                        (start, belt, resistance),
                        lambda given=(start, belt, resistance): ball_on_flat_belt(*given)[1],
                    )
                ],
                unit="m",
                tolerance=4e-3,
                source=NEWTON,
                status="library",
            ),
        )
    ),
)


@every(CHECKS)
def test_against_newton(check):
    check.verify()
