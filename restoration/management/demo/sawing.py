"""A cutting list with its log wanted, the plan of a log for it, and a sheet of labels."""

from restoration import timber
from restoration.models import LabelSheet
from timber_stock.sawing.log_wanted import seek_diameter
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance

from .read import lengths, mm, read

SIZES = ("thickness", "width", "length", "heart_clearance")


def load_sawing() -> None:
    said = read("sawing")
    listed = timber.CuttingList.objects.create(**said["list"])
    items = [make_item(listed, row) for row in said["timber"]]
    saw = Saw(mm(said["plan"]["kerf"]), mm(said["plan"]["crosscut_kerf"]))
    plan_log(listed, items, saw, said["plan"])
    reckon(listed, items, saw, said["wanted"])
    sheet = LabelSheet(**said["label_sheet"])
    sheet.full_clean()
    sheet.save()


def make_item(listed: timber.CuttingList, row: dict) -> timber.CuttingItem:
    plain = {name: value for name, value in row.items() if name not in SIZES}
    item = timber.CuttingItem(cutting_list=listed, **lengths(row, *SIZES), **plain)
    item.full_clean()
    item.save()
    return item


def plan_log(listed: timber.CuttingList, items: list, saw: Saw, row: dict) -> None:
    log = timber.Log.objects.get(tag=row["log"])
    asked = timber.request_for(log, items, saw)
    for wanted, item in zip(asked["wanted"], items, strict=True):
        wanted["for"] = item.for_whom
    plan = make_plan(parse_request(asked), Allowance(steps=row["steps"]))
    timber.keep_plan(
        log=log,
        cutting_list=listed,
        request=asked,
        plan=plan,
        made_by=row["made_by"],
        why=row["why"],
    )


def reckon(listed: timber.CuttingList, items: list, saw: Saw, row: dict) -> None:
    wanted = timber.timbers_asked(items, saw)
    sapwood = mm(row["sapwood"])
    longest = max(one.length_mm for one in wanted)
    sought = seek_diameter(wanted, saw, length_mm=longest, sapwood_mm=sapwood, steps=row["steps"])
    said = {
        "wood": timber.Log.objects.get(tag=row["wood_of"]).species,
        "length_mm": None,
        "trim_mm": mm(row["trim"]),
        "sapwood_mm": sapwood,
        "kerf_mm": saw.kerf_mm,
        "crosscut_kerf_mm": saw.crosscut_kerf_mm,
    }
    timber.keep_reckoning(cutting_list=listed, items=items, said=said, sought=[sought])
