"""The view: frozen_records."""

from app.page import Page


class FrozenView(Page):
    """Shows nothing yet."""
