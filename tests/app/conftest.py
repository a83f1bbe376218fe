"""Settings of the window's tests: nothing of the user's own is read or written."""

import pytest
from PySide6.QtCore import QSettings


@pytest.fixture(autouse=True)
def own_settings(tmp_path):
    """Settings of one test alone."""
    kind, scope = QSettings.Format.IniFormat, QSettings.Scope.UserScope
    QSettings.setPath(kind, scope, str(tmp_path / "settings"))
