import subprocess
import sys
from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand


class Command(BaseCommand):
    help = "Runs every test with pytest; whatever follows goes to pytest."
    requires_system_checks = []

    def run_from_argv(self, argv):
        """Handed over as typed: pytest knows its own options."""
        (Path(settings.DATA_DIR)).mkdir(parents=True, exist_ok=True)
        sys.exit(
            subprocess.call([sys.executable, "-m", "pytest", *argv[2:]], cwd=settings.BASE_DIR)
        )
