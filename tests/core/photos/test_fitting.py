"""Photographs for paper: a book that can be mailed, plates that can be read."""

import doctest
import io

import pytest
from PIL import Image

from core.photos import fitting, printed, share_of, take_bytes
from tests.core.drawn_photos import as_file, noise, plate


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(fitting).failed == 0


@pytest.mark.parametrize(
    # 8 MB shared evenly, 160 kB at the most, 30 kB at the least.
    ("count", "share"),
    [(0, 160_000), (50, 160_000), (51, 156_862), (160, 50_000), (266, 30_075), (400, 30_000)],
)
def test_photographs_share_eight_megabytes(count, share):
    assert share_of(count) == share


@pytest.mark.parametrize("limit", [160_000, 50_000, 30_000])
def test_what_is_printed_keeps_to_its_share(limit):
    kept = take_bytes(as_file(noise((1600, 1200)), "PNG")).content
    assert len(kept) > limit
    made = printed(kept, limit)
    assert len(made) <= limit
    assert Image.open(io.BytesIO(made)).format == "JPEG"


def test_what_is_small_enough_stays_as_it_is():
    kept = take_bytes(as_file(plate())).content
    assert printed(kept, 160_000) is kept


def test_what_has_more_dots_than_paper_shows_gets_fewer():
    kept = take_bytes(as_file(plate(size=(3000, 2000)))).content
    assert Image.open(io.BytesIO(printed(kept, 160_000))).size == (1200, 800)
