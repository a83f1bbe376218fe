"""Shows the pages of a PDF, drawn from its very bytes at the sharpness of the screen."""

from collections import OrderedDict
from typing import Any

from PySide6.QtCore import QCoreApplication, QPoint, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QWidget

from core.sheets.png_drawing import PDFIUM

POINTS_PER_INCH = 72.0
SMALLEST_ZOOM, LARGEST_ZOOM = 0.25, 4.0
ZOOM_STEP = 1.25
_GAP = 12
_KEPT = 10
_WHEEL_NOTCH = 120


class PdfPages:
    """The pages of a PDF held in memory: their sizes, and an image of each on demand.

    The library behind it is not made for several threads, so every call holds its lock.
    """

    def __init__(self, data: bytes) -> None:
        import pypdfium2

        with PDFIUM:
            self._document: Any = pypdfium2.PdfDocument(data)
            self.sizes: tuple[QRectF, ...] = tuple(
                QRectF(0, 0, *self._document.get_page_size(place))
                for place in range(len(self._document))
            )

    def __len__(self) -> int:
        return len(self.sizes)

    def image(self, place: int, dots_per_inch: float) -> QImage:
        """One page as an image; it does not depend on the PDF being kept."""
        with PDFIUM:
            page = self._document[place]
            try:
                return _image_of(page, dots_per_inch)
            finally:
                page.close()

    def close(self) -> None:
        """Free what the library holds."""
        with PDFIUM:
            self._document.close()


def _image_of(page: Any, dots_per_inch: float) -> QImage:
    bitmap = page.render(scale=dots_per_inch / POINTS_PER_INCH, rev_byteorder=False)
    image = QImage(
        bitmap.buffer,
        bitmap.width,
        bitmap.height,
        bitmap.stride,
        QImage.Format.Format_BGR888 if bitmap.n_channels == 3 else QImage.Format.Format_RGB32,
    )
    return image.copy()


class PageView(QAbstractScrollArea):
    """Pages one below the other, scrolled and zoomed; only those in sight are drawn.

    Signals:
        page_changed: Another page fills the view.
                      arg 0: its number from 1, 0 without pages
        zoom_changed: The pages are shown larger or smaller.
                      arg 0: zoom, 1.0 is the size of the paper
    """

    page_changed = Signal(int)
    zoom_changed = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: PdfPages | None = None
        self._images: OrderedDict[tuple[int, float], QImage] = OrderedDict()
        self._zoom = 1.0
        self._fits_width = True
        self._page = 0
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setAccessibleName("Pages of the sheet")
        self.viewport().setBackgroundRole(QPalette.ColorRole.Mid)
        self.verticalScrollBar().valueChanged.connect(self._on_scrolled)
        self.horizontalScrollBar().valueChanged.connect(self.viewport().update)
        application = QCoreApplication.instance()
        assert application is not None
        application.aboutToQuit.connect(self.close_pages)

    @property
    def page_count(self) -> int:
        """Number of pages shown."""
        return len(self._pages) if self._pages else 0

    @property
    def page(self) -> int:
        """The page that fills the view, from 1; 0 without pages."""
        return self._page

    @property
    def zoom(self) -> float:
        """How large the pages are shown; 1.0 is the size of the paper."""
        return self._zoom

    def show_pdf(self, data: bytes | None) -> None:
        """Show the pages of a PDF, or nothing; place and zoom are kept as far as they fit."""
        self.close_pages()
        self._pages = PdfPages(data) if data else None
        self._lay_out()
        self._on_scrolled()

    def close_pages(self) -> None:
        """Free the PDF; nothing is shown any more."""
        if self._pages is not None:
            self._pages.close()
        self._pages = None
        self._images.clear()

    def set_zoom(self, zoom: float) -> None:
        """Show the pages larger or smaller, with the place at the top kept."""
        self._fits_width = False
        self._take_zoom(zoom)

    def fit_width(self) -> None:
        """Show the pages as wide as the view, and keep them so."""
        self._fits_width = True
        self._lay_out()

    def go_to(self, page: int) -> None:
        """Scroll to the top of a page, counted from 1."""
        if self._pages is not None:
            page = min(max(page, 1), self.page_count)
            self.verticalScrollBar().setValue(self._rects()[page - 1].top() - _GAP // 2)

    def go_by(self, pages: int) -> None:
        """Scroll on or back by whole pages."""
        self.go_to(self._page + pages)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the pages in sight."""
        if self._pages is None:
            return
        painter = QPainter(self.viewport())
        moved = self._offset()
        for place, rect in enumerate(self._rects()):
            seen = rect.translated(-moved)
            if seen.intersects(event.rect()):
                painter.drawImage(QPointF(seen.topLeft()), self._image(place))
                painter.setPen(QColor(Qt.GlobalColor.darkGray))
                painter.drawRect(seen.adjusted(-1, -1, 0, 0))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the width fitted and the scroll bars right."""
        super().resizeEvent(event)
        self._lay_out()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Page keys turn pages, arrows scroll, plus and minus zoom."""
        bar = self.verticalScrollBar()
        acts = {
            Qt.Key.Key_PageDown: lambda: self.go_by(1),
            Qt.Key.Key_PageUp: lambda: self.go_by(-1),
            Qt.Key.Key_Home: lambda: self.go_to(1),
            Qt.Key.Key_End: lambda: self.go_to(self.page_count),
            Qt.Key.Key_Down: lambda: bar.setValue(bar.value() + bar.singleStep()),
            Qt.Key.Key_Up: lambda: bar.setValue(bar.value() - bar.singleStep()),
            Qt.Key.Key_Plus: lambda: self.set_zoom(self._zoom * ZOOM_STEP),
            Qt.Key.Key_Minus: lambda: self.set_zoom(self._zoom / ZOOM_STEP),
        }
        act = acts.get(Qt.Key(event.key()))
        if act is None:
            super().keyPressEvent(event)
        else:
            act()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom while Ctrl is held, else scroll."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            notches = event.angleDelta().y() / _WHEEL_NOTCH
            self.set_zoom(self._zoom * ZOOM_STEP**notches)
        else:
            super().wheelEvent(event)

    def _take_zoom(self, zoom: float) -> None:
        zoom = min(max(zoom, SMALLEST_ZOOM), LARGEST_ZOOM)
        if zoom == self._zoom:
            return
        bar = self.verticalScrollBar()
        place = bar.value() / max(1, self._whole_size().height())
        self._zoom = zoom
        self._set_ranges()
        bar.setValue(round(place * self._whole_size().height()))
        self.zoom_changed.emit(zoom)
        self.viewport().update()

    def _lay_out(self) -> None:
        if self._pages is not None and self._fits_width and len(self._pages):
            widest = max(size.width() for size in self._pages.sizes)
            room = self.viewport().width() - 2 * _GAP
            self._take_zoom(room / (widest * self._logical_dpi() / POINTS_PER_INCH))
        self._set_ranges()
        self.viewport().update()

    def _set_ranges(self) -> None:
        whole, seen = self._whole_size(), self.viewport().size()
        for bar, length, part in (
            (self.verticalScrollBar(), whole.height(), seen.height()),
            (self.horizontalScrollBar(), whole.width(), seen.width()),
        ):
            bar.setRange(0, max(0, length - part))
            bar.setPageStep(part)
            bar.setSingleStep(40)

    def _logical_dpi(self) -> float:
        return float(self.logicalDpiX()) or 96.0

    def _size(self, place: int) -> QSize:
        assert self._pages is not None
        scale = self._zoom * self._logical_dpi() / POINTS_PER_INCH
        return (self._pages.sizes[place].size() * scale).toSize()

    def _whole_size(self) -> QSize:
        sizes = [self._size(place) for place in range(self.page_count)]
        width = max((size.width() for size in sizes), default=0) + 2 * _GAP
        return QSize(width, sum(size.height() + _GAP for size in sizes) + _GAP)

    def _rects(self) -> list[QRect]:
        """Where each page lies in the whole, centred where there is room."""
        room = max(self._whole_size().width(), self.viewport().width())
        rects, top = [], _GAP
        for place in range(self.page_count):
            size = self._size(place)
            rects.append(QRect(QPoint((room - size.width()) // 2, top), size))
            top += size.height() + _GAP
        return rects

    def _offset(self) -> QPoint:
        return QPoint(self.horizontalScrollBar().value(), self.verticalScrollBar().value())

    def _image(self, place: int) -> QImage:
        assert self._pages is not None
        dots = self._zoom * self._logical_dpi() * self.devicePixelRatioF()
        key = place, dots
        if key in self._images:
            self._images.move_to_end(key)
            return self._images[key]
        image = self._pages.image(place, dots)
        image.setDevicePixelRatio(self.devicePixelRatioF())
        self._images[key] = image
        while len(self._images) > _KEPT:
            self._images.popitem(last=False)
        return image

    def _on_scrolled(self) -> None:
        middle = self._offset().y() + self.viewport().height() // 2
        tops = [rect.top() for rect in self._rects()]
        page = sum(top <= middle for top in tops) or min(1, self.page_count)
        if page != self._page:
            self._page = page
            self.page_changed.emit(page)
        self.viewport().update()
