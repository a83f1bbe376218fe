"""What Linebook remembers of its user between two runs: files, look, units, window size."""

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from core.units import System

_MOST_RECENT = 8


class Settings:
    """The user's settings, in an INI file of this program alone."""

    def __init__(self) -> None:
        self._kept = QSettings(
            QSettings.Format.IniFormat, QSettings.Scope.UserScope, "Linebook", "linebook"
        )

    @property
    def folder(self) -> Path:
        """The folder of this program's own files of this user."""
        return Path(self._kept.fileName()).parent

    @property
    def recent(self) -> list[Path]:
        """Line files opened last, newest first, as far as they are still there."""
        kept = self._kept.value("recent")
        # A list of one comes back from the INI file as its only member.
        names = [kept] if isinstance(kept, str) else kept if isinstance(kept, list) else []
        return [path for path in map(Path, names) if path.exists()]

    def add_recent(self, path: Path) -> None:
        """Put a file at the head of the recent ones."""
        others = [entry for entry in self.recent if entry != path.resolve()]
        newest = [path.resolve(), *others][:_MOST_RECENT]
        self._kept.setValue("recent", [str(entry) for entry in newest])

    @property
    def look(self) -> str:
        """Name of the look; `app.theme.LOOKS` lists them."""
        return str(self._kept.value("look", "light"))

    @look.setter
    def look(self, name: str) -> None:
        self._kept.setValue("look", name)

    @property
    def unit_system(self) -> System:
        """Unit system of the next new line: the one used last."""
        return "us" if self._kept.value("unit_system", "metric") == "us" else "metric"

    @unit_system.setter
    def unit_system(self, system: System) -> None:
        self._kept.setValue("unit_system", system)

    @property
    def geometry(self) -> QByteArray:
        """Size and place of the window as it was closed; empty before the first time."""
        kept = self._kept.value("geometry")
        return kept if isinstance(kept, QByteArray) else QByteArray()

    @geometry.setter
    def geometry(self, geometry: QByteArray) -> None:
        self._kept.setValue("geometry", geometry)
