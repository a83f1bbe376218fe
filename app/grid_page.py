"""The page that shows all stations side by side, to be edited like a spreadsheet."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.grid import Grid
from app.grid_edits import store
from app.grid_model import GridModel
from app.grid_sets import COLUMN_SETS
from app.page import Page
from app.session import Session
from core.model import RECORDS

_LEGEND = "   ≠ bold: differs from the factory value    –  hatched: does not apply"
_NO_STATIONS = "This line has no stations yet."


class GridPage(Page):
    """All stations by one set of columns, with copy, paste, fill down and clear."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.model = GridModel(parent=self)
        self.grid = Grid(self.model, RECORDS["station"].field("tag").label)
        self.chooser = QComboBox()
        self.chooser.addItems([entry.label for entry in COLUMN_SETS])
        self.chooser.setAccessibleName("Columns")
        self.lacking = QLabel()
        self.lacking.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.lacking.setWordWrap(True)

        layout = QVBoxLayout(self)
        layout.addLayout(self._build_head())
        layout.addWidget(self.grid, 1)
        layout.addWidget(self.lacking, 1)
        self.chooser.currentIndexChanged.connect(lambda _place: self.show_line())
        self.model.edits_requested.connect(
            lambda edits, name: self.grid.attempt(store, session.book, edits, name)
        )
        self.catch_up()

    def _build_head(self) -> FlowLayout:
        head = FlowLayout()
        label = QLabel("&Columns")
        label.setBuddy(self.chooser)
        legend = QLabel(_LEGEND)
        for beside in (label, legend):
            beside.setMinimumHeight(self.chooser.sizeHint().height())
        head.addWidget(label)
        head.addWidget(self.chooser)
        for action in self.grid.actions_offered:
            head.addWidget(self.grid.button_for(action))
        head.addWidget(legend)
        return head

    def show_line(self) -> None:
        """Show the stations of the open file, or say why there is nothing to see."""
        line = self.session.line if self.session.is_open else None
        chosen = COLUMN_SETS[self.chooser.currentIndex()]
        columns = tuple(chosen.columns(line)) if line else ()
        stations = line.stations if line else ()
        self.grid.show_rows(line, stations, columns)
        self.lacking.setText(chosen.lacking if stations else _NO_STATIONS)
        self.lacking.setVisible(not (stations and columns))
        self.grid.setVisible(bool(stations and columns))

    def choose(self, key: str) -> None:
        """Show the set of columns of this name."""
        self.chooser.setCurrentIndex([entry.key for entry in COLUMN_SETS].index(key))
