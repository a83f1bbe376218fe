"""The main window: one line file at a time, its pages, its menus."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app import failures
from app.background import stop_all
from app.menus import Menus
from app.notice import Notice
from app.page import Page
from app.page_switch import PageSwitch
from app.pages import TITLES, make_page
from app.samples import private_copy
from app.session import Session
from app.settings import Settings
from app.settling import settle_focused
from app.stations_page import StationsPage
from app.status_line import StatusLine
from app.theme import apply_look
from app.trial import TrialStrip
from core.errors import LinebookError
from core.store import SUFFIX, Changes, LineFile, actions
from core.store.frozen import altered_words

if TYPE_CHECKING:  # these pages are imported when they are first shown
    from app.drive_types_page import DriveTypesPage
    from app.finding import Found
    from app.line_page import LinePage
    from app.sheets_page import SheetsPage
    from app.speeds_page import SpeedsPage
    from app.start_page import StartPage
    from app.visits_page import VisitsPage
    from core.line.findings import Finding

_LARGEST_AT_FIRST = QSize(1440, 900)
_FILES = f"Linebook line (*{SUFFIX})"


class MainWindow(QMainWindow):
    """Holds the session and everything that shows it.

    With ``path`` it begins with that file; a refusal is told, and the start page stands there.
    """

    def __init__(self, settings: Settings | None = None, path: Path | None = None) -> None:
        super().__init__()
        self.settings = settings or Settings()
        self.session = Session(self)
        self.notice = Notice()
        self.trial = TrialStrip()
        self.pages = QStackedWidget()
        self._made: dict[str, Page] = {}
        self._shown_path: Path | None = None
        self.switch = PageSwitch(TITLES)
        self.status = StatusLine()
        self.setStatusBar(self.status)
        self.menus = Menus(self, self.settings)
        self._build_central()
        self._connect()
        self.resize(self.screen().availableSize().boundedTo(_LARGEST_AT_FIRST))
        if self.settings.geometry:
            self.restoreGeometry(self.settings.geometry)
        if path is not None:
            self.open_path(path)
        if not self.session.is_open:
            self._show_file()

    def _build_central(self) -> None:
        central = QWidget()
        column = QVBoxLayout(central)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.trial)
        column.addWidget(self.switch)
        column.addWidget(self.notice)
        column.addWidget(self.pages, 1)
        self.setCentralWidget(central)

    def _connect(self) -> None:
        self.session.opened.connect(self._on_opened)
        self.session.changed.connect(self._on_changed)
        self.session.refused.connect(self.notice.tell_refused)
        self.switch.chosen.connect(self.show_page)
        self.trial.take_over_asked.connect(self.take_over_trial)
        self.trial.discard_asked.connect(self.discard_trial)
        self.trial.keep_asked.connect(self.ask_keep_trial)

    # --- pages ------------------------------------------------------------------------------

    @cached_property
    def start_page(self) -> StartPage:
        """What stands there while no file is open; made when it is first needed."""
        from app.start_page import StartPage

        page = StartPage(self.settings)
        page.new_asked.connect(self.ask_new)
        page.open_asked.connect(self.ask_open)
        page.recent_asked.connect(self.open_path)
        page.sample_asked.connect(self.open_sample)
        self.pages.addWidget(page)
        return page

    @property
    def stations(self) -> StationsPage:
        """The page of the stations, with all there is of it."""
        page = self._stations
        page.complete()
        return page

    @property
    def _stations(self) -> StationsPage:
        page = self.page("stations")
        assert isinstance(page, StationsPage)
        return page

    def page(self, key: str) -> Page:
        """A page by its key, made if it was never shown."""
        if key not in self._made:
            made = self._made[key] = make_page(key, self.session)
            self.pages.addWidget(made)
            if isinstance(made, StationsPage):
                made.elsewhere.connect(self.show_found)
            if key == "speeds":
                self._connect_speeds(cast("SpeedsPage", made))
            if key == "visits":
                self._connect_visits(cast("VisitsPage", made))
        return self._made[key]

    def _connect_speeds(self, page: SpeedsPage) -> None:
        page.station_asked.connect(self.show_station)
        page.finding_asked.connect(self.show_finding)
        page.list_asked.connect(self.show_list)
        page.trial_asked.connect(self.begin_trial)

    def _connect_visits(self, page: VisitsPage) -> None:
        page.station_asked.connect(self.show_station)
        page.sheets_asked.connect(self.show_book)

    def show_book(self) -> None:
        """Show the handover book of what is shown, as of a frozen record."""
        self.show_page("sheets")
        cast("SheetsPage", self.page("sheets")).choice.choose("handover_book")

    def show_page(self, key: str) -> None:
        """Bring a page to the front."""
        settle_focused()
        page = self.page(key)
        self.pages.setCurrentWidget(page)
        self.switch.show_chosen(key)
        page.catch_up()
        page.focus_start()

    def show_station(self, station_id: int) -> None:
        """Go to the page of one station."""
        self.show_page("stations")
        self.stations.choose(station_id)

    def show_finding(self, finding: Finding) -> None:
        """Go to the field of a finding."""
        self.show_page("stations")
        self.stations.show_finding(finding)

    def show_list(self, table: str) -> None:
        """Go to one of the lists that the line holds."""
        self.show_page("line")
        cast("LinePage", self.page("line")).focus_field(table, "")

    def show_found(self, place: Found) -> None:
        """Go to something found that is not part of a station."""
        table, top_id = place.top
        if table == "drive_type":
            self.show_page("drive_types")
            cast("DriveTypesPage", self.page("drive_types")).choose(top_id)
        else:
            self.show_page("line")
            cast("LinePage", self.page("line")).focus_field(place.table, place.field)

    def look_for(self) -> None:
        """Find anything in the file."""
        if self.session.is_open:
            self.show_page("stations")
            self.stations.look_for()

    def choose_drive_type(self) -> None:
        """Rank the drive types of the file for the chosen station."""
        if self.session.is_open:
            self.show_page("stations")
            self.stations.ask_drive_choice()

    def add_station(self) -> None:
        """Add a station behind the chosen one."""
        if self.session.is_open:
            self.show_page("stations")
            self.stations.add_station()

    # --- files ------------------------------------------------------------------------------

    def ask_new(self) -> None:
        """Ask where to, and begin a new line there."""
        path = self._ask_target("Begin a new line", Path.home() / f"new line{SUFFIX}")
        if path is not None:
            self.new_line(path)

    def new_line(self, path: Path) -> None:
        """Make a new line file and open it."""
        us = self.settings.unit_system == "us"
        self._try(
            lambda: self.session.take(
                LineFile.create(
                    path,
                    name=path.stem,
                    unit_system=self.settings.unit_system,
                    wiring_rules="nec" if us else "iec",
                    paper="letter" if us else "a4",
                )
            )
        )

    def ask_open(self) -> None:
        """Ask which file, and open it."""
        settle_focused()
        folder = self.session.book.path.parent if self.session.is_open else Path.home()
        chosen, _ = QFileDialog.getOpenFileName(self, "Open a line", str(folder), _FILES)
        if chosen:
            self.open_path(Path(chosen))

    def open_path(self, path: Path) -> None:
        """Open a file instead of the present one; a refusal is told and changes nothing."""
        settle_focused()
        if self.session.is_open and path.resolve() == self.session.book.path.resolve():
            return
        self._try(lambda: self.session.open(path))

    def open_sample(self, name: str) -> None:
        """Open a private copy of a sample."""
        settle_focused()
        self._try(lambda: self.session.open(private_copy(name)))
        self.notice.tell("This is a private copy of the sample. File, Save a copy keeps it.")

    def ask_save_copy(self) -> None:
        """Ask where to, and write a copy of the file there."""
        settle_focused()
        here = self.session.book.path
        path = self._ask_target("Save a copy", here.with_name(f"{here.stem} copy{SUFFIX}"))
        if path is not None and self._try(lambda: self.session.book.save_copy(path)):
            self.notice.tell(f"A copy was written to {path}.")

    def begin_trial(self) -> None:
        """Go on with a private copy of the file."""
        settle_focused()
        self.session.begin_trial()

    def discard_trial(self) -> None:
        """Lose the trial; nothing typed there reaches the file."""
        self.session.end_trial()

    def take_over_trial(self) -> None:
        """Make every change of the trial in the file too."""
        settle_focused()
        if self.session.take_over_trial():
            self.notice.tell("The trial was taken over into the file; undo takes all of it back.")

    def ask_keep_trial(self) -> None:
        """Ask where to, keep the trial there as a file of its own, and go back to the file."""
        settle_focused()
        held = self.session.file_path
        path = self._ask_target("Keep the trial", held.with_name(f"{held.stem} trial{SUFFIX}"))
        if path is not None and self.session.end_trial(keep=path):
            self.notice.tell(f"The trial was kept as {path}.")

    def close_file(self) -> None:
        """Close the file; the start page comes back."""
        settle_focused()
        self.session.close()

    def import_spreadsheet(self) -> None:
        """Bring a spreadsheet in."""
        from app.import_dialog import import_spreadsheet

        settle_focused()
        import_spreadsheet(self.session, self)

    def write_template(self) -> None:
        """Write the empty spreadsheet to fill in."""
        from app.import_dialog import write_template_as

        write_template_as(self.session, self, self._tell_written)

    def export_spreadsheet(self) -> None:
        """Write the line as a spreadsheet."""
        from app.import_dialog import export_as

        settle_focused()
        export_as(self.session, self, self._tell_written)

    def _tell_written(self, path: Path) -> None:
        self.notice.tell(f"Written to {path}.")

    def _ask_target(self, title: str, proposed: Path) -> Path | None:
        chosen, _ = QFileDialog.getSaveFileName(
            self,
            title,
            str(proposed),
            _FILES,
            options=QFileDialog.Option.DontConfirmOverwrite,  # a file that is there is refused
        )
        if not chosen:
            return None
        path = Path(chosen)
        return path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX)

    def _try(self, act: Callable[[], object]) -> bool:
        try:
            act()
        except LinebookError as error:
            self.notice.tell_refused(error)
            return False
        return True

    # --- choices ----------------------------------------------------------------------------

    def choose_units(self, system: str) -> None:
        """Show and read values in another unit system; what is stored stays the same."""
        settle_focused()
        self.settings.unit_system = "us" if system == "us" else "metric"
        if self.session.is_open:
            self.session.do(actions.set_fields, "line", self.session.line.id, unit_system=system)

    def choose_look(self, name: str) -> None:
        """Give the window another look."""
        self.settings.look = name
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        apply_look(application, name)
        for page in self._made.values():
            page.update()

    def undo(self) -> None:
        """Take back the newest step."""
        settle_focused()
        self.session.undo()

    def redo(self) -> None:
        """Do the newest undone step again."""
        self.session.redo()

    # --- what happened ----------------------------------------------------------------------

    def _on_opened(self) -> None:
        self.notice.clear()
        self._show_file()
        if self.session.is_open:
            self._try(self._tell_altered)

    def _tell_altered(self) -> None:
        """Say at once that a record of the file is not what was frozen."""
        words = altered_words(self.session.file_book.frozen())
        if words:
            self.notice.tell(f"✗ {words}")

    def _show_trial(self) -> None:
        """Say what stands aside; when its bar goes, the keys are again where they came from."""
        page, keys_at = self.pages.currentWidget(), self.focusWidget()
        had_keys = keys_at is not None and self.trial.isAncestorOf(keys_at)
        came_from = page.focusWidget() if page is not None else None
        self.trial.show_state(self.session.is_trial, self.session.record_name)
        if had_keys and self.trial.isHidden() and came_from is not None:
            came_from.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_file(self) -> None:
        is_open = self.session.is_open
        self.switch.setVisible(is_open)
        self._show_trial()
        if is_open:
            path = self.session.file_path
            if path != self._shown_path:
                self.settings.add_recent(path)
                self.show_page("stations")
                self._stations.begin()
            self.status.show_file(path)
        else:
            self.start_page.show_recent()
            self.pages.setCurrentWidget(self.start_page)
            self.start_page.new_button.setFocus()
            self.status.show_file(None)
        self._shown_path = self.session.file_path if is_open else None
        self._show_title()
        self.menus.show_session(self.session)

    def _on_changed(self, changes: Changes) -> None:
        self.notice.clear()
        self.status.show_step(changes.step)
        self._show_title()
        self.menus.show_session(self.session)

    def _show_title(self) -> None:
        if not self.session.is_open:
            self.setWindowTitle("Linebook")
            return
        name = self.session.line.name or self.session.book.path.stem
        aside = self.session.record_name or "trial"
        trial = f" ({aside})" if self.session.is_trial else ""
        self.setWindowTitle(f"{name}{trial} – Linebook")

    def closeEvent(self, event: QCloseEvent) -> None:
        """Store what is typed, remember the window's size, free the file."""
        settle_focused()
        self.settings.geometry = self.saveGeometry()
        self.session.close()
        super().closeEvent(event)


def run_window(path: Path | None) -> int:
    """Show the window until it is closed.

    Parameters
    ----------
    path : Path or None
        The file to open; a refusal is told in the window.

    Returns
    -------
    int
        Exit code of the program.
    """
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationName("Linebook")
    settings = Settings()
    apply_look(application, settings.look)
    window = MainWindow(settings, path)
    failures.install(window.session.refused.emit)
    window.show()
    ended = application.exec()
    stop_all()
    return ended
