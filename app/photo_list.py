"""The photographs of a station as small pictures side by side, each read when it comes in sight."""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QEnterEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from app.photo_pixels import read_pixels
from app.theme import colours
from core.errors import LinebookError
from core.model import RECORDS, Photo

_PICTURE = QSize(176, 132)
_MARGIN, _LINES = 8, 2
_MOST_KEPT = 300
_Index = QModelIndex | QPersistentModelIndex
MISSING_MARK = "✗"

ReadPhoto = Callable[[str], bytes]
"""Gives the bytes of a photograph by its digest, or raises a `LinebookError`."""


class PhotoModel(QAbstractListModel):
    """The photographs; the picture of each is asked for by who draws it, and kept."""

    def __init__(self, read: ReadPhoto, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.photos: tuple[Photo, ...] = ()
        self._read = read
        self._kept: OrderedDict[tuple[str, int], QImage | str] = OrderedDict()

    def show_photos(self, photos: Sequence[Photo]) -> None:
        """Show these photographs; those already read stay read."""
        if tuple(photos) == self.photos:
            return
        same = [entry.id for entry in photos] == [entry.id for entry in self.photos]
        if same:
            self.photos = tuple(photos)
            self.dataChanged.emit(self.index(0), self.index(len(photos) - 1))
            return
        self.beginResetModel()
        self.photos = tuple(photos)
        self.endResetModel()

    def forget(self) -> None:
        """Read every picture anew: another file is open."""
        self._kept.clear()

    def rowCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        """Number of photographs."""
        return 0 if parent.isValid() else len(self.photos)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What a photograph shows, in words; its picture is had by `picture`."""
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return words_of(self.photos[index.row()])
        if role == Qt.ItemDataRole.ToolTipRole:
            photo = self.photos[index.row()]
            return f"{words_of(photo)}\n{photo.width_px} × {photo.height_px} dots"
        return None

    def picture(self, photo: Photo, dots: QSize) -> QImage | str:
        """A photograph in a size, or why it cannot be shown."""
        key = photo.sha256, dots.width()
        if key not in self._kept:
            try:
                self._kept[key] = read_pixels(self._read(photo.sha256), dots)
            except LinebookError as error:
                self._kept[key] = error.why
            while len(self._kept) > _MOST_KEPT:
                self._kept.popitem(last=False)
        return self._kept[key]

    @property
    def read_so_far(self) -> frozenset[str]:
        """Digests of the photographs whose pictures were read."""
        return frozenset(digest for digest, _ in self._kept)


class PhotoList(QListView):
    """Shows all photographs without scrolling; Enter or a double click asks for a closer look.

    ``activated`` is told for that, with the index.
    """

    def __init__(self, model: PhotoModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setModel(model)
        self.setItemDelegate(_Tile(model, self))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setSpacing(4)
        self.setWordWrap(True)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Photographs")
        self.setTabKeyNavigation(False)
        model.modelReset.connect(self.fit)

    @property
    def row(self) -> int:
        """The photograph one is at; -1 without any."""
        return self.currentIndex().row()

    def go_to(self, row: int) -> None:
        """Be at a photograph."""
        self.setCurrentIndex(self.model().index(row, 0))

    def fit(self) -> None:
        """Be as high as all photographs need at the present width."""
        tile = self.sizeHintForIndex(self.model().index(0, 0))
        step = QSize(tile.width() + 2 * self.spacing(), tile.height() + 2 * self.spacing())
        frame = 2 * self.frameWidth()
        columns = max(1, (self.width() - frame - self.spacing()) // max(1, step.width()))
        rows = -(-self.model().rowCount() // columns)
        self.setFixedHeight(max(1, rows) * step.height() + frame + 2 * self.spacing())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set as many side by side as there is room for."""
        super().resizeEvent(event)
        self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter asks for a closer look on every system."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.activated.emit(self.currentIndex())
            return
        super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Say by the pointer that the pictures can be clicked."""
        super().enterEvent(event)
        self.viewport().setCursor(Qt.CursorShape.PointingHandCursor)


class _Tile(QStyledItemDelegate):
    """Draws one photograph with what it shows below it."""

    def __init__(self, model: PhotoModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model

    def sizeHint(self, option: QStyleOptionViewItem, _index: _Index) -> QSize:
        """The same for all, so that none has to be read for its size."""
        words = option.fontMetrics.lineSpacing() * _LINES
        return QSize(_PICTURE.width() + 2 * _MARGIN, _PICTURE.height() + words + 3 * _MARGIN)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """Draw it; only now is its picture read."""
        look, box, photo = colours(), option.rect, self._model.photos[index.row()]
        painter.save()
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        pen = QPen(QColor(look.accent if selected else look.line), look.border_px)
        pen.setWidth(look.border_px + (2 if selected else 0))
        painter.setPen(pen)
        painter.setBrush(QColor(look.computed if selected else look.base))
        painter.drawRoundedRect(box.adjusted(2, 2, -2, -2), 3, 3)
        if focused:
            painter.setPen(QPen(QColor(look.text), 1, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box.adjusted(4, 4, -4, -4))
        frame = QRect(box.left() + _MARGIN, box.top() + _MARGIN, *_PICTURE.toTuple())
        self._draw_picture(painter, photo, frame)
        self._draw_words(painter, option, photo, frame, selected)
        painter.restore()

    def _draw_picture(self, painter: QPainter, photo: Photo, frame: QRect) -> None:
        ratio = painter.device().devicePixelRatioF()
        dots = QSize(round(frame.width() * ratio), round(frame.height() * ratio))
        picture = self._model.picture(photo, dots)
        if isinstance(picture, str):
            painter.setPen(QColor(colours().wrong))
            wrap = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignCenter
            painter.drawText(frame, wrap, f"{MISSING_MARK} {picture}")
            return
        size = QSize(round(picture.width() / ratio), round(picture.height() / ratio))
        place = QRect(0, 0, size.width(), size.height())
        place.moveCenter(frame.center())
        painter.drawImage(place, picture)

    def _draw_words(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        photo: Photo,
        frame: QRect,
        selected: bool,
    ) -> None:
        look, high = colours(), option.fontMetrics.lineSpacing()
        for line, (text, ink) in enumerate(
            (
                (shows_of(photo), look.computed_text if selected else look.text),
                (photo.caption, look.computed_text if selected else look.muted),
            )
        ):
            place = QRect(frame.left(), frame.bottom() + _MARGIN + line * high, frame.width(), high)
            painter.setPen(QColor(ink))
            elided = option.fontMetrics.elidedText(text, Qt.TextElideMode.ElideRight, place.width())
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft, elided)


def shows_of(photo: Photo) -> str:
    """What a photograph shows, in a word."""
    return RECORDS["photo"].field("shows").choices.get(photo.shows, photo.shows)


def words_of(photo: Photo) -> str:
    """What a photograph shows and its caption."""
    return ": ".join(filter(None, (shows_of(photo), photo.caption)))
