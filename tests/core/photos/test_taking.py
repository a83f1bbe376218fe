"""Photographs on their way into a file: what is kept, what is left out, what is refused."""

import io
import struct
import zlib

import pytest
from PIL import Image

from core.errors import InputError, LinebookError
from core.photos import (
    FILE_LIMIT_BYTES,
    LONG_SIDE_PX,
    PHOTO_LIMIT_BYTES,
    take_bytes,
    take_file,
)
from tests.core.drawn_photos import as_file, halves, noise, plate

ORIENTATION, GPS, DETAILS, TAKEN = 0x0112, 0x8825, 0x8769, 0x9003


def opened(taken):
    return Image.open(io.BytesIO(taken.content))


def exif(**tags):
    notes = Image.Exif()
    for name, value in tags.items():
        notes[{"orientation": ORIENTATION, "camera": 0x010F}[name]] = value
    return notes


def is_red(dot):
    return dot[0] > 180 and dot[2] < 80


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "BMP"])
def test_each_kind_becomes_a_jpeg_of_its_dots(kind):
    taken = take_bytes(as_file(halves(), kind))
    picture = opened(taken)
    assert (picture.format, picture.size, picture.mode) == ("JPEG", (200, 100), "RGB")
    assert (taken.width_px, taken.height_px) == (200, 100)
    assert is_red(picture.getpixel((20, 50)))
    assert not is_red(picture.getpixel((180, 50)))


# Exif 2.3, 4.6.4 A: which side of the stored picture is the visual top, by the value of the tag.
@pytest.mark.parametrize(
    ("value", "size", "red_at"),
    [
        (1, (200, 100), (20, 50)),
        (2, (200, 100), (180, 50)),  # mirrored
        (3, (200, 100), (180, 50)),  # by 180°
        (6, (100, 200), (50, 20)),  # the left column is at the top
        (8, (100, 200), (50, 180)),  # the left column is at the bottom
    ],
)
def test_it_stands_upright_as_the_camera_was_held(value, size, red_at):
    picture = opened(take_bytes(as_file(halves(), exif=exif(orientation=value))))
    assert picture.size == size
    assert is_red(picture.getpixel(red_at))


def test_the_place_and_every_other_note_are_left_out():
    notes = exif(orientation=1, camera="Invented camera")
    notes.get_ifd(GPS).update({1: "N", 2: (47.0, 30.0, 0.0), 3: "E", 4: (9.0, 15.0, 0.0)})
    profile = b"\0" * 40 + b"acsp" + b"\0" * 84
    content = as_file(
        halves(), exif=notes, comment=b"typed remark", icc_profile=profile, dpi=(300, 300)
    )
    before = Image.open(io.BytesIO(content))
    assert before.getexif().get_ifd(GPS)[2] == (47.0, 30.0, 0.0)
    assert before.info["comment"] == b"typed remark"
    taken = take_bytes(content)
    after = opened(taken)
    assert dict(after.getexif()) == {}
    assert not {"exif", "comment", "icc_profile", "xmp", "dpi"} & set(after.info)
    assert b"Exif" not in taken.content
    assert b"Invented" not in taken.content
    assert b"remark" not in taken.content


def test_notes_of_a_png_are_left_out_too():
    from PIL.PngImagePlugin import PngInfo

    told = PngInfo()
    told.add_text("Location", "47.5 N 9.25 E")
    taken = take_bytes(as_file(halves(), "PNG", pnginfo=told))
    assert b"47.5" not in taken.content


def test_the_time_of_the_camera_is_kept():
    notes = exif(orientation=1)
    notes.get_ifd(DETAILS)[TAKEN] = "2026:11:24 07:05:59"
    assert take_bytes(as_file(halves(), exif=notes)).taken_at == "2026-11-24 07:05"
    assert take_bytes(as_file(halves())).taken_at == ""


@pytest.mark.parametrize("told", ["0000:00:00 00:00:00", "yesterday", "2026:13:45 99:00:00"])
def test_a_clock_that_tells_nonsense_is_not_believed(told):
    notes = exif(orientation=1)
    notes.get_ifd(DETAILS)[TAKEN] = told
    assert take_bytes(as_file(halves(), exif=notes)).taken_at == ""


def test_a_large_one_is_made_small_and_keeps_its_shape():
    taken = take_bytes(as_file(plate(size=(4000, 3000))))
    assert (taken.width_px, taken.height_px) == (1600, 1200)
    assert opened(taken).size == (1600, 1200)
    assert max(taken.width_px, taken.height_px) == LONG_SIDE_PX


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_very_large_one_stands_upright_too(kind):
    """6600 dots are made 3300 before they are turned; the left column is at the top (Exif)."""
    taken = take_bytes(as_file(halves((6600, 3300)), kind, exif=exif(orientation=6)))
    picture = opened(taken)
    assert picture.size == (800, 1600)
    assert is_red(picture.getpixel((400, 100)))
    assert not is_red(picture.getpixel((400, 1500)))


def test_what_no_encoder_makes_small_still_keeps_to_the_limit():
    taken = take_bytes(as_file(noise((1600, 1600)), "PNG"))
    assert len(taken.content) <= PHOTO_LIMIT_BYTES == 400_000
    assert opened(taken).size == (taken.width_px, taken.height_px)


def test_a_small_one_is_not_made_larger():
    assert opened(take_bytes(as_file(halves((30, 20))))).size == (30, 20)


def test_the_same_picture_gives_the_same_bytes():
    content = as_file(plate())
    assert take_bytes(content).sha256 == take_bytes(content, "other name").sha256


@pytest.mark.parametrize("mode", ["L", "P", "LA", "RGBA", "CMYK", "1", "I;16"])
def test_every_way_to_keep_dots_is_read(mode):
    picture = Image.new("L", (40, 30), 200) if mode == "I;16" else halves((40, 30))
    kind = "JPEG" if mode == "CMYK" else "PNG"
    taken = take_bytes(as_file(picture.convert(mode), kind))
    assert (opened(taken).mode, opened(taken).size) == ("RGB", (40, 30))


def test_what_is_clear_stands_on_white():
    clear = Image.new("RGBA", (40, 30), (255, 0, 0, 0))
    assert opened(take_bytes(as_file(clear, "PNG"))).getpixel((20, 15)) == (255, 255, 255)


def test_damaged_notes_leave_the_picture_good():
    # An Exif block whose directory lies behind its end.
    notes = b"Exif\0\0MM\0*\0\0\xff\xff"
    taken = take_bytes(as_file(halves(), exif=notes))
    assert (opened(taken).size, taken.taken_at) == ((200, 100), "")


# --- refused --------------------------------------------------------------------------------


def refusal(content):
    with pytest.raises(InputError) as error:
        take_bytes(content, "plate.jpg")
    assert error.value.what == "plate.jpg was not added."
    assert error.value.fix
    return error.value.why


@pytest.mark.parametrize(
    "content",
    [
        b"This is no picture.",
        b"\x00" * 100,
        b"%PDF-1.7\n" + b"x" * 100,
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        as_file(halves(), "GIF"),
        as_file(halves(), "TIFF"),
    ],
)
def test_what_is_no_picture_or_of_another_kind_is_refused(content):
    assert "no picture that Linebook reads: JPEG, PNG, WebP and BMP" in refusal(content)


def test_an_empty_file_is_refused():
    assert refusal(b"") == "It is empty."


def test_the_kind_that_telephones_write_is_refused_with_what_to_do():
    # ISO 14496-12: a box of type ftyp with the brand behind it.
    assert "HEIF" in refusal(struct.pack(">I4s4s", 24, b"ftyp", b"heic") + b"\0" * 100)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "BMP", "WEBP"])
def test_a_truncated_file_is_refused_wherever_it_ends(kind):
    whole = as_file(plate(), kind)
    for tenth in range(1, 10):
        why = refusal(whole[: len(whole) * tenth // 10])
        assert "damaged or cut short" in why or "no picture" in why
    assert "damaged or cut short" in refusal(whole[: len(whole) * 9 // 10]) or kind == "WEBP"


def _png(width, height, data=b""):
    """A PNG that claims a size (PNG 3rd edition, 11.2)."""

    def chunk(name, body):
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(8001, 10000), (10000, 10000), (20000, 20000), (2**31 - 1, 1)])
def test_more_dots_than_the_memory_is_good_for_are_refused_before_they_are_unpacked(size):
    assert refusal(_png(*size, zlib.compress(bytes(1000)))) == "It has more than 80 million dots."


def test_a_file_over_the_limit_is_refused(tmp_path):
    path = tmp_path / "plate.jpg"
    with path.open("wb") as stream:
        stream.write(as_file(plate()))
        stream.truncate(FILE_LIMIT_BYTES + 1)
    with pytest.raises(InputError, match="larger than 40 MB"):
        take_file(path)


def test_a_missing_file_and_a_folder_are_refused(tmp_path):
    with pytest.raises(LinebookError, match="There is no file"):
        take_file(tmp_path / "gone.jpg")
    with pytest.raises(LinebookError, match="It is a folder"):
        take_file(tmp_path)


def test_a_file_is_read(tmp_path):
    path = tmp_path / "plate.png"
    path.write_bytes(as_file(halves(), "PNG"))
    taken = take_file(path)
    assert (taken.name, taken.width_px) == ("plate.png", 200)
    assert path.read_bytes() == as_file(halves(), "PNG")


def test_sixteen_bits_of_grey_keep_their_greys():
    # Of 65 535, a quarter and three quarters: 64 and 191 of 255, give or take what JPEG rounds.
    row = struct.pack("<64H", *[16384] * 32, *[49152] * 32)
    picture = Image.frombytes("I;16", (64, 64), row * 64)
    stream = io.BytesIO()
    picture.save(stream, "PNG")
    taken = opened(take_bytes(stream.getvalue()))
    assert all(abs(dot - 64) < 4 for dot in taken.getpixel((8, 32)))
    assert all(abs(dot - 191) < 4 for dot in taken.getpixel((56, 32)))
