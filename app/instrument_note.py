"""A line of words below an instrument: whether its calibration holds on the day of the reading."""

import datetime

from PySide6.QtWidgets import QLabel, QWidget

from app.fault_list import REFUSED_MARK
from core.line.checks.instruments import calibration_on
from core.model import Line

_MARKS = {"none": "○", "unknown": "○", "overdue": REFUSED_MARK, "current": "✓"}


class InstrumentNote(QLabel):
    """What the one who reads has to know of the instrument in hand; loud where it is overdue."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("quiet")
        self.setWordWrap(True)

    def show_instrument(self, line: Line, text: str, day: datetime.date, lead: str = "") -> None:
        """Tell how the calibration of the instrument that a text names stands on a day.

        ``lead`` goes before, where the instrument does not stand just above.
        """
        found = calibration_on(line, text, day)
        name = "refusal" if found.standing == "overdue" else "quiet"
        if self.objectName() != name:
            self.setObjectName(name)
            self.style().unpolish(self)
            self.style().polish(self)
        self.setText(f"{_MARKS[found.standing]} {lead}{found.sentence()}")
