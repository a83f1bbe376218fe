"""The order in which the keypad of a drive shows its settings, as far as its list tells it."""

from collections.abc import Mapping

from core.model import Line


def keypad_places(*lines: Line) -> Mapping[tuple[str, str], int]:
    """The place of each listed setting at each station.

    Parameters
    ----------
    *lines : Line
        The line, and other states of it; what only the list of a later one names comes after.

    Returns
    -------
    mapping
        Place by tag of the station and code of the setting; no two alike at one station
    """
    codes: dict[str, dict[str, None]] = {}
    for line in lines:
        types = {entry.id: entry for entry in line.drive_types}
        for station in line.stations:
            kind = types.get(station.drive.drive_type_id or 0)
            listed = [entry.code for entry in kind.listed_settings] if kind else []
            codes.setdefault(station.tag, {}).update(dict.fromkeys(listed))
    return {(tag, code): place for tag, held in codes.items() for place, code in enumerate(held)}
