"""The view: calibration."""

from app.page import Page


class CalibrationView(Page):
    """Shows nothing yet."""
