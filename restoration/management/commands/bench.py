from django.core.management.base import BaseCommand

from restoration.management.bench import BENCHES


class Command(BaseCommand):
    help = "Measures how quick the register is here and now, and reports what was found."

    def add_arguments(self, parser):
        told = "; ".join(f"{name}: {bench.about}" for name, bench in BENCHES.items())
        parser.add_argument("name", choices=BENCHES, help=told)

    def handle(self, *args, **options):
        for line in BENCHES[options["name"]].run():
            self.stdout.write(line)
