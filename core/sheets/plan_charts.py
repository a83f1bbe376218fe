"""The charts of a plan, filled from its figures."""

from collections.abc import Iterator

from core.line import LineResults, Plan
from core.sheets.document import Part
from core.sheets.entries import Entries


def charts_of(entries: Entries, results: LineResults, plan: Plan) -> Iterator[Part]:
    """The charts of one plan."""
    yield from ()
