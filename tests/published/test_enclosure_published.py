"""Enclosure heat against the printed area formulas and the trade's fan and wall rules."""

import pytest

from core.calc import enclosure
from tests.published.checks import every, series

CUBIC_METRES_AN_HOUR = 3600.0
CFM_M3_S = 0.3048**3 / 60.0
MOUNTINGS = (
    "single_free",
    "single_wall",
    "end_free",
    "end_wall",
    "middle_free",
    "middle_wall",
    "middle_wall_covered",
)
BOXES = {
    (0.8, 0.6, 0.25): (1.434, 1.242, 1.354, 1.162, 1.274, 1.082, 0.977),
    (0.5, 0.4, 0.2): (0.652, 0.572, 0.612, 0.532, 0.572, 0.492, 0.436),
    (1.0, 0.8, 0.3): (2.316, 1.996, 2.196, 1.876, 2.076, 1.756, 1.588),
}

AREAS = series(
    enclosure.effective_area_m2,
    [
        (f"{box[0]} x {box[1]} x {box[2]} m, {mounting.replace('_', ' ')}", (*box, mounting), area)
        for box, areas in BOXES.items()
        for mounting, area in zip(MOUNTINGS, areas, strict=True)
    ],
    unit="m²",
    tolerance=0.0006,
    source="IEC TR 60890, formulas of the effective area by mounting",
    status="from memory",
)

RISES = series(
    enclosure.inside_rise_k,
    [
        ("500 W, 6.06 m², painted steel", (500.0, 6.06, 5.5), 15.0),
    ],
    unit="K",
    tolerance=0.006,
    source="simple rule of enclosure cooling, worked example of a trade page for 500 W and 15 K",
    status="seen",
)

BY_HAND = (
    *series(
        enclosure.inside_rise_k,
        [
            # 60 / (5.5·1.242); with 50 m³/h beside it 60 / (6.831 + 50 / 3.1)
            ("60 W, 1.242 m², painted steel", (60.0, 1.242, 5.5), 8.783),
            ("60 W, 1.242 m², painted steel, fan 50 m³/h", (60.0, 1.242, 5.5, 50 / 3600), 2.613),
        ],
        unit="K",
        tolerance=0.0006,
        source="simple rule of enclosure cooling, P / (k A + V / 3.1)",
        status="by hand",
    ),
    *series(
        enclosure.allowed_heat_w,
        [
            # 10·5.5·1.242; 5·(3.7·0.572)
            ("painted steel, 1.242 m², 50 in 40 °C", (323.15, 313.15, 1.242, 5.5), 68.31),
            ("stainless steel, 0.572 m², 45 in 40 °C", (318.15, 313.15, 0.572, 3.7), 10.582),
        ],
        unit="W",
        tolerance=0.0006,
        source="simple rule of enclosure cooling, k A ΔT",
        status="by hand",
    ),
)

# Memory of the law's figures, and the straight line between two of them. Never a class.
LOSSES = (
    *series(
        enclosure.drive_losses_w,
        [
            ("0.37 kW", (None, 370.0), 117.0),
            ("0.75 kW", (None, 750.0), 142.0),
            ("1.5 kW", (None, 1500.0), 188.0),
            ("2.2 kW", (None, 2200.0), 237.0),
            ("4 kW", (None, 4000.0), 374.0),
            ("7.5 kW", (None, 7500.0), 581.0),
        ],
        of=lambda losses: losses.value,
        unit="W",
        tolerance=1e-6,
        source="Regulation (EU) 2019/1781 Annex I, reference losses of three-phase-input drives",
        status="from memory",
    ),
    *series(
        enclosure.drive_losses_w,
        # 188 + (237 - 188)·(1.85 - 1.5) / (2.2 - 1.5)
        [("1.85 kW, halfway between two ratings", (None, 1850.0), 212.5)],
        of=lambda losses: losses.value,
        unit="W",
        tolerance=1e-6,
        source="straight line between the ratings of Regulation (EU) 2019/1781 Annex I",
        status="by hand",
    ),
)

FANS = series(
    enclosure.fan_flow_m3_s,
    [
        ("100 W, 10 K", (100.0, 10.0), 31.0),
        ("250 W, 15 K", (250.0, 15.0), 51.7),
        ("60 W, 5 K", (60.0, 5.0), 37.2),
        ("150 W, 8 K", (150.0, 8.0), 58.1),
    ],
    of=lambda flow_m3_s: flow_m3_s * CUBIC_METRES_AN_HOUR,
    unit="m³/h",
    tolerance=0.06,
    source="trade's fan rule, 3.1 P / ΔT",
    status="common practice",
)

US_FANS = series(
    enclosure.fan_flow_m3_s,
    [("100 W, 20 °F", (100.0, 20.0 / 1.8), 15.8)],
    of=lambda flow_m3_s: flow_m3_s / CFM_M3_S,
    unit="cfm",
    # 3.16 stands for air at 20 °C at sea level, 3.1 for slightly thinner air: 4 % apart
    tolerance=0.7,
    source="US trade's fan rule, 3.16 P / ΔT in °F",
    status="common practice",
)

WALLS = series(
    enclosure.wall_conductance_w_m2_k,
    [
        ("painted steel", ("painted_steel",), 5.5),
        ("stainless steel", ("stainless_steel",), 3.7),
        ("aluminium", ("aluminium",), 12.0),
        ("plastic", ("plastic",), 3.5),
    ],
    unit="W/(m² K)",
    tolerance=1e-9,
    source="trade page on natural cooling of enclosures",
    status="common practice",
)

AIR = series(
    enclosure.air_heat_j_m3_k,
    [
        # Pressure of the standard atmosphere over that at sea level, 1013.25 hPa
        ("1000 m, share of sea level", (1000.0,), 898.76 / 1013.25),
        ("2000 m, share of sea level", (2000.0,), 795.01 / 1013.25),
        ("3000 m, share of sea level", (3000.0,), 701.21 / 1013.25),
    ],
    of=lambda heat: heat * 3.1 / 3600.0,
    tolerance=5e-4,
    source="ISO 2533 standard atmosphere, table of pressure",
    status="from memory",
)

CHECKS = (*AREAS, *RISES, *BY_HAND, *LOSSES, *FANS, *US_FANS, *WALLS, *AIR)


@every(CHECKS)
def test_published_value(check):
    check.verify()


@pytest.mark.parametrize(
    "wrong",
    [
        # Three formulas for a box on a wall that stand in public code and are wrong.
        lambda h, w, d: 1.4 * w * h + 0.7 * w * d + 1.8 * d * h,
        lambda h, w, d: 1.4 * w * d + 0.9 * h * d + 1.8 * h * w,
        lambda h, w, d: 1.4 * w * d + 0.9 * d * h + w * h + 0.5 * d * h,
    ],
)
def test_none_of_the_wrong_formulas_in_circulation(wrong):
    computed = enclosure.effective_area_m2(0.8, 0.6, 0.25, "single_wall")
    assert abs(computed - wrong(0.8, 0.6, 0.25)) > 0.005
