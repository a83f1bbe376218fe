"""What a field of a record looks like as text, and what a typed text means for it.

The grid, the tables and the history go through here, so that a value reads alike everywhere.
"""

from typing import Any

from core.errors import InputError
from core.model import RECORDS, FieldSpec, Line
from core.model.entry import is_bare, read_entry, with_unit
from core.units import KINDS, UNITS, parse_number, show, unit_of

FLAG_WORDS = {True: "Yes", False: "No"}
# Where the line keeps the records that a reference can point to.
_HOLDERS = {child.table: child.name for child in RECORDS["line"].children if child.many}
_NAMES = ("tag", "designation", "code", "name")


def name_of(record: Any) -> str:
    """What a record is called: its tag, its code or its name."""
    return next((str(found) for name in _NAMES if (found := getattr(record, name, ""))), "")


def targets(spec: FieldSpec, line: Line) -> dict[int, str]:
    """The records a reference can point to: id to name, in their order."""
    return {record.id: name_of(record) for record in getattr(line, _HOLDERS[spec.target])}


def offered(spec: FieldSpec, line: Line) -> tuple[str, ...]:
    """The words a field chooses from; none where it is typed freely."""
    if spec.sort == "choice":
        words = tuple(spec.choices.values())
        return words if spec.default is not None else ("", *words)
    if spec.sort == "flag":
        return tuple(FLAG_WORDS.values())
    return ("", *targets(spec, line).values()) if spec.sort == "ref" else ()


def unit_shown(spec: FieldSpec, line: Line) -> str:
    """The unit of a bare number in this field; empty for anything else."""
    return unit_of(spec.kind, line.unit_system) if spec.sort == "quantity" else ""


def shown(spec: FieldSpec, value: Any, line: Line, *, full: bool = True) -> str:
    """A stored value as text.

    Unless ``full``, a number comes without its unit where it reads back as the same value.
    """
    if value is None:
        return ""
    match spec.sort:
        case "quantity":
            return _shown_quantity(spec, value, line, full)
        case "choice":
            return spec.choices.get(value, str(value))
        case "flag":
            return FLAG_WORDS[bool(value)]
        case "ref":
            return targets(spec, line).get(value, "")
        case _:
            return str(value)


def read(spec: FieldSpec, text: str, line: Line) -> Any:
    """The value to store for a typed text; an empty one takes the field back to its default.

    Raises
    ------
    InputError
        The text is no value of this field.
    """
    if not text.strip():
        return _emptied(spec)
    if spec.sort in ("text", "long_text"):
        return read_entry(spec, text, line.unit_system)
    if spec.sort == "ref":
        return spec.check(_pointed_at(spec, text.strip(), line))
    return read_entry(spec, text.strip(), line.unit_system)


def companion(table: str, name: str) -> str | None:
    """The field that keeps the text as typed beside a quantity, if the record has one."""
    kept = (spec for spec in RECORDS[table].fields if spec.sort == "typed")
    return next((spec.name for spec in kept if spec.label == name), None)


def values_for(
    table: str, spec: FieldSpec, text: str, line: Line, over: str = ""
) -> dict[str, Any]:
    """The fields to store for a typed text: the value, and the text where it is kept as typed.

    Parameters
    ----------
    table : str
        Table of the record.
    spec : FieldSpec
        The field.
    text : str
        As typed.
    line : Line
        For its units and names.
    over : str
        The text that stood there, which was typed over.

    Raises
    ------
    InputError
        The text is no value of this field, or may be meant in the larger unit that stood there.
    """
    _refuse_doubt(spec, text.strip(), over, line)
    values = {spec.name: read(spec, text, line)}
    if typed := companion(table, spec.name):
        values[typed] = with_unit(text.strip(), spec.kind, line.unit_system) if text.strip() else ""
    return values


def _refuse_doubt(spec: FieldSpec, text: str, over: str, line: Line) -> None:
    """Refuse 10 typed over 5 min, since a bare number is in seconds."""
    if spec.sort != "quantity" or not is_bare(text) or not parse_number(text):
        return
    symbols = {UNITS[unit_id].symbol for unit_id in KINDS[spec.kind].larger}
    larger = next((symbol for symbol in symbols if over.endswith(f" {symbol}")), "")
    if larger:
        either = f"{text} {larger} or {text} {unit_of(spec.kind, line.unit_system)}"
        raise InputError(
            f"{spec.label} was not taken.", f"'{text}' can mean {either}.", f"Type {either}."
        )


def sentence(error: InputError) -> str:
    """Why a text was refused and what to type, without saying again that it was not taken."""
    return f"{error.why} {error.fix}".strip()


def _shown_quantity(spec: FieldSpec, value: float, line: Line, full: bool) -> str:
    text = show(value, spec.kind, line.unit_system)
    if full or text.unit != unit_of(spec.kind, line.unit_system):
        return str(text)
    # A bare share up to 1 can be meant in two ways and would be refused when read back.
    bare_above = KINDS[spec.kind].bare_above
    ambiguous = bare_above > 0 and 0 < abs(float(text.number)) <= bare_above
    return str(text) if ambiguous else text.number


def _emptied(spec: FieldSpec) -> Any:
    if spec.unique:
        raise spec.refusal("nothing", "Every one needs its own.")
    return spec.check(spec.default)


def _pointed_at(spec: FieldSpec, text: str, line: Line) -> int:
    names = targets(spec, line)
    found = [key for key, name in names.items() if name.casefold() == text.casefold()]
    exact = [key for key in found if names[key] == text]
    if len(exact or found) == 1:
        return (exact or found)[0]
    known = f"Choose one of: {', '.join(names.values())}." if names else "There is none yet."
    raise spec.refusal(f"'{text}'", known)
