"""The page of the speed plan: the line drawn, its charts, every station, every pair, the knob."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.drawing_view import DrawingView
from app.knob import Knob
from app.page import Page
from app.pairs_table import PairsTable
from app.records_panel import RecordsPanel
from app.session import Session
from app.speeds_findings import PlanFindings, TrialTable, of_plan
from app.speeds_line import LineView
from app.speeds_preview import Preview
from app.speeds_room import Part, SharedRoom
from app.speeds_station import StationPlan
from app.speeds_table import SpeedsTable
from app.working import WorkingPanel
from core.errors import InputError
from core.line import Figure, LineResults, Plan
from core.line.findings import Finding
from core.sheets.plan_charts import CHARTS, chart_of
from core.sheets.plan_picture import picture_of
from core.sheets.words import words_in
from core.store import actions
from core.units import show_computed

_say = words_in("en")
_WIDE, _FLATTEST, _TABS = 757.0, 0.3, 48
"""Width of a chart [pt]; height over width below which it is scrolled; height of the tabs."""
_LONGEST_WORD = 24
"""Signs of the longest word in the summary."""
_HINT = "Drag from station to station, or L and Enter, links them. Double click or Enter opens."


class SpeedsPage(Page):
    """Planned and present speeds side by side; one knob moves everything that hangs on it.

    Signals:
        station_asked: The page of a station is to be shown.
                       arg 0: its id
        finding_asked: The field of a finding is to be shown.
                       arg 0: the `Finding`
        list_asked: One of the lists that the line holds is to be shown.
                    arg 0: its table
        trial_asked: Changes are to be tried on a copy.
    """

    station_asked = Signal(int)
    finding_asked = Signal(object)
    list_asked = Signal(str)
    trial_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.preview = Preview(session, self)
        self._asked_from: QWidget | None = None
        self.recipes = QComboBox()
        self.recipes.setAccessibleName("Recipe")
        self.recipes_button = QPushButton("Recipes…")
        self.recipes_button.setToolTip("Fruit, throughput and order of the recipes")
        self.summary = QLabel()
        self.summary.setTextFormat(Qt.TextFormat.PlainText)
        self.summary.setWordWrap(True)
        policy = self.summary.sizePolicy()
        policy.setVerticalPolicy(QSizePolicy.Policy.Maximum)
        self.summary.setSizePolicy(policy)
        self.trial_button = QPushButton("Try changes on a copy")
        self.trial_button.setToolTip("The line file is not touched until you say so")
        self.picture = LineView()
        self.charts = {key: DrawingView() for key in CHARTS}
        self.table = SpeedsTable()
        self.pairs = PairsTable()
        self.station = StationPlan(session)
        self.findings = PlanFindings()
        self.trial = TrialTable(self)
        self.trial.hide()
        self.flow = RecordsPanel(session, "flow")
        self.own = RecordsPanel(session, "recipe_speed")
        self.working = WorkingPanel()
        self.knob = Knob(session)
        self.hint = QLabel(_HINT)
        self.hint.setObjectName("quiet")
        self.room = SharedRoom()
        self._build()
        self._connect()
        self.catch_up()

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(6, 2, 6, 2)
        name = QLabel("&Recipe")
        name.setBuddy(self.recipes)
        for widget in (name, self.recipes, self.recipes_button):
            head.addWidget(widget)
        head.addWidget(self.summary, 1)
        head.addWidget(self.trial_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(head)
        layout.addWidget(self.room, 1)
        layout.addWidget(self.working)
        layout.addWidget(self.knob)
        self.room.views.setCornerWidget(self.hint)
        self._arrange()

    def _connect(self) -> None:
        self.recipes.currentIndexChanged.connect(lambda _index: self._show())
        self.recipes_button.clicked.connect(lambda _checked=False: self.list_asked.emit("recipe"))
        self.trial_button.clicked.connect(lambda _checked=False: self.trial_asked.emit())
        self.room.turned_to.connect(self._show_in_sight)
        self.table.station_reached.connect(self._on_reached)
        self.picture.station_reached.connect(self.table.go_to)
        for stations in (self.table, self.picture):
            stations.station_chosen.connect(self.station_asked)
        for figures in (self.table, self.station):
            figures.figure_asked.connect(self._on_figure_asked)
        self.picture.link_drawn.connect(self._on_link_drawn)
        self.pairs.pair_chosen.connect(lambda _pair: self.list_asked.emit("pair"))
        self.trial.station_chosen.connect(self._on_tag_chosen)
        self.findings.asked.connect(self.finding_asked)
        self.findings.accepted.connect(self._accept)
        self.working.closed.connect(self._on_working_closed)
        self.knob.turned.connect(self._on_turned)
        self.knob.left.connect(self._on_left)
        self.knob.kept.connect(self._on_kept)
        self.preview.changed.connect(self._show)

    # --- where everything stands ------------------------------------------------------------

    def _arrange(self) -> None:
        """Put every part where it belongs at this size; in a trial there is one more."""
        views: list[Part] = [(self.picture, "Line")]
        views += [(view, _TITLES[key]) for key, view in self.charts.items()]
        tables: list[Part] = [(self.table, "Stations"), (self.pairs, "Pairs")]
        if self.session.is_trial:
            tables.append((self.trial, "Against the file"))
        tables += [(self.findings, "Findings"), (self.flow, "Flow"), (self.own, "Own speeds")]
        self.room.arrange(self.size(), views, tables, (self.station, "Chosen station"))
        self.hint.setVisible(self.room.is_wide)
        self._make_room()
        self._name_tabs()

    def _make_room(self, *, for_working: bool = False) -> None:
        """In a low window a working stands in the place of everything but the knob."""
        has_working = for_working or not self.working.isHidden()
        self.room.setHidden(self.room.is_low and has_working)

    def _name_tabs(self) -> None:
        """Say on their tabs how many findings, links and own speeds there are."""
        if not self.session.is_open:
            return
        recipe = self.plan.recipe
        for widget, title, count in (
            (self.findings, "Findings", len(of_plan(self.preview.findings))),
            (self.flow, "Flow", len(self.results.line.flows)),
            (self.own, "Own speeds", len(recipe.speeds) if recipe else 0),
        ):
            self.room.retitle(widget, f"{title} ({count})")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay everything out for the room that there is now."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._lay_out)

    def _lay_out(self) -> None:
        self._arrange()
        self._show_in_sight()
        if self.table.station_id is not None:
            self.picture.go_to(self.table.station_id)

    # --- what is shown ----------------------------------------------------------------------

    @property
    def results(self) -> LineResults:
        """What is shown: the line as it stands, or as the knob in hand would make it."""
        return self.preview.results

    @property
    def plan(self) -> Plan:
        """The plan of the chosen recipe."""
        return self._chosen(self.results)

    def _chosen(self, results: LineResults) -> Plan:
        place = max(0, self.recipes.currentIndex())
        return results.plans[min(place, len(results.plans) - 1)]

    @property
    def _plan_of_file(self) -> Plan | None:
        """The plan of the same recipe in the file itself, in a trial."""
        of_file = self.session.results_of_file
        return None if of_file is None else self._chosen(of_file)

    def show_line(self) -> None:
        """Show the open line."""
        self.preview.forget()
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
        self._arrange()
        self.flow.show_records(None, self.session.line.flows)
        recipe = self.plan.recipe
        self.own.setEnabled(recipe is not None)
        self.own.show_records(recipe.id if recipe else None, recipe.speeds if recipe else ())
        self._show()

    def _show(self) -> None:
        """Show the plan, as it stands or as the knob in hand makes it."""
        if not self.session.is_open:
            return
        of_file, system = self._plan_of_file, self.session.line.unit_system
        self.table.show_plan(self.plan, system, of_file)
        self.pairs.show_pairs(self.plan.pairs, of_file.pairs if of_file else None)
        self._show_summary(self._in_short())
        self._show_station()
        self._name_tabs()
        self._show_in_sight()

    def _show_station(self) -> None:
        """Show the chosen station at the knob and beside the tables."""
        station_id, system = self.table.station_id, self.session.line.unit_system
        known = station_id is not None and station_id in self.plan.entries
        entry = self.plan.entries[station_id] if known and station_id is not None else None
        self.knob.show_station(entry.result if entry else None, system)
        self.station.show_entry(entry, self.plan.recipe)
        self._refresh_working()

    def _show_summary(self, whole: str) -> None:
        """The summary; a word too long to be wrapped would hold the window wide, and is cut."""
        words = [
            w if len(w) <= _LONGEST_WORD else f"{w[:_LONGEST_WORD]}…" for w in whole.split(" ")
        ]
        self.summary.setText(" ".join(words))
        self.summary.setToolTip(whole if self.summary.text() != whole else "")
        self.summary.setAccessibleName(whole)

    def _in_short(self) -> str:
        plan, system = self.plan, self.session.line.unit_system
        if plan.rates.feed_1_s is None:
            return "No feed is known: enter fruit and throughput as a recipe."
        parts = [f"Fed {show_computed(plan.rates.feed_1_s, 'count_rate', system)}"]
        if plan.bottleneck_id is not None and plan.most_feed_1_s is not None:
            entry = plan.entries[plan.bottleneck_id]
            most = show_computed(plan.most_feed_1_s, "count_rate", system)
            parts.append(f"bottleneck {entry.tag}, full at {most}")
        fails = [held.pair.name for held in plan.pairs if held.holds is False]
        if fails:
            parts.append(f"✗ cannot hold: {', '.join(fails)}")
        faults = (held for held in of_plan(self.preview.findings) if held.key in _AT_ONCE)
        parts += [f"✗ {held.says(system).rstrip('.')}" for held in faults]
        return "; ".join(parts)

    def _show_in_sight(self) -> None:
        """Draw what costs time only where it is in sight."""
        if not self.session.is_open:
            return
        system = self.session.line.unit_system
        if self.room.is_in_sight(self.picture):
            drawn = picture_of(
                self.results, self.plan, self.preview.findings, _say, self.picture.reading_page
            )
            self.picture.show_drawing(drawn)
        for key, view in self.charts.items():
            if self.room.is_in_sight(view):
                view.show_drawing(chart_of(key, self.results, self.plan, self._chart_size()))
        if self.room.is_in_sight(self.findings):
            self.findings.show_findings(self.preview.findings, system)
        if self.room.is_in_sight(self.trial):
            self._show_trial()

    def _chart_size(self) -> tuple[float, float]:
        room = self.room.views.contentsRect()
        return _WIDE, _WIDE * max(_FLATTEST, (room.height() - _TABS) / max(1, room.width()))

    def _show_trial(self) -> None:
        from core.records.comparing import compare
        from core.records.consequences import consequences

        of_file = self.session.results_of_file
        if of_file is not None:
            difference = compare(of_file.line, self.results.line)
            held = consequences(difference, of_file, self.results)
            self.trial.show_consequences(held, self.session.line.unit_system)

    # --- the chosen station -----------------------------------------------------------------

    def _on_reached(self, station_id: int) -> None:
        if self.preview.forget():
            self._show()
        else:
            self._show_station()
        if self.room.is_in_sight(self.picture):
            self.picture.go_to(station_id)

    def _on_tag_chosen(self, tag: str) -> None:
        station = self.results.line.station_tagged(tag)
        if station is not None:
            self.station_asked.emit(station.id)

    def _on_link_drawn(self, source_id: int, target_id: int) -> None:
        line, graph = self.session.line, self.session.results.plan.graph
        fed = [line.station(entry).tag for entry in graph.after(source_id)]
        target = line.station(target_id).tag
        if target in fed:
            tag = line.station(source_id).tag
            why = f"{tag} feeds {target} already."
            self.session.refused.emit(InputError("No link was added.", why, "See the tab Flow."))
            return
        self.session.do(
            actions.add_record,
            "flow",
            from_station_id=source_id,
            to_station_id=target_id,
        )

    def _accept(self, finding: Finding, person: str, reason: str, day: str) -> None:
        told = (finding.mark, finding.key, finding.tag or "line", person, reason, day)
        self.session.do(actions.accept_finding, *told)

    # --- workings ---------------------------------------------------------------------------

    def _on_figure_asked(self, figure: Figure) -> None:
        self._asked_from = self.focusWidget()
        # Before it is shown, since a window that has grown does not shrink again.
        self._make_room(for_working=True)
        self.working.show_figure(figure, self.session.line.unit_system)

    def _refresh_working(self) -> None:
        """Tell the same figure of the present station anew."""
        asked, station_id = self.working.figure, self.table.station_id
        if self.working.isHidden() or asked is None or station_id is None:
            return
        entry = self.plan.entries[station_id]
        held: Mapping[str, Figure] = {
            **entry.planned,
            **entry.present,
            **entry.result.figures,
            **entry.wanted,
        }
        figure = held.get(asked.key) or self.plan.flow_figure(station_id)
        shown = figure if figure is not None and figure.key == asked.key else None
        self.working.refresh(shown, self.session.line.unit_system)
        self._make_room()

    def _on_working_closed(self) -> None:
        self._make_room()
        if self._asked_from is not None:
            self._asked_from.setFocus()

    # --- the knob ---------------------------------------------------------------------------

    def _on_turned(self, share: float) -> None:
        if self.table.station_id is not None:
            self.preview.turn(self.table.station_id, share)

    def _on_left(self, share: float) -> None:
        if self.table.station_id is not None:
            self.preview.store(self.table.station_id, share)

    def _on_kept(self) -> None:
        self.preview.forget()
        self._show()


_TITLES = {
    "chart_speeds": "Speeds",
    "chart_capacity": "Capacity",
    "chart_reference": "References",
    "chart_ratio": "Ratios",
}
_AT_ONCE = ("flow-loop", "flow-shares", "flow-feed-shares", "plan-circular")
"""Findings about the flow that are told beside the feed, since no plan comes of such a flow."""
