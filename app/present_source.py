"""The values as commissioned, for a reading of present settings to be held against."""

from collections.abc import Sequence
from dataclasses import dataclass

from core.model import Line
from core.records import line_of
from core.store.frozen import FrozenRecord

KIND = "as_commissioned"
NOW = "now"


@dataclass(frozen=True, slots=True)
class Commissioned:
    """Where the commissioned values stand: a frozen record, or the line as it is.

    ``name`` is what the comparison calls it, ``mark`` what keeps walks against it apart from
    others, ``words`` what the user is told.
    """

    line: Line
    name: str
    mark: str
    words: str


def commissioned(
    held: Sequence[FrozenRecord], line: Line, known: Commissioned | None = None
) -> Commissioned:
    """The newest as-commissioned record that is still what was frozen, else the line itself.

    ``known`` is what it gave before; a record in it is not parsed again.
    """
    records = [record for record in held if record.kind == KIND]
    sound = next((record for record in reversed(records) if record.is_sound), None)
    if sound is None:
        why = "no as-commissioned record verifies" if records else "none was frozen as commissioned"
        words = f"Commissioned values: those in the file as it stands ({why})."
        if known is not None and known.line is line and known.words == words:
            return known
        return Commissioned(line, NOW, "line", words)
    words = f"Commissioned values: {sound.name}, {sound.at[:10]}, frozen by {sound.person}."
    if sound is not records[-1]:
        words += f" {records[-1].name} does not verify and is not used."
    return Commissioned(line_of(sound.content), f"{KIND}:{sound.revision}", sound.sha256, words)
