"""What the readings of a calibration say: verdict, what to set where, the figures."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.figure_list import FigureList
from app.remarks import CautionCard
from core.line.calibrating import Calibration
from core.line.correcting import Correction, Mending, mending_of, settings_to_store
from core.model import CalibrationPoint
from core.model.choices import CALIBRATION_STATES
from core.sheets.words import words_in
from core.units import System, show_computed

_say = words_in("en")
_NO_READINGS = "○ Nothing read yet. Type the frequency at each place, up and then down."
_VERDICTS = {True: "calibration_holds", False: "calibration_fails", None: "calibration_open"}
_STORE = "The keypad shows it: store in the file"
_SIGNAL = (
    "The plan goes on with the signal as it is entered. If the source really gives less, enter "
    "that at the speed reference."
)


class CalibrationAnswer(QScrollArea):
    """Verdict, settings to change, figures and the caution for this work.

    Signals:
        figure_asked: The working of a figure is asked for.
                      arg 0: the `Figure`
        stored: What was set at the keypad is to be stored.
                arg 0: settings by code, as the keypad shows them
    """

    figure_asked = Signal(object)
    stored = Signal(dict)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings: dict[str, str] = {}
        self.verdict = _label("sectionName")
        self.detail = _label("quiet")
        self.head = _label("sectionName")
        self.settings = {end: (_label(), _label("quiet")) for end in ("bottom", "top")}
        self.hint = _label("quiet", _SIGNAL)
        self.store_button = QPushButton(_STORE)
        self.store_button.setToolTip("Set it at the keypad first, then store what it shows")
        self.store_button.clicked.connect(lambda _checked=False: self.stored.emit(self._settings))
        self.after = FigureList()
        self.figures = FigureList()
        self.figures_head = _label("sectionName", "Figures")
        for figures in (self.after, self.figures):
            figures.asked.connect(self.figure_asked)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(self._build())

    def _build(self) -> QWidget:
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 4, 8, 4)
        column.setSpacing(5)
        for widget in (self.verdict, self.detail, self.head):
            column.addWidget(widget)
        for change, notes in self.settings.values():
            notes.setContentsMargins(16, 0, 0, 0)
            column.addWidget(change)
            column.addWidget(notes)
        column.addWidget(self.store_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.hint)
        column.addWidget(self.after)
        column.addWidget(self.figures_head)
        column.addWidget(self.figures)
        column.addWidget(CautionCard("warning", "start"))
        column.addStretch(1)
        return content

    def show_calibration(self, calibration: Calibration, system: System) -> None:
        """Show what the readings of one station in one state say."""
        has_readings = any(entry.point.frequency_hz is not None for entry in calibration.points)
        state = CALIBRATION_STATES[calibration.state]
        words = _say(_VERDICTS[calibration.holds])
        self.verdict.setText(f"{state}: {words}" if has_readings else _NO_READINGS)
        self.detail.setText(_detail(calibration, system))
        self.detail.setVisible(bool(self.detail.text()))
        self.figures.show_figures(
            [figure for figure in calibration.figures.values() if has_readings], system
        )
        self.figures_head.setVisible(has_readings)
        self._show_mending(calibration, mending_of(calibration), system)

    def _show_mending(
        self, calibration: Calibration, mending: Mending | None, system: System
    ) -> None:
        told = mending.corrections if mending is not None else ()
        self._settings = settings_to_store(mending) if mending is not None else {}
        key = "to_correct_within" if calibration.holds else "to_correct"
        self.head.setText(_say(key))
        self.head.setVisible(mending is not None)
        for labels in self.settings.values():
            for label in labels:
                label.hide()
        for held in told:
            change, notes = self.settings[held.end]
            change.setText(_told(held))
            notes.setText(" ".join(held.notes))
            change.show()
            notes.setVisible(bool(held.notes))
        has_to = bool(self._settings) and calibration.holds is not True
        self.store_button.setVisible(has_to)
        self.hint.setVisible(has_to)
        after = [mending.after] if mending is not None else []
        self.after.show_figures(after, system)


def _told(held: Correction) -> str:
    """One end in words: code, value now and to set, and what has to be known."""
    end = _say(f"end_{held.end}")
    if held.is_change:
        change = f"{held.code}: {held.now} → {held.new} {held.unit}".rstrip()
    elif held.new:
        change = f"{held.code}: {held.now} {held.unit} stays"
    else:
        change = f"{held.code}: cannot be told" if held.code else "cannot be told"
    return f"{'▸' if held.is_change else '='} {end}  {change}"


def _detail(calibration: Calibration, system: System) -> str:
    parts = []
    if calibration.limit_hz is not None:
        limit = show_computed(calibration.limit_hz, "frequency", system)
        parts.append(f"The limit is ± {limit}, what the reference as entered can hold.")
    if held := calibration.held:
        places = ", ".join(_place(entry.point) for entry in held)
        parts.append(f"Not counted, held by the drive's own limits: {places}.")
    outside = [entry for entry in calibration.points if entry.speed_is_within is False]
    if outside:
        parts.append(
            "✗ Speed read and frequency do not go together: look at diameter, gear ratio and slip."
        )
    return " ".join(parts)


def _place(point: CalibrationPoint) -> str:
    way = {"up": " up", "down": " down"}.get(point.direction, "")
    return f"{100.0 * (point.share or 0.0):g} %{way}"


def _label(name: str = "", text: str = "") -> QLabel:
    label = QLabel(text)
    label.setObjectName(name)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label
