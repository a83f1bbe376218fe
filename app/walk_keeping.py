"""Half-done walks on the disk, beside the user's settings, so that neither a crash loses one."""

import hashlib
from pathlib import Path

from app.settings import Settings
from core.errors import LineFileError
from core.store.files import aside


class WalkKeeping:
    """Where the walk through one file against one record is kept."""

    def __init__(self, file: Path, mark: str) -> None:
        key = hashlib.sha256(f"{file.resolve()}\n{mark}".encode()).hexdigest()
        self.path = Settings().folder / "walks" / f"{file.stem[:40]}-{key[:16]}.json"

    def read(self) -> str | None:
        """The text that is kept; None where there is none."""
        try:
            return self.path.read_text(encoding="utf-8")
        except FileNotFoundError:
            return None
        except (OSError, ValueError) as error:
            raise LineFileError(
                "The walk begun earlier was not read.", f"{self.path}: {error}.", ""
            ) from None

    def write(self, text: str) -> None:
        """Keep a text in the place of the one before; it is whole on the disk, or not there."""
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with aside(self.path) as partial:
                partial.write_text(text, encoding="utf-8")
        except OSError as error:
            raise LineFileError(
                "The walk is not kept on the disk.",
                f"{self.path}: {error.strerror or error}.",
                "Go on, but freeze what was found before you close the window.",
            ) from None

    def set_aside(self) -> None:
        """Keep what cannot be taken up under another name, so that nothing overwrites it."""
        try:
            self.path.replace(self.path.with_suffix(".unread.json"))
        except OSError:
            return

    def forget(self) -> None:
        """Remove the text, when its walk is frozen or was given up."""
        try:
            self.path.unlink(missing_ok=True)
        except OSError:
            return
