"""Photos made fit to keep: smaller, and without what a camera writes into them."""

from io import BytesIO

from django.core.files.base import ContentFile
from django.utils.translation import gettext as _
from PIL import Image, ImageOps, UnidentifiedImageError

LARGEST_FILE = 12 * 2**20
"""The most bytes taken in at once: no phone's photo is larger."""

LONGEST_SIDE = 1600
"""In pixels, enough to read a tape by; a phone makes them no larger before it sends."""

_MOST_PIXELS = 80_000_000
_KINDS = ("JPEG", "PNG", "WEBP")


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
        image = Image.open(file, formats=_KINDS)
        if image.width * image.height > _MOST_PIXELS:
            raise PhotoError(_("That photo has too many pixels. Choose a smaller one."))
        image.load()
    except PhotoError:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError) as error:
        raise PhotoError(_("That is not a photo. Choose a JPEG, PNG or WebP file.")) from error
    return image


def fit(file):
    """
    Return the uploaded ``file`` as a JPEG to keep: turned upright, shrunk, nothing else in it.

    It is drawn anew, so that neither the place where it was taken nor anything hidden in the
    file survives. Raise PhotoError if it is no photo.
    """
    upright = ImageOps.exif_transpose(_opened(file))
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    plain = Image.new("RGB", upright.size, "white")
    plain.paste(upright.convert("RGBA"), mask=upright.convert("RGBA").getchannel("A"))
    data = BytesIO()
    plain.save(data, "JPEG", quality=85, optimize=True)
    return ContentFile(data.getvalue(), "photo.jpg")
