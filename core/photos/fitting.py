"""Photographs for paper: small enough that a whole book can be mailed.

The rule: all photographs of one document share `BOOK_LIMIT_BYTES` evenly. None gets more than
`PRINTED_MOST_BYTES`, which is all that its size on paper can show, and none less than
`PRINTED_LEAST_BYTES`, below which a nameplate can no longer be read.
"""

import io
from typing import Any

from core.errors import InputError
from core.photos.encoding import encoded, fitted_within

BOOK_LIMIT_BYTES = 8_000_000
PRINTED_MOST_BYTES = 160_000
PRINTED_LEAST_BYTES = 30_000
PRINTED_LONG_PX = 1200
"""Dots along the long side on paper: 250 to the inch at the size that photographs have there."""


def share_of(count: int) -> int:
    """The most that each of so many photographs in one document may take [bytes].

    Examples
    --------
    >>> [share_of(count) for count in (1, 50, 100, 1000)]
    [160000, 160000, 80000, 30000]
    """
    return max(PRINTED_LEAST_BYTES, min(PRINTED_MOST_BYTES, BOOK_LIMIT_BYTES // max(1, count)))


def printed(content: bytes, limit_bytes: int) -> bytes:
    """A kept photograph in the size that goes on paper.

    Parameters
    ----------
    content : bytes
        JPEG as the line file keeps it, its digest verified.
    limit_bytes : int
        The most that it may take; from `share_of`.

    Returns
    -------
    bytes
        A JPEG; the very same where it is small enough.

    Raises
    ------
    InputError
        It is no JPEG that can be read.
    """
    try:
        picture, size = _opened(content)
    except Exception as error:
        # A decoder meets whatever another program put there.
        why = "It is no picture that can be read."
        raise InputError("The photograph was not printed.", why, "Photograph anew.") from error
    if len(content) <= limit_bytes and max(size) <= PRINTED_LONG_PX:
        return content
    return encoded(fitted_within(picture, PRINTED_LONG_PX), limit_bytes)[0]


def _opened(content: bytes) -> tuple[Any, tuple[int, int]]:
    from PIL import Image

    with Image.open(io.BytesIO(content), formats=("JPEG",)) as opened:
        return opened.convert("RGB"), opened.size
