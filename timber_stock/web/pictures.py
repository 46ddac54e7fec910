"""Photographs as they are taken in: really decoded, upright, plain JPEG, without their place.

What goes in may be JPEG, PNG, WebP or HEIC, up to 40 MB and 80 megapixels. What is kept is a
JPEG of quality 85 in sRGB, at most 4096 px along its longer side (enough for 300 dots to the
inch over a whole A4 page; common practice, no standard), and a thumbnail of 480 px. Both are
written anew from the decoded pixels, so nothing that rode along in the file is kept: no place,
no maker's notes, no program in disguise. The time it was taken is read first.
"""

import contextlib
import hashlib
import io
from dataclasses import dataclass
from datetime import datetime
from typing import BinaryIO

import pillow_heif
from PIL import ExifTags, Image, ImageCms, ImageOps

pillow_heif.register_heif_opener()

ACCEPTED = "JPEG, PNG, WebP or HEIC"
LARGEST_FILE_MB = 40
MOST_MEGAPIXELS = 80
LONGEST_SIDE_PX = 4096
THUMBNAIL_PX = 480
QUALITY = 85

_FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
# A JPEG or HEIC of several pictures is one photograph with its depth or brightness map.
_MAY_MOVE = ("PNG", "WEBP")
_SRGB = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


class NotTakenIn(ValueError):
    """Why a file is not taken in, in a sentence for whoever sent it."""


@dataclass(frozen=True)
class Picture:
    """A photograph ready to keep. `sha256` is of `jpeg`; `taken_at` is the camera's clock."""

    jpeg: bytes
    thumbnail: bytes
    width_px: int
    height_px: int
    sha256: str
    taken_at: datetime | None


def take_in(file: BinaryIO, name: str) -> Picture:
    """Decode and write anew the photograph in `file`, whose name serves only to speak of it.

    Raises NotTakenIn for a file that is too big, no photograph, moving, or does not decode.
    """
    image = _opened(file, name)
    try:
        taken_at = _taken_at(image)
        image = _upright_srgb(image)
    except Exception as error:  # a decoder fed a broken file may raise anything at all
        raise NotTakenIn(
            f"“{name}” is damaged or cut short: it does not decode to the end. "
            "Send it again from the camera."
        ) from error
    return _kept(image, taken_at)


def _kept(image: Image.Image, taken_at: datetime | None) -> Picture:
    image.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    small = image.copy()
    small.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
    jpeg = _jpeg(image)
    return Picture(
        jpeg=jpeg,
        thumbnail=_jpeg(small),
        width_px=image.width,
        height_px=image.height,
        sha256=hashlib.sha256(jpeg).hexdigest(),
        taken_at=taken_at,
    )


def _opened(file: BinaryIO, name: str) -> Image.Image:
    """The file's header read and judged; no pixel is decoded yet."""
    size = file.seek(0, io.SEEK_END)
    file.seek(0)
    if size > LARGEST_FILE_MB * 1024 * 1024:
        raise NotTakenIn(
            f"“{name}” is {size / 1024 / 1024:.0f} MB; a photograph may be up to "
            f"{LARGEST_FILE_MB} MB. Send a smaller copy."
        )
    try:
        image = Image.open(file, formats=_FORMATS)
    except Image.DecompressionBombError as error:
        raise NotTakenIn(_too_many_pixels(name)) from error
    except Exception as error:  # as above: whatever a parser makes of a file in disguise
        raise NotTakenIn(
            f"“{name}” is not a photograph that can be read, whatever its name says. "
            f"Send {ACCEPTED}."
        ) from error
    if image.width * image.height > MOST_MEGAPIXELS * 1_000_000:
        raise NotTakenIn(_too_many_pixels(name))
    if image.format in _MAY_MOVE and getattr(image, "is_animated", False):
        raise NotTakenIn(f"“{name}” is a moving picture. Send a still one.")
    return image


def _too_many_pixels(name: str) -> str:
    return (
        f"“{name}” has more than {MOST_MEGAPIXELS} million pixels, more than can be taken in "
        "safely. Send a smaller copy."
    )


def _taken_at(image: Image.Image) -> datetime | None:
    """When the camera says it was taken: with its offset from UTC if it gives one."""
    with contextlib.suppress(Exception):  # a garbled note is no reason to refuse the picture
        notes = image.getexif().get_ifd(ExifTags.IFD.Exif)
        clock = str(notes[ExifTags.Base.DateTimeOriginal]).strip("\0 ")
        offset = str(notes.get(ExifTags.Base.OffsetTimeOriginal, "")).strip("\0 ")
        with contextlib.suppress(ValueError):
            return datetime.strptime(clock + offset, "%Y:%m:%d %H:%M:%S%z")
        return datetime.strptime(clock, "%Y:%m:%d %H:%M:%S")
    return None


def _upright_srgb(image: Image.Image) -> Image.Image:
    # A JPEG of twice the size or more is decoded at a fraction of it, which spares the memory.
    image.draft(None, (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    profile = image.info.get("icc_profile")
    return _in_srgb(_eight_bit(ImageOps.exif_transpose(image)), profile)


def _eight_bit(image: Image.Image) -> Image.Image:
    """Grey, colour or print inks, 8 bits each; what is see-through is laid on white."""
    if image.mode.startswith("I"):  # 16 bits of grey
        image = image.convert("I").point(lambda level: level / 257).convert("L")
    if image.has_transparency_data:
        glass = image.convert("RGBA")
        image = Image.alpha_composite(Image.new("RGBA", glass.size, "white"), glass)
    return image if image.mode in ("L", "RGB", "CMYK") else image.convert("RGB")


def _in_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    if profile:
        # A profile that does not fit its picture says nothing: the colours are left as they are.
        with contextlib.suppress(ImageCms.PyCMSError, OSError, ValueError):
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            return ImageCms.profileToProfile(image, own, _SRGB, outputMode="RGB")
    return image.convert("RGB")


def _jpeg(image: Image.Image) -> bytes:
    bare = Image.new("RGB", image.size)  # a new picture: the old one's notes stay behind
    bare.paste(image)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()
