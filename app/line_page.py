"""The page of what the whole line shares: site, fruit, supplies, enclosures, buses, people."""

from PySide6.QtWidgets import QScrollArea, QTabWidget, QVBoxLayout, QWidget

from app.form import RecordForm
from app.page import Page
from app.records_panel import RecordsPanel
from app.session import Session
from core.model import RECORDS

_FORM_COLUMNS = 4
_PARTS = (
    ("Supplies", "supply", "supplies"),
    ("Enclosures", "enclosure", "enclosures"),
    ("Buses", "bus", "buses"),
    ("People", "person", "people"),
    ("Instruments", "instrument", "instruments"),
    ("Flow", "flow", "flows"),
    ("Recipes", "recipe", "recipes"),
    ("Pairs", "pair", "pairs"),
    ("Accepted findings", "acceptance", "acceptances"),
)
"""Heading, table and holder of each list that the line holds."""


class LinePage(Page):
    """The line itself as a form, and its lists as grids."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        spec = RECORDS["line"]
        fields = [field.name for field in spec.fields if field.sort != "typed"]
        self.form = RecordForm(session, "line", fields, columns=_FORM_COLUMNS)
        self.panels = {table: RecordsPanel(session, table) for _, table, _ in _PARTS}
        self.parts = QTabWidget()
        self.parts.tabBar().setAccessibleName("The line and its lists")
        self.parts.addTab(self._scrolled(), spec.label)
        for heading, table, _ in _PARTS:
            self.parts.addTab(self.panels[table], heading)
        layout = QVBoxLayout(self)
        layout.addWidget(self.parts)
        self.catch_up()

    def _scrolled(self) -> QScrollArea:
        held = QWidget()
        layout = QVBoxLayout(held)
        layout.addWidget(self.form)
        layout.addStretch(1)
        scrolled = QScrollArea()
        scrolled.setWidgetResizable(True)
        scrolled.setFrameShape(QScrollArea.Shape.NoFrame)
        scrolled.setWidget(held)
        return scrolled

    def show_line(self) -> None:
        """Show the open line."""
        self.parts.setVisible(self.session.is_open)
        if not self.session.is_open:
            return
        line = self.session.line
        self.form.show_record(line)
        for place, (heading, table, holder) in enumerate(_PARTS, start=1):
            records = getattr(line, holder)
            self.panels[table].show_records(None, records)
            self.parts.setTabText(place, f"{heading} ({len(records)})")

    def focus_start(self) -> None:
        """Let the keys fill in what is in front, unless they are at work on the page already."""
        idle = self.focusWidget() in (None, self, self.parts, self.parts.tabBar())
        if not self.session.is_open or not idle:
            return
        place = self.parts.currentIndex()
        table = _PARTS[place - 1][1] if place else "line"
        self.focus_field(table, self.form.shown_fields()[0] if table == "line" else "")

    def focus_field(self, table: str, name: str) -> bool:
        """Put the focus on a field of the line or of one of its lists; False if it is not here."""
        if table == "line":
            self.parts.setCurrentIndex(0)
            return self.form.focus_field(name)
        tables = [entry for _, entry, _ in _PARTS]
        if table not in tables:
            return False
        self.parts.setCurrentIndex(tables.index(table) + 1)
        self.panels[table].grid.view.setFocus()
        return True
