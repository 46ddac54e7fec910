"""From a request's file to a plan's text, for the command line."""

from __future__ import annotations

import json
from pathlib import Path

from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import read_request
from timber_stock.sawing.search import Allowance

MOST_SECONDS = 3600.0


def plan_file(
    path: str,
    *,
    seconds: float = 5.0,
    steps: float | None = None,
    seed: int = 1,
    roll_deg: float | None = None,
) -> str:
    """The plan as JSON text; ValueError with one sentence when the request cannot be planned."""
    if not 0 < seconds <= MOST_SECONDS:
        raise ValueError(f"The seconds allowed must be between 0 and {MOST_SECONDS:g}.")
    if steps is not None and not 0 < steps < 1e9:
        raise ValueError("The steps allowed must be more than 0.")
    if roll_deg is not None and not -360 <= roll_deg <= 360:
        raise ValueError("The roll must be between -360 and 360 degrees.")
    allowance = Allowance(seconds=seconds) if steps is None else Allowance(steps=steps)
    request = read_request(_text(path))
    return json.dumps(make_plan(request, allowance, seed, roll_deg=roll_deg), indent=1) + "\n"


def _text(path: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError(f"{path} is not a text file of JSON.") from None
    except OSError as error:
        raise ValueError(
            f"{path} cannot be read: {(error.strerror or 'no reason given').lower()}."
        ) from None
