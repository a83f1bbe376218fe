"""The view: compare."""

from app.page import Page


class CompareView(Page):
    """Shows nothing yet."""
