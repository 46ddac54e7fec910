"""A photograph of a board drawn true, as `rectify_sheet` says where each part comes from."""

import io
from typing import BinaryIO

from PIL import Image

from restoration.calc.rectify import Plane
from restoration.calc.rectify_sheet import Sheet, cells

QUALITY = 85
NOTHING = (225, 225, 220)


def rectified_jpeg(photograph: BinaryIO, plane: Plane, sheet: Sheet) -> bytes:
    """A JPEG of the sheet; what the photograph does not show stays grey.

    Memory is bounded by the photograph as it was taken in (4096 px a side) and the sheet (2400).
    """
    with Image.open(photograph, formats=("JPEG",)) as image:
        pixels = image.convert("RGB")
    true = Image.new("RGB", (sheet.width_px, sheet.height_px), NOTHING)
    drawn = pixels.transform(
        true.size, Image.Transform.MESH, cells(sheet, plane), Image.Resampling.BILINEAR,
        fill=1, fillcolor=NOTHING,
    )  # fmt: skip
    out = io.BytesIO()
    drawn.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()
