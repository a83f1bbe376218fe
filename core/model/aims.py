"""The values of a wanted speed, each declared once: for a station, and for a recipe's exceptions.

Each belongs to one or a few of the bases of `choices.WANTED_BASES`, and has a meaning there only.
"""

from typing import Any

from core.model.fields import quantity


def surface() -> Any:
    """Declare the surface speed wanted."""
    return quantity("surface_speed", "Wanted surface speed", only={"wanted": "surface"})


def shaft() -> Any:
    """Declare the shaft speed wanted."""
    return quantity("rotation", "Wanted shaft speed", only={"wanted": "shaft"})


def frequency() -> Any:
    """Declare the frequency wanted."""
    return quantity("frequency", "Wanted frequency", only={"wanted": "frequency"})


def gap() -> Any:
    """Declare the gap wanted between fruit that follow one another."""
    return quantity("size", "Gap wanted", only={"wanted": "gap"})


def pitch() -> Any:
    """Declare the distance wanted from fruit to fruit, middle to middle."""
    return quantity("size", "Pitch wanted", above=True, only={"wanted": "pitch"})


def filled() -> Any:
    """Declare which share of the places in file carries a fruit."""
    return quantity(
        "ratio",
        "Places filled",
        above=True,
        maximum=1.0,
        only={"wanted": ("touching", "gap", "pitch")},
        hint="Share of places that carry a fruit; 100 % without an entry",
    )


def cover() -> Any:
    """Declare which share of a wide belt is to be covered by fruit."""
    return quantity("ratio", "Cover wanted", above=True, maximum=1.0, only={"wanted": "cover"})


def time() -> Any:
    """Declare how long fruit is to stay on the station."""
    return quantity("time", "Time wanted", above=True, only={"wanted": "time"})


def drift() -> Any:
    """Declare the drift wanted over brushes, as a share of the drift that the fruit fed needs."""
    return quantity(
        "ratio",
        "Drift wanted",
        above=True,
        maximum=10.0,
        only={"wanted": "drift"},
        hint="Share of the drift needed; 100 % carries just what is fed",
    )


def turns() -> Any:
    """Declare how often a fruit is to turn in view of the camera."""
    return quantity("factor", "Turns wanted", only={"wanted": "turns"})


def water() -> Any:
    """Declare the speed of the water wanted in the flume."""
    return quantity("surface_speed", "Water speed wanted", above=True, only={"wanted": "water"})
