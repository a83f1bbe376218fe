"""What Qt needs of the system before it starts, told in one line instead of its abort.

Qt ends the process when there is no screen or a library is missing; nothing can be caught then,
so this looks beforehand. It needs nothing but Python itself: the set-up calls it too.
"""

import ctypes
import os
import sys

from core.errors import LinebookError

# Library and the Debian package that brings it (tried in an empty Debian 12).
_ALWAYS = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libdbus-1.so.3": "libdbus-1-3",
}
_FOR_X11 = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}


def has_display() -> bool:
    """Whether there is a screen, or Qt was told to do without one."""
    if not sys.platform.startswith("linux"):
        return True
    wanted = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    return any(os.environ.get(name) for name in wanted)


def missing_packages(*, screen: bool) -> list[str]:
    """The Debian packages of the system libraries that Qt lacks here.

    Parameters
    ----------
    screen : bool
        Whether a real window is to be shown, which needs more.
    """
    if not sys.platform.startswith("linux"):
        return []
    needed = {**_ALWAYS, **_FOR_X11} if screen else _ALWAYS
    return [package for library, package in needed.items() if not _loads(library)]


def missing_display() -> str | None:
    """Why no window can be shown, as a sentence; None when one can."""
    if not has_display():
        return "There is no screen: neither DISPLAY nor WAYLAND_DISPLAY is set."
    packages = missing_packages(screen=_is_x11())
    if packages:
        return (
            "Qt needs system libraries that are not there. Install them with: "
            f"sudo apt-get install {' '.join(packages)}"
        )
    return None


def check_display() -> None:
    """Refuse to go on where no window can be shown.

    Raises
    ------
    LinebookError
        There is no screen, or system libraries are missing.
    """
    reason = missing_display()
    if reason is not None:
        fix = "" if has_display() else "Run it on a desktop, or use its verbs: linebook --help"
        raise LinebookError("The window was not opened.", reason, fix)


def _is_x11() -> bool:
    platform = os.environ.get("QT_QPA_PLATFORM", "")
    return platform.startswith("xcb") or (not platform and bool(os.environ.get("DISPLAY")))


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
