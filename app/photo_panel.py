"""The photographs of a station: added, told, looked at and removed."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.background import Job, Progress, run_in_background
from app.fault_list import FaultList
from app.flow_layout import FlowLayout
from app.form import RecordForm
from app.inputs import Offers
from app.photo_list import PhotoList, PhotoModel
from app.photo_pixels import png_of
from app.photo_viewer import PhotoViewer
from app.session import Session
from core.errors import LinebookError
from core.model import Photo, Station
from core.photos import TakenPhoto, take_bytes, take_file
from core.store import LineFile, actions
from core.store.photo_actions import add_photos

_FIELDS = ("shows", "caption", "taken_at", "person")
_FILES = "Pictures (*.jpg *.jpeg *.png *.webp *.bmp);;All files (*)"
_HINT = (
    "Add, drop or paste JPEG or PNG pictures. Each is kept small, and without the place where it "
    "was taken."
)

Taken = tuple[list[TakenPhoto], list[LinebookError]]
"""What became photographs, and what was refused."""


class PhotoPanel(QWidget):
    """Shows the photographs of one station, and below them what is told of the chosen one.

    Signals:
        asked: Photographs were added, and the first of them asks what it shows.
    """

    asked = Signal()

    def __init__(
        self,
        session: Session,
        offers: Mapping[str, Offers] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.session = session
        self._station: Station | None = None
        self._book: LineFile | None = None
        self._job: Job | None = None
        self._viewer: PhotoViewer | None = None
        self.model = PhotoModel(self._read, self)
        self.list = PhotoList(self.model)
        self.form = RecordForm(session, "photo", _FIELDS, offers=dict(offers or {}))
        self.faults = FaultList()
        self.state = QLabel()
        self._build()
        self.setAcceptDrops(True)
        self.list.activated.connect(lambda _index: self.look())
        self.list.clicked.connect(lambda _index: self._show_chosen())
        self.list.selectionModel().currentChanged.connect(lambda *_moved: self._show_chosen())

    def _build(self) -> None:
        hint = QLabel(_HINT)
        for label in (hint, self.state):
            label.setWordWrap(True)
            label.setObjectName("quiet")
        self._bar = FlowLayout()
        self.add_button = self._button("Add photographs…", "", self.ask_files)
        self.paste_button = self._button("Paste", "Ctrl+V", self.paste)
        self.look_button = self._button("Look closer", "", self.look)
        self.look_button.setToolTip("Enter")
        self.back_button = self._button("◂ Earlier", "Alt+Left", lambda: self.move_by(-1))
        self.on_button = self._button("Later ▸", "Alt+Right", lambda: self.move_by(1))
        self.remove_button = self._button("Remove", "Ctrl+Del", self.remove)
        self.stop_button = self._button("Stop", "", self.stop)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._bar)
        layout.addWidget(hint)
        layout.addWidget(self.state)
        layout.addWidget(self.faults)
        layout.addWidget(self.list)
        layout.addWidget(self.form)
        self._show_state()

    def _button(self, text: str, keys: str, slot: Callable[[], object]) -> QToolButton:
        button = QToolButton(self)
        button.setText(text)
        button.clicked.connect(lambda _checked=False: slot())
        self._bar.addWidget(button)
        if keys:
            button.setToolTip(keys)
            # In a field the same keys edit a text; it takes Ctrl+V for itself, but not the others.
            everywhere = keys == "Ctrl+V"
            action = (self if everywhere else self.list).addAction(text, QKeySequence(keys), slot)
            action.setShortcutContext(
                Qt.ShortcutContext.WidgetWithChildrenShortcut
                if everywhere
                else Qt.ShortcutContext.WidgetShortcut
            )
        return button

    # --- showing ----------------------------------------------------------------------------

    @property
    def photo(self) -> Photo | None:
        """The photograph one is at, if there is any."""
        row = self.list.row
        return self.model.photos[row] if 0 <= row < len(self.model.photos) else None

    def show_station(self, station: Station) -> None:
        """Show the photographs of a station; one stays at the same one, if it is still there."""
        if self._book is not self.session.book:
            self._book = self.session.book
            self.model.forget()
        if self._station is None or self._station.id != station.id:
            self.faults.clear()
            self.state.clear()
        at, row = self.photo, self.list.row
        self._station = station
        self.model.show_photos(station.photos)
        ids = [entry.id for entry in station.photos]
        if at is not None and at.id in ids:
            self.list.go_to(ids.index(at.id))
        elif ids:
            self.list.go_to(min(max(row, 0), len(ids) - 1))
        self._show_chosen()

    def settle(self) -> None:
        """Store what is typed and not yet stored."""
        self.form.settle()

    def reveal(self, photo_id: int, field: str) -> bool:
        """Be at a photograph, and in a field of it where it has that; False if it is not there."""
        ids = [entry.id for entry in self.model.photos]
        if photo_id not in ids:
            return False
        self.list.go_to(ids.index(photo_id))
        if not self.form.focus_field(field):
            self.list.setFocus()
        return True

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        buttons = (
            self.add_button,
            self.paste_button,
            self.look_button,
            self.back_button,
            self.on_button,
            self.remove_button,
            self.stop_button,
        )
        shown: list[QWidget] = [button for button in buttons if not button.isHidden()]
        if self.model.photos:
            shown += [self.list, *self.form.focus_order()]
        return shown

    def _show_chosen(self) -> None:
        photo = self.photo
        self.list.setVisible(bool(self.model.photos))
        self.form.setVisible(photo is not None)
        if photo is not None and self.session.is_open:
            self.form.show_record(photo)
        self._show_state()

    def _show_state(self) -> None:
        row, count, busy = self.list.row, len(self.model.photos), self._job is not None
        for button in (self.look_button, self.remove_button, self.back_button, self.on_button):
            button.setVisible(count > 0)
        self.back_button.setEnabled(row > 0)
        self.on_button.setEnabled(0 <= row < count - 1)
        self.state.setVisible(bool(self.state.text()))
        self.stop_button.setVisible(busy)
        for button in (self.add_button, self.paste_button):
            button.setEnabled(not busy)

    def _read(self, digest: str) -> bytes:
        return self.session.book.photo(digest)

    # --- adding -----------------------------------------------------------------------------

    def ask_files(self) -> None:
        """Ask for picture files and add them."""
        chosen, _ = QFileDialog.getOpenFileNames(self, "Add photographs", "", _FILES)
        if chosen:
            self.add_files([Path(name) for name in chosen])

    def paste(self) -> None:
        """Add the picture, or the files, that the clipboard holds."""
        if not self._take(QApplication.clipboard().mimeData()):
            self.faults.tell("Nothing was added.", ["The clipboard holds no picture and no file."])

    def add_files(self, paths: Sequence[Path]) -> None:
        """Add pictures from files, off the window's thread."""

        def read(progress: Progress) -> Taken:
            taken: list[TakenPhoto] = []
            refused: list[LinebookError] = []
            for number, path in enumerate(paths):
                if not progress(number, len(paths)):
                    break
                try:
                    taken.append(take_file(path))
                except LinebookError as error:
                    refused.append(error)
            return taken, refused

        self._start(read)

    def add_picture(self, picture: QImage) -> None:
        """Add a picture that is no file."""
        content = png_of(picture)
        self._start(lambda _progress: ([take_bytes(content, "The pasted picture")], []))

    def stop(self) -> None:
        """Add nothing of what is being read."""
        if self._job is not None:
            self._job.cancel()
            self._job = None
            self.state.setText("Stopped; nothing was added.")
            self._show_state()

    def _take(self, held: QMimeData) -> bool:
        paths = [Path(url.toLocalFile()) for url in held.urls() if url.isLocalFile()]
        if paths:
            self.add_files(paths)
            return True
        picture = held.imageData() if held.hasImage() else None
        if isinstance(picture, QImage) and not picture.isNull():
            self.add_picture(picture)
            return True
        return False

    def _start(self, work: Callable[[Progress], Taken]) -> None:
        if self._station is None or self._job is not None:
            return
        self.faults.clear()
        station_id, book = self._station.id, self.session.book
        self.state.setText("Reading …")
        self._job = run_in_background(
            self,
            work,
            on_success=lambda made: self._on_read(book, station_id, *made),
            on_failure=lambda error: self._on_read(book, station_id, [], [error]),
            on_progress=lambda done, of: self.state.setText(f"Reading {done + 1} of {of} …"),
        )
        self._show_state()

    def _on_read(
        self,
        book: LineFile,
        station_id: int,
        taken: Sequence[TakenPhoto],
        refused: Sequence[LinebookError],
    ) -> None:
        self._job = None
        self.state.clear()
        errors = list(refused)
        if not self.session.is_open or self.session.book is not book:
            self.state.setText("Another file was opened meanwhile; nothing was added.")
        elif taken:
            errors += self._store(station_id, taken)
        if errors:
            count = "one picture." if len(errors) == 1 else f"{len(errors)} pictures."
            self.faults.tell(count, [f"{each.what} {each.why} {each.fix}" for each in errors])
        self._show_state()

    def _store(self, station_id: int, taken: Sequence[TakenPhoto]) -> list[LinebookError]:
        """Add what was read, and go to the first of it."""
        before = self.photo
        person = before.person if before is not None else ""
        try:
            made = add_photos(self.session.book, station_id, taken, person=person)
        except LinebookError as error:
            return [error]
        count = "1 photograph" if len(made) == 1 else f"{len(made)} photographs"
        self.state.setText(f"Added {count}. Say what each shows.")
        self.reveal(made[0], "shows")
        self.asked.emit()
        return []

    # --- the chosen one ---------------------------------------------------------------------

    def look(self) -> None:
        """Look at the photograph more closely, in a window of its own."""
        if self.photo is None:
            return
        viewer = PhotoViewer(self.model.photos, self.list.row, self._read, self)
        viewer.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        viewer.looked_at.connect(self.list.go_to)
        self._viewer = viewer
        viewer.open()

    def remove(self) -> None:
        """Remove the photograph one is at; undo brings it back."""
        if self.photo is not None:
            self.session.do(actions.remove_record, "photo", self.photo.id)

    def move_by(self, by: int) -> None:
        """Put the photograph one is at before the one before it (-1), or after the next (1)."""
        place = self.list.row + by
        if self.photo is not None and 0 <= place < len(self.model.photos):
            self.session.do(actions.move_record, "photo", self.photo.id, place)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files and pictures."""
        held = event.mimeData()
        if held.hasImage() or any(url.isLocalFile() for url in held.urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Add what was dropped."""
        if self._take(event.mimeData()):
            event.acceptProposedAction()
