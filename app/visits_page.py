"""The page of frozen records: freeze, look into, read the drives, compare."""

from typing import ClassVar

from PySide6.QtCore import Signal

from app.page import Page
from app.views_page import Views, ViewsPage
from core.errors import InputError


class VisitsPage(ViewsPage):
    """Records as they were frozen, the present settings of the drives, and what is different.

    Signals:
        station_asked: The page of a station is to be shown.
                       arg 0: its id
        sheets_asked: The sheets of what is shown are wanted.
    """

    VIEWS: ClassVar[Views] = {
        "records": ("Frozen records", "app.frozen_view", "FrozenView"),
        "present": ("Present settings", "app.present_view", "PresentView"),
        "compare": ("Compare", "app.compare_view", "CompareView"),
    }
    station_asked = Signal(int)
    sheets_asked = Signal()

    def on_made(self, key: str, view: Page) -> None:
        """Let the views lead to each other: records and readings to the comparison."""
        from app.compare_view import CompareView
        from app.frozen_view import FrozenView
        from app.present_view import PresentView

        if isinstance(view, FrozenView):
            view.compare_asked.connect(lambda record_id: self.show_sides(str(record_id), "now"))
            view.sheets_asked.connect(self.sheets_asked)
        elif isinstance(view, PresentView):
            view.compare_asked.connect(self.show_sides)
            view.frozen.connect(self.session.frozen)
        elif isinstance(view, CompareView):
            view.station_asked.connect(self._on_station)

    def show_sides(self, before: str, after: str) -> None:
        """Compare two sides, each the name of a record or ``now``."""
        from app.compare_view import CompareView

        self.show_view("compare")
        view = self.view("compare")
        assert isinstance(view, CompareView)
        view.show_sides(before, after)

    def _on_station(self, tag: str) -> None:
        station = self.session.line.station_tagged(tag)
        if station is not None:
            self.station_asked.emit(station.id)
            return
        why = f"{tag} is not on the line that is shown now."
        self.session.refused.emit(InputError("No station was shown.", why, ""))
