"""What is wanted at both ends of a reference, and how they stood at the drive while it was read."""

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.editors import FieldEditor, make_editor
from app.flow_layout import FlowLayout
from app.session import Session
from core.line.calibrating import Calibration
from core.model import FieldSpec

_FIELDS = (
    ("wanted", 0.0, "Wanted at 0 %"),
    ("wanted", 1.0, "Wanted at 100 %"),
    ("set", 0.0, "Bottom set then"),
    ("set", 1.0, "Top set then"),
)
_HINTS = {
    "wanted": "What every reading is judged by; it stays when the drive is set otherwise",
    "set": "How the drive's setting stood while the readings were taken",
}
_SIGNS = 17
_ASSUMED = "○ As the settings stand now; kept with the first reading."
_KEPT = "✓ Kept with the readings, whatever is set at the drive later."


@dataclass(frozen=True, slots=True)
class _Shown:
    wanted_0: float | None
    wanted_1: float | None
    set_0: float | None
    set_1: float | None


class CalibrationEnds(QWidget):
    """Four frequencies to type; empty they follow the drive's settings.

    Signals:
        changed: One of them was typed.
                 arg 0: ``wanted`` or ``set``, arg 1: 0 or 1, arg 2: hertz or None
    """

    changed = Signal(str, float, object)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields: dict[str, FieldEditor] = {}
        self.note = QLabel()
        self.note.setObjectName("quiet")
        self.note.setWordWrap(True)
        self._cells = FlowLayout(gap=6)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(self._cells)
        layout.addWidget(self.note)
        for direction, share, label in _FIELDS:
            name = f"{direction}_{share:.0f}"
            spec = FieldSpec(
                name, label, "quantity", hint=_HINTS[direction], kind="frequency", minimum=0.0
            )
            editor = make_editor(spec, session, "calibration_point", self)
            editor.committed.connect(
                lambda name, values, told=(direction, share): self.changed.emit(*told, values[name])
            )
            self.add(label, editor, _SIGNS)
            self.fields[name] = editor

    def add(self, label: str, field: QWidget, signs: int) -> None:
        """Put a field with its name above beside those that are there."""
        cell = QWidget()
        name = QLabel(label)
        name.setObjectName("fieldName")
        name.setBuddy(field)
        column = QVBoxLayout(cell)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(1)
        column.addWidget(name)
        column.addWidget(field)
        field.setAccessibleName(label.replace("&", ""))
        wide = signs * self.fontMetrics().averageCharWidth()
        cell.setFixedWidth(max(wide, name.sizeHint().width()))
        self._cells.addWidget(cell)

    def show_calibration(self, calibration: Calibration) -> None:
        """Show the ends of one state."""
        wanted, as_set = calibration.wanted, calibration.as_set
        shown = _Shown(
            wanted.bottom_hz if wanted else None,
            wanted.top_hz if wanted else None,
            as_set.bottom_hz if as_set else None,
            as_set.top_hz if as_set else None,
        )
        for editor in self.fields.values():
            editor.show_value(shown)
        assumed = any(ends is None or ends.assumed for ends in (wanted, as_set))
        self.note.setText(_ASSUMED if assumed else _KEPT)
