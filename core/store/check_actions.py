"""What a user does while proving a line: answer checks, read calibration points, take over."""

import datetime
from collections.abc import Iterable, Mapping
from typing import Any

from core.errors import InputError
from core.model import CalibrationPoint, Check
from core.store.linefile import LineFile

_ANSWER_WORDS = {
    "yes": "Answer check",
    "no": "Answer check",
    "reading": "Enter reading",
    "choice": "Answer check",
    "not_applicable": "Mark check as not applicable",
    "open": "Open check again",
}
_READ, _READINGS = ("up", "down"), ("frequency_hz", "speed_m_s")

_BLANK = {
    "value": None,
    "shown": "",
    "temperature_k": None,
    "reason": "",
    "instrument": "",
    "person": "",
}


def answer_check(
    book: LineFile,
    name: str,
    station_id: int | None,
    answer: str,
    *,
    now: datetime.datetime | None = None,
    **values: Any,
) -> int:
    """Enter the result of a check; gives the id of its record.

    Parameters
    ----------
    book : LineFile
        The open file.
    name : str
        Key of the check.
    station_id : int or None
        Where it was done; None for the line as a whole.
    answer : str
        A word of `core.model.choices.ANSWERS`.
    now : datetime, optional
        When it was done; the present time without it.
    values
        Further fields of `core.model.Check`: value, shown, temperature_k, reason, instrument,
        person. What is not given is empty, so that nothing of an answer before it stays.

    Raises
    ------
    InputError
        A reading without a value, a choice without its option, or a check that does not apply
        without a reason.
    """
    if answer == "reading" and values.get("value") is None:
        raise InputError("The reading was not taken.", "It has no value.", "Type what was read.")
    if answer == "choice" and not str(values.get("shown", "")).strip():
        raise InputError("The check was not answered.", "Nothing is chosen.", "Choose what it did.")
    if answer == "not_applicable" and not str(values.get("reason", "")).strip():
        raise InputError(
            "The check was not marked.", "It is not said why it does not apply.", "Type the reason."
        )
    moment = (now or datetime.datetime.now()).isoformat(sep=" ", timespec="minutes")
    given = {**_BLANK, **values, "answer": answer, "done_at": "" if answer == "open" else moment}
    if answer not in ("reading", "choice"):
        given = {**given, "value": None, "shown": "", "temperature_k": None}
    held = result_of(book, name, station_id)
    with book.step(f"{_ANSWER_WORDS[answer]} {name}") as step:
        if held is not None:
            step.set("check_result", held.id, **given)
            return held.id
        return step.add("check_result", name=name, station_id=station_id, **given)


def read_moment(text: str) -> datetime.datetime:
    """The day and time that somebody typed, as for answers brought in from paper.

    Raises
    ------
    InputError
        The text is no day of the calendar.
    """
    try:
        return datetime.datetime.fromisoformat(text.strip()).replace(tzinfo=None)
    except ValueError:
        raise InputError(
            "The time was not taken.",
            f"'{text.strip()}' is no day and time.",
            "Type it as 2026-11-25 14:30, or leave it empty for now.",
        ) from None


def keep_reading(book: LineFile, check_id: int, reason: str) -> None:
    """Keep a reading out of its limits, for a reason.

    Raises
    ------
    InputError
        There is no reason.
    """
    if not reason.strip():
        raise InputError("The reading was not kept.", "There is no reason.", "Type the reason.")
    with book.step("Keep reading out of limits") as step:
        step.set("check_result", check_id, reason=reason.strip())


def result_of(book: LineFile, name: str, station_id: int | None) -> Check | None:
    """The result entered so far, if there is one."""
    for held in book.line.checks:
        if held.name == name and held.station_id == station_id:
            return held
    return None


def enter_points(
    book: LineFile, station_id: int, state: str, points: Iterable[Mapping[str, Any]]
) -> None:
    """Store the calibration points of a station in one state, in place of those before.

    Parameters
    ----------
    book : LineFile
        The open file.
    station_id : int
        The station.
    state : str
        ``found`` or ``left``.
    points : iterable of mapping
        Fields of `core.model.CalibrationPoint`, in the order of reading.
    """
    with book.step("Enter calibration points") as step:
        for held in book.line.calibration_points:
            if held.station_id == station_id and held.state == state:
                step.remove("calibration_point", held.id)
        for point in points:
            step.add("calibration_point", station_id=station_id, state=state, **point)


def enter_readings(
    book: LineFile,
    station_id: int,
    state: str,
    readings: Iterable[tuple[int, Mapping[str, Any]]],
    ends: Iterable[Mapping[str, Any]] = (),
    name: str = "Enter calibration reading",
    now: datetime.datetime | None = None,
) -> None:
    """Store readings as they are typed, one or several as one step.

    Parameters
    ----------
    book : LineFile
        The open file.
    station_id : int
        The station.
    state : str
        ``found`` or ``left``.
    readings : iterable
        Id of the point, 0 for a new one, and fields of `core.model.CalibrationPoint`. A point
        that is left without any reading is removed.
    ends : iterable of mapping
        What is wanted at the ends and how they stand at the drive; stored with the first reading,
        as far as it is not stored yet, and gone with the last one.
    name : str
        Name of the step.
    now : datetime, optional
        When new points were read, as far as they do not say; the present time without it.
    """
    moment = (now or datetime.datetime.now()).isoformat(sep=" ", timespec="minutes")
    held = {point.id: point for point in _points(book, station_id, state)}
    taken = {(point.direction, point.share) for point in held.values()}
    left = {point.id for point in held.values() if point.direction in _READ}
    with book.step(name) as step:
        for point_id, values in readings:
            if not point_id:
                given = {"done_at": moment, **values}
                step.add("calibration_point", station_id=station_id, state=state, **given)
                left.add(0)
            elif _is_emptied(held[point_id], values):
                step.remove("calibration_point", point_id)
                left.discard(point_id)
            else:
                step.set("calibration_point", point_id, **values)
        for end in ends if left else ():
            if (end["direction"], end["share"]) not in taken:
                step.add("calibration_point", station_id=station_id, state=state, **end)
        for point in held.values() if not left else ():
            if point.direction not in _READ:
                step.remove("calibration_point", point.id)


def set_calibration_end(
    book: LineFile,
    station_id: int,
    state: str,
    direction: str,
    share: float,
    frequency_hz: float | None,
) -> None:
    """Say what is wanted at one end of a reference, or how it stood while it was read.

    Parameters
    ----------
    book : LineFile
        The open file.
    station_id : int
        The station.
    state : str
        ``found`` or ``left``.
    direction : str
        ``wanted`` or ``set``.
    share : float
        0 for the bottom, 1 for the top.
    frequency_hz : float or None
        None takes it back to what the drive's settings say now.
    """
    held = [
        point
        for point in _points(book, station_id, state)
        if (point.direction, point.share) == (direction, share)
    ]
    with book.step("Set end of calibration") as step:
        for point in held:
            step.remove("calibration_point", point.id)
        if frequency_hz is not None:
            step.add(
                "calibration_point",
                station_id=station_id,
                state=state,
                direction=direction,
                share=share,
                frequency_hz=frequency_hz,
            )


def _points(book: LineFile, station_id: int, state: str) -> list[CalibrationPoint]:
    return [
        point
        for point in book.line.calibration_points
        if point.station_id == station_id and point.state == state
    ]


def _is_emptied(held: CalibrationPoint, values: Mapping[str, Any]) -> bool:
    """Whether a change takes the last reading out of a point."""
    before = [getattr(held, name) for name in _READINGS]
    after = [values.get(name, value) for name, value in zip(_READINGS, before, strict=True)]
    return before != [None, None] and after == [None, None]


def take_over_reading(
    book: LineFile, table: str, record_id: int, field: str, value: float, name: str
) -> None:
    """Take over what a reading teaches into the field that the plan counts on."""
    with book.step(f"Take over {name}") as step:
        step.set(table, record_id, **{field: value})
