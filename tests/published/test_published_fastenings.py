"""Withdrawal, lateral strength, bearing, threads: `fixtures/published/fastening_check.csv`.

Each row there names its source and says how it is known (`basis`): READ as printed, COMPUTED from
equations that were read, or MEMORY. The cases worked out by hand are as good as the equations; the
printed ones (the lag-screw table, the solved examples, the thread tables) tie these down.
"""

import csv
import re
from pathlib import Path

import pytest

from restoration.calc import dowel_bearing, eurocode5, handbook_lateral, yield_limit
from restoration.calc.bolt_loss import standard_threads, wasted_bolt
from restoration.calc.dowel_bearing import MPA_PER_PSI
from restoration.calc.fastening_withdrawal import (
    ALLOWED,
    BREAKING,
    allowed_withdrawal_n,
    breaking_withdrawal_n,
)
from restoration.calc.yield_limit import Shear
from timber_stock.measure import MM_PER_INCH
from timber_stock.wood.weights import NEWTONS_PER_POUND

TABLE = Path(__file__).resolve().parents[2] / "fixtures/published/fastening_check.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
ASKED: list[str] = []


def cases(*beginnings):
    """The rows whose id begins so, each named by its id."""
    ASKED.extend(beginnings)
    held = [row for row in ROWS if row["id"].startswith(beginnings)]
    assert held, beginnings
    return pytest.mark.parametrize("row", held, ids=[row["id"] for row in held])


def given(row):
    """The inputs of a row by name; a unit behind a number is left off."""
    found = re.findall(r"(\w+)=([\d.]+)", row["inputs"])
    return {name: float(value) for name, value in found}


def near(row):
    tolerance = row["tolerance"]
    value = float(row["value"])
    if tolerance.endswith("%"):
        return pytest.approx(value, rel=float(tolerance.rstrip(" %")) / 100)
    return pytest.approx(value, abs=float(tolerance))


def pounds(newtons):
    return newtons / NEWTONS_PER_POUND


def test_every_row_names_its_source_and_how_it_is_known():
    assert len(ROWS) == 363
    for row in ROWS:
        assert row["source"].strip()
        assert re.match("READ|COMPUTED", row["basis"])


@cases("const-")
def test_the_constants_are_the_same_law_in_both_systems(row):
    """54.12 N/mm2 is 7,850 lb/in2 and so on; 15,700 is the inch-pound constant of screws."""
    kind = row["id"].partition("-")[2].split()[0]
    kind = {"drift": "drift", "wood": "screw"}.get(kind, kind)
    law = BREAKING[kind]
    lengths = MM_PER_INCH ** (1 + law.diameter_power)
    assert law.constant * lengths / NEWTONS_PER_POUND == pytest.approx(
        float(row["value"]), rel=0.0001
    )


@cases("wd-")
def test_what_draws_a_fastening_out_of_white_oak(row):
    said = given(row)
    kind = re.match(r"wd-([a-z]+)", row["id"]).group(1)
    load = breaking_withdrawal_n(kind, said["G"], said["D"], said["L"])
    assert load == near(row)


@cases("nds-lag-")
def test_the_printed_table_of_lag_screws_to_the_pound(row):
    said = given(row)
    load = allowed_withdrawal_n("lag", said["G"], said["D"] * MM_PER_INCH, MM_PER_INCH)
    assert round(pounds(load)) == int(row["value"])


@cases("awc-E2.1a")
def test_the_solved_example_of_a_nail_drawn_out(row):
    said = given(row)
    load = allowed_withdrawal_n("nail", said["G"], said["D"] * MM_PER_INCH, MM_PER_INCH)
    assert pounds(load) == near(row)
    assert ALLOWED["nail"].constant == 1380


def shear_of(said, main_deg=0.0, side_deg=0.0):
    """Both timbers of one wood, as in the table: inches and psi there, mm and MPa here."""
    diameter = said["D"] * MM_PER_INCH
    main, side = (
        dowel_bearing.bearing_mpa(said["G"], diameter, angle) for angle in (main_deg, side_deg)
    )
    return Shear(
        diameter, said["Fyb"] * MPA_PER_PSI, said["lm"] * MM_PER_INCH, said["ls"] * MM_PER_INCH,
        main, side, max(main_deg, side_deg),
    )  # fmt: skip


@cases("nds-bolt-")
def test_a_bolt_in_single_shear_by_every_mode(row):
    """Along the grain of both timbers, across one (s-perp, m-perp), across both."""
    way = re.match(r"nds-bolt-[A-Z]-(.+)-\w+$", row["id"]).group(1)
    angles = {"par": (0, 0), "perp": (90, 90), "s-perp": (0, 90), "m-perp": (90, 0)}[way]
    modes = yield_limit.single_shear(shear_of(given(row), *angles))
    mode = row["quantity"].split()[-1]
    assert pounds(modes.loads_n[mode]) == near(row)
    if row["quantity"].startswith("governing"):
        assert modes.governs == mode


@cases("nds-double-")
def test_a_bolt_in_double_shear_by_every_mode(row):
    modes = yield_limit.double_shear(shear_of(given(row)))
    assert pounds(modes.loads_n[row["quantity"].split()[-1]]) == near(row)
    assert modes.governs == "IV"


@cases("awc-nail-lateral")
def test_the_solved_example_of_a_nail_in_shear(row):
    said = {"G": 0.50, "D": 0.148, "lm": 2.25, "ls": 0.75, "Fyb": 90_000}
    modes = yield_limit.single_shear(shear_of(said))
    assert modes.governs == "IIIs"
    assert pounds(modes.least_n) == near(row)


@cases("awc-E2.4")
def test_the_solved_example_of_a_wood_screw_in_double_shear(row):
    """Root 0.152 in of a shank of 0.190 in; KD is the shank's there, 2.4, and the root's here."""
    said = {"G": 0.55, "D": 0.152, "lm": 3.0, "ls": 1.5, "Fyb": 80_000}
    shear = shear_of(said)
    modes = yield_limit.double_shear(shear)
    assert modes.governs == "IV"
    yields = modes.least_n * yield_limit.reduction(shear, "IV")
    assert pounds(yields / 2.4) == near(row)


@cases("fe-")
def test_dowel_bearing_strengths(row):
    said = given(row)
    found = {
        "par": lambda: dowel_bearing.bearing_along_mpa(said["G"]),
        "perp": lambda: dowel_bearing.bearing_across_mpa(said["G"], said["D"] * MM_PER_INCH),
        "small": lambda: dowel_bearing.small_bearing_mpa(said["G"]),
    }[row["id"].split("-")[1]]()
    assert found / MPA_PER_PSI == near(row)


@cases("hankinson-")
def test_hankinson_between_along_and_across(row):
    said = given(row)
    assert dowel_bearing.hankinson(said["P"], said["Q"], said["theta"]) == near(row)


@cases("ec5-oak", "ec5-C24", "ec5-My")
def test_the_second_opinion_of_en_1995(row):
    """Equations read, the yield moment and bearing constants from memory, as the rows say."""
    said = given(row)
    if row["id"] == "ec5-My":
        assert eurocode5.yield_moment_nmm(said["fu"], said["d"]) == near(row)
        return
    bears = dowel_bearing.en_bearing_mpa(said["rho"], said["d"], said.get("alpha", 0), True)
    if row["id"].endswith("fh0"):
        assert bears == near(row)
        return
    dowel = eurocode5.Dowel(
        said["d"], said["t1"], said["t2"], bears, bears,
        eurocode5.yield_moment_nmm(said["fu"], said["d"]),
        withdrawal_n=said["Fax"], rope_share=eurocode5.ROPE_SHARE["bolt"],
    )  # fmt: skip
    assert eurocode5.en_single_shear(dowel).loads_n[row["id"][-1]] == near(row)


@cases("pre91-")
def test_the_lateral_loads_of_before_1991(row):
    kind = row["id"].split("-")[1]
    assert handbook_lateral.proportional_limit_n(kind, 0.68, given(row)["D"]) == near(row)


@cases("as-")
def test_stress_areas_of_threads(row):
    name = row["id"].partition("-")[2]
    area = standard_threads()[name]
    if row["unit"] == "in2":
        area /= MM_PER_INCH**2
    last_digit = 0.51 * 10 ** -len(row["value"].partition(".")[2])
    within = max(last_digit, float(row["tolerance"]))  # tables differ by a digit
    assert area == pytest.approx(float(row["value"]), abs=within)


@cases("wasted-")
def test_powers_of_what_is_left_of_a_diameter(row):
    left = wasted_bolt(100, 100 * float(given(row)["q"]))
    found = (left.tension_fraction, left.bending_fraction, left.bending_fraction_en)
    for value, printed in zip(found, row["value"].split(";"), strict=True):
        assert value == pytest.approx(float(printed), abs=0.0001)


def test_no_row_is_left_out():
    assert not [row["id"] for row in ROWS if not row["id"].startswith(tuple(ASKED))]
