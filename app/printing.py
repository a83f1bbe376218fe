"""Prints the pages of a PDF on a printer of this machine, as images at its own sharpness."""

from PySide6.QtCore import QMarginsF, QObject, QRectF, QSizeF, QTimer, Signal
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from app.page_view import POINTS_PER_INCH, PdfPages
from core.errors import LinebookError

# Text is sharp from here on; more only makes the job of the printer longer.
_DOTS_ENOUGH = 300


class PrintRun(QObject):
    """Sends pages to a printer, one at each turn of the event loop, so that it can be stopped.

    Each page goes out in its own size and the right way round; the printer's range of pages holds.

    Signals:
        progressed: A page was sent.
                    arg 0: how many, arg 1: of how many
        ended: All pages were sent, or it was stopped.
               arg 0: how many pages were sent
        failed: The printer took no job.
                arg 0: the `LinebookError`
    """

    progressed = Signal(int, int)
    ended = Signal(int)
    failed = Signal(object)

    def __init__(self, pages: PdfPages, printer: QPrinter, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pages, self._printer = pages, printer
        self._painter = QPainter()
        first = printer.fromPage() or 1
        last = min(printer.toPage() or len(pages), len(pages))
        self._wanted = range(first - 1, last)
        self._sent = 0
        self._turn = QTimer(self)
        self._turn.timeout.connect(self._send_one)

    def start(self) -> None:
        """Begin the job."""
        if not self._wanted:
            self._end()
            return
        self._printer.setFullPage(True)
        self._lay_out(self._wanted[0])
        if not self._painter.begin(self._printer):
            self.failed.emit(_no_job(self._printer))
            self._end()
            return
        self._turn.start(0)

    def cancel(self) -> None:
        """Stop after the pages that were sent."""
        if self._turn.isActive():
            self._printer.abort()
            self._end()

    def _send_one(self) -> None:
        place = self._wanted[self._sent]
        if self._sent:
            self._lay_out(place)
            self._printer.newPage()
        self._draw(place)
        self._sent += 1
        self.progressed.emit(self._sent, len(self._wanted))
        if self._sent == len(self._wanted):
            self._end()

    def _end(self) -> None:
        self._turn.stop()
        if self._painter.isActive():
            self._painter.end()
        self._pages.close()
        self.ended.emit(self._sent)

    def _lay_out(self, place: int) -> None:
        size = self._pages.sizes[place]
        lying = size.width() > size.height()
        upright = QSizeF(min(size.width(), size.height()), max(size.width(), size.height()))
        orientation = (
            QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait
        )
        paper = QPageSize(upright, QPageSize.Unit.Point, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
        self._printer.setPageLayout(QPageLayout(paper, orientation, QMarginsF(0, 0, 0, 0)))

    def _draw(self, place: int) -> None:
        image = self._pages.image(place, min(self._printer.resolution(), _DOTS_ENOUGH))
        size = self._pages.sizes[place].size() * (self._printer.resolution() / POINTS_PER_INCH)
        self._painter.drawImage(QRectF(0, 0, size.width(), size.height()), image)


def _no_job(printer: QPrinter) -> LinebookError:
    return LinebookError(
        "Nothing was printed.",
        f"The printer '{printer.printerName() or printer.outputFileName()}' took no job.",
        "See that it is on and has paper, or save the PDF and print that.",
    )
