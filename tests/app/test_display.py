"""What is looked at before Qt starts."""

import ctypes
import sys

import pytest

from app import display
from core.errors import LinebookError

NAMES = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


@pytest.fixture
def bare(monkeypatch):
    """A Linux without any screen."""
    monkeypatch.setattr(sys, "platform", "linux")
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)
    return monkeypatch


def test_without_a_screen_one_sentence_says_so(bare):
    with pytest.raises(LinebookError) as told:
        display.check_display()
    assert "There is no screen: neither DISPLAY nor WAYLAND_DISPLAY is set." in str(told.value)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("name", NAMES)
def test_each_way_to_a_screen_counts(bare, name):
    bare.setenv(name, "offscreen" if name == "QT_QPA_PLATFORM" else ":0")
    assert display.has_display()


def test_a_missing_library_is_told_by_its_debian_package(bare):
    bare.setenv("DISPLAY", ":0")
    load = ctypes.CDLL

    def without_cursor(library, *args, **more):
        if "xcb-cursor" in library:
            raise OSError(library)
        return load(None) if library.startswith("lib") else load(library, *args, **more)

    bare.setattr(ctypes, "CDLL", without_cursor)
    assert display.missing_packages(screen=True) == ["libxcb-cursor0"]
    assert display.missing_packages(screen=False) == []
    reason = display.missing_display()
    assert reason is not None
    assert reason.endswith("sudo apt-get install libxcb-cursor0")


def test_other_systems_bring_their_own_screen(monkeypatch):
    monkeypatch.setattr(sys, "platform", "win32")
    assert display.has_display()
    assert display.missing_packages(screen=True) == []
