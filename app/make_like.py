"""A panel that makes parts of the chosen station like those of another one."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.flow_layout import FlowLayout
from app.session import Session
from core.store import actions


class MakeLikePanel(QFrame):
    """Choose a station and the parts to take over from it; Esc leaves everything as it is.

    Signals:
        closed: Nothing more is to be chosen.
    """

    closed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.session = session
        self._target_id: int | None = None
        self.head = QLabel()
        self.head.setWordWrap(True)
        self.source = QComboBox()
        self.source.setAccessibleName("Station to take over from")
        self.parts = {key: QCheckBox(label) for key, label in actions.PARTS.items()}
        parts = FlowLayout(gap=10)
        for box in self.parts.values():
            box.setChecked(True)
            parts.addWidget(box)
        self.take_button = QPushButton("Take over")
        self.leave_button = QPushButton("Leave as it is")
        self.take_button.clicked.connect(self.take_over)
        self.leave_button.clicked.connect(self.leave)
        buttons = FlowLayout(gap=8)
        buttons.addWidget(self.take_button)
        buttons.addWidget(self.leave_button)
        layout = QVBoxLayout(self)
        for widget in (self.head, self.source):
            layout.addWidget(widget)
        layout.addLayout(parts)
        layout.addLayout(buttons)
        self.hide()

    def ask(self, station_id: int) -> None:
        """Offer the other stations; those of the same kind come first."""
        line = self.session.line
        target = line.station(station_id)
        others = [entry for entry in line.stations if entry.id != station_id]
        others.sort(key=lambda entry: entry.kind != target.kind)
        self._target_id = station_id
        told = "Serial numbers, bus addresses and present signals stay its own."
        self.head.setText(
            f"Make {target.tag} like another station. {told}"
            if others
            else "There is no other station to take over from."
        )
        self.source.clear()
        for entry in others:
            self.source.addItem(f"{entry.tag}  {entry.name}".rstrip(), entry.id)
        self.source.setEnabled(bool(others))
        self.take_button.setEnabled(bool(others))
        self.show()
        (self.source if others else self.leave_button).setFocus()

    def take_over(self) -> None:
        """Take the chosen parts over as one step."""
        wanted = [key for key, box in self.parts.items() if box.isChecked()]
        source_id = self.source.currentData()
        if source_id is not None and wanted:
            self.session.do(actions.take_over, source_id, [self._target_id], wanted)
        self.leave()

    def leave(self) -> None:
        """Close the panel."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves everything as it is."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)
