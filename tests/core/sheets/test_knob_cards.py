"""Knob cards: what stands on them, and that it fits."""

import dataclasses
import io
from importlib.resources import files
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.line import compute_line
from core.sheets import SHEETS, write_pdf
from core.sheets.document import Grid, Picture
from core.sheets.drawing import Words
from core.sheets.drawn_text import words_box
from core.sheets.knob_drawing import CARD_WIDTH, Card, Mark, card_rows
from core.store import LineFile


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


def made(line, **how):
    return SHEETS["knob_cards"].build(line, compute_line(line), **how)


def texts(drawing):
    return [item.text for item in drawing.flat() if isinstance(item, Words)]


def drawings(document):
    section = document.sections_for("paper")[1]
    return [part.drawing for part in section.parts if isinstance(part, Picture)]


def assert_all_fits(drawing):
    boxes = [(item, words_box(item)) for item in drawing.flat() if isinstance(item, Words)]
    for item, (left, top, right, bottom) in boxes:
        inside = left >= 0 and top >= 0 and right <= drawing.width and bottom <= drawing.height
        assert inside, item
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.3 or b[3] <= a[1] + 0.3
        assert apart, (one.text, other.text)


def test_a_card_tells_the_place_in_every_recipe():
    # demo_b.csv: B10 41.6 Hz with plums and 14.6 Hz with persimmons, 0 to 60 Hz at 0 to 10 V.
    line = sample("lindenmoor")
    station = line.station_tagged("B10")
    document = made(line, station_ids=[station.id])
    [listed] = document.sections_for("spreadsheet")[1:]
    [grid] = [part for part in listed.parts if isinstance(part, Grid)]
    assert [row[2].text for row in grid.rows] == ["Plums", "Persimmons"]
    assert [row[5].number for row in grid.rows] == [
        pytest.approx(41.6, abs=0.05), pytest.approx(14.6, abs=0.05),
    ]  # fmt: skip
    assert grid.rows[1][3].number == pytest.approx(100 * 14.6 / 60, abs=0.1)
    [drawing] = drawings(document)
    told = texts(drawing)
    for row in grid.rows:
        assert row[3].with_unit in told
    assert {"1 Plums", "2 Persimmons"} <= set(told)
    assert not any("never move" in text for text in told)


def test_who_is_one_of_a_pair_is_told_so():
    line = sample("quillback_hollow")
    told = " ".join(text for drawing in drawings(made(line)) for text in texts(drawing))
    # NOTES.md: A04 and A05 are the brushes, A10 and A11 the singulator.
    for other in ("A04", "A05", "A10", "A11"):
        assert f"Pair with {other}:" in told
    assert "Pair with A07" not in told


def test_stations_without_a_wired_reference_have_none():
    line = sample("quillback_hollow")
    reference = dataclasses.replace(line.stations[0].reference, source="keypad")
    stations = (dataclasses.replace(line.stations[0], reference=reference), *line.stations[1:])
    line = dataclasses.replace(line, stations=stations)
    document = made(line, station_ids=[line.stations[0].id])
    assert len(document.sections) == 1
    assert "No station of these" in document.sections[0].parts[-1].text
    assert len(drawings(made(line))) == 8  # 15 cards, two a row


@pytest.mark.parametrize("name", ["quillback_hollow", "lindenmoor"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_nothing_on_a_card_covers_anything(name, language):
    for drawing in drawings(made(dataclasses.replace(sample(name), language=language))):
        assert_all_fits(drawing)


words = st.text("abcdefgh ijklmnopqrstuvwxyzÄßé0123456789", min_size=1, max_size=60)
shares = st.none() | st.floats(0.0, 1.0)
marks = st.builds(Mark, shares, words, words, st.tuples(words, words))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.builds(
            Card,
            words,
            words,
            st.booleans(),
            st.just(("4 mA", "20 mA")),
            st.none() | st.just((0.1, 0.9)),
            st.lists(marks, max_size=3).map(tuple),
            st.lists(words, max_size=2).map(tuple),
            st.lists(words, max_size=2).map(tuple),
        ),
        min_size=1,
        max_size=3,
    )
)
def test_whatever_stands_on_a_card_stays_on_it(cards):
    for drawing in card_rows(cards, "cards"):
        assert drawing.width == 2 * CARD_WIDTH
        for item in drawing.flat():
            if isinstance(item, Words) and item.text.strip():
                left, top, right, bottom = words_box(item)
                assert left >= 0
                assert right <= drawing.width
                assert top >= 0
                assert bottom <= drawing.height


def test_every_card_of_a_book_has_one_size():
    import pypdf

    line = sample("lindenmoor")
    document = SHEETS["handover_book"].build(line, compute_line(line))
    cards = dataclasses.replace(
        document, sections=tuple(s for s in document.sections if s.title == "Knob cards")
    )
    target = io.BytesIO()
    write_pdf(cards, target)
    widths = set()
    for page in pypdf.PdfReader(target).pages:
        # Where the tags begin tells how wide a card was drawn: two stand side by side.
        found = {}
        page.extract_text(
            visitor_text=lambda text, user, at, _font, _size, found=found: found.setdefault(
                text.strip(), at[4] + user[4]
            )
        )
        tags = [f"B{number:02d}" for number in range(1, 13)]
        lefts = [found[tag] for tag in tags if tag in found]
        widths |= {round(b - a) for a, b in zip(lefts[::2], lefts[1::2], strict=True)}
    assert widths == {round(CARD_WIDTH)}
