"""Sheets: one description of a document, written as PDF and as spreadsheet with the same content.

`SHEETS` names the documents that can be made of a line. The writers load their libraries when
they are first used, so that a start of the program does not wait for them.

Sheets speak the language that the line is stored with; `printed_in` gives the line for another.
"""

import datetime
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Protocol

from core.line import LineResults
from core.model import Line
from core.sheets.branch_schedule import branch_schedule
from core.sheets.check_sheets import check_results, field_sheets
from core.sheets.document import Document
from core.sheets.findings_sheet import findings_sheet
from core.sheets.handover_book import handover_book
from core.sheets.knob_cards import knob_cards
from core.sheets.labels import labels, starting_at
from core.sheets.language import printed_in
from core.sheets.parameter_record import parameter_record
from core.sheets.photo_sheet import photo_sheet
from core.sheets.reference_sheet import reference_drawings
from core.sheets.service_sheets import spares, swap_sheet
from core.sheets.speed_plan import speed_plan
from core.sheets.wiring_schedule import wiring_schedule
from core.sheets.words import words_in
from core.sheets.workings import workings
from core.sheets.writing import SheetCancelledError, write_whole

__all__ = [
    "SHEETS",
    "Document",
    "SheetCancelledError",
    "SheetKind",
    "printed_in",
    "starting_at",
    "write_pdf",
    "write_xlsx",
]


class Builder(Protocol):
    """Makes a document of a line: all stations, or those of some ids."""

    def __call__(
        self,
        line: Line,
        results: LineResults,
        station_ids: Collection[int] | None = None,
        today: datetime.date | None = None,
    ) -> Document:
        """Make the document."""


@dataclass(frozen=True, slots=True)
class SheetKind:
    """One kind of sheet; ``key`` is its name on the command line and in file names."""

    key: str
    build: Builder

    @property
    def title(self) -> str:
        """Its name for people, in the language of the window."""
        return words_in("en")(self.key)


SHEETS: Mapping[str, SheetKind] = {
    kind.key: kind
    for kind in (
        SheetKind("parameter_record", parameter_record),
        SheetKind("wiring_schedule", wiring_schedule),
        SheetKind("reference_drawings", reference_drawings),
        SheetKind("speed_plan", speed_plan),
        SheetKind("branch_schedule", branch_schedule),
        SheetKind("findings", findings_sheet),
        SheetKind("workings", workings),
        SheetKind("check_results", check_results),
        SheetKind("field_sheets", field_sheets),
        SheetKind("swap_sheet", swap_sheet),
        SheetKind("spares", spares),
        SheetKind("knob_cards", knob_cards),
        SheetKind("labels", labels),
        SheetKind("photographs", photo_sheet),
        SheetKind("handover_book", handover_book),
    )
}


def write_pdf(
    document: Document,
    target: Path | BinaryIO,
    progress: Callable[[int, int], bool] | None = None,
) -> None:
    """Write a document as PDF.

    Parameters
    ----------
    document : Document
        From ``SHEETS[...].build``.
    target : Path or binary stream
        A file is written whole or not at all.
    progress : callable, optional
        Called with the pieces set so far and their number; gives False to stop.

    Raises
    ------
    LinebookError
        The file could not be written, or it was cancelled.
    """
    from core.sheets.pdf import pdf_bytes

    _put(pdf_bytes(document, progress), target)


def write_xlsx(
    document: Document,
    target: Path | BinaryIO,
    progress: Callable[[int, int], bool] | None = None,
) -> None:
    """Write a document as spreadsheet.

    Parameters
    ----------
    document : Document
        From ``SHEETS[...].build``.
    target : Path or binary stream
        A file is written whole or not at all.
    progress : callable, optional
        Called with the worksheets made so far and their number; gives False to stop.

    Raises
    ------
    LinebookError
        The file could not be written, or it was cancelled.
    """
    from core.sheets.xlsx import xlsx_bytes

    _put(xlsx_bytes(document, progress), target)


def _put(content: bytes, target: Path | BinaryIO) -> None:
    if isinstance(target, Path):
        write_whole(target, content)
    else:
        target.write(content)
