"""The page of the stations: their list at the left, the chosen one, and remarks at the right.

The list is drawn first; everything about the chosen station is imported and built right after the
first sight of it, so that the window is there sooner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSplitter, QToolButton, QVBoxLayout, QWidget

from app.page import Page
from app.session import Session
from app.station_list import StationList
from core.store import Changes, actions

if TYPE_CHECKING:
    from app.finding import Found
    from core.line import Lack
    from core.line.findings import Finding

_LIST_FROM_SIGNS, _REMARKS_FROM_SIGNS = 125, 160
_LIST_SIGNS = 42
_NONE_YET = (
    "This line has no stations yet. Add the first one: it gets a motor and a drive, and every "
    "value you type is stored at once."
)


class StationsPage(Page):
    """Holds which station is chosen, and keeps list, station and remarks in step.

    Before `complete`, which the first sight of the page brings about, there is the list alone.

    Signals:
        elsewhere: What is to be shown lies on another page.
                   arg 0: the `Found`
    """

    elsewhere = Signal(object)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.station_id: int | None = None
        self.is_whole = False
        self.stations = StationList(session)
        self.stations.chosen.connect(self.choose)
        self.stations.found.connect(self.show_found)
        self.first_button = QPushButton("Add the first station")
        self.first_button.clicked.connect(self.add_station)
        self._none_yet = self._build_none_yet()
        self._room = (True, True)
        self._middle = QWidget()
        self._column = QVBoxLayout(self._middle)
        self._column.setContentsMargins(4, 0, 4, 0)
        self._column.addWidget(self._none_yet, 1)
        self._splitter = self._build_splitter()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 4, 6, 4)
        layout.setSpacing(4)
        layout.addWidget(self._splitter, 1)
        self.catch_up()

    def _build_none_yet(self) -> QWidget:
        panel = QWidget()
        text = QLabel(_NONE_YET)
        text.setWordWrap(True)
        column = QVBoxLayout(panel)
        column.addWidget(text)
        column.addWidget(self.first_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return panel

    def _build_splitter(self) -> QSplitter:
        splitter = QSplitter(Qt.Orientation.Horizontal)
        splitter.setChildrenCollapsible(False)
        for stretch, widget in enumerate((self.stations, self._middle)):
            splitter.addWidget(widget)
            splitter.setStretchFactor(stretch, stretch)
        sign = self.fontMetrics().averageCharWidth()
        self.stations.setMinimumWidth(24 * sign)
        splitter.setSizes([_LIST_SIGNS * sign, 132 * sign])
        return splitter

    def _build_rest(self) -> None:
        from app.drive_choice import DriveChoicePanel
        from app.make_like import MakeLikePanel
        from app.remarks import Remarks
        from app.station_page import StationPage

        self.station_page = StationPage(self.session)
        self.make_like = MakeLikePanel(self.session)
        self.drive_choice = DriveChoicePanel(self.session)
        self.remarks = Remarks()
        self.list_button = self._toggle("Stations")
        self.remarks_button = self._toggle("Remarks")
        self.station_page.head.add_left(self.list_button)
        self.station_page.head.add_right(self.remarks_button)
        self._column.insertWidget(0, self.make_like)
        self._column.insertWidget(1, self.drive_choice)
        self._column.addWidget(self.station_page, 1)
        sign = self.fontMetrics().averageCharWidth()
        self.remarks.setMinimumWidth(26 * sign)
        self._splitter.addWidget(self.remarks)
        self._splitter.setStretchFactor(2, 0)
        self._splitter.setSizes([_LIST_SIGNS * sign, 100 * sign, 32 * sign])

    def complete(self) -> None:
        """Build what the first sight of the page does without."""
        if self.is_whole:
            return
        self._build_rest()
        self.is_whole = True
        self._connect()
        self._show_sides()
        if not self._stale:
            self.show_line()

    def _toggle(self, text: str) -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.setCheckable(True)
        button.setToolTip(f"Show {text.lower()} or hide them")
        button.toggled.connect(lambda _checked: self._show_sides())
        return button

    def _connect(self) -> None:
        self.station_page.section_entered.connect(lambda _key: self._show_remarks())
        self.station_page.stepped.connect(self.stations.step)
        self.station_page.make_like_asked.connect(self.ask_make_like)
        self.drive_choice.closed.connect(lambda: self.station_page.go_to_section("drive"))
        self.make_like.closed.connect(lambda: self.station_page.go_to_section("station"))
        self.remarks.asked.connect(self.show_lack)
        self.remarks.finding_asked.connect(self.show_finding)
        self.remarks.accepted.connect(self._accept)

    # --- showing ----------------------------------------------------------------------------

    def show_line(self) -> None:
        """Show the open file; the chosen station stays, if it is still there."""
        if not self.session.is_open:
            self.station_id = None
            self.stations.show_results(None, None)
            if self.is_whole:
                self.station_page.show_station(None)
            return
        ids = [entry.id for entry in self.session.line.stations]
        if self.station_id not in ids:
            self.station_id = self._neighbour(ids)
        self.stations.show_results(self.session.results, self.station_id)
        self._none_yet.setVisible(not ids)
        if self.is_whole:
            self.station_page.setVisible(bool(ids))
            self.station_page.show_station(self.station_id)
            self._show_remarks()

    def begin(self) -> None:
        """Put the focus where one begins: on the list, or on what takes its place."""
        if self.station_id is None:
            self.first_button.setFocus()
        elif self.stations.isHidden():
            self.complete()
            self.station_page.go_to_section("station")
        else:
            self.stations.view.setFocus()

    def show_changes(self, changes: Changes) -> None:
        """Show what a step changed; an undone step of another station takes one there."""
        here = {entry.id for entry in self.session.line.stations}
        touched = changes.station_ids & here
        undone = changes.step.startswith(("Undo", "Redo"))
        if undone and touched and self.station_id not in touched:
            self.station_id = min(touched)
        self.show_line()

    def choose(self, station_id: int) -> None:
        """Show another station."""
        if station_id != self.station_id:
            self.complete()
            self.make_like.hide()
            self.drive_choice.hide()
            self.station_page.settle()
            self.station_id = station_id
            self.show_line()

    def add_station(self) -> None:
        """Add a station and go to its first field."""
        self.stations.add()
        if self.station_id is not None:
            self.station_page.go_to_section("station")

    def ask_make_like(self) -> None:
        """Ask which parts of which station to take over."""
        if self.station_id is not None:
            self.make_like.ask(self.station_id)

    def ask_drive_choice(self) -> None:
        """Rank the drive types of the file for the chosen station."""
        if self.station_id is not None:
            self.make_like.hide()
            self.drive_choice.ask(self.station_id)

    # --- going to a place -------------------------------------------------------------------

    def look_for(self) -> None:
        """Put the focus into the find box."""
        self.list_button.setChecked(True)
        self.stations.setVisible(True)
        self.stations.look_for()

    def show_found(self, place: Found) -> None:
        """Go to a field that was found."""
        table, top_id = place.top
        if table != "station":
            self.elsewhere.emit(place)
            return
        self.stations.choose(top_id)
        self.choose(top_id)
        self.station_page.reveal(place.table, place.record_id, place.field)

    def show_lack(self, lack: Lack) -> None:
        """Go to the field of something still needed."""
        self.station_page.reveal(lack.table, lack.record_id, lack.field)

    def show_finding(self, finding: Finding) -> None:
        """Go to the field of a finding, on this page or another."""
        from app.station_records import STATION_TABLES

        place = finding.place
        if finding.station_id is not None and place.table in STATION_TABLES:
            self.stations.choose(finding.station_id)
            self.choose(finding.station_id)
            self.station_page.reveal(place.table, place.record_id, place.field)
        else:
            from app.finding import Found

            top = (place.table, place.record_id)
            self.elsewhere.emit(Found(place.table, place.record_id, place.field, top, "", ""))

    def _accept(self, finding: Finding, person: str, reason: str, day: str) -> None:
        where = finding.tag or "line"
        told = (finding.mark, finding.key, where, person, reason, day)
        self.session.do(actions.accept_finding, *told)

    def _neighbour(self, ids: list[int]) -> int | None:
        """The station now in the place of the one that is gone."""
        before = [entry.station.id for entry in self.stations.model.results]
        place = before.index(self.station_id) if self.station_id in before else 0
        return ids[min(place, len(ids) - 1)] if ids else None

    def _show_remarks(self) -> None:
        if self.station_id is None or not self.session.is_open:
            self.remarks.show_result(None, "station", "metric")
            return
        result = self.session.results.station(self.station_id)
        self.remarks.show_result(
            result, self.station_page.section_key, self.session.line.unit_system
        )
        findings = self.session.findings
        self.remarks.show_findings(findings, self.station_id, self.session.line.unit_system)
        told = len(result.lacks) + len(findings.at(self.station_id))
        self.remarks_button.setText(f"Remarks ({told})" if told else "Remarks")

    # --- sides that fold away ---------------------------------------------------------------

    def minimumSizeHint(self) -> QSize:
        """What the station alone needs, since the sides fold away where it is narrow."""
        least = self.station_page.minimumSizeHint() if self.is_whole else QSize()
        return QSize(least.width() + 24, least.height() + 8)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the sides away where the window is narrow."""
        super().resizeEvent(event)
        sign = self.fontMetrics().averageCharWidth()
        room = self.width() >= _LIST_FROM_SIGNS * sign, self.width() >= _REMARKS_FROM_SIGNS * sign
        if room != self._room:
            self._room = room
            if self.is_whole:
                self.list_button.setChecked(False)
                self.remarks_button.setChecked(False)
            self._show_sides()

    def _show_sides(self) -> None:
        list_room, remarks_room = self._room
        if not self.is_whole:
            self.stations.setVisible(list_room)
            return
        self.list_button.setVisible(not list_room)
        self.remarks_button.setVisible(not remarks_room)
        self.stations.setVisible(list_room or self.list_button.isChecked())
        self.remarks.setVisible(remarks_room or self.remarks_button.isChecked())

    def paintEvent(self, event: QPaintEvent) -> None:
        """After the first sight, build the rest."""
        super().paintEvent(event)
        if not self.is_whole:
            QTimer.singleShot(0, self, self.complete)
