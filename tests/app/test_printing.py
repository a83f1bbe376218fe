"""Pages sent to a printer; a printer that prints into a file stands for one on the desk."""

import pypdfium2
import pytest
from PySide6.QtPrintSupport import QPrinter

from app.page_view import PdfPages
from app.printing import PrintRun
from tests.app.test_page_view import pdf

A4_LANDSCAPE = 841.89, 595.28


@pytest.fixture
def printer(tmp_path, qapp):
    made = QPrinter(QPrinter.PrinterMode.ScreenResolution)
    made.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    made.setOutputFileName(str(tmp_path / "printed.pdf"))
    return made


def printed(printer):
    document = pypdfium2.PdfDocument(printer.outputFileName())
    sizes = [document.get_page_size(place) for place in range(len(document))]
    middle = document[0].render(scale=1).to_numpy()
    document.close()
    return sizes, middle


def test_every_page_is_sent_the_right_way_round(printer, qtbot):
    run = PrintRun(PdfPages(pdf(pages=2, size=A4_LANDSCAPE)), printer)
    with qtbot.waitSignal(run.ended) as ended:
        run.start()
    assert ended.args == [2]
    sizes, image = printed(printer)
    assert sizes == [(pytest.approx(842, abs=2), pytest.approx(595, abs=2))] * 2
    blue, green, red = image[300, 200][:3]
    assert (red > 200, green < 50, blue < 50) == (True, True, True)


def test_a_range_of_pages_is_kept(printer, qtbot):
    printer.setFromTo(2, 3)
    run = PrintRun(PdfPages(pdf(pages=5)), printer)
    with qtbot.waitSignal(run.ended) as ended:
        run.start()
    assert ended.args == [2]
    assert len(printed(printer)[0]) == 2


def test_it_can_be_stopped(printer, qtbot):
    run = PrintRun(PdfPages(pdf(pages=30)), printer)
    run.progressed.connect(lambda done, _of: done == 2 and run.cancel())
    with qtbot.waitSignal(run.ended) as ended:
        run.start()
    assert ended.args == [2]


@pytest.mark.qt_log_ignore(r"QPainter::begin\(\): Returned false", extend=True)
def test_a_printer_that_takes_no_job_is_told(tmp_path, printer, qtbot):
    printer.setOutputFileName(str(tmp_path / "no such folder" / "printed.pdf"))
    run = PrintRun(PdfPages(pdf()), printer)
    with qtbot.waitSignals([run.failed, run.ended]):
        run.start()
