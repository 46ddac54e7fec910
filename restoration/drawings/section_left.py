"""A timber's section with the soft wood cut out: what is sound, what is gone, how large it was."""

from html import escape

from restoration.calc.section_loss import Outline, SectionLoss

BOX, EDGE = 200, 46


def section_left_svg(loss: SectionLoss, *, sided: str, moulded: str, key: str, says: str) -> str:
    """The section, outboard or bottom face below. `key` tells this drawing's hatch from others'.

    `sided` and `moulded` are the sizes in words; `says` is the whole in words.
    """
    outline = loss.whole.pieces[0][0]
    wide, tall = max(x for x, _ in outline), max(y for _, y in outline)
    scale = BOX / max(wide, tall)
    width, height = wide * scale + 2 * EDGE, tall * scale + 2 * EDGE
    whole = _path((outline,), scale, tall)
    parts = [
        _hatch(key),
        f'<path class="gone" fill="url(#gone-{key})" d="{whole}"/>',
        *(
            f'<path class="sound" fill-rule="evenodd" d="{_path(piece, scale, tall)}"/>'
            for piece in loss.left.pieces
        ),
        f'<path class="edge" d="{whole}"/>',
        *_labels(width, height, sided, moulded),
    ]
    return (
        f'<svg class="section-left" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'width="{width:.0f}" height="{height:.0f}" role="img" aria-label="{escape(says)}">'
        f"{''.join(parts)}</svg>"
    )


def _path(rings: tuple[Outline, ...], scale: float, tall: float) -> str:
    """Rings in mm as one path, turned over: on the screen y runs downwards."""
    return " ".join(
        "M"
        + " L".join(f"{EDGE + x * scale:.1f} {EDGE + (tall - y) * scale:.1f}" for x, y in ring)
        + " Z"
        for ring in rings
    )


def _labels(width: float, height: float, sided: str, moulded: str) -> list[str]:
    return [
        _words(width / 2, EDGE - 28, "inboard or top"),
        _words(width / 2, EDGE - 8, sided),
        _words(width / 2, height - EDGE + 20, "outboard or bottom"),
        f'<text transform="translate({EDGE - 12} {height / 2:.1f}) rotate(-90)" '
        f'text-anchor="middle">{escape(moulded)}</text>',
    ]


def _hatch(key: str) -> str:
    return (
        f'<defs><pattern id="gone-{key}" width="7" height="7" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line class="hatch" y2="7" x1="1" x2="1"/></pattern></defs>'
    )


def _words(x: float, y: float, words: str) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="middle">{escape(words)}</text>'
