"""What the program has to say about the chosen station: what is still needed, and cautions."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.finding_cards import FindingCard
from core.line import Lack, StationResult
from core.line.findings import Findings
from core.sheets.words import words_in
from core.units import System, show

_BY_SECTION: Mapping[str, tuple[tuple[str, str], ...]] = {
    "station": (("warning", "start"),),
    "motors": (("danger", "shock"),),
    "drive": (("danger", "shock"), ("warning", "water")),
    "settings": (("warning", "start"),),
    "reference": (("danger", "shock"), ("warning", "start")),
    "controls": (("warning", "stop"), ("warning", "start")),
    "drivetrain": (("warning", "start"),),
    "cables": (("danger", "shock"), ("warning", "water")),
    "notes": (),
    "photos": (("danger", "shock"),),
}
"""Signal word and caution for the work that each section is about; `core.sheets.words` has them."""

_say = words_in("en")


def wait_text(result: StationResult, system: System) -> str:
    """How long to wait before opening the station's drive, as entered from its label."""
    drive_type = result.drive_type
    if drive_type is None:
        return ""
    if drive_type.discharge_wait_s is None:
        return (
            f"{drive_type.name}: the waiting time is not entered; read it from the drive's label."
        )
    return f"{drive_type.name}: wait {show(drive_type.discharge_wait_s, 'wait', system)}."


class CautionCard(QFrame):
    """One safety message: signal word, hazard, consequence, how to avoid it."""

    def __init__(self, level: str, key: str, more: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("caution")
        word = QLabel(f"⚠ {_say(level).upper()}")
        word.setObjectName(level)
        word.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        parts = [_say(f"{key}_{part}") for part in ("hazard", "consequence", "avoidance")]
        text = QLabel(" ".join([*parts, more]).strip())
        text.setTextFormat(Qt.TextFormat.PlainText)
        text.setWordWrap(True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 8)
        layout.addWidget(word)
        layout.addWidget(text)


class Remarks(QWidget):
    """The remarks beside a station.

    Signals:
        asked: The field of something still needed is to be shown.
               arg 0: the `Lack`
        finding_asked: The field of a finding is to be shown.
                       arg 0: the `Finding`
        accepted: Somebody accepts a finding.
                  arg 0: the `Finding`, arg 1: name, arg 2: reason, arg 3: day
    """

    asked = Signal(object)
    finding_asked = Signal(object)
    accepted = Signal(object, str, str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[object, ...] = ()
        self._told: tuple[object, ...] = ()
        self.head = QLabel()
        self.head.setObjectName("sectionName")
        self.head.setWordWrap(True)
        self._links = QVBoxLayout()
        self._links.setSpacing(1)
        self._cards = QVBoxLayout()
        self._cards.setSpacing(6)
        self._findings = QVBoxLayout()
        self._findings.setSpacing(6)
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(2, 2, 6, 2)
        column.addWidget(self.head)
        column.addLayout(self._links)
        column.addSpacing(6)
        column.addLayout(self._findings)
        column.addSpacing(6)
        column.addLayout(self._cards)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(content)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area)

    @property
    def links(self) -> list[QPushButton]:
        """One button for each thing still needed."""
        items = (self._links.itemAt(place) for place in range(self._links.count()))
        found = (item.widget() for item in items if item is not None)
        return [widget for widget in found if isinstance(widget, QPushButton)]

    def show_result(self, result: StationResult | None, section: str, system: System) -> None:
        """Show what there is to say about a station while one of its sections is worked on."""
        lacks = result.lacks if result else ()
        wait = wait_text(result, system) if result else ""
        told = (lacks, section, wait, result is None)
        if told == self._shown:
            return
        self._shown = told
        self._show_lacks(result, lacks)
        _clear(self._cards)
        for level, key in _BY_SECTION[section] if result else ():
            self._cards.addWidget(CautionCard(level, key, wait if key == "shock" else ""))

    @property
    def cards(self) -> list[FindingCard]:
        """One card for each finding shown."""
        items = (self._findings.itemAt(place) for place in range(self._findings.count()))
        found = (item.widget() for item in items if item is not None)
        return [widget for widget in found if isinstance(widget, FindingCard)]

    def show_findings(self, findings: Findings, station_id: int | None, system: System) -> None:
        """Show what the rules say about a station, and below it what they say about the line."""
        of_line = [entry for entry in findings.found if entry.station_id is None]
        here = list(findings.at(station_id)) if station_id is not None else []
        shown = [*here, *of_line]
        held = [findings.accepted.get(entry.mark) for entry in shown]
        told = ([entry.mark for entry in shown], held, system)
        if told == self._told:
            return
        self._told = told
        _clear(self._findings)
        for entry, acceptance in zip(shown, held, strict=True):
            card = FindingCard(entry, system, acceptance, with_tag=entry.station_id is None)
            card.asked.connect(self.finding_asked)
            card.accepted.connect(self.accepted)
            self._findings.addWidget(card)

    def _show_lacks(self, result: StationResult | None, lacks: tuple[Lack, ...]) -> None:
        _clear(self._links)
        if result is None:
            self.head.setText("")
        elif not lacks:
            self.head.setText("✓ Nothing more is needed for the figures shown.")
        else:
            self.head.setText(f"○ Still needed: {len(lacks)}")
        for lack in lacks:
            link = QPushButton(lack.text)
            link.setObjectName("link")
            link.setToolTip(f"{lack.text}\nGo to the field")
            link.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            link.clicked.connect(lambda _checked=False, lack=lack: self.asked.emit(lack))
            self._links.addWidget(link)


def _clear(layout: QVBoxLayout) -> None:
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
