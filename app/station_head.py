"""The head of the station page: which station it is, its state, and the way to its neighbours."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from app.marks import StateMark
from core.model import Station
from core.model.choices import STATION_KINDS

_ROOMY_FROM_SIGNS, _STEPS_FROM_SIGNS = 120, 80


class StationHead(QWidget):
    """Tag, name, kind and state of a station.

    Signals:
        stepped: The station before or after it is asked for.
                 arg 0: -1 or 1
    """

    stepped = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tag = self._name = ""
        self.title = QLabel()
        self.title.setObjectName("stationName")
        self.title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.kind = QLabel()
        self.kind.setObjectName("quiet")
        self.state = StateMark()
        self.make_like_button = QToolButton()
        self.make_like_button.setText("Make like…")
        self.make_like_button.setToolTip("Take parts of another station over to this one")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(2, 0, 2, 0)
        self._row = layout
        layout.addWidget(self.title, 1)
        layout.addWidget(self.kind)
        layout.addWidget(self.state)
        self.back_button = self._step_button("Previous station", "Ctrl+PgUp", -1)
        self.on_button = self._step_button("Next station", "Ctrl+PgDown", 1)
        layout.addWidget(self.back_button)
        layout.addWidget(self.on_button)
        layout.addWidget(self.make_like_button)

    def add_left(self, widget: QWidget) -> None:
        """Put a button before everything else."""
        self._row.insertWidget(0, widget)

    def add_right(self, widget: QWidget) -> None:
        """Put a button behind everything else."""
        self._row.addWidget(widget)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what the list says too where there is little room; cut the name at its end."""
        super().resizeEvent(event)
        signs = self.width() / self.fontMetrics().averageCharWidth()
        roomy = signs > _ROOMY_FROM_SIGNS
        self.kind.setVisible(roomy)
        for button in (self.back_button, self.on_button):
            button.setVisible(signs > _STEPS_FROM_SIGNS)
        self.back_button.setText("◂ Previous" if roomy else "◂")
        self.on_button.setText("Next ▸" if roomy else "▸")
        self._fit_title()

    def _fit_title(self) -> None:
        metrics, end = self.title.fontMetrics(), Qt.TextElideMode.ElideRight
        fitting = metrics.elidedText(self._name, end, self.title.width())
        # However narrow it is, one has to see which station this is.
        self.title.setText(fitting if len(fitting) > len(self._tag) else self._tag)
        self.title.setMinimumWidth(metrics.horizontalAdvance(self._tag) + 2)

    def _step_button(self, text: str, keys: str, step: int) -> QToolButton:
        button = QToolButton()
        button.setText("◂" if step < 0 else "▸")
        button.setAccessibleName(text)
        button.setToolTip(f"{text} ({keys})")
        QShortcut(QKeySequence(keys), self).activated.connect(lambda: self.stepped.emit(step))
        button.clicked.connect(lambda _checked=False: self.stepped.emit(step))
        return button

    def show_station(self, station: Station, state: str, proved: str = "") -> None:
        """Show which station it is, and how far it is proved, in words."""
        self._tag = station.tag
        self._name = f"{station.tag}  {station.name}".rstrip()
        self.title.setToolTip(self._name)
        self._fit_title()
        self.kind.setText(", ".join(filter(None, (STATION_KINDS[station.kind], proved))))
        self.state.show_state(state)
