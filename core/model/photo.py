"""A photograph of a station: what it shows. Its bytes stand apart in the file, by their digest."""

from core.model import choices
from core.model.fields import choice, record, text, whole


@record("photo", "Photograph")
class Photo:
    """One photograph of a station, as the line and its frozen records know it.

    ``sha256`` is the digest of its bytes. The file keeps these by the digest, apart from the line,
    so that a line is read without its pictures and a record proves its pictures without holding
    them.
    """

    id: int = 0
    shows: str = choice("Shows", choices.PHOTO_SUBJECTS, "other")
    caption: str = text("Caption", hint="What to look at")
    taken_at: str = text("Taken at", hint="Day and time, as the camera tells it")
    person: str = text("By")
    added_at: str = text("Added at")
    width_px: int | None = whole("Width in dots", minimum=1)
    height_px: int | None = whole("Height in dots", minimum=1)
    size_bytes: int | None = whole("Size in bytes", minimum=1)
    sha256: str = text("SHA-256 of its content")
