"""Every table of figures says where it is from: each row of it, or the list of tables."""

import csv
from pathlib import Path

import pytest

FIXTURES = Path(__file__).parents[2] / "fixtures"
TABLES = sorted(FIXTURES.rglob("*.csv"))
KNOWN_BY = {
    "evidence", "source", "source_id", "source_ids", "known", "status", "table_value_status",
    "tensile_evidence",
}  # fmt: skip


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_each_row_says_how_it_is_known_or_the_list_says_it_of_the_table(table):
    rows = list(csv.DictReader(table.open(encoding="utf-8")))
    columns = KNOWN_BY & set(rows[0])
    if columns:
        assert all(row[column].strip() for row in rows for column in columns)
        return
    (line,) = [
        line
        for line in (table.parent / "README.md").read_text(encoding="utf-8").splitlines()
        if line.startswith("|") and f"`{table.name}`" in line
    ]
    assert len(line.split("|")[-2].strip()) > 10
