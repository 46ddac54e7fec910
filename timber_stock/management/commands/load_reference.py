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
        ours = set(Species.objects.filter(is_ours=True).values_list("code", flat=True))
        kept = [row for row in rows if row["id"] not in ours]
        for row in kept:
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
        self.stdout.write(f"{len(kept)} reference woods are in the register.")
        for row in rows:
            if row["id"] in ours:
                self.stdout.write(f"The yard's own wood {row['id']} stays as the yard has it.")
