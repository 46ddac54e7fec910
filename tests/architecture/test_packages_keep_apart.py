"""What an import checker cannot see: templates, addresses, foreign keys and migrations."""

import re
from pathlib import Path

import pytest
from django.apps import apps
from django.db import models
from django.db.migrations.loader import MigrationLoader

ROOT = Path(__file__).resolve().parents[2]
STOCK_FILES = [
    path
    for folder in (ROOT / "timber_stock", ROOT / "templates" / "timber_stock")
    for path in folder.rglob("*")
    if path.suffix in {".py", ".html", ".svg", ".txt"}
]
PURE = [
    path
    for folder in ("timber_stock/wood", "timber_stock/sawing", "restoration/calc")
    for path in (ROOT / folder).rglob("*.py")
]


def test_the_word_restoration_does_not_occur_in_the_timber_stock():
    assert len(STOCK_FILES) > 30
    named = [path for path in STOCK_FILES if "restoration" in path.read_text(encoding="utf-8")]
    assert named == []


def test_the_stock_links_and_includes_nothing_of_the_hull():
    for path in STOCK_FILES:
        text = path.read_text(encoding="utf-8")
        for target in re.findall(r"{%\s*include\s+['\"]([^'\"]+)", text):
            assert target.startswith(("parts/", "timber_stock/")), (path, target)
        for target in re.findall(r"{%\s*url\s+['\"]([^'\"]+)", text):
            assert target.startswith("timber_stock:"), (path, target)


def test_no_migration_of_the_stock_waits_for_the_hull():
    loader = MigrationLoader(None)
    for (app, name), migration in loader.disk_migrations.items():
        if app == "timber_stock":
            waits_for = {dependency[0] for dependency in migration.dependencies}
            assert waits_for <= {"timber_stock"}, (name, waits_for)


def test_foreign_keys_run_from_the_hull_to_the_stock_protected_and_without_a_way_back():
    crossing = [
        field
        for model in apps.get_app_config("restoration").get_models()
        for field in model._meta.get_fields()
        if isinstance(field, models.ForeignKey)
        and field.related_model._meta.app_label == "timber_stock"
    ]
    assert {"board", "wood", "planking_wood"} <= {field.name for field in crossing}
    for field in crossing:
        assert field.remote_field.on_delete is models.PROTECT, field
        assert field.remote_field.hidden, f"{field} has a way back"
    for model in apps.get_app_config("timber_stock").get_models():
        for field in model._meta.get_fields():
            if field.is_relation and not field.auto_created:
                assert field.related_model._meta.app_label == "timber_stock", field


@pytest.mark.parametrize("path", PURE, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_pure_modules_stay_under_three_hundred_lines(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 300
