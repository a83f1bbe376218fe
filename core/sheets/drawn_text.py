"""How much room a text takes in a drawing, and how it is broken into lines that fit."""

from collections.abc import Iterator

from core.sheets.drawing import Words


def text_width(text: str, size: float, strong: bool = False) -> float:
    """Width of a text on one line, in the fonts that every painter uses.

    Parameters
    ----------
    text : str
        The text.
    size : float
        Height of the font [pt].
    strong : bool
        Whether it is set in bold.

    Returns
    -------
    float
        Width [pt]. A sign that the fonts lack counts as wide as it is high, which no sign of
        another font exceeds by much.

    Examples
    --------
    >>> round(text_width("5.6 fruit/s", 7.0), 1)
    33.8
    """
    from core.sheets import pdf_style as look

    has_glyph = look.load_fonts()
    known = "".join(sign for sign in text if ord(sign) in has_glyph)
    font = look.BOLD if strong else look.FONT
    return look.width_of(known, font, size) + size * (len(text) - len(known))


def words_box(words: Words) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a text that is not turned [pt].

    Notes
    -----
    Height from the tallest capital to below the descenders, 0.76 and 0.24 of the size in DejaVu
    Sans (read off its outlines).
    """
    width = text_width(words.text, words.size, words.strong)
    left = words.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[words.anchor]
    return left, words.at[1] - 0.76 * words.size, left + width, words.at[1] + 0.24 * words.size


def wrapped(
    text: str, size: float, width: float, strong: bool = False, first: float | None = None
) -> tuple[str, ...]:
    """A text in lines that fit; a word too long for a line is broken, nothing is left out.

    Parameters
    ----------
    text : str
        The text; runs of blanks count as one.
    size : float
        Height of the font [pt].
    width : float
        Room for a line [pt].
    strong : bool
        Whether it is set in bold.
    first : float, optional
        Room for the first line where that differs [pt]; it may stay empty.

    Examples
    --------
    >>> wrapped("washer brushes, odd rows", 6.4, 60.0)
    ('washer brushes,', 'odd rows')
    """
    lines: list[str] = []
    line, room = "", width if first is None else first
    for word in text.split():
        joined = f"{line} {word}" if line else word
        if text_width(joined, size, strong) <= room:
            line = joined
            continue
        if line or (first is not None and not lines):
            lines.append(line)
            room = width
        *whole, line = _pieces(word, size, width, strong)
        lines += whole
    return (*lines, line) if line else tuple(lines)


def shortened(text: str, size: float, width: float, strong: bool = False) -> str:
    """A text as far as it fits on one line, with a sign that more of it was left out.

    Examples
    --------
    >>> shortened("washer brushes, odd rows", 6.4, 60.0), shortened("A07", 6.4, 60.0)
    ('washer brushes…', 'A07')
    """
    if text_width(text, size, strong) <= width:
        return text
    fits = (
        cut
        for end in range(len(text) - 1, 0, -1)
        if text_width(cut := f"{text[:end].rstrip(' ,')}…", size, strong) <= width
    )
    return next(fits, "…")


def _pieces(word: str, size: float, width: float, strong: bool) -> Iterator[str]:
    """A word in pieces that fit, each at least one sign long."""
    start = 0
    for end in range(1, len(word) + 1):
        if end - start > 1 and text_width(word[start:end], size, strong) > width:
            yield word[start : end - 1]
            start = end - 1
    yield word[start:]
