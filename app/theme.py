"""How the window looks: three looks, one accent, the same shapes and words in each.

The colours of states are those of Okabe and Ito (2008), which stay apart for colour-blind eyes,
darkened or lightened until they stand out from their background.
"""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

LOOKS = {"light": "Light", "dark": "Dark", "contrast": "High contrast"}
"""The looks to choose from, by name."""


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of one look, each named for what it is used for."""

    window: str
    base: str
    text: str
    muted: str
    line: str
    accent: str
    on_accent: str
    computed: str
    computed_text: str
    wrong: str
    complete: str
    started: str
    border_px: int = 1


_COLOURS = {
    "light": Colours(
        window="#f3f4f6",
        base="#ffffff",
        text="#1b1f23",
        muted="#59626c",
        line="#b9c0c8",
        accent="#0072b2",
        on_accent="#ffffff",
        computed="#e6f0f7",
        computed_text="#0b3550",
        wrong="#a34400",
        complete="#007a5a",
        started="#a86a00",
    ),
    "dark": Colours(
        window="#1f2327",
        base="#15181b",
        text="#e9ebee",
        muted="#a4adb6",
        line="#4a525b",
        accent="#56b4e9",
        on_accent="#0a1116",
        computed="#1d303d",
        computed_text="#d3eafa",
        wrong="#ff9d66",
        complete="#3fcf9f",
        started="#f0b93a",
    ),
    "contrast": Colours(
        window="#ffffff",
        base="#ffffff",
        text="#000000",
        muted="#000000",
        line="#000000",
        accent="#004b76",
        on_accent="#ffffff",
        computed="#ffffff",
        computed_text="#000000",
        wrong="#8a0000",
        complete="#000000",
        started="#000000",
        border_px=2,
    ),
}
# Safety red and orange as ANSI Z535.1 pairs them with the signal words; approximations on a screen.
_SAFETY_RED, _SAFETY_ORANGE = "#c8102e", "#ff8200"
_present = _COLOURS["light"]


def colours() -> Colours:
    """The colours of the present look, for what is drawn by hand."""
    return _present


def apply_look(app: QApplication, name: str) -> None:
    """Give the whole program one of the looks; an unknown name gives the light one."""
    global _present
    _present = _COLOURS.get(name, _COLOURS["light"])
    app.setStyle("Fusion")
    app.setPalette(_palette(_present))
    app.setFont(_font(app))
    app.setStyleSheet(_sheet(_present))


def _font(app: QApplication) -> QFont:
    """The system's font, its digits all of one width so that numbers stand in columns."""
    font = QFont(app.font())
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


def _palette(look: Colours) -> QPalette:
    palette = QPalette()
    for role, colour in (
        (QPalette.ColorRole.Window, look.window),
        (QPalette.ColorRole.WindowText, look.text),
        (QPalette.ColorRole.Base, look.base),
        (QPalette.ColorRole.AlternateBase, look.window),
        (QPalette.ColorRole.Text, look.text),
        (QPalette.ColorRole.Button, look.window),
        (QPalette.ColorRole.ButtonText, look.text),
        (QPalette.ColorRole.ToolTipBase, look.base),
        (QPalette.ColorRole.ToolTipText, look.text),
        (QPalette.ColorRole.PlaceholderText, look.muted),
        (QPalette.ColorRole.Mid, look.line),
        (QPalette.ColorRole.Highlight, look.accent),
        (QPalette.ColorRole.HighlightedText, look.on_accent),
        (QPalette.ColorRole.Link, look.accent),
    ):
        palette.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.ButtonText, QPalette.ColorRole.Text):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(look.muted))
    return palette


def _arrow(look: Colours) -> str:
    ground = "dark" if QColor(look.base).lightness() < 128 else "light"
    return (Path(__file__).parent / f"arrow_on_{ground}.svg").as_posix()


def _sheet(look: Colours) -> str:
    px = look.border_px
    return f"""
QLineEdit, QComboBox, QPlainTextEdit {{
    background: {look.base}; color: {look.text}; placeholder-text-color: {look.muted};
    border: {px}px solid {look.line}; border-radius: 3px; padding: 2px 5px;
}}
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{
    border: {px + 1}px solid {look.accent}; padding: 1px 4px;
}}
QLineEdit[wrong="true"], QComboBox[wrong="true"], QPlainTextEdit[wrong="true"] {{
    border: {px + 1}px dashed {look.wrong}; padding: 1px 4px;
}}
QComboBox::drop-down {{ border: none; width: 18px; }}
QComboBox::down-arrow {{ image: url({_arrow(look)}); width: 10px; height: 6px; }}
QLabel#refusal {{ color: {look.wrong}; }}
QLabel#quiet {{ color: {look.muted}; }}
QLabel#fieldName {{ color: {look.muted}; }}
QLabel#sectionName {{ font-weight: bold; }}
QLabel#stationName {{ font-size: 15pt; font-weight: bold; }}
QLabel#danger, QLabel#warning {{ font-weight: bold; padding: 2px 8px; border-radius: 2px; }}
QLabel#danger {{ background: {_SAFETY_RED}; color: #ffffff; }}
QLabel#warning {{ background: {_SAFETY_ORANGE}; color: #000000; }}
QFrame#section, QFrame#caution {{
    background: {look.base}; border: {px}px solid {look.line}; border-radius: 4px;
}}
QFrame#working, QFrame#panel {{
    background: {look.base}; border: {px + 1}px solid {look.accent}; border-radius: 4px;
}}
QFrame#notice {{
    background: {look.base}; border: {px + 1}px dashed {look.wrong}; border-radius: 4px;
}}
QFrame#trial {{ background: {look.accent}; }}
QFrame#trial QLabel {{ color: {look.on_accent}; font-weight: bold; }}
QToolButton {{
    background: {look.base}; color: {look.text};
    border: {px}px solid {look.line}; border-radius: 3px; padding: 2px 8px;
}}
QToolButton:hover, QToolButton:focus {{ border-color: {look.accent}; }}
QToolButton:disabled {{ color: {look.muted}; }}
QWidget#strip QToolButton {{ background: transparent; border-color: transparent; }}
QWidget#strip QToolButton {{ padding: 3px 6px; }}
QWidget#strip QToolButton#fold {{ border-color: {look.line}; padding-right: 20px; }}
QWidget#strip QToolButton:hover {{ border-color: {look.line}; }}
QToolButton:checked {{ background: {look.accent}; color: {look.on_accent}; font-weight: bold; }}
QWidget#strip QToolButton:checked {{ background: {look.accent}; font-weight: normal; }}
QTabBar QToolButton {{ padding: 0; }}
QPushButton {{
    background: {look.base}; color: {look.text};
    border: {px}px solid {look.line}; border-radius: 3px; padding: 4px 12px;
}}
QPushButton:hover, QPushButton:focus {{ border-color: {look.accent}; }}
QPushButton:default {{ background: {look.accent}; color: {look.on_accent}; }}
QPushButton:disabled {{ color: {look.muted}; }}
QPushButton#link {{
    border: {px}px solid transparent; background: transparent; color: {look.accent};
    text-align: left; padding: 2px 4px; text-decoration: underline;
}}
QPushButton#link:focus {{ border-color: {look.accent}; }}
QToolTip {{ background: {look.base}; color: {look.text}; border: 1px solid {look.line}; }}
QScrollArea {{ border: none; }}
QTableView {{
    background: {look.base}; gridline-color: {look.line};
    border: {px}px solid {look.line};
}}
QListView {{ background: {look.base}; border: {px}px solid {look.line}; }}
QHeaderView::section {{
    background: {look.window}; color: {look.text};
    border: none; border-right: 1px solid {look.line}; border-bottom: {px}px solid {look.line};
    padding: 3px 5px;
}}
QHeaderView::section:checked {{ color: {look.accent}; font-weight: normal; }}
QMenuBar::item:selected, QMenu::item:selected {{
    background: {look.accent}; color: {look.on_accent};
}}
QSplitter::handle {{ background: transparent; }}
"""
