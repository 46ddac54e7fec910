"""Photographs are taken in whole, upright, without their place; anything else is refused."""

import io
import struct
import zlib
from datetime import UTC, datetime, timedelta, timezone

import pytest
from PIL import ExifTags, Image, ImageCms

from timber_stock.web import pictures
from timber_stock.web.pictures import NotTakenIn, take_in

HALF_RED_HALF_BLUE = (60, 40)


def two_halves(size=HALF_RED_HALF_BLUE, mode="RGB"):
    """Red to the left, blue to the right: which way up it lies can be told from its pixels."""
    image = Image.new("RGB", size, "red")
    image.paste("blue", (size[0] // 2, 0, *size))
    return image.convert(mode)


def as_file(image, kind, **options):
    out = io.BytesIO()
    image.save(out, kind, **options)
    out.seek(0)
    return out


def kept(picture):
    image = Image.open(io.BytesIO(picture.jpeg))
    image.load()
    return image


def is_close(pixel, wanted, by=40):
    return all(abs(one - other) <= by for one, other in zip(pixel, wanted, strict=True))


def notes(**extra):
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "a camera"
    for tag, value in extra.items():
        exif[ExifTags.Base[tag]] = value
    return exif


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_each_kind_of_photograph_is_kept_as_jpeg_with_its_own_size(kind):
    picture = take_in(as_file(two_halves(), kind), "x")
    image = kept(picture)
    assert image.format == "JPEG"
    assert image.size == (picture.width_px, picture.height_px) == (60, 40)
    assert is_close(image.getpixel((10, 20)), (255, 0, 0))
    assert is_close(image.getpixel((50, 20)), (0, 0, 255))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photograph_on_its_side_is_turned_upright(kind):
    """Orientation 6: the top of the scene lies at the right-hand edge of the stored pixels."""
    picture = take_in(as_file(two_halves(), kind, exif=notes(Orientation=6)), "x")
    image = kept(picture)
    assert image.size == (40, 60)
    assert is_close(image.getpixel((20, 10)), (255, 0, 0))
    assert is_close(image.getpixel((20, 50)), (0, 0, 255))
    assert ExifTags.Base.Orientation not in image.getexif()


def test_a_heic_on_its_side_is_turned_once_and_not_twice():
    scene = two_halves((128, 64))
    scene.info["exif"] = notes(Orientation=6).tobytes()  # written as the container's own turn too
    file = as_file(scene, "HEIF")
    assert Image.open(io.BytesIO(file.getvalue())).size == (64, 128)
    image = kept(take_in(file, "x.heic"))
    assert image.size == (64, 128)
    assert is_close(image.getpixel((32, 20)), (255, 0, 0))
    assert is_close(image.getpixel((32, 108)), (0, 0, 255))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_nothing_that_rode_along_is_kept_least_of_all_the_place(kind):
    exif = notes()
    place = exif.get_ifd(ExifTags.IFD.GPSInfo)
    place[ExifTags.GPS.GPSLatitudeRef] = "N"
    place[ExifTags.GPS.GPSLatitude] = (51.0, 30.0, 7.0)
    packet = b"<x:xmpmeta>exif:GPSLatitude 51,30.1N</x:xmpmeta>"
    file = as_file(two_halves(), kind, exif=exif, xmp=packet)
    before = Image.open(io.BytesIO(file.getvalue()))
    assert before.getexif().get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] == "N"
    picture = take_in(file, "x")
    for data in (picture.jpeg, picture.thumbnail):
        after = Image.open(io.BytesIO(data))
        assert not dict(after.getexif())
        assert set(after.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert b"GPS" not in data
        assert b"camera" not in data


def test_a_comment_in_the_file_is_not_kept():
    file = as_file(two_halves(), "JPEG", comment=b"moored at the north quay")
    assert b"north quay" in file.getvalue()
    assert b"north quay" not in take_in(file, "x").jpeg


def test_the_time_it_was_taken_is_read_before_the_notes_are_dropped():
    exif = notes()
    ifd = exif.get_ifd(ExifTags.IFD.Exif)
    ifd[ExifTags.Base.DateTimeOriginal] = "2026:03:04 10:21:09"
    file = as_file(two_halves(), "JPEG", exif=exif)
    assert take_in(file, "x").taken_at == datetime(2026, 3, 4, 10, 21, 9)
    ifd[ExifTags.Base.OffsetTimeOriginal] = "+05:30"
    file = as_file(two_halves(), "HEIF", exif=exif)
    assert take_in(file, "x").taken_at == datetime(
        2026, 3, 4, 10, 21, 9, tzinfo=timezone(timedelta(hours=5.5))
    )
    assert take_in(file, "x").taken_at.astimezone(UTC).hour == 4


@pytest.mark.parametrize("clock", ["0000:00:00 00:00:00", "    :  :     :  :  ", "yesterday"])
def test_a_clock_that_was_never_set_gives_no_time(clock):
    exif = notes()
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = clock
    assert take_in(as_file(two_halves(), "JPEG", exif=exif), "x").taken_at is None


def test_a_large_photograph_is_brought_down_and_a_small_one_is_not_blown_up():
    picture = take_in(as_file(two_halves((5000, 1000)), "JPEG"), "x")
    assert (picture.width_px, picture.height_px) == kept(picture).size == (4096, 819)
    thumbnail = Image.open(io.BytesIO(picture.thumbnail))
    assert thumbnail.size == (480, 96)
    small = Image.open(io.BytesIO(take_in(as_file(two_halves(), "PNG"), "x").thumbnail))
    assert small.size == (60, 40)


def test_a_jpeg_of_more_than_twice_the_size_is_still_brought_to_the_longest_side():
    picture = take_in(as_file(two_halves((8800, 5200)), "JPEG"), "x")
    assert (picture.width_px, picture.height_px) == (4096, 2420)


def test_the_sum_is_of_the_file_that_is_kept():
    import hashlib

    picture = take_in(as_file(two_halves(), "PNG"), "x")
    assert picture.sha256 == hashlib.sha256(picture.jpeg).hexdigest()


def test_colours_of_another_profile_are_brought_to_srgb():
    """In a profile whose red and green change places, red is kept as the green that it means."""
    swapped = swapped_srgb()
    flat = Image.new("RGB", (32, 32), (230, 20, 20))
    image = kept(take_in(as_file(flat, "PNG", icc_profile=swapped), "x"))
    assert is_close(image.getpixel((16, 16)), (20, 230, 20), by=12)
    assert "icc_profile" not in image.info


def swapped_srgb():
    """An sRGB profile whose red and green primaries have changed places in its table."""
    data = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return data.replace(b"rXYZ", b"~~~~").replace(b"gXYZ", b"rXYZ").replace(b"~~~~", b"gXYZ")


def test_a_profile_that_is_rubbish_leaves_the_colours_as_they_are():
    flat = Image.new("RGB", (32, 32), (230, 20, 20))
    image = kept(take_in(as_file(flat, "PNG", icc_profile=b"no profile at all"), "x"))
    assert is_close(image.getpixel((16, 16)), (230, 20, 20), by=6)


def test_what_is_see_through_is_laid_on_white():
    glass = Image.new("RGBA", (32, 32), (0, 0, 0, 0))
    assert kept(take_in(as_file(glass, "PNG"), "x")).getpixel((5, 5)) == (255, 255, 255)
    glass.paste((10, 10, 10, 255), (16, 0, 32, 32))
    few = kept(take_in(as_file(glass.quantize(8), "PNG"), "x"))
    assert is_close(few.getpixel((5, 5)), (255, 255, 255), by=3)
    assert is_close(few.getpixel((28, 5)), (10, 10, 10), by=6)


@pytest.mark.parametrize("mode", ["L", "CMYK"])
def test_grey_and_print_ink_photographs_are_read(mode):
    file = as_file(Image.new("RGB", (32, 32), (120, 120, 120)).convert(mode), "JPEG")
    assert is_close(kept(take_in(file, "x")).getpixel((9, 9)), (120, 120, 120), by=5)


def test_sixteen_bits_of_grey_are_brought_to_eight_and_not_burnt_out():
    file = as_file(Image.new("I;16", (32, 32), 257 * 90), "PNG")
    assert is_close(kept(take_in(file, "x")).getpixel((9, 9)), (90, 90, 90), by=3)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
@pytest.mark.parametrize("part", [0.5, 0.9])
def test_a_file_cut_short_is_refused_with_its_name(kind, part):
    noise = Image.effect_noise((300, 200), 80).convert("RGB")
    data = as_file(noise, kind).getvalue()
    with pytest.raises(NotTakenIn, match=r"“stem\.jpg” is"):
        take_in(io.BytesIO(data[: int(len(data) * part)]), "stem.jpg")


DISGUISED = {
    "svg": b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script/></svg>',
    "pdf": b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF",
    "program": b"MZ\x90\x00" + bytes(200),
    "script": b"#!/bin/sh\necho no\n",
    "nothing": b"",
    "only a beginning": b"\xff\xd8\xff\xe0",
}


@pytest.mark.parametrize("what", DISGUISED)
def test_what_is_no_photograph_is_refused_whatever_its_name(what):
    with pytest.raises(NotTakenIn, match=r"is not a photograph that can be read.*HEIC"):
        take_in(io.BytesIO(DISGUISED[what]), "floor.jpg")


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "ICO"])
def test_other_kinds_of_picture_are_refused_by_the_kinds_that_are_read(kind):
    with pytest.raises(NotTakenIn, match="JPEG, PNG, WebP or HEIC"):
        take_in(as_file(two_halves(), kind), "floor.jpg")


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_a_moving_picture_is_refused(kind):
    frames = [two_halves((30, 30)).rotate(90 * turn) for turn in range(1, 3)]
    file = as_file(two_halves((30, 30)), kind, save_all=True, append_images=frames)
    with pytest.raises(NotTakenIn, match="moving picture"):
        take_in(file, "flag.png")


def test_a_phones_picture_with_its_depth_map_is_one_photograph():
    maps = [two_halves((16, 16))]
    file = as_file(two_halves(), "MPO", save_all=True, append_images=maps)
    assert kept(take_in(file, "x.jpg")).size == (60, 40)


def png_of_claimed_size(width, height):
    def chunk(kind, body):
        check = zlib.crc32(kind + body)
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", check)

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")
    )


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize("size", [(10_000, 8_001), (12_000, 12_000), (60_000, 60_000)])
def test_a_bomb_is_refused_by_its_header_before_a_pixel_is_decoded(size, monkeypatch):
    def decoded(*args):
        raise AssertionError("the pixels were decoded")

    monkeypatch.setattr(pictures, "_upright_srgb", decoded)
    with pytest.raises(NotTakenIn, match="more than 80 million pixels"):
        take_in(io.BytesIO(png_of_claimed_size(*size)), "bomb.png")


def test_a_file_over_the_limit_is_refused_without_being_opened(monkeypatch):
    monkeypatch.setattr(pictures, "LARGEST_FILE_MB", 1)
    monkeypatch.setattr(Image, "open", lambda *args, **more: pytest.fail("it was opened"))
    with pytest.raises(NotTakenIn, match="is 2 MB; a photograph may be up to 1 MB"):
        take_in(io.BytesIO(bytes(2 * 1024 * 1024)), "film.jpg")
