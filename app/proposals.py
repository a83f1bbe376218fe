"""The words that text fields of a station propose while one types."""

from collections.abc import Callable
from functools import partial

from app.inputs import Offers
from app.session import Session
from app.station_records import free_text_fields, words_used
from app.station_sections import TERMINALS
from core.model import DriveType, Station


class Proposals:
    """Terminals and inputs of the station's drive type; else what stands elsewhere on the line."""

    def __init__(self, session: Session, station_shown: Callable[[], Station | None]) -> None:
        self._session, self._station_shown = session, station_shown

    def for_table(self, table: str) -> dict[str, Offers]:
        """What to propose in the text fields of one table, by field name."""
        found: dict[str, Offers] = {
            name: partial(self._used, table, name) for name in free_text_fields(table)
        }
        found |= dict.fromkeys(TERMINALS.get(table, ()), self._terminals)
        if table == "speed_reference":
            found["input_name"] = self._reference_inputs
        return found

    def _used(self, table: str, name: str) -> list[str]:
        return words_used(self._session.line, table, name)

    def _terminals(self) -> list[str]:
        drive_type = self._drive_type()
        return [entry.designation for entry in drive_type.terminals] if drive_type else []

    def _reference_inputs(self) -> list[str]:
        drive_type = self._drive_type()
        return [entry.name for entry in drive_type.reference_inputs] if drive_type else []

    def _drive_type(self) -> DriveType | None:
        station = self._station_shown()
        if station is None:
            return None
        return self._session.line.drive_type(station.drive.drive_type_id)
