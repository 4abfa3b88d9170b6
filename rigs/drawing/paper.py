"""
One sheet of paper to draw on, as PDF or as a picture, with the same calls.

Coordinates and sizes are points (1/72 in), x to the right and y down. Text is placed
by its top. A ``color`` is a name or #rrggbb.
"""

from datetime import UTC, datetime
from io import BytesIO

from fpdf import FPDF
from PIL import Image, ImageColor, ImageDraw

from . import typeface

WIDTH, HEIGHT = 612, 792
"""US letter paper, in points."""

LANDSCAPE = (HEIGHT, WIDTH)
"""The same on its long side."""

_FAMILY = "print"
_DOTS = 150 / 72  # pixels to the point: what a home printer shows


class Picture:
    """The sheet as a PNG picture."""

    def __init__(self, size: tuple[float, float] = (WIDTH, HEIGHT)) -> None:
        wide, high = (round(side * _DOTS) for side in size)
        self.image = Image.new("RGB", (wide, high), "white")
        self.pen = ImageDraw.Draw(self.image)

    def width(self, words: str, size: float, bold: bool = False) -> float:
        """Return how wide ``words`` are, in points."""
        font = typeface.font(round(size * _DOTS), bold)
        return font.getlength(typeface.printable(words)) / _DOTS

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float,
        bold: bool = False,
        color: str = "black",
        apart: float = 0,
    ) -> None:
        """Write one line of ``words`` with its top at ``y``, its letters ``apart`` points more."""
        font = typeface.font(round(size * _DOTS), bold)
        words = typeface.printable(words)
        for piece in words if apart else (words,):
            at = (x * _DOTS, (y + size * 0.82) * _DOTS)
            self.pen.text(at, piece, fill=color, font=font, anchor="ls")
            x += font.getlength(piece) / _DOTS + apart

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        filled: bool = False,
        color: str = "black",
        weight: float = 1,
    ) -> None:
        """Draw a rectangle, of one color all over if ``filled``."""
        corners = (x * _DOTS, y * _DOTS, (x + width) * _DOTS, (y + height) * _DOTS)
        fill = color if filled else None
        self.pen.rectangle(corners, fill=fill, outline=color, width=round(weight * _DOTS))

    def line(
        self, x1: float, y1: float, x2: float, y2: float, color: str = "black", weight: float = 0.5
    ) -> None:
        """Draw a line, a thin one if no ``weight`` is given."""
        ends = (x1 * _DOTS, y1 * _DOTS, x2 * _DOTS, y2 * _DOTS)
        self.pen.line(ends, fill=color, width=round(weight * _DOTS))

    def picture(self, image: Image.Image, x: float, y: float, width: float, height: float) -> None:
        """Put ``image`` on the sheet."""
        small = image.convert("RGB").resize(
            (round(width * _DOTS), round(height * _DOTS)), Image.Resampling.LANCZOS
        )
        self.image.paste(small, (round(x * _DOTS), round(y * _DOTS)))

    def data(self) -> bytes:
        """Return the sheet as bytes."""
        found = BytesIO()
        self.image.save(found, "PNG", dpi=(150, 150), optimize=True)
        return found.getvalue()


class Document:
    """The sheet as a PDF of one page, or of more if asked for."""

    def __init__(self, title: str, size: tuple[float, float] = (WIDTH, HEIGHT)) -> None:
        self.pdf = FPDF(unit="pt", format=size)
        self.pdf.set_auto_page_break(False)
        self.pdf.set_title(title)
        self.pdf.set_lang("en")
        self.pdf.set_creation_date(datetime.now(UTC))
        for style in ("", "B"):
            self.pdf.add_font(_FAMILY, style, typeface.path(bold=style == "B"))
        self.pdf.add_page()

    def new_page(self) -> None:
        """Go on with another page of the same size."""
        self.pdf.add_page()

    def width(self, words: str, size: float, bold: bool = False) -> float:
        """Return how wide ``words`` are, in points."""
        return typeface.width(words, bold) * size * 0.001

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float,
        bold: bool = False,
        color: str = "black",
        apart: float = 0,
    ) -> None:
        """Write one line of ``words`` with its top at ``y``, its letters ``apart`` points more."""
        self.pdf.set_font(_FAMILY, "B" if bold else "", size)
        self.pdf.set_text_color(*ImageColor.getrgb(color))
        self.pdf.set_char_spacing(apart)
        self.pdf.text(x, y + size * 0.82, typeface.printable(words))
        self.pdf.set_char_spacing(0)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        filled: bool = False,
        color: str = "black",
        weight: float = 1,
    ) -> None:
        """Draw a rectangle, of one color all over if ``filled``."""
        self.pdf.set_fill_color(*ImageColor.getrgb(color))
        self.pdf.set_draw_color(*ImageColor.getrgb(color))
        self.pdf.set_line_width(weight)
        self.pdf.rect(x, y, width, height, style="F" if filled else "D")

    def line(
        self, x1: float, y1: float, x2: float, y2: float, color: str = "black", weight: float = 0.5
    ) -> None:
        """Draw a line, a thin one if no ``weight`` is given."""
        self.pdf.set_draw_color(*ImageColor.getrgb(color))
        self.pdf.set_line_width(weight)
        self.pdf.line(x1, y1, x2, y2)

    def picture(self, image: Image.Image, x: float, y: float, width: float, height: float) -> None:
        """Put ``image`` on the sheet."""
        self.pdf.image(image, x, y, width, height)

    def data(self) -> bytes:
        """Return the sheet as bytes."""
        return bytes(self.pdf.output())


Paper = Picture | Document
"""A sheet, whichever it becomes."""
