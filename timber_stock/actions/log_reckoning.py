from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from django.utils import timezone

from timber_stock.models import CuttingItem, CuttingList, LogReckoning
from timber_stock.models.log_reckoning import as_asked
from timber_stock.sawing.log_wanted import Sought

SAID = ("length_mm", "trim_mm", "sapwood_mm", "kerf_mm", "crosscut_kerf_mm")


def keep_reckoning(
    *,
    cutting_list: CuttingList,
    items: Sequence[CuttingItem],
    said: Mapping[str, Any],
    sought: Sequence[Sought],
) -> None:
    """Keep what was reckoned of the log to ask for, in place of what was reckoned before."""
    LogReckoning.objects.update_or_create(
        cutting_list=cutting_list,
        defaults={
            "asked": as_asked(items),
            "said": {name: said[name] for name in SAID} | {"wood": str(said.get("wood") or "")},
            "found": [asdict(one) for one in sought],
            "reckoned_at": timezone.now(),
        },
    )
