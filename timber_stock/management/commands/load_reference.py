import csv
from pathlib import Path

from django.core.management.base import BaseCommand

from timber_stock.models import Species

WOODS = Path(__file__).resolve().parents[3] / "fixtures" / "wood" / "species.csv"


class Command(BaseCommand):
    help = "Brings the reference woods up to date. What the yard added itself is never touched."

    def handle(self, *args, **options):
        with WOODS.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        for row in rows:
            Species.objects.update_or_create(
                code=row["id"],
                is_ours=False,
                defaults={
                    "botanical_name": row["botanical"],
                    "common_name": row["common"],
                    "group": row["wood_group"],
                    "source": row["source"],
                },
            )
        self.stdout.write(f"{len(rows)} reference woods are in the register.")
