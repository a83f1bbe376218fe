"""The inks of drawings on white paper, for every painter."""

from collections.abc import Mapping
from types import MappingProxyType

from core.sheets.drawing import Ink

PAPER_INKS: Mapping[Ink, str] = MappingProxyType(
    {
        "ink": "#1a1a1a",
        "quiet": "#595959",
        "faint": "#d0d0d0",
        "paper": "#ffffff",
        "accent": "#0072b2",
        "blocker": "#8f2d00",
        "fault": "#8a5600",
        "advice": "#0072b2",
        "good": "#00694d",
        "series_1": "#0072b2",
        "series_2": "#b84a00",
        "series_3": "#00805e",
        "series_4": "#a1437f",
    }
)
"""Hues of Okabe and Ito (2008), told apart by colour-blind eyes; darkened for small print."""
