"""The photographs of a document as they are embedded: each once, all within the size of a book."""

import io
from collections.abc import Mapping

from core.errors import InputError
from core.photos import printed, share_of
from core.sheets.document import Document, Medium, Photographs


def photo_jpegs(document: Document, medium: Medium) -> Mapping[str, bytes]:
    """The JPEG of each photograph that a document shows, by its digest.

    One whose bytes were not put beside the document, or cannot be read, is left out.

    Notes
    -----
    `core.photos.fitting` states how large they may be: all of them together eight megabytes.
    """
    wanted = {
        item.sha256
        for section in document.sections_for(medium)
        for part in section.parts
        if isinstance(part, Photographs)
        for item in part.items
    }
    limit, made = share_of(len(wanted)), {}
    for digest in sorted(wanted & document.photos.keys()):
        try:
            made[digest] = printed(document.photos[digest], limit)
        except InputError:
            continue  # told in its place on the sheet
    return made


def size_of(content: bytes) -> tuple[int, int]:
    """Width and height of a JPEG in dots."""
    from PIL import Image

    with Image.open(io.BytesIO(content), formats=("JPEG",)) as opened:
        return opened.size
