"""What the window shows while no file is open: begin a line, open one, look at a sample."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QRadioButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.samples import SAMPLES
from app.settings import Settings
from core.model.choices import UNIT_SYSTEMS

_WHAT = (
    "The workbook of the electrician who builds, starts up and services a fruit-handling line. "
    "One file for each line; everything typed is stored at once."
)


class StartPage(QScrollArea):
    """The first thing a new user sees.

    Signals:
        new_asked: A new line is wanted.
        open_asked: A file is to be chosen.
        recent_asked: A recent file is to be opened.
                      arg 0: its path
        sample_asked: A sample is to be opened.
                      arg 0: its name
    """

    new_asked = Signal()
    open_asked = Signal()
    recent_asked = Signal(object)
    sample_asked = Signal(str)

    def __init__(self, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self.setWidgetResizable(True)
        content = QWidget()
        content.setMaximumWidth(72 * self.fontMetrics().averageCharWidth())
        self._column = QVBoxLayout(content)
        self._column.setSpacing(6)
        title = QLabel("Linebook")
        title.setObjectName("stationName")
        self._column.addWidget(title)
        self._add_text(_WHAT)
        self._column.addSpacing(8)
        self._add_units()
        buttons = QHBoxLayout()
        self.new_button = QPushButton("New line…")
        self.new_button.setDefault(True)
        self.new_button.clicked.connect(lambda _checked: self.new_asked.emit())
        self.open_button = QPushButton("Open…")
        self.open_button.clicked.connect(lambda _checked: self.open_asked.emit())
        buttons.addWidget(self.new_button)
        buttons.addWidget(self.open_button)
        buttons.addStretch(1)
        self._column.addLayout(buttons)
        self._column.addSpacing(8)
        self._add_heading("Samples")
        for name, what in SAMPLES.items():
            words = f"{name.replace('_', ' ').title()}: {what}"
            link = self._add_link(words)
            link.clicked.connect(lambda _checked=False, name=name: self.sample_asked.emit(name))
        self._recent_head = self._add_heading("Recent files")
        self._recent = QVBoxLayout()
        self._column.addLayout(self._recent)
        self._column.addStretch(1)
        self.setWidget(content)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.show_recent()

    def show_recent(self) -> None:
        """List the recent files anew."""
        while (item := self._recent.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        recent = self._settings.recent
        self._recent_head.setVisible(bool(recent))
        for path in recent:
            link = _link(str(path))
            link.clicked.connect(lambda _checked=False, path=path: self._ask_recent(path))
            self._recent.addWidget(link)

    def _ask_recent(self, path: Path) -> None:
        self.recent_asked.emit(path)

    def _add_units(self) -> None:
        row = QHBoxLayout()
        row.addWidget(QLabel("Units of a new line"))
        self.units = QButtonGroup(self)
        for name, label in UNIT_SYSTEMS.items():
            choice = QRadioButton(label)
            choice.setObjectName(name)
            choice.setChecked(name == self._settings.unit_system)
            choice.toggled.connect(lambda on, name=name: self._choose_units(name) if on else None)
            self.units.addButton(choice)
            row.addWidget(choice)
        row.addStretch(1)
        self._column.addLayout(row)

    def _choose_units(self, name: str) -> None:
        self._settings.unit_system = "us" if name == "us" else "metric"

    def _add_text(self, text: str) -> None:
        label = QLabel(text)
        label.setWordWrap(True)
        self._column.addWidget(label)

    def _add_heading(self, text: str) -> QLabel:
        label = QLabel(text)
        label.setObjectName("sectionName")
        self._column.addWidget(label)
        return label

    def _add_link(self, text: str) -> QPushButton:
        link = _link(text)
        self._column.addWidget(link)
        return link


def _link(text: str) -> QPushButton:
    link = QPushButton(text.replace("&", "&&"))
    link.setObjectName("link")
    link.setToolTip(text)
    link.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
    return link
