"""Which sheet, in which language, and which stations it is to tell of."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from app.sheet_language import SheetLanguage
from core.model import Line
from core.sheets.label_sheet import LARGE, SMALL

_ID = Qt.ItemDataRole.UserRole
_LABELS = "labels"


class SheetChoice(QWidget):
    """A list of sheets and, below it, their language, and all stations or some of them.

    Signals:
        changed: Another sheet or language, other stations or another first label were chosen.
    """

    changed = Signal()

    def __init__(self, titles: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheets = QComboBox()
        self.sheets.setAccessibleName("Sheet")
        for key, title in titles.items():
            self.sheets.addItem(title, key)
        self.all_stations = QCheckBox("&All stations")
        self.all_stations.setChecked(True)
        self.stations = QListWidget()
        self.stations.setAccessibleName("Stations on the sheet")
        self.stations.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # On a small screen two rows and a bar to scroll by must do beside the places of labels.
        self.stations.setMinimumHeight(3 * self.stations.fontMetrics().height())
        self.stations.hide()
        self.language = SheetLanguage()
        label = QLabel("S&heet")
        label.setBuddy(self.sheets)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (label, self.sheets, self.language, self.all_stations):
            layout.addWidget(widget)
        layout.addWidget(self.stations, 1)
        layout.addWidget(self._build_firsts())
        layout.addStretch()
        self.sheets.currentIndexChanged.connect(self._on_sheet_chosen)
        self.language.changed.connect(self.changed)
        self.stations.itemChanged.connect(lambda _item: self.changed.emit())
        self.all_stations.toggled.connect(self._on_all_toggled)

    def _build_firsts(self) -> QWidget:
        """Where labels begin, for label sheets that are used in part."""
        self.firsts = QWidget()
        self.first_wire, self.first_station = QSpinBox(), QSpinBox()
        layout = QGridLayout(self.firsts)
        layout.setContentsMargins(0, 0, 0, 0)
        named = (
            ("First &wire label", self.first_wire),
            ("First stati&on label", self.first_station),
        )
        for row, (text, box) in enumerate(named):
            box.setMinimum(1)
            box.setAccessibleName(text.replace("&", ""))
            box.setToolTip("Its place on a label sheet that is used in part, along the rows")
            box.valueChanged.connect(lambda _value: self.changed.emit())
            label = QLabel(text)
            label.setBuddy(box)
            layout.addWidget(label, row, 0)
            layout.addWidget(box, row, 1)
        self.firsts.hide()
        return self.firsts

    @property
    def first_labels(self) -> tuple[int, int]:
        """Where wire labels and station labels begin on their first sheets."""
        return self.first_wire.value(), self.first_station.value()

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

    def choose(self, key: str) -> None:
        """Choose a sheet by its key."""
        self.sheets.setCurrentIndex(max(0, self.sheets.findData(key)))

    def show_line(self, line: Line | None) -> None:
        """Offer the stations of a line; those that were left out stay so."""
        self.language.show_line(line)
        paper = line.paper if line else "a4"
        self.first_wire.setMaximum(SMALL[paper].count)
        self.first_station.setMaximum(LARGE[paper].count)
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

    def _on_sheet_chosen(self, _place: int) -> None:
        self.firsts.setVisible(self.sheet == _LABELS)
        self.changed.emit()

    def _on_all_toggled(self, on: bool) -> None:
        self.stations.setVisible(not on)
        self.changed.emit()
