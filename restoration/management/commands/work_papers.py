import os
import threading
import time

from django.core.management import call_command
from django.core.management.base import BaseCommand


class Command(BaseCommand):
    help = "Draws long papers beside the site, until it is stopped. One is enough."
    requires_migrations_checks = False

    def add_arguments(self, parser):
        parser.add_argument(
            "--with-parent",
            type=int,
            metavar="PID",
            help="end when this process, which started it, ends, however that ends",
        )

    def handle(self, *args, **options):
        if options["with_parent"]:
            watch = threading.Thread(target=end_with, args=(options["with_parent"],), daemon=True)
            watch.start()
        call_command("db_worker", interval=0.5, startup_delay=False, verbosity=0)


def end_with(parent: int) -> None:
    """A worker left behind would go on writing where a new demonstration begins afresh."""
    while os.getppid() == parent:
        time.sleep(0.5)
    os._exit(0)
