"""The page of the speed plan: the line drawn, its charts, every station, every pair, the knob."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.drawing_view import DrawingView
from app.knob import Knob, preview, values_at
from app.page import Page
from app.pairs_table import PairsTable
from app.records_panel import RecordsPanel
from app.session import Session
from app.speeds_table import SpeedsTable
from core.line import LineResults, Plan, compute_line
from core.line.findings import Findings, find
from core.sheets.plan_charts import CHARTS, chart_of
from core.sheets.plan_picture import picture_of
from core.sheets.words import words_in
from core.store import actions
from core.units import show_computed

_say = words_in("en")
_WIDE, _FLATTEST, _TABS = 757.0, 0.3, 48
"""Width of a chart [pt]; height over width below which it is scrolled; height of the tabs."""


class SpeedsPage(Page):
    """Planned and present speeds side by side; one knob moves everything that hangs on it.

    Signals:
        station_asked: The page of a station is to be shown.
                       arg 0: its id
    """

    station_asked = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._preview: LineResults | None = None
        self._preview_findings: Findings | None = None
        self.recipes = QComboBox()
        self.recipes.setAccessibleName("Recipe")
        self.recipes.currentIndexChanged.connect(lambda _index: self._show())
        self.summary = QLabel()
        self.summary.setTextFormat(Qt.TextFormat.PlainText)
        self.summary.setWordWrap(True)
        self.trial_button = QPushButton("Try changes on a copy")
        self.trial_button.setToolTip("The line file is not touched until you say so")
        self.trial_button.clicked.connect(lambda _checked=False: self.session.begin_trial())
        self.picture = DrawingView()
        self.charts = {key: DrawingView() for key in CHARTS}
        self.views = QTabWidget()
        self.views.addTab(self.picture, "Line")
        for key, view in self.charts.items():
            self.views.addTab(view, _TITLES[key])
        self.views.currentChanged.connect(lambda _index: self._draw())
        self.table = SpeedsTable()
        self.pairs = PairsTable()
        self.own = RecordsPanel(session, "recipe_speed")
        self.knob = Knob()
        self._build()
        self._connect()
        self.catch_up()

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(6, 2, 6, 2)
        head.addWidget(QLabel("Recipe"))
        head.addWidget(self.recipes)
        head.addWidget(self.summary, 1)
        head.addWidget(self.trial_button)
        below = QTabWidget()
        below.addTab(self.table, "Stations")
        below.addTab(self.pairs, "Pairs")
        below.addTab(self.own, "Own speeds of this recipe")
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(self.views)
        split.addWidget(below)
        split.setSizes([380, 260])
        split.setChildrenCollapsible(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(head)
        layout.addWidget(split, 1)
        layout.addWidget(self.knob)

    def _connect(self) -> None:
        self.table.station_reached.connect(self._on_reached)
        self.table.station_chosen.connect(self.station_asked)
        self.picture.station_reached.connect(self.table.go_to)
        self.picture.station_chosen.connect(self.station_asked)
        self.knob.turned.connect(self._on_turned)
        self.knob.left.connect(self._on_left)

    # --- what is shown ----------------------------------------------------------------------

    @property
    def results(self) -> LineResults:
        """What is shown: the line as it stands, or as the knob in hand would make it."""
        return self._preview or self.session.results

    @property
    def plan(self) -> Plan:
        """The plan of the chosen recipe."""
        place = max(0, self.recipes.currentIndex())
        plans = self.results.plans
        return plans[min(place, len(plans) - 1)]

    def show_line(self) -> None:
        """Show the open line."""
        self._preview = self._preview_findings = None
        self.setEnabled(self.session.is_open)
        if not self.session.is_open:
            return
        names = [recipe.name for recipe in self.session.line.recipes] or ["No recipe"]
        if names != [self.recipes.itemText(place) for place in range(self.recipes.count())]:
            kept = self.recipes.currentText()
            self.recipes.blockSignals(True)
            self.recipes.clear()
            self.recipes.addItems(names)
            self.recipes.setCurrentIndex(max(0, self.recipes.findText(kept)))
            self.recipes.blockSignals(False)
        self.trial_button.setVisible(not self.session.is_trial)
        self._show()

    def _show(self) -> None:
        if not self.session.is_open:
            return
        system = self.session.line.unit_system
        self.table.show_plan(self.plan, system, self._plan_of_file())
        self.pairs.show_pairs(self.plan.pairs)
        self._show_own()
        self.summary.setText(self._in_short())
        self._show_knob()
        self._draw()

    def _show_own(self) -> None:
        recipe = self.plan.recipe
        self.own.setEnabled(recipe is not None)
        self.own.show_records(recipe.id if recipe else None, recipe.speeds if recipe else ())

    def _plan_of_file(self) -> Plan | None:
        """The plan of the same recipe in the file itself, in a trial."""
        of_file = self.session.results_of_file
        if of_file is None:
            return None
        place = max(0, self.recipes.currentIndex())
        return of_file.plans[min(place, len(of_file.plans) - 1)]

    def _in_short(self) -> str:
        plan, system = self.plan, self.session.line.unit_system
        if plan.rates.feed_1_s is None:
            return "No feed is known: enter fruit and throughput as a recipe, on the page Line."
        parts = [f"Fed {show_computed(plan.rates.feed_1_s, 'count_rate', system)}"]
        if plan.bottleneck_id is not None and plan.most_feed_1_s is not None:
            entry = plan.entries[plan.bottleneck_id]
            most = show_computed(plan.most_feed_1_s, "count_rate", system)
            parts.append(f"bottleneck {entry.tag}, full at {most}")
        fails = [held.pair.name for held in plan.pairs if held.holds is False]
        if fails:
            parts.append(f"✗ cannot hold: {', '.join(fails)}")
        return "; ".join(parts)

    def _draw(self) -> None:
        """Draw what is in sight, and only that."""
        view = self.views.currentWidget()
        if not self.session.is_open or not isinstance(view, DrawingView):
            return
        if view is self.picture:
            findings = self._preview_findings or self.session.findings
            page = self.picture.reading_page
            view.show_drawing(picture_of(self.results, self.plan, findings, _say, page))
        else:
            key = next(key for key, held in self.charts.items() if held is view)
            room = self.views.contentsRect()
            high = _WIDE * max(_FLATTEST, (room.height() - _TABS) / max(1, room.width()))
            view.show_drawing(chart_of(key, self.results, self.plan, (_WIDE, high)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the picture out for the room that there is now."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._draw)

    # --- the knob ---------------------------------------------------------------------------

    def _on_reached(self, station_id: int) -> None:
        self._show_knob()
        if self.picture.isVisible():
            self.picture.go_to(station_id)

    def _show_knob(self) -> None:
        station_id = self.table.station_id
        result = None if station_id is None else self.results.station(station_id)
        self.knob.show_station(result, self.session.line.unit_system)

    def _on_turned(self, share: float) -> None:
        station_id = self.table.station_id
        if station_id is None:
            return
        result = self.session.results.station(station_id)
        line = preview(self.session.line, result, share)
        if line is None:
            return
        self._preview = compute_line(line, self._preview or self.session.results)
        self._preview_findings = find(self._preview, self.session.findings)
        self._show()

    def _on_left(self, share: float) -> None:
        station_id = self.table.station_id
        self._preview = self._preview_findings = None
        if station_id is None:
            return
        result = self.session.results.station(station_id)
        held = result.station.reference
        values = values_at(result, share)
        if any(getattr(held, name) != value for name, value in values.items()):
            self.session.do(actions.set_fields, "speed_reference", held.id, **values)
        else:
            self._show()


_TITLES = {
    "chart_speeds": "Speeds",
    "chart_capacity": "Capacity",
    "chart_reference": "References",
    "chart_ratio": "Ratios",
}
