"""Voltage drop against the power-flow solution of an independent library."""

import math
from functools import cache

from core.calc import nec_impedance, voltage_drop
from core.units import gauge_area
from tests.published.checks import Check, every

SQRT3 = math.sqrt(3.0)


@cache
def solved(volts, watts, power_factor, metres, ohm_m, reactance_ohm_m):
    """Line current and line-to-line drop of one three-phase load at the end of one line."""
    import pandapower

    net = pandapower.create_empty_network()
    start, end = (pandapower.create_bus(net, vn_kv=volts / 1e3) for _ in range(2))
    pandapower.create_ext_grid(net, start)
    pandapower.create_line_from_parameters(
        net,
        start,
        end,
        length_km=metres / 1e3,
        r_ohm_per_km=ohm_m * 1e3,
        x_ohm_per_km=reactance_ohm_m * 1e3,
        c_nf_per_km=0.0,
        max_i_ka=1.0,
    )
    reactive = watts * math.tan(math.acos(power_factor))
    pandapower.create_load(net, end, p_mw=watts / 1e6, q_mvar=reactive / 1e6)
    pandapower.runpp(net, numba=False, tolerance_mva=1e-12)
    current_a = float(net.res_line.i_ka.iloc[0]) * 1e3
    return current_a, volts * (1.0 - float(net.res_bus.vm_pu.iloc[1]))


def with_three_phases(volts, watts, power_factor, metres, ohm_m, reactance_ohm_m):
    """Library's line current and drop on a three-phase run."""
    return solved(volts, watts, power_factor, metres, ohm_m, reactance_ohm_m)


def with_one_phase(volts, watts, power_factor, metres, ohm_m, reactance_ohm_m):
    """The same with two conductors: one phase of a three-phase net of √3 times the voltage.

    Both conductors are in the loop, so the line has twice the impedance; three such loads make
    the net balanced.
    """
    current_a, drop_v = solved(
        SQRT3 * volts, 3.0 * watts, power_factor, metres, 2.0 * ohm_m, 2.0 * reactance_ohm_m
    )
    return current_a, drop_v / SQRT3


SOLVERS = {1: with_one_phase, 3: with_three_phases}


def run_check(case, phases, volts, watts, power_factor, metres, ohm_m, reactance_ohm_m):
    """Our drop for the current that the library found, against the library's drop."""
    inputs = (volts, watts, power_factor, metres, ohm_m, reactance_ohm_m)

    def got():
        current_a, _ = SOLVERS[phases](*inputs)
        impedance = voltage_drop.drop_impedance_ohm_m(ohm_m, reactance_ohm_m, power_factor)
        return 100 * voltage_drop.voltage_drop(current_a, metres, impedance, volts, phases).share

    return Check(
        function=voltage_drop.voltage_drop,
        case=case,
        got=got,
        expected=lambda: 100 * SOLVERS[phases](*inputs)[1] / volts,
        # What the formula leaves out, the part at right angles, is this small on these runs.
        tolerance=0.008,
        unit="%",
        source="pandapower 3, Newton-Raphson power flow of one line and load",
        status="library",
    )


def in_pvc(gauge):
    """Resistance and reactance of a conductor in PVC by the NEC's table."""
    found = nec_impedance.impedance(gauge_area(gauge), "pvc")
    return found.resistance_ohm_m, found.reactance_ohm_m


def of_mm2(mm2):
    """Resistance and reactance of a conductor by Annex G."""
    return 22.5e-3 / mm2, 0.08e-3


# Phases, volts, watts, power factor, metres, ohm and reactance of one conductor for each metre.
CHECKS = (
    run_check("400 V, 2.2 kW motor, 50 m of 2.5 mm²", 3, 400, 2538, 0.8, 50, *of_mm2(2.5)),
    run_check("400 V, 4 kW motor, 80 m of 4 mm²", 3, 400, 4515, 0.82, 80, *of_mm2(4)),
    run_check("230 V, 3 hp motor, 150 ft of 12 AWG", 3, 230, 2500, 0.8, 45.72, *in_pvc(12)),
    run_check("480 V, 10 hp motor, 300 ft of 10 AWG", 3, 480, 8132, 0.85, 91.44, *in_pvc(10)),
    run_check("240 V one phase, 2.4 kVA, 100 ft, 12 AWG", 1, 240, 1680, 0.7, 30.48, *in_pvc(12)),
    run_check("120 V one phase, 700 W, 75 ft, 14 AWG", 1, 120, 700, 0.95, 22.86, *in_pvc(14)),
    run_check("230 V one phase, 1.5 kW, 40 m, 2.5 mm²", 1, 230, 1500, 0.98, 40, *of_mm2(2.5)),
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
