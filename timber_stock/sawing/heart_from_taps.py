"""Where the heart lies in a log's end, from a photograph on which a person tapped it."""

from __future__ import annotations

import math
from collections.abc import Sequence

Place = tuple[float, float]
FLATTEST = 0.05  # least sine of the angle between the two lines across, else nothing can be told


def heart_from_taps(
    heart_px: Place, bark_px: Sequence[Place], across_mm: tuple[float, float]
) -> tuple[float, float]:
    """The heart's offset from the middle of the end, mm, and its clock in hours (0 < h <= 12).

    heart_px: the heart in the picture, x to the right and y down. bark_px: where the bark begins
    (or the wood, if the diameters are under the bark) at 12, 3, 6 and 9 o'clock as one faces the
    end. across_mm: the diameters from 9 to 3 and from 12 to 6. The middle is the mean of the four;
    the two lines across are the axes, so a picture taken askew is straightened (a camera far
    enough away that the end's far side is not drawn smaller). ValueError for taps that do not lie
    about a middle, or a heart outside them.
    """
    if len(bark_px) != 4:
        raise ValueError("Tap the bark at 12, 3, 6 and 9 o'clock, and the heart.")
    twelve, three, six, nine = bark_px
    right = ((three[0] - nine[0]) / 2, (three[1] - nine[1]) / 2)
    up = ((twelve[0] - six[0]) / 2, (twelve[1] - six[1]) / 2)
    turned = right[0] * up[1] - right[1] * up[0]
    size = math.hypot(*right) * math.hypot(*up)
    # In a picture y runs down, so a clock read the right way round turns to the left here.
    if size == 0 or -turned / size < FLATTEST:
        raise ValueError(
            "The four taps are not 12, 3, 6 and 9 o'clock round an end, in this order. Tap them "
            "again."
        )
    middle = (sum(x for x, _ in bark_px) / 4, sum(y for _, y in bark_px) / 4)
    off = (heart_px[0] - middle[0], heart_px[1] - middle[1])
    share_right = (off[0] * up[1] - off[1] * up[0]) / turned
    share_up = (right[0] * off[1] - right[1] * off[0]) / turned
    if math.hypot(share_right, share_up) >= 1:
        raise ValueError("The heart was tapped outside the bark. Tap it again.")
    x_mm, y_mm = share_right * across_mm[0] / 2, share_up * across_mm[1] / 2
    offset_mm = math.hypot(x_mm, y_mm)
    hours = math.degrees(math.atan2(x_mm, y_mm)) / 30 % 12 if offset_mm else 0.0
    return offset_mm, hours or 12.0
