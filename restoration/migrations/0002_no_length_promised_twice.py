"""The same length of a board is never promised twice: held by the database itself.

PostgreSQL: an exclusion constraint; a one-value range stands for "the same board", so that no
extension is needed. SQLite: two triggers. SQLite drops triggers when Django rebuilds a table:
whoever alters `Allotment` in a later migration runs `forbid_overlap` again after it
(test_the_database_itself_refuses_an_overlap tells).
"""

from django.db import migrations

OVERLAPS = """
SELECT RAISE(ABORT, 'allotment_no_length_twice')
WHERE NEW.withdrawn_on IS NULL AND EXISTS (
    SELECT 1 FROM restoration_allotment a
    WHERE a.board_id = NEW.board_id AND a.withdrawn_on IS NULL AND a.id IS NOT NEW.id
      AND a.from_mm < NEW.to_mm AND a.to_mm > NEW.from_mm
)
"""
EXCLUDE = """
ALTER TABLE restoration_allotment ADD CONSTRAINT allotment_no_length_twice
EXCLUDE USING gist (
    int8range(board_id, board_id, '[]') WITH &&,
    numrange(from_mm::numeric, to_mm::numeric) WITH &&
) WHERE (withdrawn_on IS NULL)
"""


def forbid_overlap(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute(EXCLUDE)
        return
    for moment in ("INSERT", "UPDATE"):
        name = f"allotment_no_length_twice_{moment.lower()}"
        schema_editor.execute(f"DROP TRIGGER IF EXISTS {name}")
        schema_editor.execute(
            f"CREATE TRIGGER {name} BEFORE {moment} ON restoration_allotment BEGIN {OVERLAPS}; END"
        )


def allow_overlap(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute(
            "ALTER TABLE restoration_allotment DROP CONSTRAINT allotment_no_length_twice"
        )
        return
    for moment in ("insert", "update"):
        schema_editor.execute(f"DROP TRIGGER IF EXISTS allotment_no_length_twice_{moment}")


class Migration(migrations.Migration):
    dependencies = [("restoration", "0001_initial")]
    operations = [migrations.RunPython(forbid_overlap, allow_overlap)]
