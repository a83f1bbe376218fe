"""The page of frozen records: freeze, look into, read the drives, compare."""

from typing import ClassVar

from app.views_page import Views, ViewsPage


class VisitsPage(ViewsPage):
    """Records as they were frozen, the present settings of the drives, and what is different."""

    VIEWS: ClassVar[Views] = {
        "records": ("Frozen records", "app.frozen_view", "FrozenView"),
        "present": ("Present settings", "app.present_view", "PresentView"),
        "compare": ("Compare", "app.compare_view", "CompareView"),
    }
