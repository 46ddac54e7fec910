"""The sawing planner against other ways of planning the same logs; needs no database."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

from django.conf import settings
from django.core.management.base import CommandError

from timber_stock.sawing.bench import heading, means, measure, row
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.rivals import solver_is_there

EXAMPLES = settings.BASE_DIR / "fixtures" / "sawing"


def rival_plans(options: Mapping) -> Iterator[str]:
    """A line a request as soon as it is measured: worth and time as ratios, then their means."""
    if not solver_is_there():
        yield "OR-Tools is not installed, so the general solver is left out."
    paths = [Path(name) for name in options["requests"]] or sorted(EXAMPLES.glob("*.json"))
    yield heading()
    rows = []
    for path in paths:
        try:
            asked = json.loads(path.read_text(encoding="utf-8"))
            request = parse_request(asked)
        except (OSError, ValueError) as error:
            raise CommandError(f"{path}: {error}") from error
        best = asked.get("best_known", {}).get("worth_mm3")
        rows.append(
            measure(path.stem, request, options["seconds"], options["solver_seconds"], best)
        )
        yield row(rows[-1])
    yield from means(rows)
