"""The chosen station in the plan: what is wanted of it, in the recipe too, and every figure."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.figure_list import FigureList
from app.form import RecordForm
from app.session import Session
from core.line import Figure, PlanEntry
from core.line import rules as known
from core.model import RECORDS, Recipe, RecipeSpeed
from core.store import actions

WANTED_FIELDS = tuple(
    field.name for field in RECORDS["station"].fields if field.name.startswith("wanted")
)
"""Fields of a station, and of its own speed in a recipe, that say what is wanted."""
_NOW = (known.NOW_SHARE, known.NOW_FREQUENCY, known.NOW_SHAFT, known.NOW_SURFACE)


class StationPlan(QScrollArea):
    """Wanted values to type, for the line and for the recipe shown; figures that follow.

    Signals:
        figure_asked: The working of a figure is asked for.
                      arg 0: the `Figure`
    """

    figure_asked = Signal(object)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._entry: PlanEntry | None = None
        self._recipe: Recipe | None = None
        self.head = _heading()
        self.form = RecordForm(session, "station", WANTED_FIELDS)
        self.own_head = _heading()
        self.own_form = RecordForm(session, "recipe_speed", WANTED_FIELDS)
        self.own_button = QPushButton()
        self.own_button.clicked.connect(lambda _checked=False: self._switch_own())
        self.lists = {name: FigureList() for name in ("Planned", "Now")}
        self._heads = {name: _heading(name) for name in self.lists}
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidget(self._build())

    def _build(self) -> QWidget:
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 4, 8, 4)
        column.setSpacing(4)
        for widget in (self.head, self.form, self.own_head, self.own_form):
            column.addWidget(widget)
        column.addWidget(self.own_button, 0, Qt.AlignmentFlag.AlignLeft)
        for name, figures in self.lists.items():
            figures.asked.connect(self.figure_asked)
            column.addWidget(self._heads[name])
            column.addWidget(figures)
        column.addStretch(1)
        return content

    def show_entry(self, entry: PlanEntry | None, recipe: Recipe | None) -> None:
        """Show a station in the plan of a recipe; without one it says how to choose one."""
        self._entry, self._recipe = entry, recipe
        self.form.setVisible(entry is not None)
        self._show_own()
        if entry is None:
            self.head.setText("Choose a station in the picture or the table.")
            self._show_figures({})
            return
        self.head.setText(f"Wanted of {entry.tag} {entry.station.name}".strip())
        self.form.show_record(entry.station)
        now = [entry.result.figures.get(rule.key) for rule in _NOW]
        self._show_figures(
            {
                "Planned": _once(entry.wanted.values(), entry.planned.values()),
                "Now": _once(filter(None, now), entry.present.values()),
            }
        )

    @property
    def own(self) -> RecipeSpeed | None:
        """What the recipe wants of the station otherwise than the line, if anything."""
        if self._entry is None or self._recipe is None:
            return None
        here = self._entry.station.id
        return next((held for held in self._recipe.speeds if held.station_id == here), None)

    def figure(self, part: str, key: str) -> Figure | None:
        """A figure that is shown, by the list it stands in and its key."""
        shown = (row.figure for row in self.lists[part].rows)
        return next((held for held in shown if held is not None and held.key == key), None)

    def _show_own(self) -> None:
        held, recipe = self.own, self._recipe
        has_recipe = recipe is not None and self._entry is not None
        self.own_head.setVisible(held is not None)
        self.own_form.setVisible(held is not None)
        self.own_button.setVisible(has_recipe)
        if recipe is None or self._entry is None:
            return
        if held is not None:
            self.own_head.setText(f"Instead, with {recipe.name}")
            self.own_form.show_record(held)
            self.own_button.setText("As on every recipe again")
        else:
            self.own_button.setText(f"Want another speed with {recipe.name}")

    def _switch_own(self) -> None:
        held, recipe, entry = self.own, self._recipe, self._entry
        if held is not None:
            self.session.do(actions.remove_record, "recipe_speed", held.id)
        elif recipe is not None and entry is not None:
            values = {name: getattr(entry.station, name) for name in WANTED_FIELDS}
            self.session.do(
                actions.add_record,
                "recipe_speed",
                recipe.id,
                station_id=entry.station.id,
                **values,
            )
            self.own_form.focus_field("wanted")

    def _show_figures(self, figures: dict[str, list[Figure]]) -> None:
        system = self.session.line.unit_system
        for name, shown in self.lists.items():
            held = figures.get(name, [])
            self._heads[name].setVisible(bool(held))
            shown.show_figures(held, system)


def _once(*parts: Iterable[Figure]) -> list[Figure]:
    """Figures of several parts, each key once."""
    found: dict[str, Figure] = {}
    for part in parts:
        for figure in part:
            found.setdefault(figure.key, figure)
    return list(found.values())


def _heading(text: str = "") -> QLabel:
    label = QLabel(text)
    label.setObjectName("sectionName")
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label
