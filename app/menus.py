"""The menus of the window, made from tables of what they offer."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from app.about import tell_about
from app.samples import SAMPLES
from app.session import Session
from app.settings import Settings
from app.theme import LOOKS
from core.model.choices import UNIT_SYSTEMS

if TYPE_CHECKING:
    from app.window import MainWindow

_UNDO_KEYS = ("Ctrl+Z",)
_REDO_KEYS = ("Ctrl+Y", "Ctrl+Shift+Z")


class Menus:
    """Builds the menus of a window, and keeps them in step with its session."""

    def __init__(self, window: MainWindow, settings: Settings) -> None:
        self._window, self._settings = window, settings
        self._needs_file: list[QAction] = []
        self._needs_trial: list[QAction] = []
        self._build_file()
        self._build_edit()
        self._build_view()
        self._add(
            window.menuBar().addMenu("&Help"), "&About Linebook", (), partial(tell_about, window)
        )

    def _build_file(self) -> None:
        window = self._window
        menu = window.menuBar().addMenu("&File")
        self._add(menu, "&New line…", ("Ctrl+N",), window.ask_new)
        self._add(menu, "&Open…", ("Ctrl+O",), window.ask_open)
        self.recent = menu.addMenu("Open &recent")
        self.recent.aboutToShow.connect(self._fill_recent)
        samples = menu.addMenu("Open a &sample")
        for name, what in SAMPLES.items():
            text = f"{name.replace('_', ' ').title()} ({what})"
            self._add(samples, text, (), partial(window.open_sample, name))
        menu.addSeparator()
        self._add_for_file(menu, "Save a &copy…", ("Ctrl+Shift+S",), window.ask_save_copy)
        self._add_for_file(menu, "&Import a spreadsheet…", ("Ctrl+I",), window.import_spreadsheet)
        self._add_for_file(menu, "Write &template…", (), window.write_template)
        self._add_for_file(
            menu, "Write the line as a spreads&heet…", ("Ctrl+E",), window.export_spreadsheet
        )
        menu.addSeparator()
        self._add_for_file(menu, "C&lose the file", ("Ctrl+W",), window.close_file)
        self._add(menu, "&Quit", ("Ctrl+Q",), window.close)

    def _build_edit(self) -> None:
        window = self._window
        menu = window.menuBar().addMenu("&Edit")
        self.undo = self._add(menu, "&Undo", _UNDO_KEYS, window.undo)
        self.redo = self._add(menu, "&Redo", _REDO_KEYS, window.redo)
        menu.addSeparator()
        self._add_for_file(menu, "&Find…", ("Ctrl+F",), window.look_for)
        self._add_for_file(menu, "&Add station", ("Ctrl+Shift+N",), window.add_station)
        self._add_for_file(menu, "&Choose a drive type…", ("Ctrl+T",), window.choose_drive_type)

        menu.addSeparator()
        self.begin_trial = self._add(menu, "Try c&hanges on a copy", (), window.begin_trial)
        self.take_over = self._add(
            menu, "&Take the trial over into the file", (), window.take_over_trial
        )
        self._needs_trial = [
            self._add(menu, "&Keep the trial as a new file…", (), window.ask_keep_trial),
            self._add(menu, "&Discard the trial", (), window.discard_trial),
        ]

    def _build_view(self) -> None:
        window = self._window
        menu = window.menuBar().addMenu("&View")
        self.units = {
            name: self._choice(menu, label, partial(window.choose_units, name))
            for name, label in UNIT_SYSTEMS.items()
        }
        self._group(self.units, self._settings.unit_system)
        menu.addSeparator()
        self.looks = {
            name: self._choice(menu, label, partial(window.choose_look, name))
            for name, label in LOOKS.items()
        }
        self._group(self.looks, self._settings.look)

    def show_session(self, session: Session) -> None:
        """Say what undo and redo would do, and offer what can be done now."""
        for action in self._needs_file:
            action.setEnabled(session.is_open)
        self.begin_trial.setEnabled(session.is_open and not session.is_trial)
        self.take_over.setEnabled(session.can_take_over)
        for action in self._needs_trial:
            action.setEnabled(session.is_trial)
        undo = session.book.undo_name if session.is_open else None
        redo = session.book.redo_name if session.is_open else None
        self._show_step(self.undo, "&Undo", undo)
        self._show_step(self.redo, "&Redo", redo)
        system = session.line.unit_system if session.is_open else self._settings.unit_system
        self.units[system].setChecked(True)

    @staticmethod
    def _show_step(action: QAction, word: str, step: str | None) -> None:
        action.setEnabled(step is not None)
        action.setText(f"{word}: {step.replace('&', '&&')}" if step else word)

    def _add(
        self, menu: QMenu, text: str, keys: tuple[str, ...], slot: Callable[[], object]
    ) -> QAction:
        action = QAction(text, self._window)
        action.setShortcuts([QKeySequence(entry) for entry in keys])
        action.triggered.connect(lambda _checked=False: slot())
        menu.addAction(action)
        return action

    def _add_for_file(
        self, menu: QMenu, text: str, keys: tuple[str, ...], slot: Callable[[], object]
    ) -> None:
        self._needs_file.append(self._add(menu, text, keys, slot))

    def _choice(self, menu: QMenu, text: str, slot: Callable[[], object]) -> QAction:
        action = self._add(menu, text, (), slot)
        action.setCheckable(True)
        return action

    def _group(self, choices: dict[str, QAction], chosen: str) -> None:
        group = QActionGroup(self._window)
        for name, action in choices.items():
            group.addAction(action)
            action.setChecked(name == chosen)

    def _fill_recent(self) -> None:
        self.recent.clear()
        for path in self._settings.recent:
            self._add(self.recent, str(path), (), partial(self._window.open_path, path))
        if self.recent.isEmpty():
            self.recent.addAction("None yet").setEnabled(False)
