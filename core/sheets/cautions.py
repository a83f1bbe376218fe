"""The cautions that stand on every sheet, from the gravest on."""

from core.sheets.document import CAUTION_ORDER, Caution, Heading, Level, Part
from core.sheets.words import Say

_MESSAGES: tuple[tuple[str, Level], ...] = (
    ("shock", "danger"),
    ("start", "warning"),
    ("stop", "warning"),
    ("water", "warning"),
    ("aid", "notice"),
)


def cautions(say: Say) -> tuple[Caution, ...]:
    """The safety messages of every sheet.

    Parameters
    ----------
    say : callable
        The words of the document's language.

    References
    ----------
    ANSI Z535.4 (signal words and their order) and Z535.6 (hazard, consequence, avoidance);
    ISO 3864-2 for the same signal words on product labels. Wording from common practice.
    """
    ordered = sorted(_MESSAGES, key=lambda message: CAUTION_ORDER.index(message[1]))
    return tuple(
        Caution(
            level,
            say(level),
            say(f"{key}_hazard"),
            say(f"{key}_consequence"),
            say(f"{key}_avoidance"),
        )
        for key, level in ordered
    )


def level_of(key: str) -> Level:
    """The signal word of a safety message, by the key of its words."""
    return dict(_MESSAGES)[key]


def caution_parts(say: Say) -> tuple[Part, ...]:
    """The cautions under their heading."""
    return (Heading(say("cautions")), *cautions(say))
