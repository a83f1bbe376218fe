"""What a check is: where, what is done and how, its caution, and what it should give."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.checks_marks import CheckMark
from app.proved import proved_words
from app.remarks import CautionCard, wait_text
from core.line import LineResults
from core.line.checks import CheckItem
from core.line.checks.listing import expected_text
from core.model.choices import STAGES
from core.sheets.cautions import level_of


class CheckText(QWidget):
    """The words of one check, above the fields in which it is answered."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.where = _label("quiet")
        self.state = CheckMark()
        self.what = _label("sectionName")
        self.how = _label()
        self.expected = _label()
        font = self.expected.font()
        font.setItalic(True)  # as every computed value
        self.expected.setFont(font)
        self.source = _label("quiet")
        self.caution: CautionCard | None = None
        self._told: tuple[str, str] = ("", "")
        head = QHBoxLayout()
        head.addWidget(self.where, 1)
        head.addWidget(self.state, 0, Qt.AlignmentFlag.AlignTop)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addLayout(head)
        for label in (self.what, self.how, self.expected, self.source):
            self._column.addWidget(label)

    def show_item(
        self, item: CheckItem, results: LineResults, items: tuple[CheckItem, ...]
    ) -> None:
        """Show one check of a line, of all ``items`` that apply to it."""
        rule, system = item.rule, results.line.unit_system
        self.where.setText(_where(item, results, items))
        self.state.show_state(item.state)
        self.what.setText(rule.label)
        self._show(self.how, rule.how)
        expected, why = expected_text(item, system), item.limits.why
        told = f"{expected[:1].upper()}{expected[1:]}" + (f" ({why})" if why else "")
        self._show(self.expected, told if expected else "")
        self._show(self.source, f"Source: {rule.source}" if rule.source else "")
        self._show_caution(item, results)

    def _show_caution(self, item: CheckItem, results: LineResults) -> None:
        key, more = item.rule.caution, ""
        if key == "shock" and item.station_id is not None:
            more = wait_text(results.station(item.station_id), results.line.unit_system)
        if (key, more) == self._told:
            return
        self._told = (key, more)
        if self.caution is not None:
            self.caution.hide()
            self.caution.deleteLater()
            self.caution = None
        if key:
            self.caution = CautionCard(level_of(key), key, more)
            self.caution.setFrameShape(QFrame.Shape.NoFrame)
            self._column.insertWidget(2, self.caution)

    @staticmethod
    def _show(label: QLabel, text: str) -> None:
        label.setText(text)
        label.setVisible(bool(text))


def _where(item: CheckItem, results: LineResults, items: tuple[CheckItem, ...]) -> str:
    stage = STAGES[item.rule.stage]
    if item.station_id is None:
        return f"Line as a whole  ·  {stage}"
    station = results.station(item.station_id).station
    parts = (f"{station.tag} {station.name}", stage, proved_words(items, station.id))
    return "  ·  ".join(filter(None, parts))


def _label(name: str = "") -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label
