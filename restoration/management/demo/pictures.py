"""Placeholder photographs, drawn: wood grain with what the finding speaks of."""

import io
import math
import random

from django.conf import settings
from PIL import Image, ImageDraw, ImageFilter, ImageFont

SIZE = (1600, 1200)
FONT = settings.BASE_DIR / "static" / "fonts" / "NotoSans-Regular.ttf"


def draw(kind: str, label: str) -> bytes:
    """A JPEG of `rust`, `rot` or `crack`; the same label always draws the same picture."""
    chance = random.Random(f"{kind} {label}")
    picture = grain(chance)
    {"rust": rust, "rot": rot, "crack": crack}[kind](picture, chance)
    picture = picture.filter(ImageFilter.GaussianBlur(1.6))
    write(picture, label)
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=82)
    return kept.getvalue()


def grain(chance: random.Random) -> Image.Image:
    picture = Image.new("RGB", SIZE, (142, 108, 74))
    pen = ImageDraw.Draw(picture)
    phase, slope = chance.uniform(0, 6), chance.uniform(-0.06, 0.06)
    for line in range(-80, SIZE[1] + 80, 7):
        tone = chance.randint(-26, 22)
        colour = (142 + tone, 108 + tone, 74 + tone)
        path = [
            (x, line + slope * x + 14 * math.sin(x / 260 + phase + line / 190))
            for x in range(0, SIZE[0] + 40, 40)
        ]
        pen.line(path, fill=colour, width=chance.randint(2, 6))
    return picture


def blot(picture, centre, radius, colour, strength, chance) -> None:
    mask = Image.new("L", SIZE, 0)
    edge = [
        (
            centre[0] + radius * chance.uniform(0.8, 1.15) * math.cos(angle / 12 * math.pi),
            centre[1] + radius * chance.uniform(0.6, 1.0) * math.sin(angle / 12 * math.pi),
        )
        for angle in range(24)
    ]
    ImageDraw.Draw(mask).polygon(edge, fill=strength)
    picture.paste(colour, mask=mask.filter(ImageFilter.GaussianBlur(radius / 7)))


def rust(picture, chance) -> None:
    for x in (SIZE[0] * 0.32, SIZE[0] * 0.68):
        centre = (x + chance.randint(-60, 60), SIZE[1] / 2 + chance.randint(-90, 90))
        blot(picture, centre, 260, (58, 38, 26), 190, chance)
        blot(picture, centre, 120, (24, 18, 16), 230, chance)
        blot(picture, (centre[0], centre[1] + 190), 90, (150, 72, 28), 150, chance)
        pen = ImageDraw.Draw(picture)
        pen.ellipse([centre[0] - 46, centre[1] - 46, centre[0] + 46, centre[1] + 46], (96, 62, 44))
        pen.ellipse([centre[0] - 20, centre[1] - 22, centre[0] + 22, centre[1] + 18], (52, 32, 24))


def rot(picture, chance) -> None:
    blot(picture, (SIZE[0] * 0.5, SIZE[1] * 0.55), 480, (66, 40, 24), 215, chance)
    pen = ImageDraw.Draw(picture)
    for x in range(430, 1180, 68):
        pen.line(
            [(x + chance.randint(-9, 9), 420), (x + chance.randint(-9, 9), 960)], (22, 13, 9), 6
        )
    for y in range(430, 960, 74):
        pen.line(
            [(430, y + chance.randint(-9, 9)), (1170, y + chance.randint(-9, 9))], (22, 13, 9), 5
        )


def crack(picture, chance) -> None:
    path, y = [], SIZE[1] * chance.uniform(0.4, 0.6)
    for x in range(60, SIZE[0] - 40, 50):
        y += chance.uniform(-26, 26)
        path.append((x, y))
    pen = ImageDraw.Draw(picture)
    pen.line(path, (16, 10, 8), 15, joint="curve")
    pen.line([(x, y - 9) for x, y in path], (196, 164, 118), 4)


def write(picture, label: str) -> None:
    pen = ImageDraw.Draw(picture)
    pen.rectangle([0, SIZE[1] - 74, SIZE[0], SIZE[1]], (250, 248, 242))
    font = ImageFont.truetype(str(FONT), 34)
    pen.text((26, SIZE[1] - 62), f"{label}. Drawn, not photographed.", (27, 36, 44), font)
