"""Drawings as images, for what shows no vectors."""

import io
import math
import threading

from core.sheets.drawing import Drawing

POINTS_PER_INCH = 72.0
PDFIUM = threading.RLock()
"""Held by whoever calls pypdfium2: the library is not made for several threads at once."""

_PIXELS_ENOUGH = 16e6


def drawing_png(drawing: Drawing, dots_per_inch: float = 200.0) -> bytes:
    """A drawing as the bytes of a PNG, on white ground.

    Parameters
    ----------
    drawing : Drawing
        What is drawn.
    dots_per_inch : float
        Sharpness; a very large drawing gets less of it, so that the image stays at 16 million
        pixels or below [1/inch].

    Examples
    --------
    >>> drawing_png(Drawing(72.0, 36.0, ()), 100.0)[:4]
    b'\\x89PNG'
    """
    import pypdfium2

    from core.sheets.pdf_drawing import drawing_pdf

    scale = dots_per_inch / POINTS_PER_INCH
    scale = min(scale, math.sqrt(_PIXELS_ENOUGH / (drawing.width * drawing.height)))
    content = drawing_pdf(drawing)
    with PDFIUM, pypdfium2.PdfDocument(content) as pdf:
        page = pdf[0]
        image = page.render(scale=scale).to_pil().copy()
        page.close()
    stream = io.BytesIO()
    image.save(stream, "PNG")
    return stream.getvalue()
