"""The chosen station: everything about it in sections, each result beside its fields."""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QScrollArea, QVBoxLayout, QWidget

from app.editors import Offers
from app.figure_list import FigureList
from app.form import RecordForm
from app.jump_strip import JumpStrip
from app.motor_panel import MotorPanel
from app.points_table import PointsTable
from app.records_table import RecordsTable
from app.section import Section
from app.session import Session
from app.settings_table import SettingsTable
from app.station_head import StationHead
from app.station_records import free_text_fields, records_of, words_used
from app.working import WorkingPanel
from core.line import Figure, StationResult
from core.line import rules as known
from core.model import RECORDS, Station

SECTIONS: Mapping[str, str] = {
    "station": "Station",
    "motors": "Motor",
    "drive": "Drive and feed",
    "settings": "Drive settings",
    "reference": "Speed reference",
    "controls": "Controls",
    "drivetrain": "Drivetrain and process",
    "cables": "Cables",
    "notes": "Notes",
}
"""The sections of the page in their order: key and title. Ctrl and the number goes there."""

_FIGURES = {
    "station": (
        known.WANTED_SURFACE,
        known.WANTED_SHAFT,
        known.WANTED_MOTOR,
        known.WANTED_FREQUENCY,
    ),
    "reference": (
        known.NOW_SHARE,
        known.NOW_FREQUENCY,
        known.WANTED_SIGNAL_V,
        known.WANTED_SIGNAL_A,
        known.WANTED_SHARE,
        known.WANTED_COUNT,
        known.POT_CURRENT,
    ),
    "drivetrain": (known.TOTAL_RATIO, known.NOW_MOTOR, known.NOW_SHAFT, known.NOW_SURFACE),
}
_FORMS = {
    "drive": ("drive",),
    "reference": ("speed_reference",),
    "controls": ("controls",),
    "drivetrain": ("drivetrain", "process"),
}
_TABLES = {
    "reference": ("preset",),
    "controls": ("digital_input", "output"),
    "cables": ("cable",),
}
_PLURALS = {
    "preset": "Preset speeds",
    "digital_input": "Digital inputs",
    "output": "Relay and analogue outputs",
    "cable": "",
}
"""Name above each table; none where the section's own says it."""

_TERMINALS = {
    "digital_input": ("terminal", "common_terminal"),
    "output": ("terminal", "common_terminal"),
}


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
        self.sections = {key: Section(key, title) for key, title in SECTIONS.items()}
        self.head = StationHead()
        self.head.make_like_button.clicked.connect(lambda _checked: self.make_like_asked.emit())
        self.head.stepped.connect(self.stepped)
        self.working = WorkingPanel()
        self.working.closed.connect(self._on_working_closed)
        self._asked_from: QWidget | None = None
        self.settings_table = SettingsTable(session)
        self.points = PointsTable()
        self.jumps = JumpStrip(SECTIONS)
        self.jumps.asked.connect(self.go_to_section)
        self._area = self._build_area()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self.head)
        layout.addWidget(self.jumps)
        layout.addWidget(self._area, 1)
        layout.addWidget(self.working)
        self._fill_sections()
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
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(content)
        return area

    def _fill_sections(self) -> None:
        own = [spec.name for spec in RECORDS["station"].fields if spec.name != "notes"]
        self._add_form(
            "station", RecordForm(self.session, "station", own, offers=self._offers("station"))
        )
        self.motors = MotorPanel(self.session, self._offers("motor"))
        self.motors.chosen.connect(lambda _motor: self._show_motor_figures())
        self.sections["motors"].add(self.motors)
        for key, tables in _FORMS.items():
            for table in tables:
                form = RecordForm(self.session, table, offers=self._offers(table))
                self._add_form(key, form)
        self.sections["settings"].add(self.settings_table)
        self.sections["reference"].add(self.points)
        for key, tables in _TABLES.items():
            for table in tables:
                self.tables[table] = RecordsTable(
                    self.session, table, _PLURALS[table], offers=self._offers(table)
                )
                self.sections[key].add(self.tables[table])
        self.notes = RecordForm(self.session, "station", ("notes",))
        self.sections["notes"].add(self.notes)
        for key in ("station", "motors", "reference", "drivetrain"):
            self.figure_lists[key] = FigureList()
            self.figure_lists[key].asked.connect(self._on_figure_asked)
            self.sections[key].add_figures(self.figure_lists[key])

    def _add_form(self, key: str, form: RecordForm) -> None:
        self.forms[form.table] = form
        self.sections[key].add(form)

    def _offers(self, table: str) -> dict[str, Offers]:
        found: dict[str, Offers] = {
            name: lambda name=name: words_used(self.session.line, table, name)  # type: ignore[misc]
            for name in free_text_fields(table)
        }
        for name in _TERMINALS.get(table, ()):
            found[name] = self._terminals
        if table == "speed_reference":
            found["input_name"] = self._reference_inputs
        return found

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
        self.head.show_station(station, result.state)
        context = {"station.kind": station.kind}
        for table, form in self.forms.items():
            form.show_record(records_of(station, table)[0], context)
        self.notes.show_record(station)
        self.motors.show_station(station)
        self.settings_table.show_station(station)
        for table, widget in self.tables.items():
            widget.show_records(station.id, records_of(station, table))
        self._show_presets(station)
        self._show_figures(result)

    def settle(self) -> None:
        """Store what is typed and not yet stored."""
        for form in (*self.forms.values(), self.notes, self.motors.form):
            form.settle()

    def _show_presets(self, station: Station) -> None:
        wanted = station.reference.source == "preset" or bool(station.presets)
        self.tables["preset"].setVisible(wanted)

    def _show_figures(self, result: StationResult) -> None:
        system = self.session.line.unit_system
        for key, rules in _FIGURES.items():
            found = [result.figures[rule.key] for rule in rules if rule.key in result.figures]
            self.figure_lists[key].show_figures(found, system)
        self.points.show_points(result.points, system)
        self._show_motor_figures()
        if not self.working.isHidden() and self.working.figure is not None:
            again = result.figures.get(self.working.figure.key)
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
        section = self.sections[key]
        self._enter_section(key)
        first = _first_input(section)
        if first is not None:
            first.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._scroll_to(section)

    def reveal(self, table: str, record_id: int, field: str) -> bool:
        """Put the focus on a field of a record of the station; False where it is not shown."""
        station = self.station
        if station is None:
            return False
        found = self._focus(station, table, record_id, field)
        focused = QApplication.focusWidget()
        if found and focused is not None and self.isAncestorOf(focused):
            self._area.ensureWidgetVisible(focused, 20, 80)
        return found

    def _focus(self, station: Station, table: str, record_id: int, field: str) -> bool:
        if table == "setting":
            codes = {entry.id: entry.code for entry in station.drive.settings}
            return self.settings_table.reveal(codes.get(record_id, ""))
        if table == "motor":
            self.motors.choose(record_id)
            return self.motors.form.focus_field(field)
        if table in self.tables:
            return self.tables[table].reveal(record_id, field)
        if field == "notes" and table == "station":
            return self.notes.focus_field(field)
        return self.forms[table].focus_field(field) if table in self.forms else False

    def _scroll_to(self, section: Section) -> None:
        # After the layout has settled, since the section may just have grown.
        bar = self._area.verticalScrollBar()
        QTimer.singleShot(0, section, lambda: bar.setValue(max(0, section.y() - 2)))

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

    # --- words to propose, workings ---------------------------------------------------------

    def _terminals(self) -> Sequence[str]:
        drive_type = self._drive_type()
        return [entry.designation for entry in drive_type.terminals] if drive_type else []

    def _reference_inputs(self) -> Sequence[str]:
        drive_type = self._drive_type()
        return [entry.name for entry in drive_type.reference_inputs] if drive_type else []

    def _drive_type(self) -> Any:
        station = self.station
        return self.session.line.drive_type(station.drive.drive_type_id) if station else None

    def _on_figure_asked(self, figure: Figure) -> None:
        self._asked_from = QApplication.focusWidget()
        self.working.show_figure(figure, self.session.line.unit_system)

    def _on_working_closed(self) -> None:
        if self._asked_from is not None:
            self._asked_from.setFocus()


def _first_input(section: Section) -> QWidget | None:
    """The first visible widget of a section that Tab reaches."""
    widget = section.nextInFocusChain()
    while widget is not None and section.isAncestorOf(widget):
        takes_focus = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
        if takes_focus and widget.isVisibleTo(section) and widget.focusProxy() is None:
            return widget
        widget = widget.nextInFocusChain()
    return None
