"""The states of what was read, as shape and word; colour comes last."""

from collections.abc import Mapping
from typing import Literal

from app.theme import colours
from core.readback import State

Told = State | Literal["differs"]
"""The states of a reading, and that of a value which is not the commissioned one."""
SHAPES: Mapping[Told, str] = {"differs": "≠", "read": "✓", "not_read": "○", "refused": "✗"}
WORDS: Mapping[Told, str] = {
    "differs": "differs",
    "read": "read",
    "not_read": "not read",
    "refused": "refused",
}
MEANINGS: Mapping[Told, str] = {
    "differs": "The value was found, and it is not the commissioned one",
    "read": "The value was found and its list allows it",
    "not_read": "Nothing is known of the value that the drive has now",
    "refused": "A value was found, but its list does not allow it or it cannot be taken",
}


def told(state: Told) -> str:
    """Shape and word of a state."""
    return f"{SHAPES[state]} {WORDS[state]}"


def colour_of(state: Told) -> str:
    """The colour of a state in the present look."""
    look = colours()
    by_state: Mapping[Told, str] = {
        "differs": look.wrong,
        "read": look.complete,
        "not_read": look.started,
        "refused": look.wrong,
    }
    return by_state[state]
