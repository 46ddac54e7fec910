"""A picture of a vessel, drawn from her own particulars: there is no such boat to photograph."""

import io

from PIL import Image, ImageDraw, ImageFilter, ImageFont

from restoration.management.demo.pictures import FONT

SIZE = (2000, 1200)
SEA, SKY, CLOUD = (58, 84, 98), (196, 210, 216), (224, 231, 232)
HULL, BOOT, SAIL, SPAR = (28, 38, 44), (147, 57, 26), (236, 228, 206), (118, 84, 48)
LABEL = "Drawn, not photographed"


def draw_vessel(name: str, loa_mm: float, beam_mm: float) -> bytes:
    """A gaff yawl under sail, as long as the picture is wide; the freeboard follows her beam."""
    picture = Image.new("RGB", SIZE, SKY)
    pen = ImageDraw.Draw(picture)
    for n, (x, y) in enumerate(((260, 210), (980, 140), (1620, 260))):
        pen.ellipse([x - 300, y - 36 - 9 * n, x + 300, y + 40], fill=CLOUD)
    water = 800
    pen.rectangle([0, water, *SIZE], fill=SEA)
    _sails(pen, water)
    _hull(pen, water, round(430 * beam_mm / loa_mm))
    for row in range(water + 60, SIZE[1], 46):
        for x in range(-80 + row % 90, SIZE[0], 190):
            pen.line([(x, row), (x + 90, row)], fill=(76, 104, 118), width=3)
    picture = picture.filter(ImageFilter.GaussianBlur(1.2))
    _label(picture, name)
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=84)
    return kept.getvalue()


def _hull(pen: ImageDraw.ImageDraw, water: int, freeboard: int) -> None:
    sheer = [(360, 1.35), (640, 1.0), (1000, 0.82), (1360, 0.86), (1640, 1.05)]
    top = [(x, water - freeboard * share) for x, share in sheer]
    pen.polygon([*top, (1560, water + 4), (470, water + 30)], fill=HULL)
    pen.polygon([(470, water + 30), (1560, water + 4), (1530, water + 26), (500, water + 40)],
                fill=BOOT)  # fmt: skip
    pen.line(top, fill=SAIL, width=7, joint="curve")


def _sails(pen: ImageDraw.ImageDraw, water: int) -> None:
    """Jib, main under its gaff, and the mizzen aft."""
    pen.line([(300, 640), (500, 680)], fill=SPAR, width=14)
    for mast, head in ((800, 130), (1480, 330)):
        pen.line([(mast, head), (mast, water - 60)], fill=SPAR, width=18)
    pen.polygon([(320, 636), (784, 190), (760, 650)], fill=SAIL)
    pen.polygon([(815, 330), (1150, 200), (1330, 640), (815, 660)], fill=SAIL)
    pen.line([(810, 340), (1160, 196)], fill=SPAR, width=12)
    pen.line([(806, 668), (1340, 646)], fill=SPAR, width=12)
    pen.polygon([(1494, 420), (1640, 380), (1730, 630), (1494, 646)], fill=SAIL)


def _label(picture: Image.Image, name: str) -> None:
    pen = ImageDraw.Draw(picture)
    pen.rectangle([0, SIZE[1] - 66, *SIZE], fill=(250, 248, 242))
    font = ImageFont.truetype(str(FONT), 32)
    pen.text((26, SIZE[1] - 56), f"{name}. {LABEL}.", (27, 36, 44), font)
