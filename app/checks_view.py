"""The view: checks."""

from app.page import Page


class ChecksView(Page):
    """Shows nothing yet."""
