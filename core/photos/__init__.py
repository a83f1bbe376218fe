"""Photographs on their way into a line file and onto paper: read safely, made small, made plain.

The imaging library is loaded when a photograph is first taken, not when the program starts.
"""

from core.photos.fitting import BOOK_LIMIT_BYTES, PRINTED_LEAST_BYTES, printed, share_of
from core.photos.taking import (
    FILE_LIMIT_BYTES,
    LONG_SIDE_PX,
    PHOTO_LIMIT_BYTES,
    PIXEL_LIMIT,
    TakenPhoto,
    take_bytes,
    take_file,
)

__all__ = [
    "BOOK_LIMIT_BYTES",
    "FILE_LIMIT_BYTES",
    "LONG_SIDE_PX",
    "PHOTO_LIMIT_BYTES",
    "PIXEL_LIMIT",
    "PRINTED_LEAST_BYTES",
    "TakenPhoto",
    "printed",
    "share_of",
    "take_bytes",
    "take_file",
]
