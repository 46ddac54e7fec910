"""Plan how a log is sawn, from a request in a file; needs no database."""

import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from timber_stock.sawing.planning_files import plan_file


class Command(BaseCommand):
    help = "Plan how a log is sawn: reads a request (JSON) and writes the plan (JSON)."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("request", help="the request, a JSON file")
        parser.add_argument("--seconds", type=float, default=5.0, help="time allowed (5)")
        parser.add_argument(
            "--steps", type=float, help="allow steps instead: the plan is repeatable"
        )
        parser.add_argument("--seed", type=int, default=1)
        parser.add_argument("--roll", type=float, metavar="DEG", help="keep the log at this roll")
        parser.add_argument("-o", "--output", metavar="PLAN.json", help="where the plan goes")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            text = plan_file(
                options["request"],
                seconds=options["seconds"],
                steps=options["steps"],
                seed=options["seed"],
                roll_deg=options["roll"],
            )
            if options["output"]:
                Path(options["output"]).write_text(text, encoding="utf-8")
            else:
                self.stdout.write(text, ending="")
        except ValueError as error:
            self._refuse(str(error))
        except OSError as error:
            self._refuse(f"{options['output']} cannot be written: {error.strerror}.")

    def _refuse(self, sentence: str) -> None:
        self.stderr.write(sentence)
        sys.exit(2)
