"""A closer look at the photographs of a station: one at a time, as large as one likes."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QDialog, QLabel, QToolButton, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.photo_list import MISSING_MARK, ReadPhoto, words_of
from app.photo_pixels import read_pixels
from app.theme import colours
from app.zoom_view import POINTS_PER_INCH, ZoomView
from core.errors import LinebookError
from core.model import Photo

_DOTS_PER_INCH = 96.0
_SHARE_OF_WINDOW = 0.92


class PhotoView(ZoomView):
    """One photograph, fitted into the view at first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.picture: QImage | None = None
        self.setAccessibleName("Photograph")

    def show_picture(self, picture: QImage | None) -> None:
        """Show a picture, all of it."""
        self.picture = picture
        size = picture.size() if picture is not None else QSize(1, 1)
        scale = POINTS_PER_INCH / _DOTS_PER_INCH
        self.take_size(size.width() * scale, size.height() * scale)
        self.fit_whole()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it."""
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), QColor(colours().window))
        if self.picture is not None:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            scale = self.scale_now() * POINTS_PER_INCH / _DOTS_PER_INCH
            corner = self.origin()
            width, height = (side * scale for side in self.picture.size().toTuple())
            painter.drawImage(QRectF(corner.x(), corner.y(), width, height), self.picture)
        painter.end()


class PhotoViewer(QDialog):
    """Shows photographs in a window of its own; Esc closes it.

    Signals:
        looked_at: Another photograph is shown.
                   arg 0: its place, from 0
    """

    looked_at = Signal(int)

    def __init__(
        self, photos: Sequence[Photo], at: int, read: ReadPhoto, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Photographs")
        self._photos, self._read = tuple(photos), read
        self.place = at
        self.view = PhotoView()
        self.caption = QLabel()
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        self.caption.setWordWrap(True)
        self.fault = QLabel()
        self.fault.setObjectName("refusal")
        self.fault.setWordWrap(True)
        layout = QVBoxLayout(self)
        layout.addLayout(self._build_bar())
        layout.addWidget(self.caption)
        layout.addWidget(self.fault)
        layout.addWidget(self.view, 1)
        if parent is not None:
            whole = parent.window().size()
            self.resize(whole * _SHARE_OF_WINDOW)
        self.view.setFocus()
        self.show_place(at)

    def _build_bar(self) -> FlowLayout:
        bar = FlowLayout()
        view = self.view
        self.back_button, self.on_button = QToolButton(), QToolButton()
        for button, text, keys, act in (
            (self.back_button, "◂ Before", ("PgUp",), lambda: self.show_place(self.place - 1)),
            (self.on_button, "Next ▸", ("PgDown",), lambda: self.show_place(self.place + 1)),
            (QToolButton(), "− Smaller", ("-",), view.zoom_out),
            (QToolButton(), "+ Larger", ("+", "="), view.zoom_in),
            (QToolButton(), "All of it", ("Home",), view.fit_whole),
            (QToolButton(), "Close", ("Esc",), self.close),
        ):
            button.setText(text)
            button.setToolTip(keys[0])
            button.clicked.connect(lambda _checked=False, act=act: act())
            for key in keys:
                if key != "Esc":
                    QShortcut(QKeySequence(key), self).activated.connect(act)
            bar.addWidget(button)
        return bar

    def show_place(self, place: int) -> None:
        """Show the photograph at a place, from 0; nothing happens beyond the ends."""
        if not 0 <= place < len(self._photos):
            return
        self.place, photo = place, self._photos[place]
        told = (words_of(photo), photo.taken_at or photo.added_at, photo.person)
        head = " · ".join(filter(None, told))
        self.caption.setText(f"{place + 1} of {len(self._photos)}   {head}")
        try:
            picture: QImage | None = read_pixels(self._read(photo.sha256))
            self.fault.hide()
        except LinebookError as error:
            picture = None
            self.fault.setText(f"{MISSING_MARK} {error.what} {error.why} {error.fix}")
            self.fault.show()
        self.view.show_picture(picture)
        self.back_button.setEnabled(place > 0)
        self.on_button.setEnabled(place + 1 < len(self._photos))
        self.looked_at.emit(place)
