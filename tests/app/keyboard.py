"""Types as a person does: keys go to whatever has the focus.

`QTest.keyClicks` ends the process at signs such as Ω or Ł, so each sign is sent as an event that
carries its text.
"""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier


def show_active(qtbot, window):
    """Show a window and wait until keys go to it."""
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()


def focused():
    """The widget that has the focus."""
    widget = QApplication.focusWidget()
    assert widget is not None, "nothing has the focus"
    return widget


def type_text(text):
    """Type a text, sign by sign."""
    for sign in text:
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            event = QKeyEvent(kind, 0, Qt.KeyboardModifier.NoModifier, sign)
            QApplication.sendEvent(focused(), event)


def press(key, modifiers=Qt.KeyboardModifier.NoModifier):
    """Press one key, with shortcuts taking effect as they do for a person."""
    QTest.keyClick(focused(), key, modifiers)


def replace_with(text):
    """Type over what stands in a field."""
    press(Qt.Key.Key_A, CTRL)
    type_text(text)


def tab(times=1):
    """Go on by Tab."""
    for _ in range(times):
        press(Qt.Key.Key_Tab)


def enter():
    """Press Enter."""
    press(Qt.Key.Key_Return)
