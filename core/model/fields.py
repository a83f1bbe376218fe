"""How a record of the line file declares its fields, once, for file, window, template and sheets.

A record is a frozen dataclass. Each stored field is declared with one of the functions below,
which say what kind of thing it is, what it is called on screen and paper, and which values it may
take. The file's schema, the forms of the window, the columns of the spreadsheet template and the
rows of the sheets are all made from these declarations, so a field exists in one place only.
"""

import dataclasses
import datetime
import re
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeVar

from core.errors import InputError

Sort = Literal["text", "long_text", "quantity", "choice", "flag", "whole", "date", "ref", "typed"]
LONGEST_TEXT = 200
LONGEST_NOTE = 4000
_KEY = "linebook"
_UNPRINTABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")
_BREAKS = re.compile("[\n\t]")
_LARGEST = sys.float_info.max
# Above this, SQLite and a float no longer tell every whole number from the next.
_LARGEST_WHOLE = 2**53


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """What one stored field is.

    Attributes: ``kind`` names a kind of quantity of `core.units`; ``choices`` maps the stored
    word to the shown one; ``target`` is the table a reference points to; ``minimum`` and
    ``maximum`` bound a number in SI (``above`` excludes the minimum itself); ``only`` maps another
    field of the same record to the values for which this field has a meaning (``"station.kind"``
    is the kind of the station that holds the record). ``unique`` asks for a value that no other
    record beside it has. ``pairs`` says that the text is a list of values with their meanings,
    which `core.model.entry` asks for where it is entered; older files may hold any text.
    """

    name: str
    label: str
    sort: Sort
    hint: str = ""
    kind: str = ""
    choices: Mapping[str, str] = dataclasses.field(default_factory=dict)
    target: str = ""
    minimum: float | None = None
    maximum: float | None = None
    above: bool = False
    only: Mapping[str, frozenset[str]] = dataclasses.field(default_factory=dict)
    unique: bool = False
    pairs: bool = False
    default: Any = None

    @property
    def is_number(self) -> bool:
        """Whether the field holds a number (quantity or whole number)."""
        return self.sort in ("quantity", "whole")

    def check(self, value: Any) -> Any:
        """Give the value back in the form that is stored, or refuse it.

        Parameters
        ----------
        value : object
            Text, SI number, stored word of a choice, flag, ISO date, id of a record, or None.

        Returns
        -------
        object
            The same value, numbers as float or int.

        Raises
        ------
        InputError
            The value has the wrong type, is no member of the choices, or lies out of bounds.
        """
        if value is None:
            return self._check_empty()
        return _CHECKS[self.sort](self, value)

    def applies(self, values: Mapping[str, Any]) -> bool:
        """Whether the field means something beside these values of its record."""
        return all(values.get(name) in allowed for name, allowed in self.only.items())

    def _check_empty(self) -> Any:
        if self.sort in ("text", "long_text", "typed"):
            return ""
        if self.sort == "flag" or (self.sort == "choice" and self.default is not None):
            raise self.refusal("nothing", "Choose one of the values offered.")
        return None

    def refusal(self, found: str, fix: str) -> InputError:
        """The error that refuses a value of this field."""
        return InputError(f"{self.label} was not taken.", f"Found {found}.", fix)


def _check_text(spec: FieldSpec, value: Any) -> str:
    longest = LONGEST_NOTE if spec.sort == "long_text" else LONGEST_TEXT
    if not isinstance(value, str):
        raise spec.refusal(repr(value), "Type a text.")
    value = value.replace("\r\n", "\n").replace("\r", "\n")
    if len(value) > longest:
        raise spec.refusal(f"{len(value)} characters", f"Use {longest} characters at the most.")
    if _UNPRINTABLE.search(value):
        raise spec.refusal("a character that cannot be printed", "Remove it and try again.")
    return value if spec.sort == "long_text" else _BREAKS.sub(" ", value).strip()


def _check_number(spec: FieldSpec, value: Any) -> float | int:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise spec.refusal(repr(value), "Type a number.")
    if not -_LARGEST <= value <= _LARGEST:  # as written, NaN fails it too
        raise spec.refusal("no number that can be stored", "Type a number.")
    if spec.sort == "whole":
        if value != int(value):
            raise spec.refusal(f"{value:g}", "Type a whole number.")
        value = int(value)
        if abs(value) > _LARGEST_WHOLE:
            raise spec.refusal(f"{value:g}", "Type a smaller number.")
    low, high = spec.minimum, spec.maximum
    if low is not None and (value < low or (spec.above and value <= low)):
        bound = "more than" if spec.above else "not less than"
        raise spec.refusal(f"{value:g}", f"It has to be {bound} {low:g}.")
    if high is not None and value > high:
        raise spec.refusal(f"{value:g}", f"It has to be {high:g} at the most.")
    return value if spec.sort == "whole" else float(value)


def _check_choice(spec: FieldSpec, value: Any) -> str:
    if not isinstance(value, str) or value not in spec.choices:
        raise spec.refusal(f"'{value}'", "Choose one of: " + ", ".join(spec.choices.values()) + ".")
    return str(value)


def _check_flag(spec: FieldSpec, value: Any) -> bool:
    if not isinstance(value, bool | int) or value not in (0, 1):
        raise spec.refusal(repr(value), "Say yes or no.")
    return bool(value)


def _check_date(spec: FieldSpec, value: Any) -> str:
    try:
        return datetime.date.fromisoformat(value).isoformat()
    except (TypeError, ValueError):
        raise spec.refusal(f"'{value}'", "Type a date such as 2026-11-25.") from None


def _check_ref(spec: FieldSpec, value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise spec.refusal(repr(value), "Choose one of the entries offered.")
    return value


_CHECKS = {
    "text": _check_text,
    "long_text": _check_text,
    "typed": _check_text,
    "quantity": _check_number,
    "whole": _check_number,
    "choice": _check_choice,
    "flag": _check_flag,
    "date": _check_date,
    "ref": _check_ref,
}


def _declare(sort: Sort, label: str, default: Any, **more: Any) -> Any:
    only = more.pop("only", None) or {}
    more["only"] = {name: frozenset(_listed(values)) for name, values in only.items()}
    spec = FieldSpec(name="", label=label, sort=sort, default=default, **more)
    return dataclasses.field(default=default, metadata={_KEY: spec})


def _listed(values: Iterable[str] | str) -> Iterable[str]:
    return [values] if isinstance(values, str) else values


def text(
    label: str,
    *,
    hint: str = "",
    only: Mapping[str, Any] | None = None,
    unique: bool = False,
    pairs: bool = False,
) -> Any:
    """Declare a short text of one line."""
    return _declare("text", label, "", hint=hint, only=only, unique=unique, pairs=pairs)


def long_text(label: str, *, hint: str = "") -> Any:
    """Declare a note of several lines."""
    return _declare("long_text", label, "", hint=hint)


def typed(label: str) -> Any:
    """Declare the text as typed that stands beside a stored quantity."""
    return _declare("typed", label, "")


def quantity(
    kind: str,
    label: str,
    *,
    hint: str = "",
    minimum: float | None = 0.0,
    maximum: float | None = None,
    above: bool = False,
    only: Mapping[str, Any] | None = None,
) -> Any:
    """Declare a physical quantity in SI; bounds are in SI as well."""
    return _declare(
        "quantity",
        label,
        None,
        kind=kind,
        hint=hint,
        minimum=minimum,
        maximum=maximum,
        above=above,
        only=only,
    )


def whole(
    label: str,
    *,
    hint: str = "",
    minimum: int | None = 0,
    maximum: int | None = None,
    only: Mapping[str, Any] | None = None,
) -> Any:
    """Declare a whole number, such as a count of teeth."""
    return _declare("whole", label, None, hint=hint, minimum=minimum, maximum=maximum, only=only)


def choice(
    label: str,
    choices: Mapping[str, str],
    default: str | None = None,
    *,
    hint: str = "",
    only: Mapping[str, Any] | None = None,
) -> Any:
    """Declare a choice from a closed list; without a default it may stay open."""
    return _declare("choice", label, default, choices=choices, hint=hint, only=only)


def flag(label: str, default: bool = False, *, hint: str = "") -> Any:
    """Declare a yes or no."""
    return _declare("flag", label, default, hint=hint)


def date(label: str, *, hint: str = "") -> Any:
    """Declare a day, stored as ISO 8601 text."""
    return _declare("date", label, None, hint=hint)


def ref(target: str, label: str, *, hint: str = "", unique: bool = False) -> Any:
    """Declare a reference to a record of another table, by its id."""
    return _declare("ref", label, None, target=target, hint=hint, unique=unique)


@dataclass(frozen=True, slots=True)
class ChildSpec:
    """Where a record holds other records: a list in order, or exactly one."""

    name: str
    table: str
    many: bool


@dataclass(frozen=True, slots=True)
class RecordSpec:
    """What one kind of record is: its table, its words, its fields and what it holds."""

    table: str
    label: str
    cls: type
    fields: tuple[FieldSpec, ...]
    children: tuple[ChildSpec, ...]
    parent: str = ""

    def field(self, name: str) -> FieldSpec:
        """The declaration of one field, by its name."""
        for spec in self.fields:
            if spec.name == name:
                return spec
        raise KeyError(f"{self.table} has no field {name}")


RECORDS: dict[str, RecordSpec] = {}
_R = TypeVar("_R")


def children(cls: type) -> Any:
    """Declare a list of records in their order."""
    spec = ChildSpec("", RECORDS_BY_CLASS[cls].table, many=True)
    return dataclasses.field(default=(), metadata={_KEY: spec})


def single(cls: type) -> Any:
    """Declare one record that is always there."""
    spec = ChildSpec("", RECORDS_BY_CLASS[cls].table, many=False)
    return dataclasses.field(default_factory=cls, metadata={_KEY: spec})


RECORDS_BY_CLASS: dict[type, RecordSpec] = {}


def record(table: str, label: str) -> Any:
    """Make a class a frozen record of the file and enter it in `RECORDS`.

    Children have to be declared before the record that holds them.
    """

    def wrap(cls: type[_R]) -> type[_R]:
        made = dataclass(frozen=True, slots=True)(cls)
        found = [
            dataclasses.replace(entry.metadata[_KEY], name=entry.name)
            for entry in dataclasses.fields(made)  # type: ignore[arg-type]
            if _KEY in entry.metadata
        ]
        spec = RecordSpec(
            table,
            label,
            made,
            tuple(item for item in found if isinstance(item, FieldSpec)),
            tuple(item for item in found if isinstance(item, ChildSpec)),
        )
        RECORDS[table] = RECORDS_BY_CLASS[made] = spec
        for child in spec.children:
            owned = dataclasses.replace(RECORDS[child.table], parent=table)
            RECORDS[child.table] = RECORDS_BY_CLASS[owned.cls] = owned
        return made

    return wrap
