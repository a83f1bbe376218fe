"""A panel that ranks the drive types of the file for a station; Enter takes the best one."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.flow_layout import FlowLayout
from app.session import Session
from core.line.choice import DriveChoice, rank_drive_types
from core.store import actions


class DriveChoicePanel(QFrame):
    """Every drive type against the chosen station, the best first, with its reasons in one line.

    Signals:
        closed: Nothing more is to be chosen.
    """

    closed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.session = session
        self._station_id: int | None = None
        self.head = QLabel()
        self.head.setWordWrap(True)
        self.choices = QListWidget()
        self.choices.setWordWrap(True)
        self.choices.setAccessibleName("Drive types, the best first")
        self.choices.itemActivated.connect(lambda _item: self.take())
        self.take_button = QPushButton("Take this drive type")
        self.take_button.clicked.connect(self.take)
        self.leave_button = QPushButton("Leave as it is")
        self.leave_button.clicked.connect(self.leave)
        buttons = FlowLayout(gap=8)
        buttons.addWidget(self.take_button)
        buttons.addWidget(self.leave_button)
        layout = QVBoxLayout(self)
        layout.addWidget(self.head)
        layout.addWidget(self.choices)
        layout.addLayout(buttons)
        self.hide()

    def ask(self, station_id: int) -> None:
        """Rank the drive types of the file for a station."""
        self._station_id = station_id
        station = self.session.line.station(station_id)
        ranked = rank_drive_types(self.session.line, station)
        fitting = sum(choice.fits for choice in ranked)
        self.head.setText(
            f"Drive types for {station.tag}: {fitting} of {len(ranked)} fit. The best is first; "
            "Enter takes it. What the manual of the drive says always wins."
            if ranked
            else "This file has no drive types yet. Add one on the page Drive types."
        )
        self.choices.clear()
        for choice in ranked:
            self.choices.addItem(_item(choice))
        self.choices.setCurrentRow(0)
        self.show()
        self.choices.setFocus(Qt.FocusReason.OtherFocusReason)

    def take(self) -> None:
        """Take the drive type chosen in the list."""
        item = self.choices.currentItem()
        if item is None or self._station_id is None:
            return
        drive = self.session.line.station(self._station_id).drive
        chosen = item.data(Qt.ItemDataRole.UserRole)
        self.session.do(actions.set_fields, "drive", drive.id, drive_type_id=chosen)
        self.leave()

    def leave(self) -> None:
        """Close the panel."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves everything as it is; Enter takes the chosen one."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.take()
        else:
            super().keyPressEvent(event)


def _item(choice: DriveChoice) -> QListWidgetItem:
    mark = "✓ fits" if choice.fits else "✕ does not fit"
    item = QListWidgetItem(f"{choice.drive_type.name}  {mark}\n{choice.in_one_line}")
    item.setData(Qt.ItemDataRole.UserRole, choice.drive_type.id)
    return item
