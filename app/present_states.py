"""The states of what was read, as shape and word; colour comes last."""

from collections.abc import Mapping

from app.theme import colours
from core.readback import State

SHAPES: Mapping[State, str] = {"read": "✓", "not_read": "○", "refused": "✗"}
WORDS: Mapping[State, str] = {"read": "read", "not_read": "not read", "refused": "refused"}
MEANINGS: Mapping[State, str] = {
    "read": "The value was found and its list allows it",
    "not_read": "Nothing is known of the value that the drive has now",
    "refused": "A value was found, but its list does not allow it or it cannot be taken",
}


def told(state: State) -> str:
    """Shape and word of a state."""
    return f"{SHAPES[state]} {WORDS[state]}"


def colour_of(state: State) -> str:
    """The colour of a state in the present look."""
    look = colours()
    by_state: Mapping[State, str] = {
        "read": look.complete,
        "not_read": look.started,
        "refused": look.wrong,
    }
    return by_state[state]
