"""Storing what is typed and not yet stored, before anything else happens to the file."""

from PySide6.QtWidgets import QApplication, QWidget


class Settling(QWidget):
    """A widget around an input that stores what is typed when it is asked to."""

    def commit(self) -> None:
        """Store what is typed, as leaving the input would."""
        raise NotImplementedError


def settle_focused() -> None:
    """Store what is typed in the field that has the focus, as leaving it would."""
    widget = QApplication.focusWidget()
    while widget is not None:
        if isinstance(widget, Settling):
            widget.commit()
            return
        widget = widget.parentWidget()
