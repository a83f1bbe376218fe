"""Adding photographs to a station; they are changed, moved and removed as any other record."""

import datetime
from collections.abc import Sequence

from core.errors import InputError
from core.photos import TakenPhoto
from core.store.linefile import LineFile


def add_photos(
    book: LineFile,
    station_id: int,
    taken: Sequence[TakenPhoto],
    shows: str = "other",
    person: str = "",
    *,
    now: datetime.datetime | None = None,
) -> list[int]:
    """Add photographs to a station; gives the ids of their records.

    Parameters
    ----------
    book : LineFile
        The open file.
    station_id : int
        The station.
    taken : sequence of TakenPhoto
        As `core.photos` makes them. One that the station has already is passed over.
    shows : str
        A word of `core.model.choices.PHOTO_SUBJECTS`.
    person : str
        Who took them.
    now : datetime, optional
        When they are added; the present time without it.

    Raises
    ------
    InputError
        There are none, the station has all of them already, or it is not there any more.
    """
    if not any(station.id == station_id for station in book.line.stations):
        why = "The station is not there any more."
        raise InputError("The photographs were not added.", why, "Choose one that is there.")
    present = {photo.sha256 for photo in book.line.station(station_id).photos}
    fresh = {entry.sha256: entry for entry in taken if entry.sha256 not in present}
    if not fresh:
        why = "The station has this photograph already." if taken else "There is none."
        raise InputError("Nothing was added.", why, "Choose another one.")
    moment = (now or datetime.datetime.now()).isoformat(sep=" ", timespec="minutes")
    name = "Add photograph" if len(fresh) == 1 else f"Add {len(fresh)} photographs"
    with book.step(name) as step:
        return [
            step.add(
                "photo",
                station_id,
                shows=shows,
                person=person,
                taken_at=entry.taken_at,
                added_at=moment,
                width_px=entry.width_px,
                height_px=entry.height_px,
                size_bytes=len(entry.content),
                sha256=step.keep_photo(entry.content),
            )
            for entry in fresh.values()
        ]
