from django.core.management.base import BaseCommand

from restoration.management.bench import BENCHES


class Command(BaseCommand):
    help = "Measures how quick the register is here and now, and reports what was found."

    def add_arguments(self, parser):
        told = "; ".join(f"{name}: {bench.about}" for name, bench in BENCHES.items())
        parser.add_argument("name", choices=BENCHES, help=told)
        sawing = parser.add_argument_group("for sawing")
        sawing.add_argument("requests", nargs="*", help="request files (the examples)")
        sawing.add_argument("--seconds", type=float, default=5.0, help="for each plan (5)")
        sawing.add_argument("--solver-seconds", type=float, default=60.0, help="for CP-SAT (60)")

    def handle(self, *args, **options):
        for line in BENCHES[options["name"]].run(options):
            self.stdout.write(line)
            self.stdout.flush()
