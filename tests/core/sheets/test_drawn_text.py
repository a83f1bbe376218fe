import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from core.sheets.drawing import Words
from core.sheets.drawn_text import text_width, words_box, wrapped


@pytest.mark.parametrize(("strong", "file"), [(False, "DejaVuSans"), (True, "DejaVuSans-Bold")])
@pytest.mark.parametrize("text", ["5.61 fruit/s", "16.9 % ± 2.1 %", "→ A05 ✓"])
def test_the_width_is_that_which_another_library_sets(text, strong, file):
    # Pillow's own layout at 1000 pixels without kerning, as the painters set texts without it.
    font = ImageFont.truetype(
        f"core/sheets/fonts/{file}.ttf", 1000, layout_engine=ImageFont.Layout.BASIC
    )
    expected = font.getlength(text, features=None) / 1000 * 6.4
    assert text_width(text, 6.4, strong) == pytest.approx(expected, rel=0.01)


def test_a_sign_that_the_font_lacks_counts_a_full_square():
    assert text_width("漢漢", 10.0) == pytest.approx(20.0)


def test_the_box_of_a_text_goes_by_its_anchor():
    width = text_width("A05", 10.0)
    for anchor, left in (("start", 50.0), ("middle", 50.0 - width / 2), ("end", 50.0 - width)):
        box = words_box(Words((50.0, 20.0), "A05", 10.0, anchor))
        assert box == pytest.approx((left, 12.4, left + width, 22.4))


@given(st.text("abW 12漢", max_size=60), st.floats(12.0, 90.0), st.booleans())
def test_every_line_fits_and_no_sign_is_lost(text, width, strong):
    lines = wrapped(text, 6.4, width, strong)
    assert all(text_width(line, 6.4, strong) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_the_first_line_may_have_less_room():
    assert wrapped("washer brushes", 6.4, 80.0, first=4.0)[0] == ""
    assert wrapped("washer brushes", 6.4, 80.0, first=30.0) == ("washer", "brushes")
