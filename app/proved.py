"""How far a station is proved, in words."""

from core.line.checks import CheckItem, kept_count, station_state
from core.model.choices import STAGES


def proved_words(items: tuple[CheckItem, ...], station_id: int) -> str:
    """The stage up to which a station is proved, and what stands out of its limits all the same.

    Empty where no stage is done and nothing is kept.
    """
    reached, kept = station_state(items, station_id), kept_count(items, station_id)
    parts = [f"proved: {STAGES[reached]}"] if reached else []
    parts += [f"{kept} kept out of limits"] if kept else []
    return ", ".join(parts)
