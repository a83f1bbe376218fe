"""The page of frozen records: freeze, look into, read the drives, compare."""

from typing import ClassVar

from app.page import Page
from app.views_page import Views, ViewsPage


class VisitsPage(ViewsPage):
    """Records as they were frozen, the present settings of the drives, and what is different."""

    VIEWS: ClassVar[Views] = {
        "records": ("Frozen records", "app.frozen_view", "FrozenView"),
        "present": ("Present settings", "app.present_view", "PresentView"),
        "compare": ("Compare", "app.compare_view", "CompareView"),
    }

    def on_made(self, key: str, view: Page) -> None:
        """What was found at the drives is compared from there, and stands among the records."""
        from app.present_view import PresentView

        if isinstance(view, PresentView):
            view.compare_asked.connect(self.show_sides)
            view.frozen.connect(lambda _made: self.view("records").show_line())

    def show_sides(self, before: str, after: str) -> None:
        """Compare two sides, each the name of a record or ``now``."""
        self.show_view("compare")
        view = self.view("compare")
        if (show := getattr(view, "show_sides", None)) is not None:
            show(before, after)
