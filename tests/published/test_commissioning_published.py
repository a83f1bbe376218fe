"""Insulation, earth, calibration and frozen records against the outside."""

from functools import cache

import numpy as np

from core.calc import calibration, earth_test, insulation
from core.calc.calibration import Reading
from core.records import canonical, canonical_json, digest
from tests.published.checks import every, series

IEC_6 = "IEC 60364-6:2016, table 6A"
IEEE = "IEEE 43-2013"

INSULATION = (
    *series(
        insulation.iec_60364_6_test_v,
        [
            ("extra-low voltage, 24 V", (24.0,), 250.0),
            ("230 V", (230.0,), 500.0),
            ("500 V", (500.0,), 500.0),
            ("690 V", (690.0,), 1000.0),
        ],
        unit="V",
        tolerance=1e-9,
        source=IEC_6,
        status="from memory",
    ),
    *series(
        insulation.iec_60364_6_least_ohm,
        [("24 V", (24.0,), 0.5e6), ("400 V", (400.0,), 1e6), ("690 V", (690.0,), 1e6)],
        unit="Ω",
        tolerance=1e-3,
        source=IEC_6,
        status="from memory",
    ),
    *series(
        insulation.ieee_43_least_ohm,
        [("random wound, 460 V", (460.0,), 5e6), ("form wound, 4 kV", (4000.0, True), 100e6)],
        unit="Ω",
        tolerance=1e-3,
        source=f"{IEEE}, table 3",
        status="from memory",
    ),
    *series(
        insulation.at_reference_ohm,
        [
            # 0.5 to the power of (40 - T)/10.
            ("200 MΩ at 40 °C", (200e6, 313.15), 200e6),
            ("100 MΩ at 20 °C", (100e6, 293.15), 25e6),
            ("10 MΩ at 60 °C", (10e6, 333.15), 40e6),
            ("50 MΩ at 35 °C", (50e6, 308.15), 50e6 * 0.5**0.5),
        ],
        unit="Ω",
        tolerance=1.0,
        source=f"{IEEE}, 6.3.2: the resistance halves for every 10 °C",
        status="formula",
    ),
)

EARTH = (
    *series(
        earth_test.expected_resistance_ohm,
        [
            # IEC 60228, table 3, class 5: 13.3, 7.98 and 4.95 Ω/km are the highest allowed for
            # 1.5, 2.5 and 4 mm²; standard copper of the full section stays below.
            ("1 km of 1.5 mm²", (1000.0, 1.5e-6), 17.241 / 1.5),
            ("1 km of 2.5 mm²", (1000.0, 2.5e-6), 17.241 / 2.5),
            ("25 m of 2.5 mm²", (25.0, 2.5e-6), 0.17241),
            ("100 m of 16 mm²", (100.0, 16e-6), 0.10776),
        ],
        unit="Ω",
        tolerance=1e-5,
        source="IEC 60028: 17.241 Ω·mm²/km for annealed copper at 20 °C, by hand",
        status="by hand",
    ),
    *series(
        earth_test.highest_resistance_ohm,
        [("25 m of 2.5 mm²", (25.0, 2.5e-6), 0.17241 * 1.08 + 0.05)],
        unit="Ω",
        tolerance=1e-4,
        source="0.00393 1/K over some 20 K, and 0.05 Ω of joints (common practice)",
        status="by hand",
    ),
)

_PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)


@cache
def run(number):
    """Readings up and down with an error of zero and span, a bow, a lag, and scatter."""
    rng = np.random.default_rng(number)
    zero, span, bow, lag = rng.normal(0.0, 0.4), 60.0 + rng.normal(0.0, 1.0), 0.5, 0.2
    readings = []
    for upwards in (True, False):
        for place in _PLACES if upwards else _PLACES[::-1]:
            hertz = zero + span * place + bow * place * (1 - place) - (lag if upwards else -lag)
            readings.append(Reading(place, hertz + rng.normal(0.0, 0.02), upwards))
    return tuple(readings)


@cache
def independent(number):
    """The same by numpy: best line by least squares, distances, and means of both ways."""
    x = np.array([reading.share for reading in run(number)])
    f = np.array([reading.frequency_hz for reading in run(number)])
    up = np.array([reading.upwards for reading in run(number)])
    span, zero = np.polyfit(x, f, 1)
    ends = [f[x == place].mean() for place in (0.0, 1.0)]
    return {
        "zero": zero,
        "span": span,
        "best": np.abs(f - np.polyval((span, zero), x)).max(),
        "terminal": np.abs(f - ends[0] - (ends[1] - ends[0]) * x).max(),
        "hysteresis": max(
            abs(f[(x == place) & up].mean() - f[(x == place) & ~up].mean()) for place in _PLACES
        ),
    }


def _read(number):
    return (run(number), 0.0, 60.0)


CALIBRATION = tuple(
    check
    for attribute, key, words in (
        ("zero_hz", "zero", "zero"),
        ("span_hz", "span", "span"),
        ("linearity_best_hz", "best", "linearity, best fit"),
        ("linearity_terminal_hz", "terminal", "linearity, terminal based"),
        ("hysteresis_hz", "hysteresis", "hysteresis"),
    )
    for check in series(
        calibration.calibrate,
        [
            (f"{words} of run {n}", _read(n), lambda n=n, key=key: float(independent(n)[key]))
            for n in (1, 2, 3)
        ],
        unit="Hz",
        tolerance=1e-9,
        source="least squares and means by numpy, on the same readings",
        status="library",
        of=lambda found, attribute=attribute: getattr(found, attribute),
    )
)


def _mended(number):
    """What zero and span are once the corrected ends are set, by numpy's own line."""
    zero, span = independent(number)["zero"], independent(number)["span"]
    return lambda ends: tuple(
        ends[0] + (ends[1] - ends[0]) * share for share in (zero / 60.0, (zero + span) / 60.0)
    )


MENDED = tuple(
    check
    for number in (1, 2)
    for place, wanted, words in ((0, 0.0, "bottom"), (1, 60.0, "top"))
    for check in series(
        calibration.corrected_ends_hz,
        [
            (
                f"{words} after the correction, run {number}",
                (calibration.calibrate(*_read(number)), 0.0, 60.0),
                wanted,
            )
        ],
        unit="Hz",
        tolerance=1e-9,
        source="linear scaling between both settings: the knob's ends give what is wanted",
        status="formula",
        of=lambda ends, number=number, place=place: float(_mended(number)(ends)[place]),
    )
)

RECORDS = (
    *series(
        digest,
        [
            ("abc", ("abc",), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
            ("nothing", ("",), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
            (
                "the 448-bit message",
                ("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",),
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
        ],
        source="FIPS 180-4 and NIST's examples of SHA-256",
        status="from memory",
    ),
    *series(
        canonical_json,
        [
            (
                f"a list of {count}",
                ({"é": 0.1, "stations": [1.0 * number for number in range(count)]},),
                '{"stations":[' + ",".join(map(str, range(count))) + '],"é":0.1}',
            )
            for count in (0, 1, 12)
        ],
        source="RFC 8785, 3.2: keys in order, no spare space, whole numbers without a point",
        status="by hand",
    ),
    *series(
        canonical.number_text,
        [
            # RFC 8785, appendix B.
            ("1e23", (1e23,), "1e+23"),
            ("1e21", (1e21,), "1e+21"),
            ("the smallest double", (5e-324,), "5e-324"),
            ("the largest double", (1.7976931348623157e308,), "1.7976931348623157e+308"),
            ("a millionth", (0.000001,), "0.000001"),
            ("less than that", (9.999999999999997e-7,), "9.999999999999997e-7"),
            ("minus zero", (-0.0,), "0"),
            ("333333333.3333333", (333333333.3333333,), "333333333.3333333"),
        ],
        source="RFC 8785, appendix B",
        status="from memory",
    ),
)

CHECKS = (*INSULATION, *EARTH, *CALIBRATION, *MENDED, *RECORDS)


@every(CHECKS)
def test_published_value(check):
    check.verify()
