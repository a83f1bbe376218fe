"""The speed plan of both samples against a table worked by itself, and the page against the table.

``worked_example.csv`` was worked from the samples' tables by a script that imports nothing of
Linebook; docs/worked-example.md shows every step of it. Both sides keep all digits, so that they
have to agree to one part in a thousand million; the page to half of its last digit.
"""

import csv
import math
import re
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

import sample_projects
from core.line import compute_line
from core.store import LineFile

TOLERANCE = 1e-9
SAMPLES = Path(sample_projects.__file__).parent
PAGE = Path(__file__).parents[3] / "docs" / "worked-example.md"
FT_MIN = 0.3048 / 60
RPM = math.pi / 30
LABELS = ("line", "recipe", "about", "name", "basis")


def _read():
    text = Path(__file__).with_name("worked_example.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        labels = {key: row[key] for key in LABELS}
        yield labels, {key: float(row[key]) for key in row if key not in LABELS and row[key]}


ROWS = tuple(_read())
BY_STATION = {
    (held["recipe"], held["name"]): worked for held, worked in ROWS if held["about"] == "station"
}


def _about(kind):
    found = [(held, worked) for held, worked in ROWS if held["about"] == kind]
    return pytest.mark.parametrize(
        ("held", "worked"), found, ids=[f"{held['recipe']}-{held['name']}" for held, _ in found]
    )


@pytest.fixture(scope="module")
def results():
    names = {held["line"] for held, _ in ROWS}
    return {name: compute_line(LineFile.read(SAMPLES / f"{name}.linebook")) for name in names}


def _plan(results, held):
    plans = results[held["line"]].plans
    return next(plan for plan in plans if plan.recipe.name == held["recipe"])


def _values(figures):
    return {key: figure.value for key, figure in figures.items() if figure.value is not None}


# --- Linebook against the table ---------------------------------------------------------------


def test_every_recipe_and_station_was_worked(results):
    computed = {
        (plan.recipe.name, entry.tag)
        for each in results.values()
        for plan in each.plans
        for entry in plan.entries.values()
    }
    assert computed == set(BY_STATION)
    assert len(computed) == 16 + 2 * 12


@_about("line")
def test_fruit_fed_and_the_bottleneck(results, held, worked):
    plan = _plan(results, held)
    # Both rows of a bed are equally full; the first one is named.
    assert plan.entries[plan.bottleneck_id].tag == held["name"]
    computed = {**_values(plan.rates.figures), "most_feed_1_s": plan.most_feed_1_s}
    assert computed == pytest.approx(worked, rel=TOLERANCE)


@_about("station")
def test_a_station_as_planned_has_just_the_figures_worked(results, held, worked):
    entry = next(e for e in _plan(results, held).entries.values() if e.tag == held["name"])
    computed = {**_values(entry.wanted), **_values(entry.planned)}
    if entry.flow_1_s is not None:
        computed["fruit_flow_1_s"] = entry.flow_1_s
    planned = {key: value for key, value in worked.items() if "now_" not in key}
    assert computed == pytest.approx(planned, rel=TOLERANCE)


@_about("station")
def test_a_station_as_set_now(results, held, worked):
    entry = next(e for e in _plan(results, held).entries.values() if e.tag == held["name"])
    own = results[held["line"]].station(entry.station.id)
    computed = _values(own.figures) | {
        f"now_{key}": value for key, value in _values(entry.present).items()
    }
    now = {key: value for key, value in worked.items() if "now_" in key}
    assert len(now) >= 3
    assert {key: computed.get(key) for key in now} == pytest.approx(now, rel=TOLERANCE)


@_about("pair")
def test_a_pair_planned_and_as_set(results, held, worked):
    pair = next(p for p in _plan(results, held).pairs if p.pair.name == held["name"])
    assert pair.planned == pytest.approx(worked["differential_planned_share"], abs=TOLERANCE)
    assert pair.present == pytest.approx(worked["differential_now_share"], abs=TOLERANCE)


# --- the table against the notes of the demo lines, which others worked ------------------------

# Shared demo notes, rounded there: recipe, station, key, value in SI, half of its last digit.
NOTES = (
    ("Mandarins", "A02", "fruit_flow_1_s", 5.90, 0.005),
    ("Mandarins", "A14", "fruit_flow_1_s", 5.61, 0.005),
    ("Mandarins", "A14", "cups_1_s", 3.59, 0.005),
    ("Mandarins", "A14", "surface_speed_wanted_m_s", 67.4 * FT_MIN, 0.05 * FT_MIN),
    ("Mandarins", "A14", "pulses_per_cup", 256, 0.5),
    ("Mandarins", "A14", "drop_lead_m", 0.54 * 0.0254, 0.005 * 0.0254),
    ("Mandarins", "A05", "drift_needed_m_s", 9.68 * FT_MIN, 0.005 * FT_MIN),
    ("Mandarins", "A05", "drift_index_m_s", 9.78 * FT_MIN, 0.005 * FT_MIN),
    ("Mandarins", "A05", "places", 192, 0.5),
    ("Mandarins", "A05", "time_on_brushes_s", 32.2, 0.05),
    ("Mandarins", "A10", "mean_speed_m_s", 43.14 * FT_MIN, 0.005 * FT_MIN),
    ("Mandarins", "A02", "used_share", 0.76, 0.005),
    ("Mandarins", "A08", "used_share", 0.44, 0.005),
    ("Mandarins", "A10", "used_share", 0.78, 0.005),
    ("Mandarins", "A13", "now_turns_in_view", 1.50, 0.005),
    ("Plums", "B02", "fruit_flow_1_s", 4.49, 0.005),
    ("Plums", "B11", "cups_1_s", 5.27, 0.005),
    ("Plums", "B04", "drift_needed_m_s", 0.0438, 0.00005),
    ("Plums", "B04", "drift_index_m_s", 0.0439, 0.00005),
    ("Plums", "B04", "used_share", 0.998, 0.0005),
    ("Plums", "B07", "mean_speed_m_s", 0.2636, 0.00005),
    ("Persimmons", "B04", "used_share", 0.89, 0.005),
    ("Persimmons", "B07", "frequency_wanted_hz", 37.0, 0.05),
    ("Persimmons", "B08", "frequency_wanted_hz", 34.2, 0.05),
    ("Persimmons", "B09", "frequency_wanted_hz", 24.2, 0.05),
    ("Persimmons", "B10", "frequency_wanted_hz", 14.6, 0.05),
    ("Persimmons", "B10", "surface_speed_wanted_m_s", 0.0875, 0.00005),
    ("Persimmons", "B11", "frequency_wanted_hz", 29.4, 0.05),
)


@pytest.mark.parametrize(("recipe", "tag", "key", "noted", "half_digit"), NOTES)
def test_the_table_agrees_with_the_notes(recipe, tag, key, noted, half_digit):
    assert BY_STATION[recipe, tag][key] == pytest.approx(noted, abs=half_digit)


# --- the page against the table -----------------------------------------------------------------

Worked = Mapping[str, float]


def _of(key: str, unit: float = 1.0) -> Callable[[Worked], float | None]:
    return lambda worked: worked[key] / unit if key in worked else None


def _quotient(above: str, below: str, unit: float = 1.0) -> Callable[[Worked], float | None]:
    return lambda worked: worked[above] / worked[below] / unit if above in worked else None


def _turn(unit: float) -> Callable[[Worked], float | None]:
    return _quotient("surface_speed_wanted_m_s", "shaft_speed_wanted_rad_s", unit / math.tau)


COLUMNS: Mapping[str, Callable[[Worked], float | None]] = {
    "Fruit [1/s]": _of("fruit_flow_1_s"),
    "Speed [ft/min]": _of("surface_speed_wanted_m_s", FT_MIN),
    "Speed [m/s]": _of("surface_speed_wanted_m_s"),
    "One turn moves [in]": _turn(0.0254),
    "One turn moves [mm]": _turn(0.001),
    "Shaft [rpm]": _of("shaft_speed_wanted_rad_s", RPM),
    "Ratio": _quotient("motor_speed_wanted_rad_s", "shaft_speed_wanted_rad_s"),
    "Motor [rpm]": _of("motor_speed_wanted_rad_s", RPM),
    "Hz": _of("frequency_wanted_hz"),
    "Travel [%]": _of("reference_wanted_share", 0.01),
    "Carries [1/s]": _of("capacity_1_s"),
    "Used [%]": _of("used_share", 0.01),
    "As set, carries [1/s]": _of("now_capacity_1_s"),
    "As set, used [%]": _of("now_used_share", 0.01),
    "Hz now": _of("frequency_now_hz"),
    "Motor now [rpm]": _of("motor_speed_now_rad_s", RPM),
    "Shaft now [rpm]": _of("shaft_speed_now_rad_s", RPM),
    "Speed now [ft/min]": _of("surface_speed_now_m_s", FT_MIN),
    "Speed now [m/s]": _of("surface_speed_now_m_s"),
}
SIGNALS = {"V": _of("signal_wanted_v"), "mA": _of("signal_wanted_a", 0.001)}
FINAL = ("Fruit [1/s]", "Speed [m/s]", "Shaft [rpm]", "Motor [rpm]", "Hz", "Signal", "Travel [%]")


def _page_tables():
    """Recipe, heading and rows by column of every table of stations on the page."""
    heading = recipe = ""
    rows: list[dict[str, str]] = []
    columns: list[str] = []
    for line in [*PAGE.read_text(encoding="utf-8").splitlines(), ""]:
        if line.startswith("#"):
            heading = line.lstrip("# ")
            if named := re.search(r"recipe (\w+)$", heading):
                recipe = named[1]
        if not line.startswith("|"):
            if rows:
                yield recipe, heading, rows
            rows, columns = [], []
            continue
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if not columns:
            columns = cells
        elif columns[0] == "Station" and not set(line) <= set("|- "):
            rows.append(dict(zip(columns, cells, strict=True)))


TABLES = tuple(_page_tables())


def _agrees(shown: str, value: float | None) -> bool:
    """Whether a number on the page is the value, rounded to the digits that it shows."""
    if shown == "-" or value is None:
        return shown == "-" and value is None
    digits = len(shown.partition(".")[2])
    return abs(float(shown) - value) <= 0.5 * 10.0**-digits * (1.0 + 1e-6)


@pytest.mark.parametrize(
    ("recipe", "rows"),
    [(recipe, rows) for recipe, _, rows in TABLES],
    ids=[f"{recipe}-{heading}" for recipe, heading, _ in TABLES],
)
def test_every_number_of_a_table_on_the_page_is_the_worked_one(recipe, rows):
    compared = 0
    for row in rows:
        worked = BY_STATION[recipe, row["Station"]]
        for column in COLUMNS.keys() & row.keys():
            assert _agrees(row[column], COLUMNS[column](worked)), (row["Station"], column)
            compared += 1
        if "Signal" in row:
            shown, unit = row["Signal"].split()
            assert _agrees(shown, SIGNALS[unit](worked)), (row["Station"], "Signal")
    assert compared >= 2 * len(rows)


@pytest.mark.parametrize("recipe", ["Mandarins", "Plums", "Persimmons"])
def test_the_page_ends_with_all_stations_of_a_recipe(recipe):
    rows = next(rows for _, title, rows in TABLES if title == f"All stations, recipe {recipe}")
    assert [row["Station"] for row in rows] == [tag for name, tag in BY_STATION if name == recipe]
    assert set(FINAL) <= rows[0].keys()


def test_the_page_tells_the_fruit_as_worked():
    text = PAGE.read_text(encoding="utf-8")
    for held, worked in ROWS:
        if held["about"] == "line":
            assert f"{worked['feed_1_s']:.4f} fruit/s" in text
            assert f"{worked['most_feed_1_s']:.4f} fruit/s" in text
