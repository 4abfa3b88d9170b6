"""Photos made fit to keep: smaller, and without what a camera writes into them."""

from io import BytesIO

from django.core.files.base import ContentFile
from django.utils.translation import gettext as _
from PIL import Image
from PIL.ExifTags import Base
from PIL.Image import Transpose

LARGEST_FILE = 12 * 2**20
"""The most bytes taken in at once: no phone's photo is larger."""

LONGEST_SIDE = 1600
"""In pixels, enough to read a tape by; a phone makes them no larger before it sends."""

# A JPEG is drawn small at once, the others whole, with four bytes a pixel. Common practice, no
# source: cameras of phones have up to 50 megapixels, and keep what they take as JPEG.
MOST_PIXELS = {"JPEG": 80_000_000, "PNG": 25_000_000, "WEBP": 25_000_000}

TURNS = {
    2: Transpose.FLIP_LEFT_RIGHT,
    3: Transpose.ROTATE_180,
    4: Transpose.FLIP_TOP_BOTTOM,
    5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_270,
    7: Transpose.TRANSVERSE,
    8: Transpose.ROTATE_90,
}
"""What makes a picture upright, by the orientation of Exif 2.3, 4.6.4 (from memory)."""


class PhotoError(ValueError):
    """A file that cannot be kept as a photo; the message is meant for its sender."""


def _opened(file):
    if file.size > LARGEST_FILE:
        raise PhotoError(
            _("That file is over {value} MB. Choose a smaller photo.").format(
                value=LARGEST_FILE // 2**20
            )
        )
    try:
        image = Image.open(file, formats=tuple(MOST_PIXELS))
        if image.width * image.height > MOST_PIXELS[image.format]:
            raise PhotoError(_("That photo has too many pixels. Choose a smaller one."))
        image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        image.load()
    except PhotoError:
        raise
    # A broken file fails anywhere in the library, with whatever comes of it.
    except Exception as error:
        raise PhotoError(_("That is not a photo. Choose a JPEG, PNG or WebP file.")) from error
    return image


def _upright(image):
    """Return ``image`` turned as its camera noted, whatever else is wrong with its notes."""
    try:
        turn = TURNS.get(image.getexif().get(Base.Orientation))
    except Exception:  # notes that are broken fail anywhere in the library too
        turn = None
    return image if turn is None else image.transpose(turn)


def fit(file):
    """
    Return the uploaded ``file`` as a JPEG to keep: turned upright, shrunk, nothing else in it.

    It is drawn anew, so that neither the place where it was taken nor anything hidden in the
    file survives. Raise PhotoError if it is no photo.
    """
    image = _opened(file)
    image.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    upright = _upright(image).convert("RGBA")
    plain = Image.new("RGB", upright.size, "white")
    plain.paste(upright, mask=upright.getchannel("A"))
    data = BytesIO()
    plain.save(data, "JPEG", quality=85, optimize=True)
    return ContentFile(data.getvalue(), "photo.jpg")
