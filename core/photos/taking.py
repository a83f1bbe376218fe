"""From a file that somebody chose to a photograph that may stay: checked, turned, small, plain.

What a camera writes beside the picture is left out, above all the place where it stood: a handover
book goes to other hands. The dots are written anew, so nothing of the file itself is kept.
"""

import datetime
import hashlib
import io
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.errors import InputError, LinebookError
from core.photos.encoding import encoded, fitted_within

FILE_LIMIT_BYTES = 40_000_000
"""The largest file that is looked into."""
PIXEL_LIMIT = 80_000_000
"""The most dots that a picture may have: one with more could be made to fill the memory."""
LONG_SIDE_PX = 1600
"""The most dots along the long side of a photograph that is kept."""
PHOTO_LIMIT_BYTES = 400_000
"""The most that one photograph takes in the line file."""

_FORMATS = ("JPEG", "PNG", "WEBP", "BMP")
_MERGED = ("RGB", "RGBA", "L", "LA", "CMYK")
"""Ways to keep dots of which several can be made one."""
_KINDS = "JPEG, PNG, WebP and BMP"
_EXIF_DETAILS, _EXIF_TAKEN, _EXIF_CHANGED = 0x8769, 0x9003, 0x0132  # Exif 2.3, 4.6.3 to 4.6.5
_HEIF_BRANDS = (b"heic", b"heix", b"hevc", b"heif", b"mif1", b"msf1", b"avif")  # ISO 23008-12


@dataclass(frozen=True, slots=True)
class TakenPhoto:
    """A photograph as it is kept: a JPEG that holds nothing but its dots.

    ``taken_at`` is what the camera's clock said, empty where it told nothing.
    """

    content: bytes
    width_px: int
    height_px: int
    taken_at: str = ""
    name: str = ""

    @property
    def sha256(self) -> str:
        """Digest by which the file keeps it."""
        return hashlib.sha256(self.content).hexdigest()


def take_file(path: Path) -> TakenPhoto:
    """Read a photograph from a file.

    Parameters
    ----------
    path : Path
        A JPEG, PNG, WebP or BMP file.

    Raises
    ------
    LinebookError
        The file is missing or may not be read.
    InputError
        It is too large, no picture, cut short, or has too many dots.
    """
    what = _refused(path.name)
    try:
        with path.open("rb") as stream:
            content = stream.read(FILE_LIMIT_BYTES + 1)
    except FileNotFoundError:
        raise LinebookError(what, f"There is no file {path}.", "Check the name.") from None
    except IsADirectoryError:
        raise LinebookError(what, "It is a folder.", "Choose the files in it.") from None
    except OSError as error:
        why = f"The system says: {error.strerror or error}."
        raise LinebookError(what, why, "Check the file and your rights.") from error
    return take_bytes(content, path.name)


def take_bytes(content: bytes, name: str = "The picture") -> TakenPhoto:
    """Make a photograph that may stay of the bytes of a picture file.

    Parameters
    ----------
    content : bytes
        Of a JPEG, PNG, WebP or BMP file.
    name : str
        What it is called in an error.

    Raises
    ------
    InputError
        It is too large, no picture, cut short, or has too many dots.
    """
    from PIL import Image

    _check_bytes(content, name)
    with warnings.catch_warnings():
        # Pillow warns of many dots before it tells how many; here that is an answer, not a remark.
        # What else it warns of, as of damaged notes, leaves the picture good.
        warnings.simplefilter("ignore")
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        picture, taken_at = _decoded(content, name)
    made, width, height = encoded(fitted_within(picture, LONG_SIDE_PX), PHOTO_LIMIT_BYTES)
    return TakenPhoto(made, width, height, taken_at, name)


def _check_bytes(content: bytes, name: str) -> None:
    if not content:
        raise InputError(_refused(name), "It is empty.", "Choose another file.")
    if len(content) > FILE_LIMIT_BYTES:
        limit = FILE_LIMIT_BYTES // 1_000_000
        raise InputError(
            _refused(name), f"It is larger than {limit} MB.", "Let the camera write a smaller one."
        )
    if content[4:8] == b"ftyp" and content[8:12] in _HEIF_BRANDS:
        raise InputError(
            _refused(name),
            f"It is of a kind (HEIF) that Linebook does not read; it reads {_KINDS}.",
            "Set the telephone or camera to JPEG, or save the picture as JPEG first.",
        )


def _decoded(content: bytes, name: str) -> tuple[Any, str]:
    """The picture upright, with nothing beside its dots; and when it was taken."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(content), formats=_FORMATS) as opened:
            _check_pixels(opened.size, name)
            # A JPEG is decoded in an eighth to the whole of its dots; never in fewer than needed.
            opened.draft("RGB", (LONG_SIDE_PX, LONG_SIDE_PX))
            taken_at = _taken_at(opened)
            opened.load()
            return _plain(ImageOps.exif_transpose(_lighter(opened))), taken_at
    except InputError:
        raise
    except UnidentifiedImageError:
        raise InputError(
            _refused(name), f"It is no picture that Linebook reads: {_KINDS}.", "Choose another."
        ) from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_many_pixels(name) from None
    except Exception as error:
        # A decoder meets whatever a damaged file holds, and says so in many ways.
        raise InputError(
            _refused(name), "Its content is damaged or cut short.", "Copy it from the camera again."
        ) from error


def _lighter(picture: Any) -> Any:
    """The picture with every so many dots made one, before more copies of it are needed."""
    factor = max(picture.size) // (2 * LONG_SIDE_PX)
    return picture.reduce(factor) if factor > 1 and picture.mode in _MERGED else picture


def _check_pixels(size: tuple[int, int], name: str) -> None:
    if size[0] * size[1] > PIXEL_LIMIT:
        raise _too_many_pixels(name)


def _too_many_pixels(name: str) -> InputError:
    return InputError(
        _refused(name),
        f"It has more than {PIXEL_LIMIT // 1_000_000} million dots.",
        "Let the camera take fewer, or make the picture smaller first.",
    )


def _plain(picture: Any) -> Any:
    """Dots alone, on white where they were clear, and on a new sheet that takes no notes along."""
    from PIL import Image

    if picture.mode.startswith("I"):
        # Sixteen bits of grey; without this all but the darkest would come out white.
        picture = picture.convert("I").point(lambda grey: grey * (1 / 257)).convert("L")
    if picture.mode not in ("RGB", "L"):
        picture = picture.convert("RGBA" if picture.has_transparency_data else "RGB")
    sheet = Image.new("RGB", picture.size, "white")
    sheet.paste(picture, mask=picture.getchannel("A") if picture.mode == "RGBA" else None)
    return sheet


def _taken_at(picture: Any) -> str:
    """Day and minute that the camera's clock showed; empty where it tells none."""
    try:
        notes = picture.getexif()
        told = notes.get_ifd(_EXIF_DETAILS).get(_EXIF_TAKEN) or notes.get(_EXIF_CHANGED) or ""
        moment = datetime.datetime.strptime(str(told)[:19], "%Y:%m:%d %H:%M:%S")
    except Exception:
        # The notes of a camera may be damaged where its picture is not.
        return ""
    return moment.isoformat(sep=" ", timespec="minutes")


def _refused(name: str) -> str:
    return f"{name} was not added."
