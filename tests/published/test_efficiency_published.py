"""Efficiency limits against the tables of the standards, and typical currents against each other.

The program computes the IEC limits from the coefficients of the law; the cells here are those of
the standard's printed table, so the two come from different places.
"""

import csv
from functools import partial
from pathlib import Path

from core.calc import efficiency, motor_current
from tests.published.checks import Check, every, series

HP_W = 745.69987  # 550 ft lbf/s
DATA = Path(__file__).parent / "data" / "iec_60034_30_1_50hz.csv"


def percent(share):
    return 100.0 * share


def table_cells():
    with DATA.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            arguments = (float(row["kw"]) * 1e3, row["class"], int(row["poles"]))
            yield Check(
                function=efficiency.iec_efficiency,
                case=f"{row['class']}, {row['kw']} kW, {row['poles']} poles",
                got=partial(lambda given: percent(efficiency.iec_efficiency(*given)), arguments),
                expected=float(row["percent"]),
                tolerance=0.01,
                unit="%",
                source=row["source"],
                status=row["status"],
            )


BETWEEN_RATINGS = series(
    efficiency.iec_efficiency,
    [
        ("IE3, 1.3 kW, 2 poles", (1300.0, "IE3", 2), 83.53),
        ("IE3, 3.5 kW, 4 poles", (3500.0, "IE3", 4), 88.21),
        ("IE3, 0.9 kW, 6 poles", (900.0, "IE3", 6), 79.92),
        ("IE3, 0.30 kW, 4 poles", (300.0, "IE3", 4), 75.30),
        ("IE3, 6.3 kW, 2 poles", (6300.0, "IE3", 2), 89.60),
        ("IE2, 1.3 kW, 2 poles", (1300.0, "IE2", 2), 80.52),
        ("IE2, 3.5 kW, 4 poles", (3500.0, "IE2", 4), 86.09),
        ("IE2, 0.9 kW, 6 poles", (900.0, "IE2", 6), 76.95),
        ("IE2, 0.30 kW, 4 poles", (300.0, "IE2", 4), 70.47),
        ("IE2, 6.3 kW, 2 poles", (6300.0, "IE2", 2), 87.54),
    ],
    of=percent,
    unit="%",
    tolerance=0.051,  # the law rounds to 0.1
    source="Regulation (EU) 2019/1781 Annex I = UK SI 2021/745 Schedule 16, formula and tables",
    status="formula",
)

FIRST_CLASS = series(
    efficiency.iec_efficiency,
    [
        ("IE1, 0.75 kW, 4 poles", (750.0, "IE1", 4), 72.1),
        ("IE1, 1.5 kW, 2 poles", (1500.0, "IE1", 2), 77.2),
        ("IE1, 4 kW, 6 poles", (4000.0, "IE1", 6), 81.4),
        ("IE1, 7.5 kW, 4 poles", (7500.0, "IE1", 4), 86.0),
    ],
    of=percent,
    unit="%",
    tolerance=0.01,
    source="IEC 60034-30:2008, table of nominal efficiency IE1",
    status="seen",
)

NEMA = series(
    efficiency.nema_efficiency,
    [
        ("premium, 1 hp, 4 poles, enclosed", (HP_W, "premium", 4), 85.5),
        ("premium, 1.5 hp, 6 poles, enclosed", (1.5 * HP_W, "premium", 6), 87.5),
        ("premium, 3 hp, 4 poles, enclosed", (3 * HP_W, "premium", 4), 89.5),
        ("premium, 5 hp, 2 poles, enclosed", (5 * HP_W, "premium", 2), 88.5),
        ("premium, 7.5 hp, 4 poles, enclosed", (7.5 * HP_W, "premium", 4), 91.7),
        ("premium, 10 hp, 6 poles, enclosed", (10 * HP_W, "premium", 6), 91.0),
        ("premium, 1 hp, 2 poles, enclosed", (HP_W, "premium", 2), 77.0),
        ("premium, 1.5 hp, 4 poles, enclosed", (1.5 * HP_W, "premium", 4), 86.5),
        ("premium, 2 hp, 6 poles, enclosed", (2 * HP_W, "premium", 6), 88.5),
        ("premium, 2.4 hp counts as 2 hp", (2.4 * HP_W, "premium", 4), 86.5),
        ("premium, 2.5 hp counts as 3 hp", (2.5 * HP_W, "premium", 4), 89.5),
        ("energy efficient, 1 hp, 4 poles, enclosed", (HP_W, "energy_efficient", 4), 82.5),
        ("energy efficient, 2 hp, 4 poles, enclosed", (2 * HP_W, "energy_efficient", 4), 84.0),
        ("energy efficient, 3 hp, 6 poles, enclosed", (3 * HP_W, "energy_efficient", 6), 87.5),
        ("energy efficient, 5 hp, 4 poles, enclosed", (5 * HP_W, "energy_efficient", 4), 87.5),
        ("energy efficient, 10 hp, 2 poles, enclosed", (10 * HP_W, "energy_efficient", 2), 89.5),
    ],
    of=percent,
    unit="%",
    tolerance=0.01,
    source="NEMA MG 1 tables 12-11 and 12-12; 10 CFR 431.25 with its midpoint rule",
    status="seen",
)

OPEN = tuple(
    Check(
        function=efficiency.nema_efficiency,
        case=f"{motor_class.replace('_', ' ')}, {hp:g} hp, {poles} poles, open",
        got=partial(
            lambda *given: percent(efficiency.nema_efficiency(*given, enclosed=False)),
            hp * HP_W,
            motor_class,
            poles,
        ),
        expected=expected,
        tolerance=0.01,
        unit="%",
        source="NEMA MG 1 tables 12-11 and 12-12; 10 CFR 431.25",
        status="seen",
    )
    for motor_class, hp, poles, expected in (
        ("premium", 3, 2, 85.5),
        ("premium", 5, 2, 86.5),
        ("premium", 7.5, 4, 91.0),
        ("premium", 10, 6, 91.7),
        ("energy_efficient", 1.5, 2, 82.5),
        ("energy_efficient", 3, 4, 86.5),
        ("energy_efficient", 10, 6, 90.2),
    )
)

SMALL_MOTORS = series(
    efficiency.small_motor_efficiency,
    [
        ("polyphase, 1/4 hp, 4 poles", (HP_W / 4, "polyphase", 4), 69.5),
        ("polyphase, 1/3 hp, 6 poles", (HP_W / 3, "polyphase", 6), 71.4),
        ("polyphase, 1/2 hp, 4 poles", (HP_W / 2, "polyphase", 4), 78.2),
        ("polyphase, 3/4 hp, 2 poles", (0.75 * HP_W, "polyphase", 2), 76.8),
        ("polyphase, 3 hp, 4 poles", (3 * HP_W, "polyphase", 4), 86.9),
        ("capacitor start, 1/2 hp, 4 poles", (HP_W / 2, "capacitor_start", 4), 76.2),
        ("capacitor start, 3/4 hp, 6 poles", (0.75 * HP_W, "capacitor_start", 6), 80.2),
        ("capacitor start, 1 hp, 4 poles", (HP_W, "capacitor_start", 4), 82.6),
    ],
    of=percent,
    unit="%",
    tolerance=0.01,
    source="10 CFR 431.446, small electric motors",
    status="seen",
)

# The program scales its one column from 400 V; the trade's table prints the other voltages apart.
TYPICAL = series(
    motor_current.typical_current_a,
    [
        ("0.75 kW, 220 V", (750.0, 220.0), 3.5),
        ("1.5 kW, 220 V", (1500.0, 220.0), 6.1),
        ("2.2 kW, 220 V", (2200.0, 220.0), 8.7),
        ("4 kW, 220 V", (4000.0, 220.0), 14.5),
        ("1.5 kW, 380 V", (1500.0, 380.0), 3.5),
        ("2.2 kW, 415 V", (2200.0, 415.0), 5.0),
        ("5.5 kW, 415 V", (5500.0, 415.0), 11.0),
    ],
    unit="A",
    tolerance=0.45,  # the columns are rounded by themselves and differ by up to 8 %
    source="typical full-load currents of four-pole motors, columns of a trade table",
    status="seen",
)

GUIDE = series(
    motor_current.typical_current_a,
    [
        ("0.75 kW, 230 V, guide value", (750.0, 230.0), 3.3),
        ("1.5 kW, 230 V, guide value", (1500.0, 230.0), 6.3),
        ("2.2 kW, 400 V, guide value", (2200.0, 400.0), 4.9),
        ("3 kW, 400 V, guide value", (3000.0, 400.0), 6.5),
    ],
    unit="A",
    tolerance=0.45,
    source="IEC 60947-4-1:2018 annex G, rated operational currents of motors",
    status="from memory",
)

CHECKS = (
    *table_cells(),
    *BETWEEN_RATINGS,
    *FIRST_CLASS,
    *NEMA,
    *OPEN,
    *SMALL_MOTORS,
    *TYPICAL,
    *GUIDE,
)


def test_every_cell_of_three_classes_is_there():
    assert sum(1 for _cell in table_cells()) == 3 * 15 * 4


@every(CHECKS)
def test_published_value(check):
    check.verify()
