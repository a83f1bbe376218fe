"""Pictures drawn for tests; no camera took any of them."""

import io
from random import Random
from typing import Any

from PIL import Image, ImageDraw


def plate(text: str = "0.55 kW", size: tuple[int, int] = (640, 480), seed: int = 1) -> Image.Image:
    """An invented nameplate: a grey plate with a text on a coloured ground."""
    ground = Random(seed).choices(range(256), k=3)
    picture = Image.new("RGB", size, tuple(ground))
    pen = ImageDraw.Draw(picture)
    width, height = size
    box = (width // 10, height // 10, width * 9 // 10, height * 9 // 10)
    pen.rectangle(box, fill=(205, 205, 200), outline="black", width=3)
    pen.text((width // 8, height // 3), text, fill="black", font_size=height // 8)
    return picture


def noise(size: tuple[int, int], seed: int = 1) -> Image.Image:
    """Dots without any order, which no encoder makes small."""
    dots = Random(seed).randbytes(size[0] * size[1] * 3)
    return Image.frombytes("RGB", size, dots)


def halves(size: tuple[int, int] = (200, 100)) -> Image.Image:
    """Red at the left, blue at the right."""
    picture = Image.new("RGB", size, "blue")
    picture.paste("red", (0, 0, size[0] // 2, size[1]))
    return picture


def as_file(picture: Image.Image, kind: str = "JPEG", **more: Any) -> bytes:
    """A picture as the bytes of a file."""
    stream = io.BytesIO()
    picture.save(stream, format=kind, **more)
    return stream.getvalue()
