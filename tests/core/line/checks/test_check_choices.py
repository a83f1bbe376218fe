"""Checks answered by a choice, the order of the field sheets, and how a reading is judged."""

import dataclasses
from importlib.resources import files

import pytest

from core.line import compute_line
from core.line.checks import checks_of, station_wise
from core.line.checks.listing import answer_text, checks_as_data, expected_text, judged_text
from core.model import Check
from core.sheets import SHEETS
from core.sheets.document import Grid
from core.sheets.words import words_in
from core.store import LineFile


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


LINDENMOOR = sample("lindenmoor")
QUILLBACK = sample("quillback_hollow")


def item(line, key, tag=None):
    found = [held for held in checks_of(compute_line(line)) if held.rule.key == key]
    return next(held for held in found if tag in (None, held.tag))


def with_answer(line, held, **values):
    return dataclasses.replace(line, checks=(Check(1, held.rule.key, held.station_id, **values),))


@pytest.fixture
def lost():
    """A check of what a drive does without its signal; the plan of the line says that it stops."""
    station = next(s for s in LINDENMOOR.stations if s.reference.source not in ("keypad", "bus"))
    held = dataclasses.replace(
        station, reference=dataclasses.replace(station.reference, loss_action="stop")
    )
    stations = tuple(held if s.id == held.id else s for s in LINDENMOOR.stations)
    line = dataclasses.replace(LINDENMOOR, stations=stations)
    return line, item(line, "lost-reference", station.tag)


@pytest.mark.parametrize(
    ("answer", "shown", "reason", "state", "told"),
    [
        ("choice", "stop", "", "good", "Stop"),
        ("choice", "hold", "", "out", "Hold the last speed, OUT OF LIMITS"),
        (
            "choice",
            "hold",
            "As wanted",
            "kept",
            "Hold the last speed, kept, with a reason (As wanted)",
        ),
        ("choice", "", "", "open", "open"),
        # Files of before know it as a yes or no.
        ("yes", "", "", "good", "yes"),
        ("no", "", "", "out", "no, OUT OF LIMITS"),
    ],
)
def test_a_choice_is_judged_by_what_is_entered(lost, answer, shown, reason, state, told):
    line, held = lost
    assert expected_text(held, "metric") == "expected: Stop"
    line = with_answer(line, held, answer=answer, shown=shown, reason=reason)
    found = item(line, "lost-reference", held.tag)
    assert found.state == state
    assert answer_text(found, "metric") == told


def test_a_choice_is_told_in_the_language_of_the_sheets(lost):
    line, held = lost
    say = words_in("es")
    assert say.tr(expected_text(held, "metric")) == "se espera: Paro"
    line = with_answer(line, held, answer="choice", shown="trip")
    told = answer_text(item(line, "lost-reference", held.tag), "metric")
    assert say.tr(told) == "Disparo, FUERA DE LÍMITES"


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        ("no", "no, aceptado, con motivo (yes, open, no)"),
        ("choice", "Disparo, aceptado, con motivo (yes, open, no)"),
    ],
)
def test_an_answer_with_a_reason_is_told_in_spanish_and_the_reason_as_typed(lost, answer, told):
    line, held = lost
    shown = "trip" if answer == "choice" else ""
    line = with_answer(line, held, answer=answer, shown=shown, reason="yes, open, no")
    line = dataclasses.replace(line, language="es")
    document = SHEETS["check_results"].build(line, compute_line(line))
    grids = [part for section in document.sections for part in section.parts if type(part) is Grid]
    assert told in {cell.text for grid in grids for row in grid.rows for cell in row}


def test_a_choice_is_told_as_data(lost):
    line, held = lost
    line = with_answer(line, held, answer="choice", shown="trip")
    told = checks_as_data([item(line, "lost-reference", held.tag)], line)["checks"][0]
    assert (told["option"], told["good"], told["state"]) == ("trip", ["stop"], "out")
    assert "hold" in told["options"]


@pytest.mark.parametrize("line", [QUILLBACK, LINDENMOOR])
def test_field_sheets_and_their_answers_have_one_order(line):
    results = compute_line(line)
    document = SHEETS["field_sheets"].build(line, results)
    printed = []
    titles = {"Line": ""} | {f"{s.tag} {s.name}": s.tag for s in line.stations}
    for section in document.sections[1:]:
        # The checks stand first; the settings of the drive after them.
        grid = next(part for part in section.parts if isinstance(part, Grid))
        printed += [(titles[section.title], row[1].text) for row in grid.rows]
    typed = [
        (station.tag if station else "", held.rule.label)
        for station, own in station_wise(checks_of(results), line)
        for held in own
    ]
    assert printed == typed


def test_insulation_tells_its_value_at_40_degrees():
    # Insulation halves with each 10 K more: 24 MΩ at 20 °C are 24 / 4 = 6 MΩ at 40 °C.
    held = item(QUILLBACK, "insulation")
    read = {"answer": "reading", "value": 24e6}
    warm = item(with_answer(QUILLBACK, held, temperature_k=293.15, **read), "insulation", held.tag)
    assert judged_text(warm, "metric") == "At 40 °C that is 6 MΩ."
    bare = item(with_answer(QUILLBACK, held, **read), "insulation", held.tag)
    assert "judged as read" in judged_text(bare, "metric")
    assert judged_text(held, "metric") == ""
