"""The pages of the window; the module of a page is imported when it is first shown."""

import importlib

from app.page import Page
from app.session import Session

_PAGES = {
    "stations": ("Stations", "app.stations_page", "StationsPage"),
    "grid": ("Grid", "app.grid_page", "GridPage"),
    "drive_types": ("Drive types", "app.drive_types_page", "DriveTypesPage"),
    "line": ("Line", "app.line_page", "LinePage"),
    "speeds": ("Speeds", "app.speeds_page", "SpeedsPage"),
    "proving": ("Checks", "app.proving_page", "ProvingPage"),
    "visits": ("Records", "app.visits_page", "VisitsPage"),
    "sheets": ("Sheets", "app.sheets_page", "SheetsPage"),
    "history": ("History", "app.history_page", "HistoryPage"),
}
"""Key of each page, its title, and where it is; a page is made when it is first shown."""

TITLES = {key: title for key, (title, _, _) in _PAGES.items()}
"""Title of each page by its key, in the order of their buttons."""


def make_page(key: str, session: Session) -> Page:
    """Make a page; KeyError where there is none of this key."""
    _, module, name = _PAGES[key]
    made = getattr(importlib.import_module(module), name)(session)
    assert isinstance(made, Page)
    return made
