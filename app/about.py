"""What the program is, which version it is, and what it does not take off its user."""

from PySide6.QtWidgets import QMessageBox, QWidget

_TOPICS = ("aid", "shock", "start", "stop", "water")


def about_text() -> str:
    """Name, version and the cautions."""
    from importlib.metadata import PackageNotFoundError, version

    from core.sheets.words import words_in

    try:
        number = version("linebook")
    except PackageNotFoundError:
        number = "not installed"
    say = words_in("en")
    cautions = (
        " ".join(say(f"{topic}_{part}") for part in ("hazard", "consequence", "avoidance"))
        for topic in _TOPICS
    )
    what = (
        "The workbook of the electrician who builds, starts up and services a fruit-handling line."
    )
    return "\n\n".join([f"Linebook {number}", what, *cautions])


def tell_about(parent: QWidget) -> None:
    """Show name, version and cautions in a box."""
    box = QMessageBox(parent)
    box.setWindowTitle("About Linebook")
    box.setText(about_text())
    box.setStandardButtons(QMessageBox.StandardButton.Close)
    box.open()
