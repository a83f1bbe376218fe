"""Cards for what the rules say: level as shape and word, what mends it, acceptance."""

import datetime

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.flow_layout import FlowLayout
from app.theme import colours
from core.line.findings import Finding, Level
from core.line.findings.base import LEVEL_MEANINGS, LEVEL_WORDS
from core.model import Acceptance
from core.units import System

_SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
_TRIANGLE = ((0.5, 0.0), (1.0, 1.0), (0.0, 1.0))


class LevelMark(QWidget):
    """The level of a finding as a shape: a barred square, a triangle, or a ring."""

    def __init__(self, level: Level, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._level = level
        self.setAccessibleName(LEVEL_WORDS[level])
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """A square as high as the text."""
        side = self.fontMetrics().height()
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the shape."""
        look = colours()
        inks = {"blocker": look.wrong, "fault": look.started, "advice": look.accent}
        ink = QColor(inks[self._level])
        ground = QColor(look.base)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        place = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        painter.setPen(QPen(ink, 1.6))
        if self._level == "advice":
            painter.drawEllipse(place)
            painter.setPen(QPen(ink, 2.0))
            painter.drawLine(_at(place, 0.5, 0.45), _at(place, 0.5, 0.8))
            painter.drawPoint(_at(place, 0.5, 0.25))
        else:
            painter.setBrush(ink)
            corners = _SQUARE if self._level == "blocker" else _TRIANGLE
            painter.drawPolygon(QPolygonF([_at(place, x, y) for x, y in corners]))
            painter.setPen(QPen(ground, 2.0))
            if self._level == "blocker":
                painter.drawLine(_at(place, 0.2, 0.5), _at(place, 0.8, 0.5))
            else:
                painter.drawLine(_at(place, 0.5, 0.4), _at(place, 0.5, 0.7))
                painter.drawPoint(_at(place, 0.5, 0.87))
        painter.end()


def _at(place: QRectF, across: float, down: float) -> QPointF:
    return QPointF(place.left() + across * place.width(), place.top() + down * place.height())


class FindingCard(QFrame):
    """One finding.

    Signals:
        asked: Its field is to be shown.
               arg 0: the `Finding`
        accepted: Somebody accepts it.
                  arg 0: the `Finding`, arg 1: name, arg 2: reason, arg 3: day
    """

    asked = Signal(object)
    accepted = Signal(object, str, str, str)

    def __init__(
        self,
        finding: Finding,
        system: System,
        held: Acceptance | None = None,
        with_tag: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.finding = finding
        self.setObjectName("caution")
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(LevelMark(finding.level))
        word = QLabel(LEVEL_WORDS[finding.level])
        word.setObjectName("sectionName")
        word.setToolTip(LEVEL_MEANINGS[finding.level])
        head.addWidget(word)
        place = finding.tag or "Line"
        head.addWidget(QLabel(place if with_tag else ""), 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 8)
        column.setSpacing(3)
        column.addLayout(head)
        self.text = _words(finding.says(system))
        column.addWidget(self.text)
        column.addWidget(_words(finding.follows(system), quiet=True))
        column.addWidget(_words(f"→ {finding.mend(system)}"))
        if held is not None:
            column.addWidget(_words(f"✓ Accepted by {held.person}: {held.reason}", quiet=True))
        column.addLayout(self._buttons(held))
        self._ask = self._build_ask()
        column.addWidget(self._ask)
        self.setToolTip(f"Source: {finding.rule.source}")

    def _buttons(self, held: Acceptance | None) -> FlowLayout:
        row = FlowLayout(gap=6)
        self.go_button = QPushButton("Go to the field")
        self.go_button.setObjectName("link")
        self.go_button.clicked.connect(lambda: self.asked.emit(self.finding))
        row.addWidget(self.go_button)
        # Of this card from the start: shown without a parent it would be a window of its own, which
        # flashes up and takes the keys away.
        self.accept_button = QPushButton("Accept, with a reason", self)
        self.accept_button.setObjectName("link")
        self.accept_button.clicked.connect(self._open_ask)
        self.accept_button.setVisible(held is None)
        row.addWidget(self.accept_button)
        return row

    def _build_ask(self) -> QWidget:
        panel = QWidget()
        self.person = QLineEdit()
        self.person.setPlaceholderText("Name")
        self.person.setAccessibleName("Name of who accepts it")
        self.reason = QLineEdit()
        self.reason.setPlaceholderText("Reason")
        self.reason.setAccessibleName("Reason")
        self.take_button = QPushButton("Accept")
        self.take_button.clicked.connect(self._accept)
        self.reason.returnPressed.connect(self._accept)
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.person, self.reason, self.take_button):
            column.addWidget(widget)
        panel.hide()
        return panel

    def _open_ask(self) -> None:
        self._ask.show()
        self.accept_button.hide()
        self.person.setFocus(Qt.FocusReason.OtherFocusReason)

    def _accept(self) -> None:
        day = datetime.date.today().isoformat()
        self.accepted.emit(self.finding, self.person.text(), self.reason.text(), day)


def _words(text: str, quiet: bool = False) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    if quiet:
        label.setObjectName("quiet")
    return label
