from functools import partial

from django.core.management.base import BaseCommand
from django.db import transaction

from restoration.management.demo.fastenings import load_fastenings
from restoration.management.demo.hull import load_vessels
from restoration.management.demo.money import load_money
from restoration.management.demo.nesting import load_layouts
from restoration.management.demo.orders import load_orders
from restoration.management.demo.patterns import load_patterns
from restoration.management.demo.reports import load_reports
from restoration.management.demo.sawing import load_sawing
from restoration.management.demo.stock import load_stock
from restoration.management.demo.surveys import load_surveys
from restoration.management.demo.work import load_work
from restoration.management.demo.yard import load_yard


class Command(BaseCommand):
    help = "Loads the demonstration yard into an empty register (after load_reference)."

    def add_arguments(self, parser):
        parser.add_argument(
            "--site", default="http://127.0.0.1:8000", help="where the reports can be checked"
        )

    @transaction.atomic
    def handle(self, *args, **options):
        site = options["site"]
        for load in (
            load_yard,
            load_vessels,
            load_stock,
            partial(load_surveys, site),
            load_patterns,
            load_work,
            load_money,
            load_layouts,
            load_orders,
            load_fastenings,
            load_sawing,
            partial(load_reports, site),
        ):
            load()
        self.stdout.write("The demonstration yard is loaded.")
