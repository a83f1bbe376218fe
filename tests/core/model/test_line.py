"""Finding records in the graph of a line."""

import pytest

from core.model import Bus, DriveType, Enclosure, Line, Station, Supply

LINE = Line(
    id=1,
    stations=(Station(id=3, tag="ST01"), Station(id=2, tag="ST02")),
    drive_types=(DriveType(id=5, name="Small drive"),),
    supplies=(Supply(id=6, name="Shed service"),),
    enclosures=(Enclosure(id=7, name="Panel"),),
    buses=(Bus(id=8, name="Bus"),),
)


def test_station_is_found_by_its_id_and_by_its_tag() -> None:
    assert LINE.station(2).tag == "ST02"
    found = LINE.station_tagged("ST01")
    assert found is not None
    assert found.id == 3
    assert LINE.station_tagged("ST09") is None


@pytest.mark.parametrize(
    ("name", "record_id"), [("drive_type", 5), ("supply", 6), ("enclosure", 7), ("bus", 8)]
)
def test_shared_record_is_found_by_its_id_or_not_chosen(name: str, record_id: int) -> None:
    find = getattr(LINE, name)
    assert find(record_id).id == record_id
    assert find(None) is None
    with pytest.raises(KeyError):
        find(99)


def test_unknown_station_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        LINE.station(99)
