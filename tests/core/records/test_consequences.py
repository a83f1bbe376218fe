"""Consequences: where a station tops out, what it lacks, and their order."""

from core.records.comparing import compare
from core.records.consequences import consequences
from tests.core.records.test_comparing import LINDENMOOR, QUILLBACK, at, effect, keyed, part, told


def test_a_lower_maximum_tells_where_the_station_tops_out():
    # B11: 60 Hz to 50 Hz at the drive's maximum alone. The cup conveyor then tops out at
    # 50 Hz: n = 120 * 50 / 4 - 60 * 0.6 = 1464 rpm, / 18 = 81.33 rpm, * 12 * 31.75 mm =
    # 0.51647 m/s. At 60 Hz, above the base of 50 Hz, slip is more than there: below 0.62230 m/s.
    after = keyed(LINDENMOOR, "B11", hz_max="50")
    top = effect(told(LINDENMOOR, after)["B11"], "top_speed_m_s")
    assert 0.605 < top.before < 0.62230
    assert abs(top.after - 0.51647) < 1e-4
    sentence = told(LINDENMOOR, after)["B11"].sentence("metric")
    assert "60 → 50" in sentence
    assert "tops out at 0.5165 m/s, was" in sentence


def test_what_is_gravest_comes_first():
    after = at(QUILLBACK, "A07", part("reference", now_v=7.4))
    after = keyed(after, "A05", ref_range="1")
    found = consequences(compare(QUILLBACK, after))
    weights = [held.weight for held in found]
    assert weights == sorted(weights, reverse=True)
    assert [held.tag for held in found].index("A05") < [held.tag for held in found].index("A07")


def test_names_and_notes_have_no_consequence():
    import dataclasses

    after = at(QUILLBACK, "A02", lambda station: dataclasses.replace(station, notes="greased"))
    difference = compare(QUILLBACK, after)
    assert [change.group for change in difference.changes] == ["papers"]
    assert consequences(difference) == ()
