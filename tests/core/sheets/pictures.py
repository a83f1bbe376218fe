"""Lines to draw: the first demo line, and any line at all."""

from hypothesis import strategies as st

from core.model.choices import STATION_KINDS
from core.sheets.line_picture import PictureData, PictureFlow, PicturePair, PictureStation

# Tag, name, kind, turn, planned, now, hertz, reference, use, level, open findings, bottleneck.
_DEMO = (
    ("A01", "Dump-tank circulation pump", "pump", "forward", "54 Hz", "54 Hz", "", "90 % knob"),
    ("A02", "Bar elevator out of tank", "elevator", "forward", "13.0 ft/min", "13.0 ft/min"),
    ("A03", "Trash-eliminator rollers", "roller_conveyor", "forward", "40.0 ft/min"),
    (
        *("A04", "Washer brushes, odd rows, forward", "brush_bed", "forward", "125.7 ft/min"),
        *("125.6 ft/min", "54.6 Hz", "58 % knob", "99 % used", "", 0, True),
    ),
    (
        *("A05", "Washer brushes, even rows, reverse", "brush_bed", "reverse", "106.1 ft/min"),
        *("112.6 ft/min", "49.0 Hz", "16.3 mA", "", "fault", 2),
    ),
    ("A06", "Sponge (water-absorbing) rollers", "roller_conveyor", "forward", "45 rpm"),
    (
        *("A07", "Dryer polishing brushes", "brush_bed", "forward", "85 rpm", "102.2 rpm"),
        *("58.0 Hz", "97 % knob", "", "blocker", 1),
    ),
    ("A08", "Pre-sort roller table", "roller_conveyor", "forward", "18.0 ft/min"),
    ("A09", "Feed belt to singulator", "belt", "forward", "32.0 ft/min", "32.0 ft/min"),
    ("A10", "Singulator left belts", "belt_pair_side", "forward", "44.8 ft/min"),
    ("A11", "Singulator right belts", "belt_pair_side", "forward", "41.5 ft/min"),
    ("A12", "Gapping belt", "belt", "forward", "67.4 ft/min", "67.4 ft/min", "47.3 Hz"),
    ("A13", "Camera spin belt", "spin_section", "reverse", "10.9 ft/min", "10.9 ft/min"),
    (
        *("A14", "Cup conveyor (2 lanes, master)", "cup_conveyor", "forward", "67.4 ft/min"),
        *("67.4 ft/min", "49.2 Hz", "8.20 V", "78 % used", "advice", 1),
    ),
    ("A15", "Take-away cross belt", "take_away", "forward", "60.0 ft/min"),
    ("A16", "Cull belt", "take_away", "forward", "45.0 ft/min"),
)
_FLOWS = (
    *((number, number + 1) for number in (1, 2, 3, 6, 7, 8, 9, 12, 13, 14)),
    *((3, 5), (4, 6), (5, 6), (9, 11), (10, 12), (11, 12)),
)


def demo():
    """The first demo line with its split, its V pair, a return and culls."""
    stations = tuple(
        PictureStation(number, *station) for number, station in enumerate(_DEMO, start=1)
    )
    flows = tuple(PictureFlow(one, other, words="5.9 fruit/s") for one, other in _FLOWS)
    flows += (PictureFlow(8, 16, "cull", "0.29 fruit/s"), PictureFlow(14, 9, "return"))
    pairs = (
        PicturePair(4, 5, "16.9 % ± 2.1 %", True),
        PicturePair(10, 11, "26 % ± 0.6 %", False),
        PicturePair(9, 12, "1.564 ± 0.012"),
    )
    return PictureData(stations, flows, pairs)


def chain(count, **station):
    """A line without branches."""
    stations = tuple(PictureStation(key, f"B{key:02}", **station) for key in range(1, count + 1))
    return PictureData(stations, tuple(PictureFlow(key, key + 1) for key in range(1, count)))


_TEXT = st.text("abcdWM 0123456789.,%±→漢", max_size=40)


@st.composite
def any_line(draw):
    """Stations, flows and pairs without any order in them: loops, orphans, splits, merges."""
    count = draw(st.integers(1, 14))
    station = st.builds(
        PictureStation,
        st.just(0),
        _TEXT,
        _TEXT,
        st.sampled_from([*STATION_KINDS, "", "unknown"]),
        st.sampled_from(["forward", "reverse"]),
        *[_TEXT] * 5,
        st.sampled_from(["", "advice", "fault", "blocker"]),
        st.integers(0, 99),
        st.booleans(),
    )
    fields = draw(st.lists(station, min_size=count, max_size=count))
    stations = tuple(
        PictureStation(key, *(getattr(of, name) for name in PictureStation.__slots__[1:]))
        for key, of in enumerate(fields, start=1)
    )
    ids = st.integers(1, count)
    kinds = st.sampled_from(["forward", "forward", "return", "cull"])
    flows = draw(st.lists(st.builds(PictureFlow, ids, ids, kinds, _TEXT), max_size=24))
    pairs = draw(
        st.lists(
            st.builds(PicturePair, ids, ids, _TEXT, st.sampled_from([None, True, False])),
            max_size=5,
        )
    )
    return PictureData(stations, tuple(flows), tuple(pairs))
