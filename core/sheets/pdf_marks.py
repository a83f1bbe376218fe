"""What stands between the cells: headings with bookmarks, room, the safety alert symbol."""

import math
from typing import Any

from reportlab.platypus import Flowable, Paragraph, Spacer


class Title(Paragraph):  # type: ignore[misc]
    """A heading that enters itself in the outline, and in the head of its pages."""

    def __init__(self, marked: str, look_of: Any, plain: str, outline: int | None) -> None:
        super().__init__(marked, look_of)
        self.plain, self.outline = plain, outline

    def draw(self) -> None:
        """Set the heading and its mark in the outline."""
        if self.outline is not None:
            _, top = self.canv.absolutePosition(0, self.height)
            key = f"title-{self.canv.getPageNumber()}-{top:.2f}"
            # Only this form of destination is right in every viewer that was tried.
            self.canv.bookmarkPage(key, fit="XYZ", left=0, top=top, zoom=0)
            self.canv.addOutlineEntry(self.plain, key, self.outline, closed=self.outline > 0)
        if self.outline == 0:
            self.canv.section = self.plain
            self.canv.begins(self.plain)
        super().draw()


class PageOf(Flowable):  # type: ignore[misc]
    """The page on which a section begins, at the right; it leads there."""

    def __init__(self, title: str, height: float) -> None:
        super().__init__()
        self.title, self.height = title, height

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """One line, as wide as the cell [pt]."""
        self.width = width
        return width, self.height

    def draw(self) -> None:
        """Call for the number, which is known only once the section was set."""
        self.canv.lead_to(self.title, self.width, self.height)


class Space(Spacer):  # type: ignore[misc]
    """Room between two parts; at the foot of a page there is as much as is left."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Its size; never so much that it would go on to a page of its own."""
        return width, min(self.height, height)


class Triangle(Flowable):  # type: ignore[misc]
    """The safety alert symbol of ANSI Z535.4: a triangle with an exclamation mark."""

    def __init__(self, size: float, ground: Any, mark: Any) -> None:
        super().__init__()
        self.width, self.height = size, size * math.sqrt(3) / 2
        self.ground, self.mark = ground, mark

    def draw(self) -> None:
        """Draw it as vectors."""
        canvas, width, height = self.canv, self.width, self.height
        canvas.setFillColor(self.ground)
        canvas.setStrokeColor(self.ground)
        canvas.setLineJoin(1)
        canvas.setLineWidth(width * 0.08)
        outline = canvas.beginPath()
        outline.moveTo(0, 0)
        outline.lineTo(width, 0)
        outline.lineTo(width / 2, height)
        outline.close()
        canvas.drawPath(outline, fill=1)
        canvas.setFillColor(self.mark)
        bar = canvas.beginPath()
        bar.moveTo(width * 0.44, height * 0.70)
        bar.lineTo(width * 0.56, height * 0.70)
        bar.lineTo(width * 0.53, height * 0.30)
        bar.lineTo(width * 0.47, height * 0.30)
        bar.close()
        canvas.drawPath(bar, stroke=0, fill=1)
        canvas.circle(width / 2, height * 0.17, width * 0.055, stroke=0, fill=1)
