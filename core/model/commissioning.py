"""What is recorded while a line is proved: results of checks, calibration points, own checks."""

from core.model import choices
from core.model.fields import choice, quantity, record, ref, text

_READING = {"form": "reading"}
_CHOICE = {"form": "choice"}


@record("own_check", "Own check")
class OwnCheck:
    """A check that the user adds to those of Linebook, for every line that it is kept for."""

    id: int = 0
    name: str = text("Check", hint="What is looked at or measured", unique=True)
    stage: str = choice("Stage", choices.STAGES, "coupled")
    applies_to: str = choice("Applies to", choices.CHECK_SUBJECTS, "station")
    form: str = choice("Answered by", choices.CHECK_FORMS, "yes_no")
    kind: str | None = choice("Reading of", choices.READING_KINDS, only=_READING)
    low: float | None = quantity(
        "factor", "Not less than", minimum=None, only=_READING, hint="In SI"
    )
    high: float | None = quantity(
        "factor", "Not more than", minimum=None, only=_READING, hint="In SI"
    )
    options: str = text("Options", only=_CHOICE, hint="With ; between, e.g. new; worn; gone")
    good: str = text(
        "Good options", only=_CHOICE, hint="Those that are as it should be; empty: the first"
    )
    how: str = text("How it is done")


@record("check_result", "Check")
class Check:
    """The result of one check at one station, or of the whole line without one.

    ``name`` is the key of a check of Linebook, or ``own:`` and the id of an own one; ``shown`` of
    a choice is the stored word of its option.
    """

    id: int = 0
    name: str = text("Check")
    station_id: int | None = ref("station", "Station")
    answer: str = choice("Answer", choices.ANSWERS, "open")
    value: float | None = quantity("factor", "Reading", minimum=None, hint="In SI")
    shown: str = text("As typed")
    temperature_k: float | None = quantity("temperature", "Temperature at the test")
    reason: str = text("Reason", hint="Why it is kept, or does not apply")
    instrument: str = text("Instrument", hint="Name and serial number")
    person: str = text("By")
    done_at: str = text("At", hint="Day and time, e.g. 2026-11-25 14:30")


@record("calibration_point", "Calibration point")
class CalibrationPoint:
    """One reading of a station's speed at one place of its reference."""

    id: int = 0
    station_id: int | None = ref("station", "Station")
    state: str = choice("State", choices.CALIBRATION_STATES, "found")
    direction: str = choice("Direction", choices.DIRECTIONS, "up")
    share: float | None = quantity("ratio", "Of travel", maximum=1.0)
    frequency_hz: float | None = quantity("frequency", "Frequency read")
    speed_m_s: float | None = quantity("surface_speed", "Surface speed read")
    instrument: str = text("Instrument", hint="Name and serial number")
    person: str = text("By")
    done_at: str = text("At", hint="Day and time, e.g. 2026-11-25 14:30")
