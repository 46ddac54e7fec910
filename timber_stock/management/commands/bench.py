"""Measure what must be quick or good, in one run, as ratios; needs no database."""

import json
import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from timber_stock.sawing.bench import heading, means, measure, row
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.rivals import solver_is_there

EXAMPLES = Path(__file__).resolve().parents[3] / "fixtures" / "sawing"


class Command(BaseCommand):
    help = "Measure the sawing planner against other ways of planning the same logs."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("subject", choices=["sawing"])
        parser.add_argument("requests", nargs="*", help="request files (the examples)")
        parser.add_argument("--seconds", type=float, default=5.0, help="for each plan (5)")
        parser.add_argument("--solver-seconds", type=float, default=60.0, help="for CP-SAT (60)")

    def handle(self, *args: Any, **options: Any) -> None:
        if not solver_is_there():
            self.stderr.write("OR-Tools is not installed, so the general solver is left out.")
        paths = [Path(name) for name in options["requests"]] or sorted(EXAMPLES.glob("*.json"))
        self.stdout.write(heading())
        rows = []
        for path in paths:
            try:
                asked = json.loads(path.read_text(encoding="utf-8"))
                request = parse_request(asked)
            except (OSError, ValueError) as error:
                self.stderr.write(f"{path}: {error}")
                sys.exit(2)
            best = asked.get("best_known", {}).get("worth_mm3")
            rows.append(
                measure(path.stem, request, options["seconds"], options["solver_seconds"], best)
            )
            self.stdout.write(row(rows[-1]))
            self.stdout.flush()
        for line in means(rows):
            self.stdout.write(line)
