"""The page on which a line is proved: its checks, and the calibration of its references."""

from typing import ClassVar

from app.views_page import Views, ViewsPage


class ProvingPage(ViewsPage):
    """Checks stage by stage, and reference points of a station up and down."""

    VIEWS: ClassVar[Views] = {
        "checks": ("Check list", "app.checks_view", "ChecksView"),
        "calibration": ("Calibration", "app.calibration_view", "CalibrationView"),
    }
