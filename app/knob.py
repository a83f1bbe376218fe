"""The knob of one station: a slider that stands where its reference stands now."""

import dataclasses
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSlider, QWidget

from core.errors import RangeError
from core.line import StationResult
from core.model import Line, Station
from core.units import System, show_computed

_STEPS = 1000


class Knob(QWidget):
    """Turns the reference of the chosen station.

    Signals:
        turned: The knob is being dragged; nothing is stored yet.
                arg 0: share of its travel, 0 to 1
        left: The knob was let go, or moved by a key: this is where it stands.
              arg 0: share of its travel, 0 to 1
    """

    turned = Signal(float)
    left = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label = QLabel()
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(0, _STEPS)
        self.slider.setSingleStep(5)
        self.slider.setPageStep(50)
        self.slider.setAccessibleName("Reference of the chosen station, as set")
        self.slider.valueChanged.connect(self._on_value)
        self.slider.sliderReleased.connect(lambda: self.left.emit(self.share))
        layout = QHBoxLayout(self)
        layout.setContentsMargins(6, 2, 6, 2)
        layout.addWidget(self.label)
        layout.addWidget(self.slider, 1)

    @property
    def share(self) -> float:
        """Where it stands, as a share of its travel."""
        return self.slider.value() / _STEPS

    def show_station(self, result: StationResult | None, system: System) -> None:
        """Stand where the reference of a station stands; without one there is nothing to turn."""
        share = None if result is None else share_now(result)
        self.slider.setEnabled(share is not None)
        if result is None:
            self.label.setText("Choose a station to turn its knob.")
            return
        if not self.slider.isSliderDown():
            self.slider.blockSignals(True)
            self.slider.setValue(round((share or 0.0) * _STEPS))
            self.slider.blockSignals(False)
        self.label.setText(_told(result, share, system))

    def _on_value(self, _value: int) -> None:
        if self.slider.isSliderDown():
            self.turned.emit(self.share)
        else:
            self.left.emit(self.share)


def share_now(result: StationResult) -> float | None:
    """Where a reference stands, as a share of its travel; None where nothing can be turned."""
    limits = result.limits
    if result.chain is not None:
        return result.value("reference_now_share")
    hertz = result.station.reference.now_hz
    if limits is None or hertz is None or not limits.maximum_hz:
        return None
    return min(1.0, hertz / limits.maximum_hz)


def values_at(result: StationResult, share: float) -> dict[str, float]:
    """The fields of the speed reference that put it there."""
    chain = result.chain
    if chain is None:
        assert result.limits is not None
        return {"now_hz": round(share * result.limits.maximum_hz, 2)}
    signal = chain.signal(share)
    if chain.input.signal == "current":
        return {"now_a": round(signal, 5)}
    return {"now_v": round(signal, 3)}


def with_reference(line: Line, station: Station, values: dict[str, float]) -> Line:
    """A line with the reference of one station elsewhere; the file is not touched."""
    held: Any = dataclasses.replace(station.reference, **values)  # type: ignore[type-var]
    moved: Any = dataclasses.replace(station, reference=held)  # type: ignore[type-var]
    stations = tuple(moved if each.id == station.id else each for each in line.stations)
    whole: Line = dataclasses.replace(line, stations=stations)  # type: ignore[type-var]
    return whole


def preview(line: Line, result: StationResult, share: float) -> Line | None:
    """The line as it would be with a knob there; None where no signal gives that."""
    try:
        return with_reference(line, result.station, values_at(result, share))
    except RangeError:
        return None


def _told(result: StationResult, share: float | None, system: System) -> str:
    if share is None:
        return f"{result.tag}: its reference is not known from end to end."
    parts = [f"{result.tag}: {share * 100.0:.1f} % of travel"]
    for key in ("frequency_now_hz", "surface_speed_now_m_s"):
        figure = result.figures.get(key)
        if figure is not None and figure.value is not None:
            parts.append(str(show_computed(figure.value, figure.kind, system)))
    return ", ".join(parts)
