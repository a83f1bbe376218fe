"""The instruments that readings are taken with: their names, and how their calibration stands."""

import datetime
from dataclasses import dataclass
from typing import Literal

from core.model import Instrument, Line

Standing = Literal["none", "unknown", "overdue", "current"]
"""No instrument; one without a known calibration; one whose calibration has run out; or holds."""


@dataclass(frozen=True, slots=True)
class Calibration:
    """How the calibration of an instrument stood on the day of a reading; ``due`` is ISO 8601."""

    standing: Standing
    due: str = ""

    def sentence(self) -> str:
        """What the one who reads has to know; a calibration that holds is told as well."""
        return _TOLD[self.standing].format(due=self.due)


_TOLD: dict[Standing, str] = {
    "none": "No instrument is named.",
    "unknown": "Its calibration is not known: it is no instrument of the line, or has no date.",
    "overdue": "Its calibration ran out on {due}.",
    "current": "Calibrated to {due}.",
}


def called(held: Instrument) -> str:
    """Name and serial number of an instrument, as a reading names it."""
    return f"{held.name} {held.serial}".strip()


def instrument_named(line: Line, text: str) -> Instrument | None:
    """The instrument of the line that a text means; None where it means none of them, or several.

    It is met by name and serial number at the beginning of the text, by the serial number alone,
    or by its name alone where only one bears it.
    """
    wanted = text.strip().casefold()
    if not wanted:
        return None
    begun = [held for held in line.instruments if _begins(wanted, called(held).casefold())]
    if begun:
        return max(begun, key=lambda held: len(called(held)))
    for field in ("serial", "name"):
        found = [held for held in line.instruments if getattr(held, field).casefold() == wanted]
        if len(found) == 1:
            return found[0]
    return None


def _begins(text: str, name: str) -> bool:
    rest = text[len(name) :]
    return bool(name) and text.startswith(name) and not rest[:1].isalnum()


def calibration_on(line: Line, text: str, day: datetime.date) -> Calibration:
    """How the calibration of the instrument named stands on a day.

    Parameters
    ----------
    line : Line
        Whose instruments are known.
    text : str
        What a reading names.
    day : date
        Day of the reading; the due day itself still counts.
    """
    if not text.strip():
        return Calibration("none")
    held = instrument_named(line, text)
    if held is None or not held.calibration_due:
        return Calibration("unknown")
    return standing_on(held.calibration_due, day)


def standing_on(due: str, day: datetime.date) -> Calibration:
    """How a calibration that is due on a day of ISO 8601 stands on another one."""
    try:
        over = day > datetime.date.fromisoformat(due)
    except ValueError:
        # Changed outside of Linebook, which stores no other form.
        return Calibration("unknown")
    return Calibration("overdue" if over else "current", due)
