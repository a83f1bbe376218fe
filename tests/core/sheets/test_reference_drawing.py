"""Every wire of a station is in its drawing, and nothing on it lies on anything else."""

from dataclasses import replace
from importlib.resources import files
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.line import compute_line, wire_station
from core.model import Bus, Cable, Controls, DigitalInput, SpeedReference, Terminal
from core.model.choices import REFERENCE_SOURCES, SCREENS
from core.sheets import reference_symbols as symbols
from core.sheets.document import Caution, Picture
from core.sheets.drawing import Round, Shape, Stroke, Words
from core.sheets.drawn_text import words_box
from core.sheets.entries import Entries
from core.sheets.handover_book import handover_book
from core.sheets.reference_drawing import HEIGHT, WIDTH, wiring_drawings
from core.sheets.reference_legend import legend
from core.sheets.reference_plan import plan_of
from core.sheets.reference_sheet import reference_drawings
from core.store import LineFile
from tests.core.sheets import lines

LONG = "a control cabinet with a very long name!"  # 40 characters


def drawn(line, station=None):
    return wiring_drawings(plan_of(Entries.of(line), station or line.stations[0]))


def texts(drawings):
    return [item for each in drawings for item in each.flat() if isinstance(item, Words)]


def said(drawings):
    return " ".join(words.text for words in texts(drawings))


def overlap(one, other, by=0.01):
    return (
        one[0] < other[2] - by
        and other[0] < one[2] - by
        and one[1] < other[3] - by
        and other[1] < one[3] - by
    )


def legs(drawing):
    """Boxes of the level and upright parts of wires and edges."""
    for item in drawing.flat():
        if isinstance(item, Stroke | Shape):
            points = item.points if isinstance(item, Stroke) else (*item.points, item.points[0])
            for (x1, y1), (x2, y2) in pairwise(points):
                if x1 == x2 or y1 == y2:
                    box = min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)
                    yield box[0] - 0.02, box[1] - 0.02, box[2] + 0.02, box[3] + 0.02


def assert_clear(drawing):
    boxes = [(words.text, words_box(words)) for words in texts([drawing])]
    for at, (text, box) in enumerate(boxes):
        assert box[0] >= 0, text
        assert box[1] >= 0, text
        assert box[2] <= drawing.width, text
        assert box[3] <= drawing.height, text
        assert [other for other, held in boxes[at + 1 :] if overlap(box, held)] == [], text
    for leg in legs(drawing):
        assert [text for text, box in boxes if overlap(leg, box)] == []


def assert_whole(line, station, drawings):
    """Every wire with its number, both terminals and its purpose."""
    told = "".join(said(drawings).split())
    for wire in wire_station(line, station):
        if wire.run in ("reference", "controls"):
            for text in (wire.number, wire.start.terminal, wire.end.terminal, wire.purpose):
                assert "".join(text.split()) in told


# --- samples --------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=("quillback_hollow", "lindenmoor"))
def sample(request):
    return LineFile.read(files("sample_projects").joinpath(f"{request.param}.linebook"))


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_station_of_a_sample_is_drawn_whole_and_clear_on_one_page(sample, language):
    line = replace(sample, language=language)
    for station in line.stations:
        [drawing] = drawn(line, station)
        assert_clear(drawing)
        if language == "en":
            assert_whole(line, station, [drawing])


def test_each_station_has_a_section_with_its_drawing(sample):
    document = reference_drawings(sample, compute_line(sample))
    titles = [section.title for section in document.sections[1:]]
    assert titles == [f"{station.tag} {station.name}" for station in sample.stations]
    for section in document.sections[1:]:
        assert [type(part) for part in section.parts] == [Picture]


def test_the_book_has_the_drawings_with_the_key_to_their_symbols(sample):
    document = handover_book(sample, compute_line(sample))
    chapter = [s for s in document.sections if s.title.startswith("Reference wiring")]
    assert len(chapter) == 1 + len(sample.stations)
    assert any(isinstance(part, Picture) for part in chapter[0].parts)
    assert not any(isinstance(part, Caution) for part in chapter[0].parts)


# --- what is drawn of which source ----------------------------------------------------------


def with_source(source, **more):
    held = SpeedReference(
        1, source, "G1", terminal_plus="4", terminal_minus="5", input_name="In 1", **more
    )
    return lines.with_station(lines.line(1), reference=held)


def rounds(drawings):
    return [item for each in drawings for item in each.flat() if isinstance(item, Round)]


def test_a_potentiometer_has_its_wiper_between_its_ends():
    line = lines.line(1)
    drawings = drawn(line)
    assert_whole(line, line.stations[0], drawings)
    # Supply 3 to X1:1 above, wiper 2 to X1:2, common 1 to X1:3 below: as the entries have it.
    heights = {words.text: words.at[1] for words in texts(drawings)}
    assert heights["X1:1"] < heights["X1:2"] < heights["X1:3"]
    arrow = next(
        item for item in drawings[0].flat() if isinstance(item, Shape) and len(item.points) == 3
    )
    wiper = next(words.at[1] for words in texts(drawings) if words.text == "X1:2") - 2.5
    assert arrow.points[0][1] == pytest.approx(wiper)
    assert "10 kΩ" in said(drawings)


@pytest.mark.parametrize(
    ("more", "plates", "told"),
    [
        ({"loop_supply_v": 24.0}, 1, "2-wire: the loop supply feeds it"),
        ({}, 0, "drawn as a source that feeds the loop by itself"),
    ],
)
def test_a_loop_supply_is_drawn_only_where_one_was_entered(more, plates, told):
    drawings = drawn(with_source("current", low_a=0.004, high_a=0.02, **more))
    thick = [item for item in drawings[0].flat() if isinstance(item, Stroke) and item.width > 1.5]
    assert len(thick) == plates
    assert told in said(drawings)


def test_a_dac_says_so():
    drawings = drawn(with_source("dac", dac_bits=12, low_v=0.0, high_v=5.0))
    assert {"D", "A"} <= {words.text for words in texts(drawings)}
    assert "12" in said(drawings)


@pytest.mark.parametrize("source", ["keypad", "preset"])
def test_what_is_set_at_the_drive_has_no_wire(source):
    line = with_source(source)
    drawings = drawn(line)
    assert "no signal is wired" in said(drawings)
    assert "R1" not in said(drawings)
    if source == "preset":
        assert "Creep: 8 Hz" in said(drawings)


def test_a_bus_goes_to_the_device_before_in_the_chain():
    line = with_source("bus")
    told = said(drawn(line))
    assert "Line controller" in told
    assert "B01-B1" in told
    assert "X4:1" in told
    alone = replace(line, buses=(Bus(1, "Bus 1"),))
    assert "device not entered" in said(drawn(alone))


# --- screens --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("screen", "envelopes", "earths"),
    [("none", 0, 0), ("open", 1, 0), ("drive", 1, 1), ("far", 1, 1), ("both", 1, 2)],
)
def test_the_screen_is_earthed_where_it_was_entered(screen, envelopes, earths):
    cable = Cable(1, "reference", "3x0.5", 0.5e-6, None, 20.0, screen)
    line = lines.with_station(lines.line(1), cables=(cable,))
    [drawing] = drawn(line)
    strokes = [item for item in drawing.flat() if isinstance(item, Stroke)]
    assert len([item for item in strokes if item.dash]) == envelopes
    # Of the three bars of the symbol the last one is 3.2 pt long.
    last = [
        item
        for item in strokes
        if len(item.points) == 2
        and abs(item.points[1][0] - item.points[0][0]) == pytest.approx(3.2)
    ]
    assert len(last) == earths
    for stroke in last:
        at_drive = stroke.points[0][0] > WIDTH / 2
        assert screen == "both" or at_drive == (screen == "drive")


def test_the_screen_goes_to_the_clamp_of_the_drive_where_it_has_one():
    line = lines.line(1)
    held = line.drive_types[0]
    clamp = Terminal(99, "SC", "screen")
    line = replace(line, drive_types=(replace(held, terminals=(*held.terminals, clamp)),))
    assert "SC" in {words.text for words in texts(drawn(line))}


# --- run and stop ---------------------------------------------------------------------------


def test_contacts_are_drawn_as_entered():
    inputs = (
        DigitalInput(1, "X2:2", "start", "open", "S2", "14", "13"),
        DigitalInput(2, "X2:3", "stop", "closed", "S1", "12", "11"),
        DigitalInput(3, "X2:4", "reset", "open", "S1", "24", "23"),
    )
    line = lines.with_station(lines.line(1), digital_inputs=inputs)
    told = said(drawn(line))
    assert_whole(line, line.stations[0], drawn(line))
    # One wire brings the common to S1; that of its other contact is told at that contact.
    assert "24 (contact 23–24)" in told
    assert "12 (" not in told
    assert "Digital inputs as: Source" in told
    assert "Start and stop by: 2-wire" in told


def test_one_terminal_with_several_wires_is_joined_in_the_drive():
    inputs = tuple(
        DigitalInput(at, f"X2:{at + 1}", "forward", "open", f"S{at}", "14", "13") for at in (1, 2)
    )
    line = lines.with_station(lines.line(1), digital_inputs=inputs)
    [drawing] = drawn(line)
    heights = [words.at[1] - 2.5 for words in texts([drawing]) if words.text == "X2:1"]
    assert len(heights) == 2
    joined = [
        item
        for item in drawing.flat()
        if isinstance(item, Stroke)
        and len(item.points) == 2
        and item.points[0][0] == item.points[1][0]
        and [point[1] for point in item.points] == pytest.approx(heights)
    ]
    assert len(joined) == 1


def test_sinking_inputs_go_to_the_common():
    controls = Controls(1, "two_wire", "sink")
    told = said(drawn(lines.with_station(lines.line(1), controls=controls)))
    assert "Common of the inputs" in told
    assert "24 V to the inputs" not in told


# --- nothing entered, much entered ----------------------------------------------------------


def test_what_nobody_entered_is_said_and_not_made_up():
    line = lines.line(1)
    told = said(drawn(line, line.stations[-1]))
    for words in ("source not entered", "drive type not entered", "no digital input entered"):
        assert words in told
    bare = replace(
        lines.station(1),
        reference=SpeedReference(1, "potentiometer"),
        drive=replace(lines.station(1).drive, drive_type_id=None),
        cables=(),
    )
    drawings = drawn(lines.line(0, stations=(bare,)), bare)
    # Three wires of the potentiometer with two ends each, and the 24 V terminal of the drive.
    assert said(drawings).count("terminal not entered") == 7
    assert said(drawings).count("cable not entered") == 2
    assert said(drawings).count("device not entered") == 1
    assert "X1:" not in said(drawings)
    for drawing in drawings:
        assert_clear(drawing)


def test_many_wires_go_on_to_another_drawing():
    inputs = tuple(
        DigitalInput(at, f"X2:{at}", "other", "open", f"S{at}", "14", "13") for at in range(1, 25)
    )
    line = lines.with_station(lines.line(1), digital_inputs=inputs)
    drawings = drawn(line)
    assert len(drawings) > 2
    assert_whole(line, line.stations[0], drawings)
    assert "Run and stop, continued" in said(drawings[1:2])
    for drawing in drawings:
        assert drawing.height <= HEIGHT
        assert_clear(drawing)


def test_long_texts_take_more_lines():
    assert len(LONG) == 40
    inputs = tuple(
        DigitalInput(at, LONG, "external_fault", "closed", f"{LONG}{at % 2}", LONG, LONG[::-1])
        for at in range(4)
    )
    reference = SpeedReference(1, "potentiometer", LONG, LONG, LONG, LONG, "In 1", pot_ohm=1e3)
    line = lines.with_station(lines.line(1), tag=LONG, digital_inputs=inputs, reference=reference)
    drawings = drawn(line)
    assert_whole(line, line.stations[0], drawings)
    for drawing in drawings:
        assert_clear(drawing)


_TEXT = st.text("abcdWM X1:2-+–漢", max_size=40)
_INPUTS = st.lists(
    st.builds(
        DigitalInput,
        st.just(1),
        st.one_of(_TEXT, st.just("X2:2")),
        st.sampled_from(["forward", "stop", "emergency_stop"]),
        st.sampled_from(["open", "closed"]),
        st.sampled_from(["S1", "S2", "", LONG]),
        _TEXT,
        _TEXT,
    ),
    max_size=9,
)
_REFERENCES = st.builds(
    SpeedReference,
    st.just(1),
    st.sampled_from([*REFERENCE_SOURCES, None]),
    _TEXT,
    _TEXT,
    _TEXT,
    _TEXT,
    st.sampled_from(["In 1", ""]),
    loop_supply_v=st.sampled_from([24.0, None]),
)


@settings(max_examples=60, deadline=None)
@given(_INPUTS, _REFERENCES, _TEXT, st.sampled_from([*SCREENS]), st.booleans())
def test_nothing_lies_on_anything_else_whatever_was_entered(inputs, held, text, screen, clamp):
    line = lines.line(1)
    kind = line.drive_types[0]
    if clamp:
        terminals = (*kind.terminals, Terminal(99, text or "SC", "screen"))
        line = replace(line, drive_types=(replace(kind, name=text, terminals=terminals),))
    cables = tuple(
        Cable(at, run, text, None, None, 3.0, screen)
        for at, run in enumerate(("reference", "controls"), 1)
    )
    line = lines.with_station(
        line, tag=text or "B", digital_inputs=tuple(inputs), reference=held, cables=cables
    )
    drawings = drawn(line)
    assert_whole(line, line.stations[0], drawings)
    for drawing in drawings:
        assert_clear(drawing)


# --- symbols --------------------------------------------------------------------------------


def test_the_legend_names_every_symbol_and_is_clear():
    drawing = legend(Entries.of(lines.line(1)).say)
    assert_clear(drawing)
    assert len(texts([drawing])) >= 10
    assert "normally closed" in said([drawing])


def test_a_closed_contact_meets_its_stop_and_an_open_one_its_line_nowhere():
    blade, stop = symbols.contact("closed", 0.0, 100.0)
    (x1, y1), (x2, y2) = blade.points
    at = stop.points[0][0]
    height = y1 + (y2 - y1) * (at - x1) / (x2 - x1)
    # The blade passes the stop within its height.
    assert stop.points[1][1] <= height < stop.points[0][1]
    [blade] = symbols.contact("open", 0.0, 100.0)
    assert blade.points[1][1] < 100.0 - 5.0
