"""The view: present_settings."""

from app.page import Page


class PresentView(Page):
    """Shows nothing yet."""
