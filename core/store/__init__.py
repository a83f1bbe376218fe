"""The life of a line file: create, open, upgrade, change in named steps, undo, copy, close."""

from core.store.frozen import KINDS as RECORD_KINDS
from core.store.frozen import FrozenRecord
from core.store.history import HistoryRow
from core.store.linefile import SUFFIX, LineFile
from core.store.steps import Changes, Step

__all__ = [
    "RECORD_KINDS",
    "SUFFIX",
    "Changes",
    "FrozenRecord",
    "HistoryRow",
    "LineFile",
    "Step",
]
