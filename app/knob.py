"""The knob of one station: a slider that stands where its reference stands, and two numbers."""

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QSlider, QVBoxLayout, QWidget

from app.editors import FieldEditor, make_editor
from app.form import RecordForm
from app.session import Session
from core.line import StationResult, rules
from core.line.turning import share_now
from core.model import FieldSpec
from core.units import System, show_computed

_STEPS = 1000
_FIELD_SIGNS = 21
_SIGNALS = ("now_v", "now_a", "now_hz")
_SHARE = FieldSpec(
    "share",
    "Of its travel",
    "quantity",
    hint="Where the reference is set now",
    kind="ratio",
    minimum=0.0,
    maximum=1.0,
)
_SIDEWAYS = (
    Qt.Key.Key_Left,
    Qt.Key.Key_Right,
    Qt.Key.Key_Up,
    Qt.Key.Key_Down,
    Qt.Key.Key_PageUp,
    Qt.Key.Key_PageDown,
    Qt.Key.Key_Home,
    Qt.Key.Key_End,
)


@dataclass(frozen=True, slots=True)
class _Place:
    share: float | None


class TurnSlider(QSlider):
    """A slider whose keys turn it as a drag does: it is let go when the key is.

    Signals:
        let_go: The key was let go, or the focus went on meanwhile.
    """

    let_go = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._held: int | None = None

    @property
    def is_held(self) -> bool:
        """Whether it is in hand, by mouse or key."""
        return self.isSliderDown() or self._held is not None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take it in hand."""
        if Qt.Key(event.key()) in _SIDEWAYS:
            self._held = event.key()
        super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let it go; a key held down repeats and is still held."""
        super().keyReleaseEvent(event)
        if event.key() == self._held and not event.isAutoRepeat():
            self._let_go()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Let it go."""
        super().focusOutEvent(event)
        if self._held is not None:
            self._let_go()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn nothing by accident."""
        event.ignore()

    def _let_go(self) -> None:
        self._held = None
        self.let_go.emit()


class Knob(QWidget):
    """Turns the reference of the chosen station, by hand or to a number that is typed.

    Signals:
        turned: The knob is being turned; nothing is to be stored yet.
                arg 0: share of its travel, 0 to 1
        left: This is where it is to stand.
              arg 0: share of its travel, 0 to 1
        kept: It was let go where it stood before.
    """

    turned = Signal(float)
    left = Signal(float)
    kept = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label = QLabel()
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.slider = TurnSlider()
        self.slider.setRange(0, _STEPS)
        self.slider.setSingleStep(5)
        self.slider.setPageStep(50)
        self.slider.setAccessibleName("Reference of the chosen station, as set")
        self.slider.valueChanged.connect(self._on_value)
        self.slider.sliderReleased.connect(self._on_let_go)
        self.slider.let_go.connect(self._on_let_go)
        self.share_field: FieldEditor = make_editor(_SHARE, session, "speed_reference", self)
        self.share_field.committed.connect(lambda _name, values: self._on_typed(values["share"]))
        self.signal = RecordForm(session, "speed_reference", _SIGNALS, columns=1)
        self._numbers = QWidget()
        self._stood = 0
        self._build()

    def _build(self) -> None:
        hand = QVBoxLayout()
        hand.setSpacing(1)
        hand.addWidget(self.label)
        hand.addWidget(self.slider)
        name = QLabel(_SHARE.label)
        name.setObjectName("fieldName")
        name.setBuddy(self.share_field)
        share = QVBoxLayout()
        share.setSpacing(1)
        share.addWidget(name)
        share.addWidget(self.share_field)
        share.addStretch(1)
        numbers = QHBoxLayout(self._numbers)
        numbers.setContentsMargins(0, 0, 0, 0)
        numbers.addLayout(share)
        numbers.addWidget(self.signal, 0, Qt.AlignmentFlag.AlignTop)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(6, 2, 6, 4)
        layout.setSpacing(12)
        layout.addLayout(hand, 1)
        layout.addWidget(self._numbers)
        sign = self.fontMetrics().averageCharWidth()
        self.share_field.setFixedWidth(12 * sign)
        self.signal.setFixedWidth(_FIELD_SIGNS * sign)

    @property
    def share(self) -> float:
        """Where it stands, as a share of its travel."""
        return self.slider.value() / _STEPS

    def show_station(self, result: StationResult | None, system: System) -> None:
        """Stand where the reference of a station stands; without one there is nothing to turn."""
        share = None if result is None else share_now(result)
        self.slider.setEnabled(share is not None)
        self.share_field.setEnabled(share is not None)
        self._numbers.setVisible(result is not None)
        if result is None:
            self.label.setText("Choose a station to turn its knob.")
            return
        if not self.slider.is_held:
            self._stood = round((share or 0.0) * _STEPS)
            self.slider.blockSignals(True)
            self.slider.setValue(self._stood)
            self.slider.blockSignals(False)
        self.share_field.show_value(_Place(share if share is None else round(share, 4)))
        self.signal.show_record(result.station.reference)
        self.label.setText(_told(result, share, system))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the hand its room where it is narrow."""
        super().resizeEvent(event)
        self.label.setMaximumWidth(max(1, self.width() - self._numbers.sizeHint().width() - 30))

    def _on_value(self, _value: int) -> None:
        if self.slider.is_held:
            self.turned.emit(self.share)
        else:
            self.left.emit(self.share)

    def _on_let_go(self) -> None:
        # Its steps are coarser than what is stored: a touch alone may not change the file.
        if self.slider.value() == self._stood:
            self.kept.emit()
        else:
            self.left.emit(self.share)

    def _on_typed(self, share: float | None) -> None:
        if share is None:
            self.share_field.give_up()
        else:
            self.left.emit(share)


def _told(result: StationResult, share: float | None, system: System) -> str:
    if share is None:
        return f"{result.tag}: its reference is not known from end to end."
    parts = [f"{result.tag}: {share * 100.0:.1f} % of travel"]
    for rule in (rules.NOW_FREQUENCY, rules.NOW_SURFACE):
        value = result.value(rule.key)
        if value is not None:
            parts.append(str(show_computed(value, rule.kind, system)))
    return ", ".join(parts)
