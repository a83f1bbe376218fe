"""A picture as JPEG of a bounded size; the only place where one is written."""

import io
from typing import Any

_QUALITIES = (85, 75, 65, 55, 45)
"""Tried in this order; below the last, letters on a nameplate begin to swim."""
_SMALLER = 0.8
_SMALLEST_PX = 64


def encoded(picture: Any, limit_bytes: int) -> tuple[bytes, int, int]:
    """A picture of plain colours as JPEG that keeps to a size.

    Parameters
    ----------
    picture : PIL.Image.Image
        In mode RGB, without anything beside its dots.
    limit_bytes : int
        The most that the JPEG may take.

    Returns
    -------
    tuple
        The JPEG, its width and its height in dots.

    Notes
    -----
    First the quality gives way, then the number of dots. A picture of 64 dots is written whatever
    it takes.
    """
    from PIL import Image

    while True:
        for quality in _QUALITIES:
            stream = io.BytesIO()
            picture.save(stream, format="JPEG", quality=quality, optimize=True)
            if stream.tell() <= limit_bytes:
                return stream.getvalue(), picture.width, picture.height
        if max(picture.size) <= _SMALLEST_PX:
            return stream.getvalue(), picture.width, picture.height
        smaller = tuple(max(1, round(side * _SMALLER)) for side in picture.size)
        picture = picture.resize(smaller, Image.Resampling.LANCZOS)


def fitted_within(picture: Any, long_px: int) -> Any:
    """The picture with its long side of so many dots at the most."""
    from PIL import Image

    longest = max(picture.size)
    if longest <= long_px:
        return picture
    smaller = tuple(max(1, round(side * long_px / longest)) for side in picture.size)
    return picture.resize(smaller, Image.Resampling.LANCZOS)
