"""Which sheet, and which stations it is to tell of."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from core.model import Line

_ID = Qt.ItemDataRole.UserRole


class SheetChoice(QWidget):
    """A list of sheets and, below it, all stations or some of them.

    Signals:
        changed: Another sheet or other stations were chosen.
    """

    changed = Signal()

    def __init__(self, titles: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheets = QComboBox()
        for key, title in titles.items():
            self.sheets.addItem(title, key)
        self.all_stations = QCheckBox("&All stations")
        self.all_stations.setChecked(True)
        self.stations = QListWidget()
        self.stations.setAccessibleName("Stations on the sheet")
        self.stations.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.stations.hide()
        label = QLabel("S&heet")
        label.setBuddy(self.sheets)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (label, self.sheets, self.all_stations):
            layout.addWidget(widget)
        layout.addWidget(self.stations, 1)
        layout.addStretch()
        self.sheets.currentIndexChanged.connect(lambda _place: self.changed.emit())
        self.stations.itemChanged.connect(lambda _item: self.changed.emit())
        self.all_stations.toggled.connect(self._on_all_toggled)

    @property
    def sheet(self) -> str:
        """The key of the chosen sheet."""
        return str(self.sheets.currentData())

    @property
    def station_ids(self) -> list[int] | None:
        """The stations to tell of; None for all of them."""
        if self.all_stations.isChecked():
            return None
        items = map(self.stations.item, range(self.stations.count()))
        return [item.data(_ID) for item in items if item.checkState() == Qt.CheckState.Checked]

    def show_line(self, line: Line | None) -> None:
        """Offer the stations of a line; those that were left out stay so."""
        left_out = set(self._ids()) - set(self.station_ids or self._ids())
        self.stations.blockSignals(True)
        self.stations.clear()
        for station in line.stations if line else ():
            item = QListWidgetItem(f"{station.tag}  {station.name}".strip())
            item.setData(_ID, station.id)
            item.setToolTip(item.text())
            checked = station.id not in left_out
            item.setCheckState(Qt.CheckState.Checked if checked else Qt.CheckState.Unchecked)
            self.stations.addItem(item)
        self.stations.blockSignals(False)

    def _ids(self) -> list[int]:
        return [self.stations.item(at).data(_ID) for at in range(self.stations.count())]

    def _on_all_toggled(self, on: bool) -> None:
        self.stations.setVisible(not on)
        self.changed.emit()
