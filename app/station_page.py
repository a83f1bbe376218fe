"""The chosen station: everything about it in sections, each result beside its fields."""

import itertools

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication, QScrollArea, QVBoxLayout, QWidget

from app.figure_list import FigureList
from app.form import RecordForm
from app.jump_strip import JumpStrip
from app.motor_panel import MotorPanel
from app.photo_panel import PhotoPanel
from app.points_table import PointsTable
from app.proposals import Proposals
from app.proved import proved_words
from app.records_table import RecordsTable
from app.section import Section
from app.session import Session
from app.settings_table import SettingsTable
from app.station_head import StationHead
from app.station_records import records_of
from app.station_sections import FIGURES, FORMS, IN_STRIP, PLURALS, SECTIONS, TABLES, WIDE
from app.working import WorkingPanel
from core.line import Figure, StationResult
from core.line.checks import checks_of
from core.model import RECORDS, Station

_FIRST_SEEN = ("station", "motors")
_SETTLED_MS = 500


class StationPage(QWidget):
    """Shows one station; `show_station` chooses it, `None` shows nothing.

    Signals:
        section_entered: The focus came into another section.
                         arg 0: its key
        make_like_asked: The station is to be made like another one.
        stepped: The station before or after it is asked for.
                 arg 0: -1 or 1
    """

    section_entered = Signal(str)
    make_like_asked = Signal()
    stepped = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.station_id: int | None = None
        self.section_key = "station"
        self.forms: dict[str, RecordForm] = {}
        self.tables: dict[str, RecordsTable] = {}
        self.figure_lists: dict[str, FigureList] = {}
        self.sections = {
            key: Section(key, title, is_wide=key in WIDE) for key, title in SECTIONS.items()
        }
        self.head = StationHead()
        self.head.make_like_button.clicked.connect(lambda _checked: self.make_like_asked.emit())
        self.head.stepped.connect(self.stepped)
        self.working = WorkingPanel()
        self.working.closed.connect(self._on_working_closed)
        self._asked_from: QWidget | None = None
        self._order: list[QWidget] = []
        self._going_to: Section | None = None
        self._proposals = Proposals(session, lambda: self.station)
        self.is_whole = False
        self.jumps = JumpStrip(IN_STRIP)
        self.jumps.asked.connect(self.go_to_section)
        self._area = self._build_area()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self.head)
        layout.addWidget(self.jumps)
        layout.addWidget(self._area, 1)
        layout.addWidget(self.working)
        self._fill_first_sections()
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._on_focus_changed)

    # --- building ---------------------------------------------------------------------------

    def _build_area(self) -> QScrollArea:
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 4, 0)
        column.setSpacing(8)
        for section in self.sections.values():
            column.addWidget(section)
            section.setVisible(section.key in _FIRST_SEEN)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(content)
        area.verticalScrollBar().rangeChanged.connect(lambda *_range: self._go_on())
        return area

    def _fill_first_sections(self) -> None:
        own = [spec.name for spec in RECORDS["station"].fields if spec.name != "notes"]
        form = RecordForm(self.session, "station", own, offers=self._proposals.for_table("station"))
        self._add_form("station", form)
        self.motors = MotorPanel(self.session, self._proposals.for_table("motor"))
        self.motors.chosen.connect(lambda _motor: self._show_motor_figures())
        self.sections["motors"].add(self.motors, self.motors.focus_order)
        for key in _FIRST_SEEN:
            self._add_figures(key)

    def _fill_lower_sections(self) -> None:
        for key, tables in FORMS.items():
            for table in tables:
                form = RecordForm(self.session, table, offers=self._proposals.for_table(table))
                self._add_form(key, form)
        self.settings_table = SettingsTable(self.session)
        self.sections["settings"].add(self.settings_table, self.settings_table.focus_order)
        self.points = PointsTable()
        self.sections["reference"].add(self.points, self.points.focus_order)
        for key, tables in TABLES.items():
            for table in tables:
                self._add_table(key, table)
        self.notes = RecordForm(self.session, "station", ("notes",))
        self.sections["notes"].add(self.notes, self.notes.focus_order)
        people = {
            name: offer
            for name, offer in self._proposals.for_table("photo").items()
            if name == "person"
        }
        self.photos = PhotoPanel(self.session, people)
        # Once the fields of the first photograph have their place.
        self.photos.asked.connect(lambda: QTimer.singleShot(0, self, self._scroll_to_focus))
        self.sections["photos"].add(self.photos, self.photos.focus_order)
        for key in FIGURES:
            if key not in _FIRST_SEEN:
                self._add_figures(key)

    def _add_table(self, key: str, table: str) -> None:
        made = RecordsTable(
            self.session, table, PLURALS[table], offers=self._proposals.for_table(table)
        )
        self.tables[table] = made
        self.sections[key].add(made, made.focus_order)

    def _add_figures(self, key: str) -> None:
        made = self.figure_lists[key] = FigureList()
        made.asked.connect(self._on_figure_asked)
        self.sections[key].add_figures(made, made.focus_order)

    def _add_form(self, key: str, form: RecordForm) -> None:
        self.forms[form.table] = form
        self.sections[key].add(form, form.focus_order)

    # --- showing ----------------------------------------------------------------------------

    @property
    def station(self) -> Station | None:
        """The station that is shown, as it stands in the file."""
        return None if self.station_id is None else self.session.line.station(self.station_id)

    def show_station(self, station_id: int | None) -> None:
        """Show a station, or again the same one after a step."""
        if station_id != self.station_id:
            self.settle()
            self.working.hide()
        self.station_id = station_id
        station = self.station
        self._area.setVisible(station is not None)
        if station is None or station_id is None:
            return
        result = self.session.results.station(station_id)
        proved = proved_words(checks_of(self.session.results), station_id)
        self.head.show_station(station, result.state, proved)
        self.forms["station"].show_record(station)
        self.motors.show_station(station)
        if self.is_whole:
            self._show_lower_sections(station)
        self._show_figures(result)
        self._chain_sections()

    def _show_lower_sections(self, station: Station) -> None:
        context = {"station.kind": station.kind}
        for table, form in self.forms.items():
            form.show_record(records_of(station, table)[0], context)
        self.notes.show_record(station)
        self.photos.show_station(station)
        points = self.session.results.station(station.id).points
        self.points.show_points(points, self.session.line.unit_system)
        self.settings_table.show_station(station)
        for table, widget in self.tables.items():
            widget.show_records(station.id, records_of(station, table))
        presets = station.reference.source == "preset" or bool(station.presets)
        self.tables["preset"].setVisible(presets)

    def paintEvent(self, event: QPaintEvent) -> None:
        """After the first sight, fill what lies further down."""
        super().paintEvent(event)
        if not self.is_whole:
            QTimer.singleShot(0, self, self.complete)

    def complete(self) -> None:
        """Fill the sections further down, which the first sight of the page does without."""
        if not self.is_whole:
            self.is_whole = True
            self._fill_lower_sections()
            for section in self.sections.values():
                section.show()
            if self.session.is_open:
                self.show_station(self.station_id)

    def settle(self) -> None:
        """Store what is typed and not yet stored."""
        lower = (self.notes, self.photos.form) if self.is_whole else ()
        for form in (*self.forms.values(), self.motors.form, *lower):
            form.settle()

    def _chain_sections(self) -> None:
        """Let Tab go through the sections in their order, whenever which fields apply changed."""
        order = [held for section in self.sections.values() for held in section.focus_order()]
        if order != self._order:
            self._order = order
            for before, after in itertools.pairwise(order):
                self.setTabOrder(before, after)

    def _show_figures(self, result: StationResult) -> None:
        system = self.session.line.unit_system
        figures = self.session.results.figures(result.station.id)
        for key, rules in FIGURES.items():
            found = [figures[rule.key] for rule in rules if rule.key in figures]
            if key in self.figure_lists:
                self.figure_lists[key].show_figures(found, system)
        self._show_motor_figures()
        if not self.working.isHidden() and self.working.figure is not None:
            again = figures.get(self.working.figure.key)
            self.working.refresh(again, system)

    def _show_motor_figures(self) -> None:
        station, motor = self.station, self.motors.motor
        if station is None:
            return
        result = self.session.results.station(station.id)
        found = result.motor_figures.get(motor.id, {}) if motor else {}
        self.figure_lists["motors"].show_figures(found.values(), self.session.line.unit_system)

    # --- going to a place -------------------------------------------------------------------

    def go_to_section(self, key: str) -> None:
        """Bring a section to the top and put the focus into its first field."""
        self.complete()
        section = self.sections[key]
        self._enter_section(key)
        first = next((held for held in section.focus_order() if not held.isHidden()), None)
        if first is not None:
            first.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._scroll_to(section)

    def reveal(self, table: str, record_id: int, field: str) -> bool:
        """Put the focus on a field of a record of the station; False where it is not shown."""
        self.complete()
        station = self.station
        if station is None:
            return False
        found = self._focus(station, table, record_id, field)
        if found:
            self._scroll_to_focus()
        return found

    def _scroll_to_focus(self) -> None:
        focused = QApplication.focusWidget()
        if focused is not None and self.isAncestorOf(focused):
            self._area.ensureWidgetVisible(focused, 20, 80)

    def _focus(self, station: Station, table: str, record_id: int, field: str) -> bool:
        if table == "setting":
            # A finding names the code itself, since the setting may not be entered yet.
            codes = {entry.id: entry.code for entry in station.drive.settings}
            named = any(row.code == field for row in self.settings_table.model.rows)
            return self.settings_table.reveal(field if named else codes.get(record_id, ""))
        if table == "motor":
            self.motors.choose(record_id)
            return self.motors.form.focus_field(field)
        if table in self.tables:
            return self.tables[table].reveal(record_id, field)
        if table == "photo":
            return self.photos.reveal(record_id, field)
        if field == "notes" and table == "station":
            return self.notes.focus_field(field)
        return self.forms[table].focus_field(field) if table in self.forms else False

    def _scroll_to(self, section: Section) -> None:
        # Now, and again while the layout settles: tables and pictures take their height only when
        # they are shown, and until then the page is too short to bring its end to the top.
        self._going_to = section
        QTimer.singleShot(0, section, self._go_on)
        QTimer.singleShot(_SETTLED_MS, section, lambda: self._arrive(section))

    def _go_on(self) -> None:
        if self._going_to is not None:
            self._area.verticalScrollBar().setValue(max(0, self._going_to.y() - 2))

    def _arrive(self, section: Section) -> None:
        if self._going_to is section:
            self._going_to = None

    def _enter_section(self, key: str) -> None:
        self.jumps.show_chosen(key)
        if key != self.section_key:
            self.section_key = key
            self.section_entered.emit(key)

    def _on_focus_changed(self, _before: QWidget | None, now: QWidget | None) -> None:
        while now is not None and now is not self:
            if isinstance(now, Section):
                self._enter_section(now.key)
                return
            now = now.parentWidget()

    # --- workings ---------------------------------------------------------------------------

    def _on_figure_asked(self, figure: Figure) -> None:
        self._asked_from = QApplication.focusWidget()
        self.working.show_figure(figure, self.session.line.unit_system)

    def _on_working_closed(self) -> None:
        if self._asked_from is not None:
            self._asked_from.setFocus()
